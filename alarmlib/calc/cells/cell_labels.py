"""Which devices a second's walk may trip, and which it must."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cells.cell_metres import SLACK_M, Metres
from alarmlib.calc.cells.cell_moves import Opened
from alarmlib.calc.cells.cell_spaces import Ground, Space
from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.cells.telling import Telling, nobody
from alarmlib.calc.coverage.detection import STEPS_M

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

_NOTHING_M2 = 1e-9
_EXACT_M = 1e-9
_ROWS = 1000  # cells taken at once, so that a large home does not fill the memory
_ENTRY_BYTES = 150  # of a row of moves: its place and its number, beside its bits
_BITS = 30  # devices whose answers are packed into one number


@dataclass(frozen=True)
class CellLabel:
    """Devices that a second must trip and those that it may: motion detectors, and contacts of inside doors."""

    must: frozenset[str] = frozenset()
    may: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Watch:
    """What each cell is to one device: the least walk to where it may trip, whether it may trip on that cell, and
    whether the cell lies deep inside.

    Deep is a piece wholly within the sure area that can be come to only by four steps inside it.
    """

    device: str
    off_m: "NDArray[np.float64]"
    here: "NDArray[np.bool_]"
    deep: "NDArray[np.bool_]"


def watches_of(metres: Metres, sights: Sequence[Sight], telling: Telling = nobody) -> list[Watch]:
    """What the cells are to each motion detector, and to each contact on a way.

    Reference: UL 1641 15.3.1, four steps of 24 in (`ul1641_steps`).
    """
    import numpy as np

    ground = metres.ground
    nowhere = np.zeros(ground.first_cell[-1], dtype=bool)
    watches = []
    for number, sight in enumerate(sights):
        watches.append(watch := _watch(metres, sight))
        telling("squares that each detector sees", number, len(sights), watch.off_m.nbytes + watch.here.nbytes)
    for device in dict.fromkeys(contact for space in ground.spaces for contact in space.contacts):
        ways = {number: None for number, space in enumerate(ground.spaces) if device in space.contacts}
        off_m = metres.to_places(ways)
        watches.append(Watch(device, off_m, off_m <= SLACK_M, nowhere))
    return watches


def _area(outlines: Iterable[Sequence[tuple[float, float]]]) -> Any:
    from shapely import union_all
    from shapely.geometry import Polygon

    return union_all([Polygon(outline) for outline in outlines])


def _watch(metres: Metres, sight: Sight) -> Watch:
    """What the cells are to a motion detector; it may trip on a way if it may see into either room.

    Whoever steps onto a way and back within a second counts as not having left the room.
    """
    ground = metres.ground
    seen = _seen(ground, sight)
    off_m = metres.to_places(seen)
    here: NDArray[np.bool_] = off_m <= SLACK_M
    rooms = frozenset[str]().union(*(ground.spaces[number].rooms for number in seen))
    for number, space in enumerate(ground.spaces):
        if space.on_the_way and space.rooms & rooms:
            here[ground.first_cell[number] : ground.first_cell[number + 1]] = True
    return Watch(sight.device, off_m, here, _deep_cells(ground, sight))


def _seen(ground: Ground, sight: Sight) -> "dict[int, BaseGeometry | None]":
    """Where the detector may see somebody, by number of the room's space; None is the whole room."""
    rooms = {number: ground.spaces[number] for number in ground.of_room.values()}
    drawn = bool(sight.possible)
    seen: dict[int, BaseGeometry | None] = {
        number: None for number, room in rooms.items() if room.rooms & sight.rooms and not (drawn and room.floor)
    }
    possible = _area(sight.possible)
    for number, room in rooms.items():
        if room.floor is not None and sight.storey in ("", room.storey):
            area = room.floor.intersection(possible)
            if area.area > _NOTHING_M2:
                seen[number] = area
    return seen


def _deep_cells(ground: Ground, sight: Sight) -> "NDArray[np.bool_]":
    import numpy as np

    deep = np.zeros(ground.first_cell[-1], dtype=bool)
    if sight.sure:
        sure = _area(sight.sure)
        for number, space in enumerate(ground.spaces):
            if space.floor is not None and sight.storey in ("", space.storey):
                deep[ground.first_cell[number] : ground.first_cell[number + 1]] = _deep(ground, number, space, sure)
    return deep


def _deep(ground: Ground, number: int, space: Space, sure: "BaseGeometry") -> "NDArray[np.bool_]":
    from shapely import covers, distance

    deep: NDArray[np.bool_] = covers(sure.buffer(_EXACT_M), space.array)
    for place, about_m in _ways_in(ground, number, space, sure):
        deep &= distance(space.array, place) >= STEPS_M + about_m
    return deep


def _ways_in(ground: Ground, number: int, space: Space, sure: "BaseGeometry") -> "Iterator[tuple[BaseGeometry, float]]":
    """All from where the sure area of a room can be entered, and how far about it somebody may be at once."""
    assert space.floor is not None
    unsure = space.floor.difference(sure)
    if unsure.area > _NOTHING_M2:
        yield unsure, 0.0
    for portal in ground.portals:
        yield from ((portal.places[side], 0.0) for side in (0, 1) if portal.spaces[side] == number)
    for entry in ground.entries.values():
        if entry.space == number:
            yield entry.place, entry.half_m


def starts_of(
    ground: Ground, watches: Sequence[Watch], labels: dict[CellLabel, int]
) -> dict[str, tuple[tuple[int, int], ...]]:
    """For each opening the cells somebody is in at the end of coming in, by number of the label; adds labels."""
    import numpy as np
    from shapely import distance

    starts: dict[str, tuple[tuple[int, int], ...]] = {}
    for opening, entry in ground.entries.items():
        shapes, first = ground.spaces[entry.space].array, ground.first_cell[entry.space]
        bits: dict[int, int] = {}
        for piece in np.flatnonzero(distance(shapes, entry.place) <= entry.half_m + _EXACT_M):
            cell = first + int(piece)
            may = frozenset(watch.device for watch in watches if watch.here[cell])
            number = labels.setdefault(CellLabel(may=may), len(labels))
            bits[number] = bits.get(number, 0) | 1 << cell
        starts[opening] = tuple(bits.items())
    return starts


def labelled_moves(
    ground: Ground,
    watches: Sequence[Watch],
    opened: Sequence[Opened],
    labels: dict[CellLabel, int],
    telling: Telling = nobody,
) -> dict[int, Mapping[int, int]]:
    """Label by label the moves that bring exactly it, from cell to bits of cells; adds labels."""
    import numpy as np

    found: dict[int, list[Any]] = {}
    for pairs, family in _families(opened):
        for alike in _alike(ground, watches, pairs, telling):
            telling("what each step trips", 0, 1, alike.nbytes)
            for label in _labels(ground, watches, int(alike[0]), family):
                found.setdefault(labels.setdefault(label, len(labels)), []).append(alike)
    cells, moves = ground.first_cell[-1], dict[int, Mapping[int, int]]()
    for number, parts in found.items():
        moves[number] = _rows(np.concatenate(parts), cells)
        telling("steps by what they trip", len(moves), len(found), len(moves[number]) * (_ENTRY_BYTES + cells // 8))
    return moves


def _may(ground: Ground, watch: Watch, start: Any, end: Any) -> Any:
    """Whether somebody may come by where the device trips and still get from the one cell to the other."""
    near = watch.off_m[start] + watch.off_m[end] <= ground.reach_m + SLACK_M
    return near | watch.here[start] | watch.here[end]


def _must(watch: Watch, start: Any, end: Any) -> Any:
    """Whether both cells lie deep in the sure area and somebody moves."""
    return watch.deep[start] & watch.deep[end] & (start != end)


def _alike(ground: Ground, watches: Sequence[Watch], pairs: Any, telling: Telling) -> Iterator[Any]:
    """The pairs sorted into those that every device treats alike."""
    import numpy as np

    start, end = np.divmod(pairs, ground.first_cell[-1])
    kind = np.zeros(len(pairs), dtype=np.int64)
    for first in range(0, len(watches), _BITS):
        for watch in watches[first : first + _BITS]:
            telling("what each step trips", first, len(watches), 0)
            kind = kind * 2 + _may(ground, watch, start, end)
            if watch.deep.any():
                kind = kind * 2 + _must(watch, start, end)
        kind = np.unique(kind, return_inverse=True)[1]
    order = np.argsort(kind, kind="stable")
    return iter(np.split(pairs[order], np.flatnonzero(np.diff(kind[order])) + 1))


def _families(opened: Sequence[Opened]) -> Iterator[tuple[Any, list[frozenset[str]]]]:
    """Pairs of cells together with every set of doors that can be opened between them in the tick."""
    import numpy as np

    pairs, place = np.unique(np.concatenate([each.pairs for each in opened]), return_inverse=True)
    family = np.zeros(len(pairs), dtype=np.int64)
    first, members = 0, [tuple[int, ...]()]
    for number, each in enumerate(opened):
        there = np.zeros(len(pairs), dtype=np.int64)
        there[place[first : first + len(each.pairs)]] = 1
        first += len(each.pairs)
        codes, family = np.unique(family * 2 + there, return_inverse=True)
        members = [members[code // 2] + (number,) * int(code % 2) for code in codes]
    for number, chosen in enumerate(members):
        yield pairs[family == number], [opened[each].contacts for each in chosen]


def _labels(ground: Ground, watches: Sequence[Watch], pair: int, family: list[frozenset[str]]) -> Iterator[CellLabel]:
    """A label for each least set of doors: those it opens are sure, those of larger sets may be opened too."""
    start, end = divmod(pair, ground.first_cell[-1])
    sure = frozenset(watch.device for watch in watches if _must(watch, start, end))
    seen = frozenset(watch.device for watch in watches if _may(ground, watch, start, end))
    for least in family:
        if not any(smaller < least for smaller in family):
            more = frozenset[str]().union(*(larger for larger in family if larger > least))
            yield CellLabel(sure | least, (seen | more) - sure - least)


def _rows(pairs: "NDArray[np.int64]", cells: int) -> dict[int, int]:
    """From each cell the bits of the cells paired with it."""
    import numpy as np

    start, end = np.divmod(pairs, cells)
    rows, row_of = np.unique(start, return_inverse=True)
    bits: dict[int, int] = {}
    for first in range(0, len(rows), _ROWS):
        here = (row_of >= first) & (row_of < first + _ROWS)
        table = np.zeros((min(_ROWS, len(rows) - first), cells), dtype=bool)
        table[row_of[here] - first, end[here]] = True
        packed = np.packbits(table, axis=1, bitorder="little")
        numbers = rows[first : first + _ROWS].tolist()
        bits |= {row: int.from_bytes(each.tobytes(), "little") for row, each in zip(numbers, packed, strict=True)}
    return bits
