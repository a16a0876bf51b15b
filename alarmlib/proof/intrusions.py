"""Every way in, in every set, season and at both ends of the clock, under every fault at once: what holds of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil

from alarmlib.calc.cells import CellMap, cell_map, components
from alarmlib.calc.plan import plan_from_home
from alarmlib.calc.sights import Sight, sights_from_home
from alarmlib.control.habit_words import names_of
from alarmlib.control.layout import State
from alarmlib.model.home import Home
from alarmlib.proof.cases import Begin, Clocked, beginnings, set_name, setups_of
from alarmlib.proof.fault import FaultMasks
from alarmlib.proof.faults import Fault
from alarmlib.proof.intruder import UNHEARD, Intrusion, Reached, Run
from alarmlib.proof.rows import bits
from alarmlib.proof.verdicts import Told
from alarmlib.proof.ways import (
    CannotBeSet,
    WayIn,
    area_of_room,
    guarded_rooms,
    heard_first_rooms,
    sets_of,
    ways_in,
)

RULES = ("noticed_first", "sounds_in_time", "sounds_first")


@dataclass(frozen=True)
class Part:
    """Rooms joined inside the house, as cells, with the ways into them and the areas that guard them."""

    cells: CellMap
    ways: tuple[WayIn, ...]
    areas: tuple[str, ...]
    rooms: frozenset[str]


@dataclass(frozen=True)
class Found:
    """Where a rule was broken: in which case, by which way in, which room (or after how many seconds)."""

    at: Clocked
    intrusion: Intrusion
    run: Run
    begins: dict[State, Begin]
    reached: Reached | None = None
    seconds: int = 0
    k: int = 0

    @property
    def tick(self) -> int:
        """The second in which the rule is broken; what is never heard comes last."""
        if self.reached is not None:
            return self.reached.tick
        return 10**9 if self.seconds == UNHEARD else self.seconds


@dataclass
class Tally:
    """What is known of one rule in one set: the first breach without a fault, what each fault opens, the worst."""

    rule: str
    area: str
    part: str
    first: Found | None = None
    worst_s: int = 0
    worst_way: str = ""
    opened: dict[int, dict[tuple[str, str], int]] = field(default_factory=dict)
    plain: set[tuple[str, str]] = field(default_factory=set)
    states: int = 0
    ways: int = 0
    rooms: int = 0
    refused: str = ""

    @property
    def id(self) -> str:
        """The id of the property."""
        return f"{self.rule}/{self.area}/{set_name(self.part)}"

    def note(self, found: Found, mask: int, room: str) -> None:
        """A breach under these faults."""
        where = found.run.way.opening, room
        if mask & 1:
            self.plain.add(where)
            if self.first is None or found.tick < self.first.tick:
                self.first = found
        for fault in bits(mask & ~1):
            times = self.opened.setdefault(fault, {})
            times[where] = min(found.tick, times.get(where, found.tick))


class Intruders:
    """The whole of run (b) of a home; `sights` are where its motion detectors may and must see somebody."""

    def __init__(
        self, home: Home, faults: Sequence[Fault], sights: Sequence[Sight] | None = None, side_m: float = 0.5
    ) -> None:
        self.home, self.faults = home, faults
        self.masks = FaultMasks.of(faults)
        self.plan = plan_from_home(home)
        self.sights = tuple(sights_from_home(home) if sights is None else sights)
        self.names = names_of(home)
        self.sure = frozenset(sight.device for sight in self.sights if sight.sure)
        self.parts = tuple(self._parts(side_m))
        self.setups = setups_of(home, self.sure)
        self.within_s = self._within_s()
        self.tallies: dict[tuple[str, str, str], Tally] = {}

    def search(self, told: Told | None = None, only: frozenset[str] | None = None) -> tuple[Tally, ...]:
        """Every case; `only` names properties (by id) and leaves out sets of which none is asked.

        Raises TooLarge where too much may happen in one second.
        Reference: `alarmlib.proof.intruder`.
        """
        for number, part in enumerate(self.parts):
            for at in self.setups:
                intrusion = Intrusion(at.setup, part.cells, part.ways, self.masks)
                for area in part.areas:
                    for set_ in sets_of(at.setup, area):
                        if told is not None:
                            told(f"ways in, {area}: {set_name(set_)}", number, len(self.parts))
                        if only is None or any(f"{rule}/{area}/{set_name(set_)}" in only for rule in RULES):
                            self._search_set(part, at, intrusion, (area, set_))
        return tuple(self.tallies.values())

    def _parts(self, side_m: float) -> Iterator[Part]:
        ways = ways_in(self.home)
        for rooms in components(self.plan):
            coming = tuple(way for way in ways if way.room in rooms)
            if coming:
                cells = cell_map(self.home, self.sights, self.home.proof.intruder_m_s, side_m, rooms)
                areas = dict.fromkeys(area_of_room(self.home, r.id) for r in self.home.site.rooms if r.id in rooms)
                yield Part(cells, coming, tuple(areas), rooms)

    def _within_s(self) -> int:
        """The most seconds from being noticed to being heard: as asked, else the longest entry delay, clock fast."""
        asked = self.home.proof.sounds_within_s
        if asked is not None:
            return ceil(asked)
        setups = [at.setup for at in self.setups]
        zones = [zone.entry_s or 0 for setup in setups for zone in setup.zones]
        return max([*zones, *(area.entry_s for setup in setups for area in setup.areas)], default=0)

    def _tally(self, rule: str, area: str, part: str) -> Tally:
        return self.tallies.setdefault((rule, area, part), Tally(rule, area, part))

    def _search_set(self, part: Part, at: Clocked, intrusion: Intrusion, asked: tuple[str, str]) -> None:
        area, set_ = asked
        goals = {room: part.cells.goals[room] for room in guarded_rooms(self.home, area) & part.rooms}
        first = {room: part.cells.goals[room] for room in heard_first_rooms(self.home, area, set_) & part.rooms}
        tallies = {rule: self._tally(rule, area, set_) for rule in RULES if first or rule != "sounds_first"}
        for rule, tally in tallies.items():
            tally.ways, tally.rooms = len(part.ways), len(first if rule == "sounds_first" else goals)
        try:
            for states, begins in beginnings(intrusion.setup, self.masks, area, set_, frozenset(part.areas)):
                for way in part.ways:
                    run = intrusion.run(way, states, goals, first)
                    self._note(tallies, Found(at, intrusion, run, begins))
        except CannotBeSet as problem:
            for tally in tallies.values():
                tally.refused = str(problem)

    def _note(self, tallies: dict[str, Tally], found: Found) -> None:
        """Sort what a run found into the rules; runs that broke none are not kept."""
        at, intrusion, run, begins = found.at, found.intrusion, found.run, found.begins
        for tally in tallies.values():
            tally.states += run.states
        for reached in run.reached:
            where = Found(at, intrusion, run, begins, reached)
            tallies[reached.rule].note(where, reached.mask, reached.room)
        in_time = tallies["sounds_in_time"]
        for sounding in run.soundings:
            late = sounding.seconds == UNHEARD or sounding.seconds > self.within_s
            if late:
                here = Found(at, intrusion, run, begins, None, sounding.seconds, sounding.k)
                in_time.note(here, sounding.mask, "")
            if sounding.mask & 1 and (late or sounding.seconds > in_time.worst_s):
                in_time.worst_s, in_time.worst_way = sounding.seconds, run.way.opening
