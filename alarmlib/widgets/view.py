"""A part of a page that follows the home: it is drawn again, in place, once what it says has changed."""

import logging
import threading
import time
import weakref
from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any, NamedTuple

import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.moved import Moving
from alarmlib.widgets.work import with_text

SLOW_S = 1.0  # of this thread's own time: what took longer after a change is veiled after the next one
PAUSE_S = 0.05  # after a change, so that several in a row are one
_HERE = Path(__file__).parent
_log = logging.getLogger(__name__)


class Drawn(NamedTuple):
    """What a view says: as plain text, which tests of the pages compare, and as HTML, already escaped."""

    text: str
    html: str


class View(Moving):
    """Shows `drawn(home)` and follows the session's home; a problem becomes a sentence.

    What took longer than `SLOW_S` after the last change is not drawn again by itself: it is marked `late`, with a
    button. How long the very first drawing took says little, since nothing was kept yet.
    """

    _esm = joined(_HERE / "view.js")
    _css = styled("form.css")
    parts = ("html",)
    title = traitlets.Unicode().tag(sync=True)
    html = traitlets.Unicode().tag(sync=True)
    late = traitlets.Bool().tag(sync=True)

    def __init__(self, session: Session, title: str, drawn: Callable[[Home], Drawn]) -> None:
        self.name = title
        self.session, self.drawn = session, drawn
        self.text, self.taken_s, self.slow = "", 0.0, False
        self._drawing = threading.RLock()  # the thread that follows the home, and the one that hears a button
        self.shown: Home | None = None
        self.redraw()
        super().__init__()  # the line to the browser opens with all that is there by now
        follower_of(session).add(self)

    def __repr__(self) -> str:
        return self.text

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))

    def _handle_custom_msg(self, content: dict[str, Any], _buffers: list[Any]) -> None:
        if content.get("kind") == "whole":
            self.send_whole()
        if content.get("kind") == "draw":
            self.redraw()

    def redraw(self) -> None:
        """Draw it now, whether or not the home has changed."""
        with self._drawing:
            self._redraw()

    def _redraw(self) -> None:
        home, began = self.session.home, time.thread_time()
        try:
            words = self.drawn(home)
        except AlarmProblem as problem:
            told = say_of(home)(str(problem))
            words = Drawn(told, f'<p role="status">{escape(told)}</p>')
        self.taken_s, self.shown = time.thread_time() - began, home
        self.text = words.text
        with self.hold_sync():
            self.title = say_of(home)(self.name)
            self.hold(html=words.html)
            self.late = False

    def follow(self) -> None:
        """Draw it again if the home has changed since, or say that it is out of date where that is slow."""
        if self.shown is self.session.home:
            return
        if self.slow:
            self.late = True
            return
        self.redraw()
        self.slow = self.taken_s > SLOW_S


class Follower:
    """The views of one session, drawn again on a thread of their own: the save is answered first.

    A page that is run again brings its views again: the newest of one title is followed, those before it are let go.
    """

    def __init__(self, session: Session) -> None:
        self._views: dict[str, View] = {}
        self._lock, self._drawing = threading.Lock(), threading.RLock()
        self._moved = threading.Event()
        self._thread: threading.Thread | None = None
        session.subscribe(lambda _home: self._moved.set())

    def add(self, view: View) -> None:
        """Follow the home with this view from now on."""
        with self._lock:
            self._views[view.name] = view
            if self._thread is None:
                self._thread = threading.Thread(target=self._go_on, name="views", daemon=True)
                self._thread.start()

    def stir(self) -> None:
        """Something else than the home has changed: every view may say something else."""
        for view in self._all():
            view.shown = None
        self._moved.set()

    def once(self) -> None:
        """Each view that is out of date, the quickest first; begun again when the home changes meanwhile."""
        with self._drawing:
            self._bring_up()

    def _bring_up(self) -> None:
        self._moved.clear()
        for view in sorted(self._all(), key=lambda each: each.taken_s):
            if self._moved.is_set():
                return
            try:
                view.follow()
            except Exception:  # one view's error must not keep the others from the present
                _log.exception("“%s” could not be drawn again.", view.title)

    def _all(self) -> list[View]:
        with self._lock:
            return list(self._views.values())

    def _go_on(self) -> None:
        while True:
            self._moved.wait()
            time.sleep(PAUSE_S)
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
