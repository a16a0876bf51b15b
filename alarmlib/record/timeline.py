"""Bars on a line of seconds."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.record.picture import Anchor, Drawing, Fill, Ink, Label, Line, Rect, Shape

NAMES, LINE, ROW, FOOT = 180.0, 420.0, 34.0, 30.0
_STEPS_S = (5, 10, 15, 30, 60, 120, 300, 600)


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
    return Drawing(
        NAMES + LINE + 40, ROW * len(bars) + FOOT + 6, (*shapes, *_scale(longest, scale, 6 + ROW * len(bars)))
    )


def _scale(longest: float, scale: float, top: float) -> list[Shape]:
    step = next((step for step in _STEPS_S if longest / step <= 8), 1200)
    marks = range(0, int(longest) + 1, step)
    shapes: list[Shape] = [Line((NAMES, top), (NAMES + LINE, top), Ink.FINE)]
    for mark in marks:
        x = NAMES + mark * scale
        shapes += [Line((x, top), (x, top + 4), Ink.FINE), Label((x, top + 17), f"{mark} s", 11)]
    return shapes
