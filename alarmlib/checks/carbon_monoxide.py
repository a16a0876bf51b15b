"""Carbon monoxide: where alarms are wanted, by the household's own list, and where each may hang."""

from functools import partial
from math import hypot

from alarmlib.calc.hazard_places import sleeping_areas
from alarmlib.calc.plan import plan_from_home
from alarmlib.checks.alarm_lists import carbon_monoxide_lists, gap, hangs_in
from alarmlib.checks.check import Findings, check, must, should
from alarmlib.checks.lookup import of_kind, room_name, rooms, said, sleeping_rooms
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import FixtureKind
from alarmlib.model.hazards import HazardFacts, Mount
from alarmlib.model.site import RoomUse, Yes
from alarmlib.model.words import DeviceKind, RuleSet
from alarmlib.units import Kind, show
from alarmlib.units.kinds import FOOT_M

COOKER_CLEAR_M = 5 * FOOT_M
APPLIANCE_CLEAR_M = 15 * FOOT_M
APPLIANCE_LEAST_M, APPLIANCE_MOST_M = 1.0, 3.0  # EN 50292
CEILING_FROM_WALL_M, WALL_BELOW_CEILING_M = 0.3, 0.15  # EN 50292
_SLACK_M = 0.005
_EN = frozenset({RuleSet.EUROPE, RuleSet.BRITAIN})
_KEEP_OFF = frozenset({RoomUse.GARAGE, RoomUse.KITCHEN, RoomUse.BATH})
_NO_LEVEL = frozenset({RoomUse.GARAGE, RoomUse.ATTIC, RoomUse.WORKSHOP})
_PLACES = "Fit listed CO alarms outside each sleeping area; check with your authority."
_READS = ("site", "household.people", "devices", "rules", "hazards", "units")
_NO_FACTS = HazardFacts()


def cause(home: Home) -> str:
    """What in the home may give off carbon monoxide; "" when nothing is known to."""
    site = home.site
    burning = any(fixture.kind is FixtureKind.FUEL_APPLIANCE for fixture in site.fixtures)
    if site.fuel_appliances is Yes.YES or burning or any(room.fuel_appliance for room in site.rooms):
        return "a fuel-burning appliance"
    return "a garage joined to the house" if site.attached_garage is Yes.YES else ""


@check(*_READS)
def alarm_at_all(home: Home) -> Findings:
    """A home with a fuel-burning appliance or an attached garage has CO alarms."""
    lists = carbon_monoxide_lists(home)
    if cause(home) and not lists.household and not lists.unit:
        message = f"There is {cause(home)}, but no carbon monoxide alarm is known."
        answered = all(room.carbon_monoxide_alarm is Yes.NO for room in home.site.rooms)
        strict = home.rules.rule_set is RuleSet.US and answered and bool(home.site.rooms)
        yield (must if strict else should)("site", message, _PLACES, "irc_r315")


@check(*_READS)
def outside_sleeping_areas(home: Home) -> Findings:
    """Outside each sleeping area, near the bedrooms, hangs a CO alarm of the household's own list."""
    lists = carbon_monoxide_lists(home)
    if not cause(home) or not lists.required:
        return
    for outside, beds in sleeping_areas(plan_from_home(home), sleeping_rooms(home) & rooms(home).keys()):
        names = ", ".join(room_name(home, bed) for bed in sorted(beds))
        message = (
            f"There is {cause(home)}, and no carbon monoxide alarm of the household's own is known outside {names}."
        )
        source = "irc_r315" if home.rules.rule_set is RuleSet.US else "co_core"
        found = gap(home, lists, min(outside), hangs_in(outside), message, source)
        if found:
            yield found


@check(*_READS)
def in_bedrooms_with_fire(home: Home) -> Findings:
    """A bedroom with a fuel-burning appliance, or every bedroom where the city asks for it, has a CO alarm."""
    lists = carbon_monoxide_lists(home)
    for bed in sorted(sleeping_rooms(home) & rooms(home).keys()):
        burning = rooms(home)[bed].fuel_appliance
        burning |= any(f.kind is FixtureKind.FUEL_APPLIANCE and f.room == bed for f in home.site.fixtures)
        if burning or (home.hazards.carbon_monoxide_in_bedrooms and cause(home)):
            message = f"No carbon monoxide alarm of the household's own is known in {room_name(home, bed)}."
            source = "irc_r315" if burning else "co_city"
            found = gap(home, lists, bed, hangs_in([bed]), message, source)
            if found:
                yield found


@check(*_READS)
def on_every_level(home: Home) -> Findings:
    """Every level has a CO alarm; advice."""
    lists = carbon_monoxide_lists(home)
    for storey in home.site.storeys if cause(home) and lists.required else ():
        inside = {
            r.id for r in home.site.rooms if r.storey == storey.id and r.use not in (RoomUse.GARAGE, RoomUse.ATTIC)
        }
        if inside and not any(alarm.room in inside for alarm in lists.required):
            message = f"No carbon monoxide alarm of the household's own is known on {said(storey.name)}."
            yield should(storey.id, message, "Add one; check with your authority.", "co_levels")


@check(*_READS)
def where_it_should_not_hang(home: Home) -> Findings:
    """A CO alarm hangs in no garage, kitchen, bathroom or furnace room, out of sun and moving air."""
    for device in of_kind(home, DeviceKind.CARBON_MONOXIDE):
        room = rooms(home).get(device.room)
        if room is not None and room.use in _KEEP_OFF:
            message = f"{said(device.name)} hangs in {room_name(home, room.id)}, used as {room.use.text}."
            yield should(device.id, message, "Hang it outside that room, unless its papers say so.", "co_keep_off")
        if (device.hazard or _NO_FACTS).in_air_stream is Yes.YES:
            message = f"{said(device.name)} hangs in the stream of an air outlet."
            yield should(device.id, message, "Move it out of the stream.", "co_keep_off")


@check(*_READS)
def distance_to_appliances(home: Home) -> Findings:
    """A CO alarm keeps its distance from cookers and appliances in its room, and in Europe is not too far either."""
    for device in of_kind(home, DeviceKind.CARBON_MONOXIDE):
        for fixture in home.site.fixtures:
            if fixture.room != device.room or fixture.at is None or device.at is None:
                continue
            far_m = hypot(fixture.at[0] - device.at[0], fixture.at[1] - device.at[1])
            least_m, most_m, source = _limits(home, fixture.kind)
            if far_m < least_m - _SLACK_M or far_m > most_m + _SLACK_M:
                near, limit_m = far_m < least_m, least_m if far_m < least_m else most_m
                shown = partial(show, kind=Kind.LENGTH, system=home.units)
                numbers = {"figure": shown(far_m), "limit": shown(limit_m)}
                message = f"{said(device.name)} hangs too {'near' if near else 'far from'} {said(fixture.name)}."
                yield should(device.id, message, "Move it where possible; its papers decide.", source, **numbers)


def _limits(home: Home, kind: FixtureKind) -> tuple[float, float, str]:
    """Least and most distance of a CO alarm from a fixture of that kind in its room, m, and the source."""
    far = float("inf")
    if kind is FixtureKind.FUEL_APPLIANCE and home.rules.rule_set in _EN:
        return APPLIANCE_LEAST_M, APPLIANCE_MOST_M, "en50292"
    if kind is FixtureKind.FUEL_APPLIANCE:
        return APPLIANCE_CLEAR_M, far, "co_keep_off"
    return (COOKER_CLEAR_M, far, "co_keep_off") if kind is FixtureKind.COOKER else (0.0, far, "co_keep_off")


@check(*_READS)
def height_by_en50292(home: Home) -> Findings:
    """By European practice: on the ceiling 300 mm from walls, on a wall 150 mm below the ceiling."""
    if home.rules.rule_set not in _EN:
        return
    for device in of_kind(home, DeviceKind.CARBON_MONOXIDE):
        clear_m, least_m = _clearance_m(home, device)
        if clear_m is not None and clear_m < least_m - _SLACK_M:
            where = "wall" if device.mount is Mount.CEILING else "ceiling"
            message = f"{said(device.name)} hangs too near the {where}."
            yield should(device.id, message, "Move it; its papers decide.", "en50292", limit=f"{1000 * least_m:g} mm")


def _clearance_m(home: Home, device: Device) -> tuple[float | None, float]:
    facts, room = device.hazard or _NO_FACTS, rooms(home).get(device.room)
    if device.mount is Mount.CEILING:
        return facts.from_wall_m, CEILING_FROM_WALL_M
    if device.mount not in (Mount.INSIDE_WALL, Mount.OUTSIDE_WALL):
        return None, 0.0
    down_m = facts.below_ceiling_m
    if down_m is None and room is not None and room.ceiling_m is not None and device.height_m is not None:
        down_m = room.ceiling_m - device.height_m
    return down_m, WALL_BELOW_CEILING_M


CHECKS = (
    alarm_at_all,
    outside_sleeping_areas,
    in_bedrooms_with_fire,
    on_every_level,
    where_it_should_not_hang,
    distance_to_appliances,
    height_by_en50292,
)
