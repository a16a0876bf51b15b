"""Where detectors and the control unit are, seen from the ways an intruder or a pet goes: worked out in full only."""

from typing import TYPE_CHECKING

from alarmlib.calc.coverage.areas import (
    Coverage,
    Eye,
    Outline,
    coverage_by,
    coverages,
    eye_of,
    joined_area,
    motion_detectors,
)
from alarmlib.calc.coverage.device_places import head_on
from alarmlib.calc.coverage.watched import four_steps_after_m
from alarmlib.calc.plan.floor_plan import Place, place_of_device, plan_from_home
from alarmlib.calc.walking.home_walks import walk_from
from alarmlib.calc.walking.walks import Walk
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.home.site import within_reach
from alarmlib.checks.home.ways import route_rooms
from alarmlib.checks.lookup import entry_exit_doors, room_name, rooms, said
from alarmlib.control.habit_events import ON_FLOOR_M
from alarmlib.model import Home
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.household import Pet
from alarmlib.model.questions import at_work, by_id, guards, present
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SEEN_M2 = 0.1  # our own line: a smaller glimpse into another room is let be
_SOURCE = "coverage_assumed"


@check
def meets_head_on(home: Home) -> Said:
    """A motion detector that intruders reach at all is not met by all of them head-on, far off."""
    plan, known = plan_from_home(home), rooms(home)
    devices, reach = by_id(motion_detectors(home)), within_reach(home)
    ways = tuple(o.id for o in home.site.openings if o.id in reach and o.at is not None and plan.drawn(o.room))
    goals = tuple(Place(room.id) for room in home.site.rooms if room.guarded and room.outline)
    for seen in coverages(home):
        eye = eye_of(devices[seen.device], known[seen.room])
        assert eye is not None
        if _met_only_head_on(home, eye, ways, _rooms_of(seen, goals)):
            yield should(
                seen.device,
                f"{said(devices[seen.device].name)} may notice somebody late: whoever walks into "
                f"{room_name(home, seen.room)} walks straight towards it or away from it, far out in its range.",
                "Mount it where people cross its view, or enter how far it sees somebody who walks straight at it.",
                _SOURCE,
            )


@asked
def _met_only_head_on(home: Home, eye: Eye, ways: tuple[str, ...], goals: tuple[Place, ...]) -> bool:
    """Whether it surely meets somebody on these walks, and each of them head-on; kept for the eye."""
    seen = coverage_by(home, eye)
    met = [head_on(seen, eye.at, walk.legs) for walk in _walks(home, ways, goals).values()]
    sure = [each for each in met if each is not None]
    return bool(sure) and all(sure)


def _rooms_of(seen: Coverage, goals: tuple[Place, ...]) -> tuple[Place, ...]:
    return tuple(goal for goal in goals if goal.room == seen.room)


@check
def pet_on_furniture(home: Home) -> Said:
    """Where a detector leaves out the floor, no pet climbs into its view."""
    devices = by_id(motion_detectors(home))
    for seen in coverages(home):
        device = devices[seen.device]
        if device.ignores_pets_kg is None:
            continue
        view = joined_area(seen.possible)
        for pet in home.household.pets:
            if seen.room not in pet.free_when_empty:
                continue
            for piece in home.site.furniture:
                high = ON_FLOOR_M < piece.height_m <= pet.reaches_m
                if high and piece.room == seen.room and piece.outline and joined_area([piece.outline]).intersects(view):
                    yield note(
                        device.id,
                        f"{said(device.name)} may be tripped by {said(pet.kind)}, which gets onto "
                        f"{said(piece.name)}, {piece.height_m:g} m high and in its view. It ignores pets only on "
                        "the floor.",
                        "Turn the detector away from it, keep the pet out, or use contacts.",
                        "practice",
                        figure=f"{piece.height_m:g} m",
                        limit=f"{ON_FLOOR_M:g} m",
                    )


@check
def pet_seen_from_another_room(home: Home) -> Said:
    """No detector looks through a door into a room where a pet it would see is free."""
    devices, known = by_id(motion_detectors(home)), rooms(home)
    for seen in coverages(home):
        device, view = devices[seen.device], joined_area(seen.possible)
        for pet in home.household.pets:
            if seen.room in pet.free_when_empty or not (why := _sees(device, pet)):
                continue
            for room in (known[r] for r in pet.free_when_empty if r in known):
                if room.storey == seen.storey and room.outline and _shared_m2(view, room.outline) > SEEN_M2:
                    message = (
                        f"{said(device.name)} may see into {said(room.name)} while inside doors are open. "
                        f"{said(pet.kind)} is free there while nobody is in, and {why}."
                    )
                    yield should(
                        device.id,
                        message,
                        "Close the door between them when you set the alarm, or turn the detector.",
                        _SOURCE,
                    )


def _sees(device: Device, pet: Pet) -> str:
    """Why a detector may see the pet; "" where its manual says it does not."""
    if pet.reaches_m > ON_FLOOR_M:
        return f"climbs {pet.reaches_m:g} m high"
    if device.ignores_pets_kg is None:
        return "this detector is not known to ignore pets"
    if pet.mass_kg is None:
        return "its weight is not known"
    if pet.mass_kg > device.ignores_pets_kg:
        return f"weighs more than the {device.ignores_pets_kg:g} kg that the detector ignores"
    return ""


def _shared_m2(view: "BaseGeometry", outline: Outline) -> float:
    return float(joined_area([outline]).intersection(view).area)


@check
def unit_on_the_entry_route(home: Home) -> Said:
    """The control unit is not on the way from an entry/exit door to the keypad."""
    doors = {door.room for door in entry_exit_doors(home)}
    passed = route_rooms(home) - doors
    for unit in present(home, DeviceKind.CONTROL_UNIT):
        if unit.room in passed:
            message = (
                f"The control unit is in {room_name(home, unit.room)}, on the way from an entry/exit door "
                "to the keypad. An intruder passes it while the entry delay runs."
            )
            yield should(unit.id, message, "Mount it in a guarded room away from that route.", "asnzs2201_unit_place")


@check
def unit_reached_unseen(home: Home) -> Said:
    """Whoever comes in by a delayed or bare way is noticed by a further detector before they are at the unit."""
    plan, reach = plan_from_home(home), within_reach(home)
    delayed = {door.id for door in entry_exit_doors(home)}
    ways = tuple(
        o.id
        for o in home.site.openings
        if o.id in reach and o.at is not None and plan.drawn(o.room) and (o.id in delayed or not guards(home, o.id))
    )
    for unit in present(home, DeviceKind.CONTROL_UNIT):
        place = place_of_device(unit)
        if place is None or not plan.drawn(place.room):
            continue
        walks = _walks(home, ways, (place,))
        names = [
            said(opening.name)
            for opening in home.site.openings
            if (walk := walks.get((opening.id, place))) is not None and not _noticed(home, walk, opening.id, place)
        ]
        if names:
            message = (
                f"The control unit: whoever comes in by {_few(names)} can reach it and is not computed to be seen "
                "on the way."
            )
            remedy = "Watch its room or the way to it, or fit a contact on an inside door on that way."
            yield should(unit.id, message, remedy, _SOURCE)


def _few(names: list[str]) -> str:
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return f"{' or '.join(names[:3])}{more}"


def _noticed(home: Home, walk: Walk, way: str, end: Place) -> bool:
    """By a motion detector that surely sees four steps any way, or a contact on an inside door."""
    inside_doors = {p for device in at_work(home, DeviceKind.CONTACT) for p in device.passages}
    if inside_doors & set(walk.doors):
        return True
    known = rooms(home)
    eyes = [eye_of(device, known[device.room]) for device in motion_detectors(home) if device.room in known]
    return any(_sees_four_steps(home, eye, way, end) for eye in eyes if eye is not None)


@asked
def _sees_four_steps(home: Home, eye: Eye, way: str, end: Place) -> bool:
    """Whether a detector surely sees four steps any way of the walk from a way in to a place; kept for the eye."""
    seen, walk = coverage_by(home, eye), walk_from(home, way, end)
    return walk is not None and four_steps_after_m(walk.legs, seen.storey, seen.straight) is not None


def _walks(home: Home, ways: tuple[str, ...], ends: tuple[Place, ...]) -> dict[tuple[str, Place], Walk]:
    """The quickest walk from each way in to each end, where there is one."""
    found = {(way, end): walk_from(home, way, end) for way in ways for end in ends}
    return {ends: walk for ends, walk in found.items() if walk is not None}


GROUP = CheckGroup(
    "placement_walks",
    (
        meets_head_on,
        pet_on_furniture,
        pet_seen_from_another_room,
        unit_on_the_entry_route,
        unit_reached_unseen,
    ),
)
