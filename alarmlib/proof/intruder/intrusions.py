"""Every way in, in every set, season and at both ends of the clock, under every fault at once: what holds of it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import product
from math import ceil

from alarmlib.calc.cells.cell_map import CellMap, cell_map, components
from alarmlib.calc.cells.sights import Sight, sights_from_home
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.control.habit_words import names_of
from alarmlib.control.layout import State
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.faults.fault_cases import Fault
from alarmlib.proof.intruder.cases import (
    Clocked,
    IntruderBegin,
    beginnings,
    faults_beginning,
    just_set,
    set_name,
    setups_of,
)
from alarmlib.proof.intruder.search import UNHEARD, IntruderRun, Intrusion, Reached, SearchStopped, any_of
from alarmlib.proof.intruder.ways import (
    CannotBeSet,
    WayIn,
    area_of_room,
    guarded_rooms,
    heard_first_rooms,
    sets_of,
    ways_in,
)
from alarmlib.proof.report.verdicts import OnProgress
from alarmlib.proof.search import loose
from alarmlib.proof.search.apart import sets_beside
from alarmlib.proof.search.budget import OverBudget, RanOut, Spending, gone_through, not_ready, spending_of
from alarmlib.proof.search.departures import Departures
from alarmlib.proof.search.rows import Steps, bits

_Rooms = tuple[dict[str, int], dict[str, int]]
_Known = tuple[list["Tally"], dict[str, int], dict[str, int], frozenset[str]]
RULES = ("noticed_first", "sounds_in_time", "sounds_first")


@dataclass(frozen=True)
class JoinedRooms:
    """Rooms joined inside the house, as cells, with the ways into them and the areas that guard them."""

    cells: CellMap
    ways: tuple[WayIn, ...]
    areas: tuple[str, ...]
    rooms: frozenset[str]

    @cached_property
    def steps(self) -> list[Steps]:
        """The moves of each label, ready to be advanced."""
        return [Steps(moves) for moves in self.cells.moves]


@dataclass(frozen=True)
class _Joined:
    """Rooms joined inside the house, with the ways into them and the areas that guard them."""

    ways: tuple[WayIn, ...]
    areas: tuple[str, ...]
    rooms: frozenset[str]


@dataclass(frozen=True)
class Breach:
    """Where a rule was broken: in which case, by which way in, which room (or after how many seconds).

    `rests`: by detector how many seconds it may still sleep when the alarm has just been set; empty long after.
    """

    at: Clocked
    intrusion: Intrusion
    run: IntruderRun
    begins: dict[State, IntruderBegin]
    reached: Reached | None = None
    seconds: int = 0
    k: int = 0
    rests: Mapping[str, int] = field(default_factory=dict)

    @property
    def tick(self) -> int:
        """The second in which the rule is broken; what is never heard comes last."""
        if self.reached is not None:
            return self.reached.tick
        return 10**9 if self.seconds == UNHEARD else self.seconds


@dataclass
class Tally:
    """What is known of one rule in one set: the first breach without a fault, what each fault opens, the worst.

    `just_set`: the first breach that is there only while detectors may sleep that setting the alarm has tripped, and
    `asleep` where those are; `plain` where the others are.
    """

    rule: str
    area: str
    part: str
    first: Breach | None = None
    worst_s: int = 0
    worst_way: str = ""
    opened: dict[int, dict[tuple[str, str], int]] = field(default_factory=dict)
    plain: set[tuple[str, str]] = field(default_factory=set)
    just_set: Breach | None = None
    asleep: dict[tuple[str, str], int] = field(default_factory=dict)
    states: int = 0
    ways: frozenset[str] = frozenset()
    rooms: frozenset[str] = frozenset()
    refused: str = ""
    cases: int = 0
    stopped: list[tuple[Clocked, OverBudget]] = field(default_factory=list)

    @property
    def id(self) -> str:
        """The id of the property."""
        return f"{self.rule}/{self.area}/{set_name(self.part)}"

    def note(self, found: Breach, mask: int, room: str) -> None:
        """A breach under these faults."""
        where = found.run.way.opening, room
        if found.rests:
            self._note_just_set(found, where)
            return
        if mask & 1:
            self.plain.add(where)
            if self.first is None or found.tick < self.first.tick:
                self.first = found
        for fault in bits(mask & ~1):
            times = self.opened.setdefault(fault, {})
            times[where] = min(found.tick, times.get(where, found.tick))

    def _note_just_set(self, found: Breach, where: tuple[str, str]) -> None:
        if where in self.plain:
            return
        self.asleep[where] = max(self.asleep.get(where, 0), *found.rests.values())
        if self.just_set is None or found.tick < self.just_set.tick:
            self.just_set = found


class SearchTables:
    """A part of the home in a season at a clock: its tables, begun when first asked for and again after `drop`."""

    def __init__(self, part: JoinedRooms, at: Clocked, masks: FaultMasks, spending: Spending) -> None:
        self.part, self.at, self.masks, self._spending = part, at, masks, spending
        self._intrusion: Intrusion | None = None

    @property
    def used(self) -> bool:
        """Whether anything was worked out since they were begun."""
        return self._intrusion is not None

    def intrusion(self) -> Intrusion:
        """The tables."""
        if self._intrusion is None:
            part = self.part
            self._intrusion = Intrusion(self.at.setup, part.cells, part.ways, self.masks, part.steps, self._spending)
        return self._intrusion

    def drop(self, breaches: Sequence[Breach]) -> None:
        """Begin again with none; those of a breach that may be told are kept for it."""
        if self._intrusion is not None:
            self._intrusion.drop(told=any(breach.intrusion is self._intrusion for breach in breaches))
        self._intrusion = None


def _why_stopped(tally: Tally, names: Mapping[str, str]) -> str:
    """What was gone through of a set that ended at a limit, and what was not."""
    at, over = tally.stopped[0]
    open_ = len({id(case) for case, _ in tally.stopped})
    done = f"{tally.cases - open_} of {tally.cases} cases (part of the home, season and clock)"
    off = round(100 * abs(at.clock - 1))
    clock = f"{off} % {'shorter' if at.clock < 1 else 'longer'} times" if off else "the times as entered"
    season = f"the season “{names.get(at.season, at.season)}” and " if at.season else ""
    return gone_through(over, done, f"the other {open_}, the first of them with {season}{clock}")


class Intruders:
    """The whole of run (b) of a home; `sights` are where its motion detectors may and must see somebody.

    `exact_rests`: sleep times left by setting are counted down however long they are (`loose`).
    """

    def __init__(
        self,
        home: Home,
        faults: Sequence[Fault],
        sights: Sequence[Sight] | None = None,
        side_m: float = 0.5,
        exact_rests: bool = False,
        spending: Spending | None = None,
    ) -> None:
        self.home, self.faults = home, faults
        self.masks = FaultMasks.of(faults)
        self.plan = plan_from_home(home)
        self.names = names_of(home)
        self.side_m = side_m
        self.timed = setups_of(home, frozenset())
        self.within_s = self._within_s()
        self.spending = spending or Spending()
        self.departures = Departures(home, self.spending)
        self.exact_rests = exact_rests
        self.tallies: dict[tuple[str, str, str], Tally] = {}
        self._sights = sights
        self._told = 0  # bytes of the runs of `_breaches`

    def search(self, progress: OnProgress | None = None, only: frozenset[str] | None = None) -> tuple[Tally, ...]:
        """Every case; `only` names properties (by id) and leaves out sets of which none is asked.

        Faults are searched with the clock right, no fault at both ends of its tolerance too. What ends at a limit of
        `progress`, where that is a Spending, is refused in its tallies unless it is breached. Raises TooLarge where too
        much may happen in one second.
        By `alarmlib.proof.intruder.search`.
        """
        self.spending = self.departures.spending = spending_of(progress)
        try:
            parts = self.parts
        except OverBudget as over:
            return self._all_refused(not_ready(over), only)
        for part in parts:
            for number, at in enumerate(self.setups):
                case = SearchTables(part, at, self.masks if at.clock == 1 else _no_fault(self.masks), self.spending)
                for area in part.areas:
                    self.spending(f"ways in, {self.names.get(area, area)}", number, len(self.setups))
                    self._search_area(case, area, only)
                case.drop(self._breaches())
        for tally in self.tallies.values():
            if tally.stopped and tally.first is None and tally.just_set is None:
                tally.refused = tally.refused or _why_stopped(tally, self.names)
        return tuple(self.tallies.values())

    def _search_area(self, case: "SearchTables", area: str, only: frozenset[str] | None) -> None:
        sets = _sets_asked(case.at.setup, area, only)
        for set_ in sets:
            self._open_tallies(case.part, area, set_)
        for set_ in sets:
            self._search_within_limits(case, area, set_)
        if sets and case.masks.all != 1:
            self._search_within_limits(case, area, None)

    def _search_within_limits(self, case: "SearchTables", area: str, set_: str | None) -> None:
        """A set searched; again with empty tables when those of others had filled the memory; then not settled."""
        mine = [tally for tally in self.tallies.values() if tally.area == area]
        states = [tally.states for tally in mine]
        for again in (case.used, False):
            try:
                self._search_set(case.part, case.at, case.intrusion(), (area, set_))
            except OverBudget as over:
                case.drop(self._breaches())
                if not again or over.ran_out is not RanOut.MEMORY:
                    for tally in mine:
                        if set_ is None or tally.part == set_:
                            tally.stopped.append((case.at, over))
                    return
                for tally, count in zip(mine, states, strict=True):
                    tally.states = count
            else:
                return

    def _breaches(self) -> list[Breach]:
        """Those of which a counterexample may be told."""
        found = (breach for tally in self.tallies.values() for breach in (tally.first, tally.just_set))
        return [breach for breach in found if breach is not None]

    def _all_refused(self, why: str, only: frozenset[str] | None) -> tuple[Tally, ...]:
        """Each rule of each set, with the reason for which none was searched."""
        for joined in self._joined():
            for at, area in product(self.timed, joined.areas):
                for set_ in _sets_asked(at.setup, area, only):
                    self._open_tallies(joined, area, set_)
        for tally in self.tallies.values():
            tally.refused = why
        return tuple(self.tallies.values())

    def _open_tallies(self, part: "_Joined | JoinedRooms", area: str, set_: str) -> None:
        """The rules of a set, with the rooms they are about; rooms of several parts of the home add up."""
        guarded = guarded_rooms(self.home, area) & part.rooms
        first = heard_first_rooms(self.home, area, set_) & part.rooms
        for rule, rooms in zip(RULES, (guarded, guarded, first), strict=True):
            if rooms:
                tally = self.tallies.setdefault((rule, area, set_), Tally(rule, area, set_))
                tally.rooms |= rooms
                tally.ways |= {way.opening for way in part.ways}
                tally.cases += 1

    @cached_property
    def sights(self) -> tuple[Sight, ...]:
        """Where its motion detectors may and must see somebody. Raises OverBudget."""
        return tuple(sights_from_home(self.home, self.spending.telling) if self._sights is None else self._sights)

    @cached_property
    def sure(self) -> frozenset[str]:
        """The detectors that surely see somebody somewhere. Raises OverBudget."""
        return frozenset(sight.device for sight in self.sights if sight.sure)

    @cached_property
    def setups(self) -> tuple[Clocked, ...]:
        """Every setup that is searched. Raises OverBudget."""
        return setups_of(self.home, self.sure)

    @cached_property
    def parts(self) -> tuple[JoinedRooms, ...]:
        """The parts of the home that are joined inside, each as cells. Raises OverBudget."""
        before = self.spending.kept
        try:
            return tuple(self._parts())
        except OverBudget:
            self.spending.drop(self.spending.kept - before)
            raise

    def _parts(self) -> Iterator[JoinedRooms]:
        speed_m_s = self.home.proof.intruder_m_s
        for joined in self._joined():
            cells = cell_map(
                self.home, self.sights, speed_m_s, self.side_m, joined.rooms, telling=self.spending.telling
            )
            yield JoinedRooms(cells, joined.ways, joined.areas, joined.rooms)

    def _joined(self) -> Iterator["_Joined"]:
        """The parts of the home into which ways lead, before they are cells."""
        ways = ways_in(self.home)
        for rooms in components(self.plan):
            coming = tuple(way for way in ways if way.room in rooms)
            if coming:
                areas = dict.fromkeys(area_of_room(self.home, r.id) for r in self.home.site.rooms if r.id in rooms)
                yield _Joined(coming, tuple(areas), rooms)

    def _within_s(self) -> int:
        """The most seconds from being noticed to being heard: as asked, else the longest entry delay, clock fast."""
        asked = self.home.proof.sounds_within_s
        if asked is not None:
            return ceil(asked)
        setups = [at.setup for at in self.timed]
        zones = [zone.entry_s or 0 for setup in setups for zone in setup.zones]
        return max([*zones, *(area.entry_s for setup in setups for area in setup.areas)], default=0)

    def _search_set(self, part: JoinedRooms, at: Clocked, intrusion: Intrusion, asked: tuple[str, str | None]) -> None:
        """All ways in while the area is in this set; None: unset."""
        area, set_ = asked
        masks = faults_beginning(intrusion.masks, area, set_)
        if not masks.all:
            return
        tallies = [tally for tally in self.tallies.values() if tally.area == area]
        goals, first = (
            {room: part.cells.goals[room] for t in tallies if t.rule == rule for room in sorted(t.rooms & part.rooms)}
            for rule in ("noticed_first", "sounds_first")
        )
        sets = {} if set_ is None else {area: set_}
        areas = frozenset(part.areas).union(*(zone.areas for zone in intrusion.setup.zones))
        try:
            for states, begins in beginnings(intrusion.setup, masks, sets, area, areas):
                for run in self._runs(part, intrusion, states, (goals, first)):
                    self._note(Breach(at, intrusion, run, begins), tallies, set_)
            if set_ is not None:
                self._search_just_set(part, at, intrusion, (area, set_), (tallies, goals, first, areas))
        except CannotBeSet as problem:
            for tally in tallies:
                tally.refused = str(problem) if tally.part == set_ else tally.refused

    def _search_just_set(
        self, part: JoinedRooms, at: Clocked, intrusion: Intrusion, asked: tuple[str, str], known: _Known
    ) -> None:
        """All ways in, without a fault, in the second in which the area was set, while detectors may sleep.

        Its own and those of the other areas that are set, which may have been set in that second too.
        """
        area, set_ = asked
        tallies, goals, first, areas = known
        seen = {device for label in part.cells.labels for device in label.must}
        for others in sets_beside(intrusion.setup, area, areas):
            sets = {**others, area: set_}
            rests = {name: s for name, s in self.departures.rests_in(at.setup, sets).items() if name in seen}
            numbers = {name: loose.loose(most_s, self.exact_rests) for name, most_s in rests.items()}
            for states, begins in just_set(intrusion.setup, sets, numbers):
                for run in self._runs(part, intrusion, states, (goals, first)):
                    self._note(Breach(at, intrusion, run, begins, rests=rests), tallies, set_)

    def _runs(
        self, part: JoinedRooms, intrusion: Intrusion, begin: dict[State, int], rooms: _Rooms
    ) -> Iterator[IntruderRun]:
        """The search by each way in; one that ends at a limit too, with what it found, before the limit is told."""
        for way in part.ways:
            stopped = None
            try:
                run = intrusion.run(way, begin, *rooms)
            except SearchStopped as found:
                run, stopped = found.run, found
            yield run
            told = sum(each.kept for each in {id(breach.run): breach.run for breach in self._breaches()}.values())
            self.spending.drop(run.kept + self._told - told)
            self._told = told
            if stopped is not None:
                raise stopped

    def _note(self, found: Breach, tallies: list[Tally], set_: str | None) -> None:
        """Sort what a run found into the rules it breaks; what a fault begins in another set counts for that one."""
        astray = self._astray(found.intrusion.masks, tallies[0].area)
        for tally in tallies:
            here = tally.part == set_
            under = ~astray if here else astray
            if here:
                tally.states += found.run.states
            for reached in found.run.reached:
                if reached.rule == tally.rule and reached.room in tally.rooms and reached.mask & under:
                    tally.note(replace(found, reached=reached), reached.mask & under, reached.room)
            if tally.rule == "sounds_in_time":
                self._note_soundings(tally, found, under)

    def _note_soundings(self, tally: Tally, found: Breach, under: int) -> None:
        for sounding in found.run.soundings:
            never = sounding.seconds == UNHEARD
            if (never or sounding.seconds > self.within_s) and sounding.mask & under:
                here = replace(found, seconds=sounding.seconds, k=sounding.k)
                tally.note(here, sounding.mask & under, "")
            if sounding.mask & under & 1 and tally.worst_s != UNHEARD and (never or sounding.seconds > tally.worst_s):
                tally.worst_s, tally.worst_way = sounding.seconds, found.run.way.opening

    def _astray(self, masks: FaultMasks, area: str) -> int:
        """The faults under which the area is in another set than was meant, or in none."""
        wrong = [mask for name, mask in masks.wrong_set_of.items() if name.partition("/")[0] == area]
        return any_of([*wrong, masks.not_set_of.get(area, 0), masks.unit_dead])


def _sets_asked(setup: Setup, area: str, only: frozenset[str] | None) -> list[str]:
    """The sets of an area of which any property is asked."""
    sets = sets_of(setup, area)
    return [each for each in sets if only is None or any(f"{rule}/{area}/{set_name(each)}" in only for rule in RULES)]


def _no_fault(masks: FaultMasks) -> FaultMasks:
    """The first alone, which is no fault."""
    return FaultMasks(1, masks.no_siren & 1, masks.no_message & 1)
