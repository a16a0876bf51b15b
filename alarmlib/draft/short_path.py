"""From the answers of the short path to a whole home in draft: rooms, ways in, people, devices, zones, times."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from alarmlib.draft.lines import commas, find, listed, pairs, slug
from alarmlib.draft.times import with_times
from alarmlib.draft.zones import with_zones
from alarmlib.errors import FieldProblem
from alarmlib.model.control_unit import Area, PartSet
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import AgeBand, Person, Pet, Walk
from alarmlib.model.short_path import Pace, Pets, ShortPath
from alarmlib.model.site import Opening, OpeningKind, Passage, PassageKind, Reach, Room, RoomUse, Site, Storey, Yes
from alarmlib.model.words import DeviceKind, Link

NIGHT, HOUSE = "night", "house"
_LEVELS = {"cellar": -1, "basement": -1, "ground": 0, "ground floor": 0, "downstairs": 0, "upstairs": 1, "attic": 2}
_USES = (
    ("bed", RoomUse.BEDROOM),
    ("nursery", RoomUse.BEDROOM),
    ("kitchen", RoomUse.KITCHEN),
    ("bath", RoomUse.BATH),
    ("toilet", RoomUse.BATH),
    ("shower", RoomUse.BATH),
    ("hall", RoomUse.HALL),
    ("landing", RoomUse.HALL),
    ("corridor", RoomUse.HALL),
    ("stair", RoomUse.HALL),
    ("living", RoomUse.LIVING),
    ("dining", RoomUse.LIVING),
    ("lounge", RoomUse.LIVING),
    ("study", RoomUse.STUDY),
    ("office", RoomUse.STUDY),
    ("garage", RoomUse.GARAGE),
    ("cellar", RoomUse.CELLAR),
    ("basement", RoomUse.CELLAR),
    ("attic", RoomUse.ATTIC),
    ("loft", RoomUse.ATTIC),
    ("utility", RoomUse.UTILITY),
    ("laundry", RoomUse.UTILITY),
    ("porch", RoomUse.PORCH),
    ("workshop", RoomUse.WORKSHOP),
    ("shed", RoomUse.WORKSHOP),
)
_ROUND = frozenset({RoomUse.BATH, RoomUse.GARAGE, RoomUse.PORCH, RoomUse.ATTIC, RoomUse.WORKSHOP})


@dataclass(frozen=True)
class Draft:
    """A whole home made from few answers, and every assumption it rests on, in words."""

    home: Home
    assumptions: tuple[str, ...]


def draft_home(home: Home) -> Draft:
    """The home drafted from `home.short_path`; what was entered elsewhere in `home` is not used.

    Raises `FieldProblem` naming the answer that cannot be used. The zones and times are the computed ones.
    """
    answers = home.short_path
    site = _site(answers)
    rooms = {room.name: room.id for room in site.rooms}
    kept = {"name": home.name, "units": home.units, "rules": home.rules, "start_point": home.start_point}
    devices = tuple(_devices(answers, site, rooms))
    unit = home.unit.model_copy(
        update={
            "areas": (Area(id=HOUSE, name="House"),),
            "zones": (),
            "part_sets": (PartSet(id=NIGHT, name="Night", area=HOUSE),) if answers.night_set else (),
            "seasons": (),
            "times": home.unit.times.model_copy(update={"doors": ()}),
            "behaviour": home.unit.behaviour.model_copy(update={"nobody_left_part_set": ""}),
            "limits": home.unit.limits.model_copy(update={"tells_apart": answers.tells_apart, "zones": answers.zones}),
        }
    )
    drafted = Home.model_validate(
        {
            **kept,
            "short_path": answers,
            "cautions_read": home.cautions_read,
            "site": site,
            "household": _household(answers, site),
            "devices": devices,
            "unit": unit,
        }
    )
    return Draft(with_times(with_zones(drafted)), tuple(_assumptions(answers)))


def _site(answers: ShortPath) -> Site:
    storeys, rooms = _rooms(answers)
    by_name = {room.name: room.id for room in rooms}
    openings = tuple(_openings(answers, by_name))
    fuel = {"fuel_appliances": answers.fuel}
    passages = tuple(_passages(answers, rooms, by_name))
    return Site(storeys=storeys, rooms=rooms, openings=openings, passages=passages, **fuel)


def _rooms(answers: ShortPath) -> tuple[tuple[Storey, ...], tuple[Room, ...]]:
    field = "Rooms"
    lines = listed(answers.rooms, field)
    if not lines:
        raise FieldProblem("", field, "", "at least one room is needed, one a line")
    sleeping = {name.casefold() for name in commas(answers.bedrooms)}
    storeys: dict[str, Storey] = {}
    rooms: list[Room] = []
    for line in lines:
        name, _, floor = (part.strip() for part in line.partition(","))
        floor = floor or "ground floor"
        storey = storeys.setdefault(
            floor.casefold(), Storey(id=slug(floor), name=floor, level=_LEVELS.get(floor.casefold(), len(storeys)))
        )
        if any(room.name.casefold() == name.casefold() for room in rooms):
            raise FieldProblem("", field, name, "each room needs a name of its own")
        use = next((use for word, use in _USES if word in name.casefold()), RoomUse.OTHER)
        taken = [room.id for room in rooms]
        asleep = name.casefold() in sleeping
        rooms.append(Room(id=slug(name, taken), name=name, storey=storey.id, use=use, area=HOUSE, sleeps_here=asleep))
    known = {room.name: room.id for room in rooms}
    for name in commas(answers.bedrooms):
        find(name, known, "In which rooms does somebody sleep?", "rooms")
    return tuple(storeys.values()), tuple(rooms)


def _openings(answers: ShortPath, rooms: dict[str, str]) -> Iterator[Opening]:
    doors = list(pairs(answers.outside_doors, "Outside doors"))
    if not doors:
        raise FieldProblem("", "Outside doors", "", "at least one outside door is needed")
    names = {name: name for name, _ in doors}
    home_by = [find(name, names, "Which of them do you come home by?", "doors") for name in commas(answers.home_by)]
    home_by = home_by or [doors[0][0]]
    taken: list[str] = []
    for name, room in doors:
        kind = OpeningKind.GARAGE_DOOR if "garage" in name.casefold() else OpeningKind.DOOR
        where = find(room, rooms, "Outside doors", "rooms")
        final = name in home_by
        taken.append(slug(name, taken))
        yield Opening(id=taken[-1], name=name, room=where, kind=kind, final_door=final, reach=Reach.GROUND)
    for name, room in pairs(answers.windows, "Windows somebody could reach"):
        where = find(room, rooms, "Windows somebody could reach", "rooms")
        taken.append(slug(name, taken))
        yield Opening(id=taken[-1], name=name, room=where, kind=OpeningKind.WINDOW, reach=Reach.GROUND)


def _passages(answers: ShortPath, rooms: tuple[Room, ...], by_name: dict[str, str]) -> Iterator[Passage]:
    field = "Which door leads where"
    storey = {room.id: room.storey for room in rooms}
    seen: set[frozenset[str]] = set()
    for name, others in pairs(answers.inner_doors, field):
        first = find(name, by_name, field, "rooms")
        for other in commas(others):
            second = find(other, by_name, field, "rooms")
            if first == second or frozenset((first, second)) in seen:
                continue
            seen.add(frozenset((first, second)))
            kind = PassageKind.DOOR if storey[first] == storey[second] else PassageKind.STAIRS
            yield Passage(id=f"{first[:22]}_to_{second[:22]}", first=first, second=second, kind=kind)


def _household(answers: ShortPath, site: Site) -> dict[str, Any]:
    slow = answers.pace in (Pace.SLOW, Pace.VERY_SLOW)
    speeds = {Pace.BRISK: 1.4, Pace.VERY_SLOW: 0.6}
    count = answers.people or 1
    slowest = Person(
        id="slowest",
        role="The slowest of the household",
        age=AgeBand.OLDER if slow else AgeBand.ADULT,
        slow=slow,
        carries=answers.carries,
        speed_m_s=speeds.get(answers.pace),
    )
    others = (Person(id=f"person_{n}", role=f"Person {n}") for n in range(2, count + 1))
    rooms = tuple(room.id for room in site.rooms)
    top = {Pets.FLOOR: 0.0, Pets.CLIMB: 1.0}
    at_night = rooms if answers.pets_at_night else ()
    pet = () if answers.pets is Pets.NONE else (
        Pet(id="pet", kind="Pet", reaches_m=top[answers.pets], free_in_night=at_night, free_when_away=rooms),
    )  # fmt: skip
    doors = [opening.id for opening in site.openings if opening.final_door]
    walks = (Walk(id="walk_1", person="slowest", door=doors[0], first_s=answers.walk_s),) if answers.walk_s else ()
    return {"people": (slowest, *others), "pets": pet, "walks": walks}


def _devices(answers: ShortPath, site: Site, rooms: dict[str, str]) -> Iterator[Device]:
    first_door = next(opening for opening in site.openings if opening.final_door)
    keypad = find(answers.keypad_room, rooms, "In which room does the keypad hang?", "rooms") if (
        answers.keypad_room
    ) else first_door.room  # fmt: skip
    box = find(answers.unit_room, rooms, "In which room is the control unit?", "rooms") if answers.unit_room else keypad
    yield Device(id="control_unit", name="Control unit", kind=DeviceKind.CONTROL_UNIT, room=box)
    yield Device(id="keypad", name="Keypad", kind=DeviceKind.KEYPAD, room=keypad)
    yield Device(id="inside_sounder", name="Inside sounder", kind=DeviceKind.INSIDE_SOUNDER, room=keypad)
    yield Device(id="outside_sounder", name="Outside sounder", kind=DeviceKind.OUTSIDE_SOUNDER)
    yield from _detectors(site)


def _detectors(site: Site) -> Iterator[Device]:
    """A contact on every way in, and a motion detector in each room a stranger must cross to go on.

    Reference: CLC/TS 50131-7 levels of supervision, doors, windows and a trap in the rooms (from memory).
    """
    link = Link.WIRE_FREE
    for opening in site.openings:
        yield Device(
            id=f"contact_{opening.id}"[:48],
            name=f"Contact, {opening.name}"[:80],
            kind=DeviceKind.CONTACT,
            link=link,
            room=opening.room,
            openings=(opening.id,),
        )
    entered = {opening.room for opening in site.openings}
    through = {room.id for room in site.rooms if sum(room.id in (p.first, p.second) for p in site.passages) > 1}
    for room in site.rooms:
        if room.id in entered | through and room.use not in _ROUND and not room.sleeps_here:
            yield Device(
                id=f"motion_{room.id}"[:48],
                name=f"Motion, {room.name}"[:80],
                kind=DeviceKind.MOTION,
                link=link,
                room=room.id,
            )


def _assumptions(answers: ShortPath) -> Iterator[str]:
    yield "Every detector is taken as wire-free and in its room's best place; no walls or furniture were looked at."
    if not answers.walk_s:
        yield "No walk was stopped: walking times are taken from the rooms passed and published walking speeds."
    if answers.people is None:
        yield "One person is taken to live here."
    if not answers.keypad_room:
        yield "The keypad is taken to hang in the room behind the door you come home by."
    if not answers.unit_room:
        yield "The control unit is taken to hang where the keypad does."
    if answers.zones is None:
        yield "The number of zones of your unit is not known: as many as needed are taken."
    if answers.tells_apart.value == "unknown":
        yield "Your unit is taken to tell each device apart."
    if not answers.inner_doors:
        yield "No inside doors were listed: routes between rooms are not known."
    for field, value in (("smoke alarms", answers.smoke_alarms), ("fuel or garage", answers.fuel)):
        if value is Yes.UNKNOWN:
            yield f"Nothing is known of {field}: the record keeps it as open."
