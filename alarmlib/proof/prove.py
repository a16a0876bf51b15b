"""Everything at once: what holds of a home, how the rest fails, and what each fault opens; made of pieces."""

from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial

from alarmlib.calc.cells.sights import Sight
from alarmlib.control.habit_words import names_of
from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model.home import Home
from alarmlib.model.words import UnitSystem
from alarmlib.proof.faults.fault import NONE, Fault
from alarmlib.proof.faults.fault_cases import How, faults_of
from alarmlib.proof.faults.fault_table import fault_rows
from alarmlib.proof.faults.seen_faults import to_an_intruder
from alarmlib.proof.habits.habit_assumed import HABITS_NOT_COVERED, habit_assumptions
from alarmlib.proof.habits.household import HabitProved, habits_proved
from alarmlib.proof.habits.pairs import pairs_proved
from alarmlib.proof.intruder.intrusions import Breach, Intruders, Tally
from alarmlib.proof.intruder.search import UNHEARD
from alarmlib.proof.intruder.second_mover_verdicts import NOT_COVERED as BESIDE_NOT_COVERED
from alarmlib.proof.intruder.second_mover_verdicts import second_mover_proved
from alarmlib.proof.pieces.content import digest
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.pieces.recorded import in_units
from alarmlib.proof.pieces.said import InWords, either
from alarmlib.proof.pieces.ways_found import ToldTally, WaysFound
from alarmlib.proof.report.assumptions import NOT_COVERED, NOT_READY, assumptions
from alarmlib.proof.report.counterexample import Teller
from alarmlib.proof.report.readiness import NotReady, unready
from alarmlib.proof.report.verdicts import Assumption, Basis, FaultRow, OnProgress, Proof, ProofVerdict, Proved
from alarmlib.proof.search.budget import Budget, OverBudget, Spending, budget_of, not_ready
from alarmlib.proof.unit.alone import NOT_COVERED as ALONE_NOT_COVERED
from alarmlib.proof.unit.alone import alone_proved
from alarmlib.proof.unit.announced import Announcement, announcements
from alarmlib.proof.unit.left_out import left_out_shown
from alarmlib.proof.unit.siren_time import siren_in_an_hour
from alarmlib.units import Kind, show

SIDE_M = 0.5
QUICK = ("ways", "habits", "unit", "left_out", "siren")
RUNS = (*QUICK, "pairs", "beside")
"""The runs, by the names that `runs` takes; what isn't in `QUICK` takes a minute or more."""


_MANY = tuple[Proved, ...]


@dataclass(frozen=True)
class Asked:
    """What to prove: which runs, which properties of the ways in (None: all), with which sights and squares.

    `budget`: what it may take at most (None: as the home says); `late` says, when asked, whether the time is over.
    """

    runs: Collection[str] = RUNS
    only: frozenset[str] | None = None
    sights: tuple[Sight, ...] | None = None
    side_m: float = SIDE_M
    budget: Budget | None = None
    late: Callable[[], bool] | None = None


def prove(
    home: Home,
    faults: How = "single",
    progress: OnProgress | None = None,
    asked: Asked | None = None,
    pieces: Pieces | None = None,
) -> Proof:
    """The proof of a home within its assumptions; `seconds` is left to whoever has a clock.

    Only those pieces are worked out that are not in `pieces`, which holds them afterwards; `basis` says how many.
    Raises NotReady with all that is missing, and TooLarge where too much may happen in one second.
    Reference: the modules of this package; SPIN, a plain search and random walks in metres agree in the tests.
    """
    missing = unready(home)
    if missing:
        raise NotReady(missing)
    pieces, in_words = Pieces() if pieces is None else pieces, InWords(home)
    pieces.begin()
    told = None if progress is None else lambda what, done, of: progress(in_words(what), done, of)
    asked = asked or Asked()
    spending = Spending(asked.budget or budget_of(home), told, asked.late)
    try:
        marked = _Runs(home, faults, spending, asked, pieces).proof()
    except AlarmProblem as problem:
        raise in_words.problem(problem) from None
    return replace(in_words.of(marked), basis=Basis(pieces.reads(), pieces.redone, pieces.asked, marked))


class _Runs:
    """The runs of a proof of one home, each made of pieces, with a mark in the place of each name."""

    def __init__(self, home: Home, faults: How, progress: Spending, asked: Asked, pieces: Pieces) -> None:
        self.home, self.progress, self.asked, self.pieces = home, progress, asked, pieces
        self.seen = pieces.home(home)
        self.faults = faults_of(self.seen, faults)
        self.searched = tuple(map(to_an_intruder, self.faults))

    def proof(self) -> Proof:
        """All that was asked for, put together."""
        runs, known = self.asked.runs, self.faults
        assumed, found = self._assumed(), self._ways() if "ways" in runs else WaysFound()
        habits = habits_proved(self.home, known, self.progress, self.pieces) if "habits" in runs else ()
        beside = self._beside(found) if "beside" in runs else ()
        others = tuple(self._others())
        properties = (*found.properties, *(habit.proved for habit in habits), *beside, *others)
        rows, untold = self._rows(found, habits, properties) if len(known) > 1 else ((), ())
        large = (_LARGE,) if any(each.too_large for each in properties) else ()
        return Proof(
            self.seen.name,
            (*assumed, *habit_assumptions(habits)),
            not_covered=(*_not_covered(runs), *large, *untold),
            states=sum(each.states for each in properties),
            seconds=0.0,
            properties=properties,
            faults=rows,
        )

    def _rows(
        self, found: WaysFound, habits: tuple[HabitProved, ...], properties: tuple[Proved, ...]
    ) -> tuple[tuple[FaultRow, ...], tuple[str, ...]]:
        """The table of faults, and why there is none where it was too large to be worked out."""
        tallies = tuple(told.tally() for told in found.tallies)
        try:
            announced = self._announced()
        except OverBudget as over:
            return (), (f"Single faults, and what each opens. {not_ready(over)}",)
        return fault_rows(self.faults, announced, tallies, habits, properties, names_of(self.seen)), ()

    def _intruders(self, home: Home, faults: Sequence[Fault]) -> Intruders:
        return Intruders(home, faults, self.asked.sights, self.asked.side_m, spending=self.progress)

    def _assumed(self) -> tuple[Assumption, ...]:
        """The assumptions, in either units."""

        def work(seen: Home) -> tuple[Assumption, ...]:
            intruders = self._intruders(seen, (NONE,))
            both = (assumptions(in_units(seen, units), intruders) for units in UnitSystem)
            return tuple(
                replace(one, sentence=either(one.sentence, other.sentence)) for one, other in zip(*both, strict=True)
            )

        asked = self.asked.sights, self.asked.side_m
        with self.progress.given_back():
            return self.pieces.of_home("assumptions", self.home, asked, tuple[Assumption, ...], work, _listed)

    def _ways(self) -> WaysFound:
        stopped: list[str] = []

        def work(seen: Home) -> WaysFound:
            intruders = self._intruders(seen, self.searched)
            tallies = intruders.search(self.progress, self.asked.only)
            stopped.extend(tally.id for tally in tallies if tally.stopped)
            return WaysFound(tuple(_of_ways(seen, intruders, tallies, self.asked)), tuple(map(ToldTally.of, tallies)))

        asked = digest(self.searched), self.asked.only, self.asked.sights, self.asked.side_m
        with self.progress.given_back():
            return self.pieces.of_home(
                "ways in", self.home, asked, WaysFound, work, lambda found: not stopped and _whole(found.properties)
            )

    def _beside(self, found: WaysFound) -> tuple[Proved, ...]:
        def work(seen: Home) -> tuple[Proved, ...]:
            tallies = tuple(told.tally() for told in found.tallies)
            return tuple(second_mover_proved(seen, self._intruders(seen, (NONE,)), tallies, self.progress))

        open_ways = tuple((told.rule, told.area, told.plain) for told in found.tallies)
        asked = open_ways, self.asked.sights, self.asked.side_m
        with self.progress.given_back():
            return self.pieces.of_home("beside", self.home, asked, _MANY, work, _whole)

    def _others(self) -> Iterator[Proved]:
        runs, pieces, home = self.asked.runs, self.pieces, self.home
        if "pairs" in runs:
            yield from pieces.of_home("pairs", home, (), _MANY, lambda seen: pairs_proved(seen, self.progress), _whole)
        if "unit" in runs:
            yield from alone_proved(self.seen, self.progress, pieces=pieces)
        if "left_out" in runs:
            left_out = partial(left_out_shown, progress=self.progress)
            yield from pieces.of_home("left out", home, (), _MANY, left_out, _whole)
        if "siren" in runs:
            siren = partial(siren_in_an_hour, progress=self.progress)
            yield pieces.of_home("siren", home, (), Proved, siren, lambda found: not found.too_large)

    def _announced(self) -> tuple[Announcement, ...]:
        """Of each fault whether it is announced. Raises OverBudget."""

        def work(seen: Home) -> tuple[Announcement, ...]:
            return announcements(seen, self.faults[1:], self.progress)

        asked = digest(tuple(map(_unsaid, self.faults[1:])))
        return self.pieces.of_home("announced", self.home, asked, tuple[Announcement, ...], work)


def _whole(found: tuple[Proved, ...]) -> bool:
    """Whether a run came to its end, so that what it found may be kept."""
    return not any(each.too_large for each in found)


def _listed(assumed: tuple[Assumption, ...]) -> bool:
    """Whether all assumptions could be worked out, so that the list may be kept."""
    return all(each.id != NOT_READY for each in assumed)


def _unsaid(fault: Fault) -> Fault:
    """A fault without its sentence, on which no sum rests."""
    return replace(fault, sentence="", parts=tuple(map(_unsaid, fault.parts)))


def _not_covered(runs: Collection[str]) -> tuple[str, ...]:
    """What no run covers, and which runs were not asked for."""
    habits = HABITS_NOT_COVERED if "habits" in runs else ()
    beside = BESIDE_NOT_COVERED if "beside" in runs else ()
    unit = ALONE_NOT_COVERED if "unit" in runs else ()
    return (*NOT_COVERED, *habits, *beside, *unit, *(text for name, text in _NOT_RUN.items() if name not in runs))


_LARGE = "What one fault opens of a property that is too large to be searched whole."
_NOT_RUN = {
    "ways": "Ways in were not proved this time.",
    "habits": "Habits were not proved this time.",
    "pairs": "Two people on habits at once were not proved this time.",
    "beside": "An intruder beside a person who comes or goes was not proved this time.",
    "unit": "The unit alone was not proved this time.",
    "left_out": "What is shown when you set the alarm was not proved this time.",
    "siren": "The siren's time in an hour was not proved this time.",
}


def _of_ways(home: Home, intruders: Intruders, tallies: Sequence[Tally], asked: Asked) -> Iterator[Proved]:
    teller: Teller | None = None
    for tally in tallies:
        if asked.only is not None and tally.id not in asked.only:
            continue
        if tally.refused:
            yield Proved(tally.id, _sentence(intruders, tally), ProofVerdict.NOT_SETTLED, why=tally.refused)
        elif (first := tally.first or tally.just_set) is None:
            yield Proved(
                tally.id, _sentence(intruders, tally), ProofVerdict.HOLDS, _worst(intruders, tally), (), tally.states
            )
        else:
            teller = teller or Teller(home, intruders.plan, intruders.sights, intruders.within_s)
            yield _breached(home, intruders, teller, (tally, first), asked)


def _breached(home: Home, intruders: Intruders, teller: Teller, case: tuple[Tally, Breach], asked: Asked) -> Proved:
    """A breach with its counterexample; if that fails, one is searched for with squares of half the side."""
    tally, first = case
    counterexample = teller.tell(first)
    if counterexample.verdict is ProofVerdict.NOT_SETTLED and asked.side_m >= SIDE_M:
        finer = Asked(("ways",), frozenset({tally.id}), intruders.sights, asked.side_m / 2)
        with suppress(FieldProblem):  # a home too large for squares that small: it stays not settled
            again = Intruders(home, faults_of(home, "none"), intruders.sights, finer.side_m, exact_rests=True)
            return next(iter(_of_ways(home, again, again.search(intruders.spending, finer.only), finer)))
    worst = _worst(intruders, tally) | _where(intruders, first)
    why = counterexample.why or _only_just_set(home, intruders, first)
    return Proved(
        tally.id,
        _sentence(intruders, tally),
        verdict=counterexample.verdict,
        worst=worst,
        counterexample=counterexample.beats,
        states=tally.states,
        why=why,
    )


def _only_just_set(home: Home, intruders: Intruders, found: Breach) -> str:
    """How long the hole is there when it is there only while detectors sleep."""
    if not found.rests:
        return ""
    names = ", ".join(f"“{intruders.names.get(device, device)}”" for device in sorted(found.rests))
    most = show(max(found.rests.values()), Kind.TIME, home.units)
    return f"It fails only for up to {most} after the alarm is set, while {names} may be in sleep time. Later it holds."


def _where(intruders: Intruders, found: Breach) -> dict[str, str]:
    where = {"way_in": intruders.names.get(found.run.way.opening, found.run.way.opening)}
    if found.reached is not None:
        room = found.reached.room
        where |= {"room": intruders.names.get(room, room), "after_s": str(found.reached.tick)}
    where |= {"season": intruders.names.get(found.at.season, found.at.season)} if found.at.season else {}
    return where | ({"clock": f"{found.at.clock:g}"} if found.at.clock != 1 else {})


def _worst(intruders: Intruders, tally: Tally) -> dict[str, str]:
    worst = {"ways_in": str(len(tally.ways)), "rooms": str(len(tally.rooms))}
    if tally.plain:
        worst["open_ways"] = ", ".join(dict.fromkeys(intruders.names.get(way, way) for way, _ in sorted(tally.plain)))
    more = {where: most_s for where, most_s in tally.asleep.items() if where not in tally.plain}
    if more:
        ways = dict.fromkeys(intruders.names.get(way, way) for way, _ in sorted(more))
        worst |= {"open_just_after_setting": ", ".join(ways), "for_up_to_s": str(max(more.values()))}
    if tally.rule == "sounds_in_time" and tally.worst_way:
        seconds = "never" if tally.worst_s == UNHEARD else f"{tally.worst_s}"
        worst |= {"seconds": seconds, "slowest": intruders.names.get(tally.worst_way, tally.worst_way)}
    return worst


def _sentence(intruders: Intruders, tally: Tally) -> str:
    area = intruders.names.get(tally.area, tally.area)
    set_ = f"{area}, {intruders.names.get(tally.part, tally.part) if tally.part else 'set (nobody in)'}"
    ways, rooms = len(tally.ways), len(tally.rooms)
    if tally.rule == "noticed_first":
        return (
            f"{set_}: whoever comes in by a way in (tried: {ways}) is noticed before they reach the middle of a "
            f"guarded room (tried: {rooms})."
        )
    if tally.rule == "sounds_first":
        return (
            f"{set_}: the siren or a message comes before anybody reaches the middle of a room that needs this "
            f"(tried: {rooms})."
        )
    return f"{set_}: the siren or a message comes at most {intruders.within_s} s after somebody is noticed."
