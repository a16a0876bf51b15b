"""A habit as what reaches the control unit, second by second: who does what where, and which devices see it.

Movement is seen by a motion detector of the room or of a room joined to it by an open doorway, in every second
that somebody is there (`moving=True`) or never (`moving=False`): where a detector truly looks isn't computed here,
so both are run. Detectors are taken not to see through stairs or closed doors. A deed is done where the person
is: walks are steps of their own. Openings that are open for air at the beginning are not taken as open.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from math import ceil

from alarmlib.calc.plan.floor_plan import Place
from alarmlib.calc.walking.gait import keying_s
from alarmlib.calc.walking.walkers import walker_of
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.inputs import (
    SET_FULL,
    Closes,
    HoldUpPressed,
    Inhibit,
    Input,
    LetOut,
    Opens,
    Reset,
    Sees,
    SetArea,
    Silence,
    UnsetArea,
    Way,
    WrongCode,
)
from alarmlib.control.setup import Setup
from alarmlib.errors import AlarmProblem
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Deed, Habit, HabitStep, Person, Pet
from alarmlib.model.questions import by_id
from alarmlib.model.site import DOORS, PassageKind
from alarmlib.model.words import DeviceKind

OPENING_S = 3.0  # seconds at a door where nobody stopped them: assumed, as unlocking (`walkers.UNLOCK_S`) at its least
PASSING_S = 2  # how long a door with a contact stays open when somebody walks through: assumed
ON_FLOOR_M = 0.1  # a pet that gets no higher counts as on the floor
KEYED = {
    Deed.SET_FULL,
    Deed.SET_PART,
    Deed.UNSET,
    Deed.LET_OUT,
    Deed.WRONG_CODE,
    Deed.INHIBIT,
    Deed.SILENCE,
    Deed.RESET,
}
_NOTHING_TOLD_AFTER = {Deed.OPEN, Deed.WAIT, Deed.DISTURB}
_STAYS_AT_DOOR = {Deed.WAIT, Deed.CLOSE}
_UNSETS = {Deed.UNSET, Deed.FOB_UNSET}
_OUTDOORS = {Deed.OPEN, Deed.FOB_SET, Deed.FOB_UNSET, Deed.DISTURB}


@dataclass(frozen=True)
class Done:
    """A step of the habit as it is begun: when, by whom, what, the room or door it is done at, where they stand."""

    at_s: int
    who: str
    deed: Deed
    place: str
    where: Place | None = None


@dataclass(frozen=True)
class Timeline:
    """All that happens: inputs by second, steps as begun, the whole length in s, and what was assumed.

    `told`: the inputs without what motion detectors see of somebody who walks or stays; `rooms`: where the person
    may be in each second that they are indoors; `pets`: the pets that a detector may see all the time, by its id;
    `in_vain`: the roles of those who would unset the alarm and cannot.
    """

    inputs: dict[int, tuple[Input, ...]]
    done: tuple[Done, ...]
    seconds: int
    assumed: tuple[str, ...] = ()
    rooms: dict[int, frozenset[str]] = field(default_factory=dict)
    told: dict[int, tuple[Input, ...]] = field(default_factory=dict)
    pets: dict[str, tuple[str, ...]] = field(default_factory=dict)
    in_vain: tuple[str, ...] = ()


def timeline(
    home: Home, habit: Habit, setup: Setup, ground: HabitGround, moving: bool, tail_s: int, pace: float = 0.0
) -> Timeline:
    """The habit from its first step on; after its last step who is indoors stays there for `tail_s` more.

    `pace`: standard deviations above the person's mean speed; walks of typed seconds change in the same ratio.
    Raises AlarmProblem when a step names nothing that it could be done at.
    Our own reading of a habit; walks by `alarmlib.calc.walking.walks`.
    """
    doer = _Doer(home, habit, setup, ground, moving, pace)
    for number, step in enumerate(habit.steps):
        doer.do(number, step)
    doer.stay(tail_s)
    doer.pets()
    inputs, told = (
        {second: tuple(dict.fromkeys(happened)) for second, happened in found.items()}
        for found in (doer.inputs, doer.told)
    )
    assumed, pets = tuple(dict.fromkeys(doer.assumed)), {device: tuple(kinds) for device, kinds in doer.by_pet.items()}
    in_vain = (doer.person.role,) if doer.in_vain else ()
    return Timeline(
        inputs,
        tuple(doer.done),
        seconds=ceil(doer.at_s),
        assumed=assumed,
        rooms=doer.rooms,
        told=told,
        pets=pets,
        in_vain=in_vain,
    )


class _Doer:
    """The one who does the habit: where, since when, indoors or out, and what was tripped by it so far."""

    def __init__(self, home: Home, habit: Habit, setup: Setup, ground: HabitGround, moving: bool, pace: float) -> None:
        self.home, self.habit, self.setup, self.ground, self.moving = home, habit, setup, ground, moving
        self.openings = by_id(home.site.openings)
        self.passages = by_id(home.site.passages)
        self.devices = by_id(home.whole_devices)
        self.known = setup.layout.device_of
        self.person = _person(home, habit.who)
        usual = walker_of(self.person)
        self.walker = usual.at_pace(pace)
        self.slower = usual.speed_m_s.mean / self.walker.speed_m_s.mean
        self.lookers = tuple(lookers(home, self.known))
        self.sights: dict[frozenset[str], tuple[Sees, ...]] = {}
        self.at_s = 0.0
        self.place = ground.sides.get(habit.starts_at, (None,))[0]
        self.outside = self.place is None or habit.starts_at in self.openings
        self.inputs: dict[int, list[Input]] = {}
        self.told: dict[int, list[Input]] = {}
        self.rooms: dict[int, frozenset[str]] = {}
        self.done: list[Done] = []
        self.assumed: list[str] = []
        self.by_pet: dict[str, list[str]] = {}
        self.in_vain = False

    def do(self, number: int, step: HabitStep) -> None:
        """One step; doors open at its beginning, all else takes effect at its end."""
        self.done.append(Done(ceil(self.at_s), self.person.role, step.deed, step.place, self.place))
        if step.deed is Deed.WALK_TO:
            self._walk_to(step)
            return
        if step.deed is Deed.OPEN:
            self._open(number, step.place)
        elif step.deed is Deed.DISTURB:
            self._tell(step)
        self.stay(self._seconds(step))
        if step.deed is Deed.CLOSE:
            self._trip(_guards(self.home, step.place), Closes)
        elif step.deed not in _NOTHING_TOLD_AFTER:
            self._tell(step)

    def stay(self, seconds: float) -> None:
        """Be where one is; indoors one may be moving."""
        first = ceil(self.at_s)
        self.at_s += seconds
        if not self.outside and self.place is not None:
            for second in range(first, ceil(self.at_s)):
                self._seen(second, frozenset((self.place.room,)))

    def pets(self) -> None:
        """Each pet may be seen wherever it is free in this state, unless the detector ignores it on the floor."""
        for pet in self.home.household.pets:
            free = frozenset(_free(pet, self.habit.begins_in)) if pet.id != self.habit.who else frozenset()
            lookers = [(device, rooms) for device, rooms in self.lookers if free & rooms and not _ignores(device, pet)]
            seen = tuple(Sees(device.id) for device, _ in lookers)
            for device, _ in lookers if self.moving else ():
                self.by_pet.setdefault(device.id, []).append(pet.kind)
            for second in range(ceil(self.at_s)) if self.moving and seen else ():
                self.inputs.setdefault(second, []).extend(seen)

    def _seconds(self, step: HabitStep) -> float:
        if step.seconds is not None:
            return step.seconds
        if step.deed in KEYED:
            return keying_s() if self.person.keying_s is None else self.person.keying_s
        return OPENING_S if step.deed in {Deed.OPEN, Deed.CLOSE} else 1.0

    def _walk_to(self, step: HabitStep) -> None:
        if step.place not in self.ground.sides:
            raise self._wrong(step, "leads to no place on the plan. Choose a room, a door or a mounted device")
        if self.place is None:
            raise self._wrong(step, "has no beginning. Choose the room or door where the habit starts")
        start = self.place
        strolls = [(self.ground.stroll(start, end, self.walker), end) for end in self.ground.sides[step.place]]
        stroll, end = min(strolls, key=lambda each: each[0].seconds)
        first = ceil(self.at_s)
        seconds = stroll.seconds if step.seconds is None else step.seconds * self.slower
        pace = len(stroll.rooms) / seconds if seconds else 1.0
        for second in range(ceil(seconds)):
            self._seen(first + second, stroll.rooms[min(int(second * pace), len(stroll.rooms) - 1)])
        for second, door in stroll.doors:
            self._passes(first + int(second / pace), door)
        self.assumed += [stroll.assumed] if stroll.assumed else []
        self.at_s, self.place, self.outside = self.at_s + seconds, end, False

    def _passes(self, second: int, door: str) -> None:
        for device in _guards(self.home, door):
            if device.id in self.known:
                self._put(second, (Opens(device.id),))
                self._put(second + PASSING_S, (Closes(device.id),))

    def _open(self, number: int, place: str) -> None:
        self._trip(_guards(self.home, place), Opens)
        if place in self.passages:
            first, second = self.ground.sides[place]
            self.place = first if self.place is not None and self.place.room == second.room else second
        elif place in self.openings and self.openings[place].kind in DOORS:
            self.place = self.ground.sides[place][0]
            self.outside = not self.outside and self._goes_out(number, place)

    def _goes_out(self, number: int, door: str) -> bool:
        """Whether who opens a door from indoors goes out by it: their next step is not done indoors."""
        for step in self.habit.steps[number + 1 :]:
            if step.deed in _STAYS_AT_DOOR:
                continue
            at_key_switch = self._is(step.place, DeviceKind.KEY_SWITCH)
            return at_key_switch or (step.deed in _OUTDOORS and (step.deed is not Deed.OPEN or step.place == door))
        return True

    def _tell(self, step: HabitStep) -> None:
        """What this deed tells the unit, at its end."""
        device = self.devices.get(step.place)
        if device is not None and device.kind in {DeviceKind.KEY_SWITCH, DeviceKind.HOLD_UP}:
            self._trip((device,), Sees)
        elif step.deed is Deed.DISTURB:
            touched = (device,) if device is not None else tuple(_guards(self.home, step.place))
            self._trip(touched, Sees)
        elif step.deed in _UNSETS and not can_unset(self.home, self.habit.who, step.deed):
            self.in_vain = True  # without a code or a fob of their own nothing reaches the unit
        else:
            self._put(ceil(self.at_s), (_TOLD[step.deed](self, step),))

    def _trip(self, devices: Iterable[Device], how: type[Opens] | type[Closes] | type[Sees]) -> None:
        second = ceil(self.at_s)
        for device in devices:
            if device.id not in self.known:
                continue
            lasting = self.known[device.id].lasting
            if how is Sees and lasting:
                self._put(second, (Opens(device.id),))
                self._put(second + 1, (Closes(device.id),))
            elif lasting or how is Sees:
                self._put(second, (how(device.id),))

    def _seen(self, second: int, rooms: frozenset[str]) -> None:
        self.rooms[second] = rooms
        if self.moving:
            if rooms not in self.sights:
                self.sights[rooms] = tuple(Sees(device.id) for device, covers in self.lookers if covers & rooms)
            self.inputs.setdefault(second, []).extend(self.sights[rooms])

    def _put(self, second: int, happened: tuple[Input, ...]) -> None:
        for found in (self.inputs, self.told):
            found.setdefault(second, []).extend(happened)

    def _is(self, place: str, kind: DeviceKind) -> bool:
        return place in self.devices and self.devices[place].kind is kind

    def area(self, step: HabitStep) -> str:
        """The area a deed means: the one named, that of the part set named, of the habit, else the first."""
        areas = [area.id for area in self.setup.areas]
        if step.place in areas:
            return step.place
        part_of = (area.id for area in self.setup.areas for part in area.parts if part.id == step.place)
        return next(part_of, self.habit.area or areas[0])

    def door_zone(self, step: HabitStep) -> str:
        """The zone of an entry/exit door, named by itself, by its opening or by the device on it."""
        named = [device.zone for device in self.home.whole_devices if step.place in (*device.openings, device.id)]
        zones = [zone.id for zone in self.setup.zones]
        found = next((zone for zone in (*named, step.place) if zone in zones), "")
        if not found:
            raise self._wrong(step, "names no zone. Choose one under “Where”, or a way in or device of a zone")
        return found

    def part_is_set(self, step: HabitStep) -> SetArea:
        """Setting the part set named, in its own area."""
        areas = (area.id for area in self.setup.areas for part in area.parts if part.id == step.place)
        area = next(areas, None)
        if area is None:
            names = " or ".join(f"“{part.name}”" for part in self.home.control_unit.part_sets)
            choose = f"Choose one under “Where”: {names}" if names else "Enter a part set first, or choose another deed"
            raise self._wrong(step, f"names no part set. {choose}")
        return SetArea(area, step.place, Way.KEYPAD)

    def _wrong(self, step: HabitStep, why: str) -> AlarmProblem:
        number = next((n for n, each in enumerate(self.habit.steps, 1) if each.id == step.id), 0)
        return AlarmProblem(f"Step {number} ({step.deed.text}) {why}.")


_TOLD: dict[Deed, Callable[[_Doer, HabitStep], Input]] = {
    Deed.SET_FULL: lambda doer, step: SetArea(doer.area(step), SET_FULL, Way.KEYPAD),
    Deed.SET_PART: _Doer.part_is_set,
    Deed.UNSET: lambda doer, step: UnsetArea(doer.area(step), Way.KEYPAD),
    Deed.FOB_SET: lambda doer, step: SetArea(doer.area(step), SET_FULL, Way.FOB, outside=doer.outside),
    Deed.FOB_UNSET: lambda doer, step: UnsetArea(doer.area(step), Way.FOB),
    Deed.LET_OUT: lambda doer, step: LetOut(doer.area(step), doer.door_zone(step)),
    Deed.WRONG_CODE: lambda _doer, _step: WrongCode(),
    Deed.INHIBIT: lambda doer, step: Inhibit(doer.door_zone(step)),
    Deed.SILENCE: lambda doer, step: Silence(doer.area(step)),
    Deed.RESET: lambda doer, step: Reset(doer.area(step)),
    Deed.HOLD_UP: lambda doer, step: HoldUpPressed(doer.area(step)),
}


def _person(home: Home, who: str) -> Person:
    """Who does it; a visitor or nobody in particular walks like an adult (assumed)."""
    people = by_id(home.household.people)
    roles = {visitor.id: visitor.role for visitor in home.household.visitors}
    return people.get(who) or Person(id="visitor", role=roles.get(who, "Somebody"))


def can_unset(home: Home, who: str, deed: Deed = Deed.UNSET) -> bool:
    """Whether somebody of the household can unset the alarm so; of nobody in particular it is taken so.

    The home file ("Can unset the alarm"; who carries a fob can by fob).
    """
    by_fob = deed is Deed.FOB_UNSET and any(person.fob for person in home.household.people if person.id == who)
    able = {person.id: person.can_unset for person in home.household.people}
    able |= {visitor.id: visitor.can_unset for visitor in home.household.visitors}
    return by_fob or able.get(who, True)


def _guards(home: Home, place: str) -> Iterator[Device]:
    """The devices on an opening or an inside door."""
    return (d for d in home.whole_devices if place and place in (*d.openings, *d.passages))


def lookers(home: Home, known: Iterable[str]) -> Iterator[tuple[Device, frozenset[str]]]:
    """Each motion detector of these and the rooms in which it may see somebody.

    Our own reading: its own room, and those that open into it without a door.
    """
    ways = [{p.first, p.second} for p in home.site.passages if p.kind is PassageKind.DOORWAY]
    for device in home.whole_devices:
        if device.kind is DeviceKind.MOTION and device.id in known:
            yield device, frozenset({device.room}.union(*(way for way in ways if device.room in way)))


def _free(pet: Pet, begins_in: BeginsIn) -> tuple[str, ...]:
    return {
        BeginsIn.UNSET: pet.free_in_day,
        BeginsIn.PART_SET: pet.free_in_night,
        BeginsIn.SET_FULL: pet.free_when_empty,
    }[begins_in]


def _ignores(device: Device, pet: Pet) -> bool:
    """A detector ignores a pet on the floor that is light enough; one that climbs is seen."""
    limit_kg = device.ignores_pets_kg
    return limit_kg is not None and pet.mass_kg is not None and pet.mass_kg <= limit_kg and pet.reaches_m <= ON_FLOOR_M
