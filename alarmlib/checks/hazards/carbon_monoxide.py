"""Carbon monoxide: where alarms are wanted, by the household's own list, and where each may be."""

from functools import partial
from math import hypot

from alarmlib.calc.hazards.hazard_places import sleeping_areas
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.checks.check import CheckGroup, Said, check, should, weigh
from alarmlib.checks.hazards.alarm_lists import any_in, carbon_monoxide_lists, gap, no_way_out
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import FixtureKind
from alarmlib.model.hazards import HazardFacts, Mount
from alarmlib.model.questions import present, sleeping_rooms
from alarmlib.model.site import RoomUse, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of
from alarmlib.units import Kind, show
from alarmlib.units.kinds import FOOT_M

COOKER_CLEAR_M = 5 * FOOT_M
APPLIANCE_CLEAR_M = 15 * FOOT_M
_SLACK_M = 0.005
_KEEP_OFF = frozenset({RoomUse.GARAGE, RoomUse.KITCHEN, RoomUse.BATH})
_NO_LEVEL = frozenset({RoomUse.GARAGE, RoomUse.ATTIC, RoomUse.WORKSHOP})
_PLACES = "Fit listed CO alarms outside each sleeping area; check with your authority."
_NO_FACTS = HazardFacts()


def cause(home: Home) -> str:
    """What in the home may give off carbon monoxide; "" when nothing is known to."""
    site = home.site
    if site.fuel_appliances is Yes.YES or _burning(home):
        return "a fuel-burning appliance"
    return "a garage joined to the house" if site.attached_garage is Yes.YES else ""


def _new_work(home: Home) -> bool:
    """Whether a model code that binds is about this home: a new one, or work that needs a permit."""
    return rules_of(home).carbon_monoxide.places.binds and home.hazards.permit_work


@check
def alarm_at_all(home: Home) -> Said:
    """A home with a fuel-burning appliance or an attached garage has CO alarms."""
    lists = carbon_monoxide_lists(home)
    if cause(home) and not lists.household and not lists.unit:
        message = f"Carbon monoxide: there is {cause(home)}, but no carbon monoxide alarm is known."
        binds = _new_work(home) and lists.answered
        yield weigh(binds, "site", message, _PLACES, rules_of(home).carbon_monoxide.places.source)


@check
def unit_alone(home: Home) -> Said:
    """Who has no household CO alarm at all relies on the control unit's detectors alone."""
    lists = carbon_monoxide_lists(home)
    if lists.unit and not (lists.household or lists.alone):
        message = "Carbon monoxide: only detectors on the control unit watch for it; no household CO alarm is known."
        remedy = "Check with your authority whether these detectors are enough. Fit listed alarms unless it says so."
        yield should("site", message, remedy, "nfpa72_either_list")


@check
def outside_sleeping_areas(home: Home) -> Said:
    """Outside each sleeping area, near the bedrooms, is a CO alarm of the household's own list."""
    lists = carbon_monoxide_lists(home)
    if not cause(home) or not lists.required:
        return
    known = sleeping_rooms(home) & rooms(home).keys()
    for outside, beds in sleeping_areas(plan_from_home(home), known, no_way_out(home)):
        names = ", ".join(room_name(home, bed) for bed in sorted(beds))
        message = f"{names}: no household carbon monoxide alarm is known outside it, and there is {cause(home)}."
        binds = _new_work(home)
        found = gap(
            home,
            lists,
            min(outside),
            any_in(outside),
            message,
            rules_of(home).carbon_monoxide.places.source,
            binds=binds,
        )
        if found:
            yield found


@check
def in_bedrooms_with_fire(home: Home) -> Said:
    """A bedroom with a fuel-burning appliance, or every bedroom where the city asks for it, has a CO alarm."""
    lists, fire = carbon_monoxide_lists(home), _burning(home)
    for bed in sorted(sleeping_rooms(home) & rooms(home).keys()):
        burning = bed in fire
        if burning or (home.hazards.carbon_monoxide_in_bedrooms and cause(home)):
            message = f"{room_name(home, bed)}: no household carbon monoxide alarm is known there."
            if not burning:
                message += " Your city asks for one in every bedroom, as you entered it."
            source = rules_of(home).carbon_monoxide.bedroom_with_appliance.source if burning else "owner"
            binds = not burning or _new_work(home)
            found = gap(home, lists, bed, any_in([bed]), message, source, binds=binds)
            if found:
                yield found


@check
def on_every_level(home: Home) -> Said:
    """Every level has a CO alarm; advice."""
    lists = carbon_monoxide_lists(home)
    for storey in home.site.storeys if cause(home) and (lists.required or lists.idle) else ():
        inside = {r.id for r in home.site.rooms if r.storey == storey.id and r.use not in _NO_LEVEL}
        message = f"{said(storey.name)}: no household carbon monoxide alarm is known on this level."
        remedy = "Add one; check with your authority."
        found = gap(
            home, lists, subject=storey.id, covers=any_in(inside), missing=message, source="co_levels", remedy=remedy
        )
        if inside and found:
            yield found


@check
def where_it_should_not_be(home: Home) -> Said:
    """A CO alarm is in no garage, kitchen, bathroom or furnace room, out of moving air.

    European practice wants it in the room of a fuel-burning appliance, a kitchen too.
    """
    burning = _burning(home) if rules_of(home).carbon_monoxide.beside else frozenset()
    for device in present(home, DeviceKind.CARBON_MONOXIDE):
        room = rooms(home).get(device.room)
        wanted = device.room in burning
        if room is not None and room.use in _KEEP_OFF and not (wanted and room.use is RoomUse.KITCHEN):
            message = (
                f"{said(device.name)} is in {room_name(home, room.id)}, used as {room.use.text}, where a CO alarm "
                "may fail or give false alarms."
            )
            yield should(
                device.id, message, "Mount it outside that room, unless its manual says otherwise.", "co_keep_off"
            )
        if (device.hazard or _NO_FACTS).in_air_stream is Yes.YES:
            message = f"{said(device.name)} is in the stream of an air outlet, which may keep the gas away."
            yield should(device.id, message, "Move it out of the stream.", "co_keep_off")


def _burning(home: Home) -> frozenset[str]:
    """The rooms with a fuel-burning appliance."""
    fixed = {f.room for f in home.site.fixtures if f.kind is FixtureKind.FUEL_APPLIANCE}
    return frozenset(fixed | {room.id for room in home.site.rooms if room.fuel_appliance})


@check
def distance_to_appliances(home: Home) -> Said:
    """A CO alarm keeps its distance from cookers and appliances in its room, and in Europe is not too far either."""
    for device in present(home, DeviceKind.CARBON_MONOXIDE):
        for fixture in home.site.fixtures:
            if fixture.room != device.room or fixture.at is None or device.at is None:
                continue
            far_m = hypot(fixture.at[0] - device.at[0], fixture.at[1] - device.at[1])
            least_m, most_m, source = _limits(home, fixture.kind)
            if far_m < least_m - _SLACK_M or far_m > most_m + _SLACK_M:
                near, limit_m = far_m < least_m, least_m if far_m < least_m else most_m
                shown = partial(show, kind=Kind.LENGTH, system=home.units)
                numbers = {"figure": shown(far_m), "limit": shown(limit_m)}
                message = f"{said(device.name)} is too {'near' if near else 'far from'} {said(fixture.name)}."
                yield should(device.id, message, "Move it where possible. Its manual decides.", source, **numbers)


def _limits(home: Home, kind: FixtureKind) -> tuple[float, float, str]:
    """Least and most distance of a CO alarm from a fixture of that kind in its room, m, and the source."""
    far, beside = float("inf"), rules_of(home).carbon_monoxide.beside
    if kind is FixtureKind.FUEL_APPLIANCE and beside:
        span = beside.from_appliance
        return span.least, span.most, span.source
    if kind is FixtureKind.FUEL_APPLIANCE:
        return APPLIANCE_CLEAR_M, far, "co_keep_off"
    return (COOKER_CLEAR_M, far, "co_keep_off") if kind is FixtureKind.COOKER else (0.0, far, "co_keep_off")


@check
def height_by_en50292(home: Home) -> Said:
    """By European practice: on the ceiling 300 mm from walls, on a wall 150 mm below the ceiling."""
    beside = rules_of(home).carbon_monoxide.beside
    if beside is None:
        return
    for device in present(home, DeviceKind.CARBON_MONOXIDE):
        limit = beside.from_wall if device.mount is Mount.CEILING else beside.below_ceiling
        clear_m = _clearance_m(home, device)
        if clear_m is not None and clear_m < limit.value - _SLACK_M:
            where = "wall" if device.mount is Mount.CEILING else "ceiling"
            message = f"{said(device.name)} is too near the {where}."
            shown = f"{1000 * limit.value:g} mm"
            yield should(device.id, message, "Move it. Its manual decides.", limit.source, limit=shown)


def _clearance_m(home: Home, device: Device) -> float | None:
    """How far a CO alarm is from the wall, or on a wall below the ceiling, m."""
    facts, room = device.hazard or _NO_FACTS, rooms(home).get(device.room)
    if device.mount is Mount.CEILING:
        return facts.from_wall_m
    if device.mount not in (Mount.INSIDE_WALL, Mount.OUTSIDE_WALL):
        return None
    down_m = facts.below_ceiling_m
    if down_m is None and room is not None and room.ceiling_m is not None and device.height_m is not None:
        down_m = room.ceiling_m - device.height_m
    return down_m


GROUP = CheckGroup(
    "carbon_monoxide",
    (
        alarm_at_all,
        unit_alone,
        outside_sleeping_areas,
        in_bedrooms_with_fire,
        on_every_level,
        where_it_should_not_be,
        distance_to_appliances,
        height_by_en50292,
    ),
)
