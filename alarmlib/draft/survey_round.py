"""The survey as a round: its points by where one walks, and how many of them are looked at."""

from dataclasses import dataclass

from alarmlib.model.home import Home
from alarmlib.model.questions import by_id
from alarmlib.model.survey import POINTS, Answer, Found, Heading

BY_DAY, BY_NIGHT = "found", "in_the_dark"
DARK = frozenset({Heading.GROUNDS, Heading.OUTBUILDINGS})
"""Where one goes round a second time, in the dark."""
_WALK = (Heading.GROUNDS, Heading.OUTBUILDINGS, Heading.HAZARDS, Heading.ABSENCE, Heading.NEIGHBOURS)
_TEXTS = {point.id: point.text for point in POINTS}
_USUAL = {point.id: point.to_do for point in POINTS}


@dataclass(frozen=True)
class SurveyPlace:
    """One place of the round with its points, those that every survey asks first."""

    heading: Heading
    answers: tuple[Answer, ...]


def survey_places(home: Home) -> tuple[SurveyPlace, ...]:
    """Every place of the round; a point of the survey that the home file lacks is there too, not looked at."""
    there = by_id(home.site.answers)
    asked = [there.get(point.id) or Answer(id=point.id, heading=point.heading) for point in POINTS]
    listed = (*asked, *(answer for answer in home.site.answers if answer.id not in _TEXTS))
    order = dict.fromkeys((*_WALK, *(answer.heading for answer in listed)))
    return tuple(SurveyPlace(heading, tuple(each for each in listed if each.heading is heading)) for heading in order)


def told(answer: Answer) -> str:
    """What a point asks, in the owner's words where they changed it."""
    return answer.point or _TEXTS.get(answer.id, "")


def usual_work(answer: Answer) -> str:
    """What is done about a point that needs work unless the owner says otherwise; "" for a point of their own."""
    return _USUAL.get(answer.id, "")


def is_own(answer: Answer) -> bool:
    """Whether the owner added the point."""
    return answer.id not in _TEXTS


def looked_at(place: SurveyPlace, round_: str) -> tuple[int, int]:
    """How many of its points are looked at in a round, and how many there are."""
    return sum(getattr(answer, round_) is not Found.NOT_LOOKED_AT for answer in place.answers), len(place.answers)


def open_in_the_dark(answer: Answer) -> bool:
    """Whether a point that is not bad by day needs work in the dark, which nobody has put right."""
    bad = answer.in_the_dark is Found.NEEDS_WORK and answer.found is not Found.NEEDS_WORK
    return bad and answer.left is not Found.OK
