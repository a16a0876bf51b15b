"""A part of a page that follows the home: it is drawn again, in place, once what it says has changed."""

import threading
import time
from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any, NamedTuple

import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.widgets.follower import GivesWay, follower_of
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.moved import Moving
from alarmlib.widgets.work import with_text

SLOW_S = 1.0  # of this thread's own time: what took longer after a change is veiled after the next one
FORGETS = 0.97  # who asks first pays for what others ask too: by the last turn alone, the order would swing
_HERE = Path(__file__).parent


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
        self.in_sight = False
        self._last_s = 0.0  # of its last turn: a single edit that moves much says little of the next
        self._given_way: tuple[Home | None, float] = (None, 0.0)  # seconds spent on that home before it gave way
        self._drawing = threading.RLock()  # the thread that follows the home, and the one that hears a button
        self.shown: Home | None = None
        self.redraw()
        super().__init__()  # the line to the browser opens with all that is there by now
        follower_of(session).add(title, self)

    def __repr__(self) -> str:
        return self.text

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))

    def _handle_custom_msg(self, content: dict[str, Any], _buffers: list[Any]) -> None:
        if content.get("kind") == "whole":
            self.send_whole()
        if content.get("kind") == "draw":
            self.redraw()
        if content.get("kind") == "sight":
            self.in_sight = bool(content["seen"])

    def redraw(self) -> float:
        """Draw it now, whether or not the home has changed; says how long that took, s of the thread's own time."""
        with self._drawing:
            return self._redraw()

    def _redraw(self) -> float:
        home = self.session.home
        tried, spent_s = self._given_way
        began = time.thread_time() - (spent_s if tried is home else 0.0)
        try:
            words = self.drawn(home)
        except GivesWay:
            self._given_way = home, time.thread_time() - began
            raise
        except AlarmProblem as problem:
            told = say_of(home)(str(problem))
            words = Drawn(told, f'<p role="status">{escape(told)}</p>')
        taken_s = time.thread_time() - began
        self.text, self.shown = words.text, home
        with self.hold_sync():
            self.title = say_of(home)(self.name)
            self.hold(html=words.html)
            self.late = False
        return taken_s

    def follow(self) -> None:
        """Draw it again if the home has changed since, or say that it is out of date where that is slow."""
        if self.shown is self.session.home:
            return
        if self.slow:
            self.late = True
            return
        taken_s = self.redraw()
        self.taken_s = max(min(taken_s, self._last_s), FORGETS * self.taken_s)
        self._last_s, self.slow = taken_s, taken_s > SLOW_S
