"""Who would not wake, who cannot unset, who was never shown, and who comes to a door without a way to unset."""

from collections.abc import Iterator

from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.home.ways import rooms_between
from alarmlib.checks.lookup import entry_exit_doors, said
from alarmlib.model import Home
from alarmlib.model.household import AgeBand, Person
from alarmlib.model.questions import at_work, by_id, is_at_work, present, unset_rooms
from alarmlib.model.words import DeviceKind


@check
def would_not_wake(home: Home) -> Said:
    """Somebody wakes and helps whoever would not wake or cannot get out alone."""
    for person in home.household.people:
        for why in _sleeps_on(person):
            yield should(
                person.id,
                f"{said(person.role)} {why}.",
                "Try it with the bedroom doors closed. Agree who wakes and helps them. A "
                "shaking or flashing device or a lower tone may do better.",
                "home_visit",
            )


_MAY_NOT_WAKE = {
    "is hard of hearing": "is hard of hearing and may not hear the alarm",
    "sleeps deeply": "sleeps deeply and may not wake at the alarm",
    "is a child": "is a child; many children sleep through an alarm",
}


def may_not_wake(person: Person) -> str:
    """Why somebody may not wake, in words; "" where nothing of the kind is entered."""
    reasons = (person.hard_of_hearing, person.deep_sleeper, person.age is AgeBand.CHILD)
    return next((why for why, so in zip(_MAY_NOT_WAKE, reasons, strict=True) if so), "")


def _sleeps_on(person: Person) -> Iterator[str]:
    if why := may_not_wake(person):
        yield _MAY_NOT_WAKE[why]
    if person.needs_help_out:
        yield "needs help to get out"


@check
def person_cannot_unset(home: Home) -> Said:
    """Whoever comes home alone can unset, and what they carry is a fob."""
    devices = by_id(present(home))
    for person in home.household.people:
        fob = devices.get(person.fob)
        if person.fob and (fob is None or fob.kind is not DeviceKind.FOB):
            message = f"{said(person.role)}: what they carry, as you entered it, is not a fob of this home."
            yield should(person.id, message, "Choose one of the fobs that you entered, or none.", "owner")
        elif fob is not None and not is_at_work(fob):
            message = f"{said(person.role)}: the fob that they carry is out of use."
            yield should(person.id, message, "Put it back, or give them another.", "owner")
        if not person.can_unset and not person.fob and person.entries_a_week > 0:
            message = f"{said(person.role)} comes home, but cannot unset the alarm and carries no fob."
            yield should(
                person.id, message, "Give them a way to unset the alarm, or enter that they never come home alone."
            )


@check
def visitor_cannot_unset(home: Home) -> Said:
    """Whoever has a way in can unset, and was shown how."""
    for visitor in home.household.visitors:
        if visitor.door and not visitor.can_unset:
            message = f"{said(visitor.role)} comes in but cannot unset the alarm."
            remedy = "Give them a user place of their own and show them, or agree that you are at home when they come."
            yield should(visitor.id, message, remedy, "false_alarm_guide")
        elif visitor.can_unset and not visitor.trained_on:
            message = f"{said(visitor.role)} can unset the alarm but was not shown how it works."
            yield should(visitor.id, message, "Show them, and write down the day.", "false_alarm_guide")


@check
def visitor_never_tried(home: Home) -> Said:
    """Among the habits there is one for each visitor who sets and unsets the alarm."""
    habits = home.household.habits
    for visitor in home.household.visitors:
        if habits and visitor.can_unset and all(habit.who != visitor.id for habit in habits):
            often = f" ({visitor.often})" if visitor.often else ""
            message = (
                f"{said(visitor.role)} comes in{often} and can unset the alarm, but none of your habits is theirs. So "
                "nobody has tried whether they set it off."
            )
            yield note(visitor.id, message, "Enter what they do from the door until they leave, then play it.", "owner")


@check
def person_not_shown(home: Home) -> Said:
    """Everybody who can unset was shown how."""
    for person in home.household.people:
        if person.can_unset and not person.trained_on:
            message = f"{said(person.role)} was not shown yet how the alarm works."
            remedy = "Show setting, unsetting and what to do at a false alarm; write down the day."
            yield note(person.id, message, remedy, "false_alarm_guide")


@check
def door_without_a_way_to_unset(home: Home) -> Said:
    """From each entry/exit door somebody gets to a keypad or key switch, or carries a fob."""
    ends = unset_rooms(home)
    fobs = at_work(home, DeviceKind.FOB)
    for door in entry_exit_doors(home):
        if home.whole_devices and not rooms_between(home, door.room, ends) and not fobs:
            message = f"{said(door.name)}: whoever comes in there has no way to a keypad and no fob."
            yield should(
                door.id, message, "Mount a keypad within reach of that door, or give them fobs.", "nfpa731_walk"
            )


GROUP = CheckGroup(
    "people",
    (
        would_not_wake,
        person_cannot_unset,
        visitor_cannot_unset,
        visitor_never_tried,
        person_not_shown,
        door_without_a_way_to_unset,
    ),
)
