"""Coverage of one detector: a plan shifted or mirrored gives the same areas; so do other ways to say a direction."""

import pytest

from alarmlib.calc.coverage.areas import Coverage, Eye, coverage, joined_area
from alarmlib.calc.plan.floor_plan import Plan, PlanFurniture, PlanPassage, PlanRoom, Point
from alarmlib.model.site import PassageKind


def seen(
    shift_m: float = 0.0, mirrored: bool = False, facing_deg: float = 30.0, angle_deg: float = 90.0, doors: int = 1
) -> Coverage:
    """An L-room with a cupboard and a wardrobe, and a room beyond a door; the eye in the middle of the low wall."""

    def put(*points: Point) -> tuple[Point, ...]:
        return tuple(((-x if mirrored else x) + shift_m, y - shift_m) for x, y in points)

    ell = PlanRoom("l", "g", put((0, 0), (6, 0), (6, 3), (3, 3), (3, 6), (0, 6)))
    den = PlanRoom("d", "g", put((6.2, 0), (9, 0), (9, 3), (6.2, 3)))
    low = PlanFurniture("c", "l", put((1, 1), (2, 1), (2, 1.5), (1, 1.5)), 1.2)
    tall = PlanFurniture("w", "l", put((4, 1.5), (4.5, 1.5), (4.5, 2.5), (4, 2.5)), 2.4)
    ways = (PlanPassage("p", ("l", "d"), PassageKind.DOOR, put((6.1, 1.5))[0], None, 0.9),)[:doors]
    facing = 180 - facing_deg if mirrored else facing_deg
    eye = Eye("e", "l", "g", put((3, 1e-4))[0], 2.2, facing, angle_deg, 10, 10, 5, 0.8)
    return coverage(Plan(rooms=(ell, den), passages=ways, furniture=(low, tall)), eye)


def areas(of: Coverage) -> list[float]:
    return [float(joined_area(part).area) for part in (of.possible, of.possible_shut, of.sure, of.straight)]


@pytest.mark.parametrize(
    "other",
    [
        seen(shift_m=17.3),
        seen(mirrored=True),
        seen(mirrored=True, shift_m=-4.7),
        seen(facing_deg=390),
        seen(facing_deg=-330),
    ],
)
def test_same_areas(other: Coverage) -> None:
    assert areas(other) == pytest.approx(areas(seen()), abs=1e-3)


def test_a_door_adds_to_what_may_be_seen_and_to_nothing_else() -> None:
    with_door, without = areas(seen(facing_deg=20)), areas(seen(facing_deg=20, doors=0))
    assert with_door[0] > without[0] + 0.1
    assert with_door[1:] == pytest.approx(without[1:], abs=1e-3)


def test_half_round_along_a_wall_is_all_round() -> None:
    """The eye is 0.1 mm off its wall: facing away from it, 180° sees as much as 360°."""
    half, whole = areas(seen(facing_deg=90, angle_deg=180)), areas(seen(facing_deg=90, angle_deg=360))
    assert half == pytest.approx(whole, abs=2e-2)
