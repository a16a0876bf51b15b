"""Sheets to print: the family's card, contacts, the event diary, the walk sheet."""

from collections.abc import Iterator

from alarmlib.model.survey import POINTS
from alarmlib.model.words import EventKind, Share
from alarmlib.record.blocks import Block, Bullets, Caution, Checklist, Lines, Subheading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_text, part_table
from alarmlib.record.season_words import door_times, other_sets, season_note
from alarmlib.record.section import section
from alarmlib.record.sections.settings.settings import seconds


@section("handover", "The family's card", level=Share.HELPER, needs=("control_unit.zones",), paper=True)
def handover(context: Context) -> Iterator[Block]:
    """How to leave, come home and sleep; what sounds mean; what to do."""
    doors = tuple(_door(context, o.id) for o in context.home.site.openings if o.entry_exit)
    if doors:
        yield from season_note(context)
        yield Table("Leave and come home by these doors", ("Door", "Out within", "Alarm off within"), doors)
    sets = tuple(
        (context.name("part set", s.id), fact_text(context, s, "left_out")) for s in context.home.control_unit.part_sets
    )
    yield from other_sets(context, "By these doors in the other seasons", zones=False)
    if sets:
        yield Table("Set it while somebody is in", ("Part set", "Left out, so you may move about there"), sets)
    yield Subheading("When it sounds")
    yield Bullets(
        (
            "Smoke: everybody out, meet outside, call from there, stay out.",
            "CO: everybody out to fresh air, count heads, call from there.",
            "The siren, and you did not set it off: do not search the home; go out, call the police.",
            "You set it off by mistake: unset it, and call those who get the message.",
            "A warning after you come home (“there was an alarm”): go out again and call.",
        )
    )
    yield Caution("Nobody waits to silence a smoke or CO alarm before leaving.", "caution_carbon_monoxide")
    yield from _told(context)
    yield _shown(context)
    yield Text(("Codes are told by mouth, one for each person, and never written on this card.",))


def _door(context: Context, door: str) -> tuple[str, str, str]:
    entry_s, exit_s = door_times(context.control_unit.times, door)
    return context.name("opening", door), seconds(exit_s), seconds(entry_s)


def _told(context: Context) -> Iterator[Block]:
    burglary = [m for m in context.home.messages.messages if m.event is EventKind.BURGLARY and m.to]
    if burglary:
        yield Text((f"After a burglary alarm these are told, in this order: {fact_text(context, burglary[0], 'to')}.",))


def _shown(context: Context) -> Checklist:
    household = context.home.household
    people = [context.name("person", p.id) for p in household.people]
    visitors = [context.name("visitor", v.id) for v in household.visitors if v.can_unset]
    return Checklist("Was shown how it works, and did it once alone", tuple(people + visitors) or ("Everybody",))


@section("contacts", "Contacts (fill in by hand)", level=Share.HELPER, paper=True)
def contacts(_context: Context) -> tuple[Block, ...]:
    """Empty lines: names and numbers are never entered in the workbook."""
    told = "Write on the printed page only. Name at least two people with a key who are not you. No codes here."
    return (
        Text((told,)),
        Lines("Key-holders and neighbours", ("Name", "Telephone", "Has a key", "Can unset the alarm", "Agreed on"), 6),
        Lines("Services: fire, ambulance, police, gas, water, electricity, doctor", ("Service", "Number"), 8),
        Lines("Permit and insurance", ("What", "Number", "Valid until"), 3),
    )


@section("diary", "Event diary", level=Share.HELPER, paper=True)
def diary(context: Context) -> tuple[Block, ...]:
    """Every trip, wanted or not: the rate of false alarms can be counted only from this."""
    lines = Lines("To be filled in by hand", ("Date", "Zone", "Who was there", "Cause found", "What was changed"), 14)
    events = context.home.log.events
    if not (events and context.sees(Share.OWNER)):
        return (lines,)
    return (part_table(context, "Events so far", events, ("on", "zone", "cause", "changed"), keep=4), lines)


@section("walk_sheet", "Walk sheet (fill in by hand)", level=Share.OWNER, paper=True)
def walk_sheet(context: Context) -> tuple[Block, ...]:
    """What is looked at on the round, with room to write."""
    return (
        Text(("Walk from the street to the house, round it, then inside; once by day, once in the dark.",)),
        *_tables(context),
        *_points(),
    )


def _tables(context: Context) -> tuple[Block, ...]:
    site = context.home.site
    openings = tuple(
        (context.name("opening", o.id), context.name("room", o.room), "", "", "", "") for o in site.openings
    )
    rooms = tuple((context.name("room", r.id), "", "", "", "") for r in site.rooms)
    tables = (
        Table("Each way in", ("Way in", "Room", "Lock", "By day", "In the dark", "To do"), openings),
        Table(
            "Each room", ("Room", "What could trip a detector", "Smoke alarm made in", "Two ways out", "To do"), rooms
        ),
    )
    return tuple(table for table in tables if table.rows)


def _points() -> tuple[Block, ...]:
    headings = dict.fromkeys(point.heading for point in POINTS)
    return tuple(Checklist(h.text, tuple(p.text for p in POINTS if p.heading is h)) for h in headings)
