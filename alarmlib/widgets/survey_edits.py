"""The edits that an answer of the survey comes to."""

from collections.abc import Iterator
from typing import Any

from alarmlib.draft.survey_round import BY_DAY, BY_NIGHT, DARK, survey_places
from alarmlib.model.home import Home
from alarmlib.model.survey import Answer, Found, Heading
from alarmlib.store import Edit

PATH = ("site", "answers")
_FINE = frozenset({Found.OK, Found.NOT_HERE})


def answer_edits(home: Home, answer: Answer, fact: str, before: Any, after: Any) -> list[Edit]:
    """The edits by which one fact of an answer, as `survey_places` gives it, becomes another.

    What needs work again is not put right. Where nobody goes in the dark, one answer speaks for both rounds.
    """
    path = (*PATH, answer.id)
    if all(each.id != answer.id for each in home.site.answers):
        made = answer.model_copy(update={fact: after})
        return [Edit(path, None, made.model_dump(mode="json"))]
    edits = [Edit((*path, fact), before, after)]
    if fact in (BY_DAY, BY_NIGHT) and after is Found.NEEDS_WORK and answer.left in _FINE:
        edits.append(Edit((*path, "left"), answer.left, Found.NOT_LOOKED_AT))
    bad_before = answer.in_the_dark is Found.NEEDS_WORK and answer.heading not in DARK
    if fact == BY_DAY and after in _FINE and bad_before:
        edits.append(Edit((*path, BY_NIGHT), Found.NEEDS_WORK, after))
    return edits


def rest_is_fine(home: Home, heading: Heading, round_: str) -> list[Edit]:
    """The edits that call every point of a place fine which nobody has looked at in this round."""
    return list(_fine(home, heading, round_))


def _fine(home: Home, heading: Heading, round_: str) -> Iterator[Edit]:
    for place in survey_places(home):
        for answer in place.answers if place.heading is heading else ():
            if getattr(answer, round_) is Found.NOT_LOOKED_AT:
                yield from answer_edits(home, answer, round_, Found.NOT_LOOKED_AT, Found.OK)
