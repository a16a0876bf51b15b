"""Pieces of a drawn room, and the stretches of wall through which it is entered."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, log2
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import Plan, PlanRoom, Point, shared_walls
from alarmlib.calc.walking.free_floor import sill_of

if TYPE_CHECKING:
    from shapely.geometry import Polygon
    from shapely.geometry.base import BaseGeometry

_THIN = 0.25  # a strip along a room's edge thinner than this share of a square goes with its neighbour
_NOTHING_M2 = 1e-9


def pieces(room: "Polygon", side_m: float) -> tuple["BaseGeometry", ...]:
    """The squares of the storey's grid, cut by the walls; together they are the whole floor.

    The grid is anchored at 0. Pieces of one square that a wall parts are pieces of their own.
    """
    import numpy as np
    from shapely import area, box, get_parts, intersection

    min_x, min_y, max_x, max_y = room.bounds
    xs, ys = _lines(min_x, max_x, side_m), _lines(min_y, max_y, side_m)
    left, low = np.meshgrid(xs[:-1], ys[:-1])
    right, high = np.meshgrid(xs[1:], ys[1:])
    squares = box(left.ravel(), low.ravel(), right.ravel(), high.ravel())
    parts = get_parts(intersection(squares, room))
    return tuple(parts[area(parts) > _NOTHING_M2])


def _lines(low: float, high: float, side_m: float) -> list[float]:
    thin_m = _THIN * side_m
    steps = range(ceil((low + thin_m) / side_m), floor((high - thin_m) / side_m) + 1)
    return [low, *(step * side_m for step in steps), high]


def nearest_on_wall(at: Point, room: "Polygon") -> "BaseGeometry":
    """The point of the room's wall nearest to `at`."""
    from shapely.geometry import Point as ShapelyPoint
    from shapely.ops import nearest_points

    nearest: BaseGeometry = nearest_points(room.boundary, ShapelyPoint(at))[0]
    return nearest


def across(
    at: Point, width_m: float, first: Sequence[Point], second: Sequence[Point], side_m: float
) -> Iterator["BaseGeometry"]:
    """What lies in a door's frame, from the first room's wall to the second's, in parts at most `side_m` wide.

    There are 1, 2, 4, 8 ... parts: so those of half the side lie within these.
    """
    import numpy as np
    from shapely.geometry import MultiPoint, Polygon

    start, end = np.array(sill_of(at, width_m, first))
    off = [np.subtract(nearest_on_wall(at, Polygon(outline)).coords[0], at) for outline in (first, second)]
    cuts = np.linspace(0, 1, 2 ** max(0, ceil(log2(width_m / side_m))) + 1)
    for ends in pairwise(start + cut * (end - start) for cut in cuts):
        frame: BaseGeometry = MultiPoint([point + shift for point in ends for shift in off]).convex_hull
        yield frame


def shared_wall(room: PlanRoom, beside: PlanRoom) -> "BaseGeometry | None":
    """The stretches of the first room's wall that the second lies along, or None."""
    from shapely.geometry import MultiLineString

    stretches = [stretch for _, _, stretch, _ in shared_walls(Plan(rooms=(room, beside)))]
    return MultiLineString(stretches) if stretches else None
