"""The to-do list that the survey builds by itself."""

from collections.abc import Iterator

from alarmlib.model.site import Opening, RoundResult, Yes
from alarmlib.model.survey import POINTS, Answer, Found, Heading
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Checklist, named
from alarmlib.record.context import Context
from alarmlib.record.rows import label, note_table

ID = "to_do"
TITLE = "To do on the house"
NEEDS: tuple[str, ...] = ("site.rooms",)
LEVEL = Share.OWNER

_LOOKED_AT = ("lock", "latches_in_wind", "by_day", "by_night")
_POINTS = {point.id: point for point in POINTS}


def build(context: Context) -> tuple[Block, ...]:
    """What needs work, a line each; lines nobody has looked at are said to be so."""
    site = context.home.site
    lines = [line for opening in site.openings for line in _opening(context, opening)]
    lines += [line for answer in sorted(site.answers, key=_round) for line in _answer(answer)]
    unseen = sum(_nothing_looked_at(opening) for opening in site.openings)
    if unseen:
        lines.append(f"Look at the {unseen} ways in that nobody has looked at yet.")
    quiet = [answer for answer in site.answers if not any(_answer(answer))]
    return (
        Checklist("What needs work", tuple(lines) or ("Nothing was found that needs work.",)),
        *note_table(context, "Written down on the round where nothing needs work now", quiet, ("to_do",)),
    )


def _opening(context: Context, opening: Opening) -> Iterator[str]:
    name = context.name("opening", opening.id)
    bad = [label(Opening, field) for field in _LOOKED_AT if getattr(opening, field) is RoundResult.NEEDS_WORK]
    if bad or opening.to_do:
        wanted = f": {named(opening.to_do)}" if opening.to_do else ""
        yield f"{name}: {' and '.join(f'“{text}” needs work' for text in bad) or 'noted'}{wanted}"
    if opening.escape_way and opening.opens_without_key is Yes.NO:
        yield f"{name} is an escape way but does not open from inside without a key: change the lock"


def _round(answer: Answer) -> int:
    """Where on the walk its heading comes."""
    return list(Heading).index(answer.heading)


def _answer(answer: Answer) -> Iterator[str]:
    if Found.NEEDS_WORK not in (answer.found, answer.in_the_dark) or answer.left is Found.OK:
        return
    point = _POINTS.get(answer.id)
    told = point.text if point else named(answer.point or answer.id)
    wanted = named(answer.to_do) if answer.to_do else (point.to_do if point else "to fix")
    yield f"{answer.heading.text}: {wanted} (“{told}” needs work)"


def _nothing_looked_at(opening: Opening) -> bool:
    return all(getattr(opening, field) is RoundResult.NOT_LOOKED_AT for field in _LOOKED_AT)
