"""Distances that are walked, or that smoke travels: from bedroom doors to alarms, from cookers to smoke devices."""

from collections.abc import Iterator
from functools import partial
from math import isclose

from alarmlib.calc.hazards.hazard_places import (
    LARGE_LEVEL_M2,
    At,
    DoorWalk,
    air_path_m,
    devices_for_level,
    door_walks,
    within_m,
)
from alarmlib.calc.plan.floor_plan import Plan, area_m2, plan_from_home, walked_plan
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.hazards.alarm_lists import AUTHORITY, carbon_monoxide_lists, no_way_out, smoke_lists
from alarmlib.checks.lookup import bedrooms, detached, room_name, said
from alarmlib.model import Home
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import Fixture, FixtureKind
from alarmlib.model.hazards import Edition, HazardFacts, SmokeSense
from alarmlib.model.questions import present
from alarmlib.model.site import PassageKind, RoomUse, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of
from alarmlib.units import Kind, show
from alarmlib.units.kinds import FOOT_M

COOKER_LEAST_M = 10 * FOOT_M
COOKER_CARE_M = 20 * FOOT_M
COOKER_OPEN_PLAN_M = 6 * FOOT_M
ILLINOIS_M = 15 * FOOT_M
_SLACK_M = 0.005
_HABITABLE = frozenset({RoomUse.LIVING, RoomUse.BEDROOM, RoomUse.STUDY, RoomUse.KITCHEN})
_ROUTES = frozenset({RoomUse.HALL})
_NO_FACTS = HazardFacts()
_REMEDY = "Move it, or add one; check with your authority."


def _numbers(home: Home, is_m: float, limit_m: float) -> dict[str, str]:
    shown = partial(show, kind=Kind.LENGTH, system=home.units)
    return {"figure": shown(is_m), "limit": shown(limit_m), "margin": shown(limit_m - is_m)}


@check
def smoke_alarm_near_bedrooms(home: Home) -> Said:
    """The smoke alarm outside is within 21 ft, walked, of every bedroom's door."""
    limit = rules_of(home).fire.outside_door
    if limit is None:
        return
    beds = bedrooms(home)
    for walk in _door_walks(home, beds, tuple(smoke_lists(home).required), no_way_out(home)):
        if walk.metres > limit.value + _SLACK_M:
            name = room_name(home, walk.room)
            message = f"{name}: the nearest smoke alarm outside is too far from its door."
            numbers = _numbers(home, walk.metres, limit.value)
            yield should(walk.room, message, f"Add one nearer; {AUTHORITY}.", limit.source, **numbers)


@check
def carbon_monoxide_alarm_near_bedrooms(home: Home) -> Said:
    """Where state or city names a distance, a CO alarm is within it of every bedroom's door."""
    most_m = home.hazards.carbon_monoxide_within_m
    if most_m is None:
        return
    beds = bedrooms(home)
    for walk in _door_walks(home, beds, tuple(carbon_monoxide_lists(home).required), no_way_out(home)):
        if walk.metres > most_m + _SLACK_M:
            numbers = _numbers(home, walk.metres, most_m)
            message = (
                f"{room_name(home, walk.room)}: the nearest CO alarm outside is farther from its door than your "
                "state or city allows, as you entered it."
            )
            source = "co_city" if isclose(most_m, ILLINOIS_M, abs_tol=_SLACK_M) else "owner"
            yield should(walk.room, message, "Add one nearer.", source, **numbers)


@check
def near_a_cooker(home: Home) -> Said:
    """A smoke device keeps 10 ft of air from a cooker, and within 20 ft is of a kind that bears cooking fumes."""
    plan = plan_from_home(home)
    for device in present(home, DeviceKind.SMOKE):
        for cooker in (f for f in home.site.fixtures if f.kind is FixtureKind.COOKER):
            far_m = _air_m(home, At(device.id, device.room, device.at), At(cooker.id, cooker.room, cooker.at))
            if far_m is not None and far_m <= COOKER_CARE_M + _SLACK_M:
                yield from _by_cooker(home, plan, device, (cooker, far_m))


@asked
def _air_m(home: Home, start: At, end: At) -> float | None:
    return air_path_m(walked_plan(home), start, end)


@asked
def _within_m(home: Home, room: str, devices: tuple[At, ...], most_m: float) -> bool:
    return within_m(walked_plan(home), room, devices, most_m)


@asked
def _door_walks(
    home: Home, beds: frozenset[str], devices: tuple[At, ...], no_way: frozenset[str]
) -> tuple[DoorWalk, ...]:
    return door_walks(walked_plan(home), beds, devices, no_way)


def _by_cooker(home: Home, plan: Plan, device: Device, cooker: tuple[Fixture, float]) -> Iterator[Finding]:
    fixture, far_m = cooker
    near, where = far_m < COOKER_LEAST_M - _SLACK_M, f"{said(device.name)} is near the cooker {said(fixture.name)}"
    suits = _bears_fumes(home, device)
    if near and not (
        suits is Yes.YES and far_m >= COOKER_OPEN_PLAN_M - _SLACK_M and _open_plan(plan, device.room, fixture.room)
    ):
        message = f"{where}: cooking fumes are likely to set it off."
        remedy = "Move it, or add a heat detector there. Its manual and your authority decide."
        yield should(device.id, message, remedy, "nfpa72_cooking", **_numbers(home, far_m, COOKER_LEAST_M))
    elif near:
        message = f"{where}. In an open plan that is allowed for its kind, where the rules ask for one there."
        yield note(device.id, message, "Check with your authority.", "nfpa72_cooking")
    elif suits is Yes.UNKNOWN:
        message = f"{where}; it is not known whether its kind tolerates cooking fumes."
        yield note(device.id, message, "Look in its manual for its type, hush button and listing.", "nfpa72_cooking")
    elif suits is Yes.NO:
        message = f"{where}. There it should be optical, have a hush button, or be listed to resist cooking fumes."
        remedy = "Look in its manual, and choose one of that kind."
        yield should(device.id, message, remedy, "nfpa72_cooking", **_numbers(home, far_m, COOKER_CARE_M))


def _bears_fumes(home: Home, device: Device) -> Yes:
    """Whether the device may be within 20 ft of a cooker: by its listing, in older editions by its kind."""
    facts = device.hazard or _NO_FACTS
    by_kind = _optical_or_hushed(facts)
    if facts.resists_cooking is Yes.YES or home.hazards.edition is not Edition.FROM_2016:
        return Yes.YES if facts.resists_cooking is Yes.YES else by_kind
    return Yes.NO if by_kind is Yes.NO else facts.resists_cooking


def _optical_or_hushed(facts: HazardFacts) -> Yes:
    if facts.sense is SmokeSense.PHOTOELECTRIC or facts.hush is Yes.YES:
        return Yes.YES
    return Yes.UNKNOWN if facts.sense is SmokeSense.UNKNOWN else Yes.NO


def _open_plan(plan: Plan, one: str, other: str) -> bool:
    """Whether no door parts the two rooms."""
    ways = [p.rooms for p in plan.passages if p.kind is PassageKind.DOORWAY]
    return one == other or any({one, other} == set(way) for way in ways)


@check
def within_reach_of_habitable_rooms(home: Home) -> Said:
    """In the circulation space an alarm is within 7.5 m of the door of every habitable room, 3 m of a bedroom's."""
    categories = rules_of(home).fire.categories
    if categories is None:
        return
    beds = bedrooms(home)
    halls = {room.id for room in home.site.rooms if room.use in _ROUTES}
    alarms = tuple(alarm for alarm in smoke_lists(home).required if alarm.room in halls)
    inhabited = [r.id for r in home.site.rooms if (r.use in _HABITABLE or r.id in beds) and r.id not in halls]
    for room in inhabited:
        walks = _door_walks(home, frozenset({room}), alarms, frozenset())
        if walks:
            walk = min(walks, key=lambda each: each.metres)
            limit = categories.bedroom_door if room in beds else categories.habitable_door
            if walk.metres > limit.value + _SLACK_M:
                message = (
                    f"{room_name(home, room)}: the nearest alarm in the hall or on the landing is too far from its "
                    "door."
                )
                yield should(room, message, _REMEDY, limit.source, **_numbers(home, walk.metres, limit.value))


@check
def enough_for_a_large_level(home: Home) -> Said:
    """In US work a level over 1000 ft² has an alarm for each 500 ft², or none of its rooms is over 30 ft from one."""
    limit = rules_of(home).fire.large_level
    if limit is None:
        return
    plan, alarms, apart = plan_from_home(home), smoke_lists(home).required, detached(home)
    for storey in home.site.storeys:
        inside = [
            r.id for r in home.site.rooms
            if r.storey == storey.id and r.use is not RoomUse.GARAGE and r.id not in apart
        ]  # fmt: skip
        here = tuple(alarm for alarm in alarms if alarm.room in inside)
        size_m2 = sum(area_m2(plan.room(room)) or 0.0 for room in inside)
        wanted = devices_for_level(size_m2)
        if size_m2 <= LARGE_LEVEL_M2 or len(here) >= wanted:
            continue
        far = [room for room in inside if not _within_m(home, room, here, limit.value)]
        if far:
            names = ", ".join(room_name(home, room) for room in far)
            message = (
                f"{said(storey.name)} is large. By its area it needs {wanted} smoke alarms, and {len(here)} are known. "
                f"These rooms may not lie wholly within 30 ft of one: {names}."
            )
            remedy = "Add some, or check that no point of a ceiling is over 30 ft (9.1 m) from one."
            yield should(storey.id, message, remedy, limit.source, figure=str(len(here)), limit=str(wanted))


GROUP = CheckGroup(
    "alarm_walks",
    (
        enough_for_a_large_level,
        smoke_alarm_near_bedrooms,
        carbon_monoxide_alarm_near_bedrooms,
        near_a_cooker,
        within_reach_of_habitable_rooms,
    ),
)
