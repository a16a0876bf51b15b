"""The family's card: one page for everybody who lives here or comes in."""

from collections.abc import Iterator

from alarmlib.model.words import EventKind, Share
from alarmlib.record.blocks import Block, Bullets, Caution, Checklist, Subheading, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_text
from alarmlib.record.season_words import door_times, other_sets, season_note
from alarmlib.record.sections.settings.times import seconds

ID = "handover"
TITLE = "The family's card"
NEEDS = ("control_unit.zones",)
LEVEL = Share.HELPER
PAPER = True


def build(context: Context) -> tuple[Block, ...]:
    """How to leave, come home and sleep; what sounds mean; what to do."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    doors = tuple(_door(context, o.id) for o in context.home.site.openings if o.entry_exit)
    if doors:
        yield from season_note(context)
        yield Table("Leave and come home by these doors", ("Door", "Out within", "Alarm off within"), doors)
    sets = tuple(
        (context.name("part set", s.id), fact_text(context, s, "left_out")) for s in context.home.control_unit.part_sets
    )
    yield from other_sets(context, "By these doors in the other sets", zones=False)
    if sets:
        yield Table("Set it while somebody is in", ("Part set", "You may move about here: left out"), sets)
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
