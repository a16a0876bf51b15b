"""What follows a home: views and forms, each brought up to date after an edit, the quick ones before the slow ones."""

import logging
import threading
import time
import weakref
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Protocol

from alarmlib.model import Home
from alarmlib.store import Session

ONE_AT_A_TIME = threading.RLock()  # JupyterLab hands messages over on a thread beside the running cell
FIRST_TURN_S = 0.1  # of this thread's own time: what needs longer gives way, and goes on after all others
PAUSE_S = 0.01  # after a change, so that several in a row are one
_TURN = threading.local()
_log = logging.getLogger(__name__)


class GivesWay(BaseException):
    """What is being worked out here gives way: to what is quicker, or to a newer home. It is no error and no value."""


class Followed(Protocol):
    """A view: `shown` is the home that it shows, `taken_s` how long its turns take, of the thread's own time."""

    shown: Home | None
    taken_s: float
    in_sight: bool

    def follow(self) -> None:
        """Show the home as it is now."""


def give_way() -> None:
    """Ask this wherever work may be left and taken up again. Raises GivesWay once its turn is over."""
    over: Callable[[], bool] | None = getattr(_TURN, "over", None)
    if over is not None and over():
        raise GivesWay


@contextmanager
def _turn(over: Callable[[], bool]) -> Iterator[None]:
    _TURN.over = over
    try:
        yield
    finally:
        _TURN.over = None


class Follower:
    """The views and forms of one session, brought up to date on a thread of their own: the save is answered first.

    A page that is run again brings its views again: the newest of one title is followed, those before it are let go.
    """

    def __init__(self, session: Session) -> None:
        self._views: dict[str, Followed] = {}
        self._forms: dict[Callable[[], None], None] = {}  # what brings up those that have not heard of the newest home
        self._lock, self._drawing = threading.Lock(), threading.RLock()
        self._moved = threading.Event()
        self._thread: threading.Thread | None = None
        session.subscribe(lambda _home: self._moved.set())

    def add(self, name: str, view: Followed) -> None:
        """Follow the home with this view from now on."""
        with self._lock:
            self._views[name] = view
            if self._thread is None:
                self._thread = threading.Thread(target=self._go_on, name="views", daemon=True)
                self._thread.start()

    def later(self, form: Callable[[], None]) -> bool:
        """Have a form follow as `later` says."""
        with self._lock:
            if self._thread is None:
                return False
            self._forms[form] = None
        self._moved.set()
        return True

    def stir(self) -> None:
        """Something else than the home has changed: every view may say something else."""
        for view in self._all():
            view.shown = None
        self._moved.set()

    def once(self) -> None:
        """All that is out of date, the quickest first; begun again when the home changes meanwhile."""
        with self._drawing:
            self._bring_up()

    def _bring_up(self) -> None:
        self._moved.clear()
        slow = [view for view in self._all() if not self._follows(view.follow, FIRST_TURN_S)]
        for form in self._waiting():
            self._follows(form)
        for view in slow:
            self._follows(view.follow)

    def _follows(self, follow: Callable[[], None], most_s: float = float("inf")) -> bool:
        """Bring one up to date; False when it needs longer, or the home has moved on."""
        end_s = time.thread_time() + most_s
        try:
            with _turn(lambda: self._moved.is_set() or time.thread_time() > end_s):
                give_way()
                follow()
        except GivesWay:
            return False
        except Exception:  # one's error must not keep the others from the present
            _log.exception("A part of the page could not be drawn again.")
        return True

    def _waiting(self) -> Iterator[Callable[[], None]]:
        """The forms that have not heard of the newest home; while it moves on they wait."""
        while not self._moved.is_set():
            with self._lock:
                form = next(iter(self._forms), None)
                if form is None:
                    return
                del self._forms[form]
            yield form

    def _all(self) -> list[Followed]:
        with self._lock:
            return sorted(self._views.values(), key=lambda each: (not each.in_sight, each.taken_s))

    def _go_on(self) -> None:
        while True:
            self._moved.wait()
            time.sleep(PAUSE_S)
            with ONE_AT_A_TIME:  # the edit that moved the home is answered first
                pass
            self.once()


_FOLLOWERS: "weakref.WeakKeyDictionary[Session, Follower]" = weakref.WeakKeyDictionary()
_ADDING = threading.Lock()


def follower_of(session: Session) -> Follower:
    """The one follower of a session."""
    with _ADDING:
        found = _FOLLOWERS.get(session)
        if found is None:
            found = _FOLLOWERS[session] = Follower(session)
        return found


def later(session: Session, form: Callable[[], None]) -> bool:
    """Have `form()` bring a form up once the edit is answered; False where no thread runs that could."""
    found = _FOLLOWERS.get(session)
    return found is not None and found.later(form)
