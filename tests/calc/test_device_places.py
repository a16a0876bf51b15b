"""How a detector is mounted, each figure just inside, at and just outside its edge."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.coverage.areas import Coverage, Eye
from alarmlib.calc.coverage.device_places import (
    across_m,
    head_on,
    in_sight,
    in_view,
    share_seen,
    to_wall_m,
    turn_deg,
    usual_heights_m,
)
from alarmlib.calc.plan.floor_plan import Point
from alarmlib.calc.walking.walks import Leg

ROOM: tuple[Point, ...] = ((0, 0), (20, 0), (20, 20), (0, 20))
CORNER: tuple[Point, ...] = ((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10))  # two legs, 4 m wide
EYE = Eye("pir", "room", "ground", (10, 10), 2.2, 0.0, 90.0, 8.0, 8.0, 4.0, 0.0)


@pytest.mark.parametrize(
    ("ceiling_m", "least_m"), [(None, 2.1), (2.5, 2.1), (2.31, 2.1), (2.3, 2.1), (2.29, 2.09), (2.1, 1.9)]
)
def test_a_low_ceiling_lowers_the_usual_height(ceiling_m: float | None, least_m: float) -> None:
    """2.1 to 2.4 m, common practice without a source; 0.2 m below the ceiling where that is less."""
    assert usual_heights_m(ceiling_m) == (pytest.approx(least_m), 2.4)


@pytest.mark.parametrize(
    ("bearing_deg", "distance_m", "seen"),
    [(0, 7.99, True), (0, 8.0, True), (0, 8.01, False), (44.9, 5, True), (45, 5, True), (45.1, 5, False),
     (-45, 5, True), (-45.1, 5, False), (180, 1, False)],
)  # fmt: skip
def test_what_is_in_view(bearing_deg: float, distance_m: float, seen: bool) -> None:
    """A view of 90° and 8 m: at either edge still in it, beyond no more."""
    turn = radians(bearing_deg)
    found = in_view(EYE, ROOM, (10 + distance_m * cos(turn), 10 + distance_m * sin(turn)))
    assert (round(found.distance_m, 6), found.seen) == (distance_m, seen)


@pytest.mark.parametrize(("radius_m", "distance_m", "seen"), [(0.49, 8.01, False), (0.5, 8.0, True), (9, 0, True)])
def test_a_detector_with_a_reach_of_its_own(radius_m: float, distance_m: float, seen: bool) -> None:
    """A fan whose hub is 8.5 m off comes into view by its blades."""
    found = in_view(EYE, ROOM, (18.5, 10), radius_m)
    assert (found.distance_m, found.seen) == (pytest.approx(distance_m), seen)


def test_blades_reach_in_from_beside_the_view() -> None:
    """2 m off at 60°, 15° outside: 2 sin 15° = 0.518 m of reach touches the edge of the view."""
    at = 10 + 2 * cos(radians(60)), 10 + 2 * sin(radians(60))
    assert not in_view(EYE, ROOM, at, 0.51).seen
    assert in_view(EYE, ROOM, at, 0.52).seen


def test_round_a_corner_nothing_is_in_view() -> None:
    """The same bearing and distance, in one leg of the room and around its corner."""
    eye = replace(EYE, at=(9, 2), facing_deg=135, range_m=20)
    assert in_view(eye, CORNER, (3, 3)).seen
    assert not in_view(eye, CORNER, (1, 9)).seen
    assert in_sight((9, 2), (3, 3), CORNER)
    assert not in_sight((9, 2), (3, 9), CORNER)


@given(st.floats(-720, 720), st.floats(-720, 720))
def test_turning_the_short_way_round(one: float, other: float) -> None:
    """Never more than half a turn, and it leads from the one to the other."""
    turn = turn_deg(one, other)
    assert -180 <= turn <= 180
    assert cos(radians(one + turn)) == pytest.approx(cos(radians(other)), abs=1e-9)
    assert sin(radians(one + turn)) == pytest.approx(sin(radians(other)), abs=1e-9)


@pytest.mark.parametrize(
    ("at", "facing_deg", "ahead_m"),
    [((1, 10), 0, 19), ((1, 10), 180, 1), ((10, 0.5), 270, 0.5), ((0, 0), 45, 20 * 2**0.5), ((0, 10), 180, 0)],
)
def test_how_far_the_middle_beam_runs(at: Point, facing_deg: float, ahead_m: float) -> None:
    """In a square of 20 m, from its middle, a wall and a corner."""
    assert to_wall_m(replace(EYE, at=at, facing_deg=facing_deg), ROOM) == pytest.approx(ahead_m, abs=1e-6)


def test_the_beam_ends_at_the_first_wall_of_a_room_with_a_corner() -> None:
    """What it would meet again beyond the corner is not counted."""
    assert to_wall_m(replace(EYE, at=(9, 3), facing_deg=90), CORNER) == pytest.approx(1)
    notched = ((0, 0), (10, 0), (10, 4), (7, 4), (7, 1), (5, 1), (5, 4), (0, 4))  # a pier from above, 5 to 7 m
    assert to_wall_m(replace(EYE, at=(4, 2), facing_deg=0), notched) == pytest.approx(1)


SQUARE = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))


@pytest.mark.parametrize(("slant_deg", "metres"), [(0, 0), (29, 0), (31, 2), (90, 2), (149, 2), (151, 0), (180, 0)])
def test_metres_walked_across_the_view(slant_deg: float, metres: float) -> None:
    """A detector 50 m off sees a walk of 2 m under one angle all along; 30° is our own line."""
    turn = radians(slant_deg)
    half = cos(turn), sin(turn)
    leg = Leg("ground", ((10 - half[0], 10 - half[1]), (10 + half[0], 10 + half[1])))
    assert across_m((60, 10), [leg], "ground", [SQUARE]) == pytest.approx(metres)
    assert across_m((60, 10), [leg], "upper", [SQUARE]) == across_m((60, 10), [leg], "ground", []) == 0


def test_only_what_is_walked_in_the_area_counts() -> None:
    """Half of a walk of 4 m lies in it."""
    leg = Leg("ground", ((20, 8), (20, 12)))
    area = ((15, 10), (25, 10), (25, 20), (15, 20))
    assert across_m((0, 10), [leg], "ground", [area]) == pytest.approx(2)


FAR = Coverage("pir", "room", "ground", (SQUARE,), (SQUARE,), (SQUARE,), (((0, 0), (5, 0), (5, 20), (0, 20)),))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("points", "expected"),
    [
        (((10, 10), (7.57, 10)), None),  # 2.43 m: no four steps
        (((10, 10), (7.56, 10)), True),  # 2.44 m straight at it, beyond where that is sure
        (((12, 10), (15, 10)), True),  # away from it
        (((4.9, 10), (2.4, 10)), None),  # straight at it where that is sure
        (((15, 8.78), (15, 11.22)), False),  # 2.44 m across, the middle abeam
        (((15, 8.79), (15, 11.21)), None),
        (((18, 10), (15, 10), (15, 12.5)), False),  # at it first, then across
    ],
)
def test_who_is_met_head_on(points: tuple[Point, ...], expected: bool | None) -> None:
    """UL 1641 15.3.1: four steps of 0.61 m, 2.44 m; a detector at the left wall, sure any way up to 5 m."""
    assert head_on(FAR, (0, 10), [Leg("ground", points)]) is expected


def test_the_share_of_a_room_is_of_what_furniture_leaves_free() -> None:
    """FAR sees a strip of 5 m by 20 m any way: a quarter of the square, a half when a piece takes half of it."""
    assert share_seen(FAR, SQUARE) == pytest.approx(0.25)
    assert share_seen(FAR, SQUARE, [((10, 0), (20, 0), (20, 20), (10, 20))]) == pytest.approx(0.5)
    assert share_seen(FAR, SQUARE, [SQUARE]) == 0
