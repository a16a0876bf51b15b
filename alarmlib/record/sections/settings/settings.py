"""What to enter in the control unit, in the order of the owner's unit, in plain words."""

from collections.abc import Iterator

from alarmlib.model.control_unit import Zone
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, fact_text, note_table
from alarmlib.record.season_words import door_times, other_sets, season_note
from alarmlib.record.sections.settings.times import seconds
from alarmlib.record.sections.settings.zones import in_unit_order

ID = "settings"
TITLE = "What to enter in the control unit"
NEEDS = ("control_unit.zones",)
LEVEL = Share.HELPER
PAPER = True


def build(context: Context) -> tuple[Block, ...]:
    """The settings sheet: tick each line when it is entered, and note who changed what and why."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    unit = context.control_unit
    yield Text(("Enter these in the words of your own control unit's manual. Do not write a code on this sheet.",))
    yield from season_note(context)
    yield fact_table(context, "Times", (unit.times,))
    doors = tuple(_door(context, opening.id) for opening in context.home.site.openings if opening.entry_exit)
    if doors:
        yield Table("Entry/exit doors", ("Door", "Entry delay", "Exit delay", "Entered"), doors)
    zones = tuple(_zone(context, zone) for zone in in_unit_order(unit.zones))
    header = ("Place", "Label", "Function", "Areas", "Left out in", "Also", "Entered")
    yield Text(("Zones come by their numbers in the unit. Those without a number come last, as you entered them.",))
    yield Table("Zones in the order of the unit", header, zones)
    yield from other_sets(context, "What is different in the other sets")
    yield fact_table(context, "How the unit behaves", (unit.behaviour,))
    yield from note_table(context, "Note on the control unit", (unit,), ("note",))


def _door(context: Context, door: str) -> tuple[str, ...]:
    return (context.name("opening", door), *map(seconds, door_times(context.control_unit.times, door)), "")


def _zone(context: Context, zone: Zone) -> tuple[str, ...]:
    left_out = ", ".join(
        context.name("part set", s.id) for s in context.home.control_unit.part_sets if zone.id in s.left_out
    )
    also = [
        word for word, on in (("chime", zone.chime), ("silent", zone.silent), ("out of use", zone.out_of_use)) if on
    ]
    if zone.confirmed_by:
        also.append(f"confirmed by {context.name('zone', zone.confirmed_by)}")
    return (
        fact_text(context, zone, "place") or "–",
        context.name("zone", zone.id),
        zone.function.text,
        fact_text(context, zone, "areas"),
        left_out,
        ", ".join(also),
        "",
    )
