"""An intruder beside one person who comes home or leaves: is whoever slips in meanwhile noticed once it is set?

Rows are the unit's state and the place in the person's habit; the intruder's cells are the bits of a row, one more
bit being "still outside". Not covered: coming in while all is unset, or by the person's own door while it is open;
ways in that are open anyway; faults, other paces and clocks than the usual (the other runs have those).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from alarmlib.calc.cells.cell_map import CellMap
from alarmlib.control.inputs import Closes, SetArea
from alarmlib.control.layout import A
from alarmlib.control.setup import Setup
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Deed, Habit
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.habits.habit_begin import HabitBegin, begins_of
from alarmlib.proof.habits.habit_cases import PreparedHabits
from alarmlib.proof.habits.habit_moves import ALARMED, Moves
from alarmlib.proof.habits.habit_script import Script, ScriptLabel
from alarmlib.proof.intruder.intrusions import Intruders, JoinedRooms
from alarmlib.proof.intruder.ways import WayIn, guarded_rooms, noticed, set_state, sets_of
from alarmlib.proof.search.budget import ENTRY_BYTES, OverBudget, Spending
from alarmlib.proof.search.compiled import Transition
from alarmlib.proof.search.rows import Layer, Rows, Steps, bits, explore

_KEYED = frozenset({Deed.SET_FULL, Deed.SET_PART, Deed.UNSET, Deed.FOB_SET, Deed.FOB_UNSET})
Key = tuple[int, int]
"""The state's number, and the place of the person's script."""


@dataclass(frozen=True)
class IntruderStep:
    """One kind of second of the intruder: from which cells to which, and what it trips."""

    moves: Steps
    must: frozenset[str] = frozenset()
    may: frozenset[str] = frozenset()
    way: str = ""


@dataclass(frozen=True)
class Slip:
    """A breach: in which area and set, which room, by the layer and row in which it shows."""

    area: str
    part: str
    room: str
    tick: int
    key: Key
    cell: int


@dataclass
class Watched:
    """A habit watched: its search, and what it found first in each area and set."""

    habit: Habit
    season: str
    begin: HabitBegin
    search: "SecondMover"
    layers: list[Layer[Key]] = field(default_factory=list)
    slips: dict[tuple[str, str], Slip] = field(default_factory=dict)
    sets: set[tuple[str, str]] = field(default_factory=set)
    states: int = 0


class SecondMover:
    """The search for one habit, one season and one part of the home."""

    def __init__(
        self,
        home: Home,
        setup: Setup,
        script: Script,
        part: JoinedRooms,
        ways: tuple[WayIn, ...],
        spending: Spending | None = None,
    ) -> None:
        self.home, self.script, self.part, self.ways, self.whole_setup = home, script, part, ways, setup
        self.setup = setup.only(_zones(setup, script, part.cells, ways))
        self.spending = spending or Spending()
        self.moves = Moves(self.setup, FaultMasks(1), self.spending)
        self.unit = self.moves.unit
        self._deaf: dict[int, frozenset[str]] = {}
        self._fate: dict[int, bool] = {}
        self.outside = len(part.cells.cells)
        self.steps = tuple(self._steps(ways))
        self.staying_out = len(part.cells.labels)
        sets_at = (place for place, label in enumerate(script.labels) if _sets_it(label))
        self.last_setting = max(sets_at, default=-1)
        felt = (place for place, label in enumerate(script.labels) if label != ScriptLabel())
        self.quiet_from = max(felt, default=-1) + 1
        self.goals = {
            area: {room: part.cells.goals[room] for room in sorted(guarded_rooms(home, area) & part.rooms)}
            for area in part.areas
        }

    def _steps(self, ways: tuple[WayIn, ...]) -> Iterator[IntruderStep]:
        cells, out = self.part.cells, self.outside
        for label, moves in zip(cells.labels, cells.moves, strict=True):
            yield IntruderStep(Steps(moves), label.must, label.may)
        yield IntruderStep(Steps({out: 1 << out}))
        for way in ways:
            for number, reached in cells.starts.get(way.opening, ()):
                seen = cells.labels[number]
                yield IntruderStep(Steps({out: reached}), way.must | seen.must, way.may | seen.may, way.opening)

    def watch(self, watched: Watched) -> Watched:
        """Search until nothing is new, and note the first breach in each area and set.

        Reference: breadth-first search, textbook.
        """
        state = self._begin(watched.begin)
        rows = Rows[Key]()
        start = [((self.unit.number(state), 0), 1, 1 << self.outside)]
        for tick, layer in enumerate(explore(start, [step.moves for step in self.steps], self._go, rows)):
            watched.layers.append(layer)
            size = sum(2 * (ENTRY_BYTES + cells.bit_length() // 8) for cells in layer.values())
            self.moves.unit.keep(size, numbered=True)
            self.spending.met(sum(cells.bit_count() for cells in layer.values()))
            for (key, _), cells in layer.items():
                self._look(watched, tick, key, cells)
        watched.states = len(rows)
        return watched

    def _begin(self, begin: HabitBegin) -> tuple[int, ...]:
        return set_state(self.setup, dict(begin.sets))

    def _go(self, key: Key, _mask: int, number: int) -> list[tuple[Key, int]]:
        self.spending.look()
        return [(to, 1) for to in dict.fromkeys(to for to, _ in self.ways_on(key, number))]

    def ways_on(self, key: Key, number: int) -> Iterator[tuple[Key, Transition]]:
        """Where a row goes when the intruder takes a step of that kind; what sounds ends.

        Nobody is followed inside while all is unset, nor once what is open keeps it from being set. Once nobody sets it
        any more, what is noticed isn't followed either: it sounds or is unset.
        """
        k, place = key
        guarded = self._set(k)
        if place > self.last_setting and (not guarded or noticed(self.setup, self.unit.states[k])):
            return
        inside = number != self.staying_out
        if inside and not guarded:
            return
        for choice in self._choices(k, place, number):
            if not choice.signs & ALARMED and not (inside and self._held_up(choice.to)):
                yield (choice.to, self._next(place)), choice
                if place in self.script.waits:
                    yield (choice.to, place), choice

    def _next(self, place: int) -> int:
        """The place after one; all places from which on nothing of the person reaches the unit are the last."""
        return place + 1 if place + 1 < self.quiet_from else len(self.script.labels)

    def _choices(self, k: int, place: int, number: int) -> Iterator[Transition]:
        """Every way the second of both may go; the intruder leaves a door open or shuts it behind them.

        A person's events are tried in every order, which only adds ways.
        """
        here = self.script.labels[place] if place < len(self.script.labels) else ScriptLabel()
        step, known = self.steps[number], self.setup.layout.device_of
        told = tuple(event for row in here.told for event in row)
        felt = {getattr(event, "device", "") for event in told}
        must, may = frozenset(step.must & known.keys()) - felt, (here.seen_by | step.may) - felt
        if not (told or must or here.spoken):
            may = self._heard(k, may)
        yield from self.unit.choices(k, must, may, told)
        shut = tuple(Closes(device) for device in sorted(must) if known[device].lasting)
        if shut:
            yield from self.unit.choices(k, must, may, (*told, *shut))

    def _heard(self, k: int, may: frozenset[str]) -> frozenset[str]:
        """Of these devices those that anybody listens to in this second or the next."""
        if k not in self._deaf:
            passing = frozenset(d for d, at in self.setup.layout.device_of.items() if not at.lasting)
            self._deaf[k] = passing.difference(self.moves.felt(k, ScriptLabel(may=passing), ()))
        return may - self._deaf[k]

    def _set(self, k: int) -> bool:
        state = self.unit.states[k]
        return any(state[area.base + A.SET] for area in self.setup.layout.areas)

    def _held_up(self, k: int) -> bool:
        """Whether an exit time, left alone, now ends in an alarm or without being set: what is open holds it up."""
        if k not in self._fate:
            state = self.unit.states[k]
            if not any(state[area.base + A.EXIT] for area in self.setup.layout.areas):
                self._fate[k] = False
            else:
                to, signs = self.unit.after(k)
                self._fate[k] = bool(signs & ALARMED) or not self._set(to) or self._held_up(to)
        return self._fate[k]

    def _look(self, watched: Watched, tick: int, key: Key, cells: int) -> None:
        state = self.unit.states[key[0]]
        if noticed(self.setup, state):
            return
        for area in self.setup.layout.areas:
            set_at = state[area.base + A.SET]
            if not set_at or state[area.base + A.EXIT] or area.id not in self.goals:
                continue
            part = sets_of(self.setup, area.id)[set_at - 1]
            watched.sets.add((area.id, part))
            for room, goal in self.goals[area.id].items():
                if goal & cells:
                    cell = next(bits(goal & cells))
                    watched.slips.setdefault((area.id, part), Slip(area.id, part, room, tick, key, cell))


def _sets_it(label: ScriptLabel) -> bool:
    return any(isinstance(event, SetArea) for row in label.told for event in row)


def _zones(setup: Setup, script: Script, cells: CellMap, ways: tuple[WayIn, ...]) -> frozenset[str]:
    """The zones that either can trip or the person speaks of, and their partners."""
    felt = {device for label in cells.labels for device in label.must | label.may} | script.devices
    felt |= {device for way in ways for device in way.must | way.may}
    zones = {zone.id for zone in setup.zones if any(device.id in felt for device in zone.devices)}
    for event in (event for label in script.labels for row in label.told for event in row):
        zones |= {getattr(event, "zone", ""), getattr(event, "door", "")} - {""}
    partners = {partner for zone in setup.zones if zone.id in zones for partner in zone.partners}
    return frozenset(zones | partners)


def comes_or_goes(habit: Habit) -> bool:
    """Whether somebody sets or unsets and goes through a door in it.

    Our own reading of a habit.
    """
    deeds = {step.deed for step in habit.steps}
    return bool(deeds & _KEYED) and Deed.OPEN in deeds


def watched_habits(
    home: Home, household: PreparedHabits, intruders: Intruders, open_ways: Mapping[str, frozenset[str]]
) -> Iterator[Watched]:
    """Every habit of coming or going, in its own season or the ordinary one; `open_ways` are left out, by area.

    Habits that cannot be played have verdicts of their own that say so.
    By `Beside.watch`.
    """
    setups = {at.season: at.setup for at in intruders.setups if at.clock == 1}
    for habit in filter(comes_or_goes, home.household.habits):
        doors = {step.place for step in habit.steps if step.deed is Deed.OPEN}
        season = habit.season if habit.season in setups else ""
        try:
            script = household.script(habit, tail_s=0)
            begins = begins_of(setups[season], habit, (), FaultMasks(1), ())
        except OverBudget:
            raise
        except AlarmProblem:
            continue
        for part in intruders.parts:
            shut = frozenset().union(*(open_ways.get(area, frozenset()) for area in part.areas))
            ways = tuple(way for way in part.ways if way.opening not in doors | shut)
            for begin in (begin for begin in begins if _meets(part, script, begin)):
                search = SecondMover(home, setups[season], script, part, ways, household.spending)
                yield search.watch(Watched(habit, season, begin, search))


def _meets(part: JoinedRooms, script: Script, begin: HabitBegin) -> bool:
    """Whether the habit has to do with this part of the home: its person is there, or it speaks to its areas."""
    spoken = {getattr(event, "area", "") for label in script.labels for row in label.told for event in row}
    named = spoken | {area for area, _ in begin.sets}
    return any(rooms & part.rooms for rooms in script.rooms) or bool(named & set(part.areas))
