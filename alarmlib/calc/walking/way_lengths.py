"""How long a way between two rooms surely is: what is known of stairs, and what of stopped seconds lies in rooms."""

from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, Point
from alarmlib.calc.walking.floor import is_convex
from alarmlib.calc.walking.walks import SLOPE_PER_RISE

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def slope_m(plan: Plan, passage: PlanPassage, notes: dict[str, None]) -> float:
    """Length of stairs along their slope, m: as typed, else from both ends, else from the rise; 0 if nothing rises.

    What had to be assumed is added to `notes`.
    Reference: textbook plane geometry; what a rise takes is an assumption.
    """
    first, second = passage.rooms
    rise_m = abs(plan.floor_m(second) - plan.floor_m(first))
    if not rise_m:
        return 0.0
    if passage.slope_m is not None:
        return passage.slope_m
    if passage.at is not None and passage.at_second is not None:
        return hypot(passage.at[0] - passage.at_second[0], passage.at[1] - passage.at_second[1], rise_m)
    notes[f"The length of {passage.id} is assumed from its rise alone."] = None
    return rise_m * SLOPE_PER_RISE


def inside_m(floor: "BaseGeometry | None", middle: Point | None, at: Point | None, half_m: float) -> float:
    """The most that a walk from a drawn room's middle to the end of a way can be, m, furniture left out.

    The end lies within `half_m` of `at`, or anywhere on the floor.
    Reference: no walk within a simple polygon is longer than half way round it, textbook plane geometry.
    """
    from shapely.geometry import LineString
    from shapely.geometry import Point as ShapelyPoint

    if floor is None or middle is None:
        return 0.0
    convex = is_convex(floor)
    if at is not None and (convex or floor.covers(LineString((middle, at)))):
        return hypot(at[0] - middle[0], at[1] - middle[1]) + half_m
    if convex:
        return float(floor.hausdorff_distance(ShapelyPoint(middle)))
    return float(floor.length / 2)
