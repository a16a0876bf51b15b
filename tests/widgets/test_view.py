"""A view follows its home: in place, the newest state, the quick ones first, the slow ones when asked."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store import Edit, Session
from alarmlib.widgets import view as module
from alarmlib.widgets.follower import follower_of
from alarmlib.widgets.view import Drawn, View


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """A home that is worked on."""
    return Session.new(tmp_path / "home.json", Home(name="before"))


def named(session: Session, name: str) -> None:
    """The home gets another name, by an edit as a form makes it."""
    session.apply([Edit(("name",), session.home.name, name)])


def soon(true: Callable[[], bool]) -> bool:
    """Whether that comes true within some seconds."""
    for _ in range(200):
        if true():
            return True
        time.sleep(0.02)
    return False


def words(home: Home) -> Drawn:
    """The name, in two ways."""
    return Drawn(home.name, f"<p>{home.name}</p>")


def test_a_view_follows_by_itself(session: Session) -> None:
    """After an edit it says the new name, without anybody asking; its plain text is what it says."""
    view = View(session, "Name", words)
    assert view._repr_mimebundle_()[0]["text/plain"] == "before"
    named(session, "after")
    assert soon(lambda: view.html == "<p>after</p>")
    assert repr(view) == "after"


def test_what_says_the_same_is_not_sent_again(session: Session) -> None:
    """An edit that moves nothing it says brings no change to the browser."""
    view = View(session, "Count", lambda home: Drawn("n", f"<p>{len(home.devices)}</p>"))
    seen = []
    view.observe(lambda change: seen.append(change["new"]), "html")
    named(session, "after")
    follower_of(session).once()
    assert view.shown is session.home
    assert seen == []


def test_a_slow_view_is_veiled_until_its_reader_asks(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    """After the first change that was slow it keeps what it shows, is called out of date, and is drawn by a button."""
    monkeypatch.setattr(module, "SLOW_S", -1.0)
    view = View(session, "Name", words)
    named(session, "after")
    follower_of(session).once()
    assert (view.late, view.html) == (False, "<p>after</p>")
    named(session, "later")
    follower_of(session).once()
    assert (view.late, view.html) == (True, "<p>after</p>")
    view._handle_custom_msg({"kind": "draw"}, [])
    assert (view.late, view.html) == (False, "<p>later</p>")


def test_a_problem_is_a_sentence_and_an_error_keeps_no_other_view_back(session: Session) -> None:
    """One view has a problem, one breaks after the edit, the third follows."""

    def fails(home: Home) -> Drawn:
        if home.name == "after":
            raise RuntimeError
        return words(home)

    def cannot(home: Home) -> Drawn:
        raise AlarmProblem(f"Not <{home.name}>.")

    broken, problem, sound = View(session, "a", fails), View(session, "b", cannot), View(session, "c", words)
    named(session, "after")
    follower_of(session).once()
    assert broken.html == "<p>before</p>"
    assert problem.html == '<p role="status">Not &lt;after&gt;.</p>'
    assert sound.html == "<p>after</p>"


def test_a_page_that_is_run_again_brings_its_views_again(session: Session) -> None:
    """The newest view of one title is followed, and what else than the home has changed draws it again."""
    told = ["one"]
    old, new = View(session, "Name", words), View(session, "Name", lambda _home: Drawn("", told[0]))
    told[0] = "two"
    follower_of(session).once()
    assert new.html == "one"
    follower_of(session).stir()
    follower_of(session).once()
    assert new.html == "two"
    named(session, "after")
    follower_of(session).once()
    assert old.html == "<p>before</p>"
