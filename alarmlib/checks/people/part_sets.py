"""Setting with people in, and seasons: who is left out, who still listens, who comes home late."""

from collections.abc import Iterator

from alarmlib.calc.zoning.passed import is_entry_exit_door
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.home.ways import rooms_between
from alarmlib.checks.lookup import listening, room_name, said, zones
from alarmlib.model import Home
from alarmlib.model.control_unit import PartSet
from alarmlib.model.devices import Device
from alarmlib.model.household import BeginsIn, Deed, Habit
from alarmlib.model.questions import of_zones, on_opening, sleeping_rooms
from alarmlib.model.site import KeptOpen, RoomUse
from alarmlib.model.words import BURGLARY, LIFE_SAFETY, DeviceKind, Function

NEVER_LEFT_OUT = LIFE_SAFETY | {Function.HOLD_UP, Function.TAMPER, Function.WATER, Function.LOW_TEMPERATURE}
_AT_NIGHT = frozenset({KeptOpen.NIGHT, KeptOpen.SUMMER})


@check
def leaves_out_what_counts_always(home: Home) -> Said:
    """No part set leaves out fire, gas, hold-up, tamper, water or cold."""
    known = zones(home)
    for part_set in home.control_unit.part_sets:
        for zone in (known[name] for name in part_set.left_out if name in known):
            if zone.function in NEVER_LEFT_OUT:
                message = f"{said(part_set.name)} leaves out zone {said(zone.label)} ({zone.function.text})."
                remedy = "Take it off the list of what is left out: it counts in every state."
                if zone.function in LIFE_SAFETY:
                    remedy = f"{remedy} Check with your control unit's manual."
                    yield should(part_set.id, message, remedy, "life_safety_zones")
                else:
                    yield should(part_set.id, message, remedy)


@check
def listens_where_people_are(home: Home) -> Said:
    """No motion detector listens where somebody sleeps, walks at night, or a pet runs about."""
    for part_set in home.control_unit.part_sets:
        say = should if for_the_night(part_set) else note
        for device, why in stirred(home, part_set):
            message = f"{said(part_set.name)}: {said(device.name)} keeps listening, but {why}."
            remedy = "Leave its zone out of this part set if people sleep while it is set."
            yield say(part_set.id, message, remedy, "ul1641_shunt")


def for_the_night(part_set: PartSet) -> bool:
    """Whether a part set is meant for the night, as far as its name tells."""
    return any(word in f"{part_set.id} {part_set.name}".casefold() for word in ("night", "sleep", "bed"))


def stirred(home: Home, part_set: PartSet) -> Iterator[tuple[Device, str]]:
    """The motion detectors that listen in a part set where somebody moves meanwhile, and why."""
    held = of_zones(home)
    reasons = _night_rooms(home)
    for zone in listening(home, part_set):
        for device in held.get(zone.id, ()) if zone.function in BURGLARY else ():
            if device.kind is DeviceKind.MOTION and device.room in reasons:
                yield device, reasons[device.room]


def _night_rooms(home: Home) -> dict[str, str]:
    """The rooms where somebody may move at night, and why."""
    found: dict[str, str] = {}
    for pet in home.household.pets:
        for room in pet.free_in_night:
            found[room] = f"{said(pet.kind)} is free in {room_name(home, room)} at night"
    baths = [room.id for room in home.site.rooms if room.use is RoomUse.BATH]
    for bed in sorted(sleeping_rooms(home)):
        for room in rooms_between(home, bed, baths):
            found[room] = f"somebody walks through {room_name(home, room)} at night"
    for bed in sleeping_rooms(home):
        found[bed] = f"somebody sleeps in {room_name(home, bed)}"
    return found


@check
def listens_to_an_open_window(home: Home) -> Said:
    """No part set listens to the contact of a window that is open at night."""
    for part_set in home.control_unit.part_sets:
        heard = {zone.id: zone for zone in listening(home, part_set) if zone.function in BURGLARY}
        for opening in home.site.openings:
            contacts = [d for d in on_opening(home, opening.id) if d.kind is DeviceKind.CONTACT and d.zone in heard]
            if opening.kept_open in _AT_NIGHT and contacts:
                say = should if for_the_night(part_set) else note
                yield say(
                    part_set.id,
                    f"{said(opening.name)} is open at night, but {said(part_set.name)} listens to its contact: "
                    "setting will be refused or the alarm will sound.",
                    "Close it, leave its zone out, or fit a second contact for the airing position.",
                )


@check
def nobody_can_come_home_late(home: Home) -> Said:
    """Each part set has an entry/exit door with a delay, if somebody may come home later."""
    if len(home.household.people) < 2:
        return
    for part_set in home.control_unit.part_sets:
        doors = [zone for zone in listening(home, part_set) if is_entry_exit_door(zone, home.whole_devices)]
        at_once = {door.zone for door in part_set.doors if not door.delayed}
        if doors and all(zone.id in at_once for zone in doors):
            yield _locked_out(home, part_set)


def _locked_out(home: Home, part_set: PartSet) -> Finding:
    message = (
        f"{said(part_set.name)}: every entry/exit door alarms at once. Whoever comes home later sets off the siren."
    )
    if comes_home_late(home, part_set):
        remedy = "One of your habits comes home in this set: give one entry/exit door its delay."
        return must(part_set.id, message, remedy, "owner")
    if for_the_night(part_set) and sleeping_rooms(home):
        remedy = "See that everybody is in before you set it. A delay would let an intruder reach a bedroom first."
        return should(part_set.id, message, remedy)
    return should(part_set.id, message, "Give one entry/exit door its delay, or see that everybody is in.")


def comes_home_late(home: Home, part_set: PartSet) -> bool:
    """Whether somebody has a habit of coming in by a door and unsetting this part set; getting up is none."""
    ways_in = frozenset(opening.id for opening in home.site.openings)
    return any(
        habit.begins_in is BeginsIn.PART_SET and habit.part_set == part_set.id and _comes_in(habit, ways_in)
        for habit in home.household.habits
    )


def _comes_in(habit: Habit, ways_in: frozenset[str]) -> bool:
    """Whether they unset only after coming in from outside, or from a place not said; a fob does it at the door."""
    came = not habit.starts_at or habit.starts_at in ways_in
    for step in habit.steps:
        came = came or (step.deed is Deed.OPEN and step.place in ways_in)
        if step.deed in {Deed.UNSET, Deed.FOB_UNSET}:
            return came and step.deed is Deed.UNSET
    return False


@check
def listens_to_nothing(home: Home) -> Said:
    """Each part set still listens to something."""
    for part_set in home.control_unit.part_sets:
        if home.control_unit.zones and not any(z.function in BURGLARY for z in listening(home, part_set)):
            message = f"{said(part_set.name)} leaves out everything that is meant to notice a break-in."
            yield should(part_set.id, message, "Keep at least doors and windows listening.", "owner")


@check
def seasons_meet(home: Home) -> Said:
    """Each season has its months, and no month has two seasons."""
    taken: dict[int, str] = {}
    for season in home.control_unit.seasons:
        if not season.months:
            yield should(
                season.id, f"{said(season.name)} has no months, so it never applies.", "Enter its months.", "owner"
            )
        for month in season.months:
            if month in taken:
                message = f"{said(season.name)} and {said(taken[month])} both apply in month {month}."
                yield should(season.id, message, "Give each month one set of settings.", "owner")
            taken.setdefault(month, season.name)


@check
def season_function_not_offered(home: Home) -> Said:
    """A season gives a zone only functions that the unit offers."""
    offered, known = home.control_unit.limits.functions, zones(home)
    for season in home.control_unit.seasons:
        for change in season.zones:
            if offered and change.function not in {None, Function.UNUSED, *offered} and change.zone in known:
                label = said(known[change.zone].label)
                message = f"{said(season.name)} gives zone {label} a function that your control unit does not offer."
                yield must(season.id, message, "Choose a function that it offers.", "owner")


GROUP = CheckGroup(
    "part_sets",
    (
        leaves_out_what_counts_always,
        listens_where_people_are,
        listens_to_an_open_window,
        nobody_can_come_home_late,
        listens_to_nothing,
        seasons_meet,
        season_function_not_offered,
    ),
)
