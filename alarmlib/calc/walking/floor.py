"""The floor that a body can be on, who sees whom across it, and the shortest walk over it: one for the whole home.

The household's walks (`walks`) and the walks of the proof (`footpaths`, `cell_metres`, `cell_moves`) all read floors,
straight lines and shortest ways here. They differ in three points, each on purpose:

- What is floor. The household walks round its furniture with a body 0.5 m wide, on one floor a storey
  (`free_floor`). An intruder may climb and squeeze: the proof's floors are bare rooms up to their walls.
- What a door is. For the household it is a gap in the storey's floor. Bare rooms that are drawn wall to wall would
  run together there, and the proof must know which doors were opened. So it joins rooms at the doors' sills alone:
  a bound counts from the whole sill, a real walk goes by a few places of it and may come out a few cm too long.
- Which way is safe to be wrong. A bound is never longer than a walk (`least_walk_m`, half a hair wide); a real walk
  is never shorter than one (`straight_m`). The household's seconds are the walk itself.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from heapq import heappop, heappush
from itertools import count
from math import inf, isclose
from typing import TYPE_CHECKING, Any, TypeVar

from alarmlib.calc.plan.floor_plan import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

SEAM_M = 1e-6  # a line this little off a floor is still on it
_EXACT_M = 1e-7  # whatever is hidden by less than this still counts as seen by a bound
_IN_LINE = 1e-9  # m⁴: a wall this little to one side of a stretch is in line with it

Node = TypeVar("Node")


class Floor:
    """A floor with its corners, ready for straight lines, bounds and shortest walks; `shape` is its outline in m."""

    def __init__(self, shape: "BaseGeometry") -> None:
        self.shape = shape

    @cached_property
    def convex(self) -> bool:
        """Whether a straight line between any two of its points stays on it."""
        return is_convex(self.shape)

    @cached_property
    def _walls(self) -> dict[Point, tuple[Point, Point]]:
        """Each corner that points into the floor, with those before and after it."""
        walls: dict[Point, tuple[Point, Point]] = {}
        for before, here, after in _turns(self.shape):  # where two corners meet in a point, lines aren't sorted out
            walls[here] = (here, here) if here in walls else (before, after)
        return walls

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners that a shortest walk may turn at: those that point into the floor."""
        return tuple(self._walls)

    @cached_property
    def _seen_over(self) -> "BaseGeometry":
        return _ready(self.shape, SEAM_M)

    @cached_property
    def _bound_over(self) -> "BaseGeometry":
        return _ready(self.shape, _EXACT_M)

    def holds(self, at: Point) -> bool:
        """Whether a point is on the floor."""
        from shapely.geometry import Point as ShapelyPoint

        return bool(self._seen_over.covers(ShapelyPoint(at)))

    def sights(self, points: Sequence[Point], ends: Collection[Point] = ()) -> list[tuple[int, int, float]]:
        """(i, j, metres) of each pair of points joined by a straight walk over the floor.

        At a corner that is no end of a walk only stretches are kept that touch it: a shortest walk turns nowhere else.
        Reference: reduced (tangent) visibility graph, textbook; held against the whole one in the tests.
        """
        import numpy as np

        if len(points) < 2:
            return []
        place = np.asarray(points, dtype=float)
        one, other = np.triu_indices(len(points), 1)
        touched = self._touched(points, ends, one, other)
        one, other = one[touched], other[touched]
        seen = self._seen(place[one], place[other])
        length_m = np.hypot(*(place[one] - place[other]).T)
        return [(int(i), int(j), float(m)) for i, j, m in zip(one[seen], other[seen], length_m[seen], strict=True)]

    def straight_m(self, one: Any, other: Any, reach_m: float) -> "NDArray[np.float64]":
        """Metres from each row x, y to each in a straight line; infinite where a wall is between.

        All rows must be on the floor. A line longer than `reach_m` is not looked at: only its length is told.
        """
        import numpy as np

        metres = lengths_m(one, other)
        if not self.convex:
            near = np.argwhere(metres <= reach_m + SEAM_M)
            hidden = near[~self._seen(one[near[:, 0]], other[near[:, 1]])]
            metres[hidden[:, 0], hidden[:, 1]] = np.inf
        return metres

    def least_walk_m(self, one: Any, other: Any) -> "NDArray[np.float64]":
        """A lower bound of the walk from each shape of `one` to its fellow in `other`, metres; never through a wall.

        Straight where some point of the one may be seen from some point of the other; else round a corner.
        Reference: a shortest walk among walls turns at corners alone (textbook plane geometry).
        """
        from shapely import distance

        metres: NDArray[np.float64] = distance(one, other)
        if not self.convex:
            hidden = ~self._may_see(one, other)
            if hidden.any():
                round_m = self._round_a_corner_m(one[hidden], other[hidden])
                metres[hidden] = round_m.clip(min=metres[hidden])
        return metres

    def _seen(self, one: Any, other: Any) -> "NDArray[np.bool_]":
        """Whether the straight line from each row to its fellow stays on the floor."""
        import numpy as np
        from shapely import covers, linestrings

        if not len(one):
            return np.zeros(0, dtype=bool)
        seen: NDArray[np.bool_] = covers(self._seen_over, linestrings(np.stack([one, other], axis=1)))
        return seen

    def _touched(self, points: Sequence[Point], ends: Collection[Point], one: Any, other: Any) -> Any:
        """Which pairs of points touch the corners that they join: both walls of a corner on the same side of them."""
        import numpy as np

        walls = [(at, at) if at in ends else self._walls.get(at, (at, at)) for at in points]
        place = np.asarray(points, dtype=float)
        along = place[other] - place[one]
        touched = np.ones(len(one), dtype=bool)
        for corner in (one, other):
            sides = [np.asarray([wall[n] for wall in walls])[corner] - place[corner] for n in (0, 1)]
            left, right = (along[:, 0] * side[:, 1] - along[:, 1] * side[:, 0] for side in sides)
            touched &= left * right >= -_IN_LINE
        return touched

    def _may_see(self, one: Any, other: Any) -> "NDArray[np.bool_]":
        """Whether both lie on one connected piece of the floor between them; false only if no line joins them."""
        import numpy as np
        from shapely import convex_hull, covers, geometrycollections, get_parts, intersection, intersects

        between = convex_hull(geometrycollections(np.stack([one, other], axis=1)))
        seen: NDArray[np.bool_] = covers(self._bound_over, between)
        doubtful = np.flatnonzero(~seen)
        parts, owner = get_parts(intersection(between[doubtful], self._bound_over), return_index=True)
        joins = intersects(parts, one[doubtful][owner]) & intersects(parts, other[doubtful][owner])
        seen[doubtful[owner[joins]]] = True
        return seen

    def _round_a_corner_m(self, one: Any, other: Any) -> "NDArray[np.float64]":
        import numpy as np
        from shapely import distance, points

        metres = np.full(len(one), np.inf)
        for corner in points(np.array(self.corners)):
            metres = np.minimum(metres, distance(one, corner) + distance(other, corner))
        return metres


def cheapest(
    first: Mapping[Node, float], onward: Callable[[Node], Iterable[tuple[Node, float]]], most: float = inf
) -> tuple[dict[Node, float], dict[Node, Node]]:
    """The least cost of coming to each place from the first ones, and from where; dearer than `most` is left.

    Reference: Dijkstra; held against networkx in the tests. (scipy's would slow a page that needs it for nothing else.)
    """
    done: dict[Node, float] = {}
    least, before, turn = dict(first), dict[Node, Node](), count()
    waiting: list[tuple[float, int, Node]] = []
    for node, cost in first.items():
        heappush(waiting, (cost, next(turn), node))
    while waiting:
        cost, _, node = heappop(waiting)
        if node in done:
            continue
        done[node] = cost
        for other, more in onward(node):
            total = cost + more
            if total <= most and total < least.get(other, inf):
                least[other], before[other] = total, node
                heappush(waiting, (total, next(turn), other))
    return done, before


def all_ways(size: int, ends: Any, costs: Any, most: float) -> tuple[Any, Any]:
    """Least costs between all of `size` places, up to `most`, and by which place each was come to.

    `ends` are two rows of places' numbers, from and to; of two stretches between the same the cheaper counts.
    Reference: Dijkstra, by scipy.
    """
    import numpy as np
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import dijkstra

    if not size:
        return np.zeros((0, 0)), np.zeros((0, 0), dtype=int)
    order = np.argsort(costs, kind="stable")
    least = order[np.unique(ends[0][order] * size + ends[1][order], return_index=True)[1]]
    graph = csr_array((costs[least], (ends[0][least], ends[1][least])), shape=(size, size))
    apart, before = dijkstra(graph, limit=most, return_predecessors=True)
    return apart, before


def path_to(last: Node, before: Mapping[Node, Node]) -> list[Node]:
    """The places passed on the cheapest way to one that was come to, in order."""
    path = [last]
    while path[-1] in before:
        path.append(before[path[-1]])
    return path[::-1]


def is_convex(shape: "BaseGeometry") -> bool:
    """Whether a straight line between any two points of a shape stays on it."""
    return bool(shape.convex_hull.area - shape.area < _EXACT_M**2)


def grown(shape: "BaseGeometry", by_m: float) -> "BaseGeometry":
    """The shape with its edge moved outwards, corners kept square."""
    return shape.buffer(by_m, join_style="mitre", mitre_limit=5.0) if by_m else shape


def lengths_m(one: Any, other: Any) -> "NDArray[np.float64]":
    """Metres from each row x, y to each."""
    import numpy as np

    metres: NDArray[np.float64] = np.hypot(one[:, None, 0] - other[None, :, 0], one[:, None, 1] - other[None, :, 1])
    return metres


def _ready(shape: "BaseGeometry", by_m: float) -> "BaseGeometry":
    from shapely import prepare

    ready = grown(shape, by_m)
    prepare(ready)
    return ready


def _turns(floor: "BaseGeometry") -> Iterator[tuple[Point, Point, Point]]:
    """Each corner that points into the floor between those before and after it."""
    from shapely.geometry.polygon import orient

    for piece in getattr(floor, "geoms", [floor]):
        if piece.is_empty:
            continue
        turned = orient(piece)  # outside counter-clockwise, holes clockwise: free floor lies on the left
        for ring in (turned.exterior, *turned.interiors):
            yield from _right_turns(list(ring.coords)[:-1])


def _right_turns(ring: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    for before, here, after in zip((*ring[-1:], *ring[:-1]), ring, (*ring[1:], *ring[:1]), strict=True):
        cross = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])
        if cross < 0 and not isclose(cross, 0, abs_tol=1e-12):
            yield before, here, after
