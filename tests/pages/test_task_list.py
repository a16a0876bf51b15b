"""The list of tasks on the start page: states, what is next, three ways to begin, and that it follows the home."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib import pages
from alarmlib.checks.assess import assess
from alarmlib.checks.cautions import CAUTIONS, before
from alarmlib.draft.blank import blank_home
from alarmlib.model import Home
from alarmlib.pages import start_forms
from alarmlib.pages.opened import open_home
from alarmlib.pages.progress import Task, TaskState, next_task, progress
from alarmlib.pages.task_list import open_demo
from alarmlib.record.produce import DEMO, FINISHED, demo_home, workbook_folder
from alarmlib.store import Edit, Session
from alarmlib.store.kept_proofs import kept_file
from alarmlib.widgets.tasks import TaskView
from alarmlib.widgets.view import follower_of

READ = tuple(each.id for each in CAUTIONS)
HALL = {"id": "hall", "name": "Hall", "storey": "ground"}
DOOR = {"id": "door", "name": "Front door", "room": "hall", "kind": "door", "reach": "ground"}
SITE = {"storeys": [{"id": "ground", "name": "Ground"}], "rooms": [HALL], "openings": [DOOR]}


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """This page's session of a blank home."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    Session.new(tmp_path / "home.json", blank_home())
    return open_home()


def task(home: Home, title: str) -> Task:
    """The task of that title."""
    return next(each for each in progress(home, assess(home, "quick")) if each.title == title)


def entered(**changed: Any) -> Home:
    """One room with one door, every caution ticked."""
    return Home.model_validate({"cautions_read": READ, "site": SITE} | changed)


def states(homes: list[Home], title: str) -> list[str]:
    """The state of one task in each home."""
    return [task(home, title).state.value for home in homes]


UNKNOWN = {**SITE, "openings": [DOOR | {"reach": "unknown"}]}
CHOICE = {"entry": {"low_s": 10, "high_s": 60, "step_s": 5}}
TIMES = {"control_unit": {"limits": CHOICE, "times": {"doors": [{"id": "t", "opening": "door", "entry_s": 600}]}}}
IN_AND_OUT = {"site": {**SITE, "openings": [DOOR | {"entry_exit": True}]}}
LIVES = {"household": {"people": [{"id": "owner", "role": "Owner"}]}}


def test_a_task_is_not_started_then_begun_then_done() -> None:
    """By what is entered of it and what is left, each in words."""
    homes = [Home(cautions_read=READ), entered(site=UNKNOWN), entered()]
    assert states(homes, "Rooms and ways in") == ["not started", "begun", "done"]
    assert task(homes[1], "Rooms and ways in").left == "1 way in still to be looked at"
    assert [task(home, "Rooms and ways in").minutes for home in homes] == [15, 1, 0]


def test_done_but_wrong_is_looked_at_again() -> None:
    """A delay that the control unit does not offer: all is entered, and a must of the page asks for another look."""
    wrong = entered(**IN_AND_OUT, **LIVES, **TIMES)
    found = task(wrong, "Times")
    assert found.state is TaskState.LOOK_AGAIN
    assert found.left.endswith("to fix") and found.minutes >= 2
    assert task(entered(**IN_AND_OUT, **TIMES), "Times").state is TaskState.BEGUN


def test_next_is_the_first_that_is_not_done() -> None:
    """Cautions, then the short path; whoever enters rooms without it is never sent back to it."""
    blank, read = blank_home(), Home(cautions_read=READ)
    found = [next_task(progress(home, assess(home, "quick"))) for home in (blank, read, entered(site=UNKNOWN))]
    assert [each and each.title for each in found] == ["Three cautions", "The short path", "Rooms and ways in"]
    assert "The short path" not in [each.title for each in progress(entered(), assess(entered(), "quick"))]
    assert next_task([]) is None


def test_each_task_says_why_and_leads_somewhere() -> None:
    """A sentence of its own, a page that is there, and on the start page the form that it is about."""
    tasks = progress(Home(), assess(Home(), "quick"))
    files = {page.stem for page in (Path(__file__).parents[2] / "workbook").glob("*.ipynb")}
    assert {each.page for each in tasks} == files
    assert all(each.why.endswith(".") and bool(each.at) is (each.page == "00_start") for each in tasks)


def test_a_record_is_due_again_after_a_change(session: Session) -> None:
    """Not written, written, and written before the last change."""
    view = pages.form("tasks")

    def shown() -> str:
        view.redraw()
        return str(view.html)

    assert 'Record</a></th><td><span class="state not_started"' in shown()
    session.apply([Edit(("note",), "", "Seen")])
    session.keep_for_record()
    assert 'Record</a></th><td><span class="state done"' in shown()
    session.apply([Edit(("note",), "Seen", "Seen twice")])
    assert 'Record</a></th><td><span class="state look_again"' in shown()


def test_the_list_follows_an_edit(session: Session) -> None:
    """A tick on this page moves what is next; rooms entered by another program are told, and the three ways go."""
    view = pages.form("tasks")
    assert isinstance(view, TaskView)
    assert "Next: Three cautions" in view.html and "Three ways to begin" in view.html
    session.apply([Edit(("cautions_read",), (), tuple(each.id for each in before("short_path")))])
    follower_of(session).once()
    assert "Next: The short path" in view.html
    other = Session.open(session.path)
    other.replace(entered())
    session.refresh()
    follower_of(session).once()
    assert "1 room, 1 way in" in view.html and "Three ways to begin" not in view.html


def test_the_demo_opens_only_where_nothing_is_lost(session: Session) -> None:
    """A press on a list that is older than the home changes nothing and says where to replace it."""
    view = pages.form("tasks")
    press: Callable[[], None] = lambda: view._handle_custom_msg({"kind": "do", "name": "demo"}, [])  # noqa: E731
    Session.open(session.path).replace(entered())
    press()
    assert len(session.home.site.rooms) == 1 and view.said.startswith("✗ Something is entered by now.")
    session.replace(blank_home())
    press()
    assert len(session.home.site.rooms) > 1 and view.said.startswith("The demo home is in place")
    assert session.home == demo_home(FINISHED) and session.home.accepted


def test_either_demo_home_can_be_loaded(session: Session) -> None:
    """The finished one by itself; as first planned by name. Each comes with the result of its own proof."""
    for name in (FINISHED, DEMO):
        assert open_demo(session, name).startswith("The demo home")
        assert session.home == demo_home(name)
        proof = kept_file(workbook_folder() / name)
        assert kept_file(session.path).read_bytes() == proof.read_bytes()
    offered = [action.label for action in start_forms.files(session).extras.actions]
    assert {"Load the demo home", "Load the demo home as first planned"} <= set(offered)
