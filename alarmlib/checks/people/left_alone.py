"""The home while nobody is in: what draws somebody to it, who can come, and what is left to read afterwards."""

from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.household import Deed, EmptyBand
from alarmlib.model.site import Yes

_EMPTY_OFTEN = frozenset({EmptyBand.NIGHTS, EmptyBand.LONG})
_SETS = frozenset({Deed.SET_FULL, Deed.SET_PART, Deed.UNSET, Deed.FOB_SET, Deed.FOB_UNSET})
_SHORT_D = 30.0  # common practice, no source: a list that is read once a month should hold a month


@check
def valuables_in_view(home: Home) -> Said:
    """What can be seen from outside tells somebody that it is worth coming in."""
    for room in home.site.rooms:
        if room.valuables_seen is Yes.YES:
            message = f"{said(room.name)}: valuables can be seen from outside, which makes a break-in worth while."
            yield note(room.id, message, "Move or cover them, and draw the curtains at dusk.")


@check
def empty_without_key_holder(home: Home) -> Said:
    """Who is often away needs somebody elsewhere who can come in and unset."""
    empty = home.household.empty
    able = [r for r in home.messages.responders if not r.lives_here and r.holds_key and r.can_unset]
    if empty in _EMPTY_OFTEN and not able:
        message = f"The home is empty {_how_long(empty)}, and nobody who lives elsewhere holds a key and can unset."
        remedy = "Give a key to somebody you trust, show them how to unset, and enter them among those who are told."
        yield should("household", message, remedy, "false_alarm_guide")


def _how_long(empty: EmptyBand) -> str:
    return "for weeks at a time" if empty is EmptyBand.LONG else "some nights"


@check
def event_list(home: Home) -> Said:
    """For how many days the control unit remembers, when setting and unsetting alone fill its list.

    Events a day by the habits that set and unset, else two each time somebody comes home.
    """
    held, a_week = home.control_unit.limits.log_events, events_a_week(home)
    if held is None or not a_week:
        return
    days = 7 * held / a_week
    message = f"Control unit: its event list holds {held} events, about {days:.3g} days of setting and unsetting."
    soon = "Write what it shows into the event diary soon after each alarm, before newer events take its place."
    remedy = soon if days < _SHORT_D else "Read it once a month."
    yield note("unit", message, remedy, "computed", figure=f"{days:.3g} days", limit=f"{_SHORT_D:g} days")


def events_a_week(home: Home) -> float:
    """How often in a week somebody sets or unsets: by the habits entered, else by how often people come home."""
    deeds = [(habit.times_a_week, sum(step.deed in _SETS for step in habit.steps)) for habit in home.household.habits]
    by_habits = sum(times * number for times, number in deeds)
    return by_habits or 2 * sum(person.entries_a_week for person in home.household.people)


GROUP = CheckGroup("left_alone", (valuables_in_view, empty_without_key_holder, event_list))
