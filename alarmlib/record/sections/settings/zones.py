"""The zone chart: each zone's function and the reason for it, and who is listening when."""

import re

from alarmlib.model.control_unit import PartSet, Zone
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table
from alarmlib.record.context import Context
from alarmlib.record.listening import ZoneListens, listens
from alarmlib.record.matrix import MatrixCell, matrix
from alarmlib.record.picture import Fill
from alarmlib.record.rows import part_table
from alarmlib.record.season_words import season_note
from alarmlib.record.sections.detectors.devices import devices_of_zone

ID = "zones"
TITLE = "Zone chart"
NEEDS = ("control_unit.zones",)
LEVEL = Share.HELPER

_MARKS = {
    ZoneListens.AT_ONCE: MatrixCell("L", Fill.SLANTED),
    ZoneListens.DELAYED: MatrixCell("D", Fill.CROSSED),
    ZoneListens.ALWAYS: MatrixCell("A", Fill.DOTTED),
    ZoneListens.LEFT_OUT: MatrixCell("–", Fill.NONE),
    ZoneListens.OUT_OF_USE: MatrixCell("×", Fill.NONE),
    ZoneListens.ELSEWHERE: MatrixCell(""),
    ZoneListens.UNUSED: MatrixCell(""),
}


def build(context: Context) -> tuple[Block, ...]:
    """The chart, and the matrix of zones against ways of arming."""
    zones = context.control_unit.zones
    guards = ("Devices", lambda zone: devices_of_zone(context, zone.id))
    columns = ("label", "place", "function", guards, "areas", "chime", "silent", "confirmed_by", "reason")
    return (*season_note(context), part_table(context, "Zones", zones, columns, keep=3), _matrix(context))


def _matrix(context: Context) -> Picture:
    zones, part_sets = context.control_unit.zones, context.home.control_unit.part_sets
    sets: tuple[PartSet | None, ...] = (None, *part_sets)
    heads = ("armed away", *(part_set.name for part_set in part_sets))
    cells = {zone.id: tuple(listens(zone, part_set) for part_set in sets) for zone in zones}
    drawn = [(zone.label, [_MARKS[s] for s in cells[zone.id]]) for zone in zones]
    header = ("Zone", "armed away", *(context.name("part set", part_set.id) for part_set in part_sets))
    rows = tuple((context.name("zone", zone.id), *(s.value for s in cells[zone.id])) for zone in zones)
    return Picture(
        "Who is listening",
        "A grid with a row for each zone and a column for each way of arming. L, slanted: listens, at once. "
        "D, crossed: listens, with the entry delay. A, dotted: always on. A dash: left out. ×: out of use.",
        matrix(heads, drawn),
        Table("Who is listening, in words", header, rows),
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
