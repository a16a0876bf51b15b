"""The few facts of plane geometry without which an outline or an opening cannot be stored."""

from collections.abc import Iterator, Sequence
from math import hypot

from alarmlib.model.base import Point

ON_WALL_M = 0.25  # an opening typed by hand may lie this far off the drawn wall line


def edges(outline: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """The walls of a closed outline, in order, metres."""
    return zip(outline, (*outline[1:], outline[0]), strict=True)


def crosses_itself(outline: Sequence[Point]) -> bool:
    """Whether two walls of the outline cross or touch where they are not neighbours, or the outline has no area.

    Reference: orientation test of two segments, textbook plane geometry.
    """
    walls = list(edges(outline))
    last = len(walls) - 1
    pairs = ((i, j) for i in range(len(walls)) for j in range(i + 2, len(walls)) if (i, j) != (0, last))
    return abs(signed_area_m2(outline)) < 1e-9 or any(_meet(walls[i], walls[j]) for i, j in pairs)


def signed_area_m2(outline: Sequence[Point]) -> float:
    """Area within the outline in m², positive when it runs counter-clockwise.

    Reference: shoelace formula, textbook plane geometry.
    """
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(outline)) / 2


def off_wall_m(point: Point, outline: Sequence[Point]) -> float:
    """Distance in metres from a point to the nearest wall of the outline."""
    return min(_to_segment_m(point, a, b) for a, b in edges(outline))


def _to_segment_m(point: Point, a: Point, b: Point) -> float:
    (px, py), (ax, ay), (bx, by) = point, a, b
    length_sq = (bx - ax) ** 2 + (by - ay) ** 2
    along = ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length_sq if length_sq else 0.0
    along = min(1.0, max(0.0, along))
    return hypot(px - ax - along * (bx - ax), py - ay - along * (by - ay))


def _meet(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = one, two
    turns = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    ends = ((turns[0], a, b, c), (turns[1], a, b, d), (turns[2], c, d, a), (turns[3], c, d, b))
    return any(turn == 0 and _between(p, q, r) for turn, p, q, r in ends)


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _between(a: Point, b: Point, c: Point) -> bool:
    return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])


def middle(outline: Sequence[Point]) -> Point:
    """The middle of an outline: its centre of area.

    Reference: centroid of a polygon, textbook plane geometry.
    """
    area = signed_area_m2(outline)
    x = y = 0.0
    for (ax, ay), (bx, by) in edges(outline):
        cross = ax * by - bx * ay
        x, y = x + (ax + bx) * cross, y + (ay + by) * cross
    return x / (6 * area), y / (6 * area)
