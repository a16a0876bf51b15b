"""What may be so and seldom is: heights, reach, days and levels that look like a slip of the hand."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from alarmlib.calc.plan.accessible import REACH_M
from alarmlib.checks.check import CheckGroup, Said, check, dated_check, note, should
from alarmlib.checks.lookup import rooms, said
from alarmlib.model import Home
from alarmlib.model.questions import present
from alarmlib.model.site import Reach
from alarmlib.units import rounded

HIGH_M = 6.0  # above the floor of a room whose ceiling is not known; common practice, no source
_OVER_CEILING_M = 0.1  # as far as a tape measure may be out


@check
def high_up(home: Home) -> Said:
    """No device is higher than the ceiling of its room, or than a ceiling of a home is."""
    known = rooms(home)
    for device in present(home):
        room = known.get(device.room)
        ceiling_m = room.ceiling_m if room and not room.open_to_above else None
        most_m = HIGH_M if ceiling_m is None else ceiling_m + _OVER_CEILING_M
        if device.height_m is not None and device.height_m > most_m:
            than = "than most ceilings" if ceiling_m is None else "than the ceiling of its room"
            yield should(
                device.id,
                f"{said(device.name)} is entered as {rounded(device.height_m)} m above the floor, higher {than}.",
                "Check that height. What the detector sees and the ladder that you need are worked out from it.",
                "practice",
                figure=f"{rounded(device.height_m)} m",
                limit=f"{rounded(most_m)} m",
                margin=f"{rounded(most_m - device.height_m)} m",
            )


@check
def reached_from_the_ground(home: Home) -> Said:
    """What is reached from the ground is no higher than somebody climbs."""
    for opening in home.site.openings:
        if opening.reach is Reach.GROUND and opening.sill_m is not None and opening.sill_m > REACH_M:
            yield should(
                opening.id,
                f"{said(opening.name)} counts as reached from the ground, but is {rounded(opening.sill_m)} m above it.",
                "Check both. They decide whether it needs a detector; until then it counts as within reach.",
                "ul1641_reach",
                figure=f"{rounded(opening.sill_m)} m",
                limit=f"{REACH_M} m",
                margin=f"{rounded(REACH_M - opening.sill_m)} m",
            )


@dated_check
def still_to_come(home: Home, today: date) -> Said:
    """What was done is dated on a day that has been."""
    for part, name, what, day in _days(home):
        if day and date.fromisoformat(day) > today:
            yield should(
                part,
                f"{said(name)}: {what} is dated {day}, which is still to come.",
                "Check that date. Reminders and ages are worked out from it.",
                "owner",
            )


def _days(home: Home) -> Iterator[tuple[str, str, str, str]]:
    """Each day on which something was done: the part's id, what a person calls it, what was done, the day."""
    for device in present(home):
        yield device.id, device.name, "when it was made", device.made_on
        yield device.id, device.name, "when it was fitted", device.fitted_on
        if device.wireless is not None:
            yield device.id, device.name, "its battery", device.wireless.battery_fitted_on
    yield "supply", "Standby battery", "when it was fitted", home.wiring.supply.fitted_on
    for person in home.household.people:
        yield person.id, person.role, "when this person was shown the alarm", person.trained_on
    for lines, called in ((home.log.tests, "Test log"), (home.log.events, "Event diary"), (home.log.upkeep, "Upkeep")):
        for line in lines:
            yield line.id, called, "one line", line.on


@check
def on_one_level(home: Home) -> Said:
    """Storeys lie one above the other, or one is of another building."""
    levels = defaultdict(list)
    for storey in home.site.storeys:
        levels[storey.level].append(storey)
    for level, storeys in levels.items():
        if len(storeys) > 1:
            names = " and ".join(said(storey.name) for storey in storeys)
            yield note(
                storeys[1].id,
                f"{names} are entered on one level, {level}.",
                "Check that they lie side by side, as in two buildings. Otherwise stairs and cables come out short.",
                "owner",
            )


GROUP = CheckGroup("unlikely", (high_up, reached_from_the_ground, still_to_come, on_one_level))
