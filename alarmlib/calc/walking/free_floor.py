"""The floor of a storey that a body can be on: rooms without furniture, joined by doors.

Walls and furniture are grown by half a body's width, doors are gaps. Corners stay square when grown, so a
right-angled corner is passed at most 0.35 m off for a half width of 0.25 m: walks come out a little long.
"""

from collections.abc import Iterable, Sequence
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, Point, Segment
from alarmlib.calc.walking.floor import SEAM_M, Floor, grown
from alarmlib.model.shapes import edges, off_wall_m
from alarmlib.model.site import PassageKind

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

BODY_HALF_M = 0.25  # assumed half width of a body
_ASIDE_M = 1e-4  # a walk this near a wall does not count as passing the room behind it
_NARROWEST_M = 0.02  # what is left of a door narrower than a body: it can be passed, but only at its middle


class FreeFloor(Floor):
    """The free floor of one storey, ready for shortest walks.

    `body_half_m` must be above 0 where rooms are drawn wall to wall: it is what keeps their walls apart.
    """

    def __init__(self, plan: Plan, storey: str, body_half_m: float = BODY_HALF_M) -> None:
        from shapely.geometry import Polygon
        from shapely.ops import unary_union

        self.rooms: dict[str, Polygon] = {
            room.id: Polygon(room.outline) for room in plan.rooms if room.storey == storey and room.outline
        }
        blocks = [grown(Polygon(f.outline), body_half_m) for f in plan.furniture if f.outline and f.room in self.rooms]
        inside = {name: grown(shape, -body_half_m) for name, shape in self.rooms.items()}
        self._cores = {name: grown(shape, -_ASIDE_M) for name, shape in self.rooms.items()}
        self.inside = {name: shape.difference(unary_union(blocks)) for name, shape in inside.items()}
        gaps = [self._gap(plan, passage, body_half_m) for passage in _doors(plan, self.rooms)]
        super().__init__(unary_union([*inside.values(), *gaps]).difference(unary_union(blocks)))

    def _gap(self, plan: Plan, passage: PlanPassage, body_half_m: float) -> "BaseGeometry":
        """The strip through a door that a body's middle may use, cut off at other rooms' walls."""
        from shapely.geometry import Polygon
        from shapely.ops import unary_union

        at = passage.at
        assert at is not None
        outlines = [plan.room(name).outline for name in passage.rooms]
        (ux, uy), half_m = _wall_direction(at, outlines[0]), max(passage.width_m / 2 - body_half_m, _NARROWEST_M)
        deep_m = max(off_wall_m(at, outline) for outline in outlines) + body_half_m + 10 * SEAM_M
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
        if self.holds(at):
            return at, 0.0
        near = nearest_points(free, ShapelyPoint(at))[0]
        return (near.x, near.y), hypot(near.x - at[0], near.y - at[1])

    def passages_crossed(self, plan: Plan, segments: Sequence[Segment]) -> list[list[PlanPassage]]:
        """The doors and doorways that each straight stretch goes through."""
        import numpy as np
        from shapely import intersects, linestrings

        through: list[list[PlanPassage]] = [[] for _ in segments]
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


def _doors(plan: Plan, rooms: Iterable[str]) -> list[PlanPassage]:
    """The doors on this storey whose place is drawn."""
    here = set(rooms)
    kinds = (PassageKind.DOOR, PassageKind.DOORWAY)
    return [p for p in plan.passages if p.kind in kinds and p.at is not None and here.issuperset(p.rooms)]


def _wall_direction(at: Point, outline: Sequence[Point]) -> Point:
    """Unit vector along the wall nearest to the point."""
    (ax, ay), (bx, by) = min(edges(outline), key=lambda wall: off_wall_m(at, wall))
    length_m = hypot(bx - ax, by - ay)
    return (bx - ax) / length_m, (by - ay) / length_m


def sill_of(at: Point, width_m: float, outline: Sequence[Point]) -> Segment:
    """The line under a door, along its wall."""
    (ux, uy), half_m = _wall_direction(at, outline), width_m / 2
    return (at[0] - half_m * ux, at[1] - half_m * uy), (at[0] + half_m * ux, at[1] + half_m * uy)
