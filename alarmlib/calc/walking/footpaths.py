"""Real walks over a ground, from point to point, through doors at a few places of their sill."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, permutations
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cells.cell_spaces import Ground, Portal
from alarmlib.calc.plan.floor_plan import Point
from alarmlib.calc.walking.floor import SEAM_M, all_ways

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

_ALONG = 3  # places along each part of a sill that are tried

FootpathLine = tuple[int, Point, Point]  # space, start, end


@dataclass(frozen=True)
class Spots:
    """Points of one space, in its own metres: `at` has a row x, y a point."""

    space: int
    at: "NDArray[np.float64]"

    def only_at(self, number: int) -> "Spots":
        """That point alone."""
        return Spots(self.space, self.at[number : number + 1])

    def only(self, point: Point) -> "Spots":
        """One point in place of them."""
        import numpy as np

        return Spots(self.space, np.array([point], dtype=float))


class Footpaths:
    """Shortest walks between the corners of rooms and the places of sills, the doors of `shut` contacts closed."""

    def __init__(self, ground: Ground, shut: frozenset[str] = frozenset()) -> None:
        import numpy as np

        self.ground = ground
        self._nodes: list[tuple[int, Point]] = []
        self._numbers: dict[tuple[int, Point], int] = {}
        self._sills_m: dict[tuple[int, int], float] = {}
        self._opens: dict[tuple[int, int], frozenset[str]] = {}
        self._at_door: dict[str, list[int]] = {}
        self._add_corners()
        for portal in ground.portals:
            if not portal.contacts & shut:
                self._add_sill(portal)
        self._space_of = np.array([space for space, _ in self._nodes], dtype=int)
        self._at = np.array([at for _, at in self._nodes], dtype=float).reshape(-1, 2)
        ends, metres = self._pieces()
        self._apart_m, self._before = all_ways(len(self._nodes), ends, metres, ground.reach_m + SEAM_M)

    def joined(self, space: int, other: int) -> bool:
        """Whether any walk from the one space comes to the other within reach."""
        import numpy as np

        ways = self._apart_m[np.ix_(self._space_of == space, self._space_of == other)]
        return space == other or bool(np.isfinite(ways).any())

    def metres(self, start: Spots, end: Spots, through: frozenset[str] = frozenset()) -> "NDArray[np.float64]":
        """Metres from each start to each end, opening the doors of `through` on the way; infinite out of reach.

        Reference: shortest path over a visibility graph, textbook.
        """
        import numpy as np

        straight = np.full((len(start.at), len(end.at)), np.inf)
        if start.space == end.space and not through:
            straight = self._straight_m(start.space, start.at, end.at)
        onward = self._from_nodes(end)
        away = self._from_nodes(start)
        return min(
            (np.minimum(straight, _least_sum(self._to_nodes(away, order), onward)) for order in permutations(through)),
            key=lambda each: float(each.min()),
        )

    def walked(
        self, start: Spots, end: Spots, through: frozenset[str] = frozenset()
    ) -> tuple[tuple[FootpathLine, ...], frozenset[str]]:
        """The straight lines of the walk from one point to one, and the contacts of the doors opened on it."""
        import numpy as np

        onward, away = self._from_nodes(end)[:, 0], self._from_nodes(start)
        orders = {order: self._to_nodes(away, order)[0] + onward for order in permutations(through)}
        order = min(orders, key=lambda each: float(orders[each].min(initial=np.inf)))
        straight_m = float("inf")
        if start.space == end.space and not through:
            straight_m = float(self._straight_m(start.space, start.at, end.at)[0, 0])
        if straight_m <= float(orders[order].min(initial=np.inf)):
            return ((start.space, _point(start), _point(end)),), frozenset()
        nodes = self._nodes_along(away, order, int(orders[order].argmin()))
        opened = through.union(*(self._opens.get(pair, frozenset()) for pair in pairwise(nodes)))
        return tuple(self._lines(start, end, nodes)), opened

    def _lines(self, start: Spots, end: Spots, nodes: list[int]) -> Iterator[FootpathLine]:
        space, here = start.space, _point(start)
        for node in nodes:
            onward, at = self._nodes[node]
            if onward == space:
                yield space, here, at
            space, here = onward, at
        yield end.space, here, _point(end)

    def _nodes_along(self, away: Any, order: tuple[str, ...], last: int) -> list[int]:
        """The nodes passed, from the first to the last, by the doors in this order."""
        nodes: list[int] = []
        for done in range(len(order), -1, -1):
            came = self._entering(away, order[:done])[0] + self._apart_m[:, last]
            first = int(came.argmin())
            nodes = self._between(first, last) + nodes
            last = first
        return [node for node, before in zip(nodes, [-1, *nodes], strict=False) if node != before]

    def _between(self, first: int, last: int) -> list[int]:
        passed = [last]
        while passed[-1] != first:
            passed.append(int(self._before[first, passed[-1]]))
        return passed[::-1]

    def _entering(self, away: Any, order: tuple[str, ...]) -> Any:
        """Metres from each start to each node as the first after the doors of `order`."""
        import numpy as np

        if not order:
            return away.T
        metres = self._to_nodes(away, order[:-1])
        at_door = np.full(len(self._nodes), np.inf)
        at_door[self._at_door.get(order[-1], [])] = 0.0
        return metres + at_door

    def _to_nodes(self, away: Any, order: tuple[str, ...]) -> Any:
        """Metres from each start to each node, opening the doors in this order."""
        return _least_sum(self._entering(away, order), self._apart_m)

    def _from_nodes(self, spots: Spots) -> Any:
        """Metres straight from each node to each spot; infinite where it lies in another space or behind a wall."""
        import numpy as np

        metres = np.full((len(self._nodes), len(spots.at)), np.inf)
        here = np.flatnonzero(self._space_of == spots.space)
        metres[here] = self._straight_m(spots.space, self._at[here], spots.at)
        return metres

    def _straight_m(self, space: int, one: Any, other: Any) -> Any:
        return self.ground.spaces[space].straight_m(one, other, self.ground.reach_m)

    def _add_corners(self) -> None:
        for number, space in enumerate(self.ground.spaces):
            if space.walked is not None:
                for at in space.walked.corners:
                    self._node(number, at)

    def _add_sill(self, portal: Portal) -> None:
        """Both ends of each line through a portal; the frame's depth lies between them."""
        for one, other, apart_m in _crossings(self.ground, portal):
            first, second = self._node(portal.spaces[0], one), self._node(portal.spaces[1], other)
            for pair in ((first, second), (second, first)):
                self._sills_m[pair] = apart_m
                self._opens[pair] = portal.contacts
            for contact in portal.contacts:
                self._at_door.setdefault(contact, []).extend((first, second))

    def _node(self, space: int, at: Point) -> int:
        """Number of the node there; points of one place are one node."""
        place = space, (round(at[0], 6), round(at[1], 6))
        if place not in self._numbers:
            self._numbers[place] = len(self._nodes)
            self._nodes.append((space, at))
        return self._numbers[place]

    def _pieces(self) -> tuple[Any, Any]:
        """The nodes joined, from and to, and how many metres apart: through sills, and straight within a space."""
        import numpy as np

        ends = [np.array(list(self._sills_m), dtype=int).reshape(-1, 2).T]
        metres = [np.array(list(self._sills_m.values()))]
        for space in range(len(self.ground.spaces)):
            here = np.flatnonzero(self._space_of == space)
            straight_m = self._straight_m(space, self._at[here], self._at[here])
            np.fill_diagonal(straight_m, np.inf)
            i, j = np.nonzero(np.isfinite(straight_m))
            ends.append(np.stack([here[i], here[j]]))
            metres.append(straight_m[i, j])
        return np.concatenate(ends, axis=1), np.concatenate(metres)


def _point(spots: Spots) -> Point:
    return float(spots.at[0, 0]), float(spots.at[0, 1])


def _least_sum(one: Any, other: Any) -> Any:
    """The least of one[i, k] + other[k, j] over k, for each i and j."""
    import numpy as np

    near = np.flatnonzero(np.isfinite(one).any(axis=0))
    if not len(near):
        return np.full((one.shape[0], other.shape[1]), np.inf)
    return (one[:, near, None] + other[None, near, :]).min(axis=1)


def _crossings(ground: Ground, portal: Portal) -> Iterator[tuple[Point, Point, float]]:
    """Points at which a portal is passed, in each space, and the metres between them."""
    from shapely import distance
    from shapely.ops import nearest_points

    one, other = (ground.spaces[number].floor for number in portal.spaces)
    for place in _places(portal.places[1] if one is None else portal.places[0]):
        near = portal.places[0] if one is None else nearest_points(one, place)[0]
        far = portal.places[1] if other is None else nearest_points(other, near if one else place)[0]
        yield (near.x, near.y), (far.x, far.y), float(distance(near, far)) if one and other else 0.0


def _places(place: "BaseGeometry") -> Iterator["BaseGeometry"]:
    """Points of a place: its own, a few along a line, or its middle and a few about its edge."""
    import numpy as np

    if place.geom_type == "Point":
        yield place
        return
    if place.area:
        yield place.centroid
    line = place.boundary if place.area else place
    yield from (line.interpolate(share, normalized=True) for share in np.linspace(0, 1, _ALONG))
