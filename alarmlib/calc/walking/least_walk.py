"""The least somebody must walk between two parts of a room: never more than the true walk, never through a wall."""

from typing import TYPE_CHECKING, Any

from alarmlib.calc.walking.free_floor import turning_points

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

_EXACT_M = 1e-7  # whatever is hidden by less than this still counts as seen


def least_walk_m(floor: "BaseGeometry | None", one: Any, other: Any) -> "NDArray[np.float64]":
    """A lower bound of the walk from each shape of `one` to its fellow in `other`, metres.

    Straight where some point of the one may be seen from some point of the other; else round a corner of the
    floor. Without a floor the two lie on a line or in a point.
    Reference: a shortest walk among walls turns at corners alone (textbook plane geometry).
    """
    from shapely import distance

    metres: NDArray[np.float64] = distance(one, other)
    if floor is None or is_convex(floor):
        return metres
    hidden = ~_may_see(floor, one, other)
    if hidden.any():
        round_m = _round_a_corner_m(floor, one[hidden], other[hidden])
        metres[hidden] = round_m.clip(min=metres[hidden])
    return metres


def is_convex(floor: "BaseGeometry") -> bool:
    """Whether a straight line between any two points of a floor stays on it."""
    return bool(floor.convex_hull.area - floor.area < _EXACT_M**2)


def _may_see(floor: "BaseGeometry", one: Any, other: Any) -> "NDArray[np.bool_]":
    """Whether both lie on one connected piece of the floor between them; false only if no line joins them."""
    import numpy as np
    from shapely import convex_hull, covers, geometrycollections, get_parts, intersection, intersects, prepare

    near = floor.buffer(_EXACT_M, join_style="mitre")
    prepare(near)
    between = convex_hull(geometrycollections(np.stack([one, other], axis=1)))
    seen: NDArray[np.bool_] = covers(near, between)
    doubtful = np.flatnonzero(~seen)
    parts, owner = get_parts(intersection(between[doubtful], near), return_index=True)
    joins = intersects(parts, one[doubtful][owner]) & intersects(parts, other[doubtful][owner])
    seen[doubtful[owner[joins]]] = True
    return seen


def _round_a_corner_m(floor: "BaseGeometry", one: Any, other: Any) -> "NDArray[np.float64]":
    import numpy as np
    from shapely import distance, points

    metres = np.full(len(one), np.inf)
    for corner in points(np.array(list(turning_points(floor)))):
        metres = np.minimum(metres, distance(one, corner) + distance(other, corner))
    return metres
