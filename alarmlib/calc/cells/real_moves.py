"""The moves of a map of cells that are walks from stand to stand: whatever path is found in them is real."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_map import CellMap
from alarmlib.calc.cells.cell_metres import SLACK_M
from alarmlib.calc.walking.footpaths import Footpaths, Spots

if TYPE_CHECKING:
    from numpy.typing import NDArray


def real_map(cellmap: CellMap) -> CellMap:
    """The same cells and labels, but only moves walked from the stand of one cell to the stand of the other.

    A cell's stand is its `middle`: the place of a way in, the middle of a room, else the middle of the piece.
    Each path through it is a walk in metres at no more than top speed; the fastest of all walks may be missing.
    """
    ground = cellmap.ground
    contacts = frozenset[str]().union(*(portal.contacts for portal in ground.portals))
    near: dict[frozenset[str], list[int]] = {}

    def kept(label: CellLabel, row: Mapping[int, int]) -> Mapping[int, int]:
        doors = contacts & label.must
        if doors not in near:
            near[doors] = _within_reach(cellmap, contacts - doors, doors)
        return {cell: bits & near[doors][cell] for cell, bits in row.items() if bits & near[doors][cell]}

    return replace(
        cellmap,
        moves=tuple(kept(label, row) for label, row in zip(cellmap.labels, cellmap.moves, strict=True)),
        starts={opening: tuple(_at_place(cellmap, opening)) for opening in cellmap.starts},
    )


def _at_place(cellmap: CellMap, opening: str) -> Iterator[tuple[int, int]]:
    """Where somebody comes in exactly: in the one cell whose stand is the opening's place, if it has one."""
    ground = cellmap.ground
    entry = ground.entries[opening]
    at_place = -1
    if entry.half_m:
        piece = ground.spaces[entry.space].nearest_piece(entry.place.coords[0])
        at_place = 1 << (ground.first_cell[entry.space] + piece)
    yield from ((label, bits & at_place) for label, bits in cellmap.starts[opening] if bits & at_place)


def _within_reach(cellmap: CellMap, shut: frozenset[str], through: frozenset[str]) -> list[int]:
    """From each cell the bits of the cells whose stand is within a tick's walk of its own."""
    import numpy as np

    ground = cellmap.ground
    paths = Footpaths(ground, shut)
    first = ground.first_cell
    spots = [Spots(number, ground.stands[first[number] : first[number + 1]]) for number in range(len(ground.spaces))]
    bits = [0] * first[-1]
    for start in spots:
        reached: NDArray[np.bool_] = np.zeros((len(start.at), first[-1]), dtype=bool)
        for end in spots:
            if paths.joined(start.space, end.space):
                metres = paths.metres(start, end, through)
                reached[:, first[end.space] : first[end.space + 1]] = metres <= ground.reach_m + SLACK_M
        rows: Any = np.packbits(reached, axis=1, bitorder="little")
        for place, row in enumerate(rows):
            bits[first[start.space] + place] = int.from_bytes(row.tobytes(), "little")
    return bits
