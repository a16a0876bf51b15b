"""What check and picture cells show: views that follow the home, and what makes them look again."""

import threading
import weakref
from html import escape

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.pages.answers import answer_and_blocks, title_of
from alarmlib.pages.pictures import PROVED, drawn, first_sight_html
from alarmlib.pages.wires import WIRED_VIEWS, has_wires
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.store.kept_proofs import kept_file
from alarmlib.store.watched import watch
from alarmlib.widgets.follower import follower_of
from alarmlib.widgets.view import Drawn, View

NOTHING_WIRED = "<p hidden>There is nothing wired.</p>"
UNREAD = "This page shows your home as it was last read. Page 00_start can bring back the last good save."
_UNREAD: "weakref.WeakKeyDictionary[Session, str]" = weakref.WeakKeyDictionary()
_WATCHED: "weakref.WeakSet[Session]" = weakref.WeakSet()
_ADDING = threading.Lock()
_NAMES = {
    "cable_plan": "Plan of the cables",
    **{name: each[0] for name, each in PROVED.items()},
}


def opened(session: Session) -> View:
    """What this page works on, in a sentence that follows the home's name."""

    def words(home: Home) -> Drawn:
        why = _UNREAD.get(session, "")
        works = f"{why} {UNREAD}" if why else f"This page works on “{home.name}”. Every change is saved at once."
        told = say_of(home)(works)
        return Drawn(told, f"<p>{escape(told)}</p>")

    return _followed(session, View(session, "Your home", words))


def answered(session: Session, name: str) -> View:
    """The answer of that name, which follows the home. Raises KeyError."""

    def words(home: Home) -> Drawn:
        text, blocks = answer_and_blocks(home, name)
        if name in WIRED_VIEWS and not has_wires(home):
            return Drawn(text, NOTHING_WIRED)
        return Drawn(text, first_sight_html(f"answer-{name}", blocks, say_of(home), title_of(name)))

    return _followed(session, View(session, title_of(name), words))


def pictured(session: Session, name: str) -> View:
    """The picture of that name with its table, which follows the home. Raises KeyError."""
    title = f"Picture: {_NAMES.get(name) or title_of(name)}"

    def words(home: Home) -> Drawn:
        return Drawn(title, NOTHING_WIRED if name in WIRED_VIEWS and not has_wires(home) else drawn(home, name))

    return _followed(session, View(session, title, words))


def _followed(session: Session, view: View) -> View:
    """The view; from its first on, what another window saves is read, and a proof that was run is looked at."""
    with _ADDING:
        if session not in _WATCHED:
            _WATCHED.add(session)
            watch({session.path: lambda: _read_again(session), kept_file(session.path): follower_of(session).stir})
    return view


def _read_again(session: Session) -> None:
    """Take in what another window saved; a file that cannot be read any more is told, until it can be read again."""
    why = ""
    try:
        session.refresh()
    except AlarmProblem as problem:
        why = str(problem)
    if why != _UNREAD.get(session, ""):
        _UNREAD[session] = why
        follower_of(session).stir()
