"""What each single fault opens: which property no longer holds, for how long, whether anybody is told."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from alarmlib.proof.faults.fault import Fault
from alarmlib.proof.habits.household import HabitProved
from alarmlib.proof.intruder.intrusions import Tally
from alarmlib.proof.intruder.search import UNHEARD
from alarmlib.proof.report.verdicts import FaultRow, Hole, ProofVerdict, Proved
from alarmlib.proof.unit.announced import Announcement

_NAMED = 3


def fault_rows(
    faults: Sequence[Fault],
    announced: Sequence[Announcement],
    tallies: Iterable[Tally],
    habits: Iterable[HabitProved],
    proved: Sequence[Proved],
    names: Mapping[str, str],
) -> tuple[FaultRow, ...]:
    """A row a fault, in the order of the faults; the first, which is none, has no row.

    Holes are what does not hold under the fault but does without it; `announced` is about the same faults, without
    the first.
    By the searches.
    """
    tallies, habits = tuple(tallies), tuple(habits)
    holding = sum(each.verdict is ProofVerdict.HOLDS for each in proved)
    sentences = {each.id: each.sentence for each in proved if each.verdict is ProofVerdict.HOLDS}
    rows = []
    for number, (fault, told) in enumerate(zip(faults[1:], announced, strict=True), start=1):
        holes = (*_ways(tallies, number, told.after_s, names), *_habits(habits, number, told.after_s, sentences))
        broken = len({hole.property for hole in holes} & sentences.keys())
        rows.append(FaultRow(fault.id, fault.sentence, told.announced, told.after_s, holes, holding - broken))
    return tuple(rows)


def _ways(tallies: Iterable[Tally], fault: int, lasts_s: int | None, names: Mapping[str, str]) -> Iterator[Hole]:
    for tally in tallies:
        opened = {where: tick for where, tick in tally.opened.get(fault, {}).items() if where not in tally.plain}
        if opened:
            yield Hole(tally.id, _said(tally.rule, opened, names), lasts_s)


def _said(rule: str, opened: Mapping[tuple[str, str], int], names: Mapping[str, str]) -> str:
    """The ways in that it opens, the quickest first, and what is reached by them."""
    by_way: dict[str, tuple[int, str]] = {}
    for (way, room), tick in sorted(opened.items(), key=lambda each: each[1]):
        by_way.setdefault(way, (tick, room))
    told = [
        f"{names.get(way, way)} ({names.get(room, room)} after {tick} s)"
        if room
        else f"{names.get(way, way)} ({'never heard' if tick in (UNHEARD, 10**9) else f'heard after {tick} s'})"
        for way, (tick, room) in by_way.items()
    ]
    more = f" and {len(told) - _NAMED} more" if len(told) > _NAMED else ""
    start = {"noticed_first": "Unnoticed by", "sounds_first": "Before any siren by"}.get(rule, "Too late by")
    return f"{start}: {', '.join(told[:_NAMED])}{more}."


def _habits(
    habits: Iterable[HabitProved], fault: int, lasts_s: int | None, sentences: Mapping[str, str]
) -> Iterator[Hole]:
    for habit in habits:
        if habit.fails >> fault & 1 and habit.proved.id in sentences:
            yield Hole(habit.proved.id, f"This no longer holds: {sentences[habit.proved.id]}", lasts_s)
