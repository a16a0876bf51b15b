"""Fire, gas, water and frost as far as the survey tells; listed alarms come first, and the authority decides."""

from collections.abc import Iterator
from datetime import date

from alarmlib.checks.check import Findings, check, dated_check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import detectors, room_name, rooms, said, sleeping_rooms
from alarmlib.model import Home
from alarmlib.model.site import Room, RoomUse, WaterSource, Yes
from alarmlib.model.words import DeviceKind, RuleSet

SMOKE_ALARM_YEARS = 10
_AUTHORITY = "Fit a listed smoke alarm there, linked to the others; check with your fire authority what it asks for."
_CO_PLACES = "Fit listed CO alarms outside each sleeping area; check with your authority."
_SHELTER = frozenset({RoomUse.GARAGE, RoomUse.WORKSHOP, RoomUse.ATTIC, RoomUse.PORCH})
_SLOW_LEAKS = frozenset({WaterSource.TOILET})


@check("site", "household.people", "devices")
def smoke_where_people_sleep(home: Home) -> Findings:
    """Every room where somebody sleeps has a smoke alarm, and so has the way outside it."""
    known = rooms(home)
    for bed in sorted(sleeping_rooms(home) & known.keys()):
        if not _has_smoke_alarm(home, known[bed]):
            message = f"No smoke alarm is known in {room_name(home, bed)}, where somebody sleeps."
            yield should(bed, message, _AUTHORITY, "nfpa72_smoke_places")
    for storey in sorted({known[bed].storey for bed in sleeping_rooms(home) & known.keys()}):
        outside = [r for r in known.values() if r.storey == storey and r.id not in sleeping_rooms(home)]
        if not any(_has_smoke_alarm(home, room) for room in outside):
            message = f"No smoke alarm is known outside the bedrooms of {_storey_name(home, storey)}."
            yield should(storey, message, _AUTHORITY, "nfpa72_smoke_places")


@check("site", "devices")
def smoke_on_every_level(home: Home) -> Findings:
    """Every storey has a smoke alarm."""
    for storey in home.site.storeys:
        on_it = [r for r in home.site.rooms if r.storey == storey.id and r.use not in _SHELTER]
        if on_it and not any(_has_smoke_alarm(home, room) for room in on_it):
            message = f"No smoke alarm is known on {_storey_name(home, storey.id)}."
            yield should(storey.id, message, _AUTHORITY, "nfpa72_smoke_places")


def _has_smoke_alarm(home: Home, room: Room) -> bool:
    system = any(d.kind is DeviceKind.SMOKE and d.room == room.id for d in detectors(home))
    return room.smoke_alarm is Yes.YES or system


def _storey_name(home: Home, storey: str) -> str:
    return next((said(s.name) for s in home.site.storeys if s.id == storey), "one storey")


@dated_check("site.rooms")
def smoke_alarm_too_old(home: Home, today: date) -> Findings:
    """No smoke alarm is older than ten years from the year on its back."""
    for room in home.site.rooms:
        made = room.smoke_alarm_made
        if made is not None and today.year - made > SMOKE_ALARM_YEARS:
            yield should(
                room.id,
                f"The smoke alarm in {said(room.name)} was made in {made}.",
                "Replace it.",
                "smoke_alarm_age",
                figure=f"{today.year - made} years",
                limit=f"{SMOKE_ALARM_YEARS} years",
                margin=f"{SMOKE_ALARM_YEARS - today.year + made} years",
            )


@check("site", "devices", "rules")
def carbon_monoxide_alarm(home: Home) -> Findings:
    """A home with a fuel-burning appliance or an attached garage has CO alarms."""
    cause = _gas_cause(home)
    if not cause or _has_co_alarm(home):
        return
    message = f"There is {cause}, but no carbon monoxide alarm is known."
    answered = all(room.carbon_monoxide_alarm is Yes.NO for room in home.site.rooms)
    strict = home.rules.rule_set is RuleSet.US and answered and bool(home.site.rooms)
    yield (must if strict else should)("site", message, _CO_PLACES, "irc_r315")


def _gas_cause(home: Home) -> str:
    site = home.site
    if site.fuel_appliances is Yes.YES or any(room.fuel_appliance for room in site.rooms):
        return "a fuel-burning appliance"
    return "a garage joined to the house" if site.attached_garage is Yes.YES else ""


def _has_co_alarm(home: Home) -> bool:
    alone = any(room.carbon_monoxide_alarm is Yes.YES for room in home.site.rooms)
    return alone or any(device.kind is DeviceKind.CARBON_MONOXIDE for device in detectors(home))


@check("site", "household", "devices")
def frost(home: Home) -> Findings:
    """Where pipes may freeze, a sensor warns of cold, most of all during a long winter absence."""
    cold = {device.room for device in detectors(home) if device.kind is DeviceKind.COLD}
    for room in home.site.rooms:
        if room.may_freeze is Yes.YES and room.id not in cold:
            message = f"Pipes in {said(room.name)} may freeze, and nothing there warns of cold."
            yield should(room.id, message, "Lag or heat them, or add a low-temperature sensor.")
    if home.household.long_winter_absence and not cold:
        message = "The home stands empty for long in winter, and nothing warns of cold."
        yield should("household", message, "Add a low-temperature sensor, drain the pipes, or have somebody look in.")


@check("site", "devices")
def leaks(home: Home) -> Findings:
    """Where water may come from, a sensor warns of it; the main tap is known and turns."""
    wet = {device.room for device in detectors(home) if device.kind is DeviceKind.WATER}
    for room in home.site.rooms:
        sources = [source for source in room.water_sources if source not in _SLOW_LEAKS]
        if sources and room.id not in wet:
            yield _leak(room, ", ".join(source.text for source in sources))
    if home.site.stop_tap is Yes.NO:
        message = "The main water tap is not known or does not turn."
        yield should("site", message, "Find it, have it mended, and show everybody.", "upkeep_hoses")


def _leak(room: Room, sources: str) -> Finding:
    message = f"Water may come from {sources} in {said(room.name)}, and nothing there warns of it."
    remedy = "Add a water detector at the lowest point."
    return (should if room.use is RoomUse.CELLAR else note)(room.id, message, remedy)


@check("site.rooms", "household.people")
def one_way_out(home: Home) -> Findings:
    """Every room where somebody sleeps has two ways out."""
    for room in _beds(home):
        if room.two_ways_out is Yes.NO:
            message = f"{said(room.name)}, where somebody sleeps, has only one way out."
            yield should(room.id, message, "Plan a second way out, such as a window, and practise it.", "home_visit")


def _beds(home: Home) -> Iterator[Room]:
    known = rooms(home)
    yield from (known[bed] for bed in sorted(sleeping_rooms(home) & known.keys()))


CHECKS = (
    smoke_where_people_sleep,
    smoke_on_every_level,
    smoke_alarm_too_old,
    carbon_monoxide_alarm,
    frost,
    leaks,
    one_way_out,
)
