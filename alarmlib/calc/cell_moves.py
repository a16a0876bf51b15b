"""From which cell to which somebody can walk within one tick, and which inside doors they open on the way."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, NamedTuple

from alarmlib.calc.cell_spaces import Ground, Portal, Space
from alarmlib.calc.least_walk import least_walk_m

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

SLACK_M = 1e-6  # walks this much longer than the reach still count: rounding never loses a move


class Opened(NamedTuple):
    """Pairs of cells, from each to each within a tick, with these contacts' doors opened on the way."""

    contacts: frozenset[str]
    pairs: "NDArray[np.int64]"  # from cell × number of cells + to cell, in order, each once


class _Stage(NamedTuple):
    """Somebody stands in a portal on this side of it, having opened these doors."""

    portal: int
    side: int
    contacts: frozenset[str]


def opened_pairs(ground: Ground) -> list[Opened]:
    """Every pair of cells within the ground's reach, by the contacts opened on the way; staying included.

    The metres are a lower bound of the walk: straight within a space, from portal to portal between spaces.
    Reference: shortest paths (Dijkstra), computed here.
    """
    import numpy as np

    found: dict[frozenset[str], list[NDArray[np.int64]]] = {}
    cells = ground.first_cell[-1]
    for contacts, start, end in (*_within_spaces(ground), *_through_portals(ground)):
        found.setdefault(contacts, []).append(start * cells + end)
    return [Opened(contacts, np.unique(np.concatenate(pairs))) for contacts, pairs in found.items()]


def _within_spaces(ground: Ground) -> Iterator[tuple[frozenset[str], Any, Any]]:
    import numpy as np

    for number, space in enumerate(ground.spaces):
        start, end = np.nonzero(_boxes_apart_m(space) <= ground.reach_m + SLACK_M)
        if not space.is_box:
            near = least_walk_m(space.floor, space.array[start], space.array[end]) <= ground.reach_m + SLACK_M
            start, end = start[near], end[near]
        first = ground.first_cell[number]
        yield frozenset(), start + first, end + first


def _boxes_apart_m(space: Space) -> "NDArray[np.float64]":
    """Metres from the box about each piece to the box about each."""
    import numpy as np
    from shapely import bounds

    low_x, low_y, high_x, high_y = bounds(space.array).T
    gap_x = np.maximum(0, np.maximum.outer(low_x, low_x) - np.minimum.outer(high_x, high_x))
    gap_y = np.maximum(0, np.maximum.outer(low_y, low_y) - np.minimum.outer(high_y, high_y))
    apart: NDArray[np.float64] = np.hypot(gap_x, gap_y)
    return apart


def _through_portals(ground: Ground) -> Iterator[tuple[frozenset[str], Any, Any]]:
    import numpy as np

    off_m = [tuple(_off_m(ground, portal, side) for side in (0, 1)) for portal in ground.portals]
    for number, portal in enumerate(ground.portals):
        for side in (0, 1):
            near_m = off_m[number][side]
            first = ground.first_cell[portal.spaces[side]]
            least_m = float(near_m.min())
            for stage, walked_m in _stages(ground, number, side, ground.reach_m - least_m).items():
                far_m = off_m[stage.portal][stage.side]
                left_m = ground.reach_m + SLACK_M - walked_m
                starts, ends = np.flatnonzero(near_m <= left_m), np.flatnonzero(far_m <= left_m)
                row, column = np.nonzero(np.add.outer(near_m[starts], far_m[ends]) <= left_m)
                last = ground.first_cell[ground.portals[stage.portal].spaces[stage.side]]
                yield stage.contacts, starts[row] + first, ends[column] + last


def _off_m(ground: Ground, portal: Portal, side: int) -> Any:
    """The least metres from each piece of the space on that side to the portal."""
    import numpy as np

    space = ground.spaces[portal.spaces[side]]
    return least_walk_m(space.floor, space.array, np.full(len(space.shapes), portal.places[side]))


def _stages(ground: Ground, number: int, side: int, reach_m: float) -> dict[_Stage, float]:
    """Everything that can follow once somebody has come to a portal, and the fewest metres walked by then."""
    portal = ground.portals[number]
    waiting = {_Stage(number, 1 - side, portal.contacts): 0.0}
    if portal.contacts:
        waiting[_Stage(number, side, portal.contacts)] = 0.0  # opened, but not gone through
    done: dict[_Stage, float] = {}
    while waiting:
        stage = min(waiting, key=waiting.__getitem__)
        walked_m = done[stage] = waiting.pop(stage)
        for following, more_m in _following(ground, stage):
            metres = walked_m + more_m
            if metres <= reach_m + SLACK_M and following not in done:
                waiting[following] = min(metres, waiting.get(following, metres))
    return done


def _following(ground: Ground, stage: _Stage) -> Iterator[tuple[_Stage, float]]:
    """The portals of the same space, passed or, if guarded, opened and not passed."""
    here = ground.portals[stage.portal]
    space, place = here.spaces[stage.side], here.places[stage.side]
    for number, portal in enumerate(ground.portals):
        for side in (0, 1):
            if portal.spaces[side] == space and number != stage.portal:
                metres = _apart_m(ground.spaces[space], place, portal.places[side])
                contacts = stage.contacts | portal.contacts
                yield _Stage(number, 1 - side, contacts), metres
                if portal.contacts:
                    yield _Stage(number, side, contacts), metres


def _apart_m(space: Space, place: "BaseGeometry", other: "BaseGeometry") -> float:
    import numpy as np

    return float(least_walk_m(space.floor, np.array([place]), np.array([other]))[0])
