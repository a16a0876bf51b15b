"""Every habit of the household, whatever is seen of it, at both ends of pace and clock, under every fault at once."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Expected, Habit
from alarmlib.proof.faults.fault import NONE, Fault
from alarmlib.proof.habits.habit_cases import Case, PreparedHabits
from alarmlib.proof.habits.habit_counterexample import alone
from alarmlib.proof.habits.habit_replay import SPURIOUS, Question, told_of
from alarmlib.proof.habits.habit_search import least_margin, sweep
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved


@dataclass(frozen=True)
class HabitProved:
    """What was proved of a habit; `fails`: the faults (bits) under which it is breached.

    `first_fault` is the place of the first of them, None when there is none, and `counterexample` belongs to it.
    """

    habit: str
    proved: Proved
    fails: int = 0
    first_fault: int | None = None
    counterexample: tuple[Beat, ...] = ()
    assumed: tuple[str, ...] = ()


def habits_proved(
    home: Home, faults: Sequence[Fault] = (NONE,), progress: OnProgress | None = None
) -> tuple[HabitProved, ...]:
    """Each habit proved; `faults` in one sweep, the first of them no fault.

    Reference: breadth-first search, textbook.
    """
    household, habits = PreparedHabits(home, faults), home.household.habits
    results = []
    for number, habit in enumerate(habits):
        if progress is not None:
            progress(f"habit {habit.name}", number, len(habits))
        results.append(proved_one(household, habit))
    return tuple(results)


def proved_one(household: PreparedHabits, habit: Habit) -> HabitProved:
    """One habit proved; one that cannot be played, or is too large, is not settled.

    As `habits_proved`.
    """
    try:
        return _Prover(household, habit).prove()
    except AlarmProblem as problem:
        return HabitProved(habit.id, Proved(f"habit/{habit.id}", sentence_of(household.home, habit),
                                            ProofVerdict.NOT_SETTLED, why=str(problem)))  # fmt: skip


def sentence_of(home: Home, habit: Habit) -> str:
    """The property in a sentence."""
    roles = {person.id: person.role for person in home.household.people}
    roles |= {visitor.id: visitor.role for visitor in home.household.visitors}
    name = f"{habit.name} ({roles[habit.who]})" if habit.who in roles else habit.name
    if habit.expected is Expected.ALARM:
        return f"{name}: it gives the alarm that it is meant to give."
    return f"{name}: it never sounds a siren nor sends an alarm message."


class _Prover:
    """One habit, case by case."""

    def __init__(self, household: PreparedHabits, habit: Habit) -> None:
        self.household, self.habit = household, habit
        self.meant_to = habit.expected is Expected.ALARM
        self.fails = 0
        self.states = 0
        self.margin: tuple[int, str, Case] | None = None
        self.breached: list[tuple[int, Case]] = []
        self.first_under: dict[int, Case] = {}

    def prove(self) -> HabitProved:
        for case in self.household.cases(self.habit):
            self._look_at(case)
        assumed = self.household.script(self.habit).assumed
        proved = self._verdict()
        fails = self.fails if proved.verdict is ProofVerdict.BREACHED else self.fails & ~1
        first = next((place for place in range(1, fails.bit_length()) if fails >> place & 1), None)
        if first is None:
            return HabitProved(self.habit.id, proved, fails, assumed=assumed)
        case = self.first_under[first]
        asked = _question(case, first, not self.meant_to)
        _, counterexample = told_of(self.household, case.season, case.corner.clock, asked)
        return HabitProved(self.habit.id, proved, fails, first, counterexample, assumed)

    def _look_at(self, case: Case) -> None:
        """Search one case; a fault that breached an earlier one is not looked at again."""
        layer = {k: left for k, mask in case.layer().items() if (left := mask & (~self.fails | 1))}
        swept = sweep(case.script, layer, case.unit.moves, once=not self.meant_to)
        self.states += swept.states
        fails = swept.quiet if self.meant_to else swept.alarmed
        new = fails & ~self.fails
        for place in range(new.bit_length()):
            if new >> place & 1:
                self.first_under[place] = case
        self.fails |= fails
        if fails & 1:
            at = len(case.script.labels) if self.meant_to or swept.first_at is None else swept.first_at
            self.breached.append((case.script.at_s[at], case))
        elif layer and not self.meant_to:
            self._note_margin(case, least_margin(case.script, swept, case.unit.moves))

    def _note_margin(self, case: Case, found: tuple[int, str] | None) -> None:
        if found is not None and (self.margin is None or found[0] < self.margin[0]):
            self.margin = (*found, case)

    def _verdict(self) -> Proved:
        habit = self.habit
        name, sentence = f"habit/{habit.id}", sentence_of(self.household.home, habit)
        unsettled = False
        for _, case in sorted(self.breached, key=lambda each: each[0]):
            verdict, beats = told_of(
                self.household, case.season, case.corner.clock, _question(case, 0, not self.meant_to)
            )
            if verdict is ProofVerdict.BREACHED:
                worst = {"at_s": str(beats[-1].at_s), **_where(case)}
                return Proved(name, sentence, verdict, worst, beats, self.states)
            unsettled |= verdict is ProofVerdict.NOT_SETTLED
        if unsettled:
            return Proved(name, sentence, ProofVerdict.NOT_SETTLED, states=self.states, why=SPURIOUS)
        margin = self.margin
        worst = {} if margin is None else {"margin_s": str(margin[0]), "margin_of": margin[1],
                                           **_where(margin[2])}  # fmt: skip
        return Proved(name, sentence, ProofVerdict.HOLDS, worst, states=self.states)


def _where(case: Case) -> dict[str, str]:
    return {**case.corner.text, **({"season": case.season} if case.season else {})}


def _question(case: Case, fault: int, alarm: bool) -> Question:
    bit = 1 << fault
    begins = tuple((begin, (0,)) for begin in case.begins if begin.under & bit)
    return Question((case.script,), begins, lambda moves: alone(case.script, moves, bit, alarm), alarm)
