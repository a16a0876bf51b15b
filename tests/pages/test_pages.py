"""What the pages call: every name exists, every form can be filled, every answer is plain, in any order."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from alarmlib import pages
from alarmlib.checks.assess import FULL, QUICK
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.survey import Answer
from alarmlib.pages.answers import ANSWERS, GROUPS, answer
from alarmlib.pages.forms import SPECIAL, build
from alarmlib.pages.pictures import drawn
from alarmlib.pages.start_forms import START
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.store import Session, load
from alarmlib.store.fields import part_in
from alarmlib.widgets.survey_sheet import FACTS

WORKBOOK = Path(__file__).parents[2] / "workbook"
DEMO = WORKBOOK / "demo_home.json"
EXPONENT = re.compile(r".{0,40}\d[eE][+-]?\d.{0,9}")  # the demo home's names hold no digit beside an e
CALL = re.compile(r"pages\.(form|check|picture)\(\"(\w+)\"\)")


def calls() -> dict[str, list[tuple[str, str]]]:
    """The calls of each page."""
    found = {}
    for page in sorted(WORKBOOK.glob("*.ipynb")):
        cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
        code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
        found[page.stem] = CALL.findall(code)
    return found


CALLS = calls()
FORMS = sorted({name for page in CALLS.values() for kind, name in page if kind == "form"})
CHECKS = sorted({name for page in CALLS.values() for kind, name in page if kind == "check"})
PICTURES = sorted({name for page in CALLS.values() for kind, name in page if kind == "picture"})


@pytest.fixture(params=["demo", "blank"])
def home_folder(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo home, or with none, as the page's working folder."""
    if request.param == "demo":
        shutil.copyfile(DEMO, tmp_path / "home.json")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    monkeypatch.setenv("ALARM_RAISE", "1")
    return tmp_path


def test_pages__ten_of_them() -> None:
    """The pages of this version, each with forms and checks."""
    assert sorted(CALLS) == [
        "00_start", "01_survey", "02_detectors", "03_zones", "04_times", "05_wiring_power", "06_sounders",
        "08_proof", "10_test_walk",
        "11_record",
    ]  # fmt: skip
    assert all(len(found) > 3 for found in CALLS.values())


@pytest.mark.parametrize("name", FORMS)
def test_form__builds(name: str, home_folder: Path) -> None:
    """Every form that a page asks for is made, says its name, and no address."""
    pages.setup()
    text = repr(pages.form(name))
    assert text
    assert "0x" not in text
    assert str(home_folder) not in text


@pytest.mark.parametrize("name", CHECKS)
def test_check__says_it_as_plain_text_too(name: str, home_folder: Path) -> None:
    """Every check of a page says something on a blank and on the demo home, without a path or a day's date."""
    pages.setup()
    view = pages.check(name)
    out = view._repr_mimebundle_()[0]["text/plain"]
    assert out.strip()
    assert view.html
    assert view.title
    assert str(home_folder) not in out
    assert "Traceback" not in out
    assert not EXPONENT.findall(out)


@pytest.mark.parametrize("name", PICTURES)
def test_picture__has_a_table(name: str, home_folder: Path) -> None:
    """Every picture comes with a table, or a sentence says that there is none yet."""
    pages.setup()
    shown = pages.picture(name)
    html = shown.html
    words = ("<table", "nothing", "no plan", "never run")
    assert any(word in html.lower() for word in words)
    assert "<script" not in html


def test_every_form_declared__is_on_a_page() -> None:
    """No form is declared that no page shows."""
    shown = set(FORMS)
    assert (set(SHEETS) | set(LISTS) | set(SPECIAL) | set(START)) <= shown


def test_every_answer_made_for_pages__is_on_a_page() -> None:
    """No answer is written that no page prints; the short path's are drawn by its live form."""
    assert {name for name in ANSWERS if not name.startswith("short_")} | set(GROUPS) <= set(CHECKS)
    assert not set(ANSWERS) & set(GROUPS)


def test_every_check__is_told_on_a_page() -> None:
    """What a check finds is on some page, in a group of its subject or in an answer of its own."""
    own = {"plan_drawn": "plan_problems", "zone_plan": "zone_plan", "habits": "habits"}
    told = [module for group in GROUPS.values() for module in group.split()]
    assert sorted([*told, *own]) == sorted(group.name for group in (*QUICK, *FULL))
    assert set(own.values()) <= set(ANSWERS)


def test_unknown_subject__is_no_answer() -> None:
    with pytest.raises(KeyError):
        answer(Home(), "ways")


def entries(form: Any) -> list[Any]:
    """The entries of a form, or of each form of a stack."""
    forms = getattr(form, "forms", (form,))
    return [(one, *entry) for one in forms if hasattr(one, "_entries") for entry in one._entries()]


@pytest.mark.parametrize("name", [*SHEETS, *LISTS, *SPECIAL])
def test_form__shows_every_value_it_holds(name: str, tmp_path: Path) -> None:
    """On the demo home every field of every form shows its value as text, and typing that text changes nothing."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    session = Session.open(tmp_path / "home.json")
    form = build(session, name)
    before = session.home
    for one, key, _field, _path in entries(form):
        shown = one.values.get(key, "")
        one._edit(key, shown, shown)
    assert session.home == before


@pytest.mark.parametrize("name", [name for name, made in LISTS.items() if made.listed_on is None])
def test_list__a_row_can_be_added_and_taken_away(name: str, tmp_path: Path) -> None:
    """A new row needs nothing typed first, and undo of it leaves the home as it was."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    session = Session.open(tmp_path / "home.json")
    form = build(session, name)
    before = session.home
    row = form._add()["row"]
    assert session.home != before
    form._remove(row)
    assert session.home == before


def test_setup__a_broken_file_is_left_alone(home_folder: Path) -> None:
    """A broken home file: a sentence, the offer to bring back the last good save, nothing changed."""
    broken = home_folder / "home.json"
    broken.write_text("{", encoding="utf-8")
    assert "Nothing was changed" in repr(pages.setup())
    assert repr(pages.form("files")) == "Form: Your home file cannot be read"
    assert "home.json" in repr(pages.form("rooms"))
    assert broken.read_text(encoding="utf-8") == "{"


def test_checks_that_say_nothing__say_why() -> None:
    """Nothing entered is told from nothing found; what is found is told alone."""
    assert answer(Home(), "cable_findings") == "You have not entered anything yet that is checked here."
    circuit = {"id": "loop", "name": "Loop", "ending": "none", "cable": "0.22 mm²", "length_m": 10}
    entered = Home.model_validate({"circuits": [circuit]})
    assert answer(entered, "loop_findings").startswith("Nothing was found in what you entered (")
    unsized = Home.model_validate({"circuits": [circuit | {"cable": "red"}]})
    assert answer(unsized, "loop_findings").startswith("NOTE: ")
    assert "Nothing" not in answer(unsized, "loop_findings")


def test_pictures_and_answers__leave_the_home_alone(tmp_path: Path) -> None:
    """Reading changes nothing."""
    home = load(DEMO)
    for name in CHECKS:
        answer(home, name)
    for name in PICTURES:
        drawn(home, name)
    assert home == load(DEMO)


@pytest.mark.parametrize("name", ["part_set_doors", "season_zones"])
def test_rows_named_by_their_zone__can_be_changed_renamed_added_and_taken_away(name: str, tmp_path: Path) -> None:
    """A row without an id of its own is found by its zone; a new one takes the first zone that has no row yet."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    session = Session.open(tmp_path / "home.json")
    form = build(session, name).forms[0]
    before, rows = session.home, form._row_ids()
    tick = "delayed" if name == "part_set_doors" else "out_of_use"
    shown = form.values[f"{rows[0]}/{tick}"]
    assert "clash" not in form._edit(f"{rows[0]}/{tick}", "" if shown else "yes", shown)
    assert form.values[f"{rows[0]}/{tick}"] != shown
    session.undo()
    new = form._add()["row"]
    assert form._row_ids() == [*rows, new]
    other = next(zone.id for zone in session.home.control_unit.zones if zone.id not in form._row_ids())
    assert form._edit(f"{new}/zone", other, new)["shown"] == other
    assert form._row_ids() == [*rows, other]
    with pytest.raises(AlarmProblem, match="is there twice"):
        form._edit(f"{other}/zone", rows[0], other)
    form._remove(other)
    assert session.home == before


def test_each_fact_of_a_row_is_a_column_of_some_table() -> None:
    """What can be entered by CSV or in the file alone would never be asked of anybody."""
    asked: dict[type[Part], set[str]] = {}
    for table in LISTS.values():
        for group in table.columns:
            asked.setdefault(group.model, {"id"}).update(group.names.split())
    asked[Answer] = {"id", *FACTS}
    missing = {
        f"{model.__name__}.{name}"
        for model, names in asked.items()
        for name, info in model.model_fields.items()
        if name not in names and part_in(info.annotation) is None
    }
    assert missing == {"Answer.heading"}  # each heading has its place in the sheet
