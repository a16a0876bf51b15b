"""From which cell to which somebody can walk within one tick, and which inside doors they open on the way."""

from collections.abc import Iterator
from itertools import chain
from typing import TYPE_CHECKING, Any, NamedTuple

from alarmlib.calc.cells.cell_metres import SLACK_M, Metres, PortalSide
from alarmlib.calc.cells.cell_spaces import Space
from alarmlib.calc.cells.telling import Telling, nobody
from alarmlib.calc.walking.floor import cheapest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


_ROWS = 500  # so that a very large room does not fill the memory


class Opened(NamedTuple):
    """Pairs of cells, from each to each within a tick, with these contacts' doors opened on the way."""

    contacts: frozenset[str]
    pairs: "NDArray[np.int64]"  # from cell × number of cells + to cell, in order, each once


class _Stage(NamedTuple):
    """Somebody is in a portal on this side of it, having opened these doors."""

    door: PortalSide
    contacts: frozenset[str]


def opened_pairs(metres: Metres, telling: Telling = nobody) -> list[Opened]:
    """Every pair of cells within the ground's reach, by the contacts opened on the way; staying included.

    The metres are a lower bound of the walk: straight within a space, from portal to portal between spaces.
    Reference: shortest paths (Dijkstra).
    """
    import numpy as np

    found: dict[frozenset[str], list[NDArray[np.int64]]] = {}
    cells = metres.ground.first_cell[-1]
    spaces = len(metres.ground.spaces)
    for number, (contacts, start, end) in enumerate(chain(_within_spaces(metres), _through_portals(metres))):
        telling("steps from square to square", min(number, spaces), spaces, start.nbytes)
        found.setdefault(contacts, []).append(start * cells + end)
    return [Opened(contacts, np.unique(np.concatenate(pairs))) for contacts, pairs in found.items()]


def _within_spaces(metres: Metres) -> Iterator[tuple[frozenset[str], Any, Any]]:
    ground, limit_m = metres.ground, metres.ground.reach_m + SLACK_M
    for number, space in enumerate(ground.spaces):
        start, end = _boxes_near(space, limit_m)
        if not space.is_box:
            near = space.least_walk_m(space.array[start], space.array[end]) <= limit_m
            start, end = start[near], end[near]
        first = ground.first_cell[number]
        yield frozenset(), start + first, end + first


def _boxes_near(space: Space, limit_m: float) -> tuple[Any, Any]:
    """Pairs of pieces of which the boxes about them are at most so far apart, a few rows at a time."""
    import numpy as np
    from shapely import bounds

    boxes = bounds(space.array)
    starts, ends = [], []
    for first in range(0, len(boxes), _ROWS):
        one, other = boxes[first : first + _ROWS, None], boxes[None]
        gap = np.maximum(one[..., :2], other[..., :2]) - np.minimum(one[..., 2:], other[..., 2:])
        start, end = np.nonzero(np.hypot(*np.moveaxis(gap.clip(min=0), -1, 0)) <= limit_m)
        starts.append(start + first)
        ends.append(end)
    return np.concatenate(starts), np.concatenate(ends)


def _through_portals(metres: Metres) -> Iterator[tuple[frozenset[str], Any, Any]]:
    import numpy as np

    first_cell = metres.ground.first_cell
    for door in metres.doors:
        near_m = metres.to_door[door]
        for stage, walked_m in _stages(metres, door, metres.ground.reach_m - float(near_m.min())).items():
            far_m = metres.to_door[stage.door]
            left_m = metres.ground.reach_m + SLACK_M - walked_m
            starts, ends = np.flatnonzero(near_m <= left_m), np.flatnonzero(far_m <= left_m)
            row, column = np.nonzero(np.add.outer(near_m[starts], far_m[ends]) <= left_m)
            first, last = first_cell[metres.space(door)], first_cell[metres.space(stage.door)]
            yield stage.contacts, starts[row] + first, ends[column] + last


def _stages(metres: Metres, door: PortalSide, reach_m: float) -> dict[_Stage, float]:
    """Everything that can follow once somebody has come to a door, and the fewest metres walked by then."""

    def onward(stage: _Stage) -> Iterator[tuple[_Stage, float]]:
        for other, more_m in metres.between[stage.door].items():
            for following in _passing(metres, other, stage.contacts):
                yield following, more_m

    return cheapest(dict.fromkeys(_passing(metres, door, frozenset()), 0.0), onward, reach_m + SLACK_M)[0]


def _passing(metres: Metres, door: PortalSide, opened: frozenset[str]) -> Iterator[_Stage]:
    """Going through a door; or, if it is guarded, opening it and staying on this side."""
    contacts = metres.ground.portals[door.portal].contacts
    yield _Stage(door.back, opened | contacts)
    if contacts:
        yield _Stage(door, opened | contacts)
