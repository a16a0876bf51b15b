"""The zone chart, who is listening when; areas, part sets and seasons."""

import re
from collections.abc import Iterator

from alarmlib.calc.times.seasons import months_of
from alarmlib.model.control_unit import PartSet, Season, Zone
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table, named
from alarmlib.record.context import Context
from alarmlib.record.listening import ZoneListens, listens
from alarmlib.record.matrix import MatrixCell, matrix
from alarmlib.record.picture import Fill
from alarmlib.record.rows import fact_text, part_table
from alarmlib.record.season_words import season_note
from alarmlib.record.section import section
from alarmlib.record.sections.detectors.devices import devices_of_zone

_MARKS = {
    ZoneListens.AT_ONCE: MatrixCell("L", Fill.SLANTED),
    ZoneListens.DELAYED: MatrixCell("D", Fill.CROSSED),
    ZoneListens.ALWAYS: MatrixCell("A", Fill.DOTTED),
    ZoneListens.LEFT_OUT: MatrixCell("–", Fill.NONE),
    ZoneListens.OUT_OF_USE: MatrixCell("×", Fill.NONE),
    ZoneListens.ELSEWHERE: MatrixCell(""),
    ZoneListens.UNUSED: MatrixCell(""),
}


@section("zones", "Zone chart", level=Share.HELPER, needs=("control_unit.zones",))
def zones(context: Context) -> tuple[Block, ...]:
    """The chart, and the matrix of zones against ways of setting."""
    zones = context.control_unit.zones
    guards = ("Devices", lambda zone: devices_of_zone(context, zone.id))
    columns = ("label", "place", "function", guards, "areas", "chime", "silent", "confirmed_by", "reason")
    return (*season_note(context), part_table(context, "Zones", zones, columns, keep=3), _matrix(context))


def _matrix(context: Context) -> Picture:
    zones, part_sets = context.control_unit.zones, context.home.control_unit.part_sets
    sets: tuple[PartSet | None, ...] = (None, *part_sets)
    heads = ("nobody in", *(part_set.name for part_set in part_sets))
    cells = {zone.id: tuple(listens(zone, part_set) for part_set in sets) for zone in zones}
    drawn = [(zone.label, [_MARKS[s] for s in cells[zone.id]]) for zone in zones]
    header = ("Zone", "Nobody in", *(context.name("part set", part_set.id) for part_set in part_sets))
    rows = tuple((context.name("zone", zone.id), *(s.value for s in cells[zone.id])) for zone in zones)
    return Picture(
        "Who is listening",
        "A grid with a row for each zone and a column for each way of setting the alarm. L, slanted: listens, at once. "
        "D, crossed: listens, with the entry delay. A, dotted: always on. A dash: left out. ×: out of use.",
        matrix(heads, drawn),
        Table("Which zone listens when", header, rows),
    )


def in_unit_order(zones: tuple[Zone, ...]) -> tuple[Zone, ...]:
    """The zones by the numbers of their places in the unit; those without a number last, as they were entered."""
    return tuple(sorted(zones, key=lambda zone: _numbered(zone.place)))


def _numbered(place: str) -> tuple[bool, list[tuple[int, int, str]]]:
    """Where a place comes: numbers read as numbers. Words have no order that the unit would keep."""
    without = not any(sign.isdigit() for sign in place)
    return without, [] if without else _natural(place)


def _natural(text: str) -> list[tuple[int, int, str]]:
    return [(0, int(part), "") if part.isdigit() else (1, 0, part) for part in re.findall(r"\d+|\D+", text)]


@section("sets", "Areas, part sets and seasons", level=Share.HELPER, needs=("control_unit.zones",))
def sets(context: Context) -> Iterator[Block]:
    """What is set by itself, how people set it while they are in, and what changes with the season."""
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
        yield Table("Seasonal settings: what differs from the ordinary settings", ("Season", "Months", "Differs"), rows)


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
