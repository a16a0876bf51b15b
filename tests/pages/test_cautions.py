"""Each caution comes before its own step on its page: one tick a step, which opens the form that starts it."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from alarmlib import pages
from alarmlib.checks.assess import assess
from alarmlib.checks.cautions import CAUTIONS, STEPS, Advice, before, on_page
from alarmlib.draft.blank import blank_home
from alarmlib.model import Home
from alarmlib.model.home import SCHEMA_VERSION
from alarmlib.model.log import FoundItem, Inherited
from alarmlib.pages.cautions import APART, TICK, caution_form
from alarmlib.pages.opened import open_home
from alarmlib.pages.progress import progress
from alarmlib.pages.wires import WIRED_FORMS
from alarmlib.store import Edit, Session, load
from alarmlib.widgets.fold import Fold
from alarmlib.widgets.gate import Gate

WORKBOOK = Path(__file__).parents[2] / "workbook"
CALL = re.compile(r'pages\.(?:form|check|picture)\("(\w+)"\)')
APART_IN = {"short_path": "cautions", "test_plan": "walk_test_cautions"}
# The ids that a home file of versions 0.1 to 0.4 may have ticked (alarmlib 0.4.1, checks/cautions.py).
OLD = [
    *("life_safety_first", "planning_aid", "mains", "battery", "ladders", "drilling", "smoke_test", "smoke_sounds"),
    *("co_sounds", "gas_smell", "water_and_cold", "generator", "escape_ways", "siren_ears", "who_wakes", "consent"),
]


@pytest.fixture
def blank(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """A page's own folder with a blank home in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    monkeypatch.setenv("ALARM_RAISE", "1")
    Session.new(tmp_path / "home.json", blank_home())
    return open_home()


def cells(page: str) -> list[str]:
    """What the code cells of a page call, in order."""
    found = json.loads((WORKBOOK / f"{page}.ipynb").read_text(encoding="utf-8"))["cells"]
    return [name for cell in found if cell["cell_type"] == "code" for name in CALL.findall("".join(cell["source"]))]


def asked(form: Any, text: str) -> None:
    """Tick, or take the tick away."""
    form._edit("cautions_read", text, form.values["cautions_read"])


@pytest.mark.parametrize("advice", CAUTIONS, ids=lambda each: each.id)
def test_caution__has_its_step_its_words_and_its_source(advice: Advice) -> None:
    """Each names steps that are there, says one to three short sentences, and says who says so."""
    assert advice.before and set(advice.before) <= set(STEPS)
    assert advice.cited.standing
    sentences = [each for each in re.split(r"(?<=[.])\s+|[;:]\s", advice.text) if each]
    assert len(re.findall(r"[.](?:\s|$)", advice.text)) <= 3
    assert all(len(each.split()) <= 25 for each in sentences), sentences


@pytest.mark.parametrize("cell", STEPS)
def test_step__has_cautions_and_a_cell_on_its_page(cell: str) -> None:
    """A step's cell is on its page; where its cautions are a cell of their own, that comes before it."""
    found = cells(STEPS[cell].page)
    assert before(cell) and cell in found
    if cell in APART:
        assert found.index(APART_IN[cell]) < found.index(cell)
        assert APART_IN[cell] == "cautions" or found.index(APART_IN[cell]) == found.index(cell) - 1
    assert set(APART_IN) == APART


def test_three_cautions_and_one_tick_open_the_workbook(blank: Session) -> None:
    """The first form has one tick for three cautions; the tick opens the short path, and takes nothing else away."""
    form = pages.form("cautions")
    assert len(before("short_path")) == 3
    assert [field.control for field in form.spec.fields] == ["tick"]
    gate = pages.form("short_path")
    assert not gate.opened
    blank.apply([Edit(("cautions_read",), (), ("mains",))])
    asked(form, "yes")
    assert gate.opened and gate.children[-1] is gate.form
    assert set(open_home().home.cautions_read) == {"mains", *(each.id for each in before("short_path"))}
    asked(form, "")
    assert not gate.opened
    assert open_home().home.cautions_read == ("mains",)


@pytest.mark.parametrize("cell", sorted(set(STEPS) - APART))
def test_tick__opens_the_form_of_its_step(cell: str, blank: Session) -> None:
    """Closed, the caution comes first and a sentence replaces the form; ticked, the form follows it directly."""
    shown = pages.form(cell)
    gate = shown.parts[0] if isinstance(shown, Fold) else shown
    if cell in WIRED_FORMS:
        assert gate.children == ()
        blank.apply([Edit(("circuits", "one"), None, {"id": "one", "name": "Cellar"})])
        (gate,) = gate.children
    assert isinstance(gate, Gate)
    caution, closed = gate.children
    assert closed is gate.closed and TICK in closed.value
    assert all(advice.text in caution.spec.intro for advice in before(cell))
    asked(caution, "yes")
    assert gate.children == (caution, gate.form)
    asked(caution, "")
    assert gate.children == (caution, gate.closed)


def test_form_without_a_caution__is_the_form_itself(blank: Session) -> None:
    assert not isinstance(pages.form("zones"), Gate)


def test_old_ticks_stay(tmp_path: Path) -> None:
    """What an older home file has ticked is read as it is, still has its caution, and counts at its own step."""
    assert set(OLD) <= {each.id for each in CAUTIONS}
    file = tmp_path / "home.json"
    file.write_text(json.dumps({"schema_version": SCHEMA_VERSION, "cautions_read": OLD}), encoding="utf-8")
    session = Session.open(file)
    assert list(session.home.cautions_read) == OLD
    assert caution_form(session, "short_path").values["cautions_read"] == "yes"
    assert caution_form(session, "found").values["cautions_read"] == ""
    assert list(load(file).cautions_read) == OLD


def test_two_windows_tick_two_steps(blank: Session) -> None:
    """A tick on one page never takes away or disputes the tick of another page open beside it."""
    here, there = caution_form(blank, "supply"), caution_form(Session.open(blank.path), "walks")
    asked(there, "yes")
    asked(here, "yes")
    read = set(Session.open(blank.path).home.cautions_read)
    assert read == {each.id for cell in ("supply", "walks") for each in before(cell)}


def test_progress__names_the_page_where_a_caution_is_unread() -> None:
    """The list of tasks counts a page's own cautions at a task of that page."""
    found = Home(inherited=Inherited(items=(FoundItem(id="box", what="Box"),)))
    tasks = progress(found, assess(found, "quick"))
    for page in dict.fromkeys(step.page for step in STEPS.values()):
        told = [
            int(n) for task in tasks if task.page == page for n in re.findall(r"(\d+) cautions? to read", task.left)
        ]
        assert sum(told) == len(on_page(page)), page
    read = found.model_copy(update={"cautions_read": tuple(each.id for each in CAUTIONS)})
    assert not any("to read" in task.left for task in progress(read, assess(read, "quick")))
