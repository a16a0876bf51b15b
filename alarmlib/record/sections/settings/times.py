"""Times of each entry/exit door: delays, stopwatch walks, the chance in words, the fitter's rule, the sums."""

from collections.abc import Iterator

from alarmlib.model.control_unit import DoorTimes
from alarmlib.model.site import Opening
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_table, label, part_table
from alarmlib.record.season_words import door_times, season_note
from alarmlib.record.sections.front.calculations import TIME_KEYS, head, shown
from alarmlib.record.timeline import Bar, timeline
from alarmlib.units import Kind, show

ID = "times"
TITLE = "Times"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.HELPER


def build(context: Context) -> tuple[Block, ...]:
    """Delays as planned, walks as stopped, and every sum about times."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    home = context.home
    yield from season_note(context)
    yield fact_table(context, "Times of the whole unit", (context.control_unit.times,))
    doors = [opening for opening in home.site.openings if opening.entry_exit]
    if doors:
        yield _picture(context, doors)
    if home.household.walks:
        columns = ("person", "door", "leaving", "first_s", "second_s", "third_s")
        yield part_table(context, "Stopwatch walks", home.household.walks, columns, keep=3)
    if context.season:
        yield Text(("The calculations below are about the ordinary set.",))
    yield from _chances(context)
    yield from shown(context, [figure for figure in context.assessment.figures if head(figure) in TIME_KEYS])


def _chances(context: Context) -> Iterator[Table]:
    """Who is in time at which door, in words, before the sums that say so."""
    rows = tuple(
        (context.name("person", who), context.name("opening", door), str(figure.value))
        for figure in context.assessment.figures
        if head(figure) == "chance_in_time"
        for who, _, door in [figure.key.partition(".")[2].partition(".")]
    )
    if rows:
        yield Table("Who is in time, in words", ("Who", "Door", "How often"), rows)


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
