"""Rows that depend on other facts come and go with them; opening a page writes nothing."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.words import Link
from alarmlib.pages.forms import build
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.store import Session
from alarmlib.widgets.engine import Engine

DEVICES: list[dict[str, Any]] = [
    {"id": "hall", "name": "Hall detector", "kind": "motion", "link": "wired"},
    {"id": "door", "name": "Door contact", "kind": "contact", "link": "wired"},
]


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """A home of two wired devices and one type, with none of the parts that may be left out."""
    types = [{"id": "corner", "name": "Corner detectors", "kind": "motion"}]
    return Session.new(tmp_path / "home.json", Home.model_validate({"devices": DEVICES, "device_types": types}))


def chosen(session: Session, key: str, text: str) -> None:
    """Somebody chooses that in the table of devices."""
    form = build(session, "devices")
    answer = form._edit(key, text, form.values[key])
    assert answer["shown"] == text


@pytest.mark.parametrize(
    ("name", "key", "text", "field", "typed"),
    [
        ("wireless", "hall/link", "wireless", "hall/wireless/check_in_s", "20 min"),
        ("cells", "hall/link", "wireless", "hall/wireless/battery_mah", "1200"),
        ("hazard_devices", "door/kind", "smoke", "door/hazard/sense", "optical"),
    ],
)
def test_a_row_comes_with_its_fact_and_can_be_filled_in(
    session: Session, name: str, key: str, text: str, field: str, typed: str
) -> None:
    """Before, the row came, but what was typed in it was refused until the page was run again."""
    table = build(session, name)
    assert table.rows == []
    chosen(session, key, text)
    assert table.rows == [key.partition("/")[0]]
    if table._entry(field)[0].choices_in(session.home):
        typed = next(value for value, _ in table._entry(field)[0].choices_in(session.home) if value)
    table._edit(field, typed, table.values[field])
    assert table.values[field] != ""
    session.undo()
    assert table.values[field] == ""
    session.undo()
    assert table.rows == []


def test_what_a_whole_home_without_such_a_part_lacks_can_be_typed(session: Session) -> None:
    """Another home put in place of this one while its forms are open: their fields are blank, not dead."""
    table = build(session, "device_types")
    field = "corner/wireless/check_in_s"
    chosen_type = session.home.device_types[0].model_copy(update={"link": Link.WIRELESS})
    session.replace(session.home.model_copy(update={"device_types": (chosen_type,)}))
    table._edit(field, "20 min", table.values[field])
    assert session.home.device_types[0].wireless is not None
    assert session.home.device_types[0].wireless.check_in_s == 1200


def test_opening_a_page_writes_nothing(session: Session) -> None:
    """Before, tables of wireless devices, of alarms and of types put empty parts into the home when they were shown."""
    chosen(session, "hall/link", "wireless")
    before = session.path.read_bytes(), len(session.saves())
    made = [build(session, name) for name in (*LISTS, *SHEETS)]
    assert all(isinstance(form, Engine) for form in made)
    assert (session.path.read_bytes(), len(session.saves())) == before


def test_pasted_rows_keep_what_is_in_a_part(session: Session) -> None:
    """Two lines from a spreadsheet into the table of types: the second is a new row, its fact in its part."""
    table = build(session, "device_types")
    column = next(n for n, field in enumerate(table.spec.columns) if field.path == ("wireless", "check_in_s"))
    table._asked({"kind": "paste", "row": "corner", "column": column, "text": "10 min\n20 min"})
    radios = [device.wireless for device in session.home.device_types if device.wireless is not None]
    assert [radio.check_in_s for radio in radios] == [600, 1200]
