"""Habits offered ready-made: whole steps for the control unit, filled in from what the home file says.

A template needs people, doors, a keypad, a part set or rooms. Where something is missing it says what, and where to
enter it. What it makes is an ordinary habit, which its owner may change like any other.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from alarmlib.calc.plan.floor_plan import Place
from alarmlib.calc.walking.home_walks import ANYBODY, home_map, home_walks
from alarmlib.calc.walking.walkers import walker_of
from alarmlib.checks.people.part_sets import for_the_night
from alarmlib.draft.lines import slug
from alarmlib.model.control_unit import PartSet
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Deed, Habit, HabitStep, Person, Pet, Visitor
from alarmlib.model.questions import at_work, by_id, sleeping_rooms
from alarmlib.model.site import Opening, Room, RoomUse
from alarmlib.model.words import DeviceKind

NIGHT_WALK_S = 120.0  # in the bathroom: assumed
PET_S = 600.0  # a stretch of its time; where it may be counts, not how long: assumed
FETCHING_S = 10.0  # to find what was forgotten: assumed
OUTSIDE_S = 6.0  # outside, until one notices: assumed
VISIT_S = 3600.0  # a visitor's work: assumed
_MOVES = frozenset({Deed.WALK_TO, Deed.WAIT})
Deeds = tuple[tuple[Deed, str, float | None], ...]


@dataclass(frozen=True)
class Offer:
    """One template in this home: what it is called, and its habit, or what is missing for it, in one sentence."""

    label: str
    habit: Habit | None = None
    missing: str = ""


def offers(home: Home) -> tuple[Offer, ...]:
    """What can be added with one press first, then what lacks something; a habit that is there already is no offer.

    Our own templates: coming home, going out, the night, pets, visitors, something forgotten.
    """
    found = list(_Home(home).offers())
    there = {_shape(habit) for habit in home.household.habits}
    ready = [each for each in found if each.habit is not None and _shape(each.habit) not in there]
    return (*ready, *(each for each in found if each.habit is None))


def _shape(habit: Habit) -> object:
    """What makes two habits one: how they begin, doors and codes in order; without these, who is where."""
    deeds = tuple((s.deed, s.place if s.deed is Deed.OPEN else "") for s in habit.steps if s.deed not in _MOVES)
    where = () if deeds else (habit.starts_at, habit.who)
    return habit.begins_in, habit.part_set, deeds, where


class _Home:
    """What the templates ask of a home, each once."""

    def __init__(self, home: Home) -> None:
        self.home = home
        self.rooms = by_id(home.site.rooms)
        self.names = {room.id: room.name for room in home.site.rooms}
        self.keypads = tuple(each for each in at_work(home, DeviceKind.KEYPAD) if each.room in self.rooms)
        self.unsetters = sorted(
            (person for person in home.household.people if person.can_unset),
            key=lambda person: walker_of(person).speed_m_s.mean,
        )
        self.doors = tuple(opening for opening in home.site.openings if opening.entry_exit)

    def offers(self) -> Iterator[Offer]:
        """Every template in the order of a day."""
        lacks = self._lacks()
        ways = () if lacks else tuple(self._ways())
        if lacks:
            yield from (Offer(name, missing=lacks) for name in ("Coming home", "Going out", "Something forgotten"))
        for way in ways:
            yield self.coming_home(way)
        for way in ways[:1]:
            yield self.going_out(way)
        yield from self.nights()
        yield from (offer for pet in self.home.household.pets for offer in self.pet(pet))
        yield from (self.visit(each) for each in self.home.household.visitors if each.can_unset)
        for way in ways[:1]:
            yield self.forgotten(way)

    def _lacks(self) -> str:
        """What nobody can come home without."""
        if not self.doors:
            return "No way in is marked as “Used to leave and come home”. Mark one in “Ways in” on page 01."
        if not self.unsetters:
            return "Nobody is entered who can unset the alarm. Enter who lives here in “People” on page 01."
        if not self.keypads and not any(person.fob for person in self.unsetters):
            return "No keypad or fob is entered. Enter one in “Devices” on page 02."
        return ""

    def _ways(self) -> Iterator["_Way"]:
        """By each entry/exit door the slowest person who can unset, and the keypad nearest to it in the same area."""
        known = {(walk.person, walk.door): walk.keypad for walk in home_walks(self.home)}
        for door in self.doors:
            ways = (_Way(person, door, known.get((person.id, door.id), "")) for person in self.unsetters)
            yield from list(filter(self._leads_somewhere, ways))[:1]

    def _leads_somewhere(self, way: "_Way") -> bool:
        if not way.keypad:
            return bool(way.person.fob)
        keypad = next(each for each in self.keypads if each.id == way.keypad)
        return self._area(way.door.room) == self._area(keypad.room)

    def _area(self, room: str) -> str:
        """The area of a room; where none is entered, the first there is."""
        areas = self.home.control_unit.areas
        own = self.rooms[room].area if room in self.rooms else ""
        return own or (areas[0].id if areas else "")

    def coming_home(self, way: "_Way") -> Offer:
        """In by the door, to the keypad, unset; with a fob and no keypad unset before the door."""
        person, door, area = way.person, way.door, self._area(way.door.room)
        into = ((Deed.OPEN, door.id, person.unlock_s), (Deed.CLOSE, door.id, None))
        if way.keypad:
            steps: Deeds = (*into, (Deed.WALK_TO, way.keypad, None), (Deed.UNSET, area, None))
        else:
            steps = ((Deed.FOB_UNSET, area, None), *into, (Deed.WALK_TO, door.room, None))
        name = f"{person.role} comes home: {door.name}"
        return self._made(f"Coming home: {door.name}", name, person.id, door.id, steps, often=person.entries_a_week)

    def going_out(self, way: "_Way") -> Offer:
        """Set, out by the door; with a fob and no keypad set from outside."""
        person, door, area = way.person, way.door, self._area(way.door.room)
        out = ((Deed.WALK_TO, door.id, None), *_through(door))
        steps: Deeds = ((Deed.SET_FULL, area, None), *out) if way.keypad else (*out, (Deed.FOB_SET, area, None))
        name = f"{person.role} goes out: {door.name}"
        start = way.keypad or door.room
        often = person.entries_a_week
        return self._made(f"Going out: {door.name}", name, person.id, start, steps, BeginsIn.UNSET, often=often)

    def forgotten(self, way: "_Way") -> Offer:
        """Out, in again, unset, fetch it, set and out."""
        person, door, area = way.person, way.door, self._area(way.door.room)
        if not way.keypad:
            return Offer("Something forgotten", missing="No keypad is entered. Enter one in “Devices” on page 02.")
        out: Deeds = ((Deed.SET_FULL, area, None), (Deed.WALK_TO, door.id, None), *_through(door))
        back: Deeds = (*_through(door), (Deed.WALK_TO, way.keypad, None), (Deed.UNSET, area, None))
        room = self._room((RoomUse.KITCHEN, RoomUse.LIVING), area, door.room)
        fetch: Deeds = ((Deed.WALK_TO, room, None), (Deed.WAIT, "", FETCHING_S), (Deed.WALK_TO, way.keypad, None))
        steps = (*out, (Deed.WAIT, "", OUTSIDE_S), *back, *fetch, *out)
        name = f"{person.role} comes back for something forgotten"
        return self._made("Something forgotten", name, person.id, way.keypad, steps, BeginsIn.UNSET)

    def nights(self) -> Iterator[Offer]:
        """Setting the part set of the night, and a walk to the bathroom from each bedroom."""
        part_set = self._night()
        beds = tuple(bed for bed in sorted(sleeping_rooms(self.home)) if bed in self.rooms)
        lacks = ""
        if part_set is None:
            lacks = "No part set is entered for the night. Enter one in “Part sets” on page 03."
        elif not beds:
            lacks = "Nobody sleeps anywhere yet. Enter where in “People” or “Rooms” on page 01."
        if part_set is None or not beds:
            yield from (Offer(label, missing=lacks) for label in ("At night", "Up at night"))
            return
        yield self.bedtime(part_set, beds)
        yield from (self.up_at_night(part_set, bed) for bed in beds)

    def _night(self) -> PartSet | None:
        part_sets = self.home.control_unit.part_sets
        return next((each for each in part_sets if for_the_night(each)), part_sets[0] if part_sets else None)

    def bedtime(self, part_set: PartSet, beds: tuple[str, ...]) -> Offer:
        """At the keypad nearest to a bed, then to it."""
        person = next((each for each in self.unsetters if each.sleeps_in in beds), None)
        bed = person.sleeps_in if person else beds[0]
        keypad = self._nearest_keypad(bed)
        if keypad is None:
            missing = "No keypad can be reached from a bedroom. Enter keypad and doors on pages 01 and 02."
            return Offer("At night", missing=missing)
        steps: Deeds = ((Deed.SET_PART, part_set.id, None), (Deed.WALK_TO, bed, None))
        who = person.role if person else "Somebody"
        name = f"{who} goes to bed: {_short(part_set.name)}"
        begin = BeginsIn.UNSET
        return self._made("At night", name, person.id if person else "", keypad.id, steps, begin, often=7)

    def up_at_night(self, part_set: PartSet, bed: str) -> Offer:
        """From a bed to the nearest bathroom and back, while the part set listens."""
        label = f"Up at night: {self.names[bed]}"
        bath = self._nearest(bed, (room.id for room in self.home.site.rooms if room.use is RoomUse.BATH))
        if not bath:
            missing = "No bathroom can be reached. Enter one in “Rooms” and its door in “Inside doorways” on page 01."
            return Offer(label, missing=missing)
        person = next((each for each in self.home.household.people if each.sleeps_in == bed), None)
        steps: Deeds = ((Deed.WALK_TO, bath, None), (Deed.WAIT, "", NIGHT_WALK_S), (Deed.WALK_TO, bed, None))
        name = f"{person.role if person else 'Somebody'} is up at night: {self.names[bed]}"
        who = person.id if person else ""
        return self._made(label, name, who, bed, steps, BeginsIn.PART_SET, part_set=part_set.id, often=7)

    def pet(self, pet: Pet) -> Iterator[Offer]:
        """A pet that is free while nobody is in, and at night; where it is free counts, and nobody else moves."""
        wait: Deeds = ((Deed.WAIT, "", PET_S),)
        alone, night = f"{pet.kind} alone at home", f"{pet.kind} free at night"
        if pet.free_when_empty:
            yield self._made(alone, alone, "", "", wait, often=7)
        part_set = self._night()
        if pet.free_in_night and part_set is not None:
            yield self._made(night, night, "", "", wait, BeginsIn.PART_SET, part_set=part_set.id, often=7)
        if not pet.free_when_empty and not pet.free_in_night:
            missing = f"Nothing says where the {pet.kind.lower()} may go. Choose its rooms in “Pets” on page 01."
            yield Offer(alone, missing=missing)

    def visit(self, visitor: Visitor) -> Offer:
        """In, unset, an hour's work, set and out again."""
        label = f"{visitor.role} comes and goes"
        door = next((each for each in self.home.site.openings if each.id == visitor.door), None)
        if door is None:
            return Offer(label, missing=f"{visitor.role} has no door. Choose it in “Visitors who come in” on page 01.")
        keypad = self._nearest_keypad(door.room)
        if keypad is None:
            missing = f"No keypad can be reached from {door.name}. Enter one in “Devices” on page 02."
            return Offer(label, missing=missing)
        area = self._area(door.room)
        room = self._room((RoomUse.LIVING, RoomUse.KITCHEN), area, keypad.room)
        into: Deeds = (*_through(door), (Deed.WALK_TO, keypad.id, None), (Deed.UNSET, area, None))
        work: Deeds = ((Deed.WALK_TO, room, None), (Deed.WAIT, "", VISIT_S), (Deed.WALK_TO, keypad.id, None))
        out: Deeds = ((Deed.SET_FULL, area, None), (Deed.WALK_TO, door.id, None), *_through(door))
        return self._made(label, label, visitor.id, door.id, (*into, *work, *out))

    def _made(
        self,
        label: str,
        name: str,
        who: str,
        starts_at: str,
        steps: Deeds,
        begins_in: BeginsIn = BeginsIn.SET_FULL,
        part_set: str = "",
        often: float = 1,
    ) -> Offer:
        area = next((place for deed, place, _ in steps if deed in _WITH_AREA), "")
        habit = Habit(
            id=slug(label, [each.id for each in self.home.household.habits]),
            name=name,
            who=who,
            starts_at=starts_at,
            begins_in=begins_in,
            part_set=part_set,
            area=area,
            times_a_week=often,
            steps=tuple(
                HabitStep(id=f"step_{number}", deed=deed, place=place, seconds=seconds)
                for number, (deed, place, seconds) in enumerate(steps, 1)
            ),
        )
        return Offer(label, habit)

    def _room(self, uses: Iterable[RoomUse], area: str, otherwise: str) -> str:
        """A room of the first of these uses in the area; none: the one given."""
        there = [room for room in self.home.site.rooms if self._area(room.id) == area]
        found = (room.id for use in uses for room in there if _is(room, use) and self._nearest(otherwise, (room.id,)))
        return next(found, otherwise)

    def _nearest_keypad(self, room: str) -> Device | None:
        rooms = [each.room for each in self.keypads if self._area(each.room) == self._area(room)]
        nearest = self._nearest(room, rooms)
        return next((each for each in self.keypads if each.room == nearest), None)

    def _nearest(self, room: str, goals: Iterable[str]) -> str:
        """The room among the goals that is reached first; "" where there is no way to any."""
        goals = tuple(goals)
        if room in goals:
            return room
        near = home_map(self.home).nearest(Place(room), [Place(goal) for goal in goals], ANYBODY)
        return near[0].room if near is not None else ""


@dataclass(frozen=True)
class _Way:
    """Who comes home by which door, and the keypad they walk to; "" for a fob."""

    person: Person
    door: Opening
    keypad: str


_WITH_AREA = frozenset({Deed.SET_FULL, Deed.UNSET, Deed.FOB_SET, Deed.FOB_UNSET})


def _through(door: Opening) -> Deeds:
    return (Deed.OPEN, door.id, None), (Deed.CLOSE, door.id, None)


def _is(room: Room, use: RoomUse) -> bool:
    return room.use is use


def _short(name: str) -> str:
    """The first words of a part set's name."""
    return name.partition(":")[0]
