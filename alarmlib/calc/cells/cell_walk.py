"""A walk from cell to cell put back into metres: real points, one a second, no second longer than it may be.

Points are tried on a lattice over each piece, and doors are passed at a few places of their sill: so a walk that
is found is real, and one that isn't found may still be there by a few centimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_map import CellMap
from alarmlib.calc.cells.cell_metres import SLACK_M
from alarmlib.calc.cells.cell_spaces import Ground
from alarmlib.calc.plan.floor_plan import Plan, Point
from alarmlib.calc.walking.footpaths import Footpaths, Spots

if TYPE_CHECKING:
    from numpy.typing import NDArray

_ACROSS = 5  # points tried across a piece
_EDGE = 0.01  # share of a piece's width that they keep off its edge


@dataclass(frozen=True)
class CellStretch:
    """A straight piece of a walk: on the plan of `storey`, or, without points, on the way between `rooms`."""

    rooms: frozenset[str]
    storey: str = ""
    points: tuple[Point, Point] | None = None


@dataclass(frozen=True)
class Trail:
    """A walk in metres: where somebody is at each full second (None where nothing is drawn), and how they get on.

    `seconds[i]` are the stretches from point i to point i + 1, `opened[i]` the contacts of the doors opened in it.
    """

    points: tuple[Point | None, ...]
    storeys: tuple[str, ...]
    seconds: tuple[tuple[CellStretch, ...], ...]
    opened: tuple[frozenset[str], ...]


def trail_in_metres(
    cellmap: CellMap,
    plan: Plan,
    path: Sequence[int],
    labels: Sequence[CellLabel] = (),
    first: Point | None = None,
    last: Point | None = None,
) -> Trail | None:
    """A real walk through these cells, one a second, no second longer than the top speed allows, or None.

    The guarded doors that `labels[i]` must open are opened in the second from cell i to cell i + 1, and no others;
    without labels each may be. `first` and `last` pin where the walk begins and ends. `plan` is the map's own.
    Reference: shortest path over a lattice of points, textbook (Dijkstra).
    """
    ground = cellmap.ground
    assert plan == ground.plan
    spots = [_spots(ground, cell) for cell in path]
    if first is not None:
        spots[0] = spots[0].only(first)
    if last is not None:
        spots[-1] = spots[-1].only(last)
    contacts = frozenset[str]().union(*(portal.contacts for portal in ground.portals))
    through = [label.must & contacts for label in labels] or [frozenset[str]()] * (len(path) - 1)
    paths = {opened: Footpaths(ground, contacts - opened if labels else frozenset()) for opened in set(through)}
    legs = [(paths[opened], opened) for opened in through]
    chosen = _chosen(spots, legs, ground.reach_m)
    return None if chosen is None else _trail(ground, [s.only_at(n) for s, n in zip(spots, chosen, strict=True)], legs)


def _spots(ground: Ground, cell: int) -> Spots:
    """Points of a cell that are tried: its stand, and a lattice over it a hair within its edge.

    So somebody who goes from cell to cell moves.
    """
    import numpy as np
    from shapely import intersects, points

    space = ground.space_of(cell)
    shape = ground.spaces[space].shapes[cell - ground.first_cell[space]]
    low_x, low_y, high_x, high_y = shape.bounds
    across = np.linspace(_EDGE, 1 - _EDGE, _ACROSS)
    x, y = np.meshgrid(low_x + across * (high_x - low_x), low_y + across * (high_y - low_y))
    lattice = np.stack([x.ravel(), y.ravel()], axis=1)
    inside = lattice[intersects(shape, points(lattice))]
    return Spots(space, np.concatenate([ground.stands[cell : cell + 1], inside]))


def _chosen(
    spots: Sequence[Spots], legs: Sequence[tuple[Footpaths, frozenset[str]]], reach_m: float
) -> list[int] | None:
    """Which point of each cell to be at, so that the sum of squares of the seconds' metres is least."""
    import numpy as np

    cost: NDArray[Any] = np.zeros(len(spots[0].at))
    came: list[Any] = []
    for (here, there), (paths, through) in zip(pairwise(spots), legs, strict=True):
        metres = paths.metres(here, there, through)
        total = np.where(metres <= reach_m + SLACK_M, cost[:, None] + metres**2, np.inf)
        came.append(total.argmin(axis=0))
        cost = total.min(axis=0)
    if not np.isfinite(cost).any():
        return None
    chosen = [int(cost.argmin())]
    for back in reversed(came):
        chosen.append(int(back[chosen[-1]]))
    return chosen[::-1]


def _trail(ground: Ground, spots: Sequence[Spots], legs: Sequence[tuple[Footpaths, frozenset[str]]]) -> Trail:
    walked = [
        paths.walked(here, there, through)
        for (here, there), (paths, through) in zip(pairwise(spots), legs, strict=True)
    ]
    spaces = [ground.spaces[each.space] for each in spots]
    at = [(float(each.at[0, 0]), float(each.at[0, 1])) for each in spots]
    return Trail(
        points=tuple(None if s.floor is None else point for s, point in zip(spaces, at, strict=True)),
        storeys=tuple(space.storey for space in spaces),
        seconds=tuple(tuple(_stretch(ground, *line) for line in lines) for lines, _ in walked),
        opened=tuple(opened for _, opened in walked),
    )


def _stretch(ground: Ground, space: int, start: Point, end: Point) -> CellStretch:
    room = ground.spaces[space]
    return CellStretch(room.rooms, room.storey, None if room.floor is None else (start, end))
