"""Whether the control unit has room for all of it."""

from collections import Counter
from collections.abc import Iterator

from alarmlib.checks.check import CheckGroup, Said, check, must, ok, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.household import Person, Visitor
from alarmlib.model.questions import present
from alarmlib.model.words import DeviceKind, Link

_TAKES_SLOT = frozenset(DeviceKind) - {DeviceKind.CONTROL_UNIT, DeviceKind.POWER_SUPPLY}


@check
def more_than_it_holds(home: Home) -> Said:
    """Zones, circuits, wireless places, keypads, areas, part sets and users are within the unit's own limits."""
    for what, count, most in _counted(home):
        if most is not None:
            yield _compared(what, count, most)


def _counted(home: Home) -> Iterator[tuple[str, int, int | None]]:
    unit, limits = home.control_unit, home.control_unit.limits
    slots = sum(d.link is Link.WIRELESS and d.kind in _TAKES_SLOT for d in present(home))
    used = {person.user_slot for person in _users(home) if person.user_slot is not None}
    yield "zones", len(unit.zones_used), limits.zones
    yield "detector circuits", len(home.circuits), limits.circuits
    yield "wireless places", slots, limits.wireless_slots
    yield "keypads", len(present(home, DeviceKind.KEYPAD)), limits.keypads
    yield "areas", len(unit.areas), limits.areas
    yield "part sets", len(unit.part_sets), limits.part_sets
    yield "user places", len(used), limits.users


def _compared(what: str, count: int, most: int) -> Finding:
    figure, limit, margin = str(count), str(most), str(most - count)
    if count <= most:
        message = f"{count} of {most} {what} are used."
        return ok("unit", message, "owner", figure=figure, limit=limit, margin=margin)
    message = f"You planned {count} {what}, but your control unit has {most}."
    remedy = "Let devices share, leave some out, or ask its maker for an extension."
    return must("unit", message, remedy, "owner", figure=figure, limit=limit, margin=margin)


@check
def slot_twice(home: Home) -> Said:
    """No two wireless devices have the same place in the unit."""
    slots = [(d.wireless.slot, d) for d in present(home) if d.wireless and d.wireless.slot is not None]
    times = Counter(slot for slot, _ in slots)
    for slot, device in slots:
        if times[slot] > 1:
            message = f"{said(device.name)} has wireless place {slot}, which another device has too."
            yield must(device.id, message, "Correct one of them.", "owner")


@check
def user_place_twice(home: Home) -> Said:
    """Everybody has a user place of their own, so the log tells who set and unset."""
    people = _users(home)
    times = Counter(person.user_slot for person in people if person.user_slot is not None)
    for person in people:
        if person.user_slot is not None and times[person.user_slot] > 1:
            message = f"{said(person.role)} shares user place {person.user_slot} with somebody."
            yield should(person.id, message, "Give each person a place of their own.")


@check
def grade_too_low(home: Home) -> Said:
    """The unit's grade is at least the one aimed at."""
    grade, wanted = home.control_unit.limits.grade, home.rules.grade
    if grade is not None and grade < wanted:
        message = f"Your control unit is of grade {grade}, but you aim at grade {wanted}."
        remedy = "A system has the grade of its lowest part. Aim lower, or choose another control unit."
        numbers = {"figure": str(grade), "limit": str(wanted), "margin": str(grade - wanted)}
        yield should("unit", message, remedy, "en50131_grades", **numbers)


def _users(home: Home) -> list[Person | Visitor]:
    return [*home.household.people, *home.household.visitors]


GROUP = CheckGroup("capacity", (more_than_it_holds, slot_twice, user_place_twice, grade_too_low))
