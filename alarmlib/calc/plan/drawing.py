"""What a plan being drawn needs to know: where a point snaps to, which wall and which rooms it means.

All points are metres on the plan of one storey; outlines are closed by their first corner.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot

from alarmlib.calc.plan.floor_plan import WALL_MOST_M, Point, Segment
from alarmlib.model.shapes import edges, off_wall_m

SNAP_M = 0.18  # less than the least distance of two walls that are to stay apart
WALL_M = 0.4
DEVICE_SNAP_M = 0.3
_EXACT_M = 1e-9
Outlines = Mapping[str, Sequence[Point]]


@dataclass(frozen=True)
class OnWall:
    """A place on a room's wall: the room, the wall, the place, and how far the asked point lay off, m."""

    room: str
    wall: Segment
    at: Point
    off_m: float


def on_grid(point: Point, grid_m: float) -> Point:
    """The nearest point of a square grid, to a thousandth of a millimetre."""
    return tidy((round(point[0] / grid_m) * grid_m, round(point[1] / grid_m) * grid_m))


def tidy(point: Point) -> Point:
    """A point without the dust of floating point: whole thousandths of a millimetre."""
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0


def snapped(point: Point, outlines: Iterable[Sequence[Point]], grid_m: float, within_m: float = SNAP_M) -> Point:
    """Where a drawn corner goes: onto a corner that is near, else level with one across or down, else the grid."""
    corners = [corner for outline in outlines for corner in outline]
    near = min(corners, key=lambda corner: _apart_m(corner, point), default=None)
    if near is not None and _apart_m(near, point) <= within_m:
        return near
    x = _level(point[0], [corner[0] for corner in corners], within_m, grid_m)
    y = _level(point[1], [corner[1] for corner in corners], within_m, grid_m)
    return tidy((x, y))


def _level(value: float, known: Sequence[float], within_m: float, grid_m: float) -> float:
    near = min(known, key=lambda each: abs(each - value), default=None)
    if near is not None and abs(near - value) <= within_m:
        return near
    return round(value / grid_m) * grid_m


def shift_that_snaps(
    moved: Sequence[Point], outlines: Iterable[Sequence[Point]], grid_m: float, within_m: float = SNAP_M
) -> Point:
    """How much further a moved outline goes, so that one of its corners or sides meets another room's or the grid."""
    others = [corner for outline in outlines for corner in outline]

    def best(axis: int) -> float:
        gaps = [other[axis] - corner[axis] for corner in moved for other in others]
        near = min(gaps, key=abs, default=None)
        if near is not None and abs(near) <= within_m:
            return near
        return round(moved[0][axis] / grid_m) * grid_m - moved[0][axis]

    return best(0), best(1)


def rectangle(one: Point, other: Point) -> tuple[Point, ...]:
    """The upright rectangle between two opposite corners, counter-clockwise from its lower left one.

    Reference: textbook plane geometry.
    """
    left, right = sorted((one[0], other[0]))
    low, high = sorted((one[1], other[1]))
    return (left, low), (right, low), (right, high), (left, high)


def moved(points: Iterable[Point], by: Point) -> tuple[Point, ...]:
    """The points, all shifted alike."""
    return tuple(tidy((x + by[0], y + by[1])) for x, y in points)


def on_walls(point: Point, outlines: Outlines) -> list[OnWall]:
    """The nearest place on each room's walls, the nearest room first.

    Reference: textbook plane geometry.
    """
    found = [_on_wall(point, room, outline) for room, outline in outlines.items() if outline]
    return sorted(found, key=lambda each: each.off_m)


def _on_wall(point: Point, room: str, outline: Sequence[Point]) -> OnWall:
    wall = min(edges(outline), key=lambda each: off_wall_m(point, each))
    (ax, ay), (bx, by) = wall
    part = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
    part = min(1.0, max(0.0, part))
    return OnWall(room, wall, tidy((ax + part * (bx - ax), ay + part * (by - ay))), off_wall_m(point, wall))


def outside_wall(point: Point, outlines: Outlines, within_m: float = WALL_M) -> OnWall | None:
    """The wall near a point that no other room shares there, so that a way in may be in it; None if there is none.

    Reference: textbook plane geometry; two rooms share a wall where they lie at most its thickness apart.
    """
    for found in on_walls(point, outlines):
        others = (o for room, o in outlines.items() if room != found.room and o)
        if found.off_m <= within_m and all(off_wall_m(found.at, outline) > WALL_MOST_M for outline in others):
            return found
    return None


def inside_wall(point: Point, outlines: Outlines, within_m: float = WALL_M) -> tuple[OnWall, OnWall] | None:
    """The two rooms whose shared wall is near a point, so that a door between them may be there; None if none.

    Reference: textbook plane geometry.
    """
    for one in on_walls(point, outlines):
        if one.off_m > within_m:
            return None
        for other in on_walls(one.at, {room: o for room, o in outlines.items() if room != one.room}):
            if other.off_m <= WALL_MOST_M and _parallel(one.wall, other.wall):
                return one, other
    return None


def _parallel(one: Segment, other: Segment) -> bool:
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    return abs(cross) <= 1e-3 * hypot(bx - ax, by - ay) * hypot(dx - cx, dy - cy)


def room_at(point: Point, outlines: Outlines) -> str:
    """The room a point lies in, or on the wall of; "" when it lies in none.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    place = ShapelyPoint(point)
    drawn = {room: outline for room, outline in outlines.items() if outline}
    held = [room for room, outline in drawn.items() if Polygon(outline).contains(place)]
    near = [room for room, outline in drawn.items() if off_wall_m(point, outline) <= DEVICE_SNAP_M]
    return next(iter((*held, *near)), "")


def device_place(point: Point, outline: Sequence[Point], grid_m: float) -> Point:
    """Where a device goes in its room: into a corner or onto a wall that is near, else onto the grid."""
    corner = min(outline, key=lambda each: _apart_m(each, point))
    if _apart_m(corner, point) <= DEVICE_SNAP_M:
        return corner
    wall = _on_wall(point, "", outline)
    return wall.at if wall.off_m <= DEVICE_SNAP_M else on_grid(point, grid_m)


def facing_middle_deg(at: Point, outline: Sequence[Point]) -> float:
    """The direction from a place to the middle of its room's corners, degrees from the plan's right.

    Reference: textbook plane geometry.
    """
    x = sum(corner[0] for corner in outline) / len(outline)
    y = sum(corner[1] for corner in outline) / len(outline)
    if _apart_m((x, y), at) <= _EXACT_M:
        return 0.0
    return round(degrees(atan2(y - at[1], x - at[0])) % 360, 1)


def wall_line(at: Point, width_m: float, outline: Sequence[Point]) -> Segment:
    """The stretch of the nearest wall that a door or window of that width takes.

    Reference: textbook plane geometry.
    """
    (ax, ay), (bx, by) = _on_wall(at, "", outline).wall
    length_m = hypot(bx - ax, by - ay)
    dx, dy = (bx - ax) / length_m * width_m / 2, (by - ay) / length_m * width_m / 2
    return (at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)


PlanBox = tuple[float, float, float, float]
"""Left, low, right and high, m."""


def bounds(points: Iterable[Point]) -> PlanBox | None:
    """Left, low, right and high of the points; None when there are none."""
    every = list(points)
    if not every:
        return None
    xs, ys = zip(*every, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def corners_of(outlines: Iterable[Sequence[Point]]) -> Iterator[Point]:
    """All corners of the outlines."""
    return (corner for outline in outlines for corner in outline)


def _apart_m(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])
