"""Fire, gas, water and frost as far as the survey tells; listed alarms come first, and the authority decides."""

from collections.abc import Iterator
from datetime import date

from alarmlib.checks.check import CheckGroup, Said, check, dated_check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import rooms, said
from alarmlib.model import Home
from alarmlib.model.questions import detectors_at_work, sleeping_rooms
from alarmlib.model.site import Room, RoomUse, WaterSource, Yes
from alarmlib.model.words import DeviceKind

SMOKE_ALARM_YEARS = 10
_AUTHORITY = "Fit a listed smoke alarm there, linked to the others; check with your fire authority what it asks for."
_CO_PLACES = "Fit listed CO alarms outside each sleeping area; check with your authority."
_SHELTER = frozenset({RoomUse.GARAGE, RoomUse.WORKSHOP, RoomUse.ATTIC, RoomUse.PORCH})
_SLOW_LEAKS = frozenset({WaterSource.TOILET})


@dated_check
def smoke_alarm_too_old(home: Home, today: date) -> Said:
    """No smoke alarm is older than ten years from the year on its back."""
    for room in home.site.rooms:
        made = room.smoke_alarm_made
        if made is not None and today.year - made > SMOKE_ALARM_YEARS:
            yield should(
                room.id,
                f"{said(room.name)}: its smoke alarm was made in {made}, more than {SMOKE_ALARM_YEARS} years ago.",
                "Replace it: an old sensor may not notice smoke.",
                "smoke_alarm_age",
                figure=f"{today.year - made} years",
                limit=f"{SMOKE_ALARM_YEARS} years",
                margin=f"{SMOKE_ALARM_YEARS - today.year + made} years",
            )


@check
def frost(home: Home) -> Said:
    """Where pipes may freeze, a sensor warns of cold, most of all during a long winter absence."""
    cold = {device.room for device in detectors_at_work(home) if device.kind is DeviceKind.LOW_TEMPERATURE}
    for room in home.site.rooms:
        if room.may_freeze is Yes.YES and room.id not in cold:
            message = f"{said(room.name)}: pipes may freeze, and nothing there warns of cold."
            yield should(room.id, message, "Insulate or heat them, or add a low-temperature sensor.")
    if home.household.long_winter_absence and not cold:
        message = "The home is empty for long in winter, and nothing warns of cold."
        yield should("household", message, "Add a low-temperature sensor, drain the pipes, or have somebody look in.")


@check
def leaks(home: Home) -> Said:
    """Where water may come from, a sensor warns of it; the main tap is known and turns."""
    wet = {device.room for device in detectors_at_work(home) if device.kind is DeviceKind.WATER}
    for room in home.site.rooms:
        sources = [source for source in room.water_sources if source not in _SLOW_LEAKS]
        if sources and room.id not in wet:
            yield _leak(room, ", ".join(source.text for source in sources))
    if home.site.stop_tap is Yes.NO:
        message = "Main water tap: you do not know where it is, or it does not turn, so nobody can stop a leak."
        yield should("site", message, "Find it, have it fixed, and show everybody who lives here.", "upkeep_hoses")


@check
def main_switch(home: Home) -> Said:
    """Somebody who smells gas or burning can cut the mains at once."""
    if home.site.breaker is Yes.NO:
        message = "Main switch of the mains: nobody knows where it is, so nobody can cut the mains at a leak or a fire."
        yield should("site", message, "Find it, label it, and show everybody who lives here.")


def _leak(room: Room, sources: str) -> Finding:
    message = f"{said(room.name)}: water may leak there ({sources}), and nothing warns of it."
    remedy = "Add a water detector at the lowest point."
    return (should if room.use is RoomUse.CELLAR else note)(room.id, message, remedy)


@check
def one_way_out(home: Home) -> Said:
    """Every room where somebody sleeps has two ways out."""
    for room in _beds(home):
        if room.two_ways_out is Yes.NO:
            message = f"{said(room.name)}, where somebody sleeps, has only one way out."
            yield should(room.id, message, "Plan a second way out, such as a window, and practise it.", "home_visit")


def _beds(home: Home) -> Iterator[Room]:
    known = rooms(home)
    yield from (known[bed] for bed in sorted(sleeping_rooms(home) & known.keys()))


GROUP = CheckGroup(
    "hazards",
    (
        smoke_alarm_too_old,
        frost,
        leaks,
        main_switch,
        one_way_out,
    ),
)
