"""Whether each smoke and heat device is where it can work: cookers, steam, fans, cold, heat, peaks and walls."""

from collections.abc import Iterator
from functools import partial
from math import hypot

from alarmlib.calc.hazards.hazard_places import farthest_m, open_groups
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.hazards.alarm_lists import SHELTER, any_in, gap, smoke_lists
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import CeilingShape, Fixture, FixtureKind
from alarmlib.model.hazards import Edition, HazardFacts, Mount
from alarmlib.model.questions import at_work, present, sleeping_rooms
from alarmlib.model.site import PassageKind, Room, RoomUse, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of
from alarmlib.rules.country import AgainstCeiling
from alarmlib.rules.rule import Limit, Rule
from alarmlib.units import Kind, rounded, show
from alarmlib.units.kinds import INCH_M

CLEAR_M = 36 * INCH_M  # bathroom door, supply register, tip of a fan's blade
COLD_C, HOT_C = 4.0, 38.0  # 40 °F and 100 °F
RATING_OVER_C = 11.0  # 20 °F
_SLACK_M = 0.005
_UNHEATED = frozenset({RoomUse.ATTIC, RoomUse.GARAGE, RoomUse.PORCH})
_NO_FACTS = HazardFacts()


def _smoke(home: Home) -> tuple[Device, ...]:
    return present(home, DeviceKind.SMOKE)


def _fixtures(home: Home, kind: FixtureKind) -> list[Fixture]:
    return [fixture for fixture in home.site.fixtures if fixture.kind is kind and fixture.at is not None]


def _facts(device: Device) -> HazardFacts:
    return device.hazard or _NO_FACTS


def _metres(home: Home, is_m: float, limit_m: float) -> dict[str, str]:
    shown = partial(show, kind=Kind.LENGTH, system=home.units)
    return {"figure": shown(is_m), "limit": shown(limit_m), "margin": shown(is_m - limit_m)}


@check
def near_a_bathroom_door(home: Home) -> Said:
    """A smoke device keeps 3 ft from the door of a room with a tub or shower."""
    steamy = {room.id for room in home.site.rooms if room.tub_or_shower is Yes.YES}
    for device in _smoke(home):
        for passage in home.site.passages:
            ends = {passage.first, passage.second}
            if passage.at and device.at and ends & steamy and device.room in ends:
                far_m = hypot(passage.at[0] - device.at[0], passage.at[1] - device.at[1])
                if far_m < CLEAR_M - _SLACK_M:
                    message = f"{said(device.name)} is too near a bathroom's door: steam may trip it."
                    remedy = "Move it away, unless a required alarm has no other place."
                    yield should(device.id, message, remedy, "nfpa72_clearances", **_metres(home, far_m, CLEAR_M))


@check
def in_moving_air(home: Home) -> Said:
    """A smoke device keeps 3 ft from air outlets and from the tips of fan blades, and out of the stream."""
    things = {FixtureKind.AIR_OUTLET: "an air outlet", FixtureKind.CEILING_FAN: "the tip of a fan's blade"}
    for device in _smoke(home):
        for kind, called in things.items():
            for fixture in _fixtures(home, kind):
                if device.at and fixture.at and fixture.room == device.room:
                    far_m = hypot(fixture.at[0] - device.at[0], fixture.at[1] - device.at[1]) - fixture.radius_m
                    if far_m < CLEAR_M - _SLACK_M:
                        message = f"{said(device.name)} is too near {called}: moving air may keep smoke away."
                        numbers = _metres(home, max(far_m, 0.0), CLEAR_M)
                        yield should(device.id, message, "Move it away.", "nfpa72_clearances", **numbers)
        if _facts(device).in_air_stream is Yes.YES:
            message = f"{said(device.name)} is in the stream of an air outlet, which may keep smoke away."
            yield should(device.id, message, "Move it out of the stream.", "nfpa72_clearances")


@check
def too_cold_or_hot(home: Home) -> Said:
    """No smoke device is where it gets colder than 40 °F or hotter than 100 °F."""
    for device in _smoke(home):
        room = rooms(home).get(device.room)
        if room is not None and (why := _out_of_range(home, room)):
            message = f"{said(device.name)} is in {room_name(home, room.id)}, {why}: a smoke alarm may fail there."
            remedy = "Add a heat detector there; it does not replace a required smoke alarm. Look in its manual."
            yield should(device.id, message, remedy, "nfpa72_clearances")


def _out_of_range(home: Home, room: Room) -> str:
    system = home.units
    if room.coldest_c is not None and room.coldest_c < COLD_C:
        return f"which gets as cold as {show(room.coldest_c, Kind.TEMPERATURE, system)}"
    if room.hottest_c is not None and room.hottest_c > HOT_C:
        return f"which gets as hot as {show(room.hottest_c, Kind.TEMPERATURE, system)}"
    unknown = room.coldest_c is None or room.hottest_c is None
    return f"used as {room.use.text}, which may get too cold or hot" if room.use in _UNHEATED and unknown else ""


@check
def on_a_cold_wall(home: Home) -> Said:
    """A smoke device is on an inside wall where outside walls are poorly insulated."""
    if home.site.outside_walls_insulated is Yes.NO:
        for device in _smoke(home):
            if device.mount is Mount.OUTSIDE_WALL:
                message = f"{said(device.name)} is on an outside wall without insulation: cold may keep smoke away."
                yield should(device.id, message, "Use an inside wall, or the ceiling.", "nfpa72_clearances")


@check
def at_the_stairs(home: Home) -> Said:
    """Smoke that rises by the stairs meets a device without a door between; a cellar's is near the stairs' foot."""
    plan, lists = plan_from_home(home), smoke_lists(home)
    shelter = {room.id for room in home.site.rooms if room.use in SHELTER}
    for passage in (each for each in plan.passages if each.kind is PassageKind.STAIRS):
        upper, lower = sorted(passage.rooms, key=plan.floor_m, reverse=True)
        (beside,) = open_groups(plan, [upper])
        told = f"{room_name(home, upper)}: smoke that rises by the stairs meets a door before it meets a smoke alarm."
        remedy = "Mount one at the head of the stairs."
        head = gap(
            home,
            lists,
            subject=upper,
            covers=any_in(beside),
            missing=told,
            source="nfpa72_clearances",
            remedy=remedy,
            binds=False,
        )
        if head and upper not in shelter:
            yield head
        told = f"{room_name(home, lower)}: there is no smoke alarm at the foot of the cellar's stairs."
        remedy = "Mount one on the ceiling near the foot of the stairs."
        foot = gap(
            home,
            lists,
            subject=lower,
            covers=any_in([lower]),
            missing=told,
            source="nfpa_tips",
            remedy=remedy,
            binds=False,
        )
        if foot and plan.floor_m(lower) < 0:
            yield foot


@check
def too_low_on_a_wall(home: Home) -> Said:
    """On a wall the top of a smoke device is within 12 in of the ceiling; Britain has its own measure."""
    measures = rules_of(home).fire.against_ceiling
    if measures is None:
        return
    limit = measures.on_wall
    for device in _smoke(home):
        down_m = _below_ceiling_m(home, device)
        on_wall = device.mount in (Mount.INSIDE_WALL, Mount.OUTSIDE_WALL)
        if on_wall and down_m is not None and down_m > limit.value + _SLACK_M:
            message = f"{said(device.name)} is too low on its wall, so smoke may reach it late."
            yield should(device.id, message, "Mount it higher.", limit.source, **_metres(home, down_m, limit.value))


def _below_ceiling_m(home: Home, device: Device) -> float | None:
    facts, room = _facts(device), rooms(home).get(device.room)
    if facts.below_ceiling_m is not None:
        return facts.below_ceiling_m
    if room is None or room.ceiling_m is None or device.height_m is None:
        return None
    return max(0.0, room.ceiling_m - device.height_m)


@check
def under_a_shaped_ceiling(home: Home) -> Said:
    """Under a peaked, sloping or raised ceiling a smoke device is near the highest part, not in its dead corner."""
    measures = rules_of(home).fire.against_ceiling
    if measures is None:
        return
    for device in _smoke(home):
        room = rooms(home).get(device.room)
        facts = _facts(device)
        if room is None or device.mount is not Mount.CEILING:
            continue
        if room.ceiling is CeilingShape.PEAKED:
            yield from _at_peak(home, device, facts.below_peak_m, measures, measures.peak)
        elif room.ceiling is CeilingShape.SLOPING:
            yield from _at_peak(home, device, facts.from_wall_m, measures, measures.slope)
        elif room.ceiling is CeilingShape.TRAY:
            yield from _below_raised(home, device, measures.raised)


def _below_raised(home: Home, device: Device, limit: Limit) -> Iterator[Finding]:
    below_m = _facts(device).below_peak_m or 0.0
    if below_m > limit.value + _SLACK_M:
        message = f"{said(device.name)} is below the raised part of the ceiling, so smoke may reach it late."
        numbers = _metres(home, below_m, limit.value)
        yield should(device.id, message, "Mount it in the highest part.", limit.source, **numbers)


def _at_peak(
    home: Home, device: Device, clear_m: float | None, measures: AgainstCeiling, rule: Rule
) -> Iterator[Finding]:
    across_m, near_m, least_m = _facts(device).from_peak_m, measures.near_peak_m, measures.clear_of_peak_m
    if across_m is not None and across_m > near_m + _SLACK_M:
        message = f"{said(device.name)} is too far from the highest line of the ceiling, so smoke may reach it late."
        yield should(
            device.id, message, "Mount it nearer to that line.", rule.source, **_metres(home, across_m, near_m)
        )
    if clear_m is not None and clear_m < least_m - _SLACK_M:
        message = f"{said(device.name)} is in the ceiling's highest corner, where air does not move."
        yield should(device.id, message, "Mount it a little lower.", rule.source, **_metres(home, clear_m, least_m))


@check
def in_a_dead_corner(home: Home) -> Said:
    """By editions before 2010 a ceiling device keeps 4 in from the wall, one on a wall is 4 to 12 in down."""
    measures = rules_of(home).fire.against_ceiling
    if measures is None:
        return
    limit = measures.dead_air
    old = home.hazards.edition is Edition.BEFORE_2010
    for device in present(home, DeviceKind.SMOKE, DeviceKind.HEAT):
        near_m = _facts(device).from_wall_m if device.mount is Mount.CEILING else None
        if device.mount in (Mount.INSIDE_WALL, Mount.OUTSIDE_WALL):
            near_m = _below_ceiling_m(home, device)
        if near_m is not None and near_m < limit.value - _SLACK_M:
            message = f"{said(device.name)} is in the corner of wall and ceiling, where air may not move."
            weighs = should if old or device.kind is DeviceKind.HEAT else note
            remedy = "Keep 4 in (102 mm) from the corner; check with your authority."
            yield weighs(device.id, message, remedy, limit.source, **_metres(home, near_m, limit.value))


@check
def heat_detector_rating(home: Home) -> Said:
    """A heat detector trips at least 20 °F above the hottest that its ceiling gets, else it trips by itself."""
    for device in present(home, DeviceKind.HEAT):
        room, rating_c = rooms(home).get(device.room), _facts(device).rating_c
        if room is not None and room.hottest_c is not None and rating_c is not None:
            over_c = rating_c - room.hottest_c
            if over_c < RATING_OVER_C - 0.05:
                message = (
                    f"{said(device.name)} trips only {rounded(over_c)} °C above the hottest that its ceiling "
                    "gets, so it may trip without a fire."
                )
                numbers = {"figure": f"{rounded(over_c)} °C", "limit": f"{RATING_OVER_C:g} °C"}
                yield should(device.id, message, "Choose a higher rating.", "heat_rating", **numbers)


@check
def heat_detector_spacing(home: Home) -> Said:
    """No point of the room's ceiling is farther than 0.7 of the listed spacing from a heat detector."""
    measures = rules_of(home).fire.against_ceiling
    if measures is None:
        return
    for room in home.site.rooms:
        here = [d for d in at_work(home, DeviceKind.HEAT) if d.room == room.id and d.at and _facts(d).listed_spacing_m]
        if here and room.outline:
            beyond_m = min(_beyond_m(room, here, _reach_m(device)) for device in here)
            if beyond_m > _SLACK_M:
                message = f"{room_name(home, room.id)}: a part of it is too far from its heat detectors."
                remedy = "Move one, or add one. No point may be farther away than 0.7 of the listed spacing."
                shown = show(beyond_m, Kind.LENGTH, home.units)
                yield should(here[0].id, message, remedy, measures.heat_spacing.source, figure=f"{shown} beyond")


def _reach_m(device: Device) -> float:
    return 0.7 * (_facts(device).listed_spacing_m or 0.0)


def _beyond_m(room: Room, devices: list[Device], reach_m: float) -> float:
    """How far beyond `reach_m` the room's farthest point lies from those devices that reach so far, m."""
    places = [device.at for device in devices if device.at is not None and _reach_m(device) >= reach_m]
    return farthest_m(room.outline, places) - reach_m


@check
def heat_in_place_of_smoke(home: Home) -> Said:
    """A heat detector never replaces a required smoke device."""
    smoky = {device.room for device in at_work(home, DeviceKind.SMOKE)}
    smoky |= {room.id for room in home.site.rooms if room.smoke_alarm is Yes.YES}
    beds = sleeping_rooms(home)
    for device in present(home, DeviceKind.HEAT):
        if device.room in beds and device.room not in smoky:
            message = f"{said(device.name)} is where somebody sleeps, and there is no smoke alarm."
            yield should(device.id, message, "Add a smoke alarm: a heat detector notices a fire late.", "heat_no_smoke")


GROUP = CheckGroup(
    "alarm_places",
    (
        near_a_bathroom_door,
        in_moving_air,
        too_cold_or_hot,
        on_a_cold_wall,
        at_the_stairs,
        too_low_on_a_wall,
        under_a_shaped_ceiling,
        in_a_dead_corner,
        heat_detector_rating,
        heat_detector_spacing,
        heat_in_place_of_smoke,
    ),
)
