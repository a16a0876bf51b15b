"""Check and picture cells follow the home, also when another window saves it."""

import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from alarmlib import pages
from alarmlib.pages.opened import open_home
from alarmlib.store import Edit, Session
from alarmlib.widgets.view import View

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """This page's session of a copy of the demo home."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    return open_home()


def soon(true: Callable[[], bool]) -> bool:
    """Whether that comes true within some seconds."""
    for _ in range(500):
        if true():
            return True
        time.sleep(0.02)
    return False


def short_entry(session: Session, delay_s: float) -> None:
    """The entry delay is changed, as a form does it."""
    session.apply([Edit(("control_unit", "times", "entry_s"), session.home.control_unit.times.entry_s, delay_s)])


def test_a_finding_appears_after_an_edit_here(session: Session) -> None:
    """An entry delay beyond all limits: the findings about times say so by themselves, and stop when it is undone."""
    times = pages.check("time_findings")
    before = times.text
    short_entry(session, 600.0)
    assert soon(lambda: times.text != before)
    assert "longer than your rules allow" in times.text
    assert times.html.startswith("<")
    session.undo()
    assert soon(lambda: times.text == before)


def test_an_edit_in_another_window_is_followed(session: Session) -> None:
    """Another program saves the file: findings and tasks of this page follow without anybody asking."""
    times, tasks = pages.check("time_findings"), pages.form("tasks")
    texts = times.text, tasks.html
    other = Session.open(session.path)
    short_entry(other, 600.0)
    bare = other.home.site.openings[0].model_copy(update={"id": "new_window", "name": "New window"})
    site = other.home.site.model_copy(update={"openings": (*other.home.site.openings, bare)})
    other.replace(other.home.model_copy(update={"site": site}))
    assert soon(lambda: times.text != texts[0] and tasks.html != texts[1])
    assert soon(lambda: session.home == other.home)


def test_what_says_the_same_keeps_its_drawing(session: Session) -> None:
    """A note on the home moves no finding: nothing is sent to the browser."""
    view = pages.check("zone_findings")
    assert isinstance(view, View)
    sent = []
    view.observe(sent.append, "html")
    session.apply([Edit(("note",), session.home.note, "Looked at in autumn.")])
    assert soon(lambda: view.shown is session.home)
    assert sent == []
