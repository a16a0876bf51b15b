"""From the answers of the short path to a whole home in draft: rooms, ways in, people, devices, zones, times."""

from collections.abc import Iterator
from dataclasses import dataclass

from alarmlib.draft.assumed import assumed
from alarmlib.draft.lines import Reader, Wrong, label_of
from alarmlib.draft.site import SiteDraft
from alarmlib.draft.times import with_times
from alarmlib.draft.zones import with_zones
from alarmlib.errors import FieldProblem
from alarmlib.model.control_unit import Area, ControlUnit, PartSet
from alarmlib.model.devices import DeviceEntry, DeviceType
from alarmlib.model.home import Home
from alarmlib.model.household import AgeBand, Household, Person, Pet, StopwatchWalk
from alarmlib.model.messages import Message, MessagePath, Messages, PathKind, Responder
from alarmlib.model.short_path import Pace, Pets, ShortPath
from alarmlib.model.site import Room, RoomUse, Site, Yes
from alarmlib.model.words import DeviceKind, EventKind, Link

NIGHT = "night"
_ROUND = frozenset({RoomUse.BATH, RoomUse.GARAGE, RoomUse.PORCH, RoomUse.ATTIC, RoomUse.WORKSHOP})
_FOR_THE_UNIT = (RoomUse.STORE, RoomUse.UTILITY, RoomUse.STUDY, RoomUse.CELLAR, RoomUse.HALL, RoomUse.LIVING)

_TYPES = tuple(
    DeviceType(id=f"draft_{kind}", name=f"{kind.text.capitalize()}, {link.text}", kind=kind, link=link)
    for kind, link in (
        (DeviceKind.CONTROL_UNIT, Link.WIRED),
        (DeviceKind.KEYPAD, Link.WIRED),
        (DeviceKind.INSIDE_SOUNDER, Link.WIRED),
        (DeviceKind.OUTSIDE_SIREN, Link.WIRED),
        (DeviceKind.CONTACT, Link.WIRELESS),
        (DeviceKind.MOTION, Link.WIRELESS),
    )
)
"""What the draft's devices are, with nothing said yet of what their manuals say."""


@dataclass(frozen=True)
class Draft:
    """A whole home made from few answers, every assumption it rests on, and every answer that could not be used."""

    home: Home
    assumptions: tuple[str, ...]
    wrong: tuple[Wrong, ...] = ()


def draft_home(home: Home) -> Draft:
    """The home drafted from `home.short_path`; of what was entered elsewhere in `home` only ids are used.

    A wrong answer, or a wrong line of one, is noted in `wrong`, and the draft goes on without it. Raises
    `FieldProblem` naming the answer without which there is no home at all: rooms, outside doors.
    The zones and times are the computed ones.
    """
    reader = Reader(home.short_path)
    site = _read(home, reader)
    return Draft(with_times(with_zones(_drafted(home, reader, site))), tuple(assumed(site)), tuple(reader.wrong))


def wrong_answers(home: Home) -> tuple[Wrong, ...]:
    """The answers that cannot be used, without drafting the rest; empty while nothing is answered."""
    if not home.short_path.rooms.strip():
        return ()
    reader = Reader(home.short_path)
    site = SiteDraft(home, reader)
    site.site()
    _places(reader, site)
    return tuple(reader.wrong)


def _read(home: Home, reader: Reader) -> SiteDraft:
    site = SiteDraft(home, reader)
    for field, found, wanted in (
        ("rooms", site.rooms, "at least one room is needed, one a line"),
        ("outside_doors", site.doors, "at least one outside door is needed"),
    ):
        if not found:
            refused = next((wrong.problem for wrong in reader.wrong if wrong.field == field), None)
            raise refused or FieldProblem("", label_of(field), "", wanted)
    return site


def _drafted(home: Home, reader: Reader, read: SiteDraft) -> Home:
    answers, site = home.short_path, _with_smoke_alarms(home.short_path, read.site())
    return Home(
        name=home.name,
        units=home.units,
        rules=home.rules,
        start_point=home.start_point,
        short_path=answers,
        cautions_read=home.cautions_read,
        site=site,
        household=_household(answers, site),
        device_types=_TYPES,
        devices=tuple(_devices(site, *_places(reader, read))),
        control_unit=_unit(home, read.area),
        messages=_messages(answers),
    )


def _unit(home: Home, area: Area) -> ControlUnit:
    answers = home.short_path
    limits = home.control_unit.limits.model_copy(update={"recognises": answers.recognises, "zones": answers.zones})
    return home.control_unit.model_copy(
        update={
            "areas": (area,),
            "zones": (),
            "part_sets": (PartSet(id=NIGHT, name="Night", area=area.id),) if answers.night_set else (),
            "seasons": (),
            "times": home.control_unit.times.model_copy(update={"doors": ()}),
            "behaviour": home.control_unit.behaviour.model_copy(update={"nobody_left_part_set": ""}),
            "limits": limits,
        }
    )


def _with_smoke_alarms(answers: ShortPath, site: Site) -> Site:
    """A yes to smoke alarms on every level and at every bedroom: in each bedroom, and in a hall of each storey."""
    if answers.smoke_alarms is not Yes.YES:
        return site
    with_one = {room.id for room in site.rooms if room.sleeps_here or room.use is RoomUse.BEDROOM}
    for storey in site.storeys:
        on_it = [room for room in site.rooms if room.storey == storey.id]
        halls = [room for room in on_it if room.use is RoomUse.HALL]
        with_one |= {room.id for room in halls or [r for r in on_it if r.use not in _ROUND][:1]}
    told = (r.model_copy(update={"smoke_alarm": Yes.YES if r.id in with_one else r.smoke_alarm}) for r in site.rooms)
    return site.model_copy(update={"rooms": tuple(told)})


def _household(answers: ShortPath, site: Site) -> Household:
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
    sound = answers.wont_wake is Yes.YES
    slowest = slowest.model_copy(update={"deep_sleeper": sound and count == 1})
    others = (
        Person(id=f"person_{n}", role=f"Person {n}", deep_sleeper=sound and n == count) for n in range(2, count + 1)
    )
    rooms = tuple(room.id for room in site.rooms)
    top = {Pets.FLOOR: 0.0, Pets.CLIMB: 1.0}
    at_night = rooms if answers.pets_at_night else ()
    pet = () if answers.pets is Pets.NONE else (
        Pet(id="pet", kind="Pet", reaches_m=top[answers.pets], free_in_night=at_night, free_when_empty=rooms),
    )  # fmt: skip
    doors = [opening.id for opening in site.openings if opening.entry_exit]
    walks = (
        (StopwatchWalk(id="walk_1", person="slowest", door=doors[0], first_s=answers.walk_s),) if answers.walk_s else ()
    )
    return Household(people=(slowest, *others), pets=pet, walks=walks)


def _messages(answers: ShortPath) -> Messages:
    """Whoever would answer a siren is told of a burglary by it."""
    if answers.answers_siren is not Yes.YES:
        return Messages()
    path = MessagePath(id="siren_heard", name="The siren, heard next door", kind=PathKind.SIREN)
    neighbour = Responder(id="siren_answered_by", role="Whoever near answers the siren")
    told = Message(id="burglary_heard", event=EventKind.BURGLARY, to=(neighbour.id,), paths=(path.id,))
    return Messages(paths=(path,), responders=(neighbour,), messages=(told,))


def _places(reader: Reader, site: SiteDraft) -> tuple[str, str]:
    """The rooms of keypad and control unit: as answered, else behind the door home, and away from any such door."""
    answers = reader.answers
    asked = (("keypad_room", answers.keypad_room), ("unit_room", answers.unit_room))
    keypad, unit = (reader.find(field, room.strip(), site.by_name, "rooms") if room.strip() else None
                    for field, room in asked)  # fmt: skip
    entered = [door.room for door in site.home_by]
    keypad = keypad or (entered[0] if entered else "")
    quiet = [room for room in site.rooms if room.id not in entered and room.use in _FOR_THE_UNIT]
    quiet.sort(key=lambda room: _FOR_THE_UNIT.index(room.use))
    return keypad, unit or (quiet[0].id if quiet else keypad)


def _devices(site: Site, keypad: str, unit: str) -> Iterator[DeviceEntry]:
    yield DeviceEntry(id="control_unit", name="Control unit", type="draft_control_unit", room=unit)
    yield DeviceEntry(id="keypad", name="Keypad", type="draft_keypad", room=keypad)
    yield DeviceEntry(id="inside_sounder", name="Inside sounder", type="draft_inside_sounder", room=keypad)
    yield DeviceEntry(id="outside_siren", name="Outside siren", type="draft_outside_siren")
    yield from _detectors(site)


def _detectors(site: Site) -> Iterator[DeviceEntry]:
    """A contact on every way in, and a motion detector in each room a stranger must cross to go on.

    Reference: CLC/TS 50131-7 levels of supervision, doors, windows and a trap in the rooms (from memory).
    """
    for opening in site.openings:
        yield DeviceEntry(
            id=f"contact_{opening.id}"[:48],
            name=f"Contact, {opening.name}"[:80],
            type="draft_contact",
            room=opening.room,
            openings=(opening.id,),
        )
    for room in site.rooms:
        if room.id in _crossed(site) and room.use not in _ROUND and not room.sleeps_here:
            yield _motion(room)


def _crossed(site: Site) -> frozenset[str]:
    entered = {opening.room for opening in site.openings}
    through = {room.id for room in site.rooms if sum(room.id in (p.first, p.second) for p in site.passages) > 1}
    return frozenset(entered | through)


def _motion(room: Room) -> DeviceEntry:
    name = f"Motion, {room.name}"[:80]
    return DeviceEntry(id=f"motion_{room.id}"[:48], name=name, type="draft_motion", room=room.id)
