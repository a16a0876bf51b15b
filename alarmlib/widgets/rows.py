"""A form for each element of a list: one that is added gets its form at once, one that goes takes it along."""

from collections.abc import Callable, Sequence
from typing import Any

from ipywidgets.widgets.widget_box import VBox
from ipywidgets.widgets.widget_layout import Layout
from ipywidgets.widgets.widget_string import HTML

from alarmlib.model import Home
from alarmlib.store import Session
from alarmlib.widgets.engine import Engine
from alarmlib.widgets.follower import ONE_AT_A_TIME
from alarmlib.widgets.work import with_text

NOTHING = "There is nothing to fill in here yet."


class FormsOfList(VBox):
    """`made(element)` under each other for all of `listed(home)`; a sentence while there are none.

    An element is told by its id and name, which its form's title says; the forms of the others stay as they are, with
    what is typed in them.
    """

    def __init__(
        self, session: Session, listed: Callable[[Home], Sequence[Any]], made: Callable[[Any], Engine]
    ) -> None:
        self.session, self.listed, self.made = session, listed, made
        self._made: dict[tuple[str, str], Engine] = {}
        self._nothing = HTML(f'<p role="status">{NOTHING}</p>')
        super().__init__(self._shown(), layout=Layout(overflow="visible"))  # type: ignore[no-untyped-call]
        self.add_class("alarm-rows")  # type: ignore[no-untyped-call]
        self.unsubscribe = session.subscribe(self._told)

    def __repr__(self) -> str:
        return "\n".join(repr(form) for form in self.forms) or NOTHING

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        return with_text(super()._repr_mimebundle_(**kwargs), repr(self))  # type: ignore[no-untyped-call]

    @property
    def forms(self) -> tuple[Engine, ...]:
        """The forms that there are now, in the order of the list."""
        return tuple(self._made.values())

    def _shown(self) -> tuple[Any, ...]:
        before, self._made = self._made, {}
        for each in self.listed(self.session.home):
            key = each.id, each.name
            self._made[key] = before.pop(key) if key in before else self.made(each)
        for gone in before.values():
            gone.unsubscribe()
        return self.forms or (self._nothing,)

    def _told(self, *_news: Any) -> None:
        """Set the children only where they change, so that what is being typed keeps its place."""
        with ONE_AT_A_TIME:
            shown = self._shown()
            if shown != self.children:
                self.children = shown
