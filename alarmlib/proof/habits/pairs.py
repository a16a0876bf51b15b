"""Every two habits of different people, however they overlap: never a siren, never an alarm message."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Expected, Habit
from alarmlib.proof.faults.fault import NONE, FaultMasks
from alarmlib.proof.habits.habit_begin import HabitBegin, begins_of, sets_asked, touched_areas
from alarmlib.proof.habits.habit_cases import Corner, PreparedHabits, corners_of
from alarmlib.proof.habits.habit_counterexample import NOT_YET
from alarmlib.proof.habits.habit_replay import SPURIOUS, Question, told_of
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.habits.habit_search import sweep
from alarmlib.proof.habits.household import sentence_of
from alarmlib.proof.habits.pair_search import PairFound, ScriptPair, Together
from alarmlib.proof.report.environment_assumptions import environment_of
from alarmlib.proof.report.verdicts import TOO_LARGE, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import OverBudget, gone_through, spending_of
from alarmlib.proof.search.state_sets import NEVER_S, Sets

MOST_CELLS = 100_000_000
CELLS_A_SECOND = 500_000  # measured, a small machine
_ALL = "No two habits of different people, however they overlap, sound a siren or send an alarm message."


@dataclass
class _Tally:
    """What is summed up over all pairs."""

    states: int = 0
    cells: int = 0
    rest_s: int = NEVER_S
    where: dict[str, str] = field(default_factory=dict)


def pairs_proved(
    home: Home, progress: OnProgress | None = None, household: PreparedHabits | None = None
) -> tuple[Proved, ...]:
    """First all pairs together (id "pairs"), then each pair that is breached or not settled.

    In every season in which both may happen, at each corner of pace and clock, both persons at the same end of pace.
    Whoever has done their last step is no longer followed. Left out, and said how many: pairs with a habit that is
    meant to give an alarm, that is breached alone, or that cannot be played.
    Reference: breadth-first search, textbook.
    """
    spending = spending_of(progress)
    household = household or PreparedHabits(home, spending=spending)
    try:
        return _Prover(household, progress).prove()
    except OverBudget as over:
        why = gone_through(over, "only habits by themselves", "every pair of habits")
        return (Proved("pairs", _ALL, ProofVerdict.NOT_SETTLED, why=why),)
    finally:
        household.forget()


class _Prover:
    """All pairs of a home, without faults."""

    def __init__(self, household: PreparedHabits, progress: OnProgress | None) -> None:
        self.household, self.progress = household, progress
        self.tally = _Tally()
        self.sets: Sets | None = None  # of the season and clock that is looked at just now
        self.corners = corners_of(household.home)

    def prove(self) -> tuple[Proved, ...]:
        habits = self.household.home.household.habits
        apart = [pair for pair in combinations(habits, 2) if pair[0].who != pair[1].who and self._common(*pair)]
        good = {habit.id for habit in habits if self._holds_alone(habit)}
        taken = [pair for pair in apart if {habit.id for habit in pair} <= good]
        too_many = self._too_many(taken)
        if too_many:
            return (Proved("pairs", _ALL, ProofVerdict.NOT_SETTLED, why=too_many),)
        bad = self._rounds(taken)
        return (self._all_together(len(taken), len(apart) - len(taken), bad), *bad)

    def _rounds(self, pairs: list[tuple[Habit, Habit]]) -> list[Proved]:
        """What is wrong with each pair, if anything: all pairs in one season at one clock, then in the next."""
        rounds = [
            (season, clock)
            for season in self.household.setups
            for clock in dict.fromkeys(c.clock for c in self.corners)
        ]
        found: dict[tuple[Habit, Habit], Proved] = {}
        for done, (season, clock) in enumerate(rounds):
            for number, pair in enumerate(pairs):
                if self.progress is not None:
                    self.progress(
                        f"{pair[0].name} together with {pair[1].name}",
                        done * len(pairs) + number,
                        len(rounds) * len(pairs),
                    )
                if season in self._common(*pair) and _open(found.get(pair)):
                    proved = self._pair(pair, season, clock)
                    if proved is not None:
                        found[pair] = proved
            self._forget()
        return [found[pair] for pair in pairs if pair in found]

    def _forget(self) -> None:
        self.household.forget()
        self.sets = None

    def _common(self, first: Habit, second: Habit) -> tuple[str, ...]:
        """The seasons in which both may happen."""
        return tuple(season for season in self.household.seasons(first) if season in self.household.seasons(second))

    def _holds_alone(self, habit: Habit) -> bool:
        """Whether it may be looked at beside another: meant to stay quiet, playable, and quiet by itself."""
        if habit.expected is Expected.ALARM:
            return False
        try:
            return not any(
                sweep(case.script, case.layer(), case.unit.moves).alarmed & 1 for case in self.household.cases(habit)
            )
        except OverBudget:
            raise
        except AlarmProblem:
            return False

    def _too_many(self, pairs: list[tuple[Habit, Habit]]) -> str:
        """Why it isn't tried, with an estimate; "" when it is."""
        cells = sum(
            len(self._script(first, Corner()).labels) * len(self._script(second, Corner()).labels)
            * len(self.corners) * len(self._common(first, second))
            for first, second in pairs
        )  # fmt: skip
        if cells <= MOST_CELLS:
            return ""
        return (
            f"The pairs of habits ({len(pairs)}) would need about {cells:,} places and some "
            f"{cells // CELLS_A_SECOND // 60} min; at most {MOST_CELLS:,} are tried."
        )

    def _script(self, habit: Habit, corner: Corner) -> Script:
        return self.household.script(habit, corner.pace, tail_s=0)

    def _pair(self, pair: tuple[Habit, Habit], season: str, clock: float) -> Proved | None:
        """The first fault of a pair in a season at a clock, a breach before what is not settled."""
        unsettled: Proved | None = None
        for corner in (corner for corner in self.corners if corner.clock == clock):
            try:
                proved = self._look_at(pair, season, corner)
            except OverBudget as over:
                self._forget()
                why = gone_through(over, "some of this pair's seconds", "the rest of it")
                proved = Proved(_id(*pair), self._sentence(*pair), ProofVerdict.NOT_SETTLED, why=why)
            except AlarmProblem as problem:
                proved = Proved(_id(*pair), self._sentence(*pair), ProofVerdict.NOT_SETTLED, why=str(problem))
            if not _open(proved):
                return proved
            unsettled = proved or unsettled
        return unsettled

    def _look_at(self, habits: tuple[Habit, Habit], season: str, corner: Corner) -> Proved | None:
        """One pair in a season, at a corner; None when it holds."""
        scripts = self._script(habits[0], corner), self._script(habits[1], corner)
        unit = self.household.unit(season, corner.clock)
        setup = unit.beginnings.setup
        areas = touched_areas(setup, scripts)
        named = {area for habit in habits for area, _ in sets_asked(setup, habit)}
        begins = [begins_of(setup, habit, areas, FaultMasks.of((NONE,)), (), named) for habit in habits]
        numbers = [tuple(k for begin in each if (k := unit.number(begin)) is not None) for each in begins]
        self.sets = self.sets or Sets(unit.moves)
        environment = environment_of(self.household.home, setup, scripts)
        found = ScriptPair(self.sets, scripts, environment, (numbers[0], numbers[1])).search()
        self._note(found, habits, season, corner)
        if not found.alarmed:
            return None
        placed: Iterator[tuple[HabitBegin, tuple[int, int]]] = (
            (begin, (NOT_YET, 0) if which else (0, NOT_YET)) for which in (0, 1) for begin in begins[which]
        )
        asked = Question(scripts, tuple(placed), lambda moves: Together(scripts, environment, moves))
        verdict, counterexample = told_of(self.household, season, corner.clock, asked)
        if verdict is ProofVerdict.HOLDS:
            return None
        worst = {"at_s": str(counterexample[-1].at_s)} if counterexample else {}
        why = "" if counterexample else SPURIOUS
        worst |= {**corner.text, **({"season": season} if season else {})}
        return Proved(
            _id(*habits),
            self._sentence(*habits),
            verdict=verdict,
            worst=worst,
            counterexample=counterexample,
            states=found.states,
            why=why,
        )

    def _note(self, found: PairFound, habits: tuple[Habit, Habit], season: str, corner: Corner) -> None:
        tally = self.tally
        tally.states += found.states
        tally.cells += found.cells
        if not found.alarmed and found.rest_s < tally.rest_s:
            tally.rest_s = found.rest_s
            tally.where = {"first": habits[0].name, "second": habits[1].name, **corner.text}
            tally.where |= {"season": season} if season else {}

    def _sentence(self, first: Habit, second: Habit) -> str:
        names = [sentence_of(self.household.home, habit).split(":")[0] for habit in (first, second)]
        return (
            f"{names[0]} together with {names[1]}: however they overlap, they never sound a siren nor send an "
            "alarm message."
        )

    def _all_together(self, taken: int, left_out: int, bad: list[Proved]) -> Proved:
        verdicts = {each.verdict for each in bad}
        worst = {"pairs": str(taken)} | ({"left_out": str(left_out)} if left_out else {})
        breached = sum(each.verdict is ProofVerdict.BREACHED for each in bad)
        worst |= {"breached": str(breached)} if breached else {}
        if self.tally.rest_s < NEVER_S:
            worst |= {"margin_s": str(self.tally.rest_s), "margin_of": "entry delay"} | self.tally.where
        verdict = next(
            (v for v in (ProofVerdict.BREACHED, ProofVerdict.NOT_SETTLED) if v in verdicts), ProofVerdict.HOLDS
        )
        large = [each for each in bad if each.too_large]
        told = {each.why for each in large[:1]} | {each.why for each in bad if each.why and not each.too_large}
        why = "; ".join(sorted(told, key=lambda text: not text.startswith(TOO_LARGE)))
        return Proved("pairs", _ALL, verdict, worst, states=self.tally.states, why=why)


def _id(first: Habit, second: Habit) -> str:
    return f"pair/{first.id}/{second.id}"


def _open(proved: Proved | None) -> bool:
    """Whether a pair must be looked at further: it isn't breached so far."""
    return proved is None or proved.verdict is not ProofVerdict.BREACHED
