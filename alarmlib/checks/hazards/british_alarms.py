"""Britain: Approved Document B and BS 5839-6, as published pages tell them; the authority decides."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import hypot

from alarmlib.calc.hazards.hazard_places import At, farthest_m
from alarmlib.checks.check import CheckGroup, Said, check, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.hazards.alarm_lists import SHELTER, Lists, any_in, gap, smoke_lists
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import CeilingShape, FixtureKind
from alarmlib.model.hazards import Category, HazardFacts, Mount
from alarmlib.model.questions import at_work, present
from alarmlib.model.site import PassageKind, Room, RoomUse, Yes
from alarmlib.model.words import DeviceKind, Link
from alarmlib.rules import rules_of
from alarmlib.rules.country import Categories
from alarmlib.rules.rule import Limit, Span
from alarmlib.units import Kind, show

_SLACK_M = 0.005
_ROUTES = frozenset({RoomUse.HALL})
_HIGH_RISK = frozenset({RoomUse.KITCHEN, RoomUse.LIVING})
_NO_FACTS = HazardFacts()
_REMEDY = "Move it, or add one; check with your authority."
_ADD = "Add one, linked to the others; check with your authority."


def _asked(home: Home) -> Categories | None:
    """The measures by category, where the country has them."""
    return rules_of(home).fire.categories


def _numbers(home: Home, is_m: float, limit_m: float) -> dict[str, str]:
    shown = partial(show, kind=Kind.LENGTH, system=home.units)
    return {"figure": shown(is_m), "limit": shown(limit_m), "margin": shown(limit_m - is_m)}


@check
def rooms_of_the_category(home: Home) -> Said:
    """Every room that the chosen category covers has a smoke alarm, or off the escape routes a heat alarm."""
    asked = _asked(home)
    if asked is None:
        return
    lists, level = _with_heat(home), home.hazards.category.text.partition(":")[0]
    for room in home.site.rooms:
        if _wanted(home, room):
            message = f"{said(room.name)}: {level} covers this room, but no household alarm is known there."
            found = gap(
                home,
                lists,
                subject=room.id,
                covers=any_in([room.id]),
                missing=message,
                source=asked.rooms.source,
                remedy=_ADD,
            )
            if found:
                yield found


def _with_heat(home: Home) -> Lists:
    """The smoke alarms of both lists, and the heat alarms off the escape routes."""
    routes = {room.id for room in home.site.rooms if room.use in _ROUTES}
    heat = [device for device in at_work(home, DeviceKind.HEAT) if device.room and device.room not in routes]
    own, unit = (
        tuple(At(d.id, d.room, d.at) for d in heat if (d.link is Link.OWN) is own_link) for own_link in (True, False)
    )
    smoke = smoke_lists(home)
    return replace(smoke, household=(*smoke.household, *own), unit=(*smoke.unit, *unit))


def _wanted(home: Home, room: Room) -> bool:
    category = home.hazards.category
    if category is Category.LD1:
        return room.use is not RoomUse.BATH and room.use not in SHELTER
    return room.use in _ROUTES or (category is Category.LD2 and room.use in _HIGH_RISK)


@check
def place_on_ceiling_or_wall(home: Home) -> Said:
    """Smoke and heat alarms keep 300 mm from walls and lights; the sensor is 25 to 600 mm (heat 150 mm) down."""
    asked = _asked(home)
    if asked is None:
        return
    for device in present(home, DeviceKind.SMOKE, DeviceKind.HEAT):
        near_m = (device.hazard or _NO_FACTS).from_wall_m if device.mount is Mount.CEILING else None
        if near_m is not None and near_m < asked.clear.value - _SLACK_M:
            message = f"{said(device.name)} is too near the wall, so smoke or heat may reach it late."
            numbers = _numbers(home, near_m, asked.clear.value)
            yield should(device.id, message, _REMEDY, asked.clear.source, **numbers)
        yield from _down(home, device, asked.smoke_down if device.kind is DeviceKind.SMOKE else asked.heat_down)
        yield from _lights(home, device, asked.clear)


def _down(home: Home, device: Device, down: Span) -> Iterator[Finding]:
    """How far below the ceiling its sensor is."""
    down_m = _below_ceiling_m(home, device)
    if down_m is not None and down_m > down.most + _SLACK_M:
        message = f"{said(device.name)} is too far below the ceiling, so smoke or heat may reach it late."
        yield should(device.id, message, _REMEDY, down.source, **_numbers(home, down_m, down.most))
    if down_m is not None and device.mount is not Mount.CEILING and down_m < down.least - _SLACK_M:
        message = f"{said(device.name)} is too close under the ceiling."
        yield should(device.id, message, _REMEDY, down.source, **_numbers(home, down_m, down.least))


def _below_ceiling_m(home: Home, device: Device) -> float | None:
    """How far below the ceiling, m: as measured, for one on a wall also from both heights."""
    facts, room = device.hazard or _NO_FACTS, rooms(home).get(device.room)
    on_wall = device.mount in (Mount.INSIDE_WALL, Mount.OUTSIDE_WALL)
    if facts.below_ceiling_m is not None or not on_wall:
        return facts.below_ceiling_m
    if room is None or room.ceiling_m is None or device.height_m is None:
        return None
    return max(0.0, room.ceiling_m - device.height_m)


def _lights(home: Home, device: Device, clear: Limit) -> Iterator[Finding]:
    for light in home.site.fixtures:
        if light.kind is FixtureKind.LIGHT and light.room == device.room and light.at and device.at:
            far_m = hypot(light.at[0] - device.at[0], light.at[1] - device.at[1])
            if far_m < clear.value - _SLACK_M:
                message = f"{said(device.name)} is too near the light {said(light.name)}."
                yield should(device.id, message, _REMEDY, clear.source, **_numbers(home, far_m, clear.value))


@check
def near_heaters(home: Home) -> Said:
    """No alarm is right by a heater, an air outlet or above the stairs."""
    asked = _asked(home)
    if asked is None:
        return
    kinds = (FixtureKind.HEATER, FixtureKind.AIR_OUTLET)
    for device in present(home, DeviceKind.SMOKE, DeviceKind.HEAT):
        for fixture in home.site.fixtures:
            if fixture.kind in kinds and fixture.room == device.room and fixture.at and device.at:
                far_m = hypot(fixture.at[0] - device.at[0], fixture.at[1] - device.at[1])
                if far_m < asked.clear.value - _SLACK_M:
                    message = f"{said(device.name)} is right by {said(fixture.name)}."
                    numbers = _numbers(home, far_m, asked.clear.value)
                    yield should(device.id, message, _REMEDY, asked.by_heaters_and_stairs.source, **numbers)
        for stairs in home.site.passages:
            if stairs.kind is PassageKind.STAIRS and _over(device, stairs.first, stairs.at, stairs.width_m):
                message = f"{said(device.name)} is over the stairs, where you cannot reach it without danger."
                yield should(device.id, message, _REMEDY, asked.by_heaters_and_stairs.source)


def _over(device: Device, room: str, at: tuple[float, float] | None, width_m: float) -> bool:
    if device.room != room or at is None or device.at is None:
        return False
    return hypot(at[0] - device.at[0], at[1] - device.at[1]) < width_m / 2


@check
def kitchen_open_to_the_stairs(home: Home) -> Said:
    """A kitchen that is open to the stairs has a heat alarm, linked to the others."""
    asked = _asked(home)
    if asked is None:
        return
    stairs = {room for p in home.site.passages if p.kind is PassageKind.STAIRS for room in (p.first, p.second)}
    for room in home.site.rooms:
        opens = [p for p in home.site.passages if p.kind is PassageKind.DOORWAY and room.id in (p.first, p.second)]
        open_to = {end for p in opens for end in (p.first, p.second)} | {room.id}
        if room.use is RoomUse.KITCHEN and open_to & stairs:
            heat = [d for d in at_work(home, DeviceKind.HEAT) if d.room == room.id]
            linked = any(d.hazard and d.hazard.sounds_with_others is Yes.YES for d in heat)
            if not linked:
                message = f"{room_name(home, room.id)} is open to the stairs and has no linked heat alarm."
                yield should(room.id, message, "Add one. Check with your authority.", asked.open_kitchen.source)


@check
def under_a_slope(home: Home) -> Said:
    """Under a slope an alarm is within 900 mm of the apex across, and 600 mm (heat 150 mm) of it down."""
    asked = _asked(home)
    if asked is None:
        return
    for device in present(home, DeviceKind.SMOKE, DeviceKind.HEAT):
        room, facts = rooms(home).get(device.room), device.hazard or _NO_FACTS
        if room is None or room.ceiling not in (CeilingShape.PEAKED, CeilingShape.SLOPING):
            continue
        down = asked.smoke_below_apex if device.kind is DeviceKind.SMOKE else asked.heat_below_apex
        for is_m, limit in ((facts.from_peak_m, asked.apex), (facts.below_peak_m, down)):
            if is_m is not None and is_m > limit.value + _SLACK_M:
                message = (
                    f"{said(device.name)} is too far from the highest line of the ceiling, so smoke or heat may "
                    "reach it late."
                )
                yield should(device.id, message, _REMEDY, limit.source, **_numbers(home, is_m, limit.value))


@check
def within_reach_in_the_room(home: Home) -> Said:
    """No point of the room lies farther than 7.5 m from its smoke alarms, 5.3 m from its heat alarms."""
    asked = _asked(home)
    if asked is None:
        return
    for kind, limit in ((DeviceKind.SMOKE, asked.smoke_reach), (DeviceKind.HEAT, asked.heat_reach)):
        for room in home.site.rooms:
            here = [d for d in at_work(home, kind) if d.room == room.id]
            places = [d.at for d in here if d.at is not None]
            if here and room.outline and len(places) == len(here):
                far_m = farthest_m(room.outline, places)
                if far_m > limit.value + _SLACK_M:
                    message = f"{room_name(home, room.id)}: a part of it is too far from its {kind.text}."
                    numbers = _numbers(home, far_m, limit.value)
                    yield should(here[0].id, message, _REMEDY, limit.source, **numbers)


GROUP = CheckGroup(
    "british_alarms",
    (
        rooms_of_the_category,
        place_on_ceiling_or_wall,
        near_heaters,
        kitchen_open_to_the_stairs,
        under_a_slope,
        within_reach_in_the_room,
    ),
)
