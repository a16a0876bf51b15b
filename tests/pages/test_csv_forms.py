"""Lists out to a spreadsheet and in again through the page's form."""

import shutil
from pathlib import Path

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.pages.csv_forms import csv_form
from alarmlib.store import Edit, Session
from alarmlib.store.tables import CsvTable

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """The demo home in a file of its own."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    return Session.open(tmp_path / "home.json")


@pytest.mark.parametrize("table", list(CsvTable))
def test_csv_form__out_and_in_changes_nothing(table: CsvTable, session: Session) -> None:
    """What was downloaded, chosen again, would change nothing."""
    form, before = csv_form(table, session), session.home
    name, content = form.extras.downloads[0].handler()
    assert form.extras.upload is not None
    said = form.extras.upload.handler(name, content)
    assert said is not None
    assert "0 rows would be added, 0 changed" in said
    form.extras.actions[0].handler()
    assert session.home == before


def test_csv_form__a_changed_cell_waits_until_it_is_taken_in(session: Session) -> None:
    """The look changes nothing; taking in is one change that undo takes back."""
    form, before = csv_form(CsvTable.ZONES, session), session.home
    _, content = form.extras.downloads[0].handler()
    label = before.control_unit.zones[0].label
    changed = content.replace(label.encode(), b"Front entrance", 1)
    assert form.extras.upload is not None
    assert "1 changed" in (form.extras.upload.handler("zones.csv", changed) or "")
    assert session.home == before
    assert "1 changed" in (form.extras.actions[0].handler() or "")
    assert session.home.control_unit.zones[0].label == "Front entrance"
    assert session.undo() == before


def test_csv_form__a_file_that_now_does_something_else_is_refused_once(session: Session) -> None:
    """Before, rows were taken in that another window had changed since the file was looked at, with other counts."""
    form = csv_form(CsvTable.ZONES, session)
    _, content = form.extras.downloads[0].handler()
    zone = session.home.control_unit.zones[0]
    assert form.extras.upload is not None
    assert "0 changed" in (form.extras.upload.handler("zones.csv", content) or "")
    take = form.extras.actions[0].handler
    other = Session.open(session.path)
    other.apply([Edit(("control_unit", "zones", zone.id, "label"), zone.label, "Front entrance")])
    with pytest.raises(AlarmProblem, match=r"has changed since you chose this file.* 1 changed"):
        take()
    assert session.home.control_unit.zones[0].label == "Front entrance"
    assert "1 changed" in (take() or "")
    assert session.home.control_unit.zones[0].label == zone.label


def test_csv_form__an_edit_of_something_else_does_not_hold_it_up(session: Session) -> None:
    """The file does what was told, so it is taken in."""
    form = csv_form(CsvTable.ZONES, session)
    _, content = form.extras.downloads[0].handler()
    assert form.extras.upload is not None
    form.extras.upload.handler("zones.csv", content)
    session.apply([Edit(("note",), session.home.note, "typed meanwhile")])
    assert "0 changed" in (form.extras.actions[0].handler() or "")


def test_csv_form__problems_by_row_and_nothing_taken(session: Session) -> None:
    """A wrong cell names its row; nothing waits to be taken in."""
    form, before = csv_form(CsvTable.OPENINGS, session), session.home
    assert form.extras.upload is not None
    said = form.extras.upload.handler("openings.csv", b"Id,Way in,Room it leads into,Kind\nx,X,nowhere,door\n") or ""
    assert "Nothing can be taken in" in said
    assert "Row 2, Room it leads into: “nowhere”" in said
    assert "choose a file first" in (form.extras.actions[0].handler() or "")
    assert session.home == before


def test_csv_form__the_walk_goes_along_in_its_order(session: Session) -> None:
    """Beside the log, the walk as the page and the record have it, ready to be filled in."""
    further = csv_form(CsvTable.TESTS, session).extras.downloads[1]
    name, content = further.handler()
    lines = content.decode("utf-8-sig").splitlines()
    assert name == "test_walk.csv"
    assert lines[0].endswith("Seen,Date,Time of day")
    assert len(lines) > 50
