"""What setting the alarm can leave behind: detectors still in their sleep time, from the home's own walks.

Before and while the alarm is set, anybody of the household may walk anywhere. With nobody left in, the last of them
is out by an entry/exit door, or in a room of another area, at the latest in the second of setting. So a detector
was tripped at the latest as many seconds before as the quickest of them needs from where it sees them last to there,
and not in those seconds of the exit time in which the unit would have sounded or given up. In a part set somebody may
have been before it until the end. Each detector is bounded for itself; that all sleep at once may be more than any one
departure leaves.

Nothing else that a search looks at is left: setting puts the counts of trips to 0 (but of zones that another set area
shares), and an open confirmation window only adds alarms.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import product
from math import floor

from alarmlib.calc.plan.floor_plan import Place
from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import ONE_IN_TWENTY, Walker, walker_of
from alarmlib.calc.zoning.passed import is_entry_exit_door
from alarmlib.control.habit_events import lookers
from alarmlib.control.habit_walks import HabitGround, Stroll
from alarmlib.control.inputs import SET_FULL, Closes, FinishExit, Input, Opens, Sees, SetArea, Way
from alarmlib.control.layout import A, State
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup, start_state
from alarmlib.model.home import Home
from alarmlib.model.questions import at_work
from alarmlib.model.words import DeviceKind
from alarmlib.proof.intruder.ways import area_of_room, noticed
from alarmlib.proof.search.budget import Spending

_FROM_OUTSIDE = frozenset({DeviceKind.FOB, DeviceKind.KEY_SWITCH})
_ADULT = Walker(level_speed(50))
Inputs = Mapping[int, tuple[Input, ...]]


class Departures:
    """The departures of one home; walks are looked for only where a detector of it has a sleep time.

    Each walk is told to `spending`, which ends it with OverBudget when its time is over.
    """

    def __init__(self, home: Home, spending: Spending | None = None) -> None:
        self.home, self.spending = home, spending or Spending()
        self._left: dict[tuple[Setup, str, str], dict[str, int]] = {}
        self._since: dict[str, int | None] = {}
        self._walks = 0

    def rests(self, setup: Setup, area: str, part: str) -> dict[str, int]:
        """By detector the most seconds that it may still sleep when the area has just been set so; 0 is left out.

        Walks by `alarmlib.calc.walking.walks`, the unit by `alarmlib.control.machine.step`.
        """
        asked = setup, area, part
        if asked not in self._left:
            self.spending.prepare(f"sleep times that setting leaves, {len(self._left):,} sets by now", 0, 1)
            at = setup.layout.area_of[area]
            set_at = at.set_of[part]
            found = {
                name: self._left_s(setup, (area, part), name)
                for name, device in setup.layout.device_of.items()
                if device.sleep_s and at.place in device.zone.areas and device.zone.listens[at.place][set_at]
            }
            self._left[asked] = {name: left_s for name, left_s in found.items() if left_s > 1}
        return self._left[asked]

    def rests_in(self, setup: Setup, sets: Mapping[str, str]) -> dict[str, int]:
        """The same of all areas that are set so, each of which may have been set last; of two bounds the longer.

        As `rests`.
        """
        found: dict[str, int] = {}
        for area, part in sets.items():
            for name, left_s in self.rests(setup, area, part).items():
                found[name] = max(left_s, found.get(name, 0))
        return found

    def since_s(self, device: str, part: str) -> int | None:
        """The least seconds from being seen last by a detector until one is out of its area; 0 in a part set.

        Out is who is out by an entry/exit door, or in a room of another area, which need not be set.

        None when no way from its room out is known.
        The quickest walk of anybody, one in twenty of theirs being as fast.
        """
        if part != SET_FULL:
            return 0
        if device not in self._since:
            rooms = self._seen_from.get(device, frozenset())
            seconds = [s for door in self._doors for s in self._seconds_after(rooms, door)]
            self._since[device] = min((*seconds, *self._seconds_into_other_areas(rooms)), default=None)
        return self._since[device]

    def _seconds_after(self, rooms: frozenset[str], end: Place) -> Iterator[int]:
        for room in sorted(rooms):
            for walker in self._walkers:
                stroll = self._stroll(room, end, walker)
                if not stroll.assumed:
                    last = max(second for second, there in enumerate(stroll.rooms) if there & rooms)
                    yield max(0, floor(stroll.seconds) - last - 1)

    def _seconds_into_other_areas(self, rooms: frozenset[str]) -> Iterator[int]:
        """Until somebody is first in a room of an area that is none of theirs."""
        own = {area_of_room(self.home, room) for room in rooms}
        elsewhere = frozenset(r.id for r in self.home.site.rooms if area_of_room(self.home, r.id) not in own)
        for room, other, walker in product(sorted(rooms), sorted(elsewhere), self._walkers):
            stroll = self._stroll(room, Place(other), walker)
            if not stroll.assumed:
                out = next(second for second, there in enumerate(stroll.rooms) if there & elsewhere)
                last = max(second for second, there in enumerate(stroll.rooms[: out + 1]) if there & rooms)
                yield max(0, out - last - 1)

    def _stroll(self, room: str, end: Place, walker: Walker) -> Stroll:
        self._walks += 1
        self.spending.prepare(f"walks out of the house, {self._walks:,} by now", 0, 1)
        return self._ground.stroll(Place(room), end, walker)

    def _left_s(self, setup: Setup, chosen: tuple[str, str], device: str) -> int:
        whole_s = setup.layout.device_of[device].sleep_s
        since_s = self.since_s(device, chosen[1])
        if since_s is None:
            return whole_s
        zone = setup.layout.device_of[device].zone
        if len(zone.areas) > 1:
            return max(0, whole_s - since_s)  # how its other area is set meanwhile isn't known
        return left_when_set(setup, chosen, device, since_s, self._set_from_outside)

    @cached_property
    def _set_from_outside(self) -> bool:
        return bool(at_work(self.home, *_FROM_OUTSIDE))

    @cached_property
    def _ground(self) -> HabitGround:
        self.spending.prepare("a map of all walks", 0, 1)
        return HabitGround(self.home)

    @cached_property
    def _walkers(self) -> tuple[Walker, ...]:
        usual = [walker_of(person) for person in self.home.household.people] or [_ADULT]
        return tuple(dict.fromkeys(walker.at_pace(ONE_IN_TWENTY) for walker in usual))

    @cached_property
    def _seen_from(self) -> dict[str, frozenset[str]]:
        return {device.id: rooms for device, rooms in lookers(self.home, {d.id for d in self.home.whole_devices})}

    @cached_property
    def _doors(self) -> tuple[Place, ...]:
        """Where the last of them go out: doors named so, and those whose zone is an entry/exit door."""
        finals = {zone.id for zone in self.home.control_unit.zones if is_entry_exit_door(zone, self.home.whole_devices)}
        by_zone = {o for device in self.home.whole_devices if device.zone in finals for o in device.openings}
        named = {opening.id for opening in self.home.site.openings if opening.entry_exit} | by_zone
        return tuple(self._ground.sides[name][0] for name in sorted(named) if name in self._ground.sides)


def left_when_set(setup: Setup, chosen: tuple[str, str], device: str, since_s: int, outside: bool) -> int:
    """The most seconds that a detector may still sleep in the second in which an area is set.

    It sees somebody for the last time at least `since_s` before that; `outside`: the alarm may be set from outside.
    Each second before is tried, the latest first, and every way in which the exit time may end.
    By `alarmlib.control.machine.step`.
    """
    zone = setup.layout.device_of[device].zone
    small = setup.only({zone.id, *zone.setup.partners, *(door.id for door in setup.layout.area_of[chosen[0]].doors)})
    whole_s = setup.layout.device_of[device].sleep_s
    found = [_left_by(small, chosen, device, since_s, way) for way in _ways_of_setting(small, chosen, outside)]
    known = [left_s for left_s in found if left_s is not None]
    return max(known) if known else whole_s


def _ways_of_setting(setup: Setup, chosen: tuple[str, str], outside: bool) -> Iterator[Inputs]:
    """At a keypad, by the door that is closed at once behind one, by the button outside, from outside."""
    area, facts = setup.layout.area_of[chosen[0]], setup.behaviour
    set_at = SetArea(area.id, chosen[1])
    yield {0: (set_at,)}
    doors = [name for name, device in setup.layout.device_of.items() if device.lasting and device.zone in area.doors]
    for door in doors[:1]:
        yield {0: (set_at,), 1: (Opens(door),), 2: (Closes(door),)}
    if facts.exit_ends_by_button:
        yield {0: (set_at,), 1: (FinishExit(area.id),)}
    if outside:
        yield {0: (SetArea(area.id, chosen[1], Way.FOB, outside=True),)}


def _left_by(setup: Setup, chosen: tuple[str, str], device: str, since_s: int, way: Inputs) -> int | None:
    """The most by one way of setting; None when it does not end in that set."""
    plain = _set_after(setup, chosen, start_state(setup), way, 0)
    if plain is None:
        return None
    set_s, states = plain
    whole_s, slot = setup.layout.device_of[device].sleep_s, setup.layout.device_of[device].slot
    for second in range(set_s - since_s, -1, -1):
        told = way.get(second, ())
        felt = {**way, second: (*told, Sees(device)) if second else (Sees(device), *told)}
        again = _set_after(setup, chosen, states[second], felt, second)
        if again is not None:
            return again[1][-1][slot]
    return max(0, whole_s - max(set_s + 1, since_s))


def _set_after(
    setup: Setup, chosen: tuple[str, str], state: State, way: Inputs, begin_s: int
) -> tuple[int, list[State]] | None:
    """The second in which it is set, and the states before each second and after the last; None if it isn't set."""
    area = setup.layout.area_of[chosen[0]]
    wanted, states = area.set_of[chosen[1]], [state]
    for second in range(begin_s, begin_s + 2 * max(area.exit_s) + len(way) + 2):
        state, _ = step(setup, state, way.get(second, ()))
        states.append(state)
        if noticed(setup, state):
            return None
        if second >= max(way) and not state[area.base + A.EXIT]:
            return (second, states) if state[area.base + A.SET] == wanted else None
    return None
