"""A counterexample looked for, played again on the whole unit, and told; or found not to come about."""

from collections.abc import Callable
from dataclasses import dataclass

from alarmlib.control.simulate import alarms
from alarmlib.proof.habits.habit_begin import HabitBegin
from alarmlib.proof.habits.habit_cases import PreparedHabits, SearchedUnit
from alarmlib.proof.habits.habit_counterexample import Follow, HabitPath, Node, Places, played, shortest
from alarmlib.proof.habits.habit_moves import Moves
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.report.verdicts import Beat, ProofVerdict

SPURIOUS = "What the search found does not happen when it is played again on the whole control unit."


@dataclass(frozen=True)
class Question:
    """What to look for: scripts, the unit's state and the place in each script at first, and the way on.

    `alarm`: it leads to one, otherwise to an end without one.
    """

    scripts: tuple[Script, ...]
    begins: tuple[tuple[HabitBegin, Places], ...]
    follow: Callable[[Moves], Follow]
    alarm: bool = True


def told_of(
    household: PreparedHabits, season: str, clock: float, asked: Question
) -> tuple[ProofVerdict, tuple[Beat, ...]]:
    """The shortest counterexample, played again on the whole unit of that season and clock.

    Breached, with it, when playing it again leads there too. If not, it is searched for once more with every
    detector's sleep after a trip kept: then holds when there is none, not settled when that one does not either.
    By `alarmlib.control.machine.run`.
    """
    with household.spending.lifted():
        return _told_of(household, season, clock, asked)


def _told_of(
    household: PreparedHabits, season: str, clock: float, asked: Question
) -> tuple[ProofVerdict, tuple[Beat, ...]]:
    whole = household.whole(season, clock)
    for rests in (False, True):
        unit = household.unit(season, clock, rests)
        path = _path(unit, asked)
        if path is None:
            return (ProofVerdict.HOLDS if rests else ProofVerdict.NOT_SETTLED), ()
        begin = whole.state(asked.begins[path.seed][0])
        trace = played(whole.setup, begin, path)[: len(path.ticks)] if begin is not None else ()
        if trace and any(alarms(second.outputs) for second in trace) is asked.alarm:
            return ProofVerdict.BREACHED, tuple(household.teller.beats(whole.setup, asked.scripts, path, trace))
    return ProofVerdict.NOT_SETTLED, ()


def _path(unit: SearchedUnit, asked: Question) -> HabitPath | None:
    numbers = (unit.number(begin) for begin, _ in asked.begins)
    seeds = [
        (seed, Node(places, k))
        for seed, ((_, places), k) in enumerate(zip(asked.begins, numbers, strict=True))
        if k is not None
    ]
    return shortest(seeds, asked.follow(unit.moves))
