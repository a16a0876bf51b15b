"""A form that opens when what comes before it has been ticked."""

from collections.abc import Callable
from html import escape
from typing import Any

from ipywidgets.widgets.widget_box import VBox
from ipywidgets.widgets.widget_layout import Layout
from ipywidgets.widgets.widget_string import HTML

from alarmlib.model import Home
from alarmlib.store import Session
from alarmlib.widgets.work import with_text


class Gate(VBox):
    """Shows `before`, and under it `form` while `is_open(home)`, else the sentence `closed(home)`, or `instead`."""

    def __init__(
        self,
        session: Session,
        is_open: Callable[[Home], bool],
        form: Any,
        closed: Callable[[Home], str],
        before: Any = None,
        instead: Any = None,
    ) -> None:
        self.instead = instead
        self.session, self.is_open, self.form, self.before = session, is_open, form, before
        self.why, self.closed = closed, HTML()
        super().__init__(self._shown(), layout=Layout(overflow="visible"))  # type: ignore[no-untyped-call]
        self.add_class("alarm-gate")  # type: ignore[no-untyped-call]
        self.unsubscribe = session.subscribe(self._told)

    def __repr__(self) -> str:
        return "\n".join(repr(each) for each in (self.before, self.form) if each is not None)

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))  # type: ignore[no-untyped-call]

    @property
    def opened(self) -> bool:
        """Whether the form is shown."""
        return bool(self.is_open(self.session.home))

    def _shown(self) -> tuple[Any, ...]:
        why = self.why(self.session.home)
        self.closed.value = f'<p role="status">{escape(why)}</p>'
        closed = self.instead or (self.closed if why else None)
        parts = (self.before, self.form if self.opened else closed)
        return tuple(part for part in parts if part is not None)

    def _told(self, *_news: Any) -> None:
        self.look()

    def look(self) -> None:
        """Look whether it is open; set the children only where they change, so that what is typed keeps its place."""
        shown = self._shown()
        if shown != self.children:
            self.children = shown
