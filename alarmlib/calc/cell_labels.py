"""Which devices a move may trip, and which it must."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cell_moves import Opened
from alarmlib.calc.cell_spaces import Ground, Space
from alarmlib.calc.detection import STEPS_M
from alarmlib.calc.sights import Sight

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_NOTHING_M2 = 1e-9
_EXACT_M = 1e-9


@dataclass(frozen=True)
class Label:
    """Devices that a second must trip and those that it may: motion detectors, and contacts of inside doors."""

    must: frozenset[str] = frozenset()
    may: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Traits:
    """What a cell is to the detectors: those that may see it, those of whose sure area it lies deep inside."""

    may: frozenset[str] = frozenset()
    deep: frozenset[str] = frozenset()


def cell_traits(ground: Ground, sights: Sequence[Sight]) -> list[Traits]:
    """What each cell is to each detector.

    Deep is a piece wholly within the sure area that can be come to only by four steps inside it.
    Reference: UL 1641 15.3.1, four steps of 24 in (`ul1641_steps`), distances computed here.
    """
    traits: list[Traits] = []
    for number, space in enumerate(ground.spaces):
        may = [(sight.device, _may(ground, space, sight)) for sight in sights]
        deep = [(sight.device, _deep(ground, number, sight)) for sight in sights if sight.sure]
        for piece in range(len(space.shapes)):
            seen = frozenset(device for device, sees in may if sees[piece])
            sure = frozenset(device for device, lies in deep if lies[piece])
            traits.append(Traits(seen | space.contacts, sure))
    return traits


def _area(outlines: Iterable[Sequence[tuple[float, float]]]) -> Any:
    from shapely import union_all
    from shapely.geometry import Polygon

    return union_all([Polygon(outline) for outline in outlines])


def _may(ground: Ground, space: Space, sight: Sight) -> "NDArray[np.bool_]":
    """Whether the detector may see each piece; on a way, if it may see either room."""
    import numpy as np
    from shapely import intersects

    shapes = space.array
    by_room = np.full(len(shapes), bool(space.rooms & sight.rooms))
    if not sight.possible:
        return by_room
    possible = _area(sight.possible)
    if space.floor is not None:
        same = sight.storey in ("", space.storey)
        return intersects(shapes, possible) if same else np.zeros(len(shapes), dtype=bool)
    floors = [ground.spaces[ground.of_room[room]] for room in space.rooms]
    sees = any(f.floor is not None and sight.storey in ("", f.storey) and f.floor.intersects(possible) for f in floors)
    return by_room | sees


def _deep(ground: Ground, number: int, sight: Sight) -> "NDArray[np.bool_]":
    import numpy as np
    from shapely import covers, distance

    space = ground.spaces[number]
    shapes = space.array
    if space.floor is None or sight.storey not in ("", space.storey):
        return np.zeros(len(shapes), dtype=bool)
    sure = _area(sight.sure)
    deep: NDArray[np.bool_] = covers(sure.buffer(_EXACT_M), shapes)
    for place, less_m in _ways_in(ground, number, space, sure):
        deep &= distance(shapes, place) >= STEPS_M + less_m
    return deep


def _ways_in(ground: Ground, number: int, space: Space, sure: Any) -> Iterator[tuple[Any, float]]:
    """All from where the sure area of a room can be entered, and how far about it somebody may stand at once."""
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
    ground: Ground, traits: Sequence[Traits], labels: dict[Label, int]
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
            number = labels.setdefault(Label(may=traits[cell].may), len(labels))
            bits[number] = bits.get(number, 0) | 1 << cell
        starts[opening] = tuple(bits.items())
    return starts


def labelled_moves(
    ground: Ground, traits: Sequence[Traits], opened: Sequence[Opened], labels: dict[Label, int]
) -> dict[int, Mapping[int, int]]:
    """Label by label the moves that bring exactly it, from cell to bits of cells; adds labels.

    Reference: computed here.
    """
    import numpy as np

    cells = ground.first_cell[-1]
    kinds = {kind: number for number, kind in enumerate(dict.fromkeys(traits))}
    kind_of = np.array([kinds[kind] for kind in traits])
    found: dict[int, list[Any]] = {}
    for pairs, family in _families(opened):
        start, end = np.divmod(pairs, cells)
        codes = (kind_of[start] * len(kinds) + kind_of[end]) * 2 + (start == end)
        for code in np.unique(codes):
            one, other, stays = _taken_apart(int(code), len(kinds), list(kinds))
            for label in _labels(one, other, stays, family):
                number = labels.setdefault(label, len(labels))
                found.setdefault(number, []).append(pairs[codes == code])
    return {number: _rows(np.concatenate(parts), cells) for number, parts in found.items()}


def _taken_apart(code: int, count: int, kinds: list[Traits]) -> tuple[Traits, Traits, bool]:
    both, stays = divmod(code, 2)
    one, other = divmod(both, count)
    return kinds[one], kinds[other], bool(stays)


def _families(opened: Sequence[Opened]) -> Iterator[tuple[Any, list[frozenset[str]]]]:
    """Pairs of cells together with every set of doors that can be opened between them in the tick."""
    import numpy as np

    pairs = np.concatenate([each.pairs for each in opened])
    which = np.concatenate([np.full(len(each.pairs), number) for number, each in enumerate(opened)])
    order = np.lexsort((which, pairs))
    pairs, which = pairs[order], which[order]
    single, first = np.unique(pairs, return_index=True)
    by_family: dict[tuple[int, ...], list[int]] = {}
    shared = np.diff(np.append(first, len(pairs))) > 1
    for number in range(len(opened)):
        alone = single[~shared & (which[first] == number)]
        if len(alone):
            yield alone, [opened[number].contacts]
    for place in np.flatnonzero(shared):
        end = first[place + 1] if place + 1 < len(first) else len(pairs)
        by_family.setdefault(tuple(which[first[place] : end]), []).append(int(single[place]))
    for members, together in by_family.items():
        yield np.array(together), [opened[number].contacts for number in members]


def _labels(one: Traits, other: Traits, stays: bool, family: list[frozenset[str]]) -> Iterator[Label]:
    """A label for each least set of doors: those it opens are sure, those of larger sets may be opened too."""
    motion = frozenset() if stays else one.deep & other.deep
    for least in family:
        if not any(smaller < least for smaller in family):
            more = frozenset().union(*(larger for larger in family if larger > least))
            must = motion | least
            yield Label(must, (one.may | other.may | more) - must)


def _rows(pairs: "NDArray[np.int64]", cells: int) -> dict[int, int]:
    """From each cell the bits of the cells paired with it."""
    import numpy as np

    start, end = np.divmod(pairs, cells)
    rows, row_of = np.unique(start, return_inverse=True)
    table = np.zeros((len(rows), cells), dtype=bool)
    table[row_of, end] = True
    packed = np.packbits(table, axis=1, bitorder="little")
    return {int(row): int.from_bytes(bits.tobytes(), "little") for row, bits in zip(rows, packed, strict=True)}
