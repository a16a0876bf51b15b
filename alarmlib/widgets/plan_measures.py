"""How wide and deep an outline is, as a person says it: what is drawn, and what is being drawn under the hand."""

from collections.abc import Mapping, Sequence
from math import dist
from typing import Any

from alarmlib.calc.plan.drawing import bounds
from alarmlib.model import Home
from alarmlib.model.base import Point
from alarmlib.units import Kind, show


def size_text(home: Home, outline: Sequence[Point]) -> str:
    """Width and depth of an outline as a person says them, such as "4.2 m by 3.1 m"."""
    left, low, right, high = bounds(outline) or (0, 0, 0, 0)
    wide, deep = (show(value, Kind.LENGTH, home.units) for value in (right - left, high - low))
    return f"{wide} by {deep}"


def measured(home: Home, corners: Sequence[Point], closed: bool) -> Mapping[str, Any]:
    """The text beside the pointer and its place, m: the size of an outline, or the length of the wall drawn last.

    Empty while there is nothing to measure yet.
    """
    if len(set(corners)) < 2:
        return {}
    if closed:
        left, low, right, high = bounds(corners) or (0, 0, 0, 0)
        return {"at": [(left + right) / 2, (low + high) / 2], "size": size_text(home, corners)}
    (ax, ay), (bx, by) = corners[-2:]
    long = round(dist((ax, ay), (bx, by)), 2)
    return {"at": [(ax + bx) / 2, (ay + by) / 2], "size": show(long, Kind.LENGTH, home.units)}
