"""A form that asks one question at a time, then shows all answers to be checked."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import traitlets

from alarmlib.model import Home
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import HERE, Engine, Extras
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.spec import FieldPath, FieldSpec
from alarmlib.widgets.values import NotThereError

DEEDS = frozenset({"pick", "more", "add", "write", "next", "unknown"})


@dataclass(frozen=True)
class QuestionsSpec:
    """What is asked: `told(home)` is what the browser is told of each question, `begins_at(home)` where to go on.

    `edits(home, deed)` are the edits of one deed, a mapping with its `kind` of `DEEDS` and the `question`; it raises
    AlarmProblem with the sentence that is shown at the question. `after(home, question)` is where Next leads.
    """

    title: str
    told: Callable[[Home], Sequence[Mapping[str, Any]]]
    begins_at: Callable[[Home], str]
    edits: Callable[[Home, Mapping[str, Any]], Sequence[Edit]]
    after: Callable[[Home, str], str]
    intro: str = ""


class QuestionsForm(Engine):
    """One question at a time; each pick is saved at once, by the engine's own line to the browser."""

    _esm = joined(HERE / "questions_shown.js")
    _css = styled("form.css", "questions.css")
    parts = (*Engine.parts, "questions")
    questions: traitlets.List[Any] = traitlets.List().tag(sync=True)
    begin = traitlets.Unicode().tag(sync=True)

    def __init__(
        self, session: Session, spec: QuestionsSpec, extras: Extras | None = None, raising: bool | None = None
    ) -> None:
        self.spec = spec
        self.begin = spec.begins_at(session.home)
        super().__init__(session, spec.title, extras, raising)

    def _layout(self) -> dict[str, Any]:
        return {"intro": self.spec.intro, "groups": []}

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        return iter(())

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        raise NotThereError(key)

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        return iter(())

    def _drawn(self, home: Home) -> dict[str, Any]:
        return {"questions": [dict(each) for each in self.spec.told(home)]}

    def _asked(self, question: Mapping[str, Any]) -> dict[str, Any]:
        """Do one deed; the answer says what is saved, and after Next which question follows."""
        if question.get("kind") not in DEEDS:
            return super()._asked(question)
        home = self.session.refresh()
        edits = self.spec.edits(home, question)
        if edits:
            self.session.apply(edits)
        self._follow()
        now, said = self.session.home, "✓ Saved."
        if question["kind"] == "add":
            said = self.extras.check_text(now, str(question.get("text", ""))) or said
        follows = question["kind"] in {"next", "unknown"}
        return {"say": said} | ({"at": self.spec.after(now, str(question["question"]))} if follows else {})
