"""Bars on a line of seconds."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.record.picture import Anchor, Drawing, Fill, Ink, Label, Line, Rect, Shape

NAMES, LINE, ROW, FOOT = 180.0, 420.0, 34.0, 30.0
_STEPS_S = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600)


@dataclass(frozen=True)
class Bar:
    """A frame of `whole_s` seconds, of which `part_s` are filled (the part may reach beyond the frame)."""

    name: str
    whole_s: float
    part_s: float


def timeline(bars: Sequence[Bar]) -> Drawing:
    """The bars over a scale in seconds."""
    longest = max([10.0, *(max(bar.whole_s, bar.part_s) for bar in bars)])
    scale = LINE / longest
    shapes: list[Shape] = []
    for place, bar in enumerate(bars):
        top = 6 + ROW * place
        shapes.append(Label((0, top + 17), bar.name, 12, Anchor.START, most=27))
        if bar.part_s:
            shapes.append(Rect((NAMES, top + 5), bar.part_s * scale, ROW - 18, Ink.FINE, Fill.SLANTED))
        if bar.whole_s:
            shapes.append(Rect((NAMES, top), bar.whole_s * scale, ROW - 8, Ink.PLAIN))
    foot = 6 + ROW * len(bars)
    return Drawing(NAMES + LINE + 40, foot + FOOT, (*shapes, *scale_marks(0, longest, scale, NAMES, foot)))


def scale_marks(first_s: float, last_s: float, scale: float, left: float, top: float) -> list[Shape]:
    """A line of seconds with marks, from the first second (at `left`) to the last, `scale` units a second."""
    step = next((step for step in _STEPS_S if (last_s - first_s) / step <= 8), 1200)
    marks = range(int(first_s), int(last_s) + 1, step)
    shapes: list[Shape] = [Line((left, top), (left + (last_s - first_s) * scale, top), Ink.FINE)]
    for mark in marks:
        x = left + (mark - first_s) * scale
        shapes += [Line((x, top), (x, top + 4), Ink.FINE), Label((x, top + 17), f"{mark} s", 11)]
    return shapes
