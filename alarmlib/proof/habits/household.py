"""Every habit of the household, whatever is seen of it, at both ends of pace and clock, under every fault at once."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Expected, Habit
from alarmlib.proof.faults.fault import NONE, Fault
from alarmlib.proof.faults.seen_faults import in_a_habit
from alarmlib.proof.habits.habit_cases import Case, PreparedHabits
from alarmlib.proof.habits.habit_counterexample import alone
from alarmlib.proof.habits.habit_replay import SPURIOUS, Question, told_of
from alarmlib.proof.habits.habit_search import least_margin, sweep
from alarmlib.proof.pieces.content import digest
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.pieces.recorded import HomeReading, recorded
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import OverBudget, RanOut, Spending, gone_through, not_ready, spending_of


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
    home: Home,
    faults: Sequence[Fault] = (NONE,),
    progress: OnProgress | None = None,
    pieces: Pieces | None = None,
) -> tuple[HabitProved, ...]:
    """Each habit proved; `faults` in one sweep, the first of them no fault. Names in it are marks, with `pieces`.

    A habit is a piece: it reads the home without the other habits, but for the zones that all of them touch.
    Reference: breadth-first search, textbook.
    """
    spending = spending_of(progress)
    if pieces is None:
        household = PreparedHabits(home, faults, spending)
        found = tuple(_told_how_far(home, spending, lambda habit: proved_one(household, habit)))
        household.forget()
        return found
    reading, searched = HomeReading(), tuple(map(in_a_habit, faults))
    prepared = _Prepared(recorded(home, reading), searched, spending)
    bare, seen = _without_habits(home), digest(searched)
    with pieces.shared(bare, reading) as shared:
        touched = frozenset[str]()
        try:
            for habit in home.household.habits:
                walk = partial(prepared.touched_by, habit.id)
                touched |= shared.ask("walks of a habit", habit, seen, frozenset[str], walk)
        except OverBudget as over:
            return tuple(_not_settled(home, habit, not_ready(over)) for habit in home.household.habits)

        def proved(habit: Habit) -> HabitProved:
            work, inputs = partial(prepared.proved, habit.id, touched), (seen, touched)
            return shared.ask("habit", habit, inputs, HabitProved, work, lambda found: not found.proved.too_large)

        every = tuple(_told_how_far(home, spending, proved))
    prepared.forget()
    return every


def _told_how_far(home: Home, progress: OnProgress, prove: Callable[[Habit], HabitProved]) -> Iterator[HabitProved]:
    habits = home.household.habits
    for number, habit in enumerate(habits):
        progress(f"habit {habit.name}", number, len(habits))
        yield prove(habit)


def _without_habits(home: Home) -> Home:
    return home.model_copy(update={"household": home.household.model_copy(update={"habits": ()})})


class _Prepared:
    """The habits of a home, made ready once a piece of one must be worked out."""

    def __init__(self, home: Home, faults: Sequence[Fault], spending: Spending) -> None:
        self._home, self._faults, self._spending = home, faults, spending
        self._made: PreparedHabits | None = None

    def forget(self) -> None:
        """Give back the memory of what was worked out."""
        if self._made is not None:
            self._made.forget()

    @cached_property
    def _household(self) -> PreparedHabits:
        self._made = PreparedHabits(self._home, self._faults, self._spending)
        return self._made

    @cached_property
    def _habits(self) -> dict[str, Habit]:
        return {habit.id: habit for habit in self._home.household.habits}

    def touched_by(self, habit: str) -> frozenset[str]:
        return self._household.touched_by(self._habits[habit])

    def proved(self, habit: str, touched: frozenset[str]) -> HabitProved:
        self._household.touched = touched
        return proved_one(self._household, self._habits[habit])


def proved_one(household: PreparedHabits, habit: Habit) -> HabitProved:
    """One habit proved; one that cannot be played, or is too large, is not settled.

    As `habits_proved`.
    """
    try:
        return _Prover(household, habit).prove()
    except OverBudget as over:
        why = gone_through(over, "nothing of this habit", "all of it")
    except AlarmProblem as problem:
        why = str(problem)
    return _not_settled(household.home, habit, why)


def _not_settled(home: Home, habit: Habit, why: str) -> HabitProved:
    proved = Proved(f"habit/{habit.id}", sentence_of(home, habit), ProofVerdict.NOT_SETTLED, why=why)
    return HabitProved(habit.id, proved)


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
        self.cases = 0
        self.over: OverBudget | None = None

    def prove(self) -> HabitProved:
        self._within_limits()
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

    def _within_limits(self) -> None:
        """Every case; once more with empty tables when those of other habits had filled the memory."""
        for again in (self.household.used, False):
            self.fails = self.states = self.cases = 0
            self.margin, self.breached, self.first_under = None, [], {}
            try:
                for case in self.household.cases(self.habit):
                    self._look_at(case)
                    self.cases += 1
            except OverBudget as over:
                self.household.forget()
                if not again or over.ran_out is not RanOut.MEMORY:
                    self.over = over
                    return
            else:
                return

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
        if self.over is not None:
            done = f"{self.states:,} states of its cases (season, pace and clock), {self.cases} of them to the end"
            why = gone_through(self.over, done, "the other cases")
            return Proved(name, sentence, ProofVerdict.NOT_SETTLED, states=self.states, why=why)
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
