"""What to enter in the control unit, in the order of the owner's unit; the times of each entry/exit door."""

from collections.abc import Iterator

from alarmlib.model.control_unit import DoorTimes, Zone
from alarmlib.model.site import Opening
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, fact_text, label, note_table, part_table
from alarmlib.record.season_words import door_times, other_sets, season_note
from alarmlib.record.section import section
from alarmlib.record.sections.front.calculations import TIME_KEYS, head, shown
from alarmlib.record.sections.settings.zones import in_unit_order
from alarmlib.record.timeline import Bar, timeline
from alarmlib.units import Kind, show


@section("settings", "What to enter in the control unit", level=Share.HELPER, needs=("control_unit.zones",), paper=True)
def settings(context: Context) -> Iterator[Block]:
    """The settings sheet: tick each line when it is entered, and note who changed what and why."""
    unit = context.control_unit
    yield Text(("Enter these in the words of your own control unit's manual. Do not write a code on this sheet.",))
    yield from season_note(context)
    yield fact_table(context, "Times", (unit.times,))
    doors = tuple(_door(context, opening.id) for opening in context.home.site.openings if opening.entry_exit)
    if doors:
        yield Table("Entry/exit doors", ("Door", "Entry delay", "Exit delay", "Entered"), doors)
    zones = tuple(_zone(context, zone) for zone in in_unit_order(unit.zones))
    header = ("Number", "Label", "Function", "Areas", "Left out in", "Also", "Entered")
    yield Text(
        ("Zones come by their numbers in the control unit. Those without a number come last, as you entered them.",)
    )
    yield Table("Zones in the order of the control unit", header, zones)
    yield from other_sets(context, "What is different in the other seasons")
    yield fact_table(context, "How the control unit behaves", (unit.behaviour,))
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


@section("times", "Times", level=Share.HELPER)
def times(context: Context) -> Iterator[Block]:
    """Delays as planned, walks as stopped, and every calculation about times."""
    home = context.home
    yield from season_note(context)
    yield fact_table(context, "Times of the whole control unit", (context.control_unit.times,))
    doors = [opening for opening in home.site.openings if opening.entry_exit]
    if doors:
        yield _picture(context, doors)
    if home.household.walks:
        columns = ("person", "door", "leaving", "first_s", "second_s", "third_s")
        yield part_table(context, "Stopwatch walks", home.household.walks, columns, keep=3)
    if context.season:
        yield Text(("The calculations below are about the ordinary settings.",))
    yield from _chances(context)
    yield from shown(context, [figure for figure in context.assessment.figures if head(figure) in TIME_KEYS])


def _chances(context: Context) -> Iterator[Table]:
    """Who is in time at which door, in words, before the calculations that say so."""
    rows = tuple(
        (context.name("person", who), context.name("opening", door), str(figure.value))
        for figure in context.assessment.figures
        if head(figure) == "chance_in_time"
        for who, _, door in [figure.key.partition(".")[2].partition(".")]
    )
    if rows:
        yield Table("Who is in time", ("Who", "Door", "How often"), rows)


def _walks_in(context: Context, door: Opening) -> list[float]:
    return [
        s for walk in context.home.household.walks if walk.door == door.id and not walk.leaving for s in walk.seconds
    ]


def seconds(value: float | None, none: str = "not set yet") -> str:
    """A time as it is read, or the words for none."""
    return none if value is None else show(value, Kind.TIME, "metric")


def _picture(context: Context, doors: list[Opening]) -> Picture:
    delays = [door_times(context.control_unit.times, door.id) for door in doors]
    walks = [max(_walks_in(context, door), default=None) for door in doors]
    bars = [
        Bar(door.name, entry_s or 0.0, walk_s or 0.0)
        for door, (entry_s, _), walk_s in zip(doors, delays, walks, strict=True)
    ]
    rows = tuple(
        (context.name("opening", door.id), seconds(entry_s), seconds(exit_s), seconds(walk_s, "not walked yet"))
        for door, (entry_s, exit_s), walk_s in zip(doors, delays, walks, strict=True)
    )
    header = (
        "Entry/exit door",
        label(DoorTimes, "entry_s"),
        label(DoorTimes, "exit_s"),
        "Slowest walk in, by stopwatch",
    )
    return Picture(
        "Entry delay and the slowest walk",
        "There is a bar for each entry/exit door. The open frame is the entry delay. The slanted part is the slowest "
        "stopwatch walk from the door until the alarm is off.",
        timeline(bars),
        Table("Delays of each entry/exit door", header, rows, frozenset({1, 2, 3})),
    )
