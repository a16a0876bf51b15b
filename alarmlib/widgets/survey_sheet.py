"""The survey as a tick sheet: each point one line with three choices, a note where something needs work."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

import traitlets

from alarmlib.draft.survey_round import (
    BY_DAY,
    BY_NIGHT,
    DARK,
    SurveyPlace,
    is_own,
    looked_at,
    survey_places,
    told,
    usual_work,
)
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.survey import Answer, Found, Heading
from alarmlib.store import Edit, FieldClash, Session
from alarmlib.widgets.engine import HERE, Engine, Extras
from alarmlib.widgets.modules import joined, styled
from alarmlib.widgets.spec import FieldPath, FieldSpec, fields_of, numbered
from alarmlib.widgets.survey_edits import PATH, answer_edits, rest_is_fine
from alarmlib.widgets.values import NotThereError, shown_text, value_at

INTRO = (
    "Choose one answer a line. The arrow keys change the answer. Tab goes to the next line. "
    "Write a note only where something needs work."
)
ROUNDS = ((BY_DAY, "By day"), (BY_NIGHT, "In the dark"))
CHOICES = ((Found.OK, "Fine"), (Found.NEEDS_WORK, "Needs work"), (Found.NOT_HERE, "Not here"))
FACTS = (BY_DAY, BY_NIGHT, "to_do", "left", "point")
_FIELDS = {field.path[0]: field for field in fields_of(Answer, FACTS)}


class SurveySheet(Engine):
    """The tick sheet on the page, of the places that are `wanted`, or of all."""

    _esm = joined(HERE / "survey_sheet.js")
    _css = styled("form.css", "survey_sheet.css")
    parts = (*Engine.parts, "counts")
    counts = traitlets.Dict().tag(sync=True)

    def __init__(
        self,
        session: Session,
        title: str,
        wanted: Callable[[Heading], bool] = lambda _heading: True,
        extras: Extras | None = None,
        raising: bool | None = None,
    ) -> None:
        self.wanted = wanted
        super().__init__(session, title, extras, raising)

    def _layout(self) -> dict[str, Any]:
        there = self._places()
        return {
            "intro": INTRO,
            "rounds": [list(each) for each in _rounds(there)],
            "choices": [[found.value, text] for found, text in CHOICES],
            "places": [_place_layout(place) for place in there],
        }

    def _places(self) -> tuple[SurveyPlace, ...]:
        return tuple(place for place in survey_places(self.session.home) if self.wanted(place.heading))

    def _answers(self) -> dict[str, Answer]:
        return {answer.id: answer for place in self._places() for answer in place.answers}

    def _entries(self) -> Iterator[tuple[str, FieldSpec, FieldPath]]:
        for name, answer in self._answers().items():
            for fact, field in _FIELDS.items():
                if is_own(answer) or fact != "point":
                    yield f"{name}/{fact}", field, (*PATH, name, fact)

    def _entry(self, key: str) -> tuple[FieldSpec, FieldPath]:
        name, _, fact = key.partition("/")
        if fact not in _FIELDS:
            raise NotThereError(key)
        return _FIELDS[fact], (*PATH, name, fact)

    def _columns(self) -> Iterator[tuple[str, FieldSpec]]:
        return iter(())

    def _drawn(self, _home: Home) -> dict[str, Any]:
        """How many points are looked at, in each round at each place and in all."""
        there = self._places()
        return {"counts": {round_: dict(_counted(there, round_)) for round_, _ in _rounds(there)}}

    def _edit(self, key: str, text: str, seen: str) -> dict[str, Any]:
        """As every form's; a point that the home file lacks comes with its first answer."""
        (field, path), home = self._entry(key), self.session.home
        answer = self._answers().get(path[-2])
        if answer is None:
            raise AlarmProblem("What was here was removed on another page, so this cannot be saved.")
        current = getattr(answer, path[-1])
        if text != shown_text(field, current):
            before = current if seen == shown_text(field, current) else self._meant(field, seen)
            try:
                self.session.apply(answer_edits(home, answer, path[-1], before, self._meant(field, text)))
            except FieldClash as clash:
                self._follow()
                return {"ok": False, "clash": self._clash(field, clash, text)}
            self._follow()
        return {"shown": self.values.get(key, text)}

    def _meant(self, field: FieldSpec, text: str) -> Any:
        if field.control != "choice":
            return self._read(field, text, "")
        return Found(self._read(field, text, "")) if text else Found.NOT_LOOKED_AT

    def _asked(self, question: Mapping[str, Any]) -> dict[str, Any]:
        match question.get("kind"):
            case "fine":
                return self._fine(Heading(question["heading"]), question["round"])
            case "add":
                return self._add(Heading(question["heading"]))
            case "remove":
                return self._remove(question["row"])
        return super()._asked(question)

    def _fine(self, heading: Heading, round_: str) -> dict[str, Any]:
        edits = rest_is_fine(self.session.home, heading, round_)
        if not edits:
            return {"say": "Every point here is looked at already. Nothing was changed."}
        self.session.apply(edits)
        self._follow()
        points = "1 point is" if len(edits) == 1 else f"{len(edits)} points are"
        return {"say": f"{points} marked as fine. “Undo the last change” takes it back."}

    def _add(self, heading: Heading) -> dict[str, Any]:
        taken = frozenset(answer.id for answer in self.session.home.site.answers)
        name = numbered("point")(taken)
        new = Answer(id=name, heading=heading).model_dump(mode="json")
        self.session.apply([Edit((*PATH, name), None, new)])
        self._follow()
        return {"row": name, "say": "A line for your own point is added."}

    def _remove(self, name: str) -> dict[str, Any]:
        path = (*PATH, name)
        try:
            there = value_at(self.session.home, path)
        except NotThereError:
            raise AlarmProblem("That point is gone already.") from None
        self.session.apply([Edit(path, there, None)])
        self._follow()
        return {"say": "Your point is removed. “Undo the last change” brings it back."}


def _place_layout(place: SurveyPlace) -> dict[str, Any]:
    heading = place.heading
    points = [_point_layout(answer) for answer in place.answers]
    return {"key": heading.value, "title": heading.text, "dark": heading in DARK, "points": points}


def _point_layout(answer: Answer) -> dict[str, Any]:
    """A point as the browser is told of it; the text of the owner's own is a field."""
    own = is_own(answer)
    return {"key": answer.id, "text": "" if own else told(answer), "own": own, "usual": usual_work(answer)}


def _rounds(there: Iterable[SurveyPlace]) -> tuple[tuple[str, str], ...]:
    """Once by day; once more in the dark where a place is out of doors."""
    return ROUNDS if any(place.heading in DARK for place in there) else ROUNDS[:1]


def _counted(there: Iterable[SurveyPlace], round_: str) -> Iterator[tuple[str, list[int]]]:
    """How many points are looked at and how many there are: by place, and as "all" wherever this round leads."""
    visited = [place for place in there if round_ == BY_DAY or place.heading in DARK]
    counted = {place.heading.value: looked_at(place, round_) for place in visited}
    yield from ((heading, [seen, of]) for heading, (seen, of) in counted.items())
    yield "all", [sum(seen for seen, _ in counted.values()), sum(of for _, of in counted.values())]
