"""The floor of a storey that a body can stand on, and who sees whom across it.

Walls and furniture are grown by half a body's width, doors are gaps. Corners stay square when grown, so a
right-angled corner is passed at most 0.35 m off for a half width of 0.25 m: walks come out a little long.
"""

from collections.abc import Collection, Iterable, Sequence
from math import hypot, isclose
from typing import TYPE_CHECKING, Any

from alarmlib.calc.plan.floor_plan import Passage, Plan, Point, Segment
from alarmlib.model.shapes import edges, off_wall_m
from alarmlib.model.site import PassageKind

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

BODY_HALF_M = 0.25  # assumed half width of a body
_SEAM_M = 1e-6
_ASIDE_M = 1e-4  # a walk this near a wall does not count as passing the room behind it
_IN_LINE = 1e-9  # m⁴: a wall this little to one side of a stretch is in line with it
_NARROWEST_M = 0.02  # what is left of a door narrower than a body: it can be passed, but only at its middle


class FreeFloor:
    """The free floor of one storey and its corners, ready for shortest walks.

    `body_half_m` must be above 0 where rooms are drawn wall to wall: it is what keeps their walls apart.
    """

    def __init__(self, plan: Plan, storey: str, body_half_m: float = BODY_HALF_M) -> None:
        from shapely import prepare
        from shapely.geometry import Polygon
        from shapely.ops import unary_union

        self.rooms: dict[str, Polygon] = {
            room.id: Polygon(room.outline) for room in plan.rooms if room.storey == storey and room.outline
        }
        blocks = [_grown(Polygon(f.outline), body_half_m) for f in plan.furniture if f.outline and f.room in self.rooms]
        inside = {name: _grown(shape, -body_half_m) for name, shape in self.rooms.items()}
        self._cores = {name: _grown(shape, -_ASIDE_M) for name, shape in self.rooms.items()}
        self.inside = {name: shape.difference(unary_union(blocks)) for name, shape in inside.items()}
        gaps = [self._gap(plan, passage, body_half_m) for passage in _doors(plan, self.rooms)]
        raw = unary_union([*inside.values(), *gaps]).difference(unary_union(blocks))
        self._walls: dict[Point, tuple[Point, Point]] = {}
        for before, here, after in _turns(raw):  # where two corners meet in a point, stretches aren't sorted out
            self._walls[here] = (here, here) if here in self._walls else (before, after)
        self.corners: tuple[Point, ...] = tuple(self._walls)
        self.floor: BaseGeometry = _grown(raw, _SEAM_M)
        prepare(self.floor)

    def _gap(self, plan: Plan, passage: Passage, body_half_m: float) -> "BaseGeometry":
        """The strip through a door that a body's middle may use, cut off at other rooms' walls."""
        from shapely.geometry import Polygon
        from shapely.ops import unary_union

        at = passage.at
        assert at is not None
        outlines = [plan.room(name).outline for name in passage.rooms]
        (ux, uy), half_m = _wall_direction(at, outlines[0]), max(passage.width_m / 2 - body_half_m, _NARROWEST_M)
        deep_m = max(off_wall_m(at, outline) for outline in outlines) + body_half_m + 10 * _SEAM_M
        ends = [(a * half_m, d * deep_m) for a, d in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        strip = Polygon([(at[0] + a * ux - d * uy, at[1] + a * uy + d * ux) for a, d in ends])
        others = [shape for name, shape in self.rooms.items() if name not in passage.rooms]
        free: BaseGeometry = strip.difference(unary_union(others))
        return free

    def stand(self, room: str, at: Point | None) -> tuple[Point, float]:
        """The free point of the room nearest to `at` (its middle when None), and how far off it is in m."""
        from shapely.geometry import Point as ShapelyPoint
        from shapely.ops import nearest_points

        free = self.inside[room] if not self.inside[room].is_empty else self.rooms[room]
        if at is None:
            middle = free.centroid
            middle = middle if free.covers(middle) else free.representative_point()
            return (middle.x, middle.y), 0.0
        wanted = ShapelyPoint(at)
        if self.floor.covers(wanted):
            return at, 0.0
        near = nearest_points(free, wanted)[0]
        return (near.x, near.y), hypot(near.x - at[0], near.y - at[1])

    def sights(self, points: Sequence[Point], ends: Collection[Point] = ()) -> list[tuple[int, int, float]]:
        """(i, j, metres) of each pair of points joined by a straight walk over the free floor.

        At a corner that is no end of a walk only stretches are kept that touch it: a shortest walk turns nowhere else.
        Reference: reduced (tangent) visibility graph, textbook; held against the whole one in the tests.
        """
        import numpy as np
        from shapely import covers, linestrings

        if len(points) < 2:
            return []
        place = np.asarray(points, dtype=float)
        one, other = np.triu_indices(len(points), 1)
        touched = self._touched(points, ends, one, other)
        one, other = one[touched], other[touched]
        lines = linestrings(np.stack([place[one], place[other]], axis=1))
        seen = covers(self.floor, lines)
        length_m = np.hypot(*(place[one] - place[other]).T)
        return [(int(i), int(j), float(m)) for i, j, m in zip(one[seen], other[seen], length_m[seen], strict=True)]

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

    def passages_crossed(self, plan: Plan, segments: Sequence[Segment]) -> list[list[Passage]]:
        """The doors and doorways that each straight stretch goes through."""
        import numpy as np
        from shapely import intersects, linestrings

        through: list[list[Passage]] = [[] for _ in segments]
        lines = linestrings(np.asarray(segments, dtype=float)) if segments else []
        for passage in _doors(plan, self.rooms):
            assert passage.at is not None
            sill = linestrings([sill_of(passage.at, passage.width_m, plan.room(passage.rooms[0]).outline)])[0]
            for place in np.flatnonzero(intersects(sill, lines)):
                through[int(place)].append(passage)
        return through

    def in_order(self, start: Point, end: Point) -> list[str]:
        """The rooms that a straight stretch passes, in the order walked."""
        from shapely.geometry import LineString
        from shapely.geometry import Point as ShapelyPoint

        line, here = LineString([start, end]), ShapelyPoint(start)
        crossed = [name for name, core in self._cores.items() if core.intersects(line)]
        pieces = {name: self._cores[name].intersection(line) for name in crossed}
        passed = [name for name, piece in pieces.items() if not piece.is_empty]
        return sorted(passed, key=lambda name: float(pieces[name].distance(here)))


def _doors(plan: Plan, rooms: Iterable[str]) -> list[Passage]:
    """The doors on this storey whose place is drawn."""
    here = set(rooms)
    kinds = (PassageKind.DOOR, PassageKind.DOORWAY)
    return [p for p in plan.passages if p.kind in kinds and p.at is not None and here.issuperset(p.rooms)]


def _grown(shape: "BaseGeometry", by_m: float) -> "BaseGeometry":
    return shape.buffer(by_m, join_style="mitre", mitre_limit=5.0) if by_m else shape


def _wall_direction(at: Point, outline: Sequence[Point]) -> Point:
    """Unit vector along the wall nearest to the point."""
    (ax, ay), (bx, by) = min(edges(outline), key=lambda wall: off_wall_m(at, wall))
    length_m = hypot(bx - ax, by - ay)
    return (bx - ax) / length_m, (by - ay) / length_m


def sill_of(at: Point, width_m: float, outline: Sequence[Point]) -> Segment:
    """The line under a door, along the wall it stands in."""
    (ux, uy), half_m = _wall_direction(at, outline), width_m / 2
    return (at[0] - half_m * ux, at[1] - half_m * uy), (at[0] + half_m * ux, at[1] + half_m * uy)


def turning_points(floor: "BaseGeometry") -> Iterable[Point]:
    """Corners of the free floor that a shortest walk may turn at: those that point into it."""
    return (here for _, here, _ in _turns(floor))


def _turns(floor: "BaseGeometry") -> Iterable[tuple[Point, Point, Point]]:
    """Each such corner between those before and after it."""
    from shapely.geometry.polygon import orient

    for piece in getattr(floor, "geoms", [floor]):
        if piece.is_empty:
            continue
        turned = orient(piece)  # outside counter-clockwise, holes clockwise: free floor lies on the left
        for ring in (turned.exterior, *turned.interiors):
            yield from _right_turns(list(ring.coords)[:-1])


def _right_turns(ring: Sequence[Point]) -> Iterable[tuple[Point, Point, Point]]:
    for before, here, after in zip((*ring[-1:], *ring[:-1]), ring, (*ring[1:], *ring[:1]), strict=True):
        cross = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])
        if cross < 0 and not isclose(cross, 0, abs_tol=1e-12):
            yield before, here, after
