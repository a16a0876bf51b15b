"""What the answers of the short path leave open, until the survey or the other pages say more."""

from alarmlib.calc.cells.sights import joined
from alarmlib.checks.check import CheckGroup, Said, check, should
from alarmlib.checks.hazards.alarm_lists import smoke_lists
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.messages import PathKind
from alarmlib.model.questions import sleeping_rooms
from alarmlib.model.site import DOORS, PassageKind, Yes
from alarmlib.model.words import EventKind


@check
def smoke_alarms_missing(home: Home) -> Said:
    """The answer is no, and no smoke alarm is known since."""
    lists = smoke_lists(home)
    if home.short_path.smoke_alarms is Yes.NO and not (lists.household or lists.alone or lists.unit):
        message = "Smoke alarms: you said that they are not on every level and at every bedroom."
        remedy = (
            "Fit listed smoke alarms that all sound together, before any other part of this system; check with your "
            "fire authority where."
        )
        yield should("site", message, remedy, "nfpa_tips")


@check
def siren_unanswered(home: Home) -> Said:
    """The answer is no: then a siren calls nobody, and a message must."""
    if home.short_path.answers_siren is not Yes.NO:
        return
    by_message = {path.id for path in home.messages.paths if path.kind is not PathKind.SIREN}
    told = [m for m in home.messages.messages if m.event is EventKind.BURGLARY and m.to and by_message & {*m.paths}]
    if not told:
        message = "Siren: you said that nobody near would answer it, and no message about a burglary is planned."
        remedy = "Choose a control unit or a box that sends messages, and name somebody who can come."
        yield should("messages", message, remedy, "owner")


@check
def rooms_not_joined(home: Home) -> Said:
    """Each room can be walked to from a way in, or no calculation can tell who reaches it."""
    if not home.short_path.rooms.strip() or not home.site.openings:
        return
    ways = [(p.first, p.second) for p in home.site.passages if p.kind is not PassageKind.OUTSIDE]
    reached = joined({opening.room for opening in home.site.openings}, ways)
    lost = [said(room.name) for room in home.site.rooms if room.guarded and room.id not in reached]
    if lost:
        message = (
            f"{', '.join(lost)}: no inside door leads there, so nobody can say who reaches "
            f"{'that room' if len(lost) == 1 else 'those rooms'} unheard."
        )
        yield should("site", message, "Answer which door leads where, with every room in it.", "owner")


@check
def no_window_listed(home: Home) -> Said:
    """A home of doors alone is rare: more likely its windows were not listed."""
    if home.short_path.rooms.strip() and not any(opening.kind not in DOORS for opening in home.site.openings):
        message = "Windows: none is listed, so nobody who comes in by a window is noticed before a room is entered."
        yield should("site", message, "List each window that somebody could reach from outside.", "owner")


@check
def nobody_sleeps(home: Home) -> Said:
    """A set for the night needs to know where people are."""
    asked = home.short_path.rooms.strip() and home.short_path.night_set and home.control_unit.part_sets
    if asked and not sleeping_rooms(home):
        message = "Bedrooms: it is not known where somebody sleeps, so the night set cannot be fitted to it."
        remedy = "Answer in which rooms somebody sleeps; doors then sound at once, and the way to the bathroom is free."
        yield should("site", message, remedy, "owner")


GROUP = CheckGroup(
    "short_path", (smoke_alarms_missing, siren_unanswered, rooms_not_joined, no_window_listed, nobody_sleeps)
)
