"""What is between a place and what can be seen from it: walls with their gaps, and furniture in the way.

Everything is in metres on the plan of one storey. Walls have no thickness of their own; where rooms are drawn with
the wall's thickness between them, a doorway has jambs.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import WALL_MOST_M, Plan, PlanPassage, Point, Segment
from alarmlib.calc.walking.free_floor import sill_of
from alarmlib.model.shapes import edges, off_wall_m
from alarmlib.model.site import PassageKind

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry import Polygon
    from shapely.geometry.base import BaseGeometry

_ASIDE_RAD = 1e-7  # rays just left and just right of a corner find what lies behind it
_ON_END = 1e-13  # of a wall's length; at an inward corner the ray beside it passes 1e-12 m off the wall's end
_INSET_M = 1e-5  # a place on a wall is looked at from this far inside its room
_LEAST_M = 1e-9


@dataclass(frozen=True)
class Piece:
    """A piece of furniture that may hide somebody: its outline and its height, m."""

    outline: tuple[Point, ...]
    height_m: float


@dataclass(frozen=True)
class Blocks:
    """All that blocks a view on one storey: strokes of wall, pieces of furniture; and the rooms' outlines."""

    walls: tuple[Segment, ...]
    pieces: tuple[Piece, ...]
    rooms: tuple[tuple[Point, ...], ...] = ()


def blocks_of(plan: Plan, storey: str, doors_open: bool) -> Blocks:
    """What blocks a view on a storey; open doorways are gaps, inside doors only when `doors_open`.

    Glass in a wall is a wall: it stops the warmth that a motion detector sees.
    Reference: common practice, no source.
    """
    rooms = {room.id: room.outline for room in plan.rooms if room.storey == storey and room.outline}
    kinds = {PassageKind.DOORWAY, PassageKind.DOOR} if doors_open else {PassageKind.DOORWAY}
    open_ways = [p for p in plan.passages if p.kind in kinds and p.at is not None]
    gaps: dict[str, list[Segment]] = {room: [] for room in rooms}
    jambs: list[Segment] = []
    for passage in open_ways:
        sills = [_sill(passage, rooms[room]) for room in passage.rooms if room in rooms]
        for room, sill in zip((room for room in passage.rooms if room in rooms), sills, strict=True):
            gaps[room].append(sill)
        if len(sills) == 2:
            jambs += _jambs(*sills)
    walls = [stroke for room, outline in rooms.items() for stroke in _strokes(outline, gaps[room])]
    pieces = (Piece(f.outline, f.height_m) for f in plan.furniture if f.outline and f.room in rooms)
    return Blocks((*walls, *jambs), tuple(pieces), tuple(rooms.values()))


def _sill(passage: PlanPassage, outline: Sequence[Point]) -> Segment:
    """The gap a passage makes in the nearest wall of a room, kept within that wall; of no width where it is off."""
    at = passage.at
    assert at is not None
    if off_wall_m(at, outline) > WALL_MOST_M:
        return at, at
    start, end = min(edges(outline), key=lambda wall: off_wall_m(at, wall))
    a, b = sill_of(at, passage.width_m, outline)
    along = sorted(_along(point, start, end) for point in (a, b))
    low, high = (min(1.0, max(0.0, part)) for part in along)
    return _between(start, end, low), _between(start, end, high)


def _along(point: Point, start: Point, end: Point) -> float:
    """Where on the way from start (0) to end (1) the point lies."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)


def _between(start: Point, end: Point, part: float) -> Point:
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def _jambs(one: Segment, other: Segment) -> Iterator[Segment]:
    """The sides of a doorway through a wall that has a thickness."""
    straight = _gap_m(one[0], other[0]) + _gap_m(one[1], other[1])
    crossed = _gap_m(one[0], other[1]) + _gap_m(one[1], other[0])
    pairs = zip(one, other if straight <= crossed else other[::-1], strict=True)
    return (pair for pair in pairs if _gap_m(*pair) > _LEAST_M)


def _gap_m(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _strokes(outline: Sequence[Point], gaps: Sequence[Segment]) -> Iterator[Segment]:
    """The walls of a room without its gaps."""
    for start, end in edges(outline):
        cuts = sorted(
            tuple(sorted((_along(a, start, end), _along(b, start, end))))
            for a, b in gaps
            if max(off_wall_m(a, (start, end)), off_wall_m(b, (start, end))) <= _LEAST_M
        )
        done = 0.0
        for low, high in cuts:
            if low > done:
                yield _between(start, end, done), _between(start, end, low)
            done = max(done, high)
        if done < 1:
            yield _between(start, end, done), end


def inside(at: Point, outline: Sequence[Point]) -> Point:
    """The place itself, or the nearest one just inside the room when it lies on a wall or beyond.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon
    from shapely.ops import nearest_points

    room = Polygon(outline).buffer(-_INSET_M, join_style="mitre")
    place = ShapelyPoint(at)
    if room.is_empty or room.covers(place):
        return at
    near = nearest_points(room, place)[0]
    return near.x, near.y


def visible(at: Point, walls: Iterable[Segment], reach_m: float) -> "Polygon":
    """The polygon that can be seen from a place past walls alone, out to a square of half side `reach_m` or more.

    Rays are cast at each end of a wall and just beside it; the nearest wall stops a ray.
    Reference: visibility polygon by rays at corners, textbook computational geometry.
    """
    import numpy as np
    from shapely.geometry import Polygon

    x, y = at
    far_m = 2 * reach_m
    corners = [(x - far_m, y - far_m), (x + far_m, y - far_m), (x + far_m, y + far_m), (x - far_m, y + far_m)]
    near = [wall for wall in walls if off_wall_m(at, wall) <= reach_m]
    strokes = np.array([*near, *edges(corners)], dtype=float) - np.array(at)
    ends = strokes.reshape(-1, 2)
    turns = np.unique(np.arctan2(ends[:, 1], ends[:, 0]))
    turns = np.unique(np.concatenate((turns - _ASIDE_RAD, turns, turns + _ASIDE_RAD)))
    rays = np.column_stack((np.cos(turns), np.sin(turns)))
    hits = rays * _nearest(rays, strokes)[:, None] + np.array(at)
    seen = Polygon(hits)
    return seen if seen.is_valid else _largest(seen.buffer(0))


def _nearest(rays: "NDArray[np.float64]", strokes: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """How far each ray from the origin goes until the first stroke, m."""
    import numpy as np

    start, run = strokes[:, 0], strokes[:, 1] - strokes[:, 0]
    across = rays[:, :1] * run[:, 1] - rays[:, 1:] * run[:, 0]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        far_m = (start[:, 0] * run[:, 1] - start[:, 1] * run[:, 0]) / across
        part = (start[:, 0] * rays[:, 1:] - start[:, 1] * rays[:, :1]) / across
    struck = (np.abs(across) > 1e-15) & (part >= -_ON_END) & (part <= 1 + _ON_END) & (far_m > 0)
    nearest: NDArray[np.float64] = np.where(struck, far_m, np.inf).min(axis=1)
    return nearest


def _largest(shape: "BaseGeometry") -> "Polygon":
    pieces: list[Polygon] = list(getattr(shape, "geoms", [shape]))
    return max(pieces, key=lambda piece: piece.area)


def shadow(at: Point, eye_m: float, seen_m: float, piece: Piece, reach_m: float) -> "BaseGeometry | None":
    """The floor on which somebody is hidden by a piece of furniture; None when it can be looked over everywhere.

    The eye is `eye_m` above the floor, and what must be seen of somebody `seen_m` above it. The line between them
    passes the piece below its top where the piece lies at more than (eye − top) / (eye − seen) of the way: the
    shadow is the piece, drawn out from the eye to the inverse of that part. A line that rises passes above a top
    higher than the eye as long as the piece lies at that part of the way or farther: the shadow begins behind it.
    Reference: similar triangles, textbook plane geometry.
    """
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    top_m = piece.height_m
    if (top_m < eye_m and top_m <= seen_m) or top_m == eye_m < seen_m:
        return None
    out = 2 + 2 * reach_m / max(_INSET_M, min(off_wall_m(at, piece.outline), reach_m))
    first = (seen_m - eye_m) / (top_m - eye_m) if eye_m < top_m < seen_m else 1.0
    if top_m < eye_m:
        out = min(out, (eye_m - seen_m) / (eye_m - top_m))
    if first >= out:
        return None
    shape = Polygon([_drawn_out(at, corner, first) for corner in piece.outline])
    quads = []
    for a, b in edges(piece.outline):
        quad = Polygon([_drawn_out(at, *far) for far in ((a, first), (b, first), (b, out), (a, out))])
        quads.append(quad if quad.is_valid else quad.buffer(0))
    hidden: BaseGeometry = unary_union([shape, *quads])
    return hidden


def _drawn_out(at: Point, point: Point, out: float) -> Point:
    return at[0] + out * (point[0] - at[0]), at[1] + out * (point[1] - at[1])
