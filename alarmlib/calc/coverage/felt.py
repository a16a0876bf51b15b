"""What motion detectors and door contacts truly make of a walk in metres, on the true outlines."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_walk import CellStretch, Trail
from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.coverage.areas import Outline
from alarmlib.calc.coverage.detection import STEPS_M
from alarmlib.calc.plan.floor_plan import Plan, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_ASIDE_M = 1e-4  # whoever is this near a wall has not put a foot into the room behind it
_LEAST_M = 1e-9


def felt_in_metres(
    sights: Sequence[Sight],
    plan: Plan,
    points: Sequence[Point | None],
    storeys: Sequence[str],
    rooms: Sequence[frozenset[str]] = (),
    opened: Sequence[frozenset[str]] = (),
    per_second: int = 1,
) -> tuple[CellLabel, ...]:
    """What each second of a walk must and may trip; the walk goes straight from point to point.

    There are `per_second` points a second and one at the end, each on the plan of its storey. Where a point is None
    somebody is in one of `rooms` there. `opened` holds the contacts of the doors opened in each second.
    Reference: UL 1641 15.3.1, four steps of 24 in (`ul1641_steps`); plane geometry.
    """
    inside = rooms or [frozenset[str]()] * len(points)
    steps = [
        CellStretch(inside[n] | inside[n + 1], storeys[n], None if one is None or other is None else (one, other))
        for n, (one, other) in enumerate(pairwise(points))
    ]
    seconds = [tuple(steps[n : n + per_second]) for n in range(0, len(steps), per_second)]
    return _felt(sights, plan, seconds, opened)


def felt_on_trail(sights: Sequence[Sight], plan: Plan, trail: Trail) -> tuple[CellLabel, ...]:
    """What each second of a trail must and may trip.

    As `felt_in_metres`.
    """
    return _felt(sights, plan, trail.seconds, trail.opened)


def _felt(
    sights: Sequence[Sight],
    plan: Plan,
    seconds: Sequence[Sequence[CellStretch]],
    opened: Sequence[frozenset[str]],
) -> tuple[CellLabel, ...]:
    rooms = {room.id: _area((room.outline,)).buffer(-_ASIDE_M) for room in plan.rooms if room.outline}
    storeys = {room.id: room.storey for room in plan.rooms}
    watched = [_Watched.of(sight, rooms, storeys) for sight in sights]
    labels: list[CellLabel] = []
    for number, second in enumerate(seconds):
        must = {each.sight.device for each in watched if each.walks(second)}
        may = {each.sight.device for each in watched if any(each.sees(stretch) for stretch in second)}
        must |= opened[number] if number < len(opened) else frozenset()
        labels.append(CellLabel(frozenset(must), frozenset(may - must)))
    return tuple(labels)


def _area(outlines: Sequence[Outline]) -> "BaseGeometry":
    from shapely import union_all
    from shapely.geometry import Polygon

    area: BaseGeometry = union_all([Polygon(outline) for outline in outlines])
    return area


@dataclass
class _Watched:
    """One detector, and how far somebody has walked on end inside its sure area."""

    sight: Sight
    possible: "BaseGeometry"
    sure: "BaseGeometry"
    seen: frozenset[str]  # rooms that it may see into
    storeys: frozenset[str]
    walked_m: float = 0.0

    @classmethod
    def of(cls, sight: Sight, rooms: Mapping[str, "BaseGeometry"], storeys: Mapping[str, str]) -> "_Watched":
        """The detector's areas; the rooms it may see into are the drawn area where none is given."""
        from shapely import union_all

        if not sight.possible:
            here = frozenset(storeys[room] for room in sight.rooms if room in rooms)
            possible = union_all([rooms[room] for room in sight.rooms if room in rooms])
            return cls(sight, possible, _area(sight.sure), sight.rooms, here)
        possible, here = _area(sight.possible), frozenset({sight.storey} if sight.storey else storeys.values())
        seen = {room for room, floor in rooms.items() if storeys[room] in here and floor.intersects(possible)}
        return cls(sight, possible, _area(sight.sure), sight.rooms | seen, here)

    def sees(self, stretch: CellStretch) -> bool:
        """Whether any point of the stretch lies where it may see somebody."""
        if stretch.points is None:
            return bool(stretch.rooms & self.seen)
        return stretch.storey in self.storeys and self.possible.intersects(_line(stretch.points))

    def walks(self, second: Sequence[CellStretch]) -> bool:
        """Walks on; whether by the end of the second four steps lie behind on end, and somebody moved in it."""
        moved = False
        for stretch in second:
            inside_m, wholly = self._inside_m(stretch)
            self.walked_m = inside_m + (self.walked_m if wholly else 0.0)
            moved = inside_m > _LEAST_M or (moved and wholly)
        return moved and self.walked_m >= STEPS_M - _LEAST_M

    def _inside_m(self, stretch: CellStretch) -> tuple[float, bool]:
        """Metres walked in the sure area up to the stretch's end, and whether that is the whole of the stretch."""
        from shapely.geometry import Point as ShapelyPoint

        if stretch.points is None or self.sight.storey not in ("", stretch.storey):
            return 0.0, False
        line, end = _line(stretch.points), ShapelyPoint(stretch.points[1])
        parts = self.sure.buffer(_LEAST_M).intersection(line)
        last = [part for part in getattr(parts, "geoms", [parts]) if part.distance(end) <= _LEAST_M]
        inside_m = sum(float(part.length) for part in last)
        return inside_m, bool(last) and inside_m >= line.length - _LEAST_M


def _line(points: tuple[Point, Point]) -> "BaseGeometry":
    from shapely.geometry import LineString
    from shapely.geometry import Point as ShapelyPoint

    still = hypot(points[0][0] - points[1][0], points[0][1] - points[1][1]) <= _LEAST_M
    return ShapelyPoint(points[0]) if still else LineString(points)
