"""How a detector is mounted: its height, what is in its view or near it, the wall it faces, and how it is walked past.

Numbers only, no verdicts. Points are metres on the plan of the storey, angles degrees.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asin, atan2, ceil, cos, degrees, hypot, radians, sin
from typing import TYPE_CHECKING

from alarmlib.calc.coverage.areas import Coverage, Eye, Outline, joined_area
from alarmlib.calc.coverage.detection import STEPS_M
from alarmlib.calc.coverage.view_lines import inside
from alarmlib.calc.coverage.watched import four_steps_after_m
from alarmlib.calc.plan.floor_plan import Point
from alarmlib.calc.walking.walks import Leg

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

LEAST_HEIGHT_M, MOST_HEIGHT_M = 2.1, 2.4
UNDER_CEILING_M = 0.2  # as near below a low ceiling as a detector can well be fixed
HEAD_ON_DEG = 30.0  # whoever walks within this of the line to the detector hardly crosses its beams: our own line
_FAR_M = 1000.0
_PIECE_M = 0.1  # walks are looked at in pieces of this length
_CLEAR_M = 0.05  # a line of sight may brush a wall by this much
_NOTHING = 1e-9


@dataclass(frozen=True)
class InView:
    """How far an object is from a detector, m, and whether it is in its view and range, past the room's walls."""

    distance_m: float
    seen: bool


def usual_heights_m(ceiling_m: float | None) -> tuple[float, float]:
    """The least and most height at which a motion detector is usually mounted, m; less under a low ceiling.

    Reference: common practice, no source.
    """
    under_m = MOST_HEIGHT_M if ceiling_m is None else ceiling_m - UNDER_CEILING_M
    return round(min(LEAST_HEIGHT_M, under_m), 3), MOST_HEIGHT_M


def in_view(eye: Eye, outline: Sequence[Point], at: Point, radius_m: float = 0.0) -> InView:
    """Where an object of the same room is, seen from a motion detector; `radius_m` is how far it reaches out.

    Reference: textbook plane geometry.
    """
    place = inside(at, outline)
    middle_m = _apart_m(eye.at, place)
    distance_m = max(0.0, middle_m - radius_m)
    aside_deg = abs(turn_deg(eye.facing_deg, _bearing_deg(eye.at, place)))
    half_deg = eye.angle_deg / 2 + (90.0 if radius_m >= middle_m else degrees(asin(radius_m / middle_m)))
    within = distance_m <= eye.range_m + _NOTHING and aside_deg <= half_deg + _NOTHING
    return InView(distance_m, within and in_sight(eye.at, place, outline))


def in_sight(one: Point, other: Point, outline: Sequence[Point]) -> bool:
    """Whether no wall of the room is between two places in it.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import LineString, Polygon

    if _apart_m(one, other) < _CLEAR_M:
        return True
    return bool(Polygon(outline).buffer(_CLEAR_M, join_style="mitre").covers(LineString((one, other))))


def to_wall_m(eye: Eye, outline: Sequence[Point]) -> float:
    """How far the detector's middle beam runs until a wall of its room, m.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import LineString, Polygon

    turn = radians(eye.facing_deg)
    end = eye.at[0] + _FAR_M * cos(turn), eye.at[1] + _FAR_M * sin(turn)
    ahead = Polygon(outline).intersection(LineString((eye.at, end)))
    lengths = [each.length for each in getattr(ahead, "geoms", [ahead]) if each.distance(_point(eye.at)) < _CLEAR_M]
    return max(lengths, default=0.0)


def turn_deg(one_deg: float, other_deg: float) -> float:
    """From one direction to another the short way round, −180 to 180.

    Reference: textbook plane geometry.
    """
    return (other_deg - one_deg + 180.0) % 360.0 - 180.0


def across_m(at: Point, legs: Sequence[Leg], storey: str, areas: Sequence[Outline]) -> float:
    """Metres walked in the areas at more than `HEAD_ON_DEG` to the line to a detector, all such pieces together.

    The angle is our own line.
    """
    if not areas:
        return 0.0
    area = joined_area(areas).buffer(_NOTHING)
    return sum(
        length_m
        for leg in legs
        if leg.storey == storey
        for middle, heading_deg, length_m in _pieces(leg.points)
        if _crosses(at, middle, heading_deg) and area.covers(_point(middle))
    )


def head_on(coverage: Coverage, at: Point, legs: Sequence[Leg]) -> bool | None:
    """Whether somebody on this walk is met only by walking at or away from the detector where it is weak at that.

    None when four steps do not lie in its sure area at all, or lie in the part that is sure any way.
    Reference: UL 1641 15.3.1, four steps (`ul1641_steps`); the angle is our own line.
    """
    if four_steps_after_m(legs, coverage.storey, coverage.straight) is not None:
        return None
    if four_steps_after_m(legs, coverage.storey, coverage.sure) is None:
        return None
    return across_m(at, legs, coverage.storey, coverage.sure) < STEPS_M - _NOTHING


def _crosses(at: Point, middle: Point, heading_deg: float) -> bool:
    aside_deg = abs(turn_deg(heading_deg, _bearing_deg(middle, at)))
    return HEAD_ON_DEG < aside_deg < 180.0 - HEAD_ON_DEG


def _pieces(points: Sequence[Point]) -> Iterator[tuple[Point, float, float]]:
    """Middle, heading and length of each short piece of a line."""
    for start, end in pairwise(points):
        length_m = _apart_m(start, end)
        count = ceil(length_m / _PIECE_M)
        for number in range(count):
            part = (number + 0.5) / count
            middle = start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])
            yield middle, _bearing_deg(start, end), length_m / count


def _bearing_deg(start: Point, end: Point) -> float:
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))


def _apart_m(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _point(at: Point) -> "BaseGeometry":
    from shapely.geometry import Point as ShapelyPoint

    return ShapelyPoint(at)


def share_seen(seen: Coverage, outline: Sequence[Point], pieces: Sequence[Outline] = ()) -> float:
    """The part of a room's floor, less what furniture takes, that one detector surely sees by four steps any way.

    Areas of `alarmlib.calc.coverage.areas`.
    """
    floor = joined_area([outline]).difference(joined_area(pieces))
    return float(floor.intersection(joined_area(seen.straight)).area / floor.area) if floor.area else 0.0
