"""A view with buttons of its own: what one of them does is asked of Python by its name."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.view import Drawn, View

_HERE = Path(__file__).parent


class TaskView(View):
    """Shows `drawn(home)`: a button in it names a deed (`data-do`), a link a form of its page by title (`data-goto`).

    What a deed says, or why it was not done, is shown and read out in one line.
    """

    _esm = joined(_HERE / "tasks.js")
    _css = styled("form.css", "tasks.css")
    said = traitlets.Unicode().tag(sync=True)

    def __init__(
        self,
        session: Session,
        title: str,
        drawn: Callable[[Home], Drawn],
        deeds: Mapping[str, Callable[[], str]] | None = None,
    ) -> None:
        self.deeds = deeds or {}
        super().__init__(session, title, drawn)

    def _handle_custom_msg(self, content: dict[str, Any], buffers: list[Any]) -> None:
        if content.get("kind") == "do" and content.get("name") in self.deeds:
            self.do(content["name"])
        else:
            super()._handle_custom_msg(content, buffers)

    def do(self, name: str) -> None:
        """Do one of the deeds, and say what came of it."""
        try:
            said = self.deeds[name]()
        except AlarmProblem as problem:
            said = f"✗ {problem}"
        self.said = say_of(self.session.home)(said)
