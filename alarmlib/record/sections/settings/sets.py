"""Areas, part sets and seasonal sets."""

from collections.abc import Iterator

from alarmlib.calc.times.seasons import months_of
from alarmlib.model.control_unit import PartSet, Season
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, named
from alarmlib.record.context import Context
from alarmlib.record.rows import fact_text, part_table

ID = "sets"
TITLE = "Areas, part sets and seasons"
NEEDS = ("control_unit.zones",)
LEVEL = Share.HELPER


def build(context: Context) -> tuple[Block, ...]:
    """What has its own arm state, how people set it while they are in, and what changes with the season."""
    return tuple(_tables(context))


def _tables(context: Context) -> Iterator[Block]:
    unit = context.home.control_unit
    if unit.areas:
        zones = ("Zones", lambda area: _zones(context, area.id))
        yield part_table(context, "Areas", unit.areas, ("name", zones, "follows"))
    if unit.part_sets:
        doors = ("Entry/exit doors", lambda part_set: _doors(context, part_set))
        columns = ("name", "area", "left_out", doors, "exit_delay")
        yield part_table(context, "Part sets", unit.part_sets, columns, keep=4)
    if unit.seasons:
        rows = tuple((named(s.name), months_of(s), _differs(context, s)) for s in unit.seasons)
        yield Table("Seasonal sets: what differs from the ordinary set", ("Season", "Months", "Differs"), rows)


def _zones(context: Context, area: str) -> str:
    return ", ".join(context.name("zone", zone.id) for zone in context.home.control_unit.zones if area in zone.areas)


def _doors(context: Context, part_set: PartSet) -> str:
    return ", ".join(
        f"{context.name('zone', door.zone)} {'with its delay' if door.delayed else 'at once'}"
        for door in part_set.doors
    )


def _differs(context: Context, season: Season) -> str:
    told = [
        f"{name} delay {fact_text(context, season, f'{name}_s')}"
        for name in ("entry", "exit")
        if getattr(season, f"{name}_s") is not None
    ]
    told += [
        f"{context.name('opening', door.opening)}: entry {fact_text(context, door, 'entry_s')}, "
        f"exit {fact_text(context, door, 'exit_s')}"
        for door in season.doors
    ]
    for zone in season.zones:
        does = "out of use" if zone.out_of_use else zone.function.text if zone.function else "as usual"
        told.append(f"{context.name('zone', zone.zone)}: {does}")
    return "; ".join(told)
