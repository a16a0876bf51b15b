"""Three small charts of our own: bands on a scale, a course over hours, levels against what is asked."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.record.picture import Anchor, Drawing, Fill, Ink, Label, Line, Rect, Shape

NAMES, WIDE, ROW, FOOT = 180.0, 420.0, 30.0, 40.0


@dataclass(frozen=True)
class BandRow:
    """One row of bands, each (low, high, fill) on a scale from 0 to 1."""

    name: str
    bands: tuple[tuple[float, float, Fill], ...]


def band_chart(rows: Sequence[BandRow], marks: Sequence[tuple[float, str]]) -> Drawing:
    """Bands over a scale from 0 to 1; each mark is a dashed line with its word."""
    shapes: list[Shape] = []
    for place, row in enumerate(rows):
        top = 24 + ROW * place
        shapes.append(Label((0, top + 15), row.name, 12, Anchor.START, most=27))
        for low, high, fill in row.bands:
            wide = max((high - low) * WIDE, 2.0)
            shapes.append(Rect((NAMES + min(low * WIDE, WIDE - 2), top + 2), wide, ROW - 12, Ink.PLAIN, fill))
    foot = 24 + ROW * len(rows)
    for at, word in marks:
        x = NAMES + at * WIDE
        shapes += [Line((x, 16), (x, foot), Ink.DASHED), Label((x, 12), word, 11)]
    shapes.append(Line((NAMES, foot), (NAMES + WIDE, foot), Ink.FINE))
    shapes += [Label((NAMES + tenth * WIDE / 10, foot + 16), f"{tenth / 10:g}", 11) for tenth in range(0, 11, 2)]
    return Drawing(NAMES + WIDE + 40, foot + 26, tuple(shapes))


def course_chart(points: Sequence[tuple[float, float]], wanted_h: float) -> Drawing:
    """Shares from 1 to 0 over hours, straight between points; a dashed line where the asked time ends."""
    last = max(wanted_h, *(hours for hours, _ in points)) or 1.0
    left, top, tall = 60.0, 20.0, 180.0
    spots = [(left + hours / last * WIDE, top + (1 - share) * tall) for hours, share in points]
    shapes: list[Shape] = [Line(a, b, Ink.WALL) for a, b in itertools.pairwise(spots)]
    x = left + wanted_h / last * WIDE
    shapes += [Line((x, top), (x, top + tall), Ink.DASHED), Label((x, top - 6), "asked until here", 11)]
    shapes += [Line((left, top + tall), (left + WIDE, top + tall)), Line((left, top), (left, top + tall))]
    for part in range(0, 101, 25):
        shapes.append(Label((left - 6, top + (1 - part / 100) * tall + 4), f"{part} %", 11, Anchor.END))
    step = next(step for step in (1, 2, 4, 6, 12, 24, 48, 96, 1e9) if last / step <= 9)
    for mark in range(0, int(last) + 1, int(step)):
        shapes.append(Label((left + mark / last * WIDE, top + tall + 16), f"{mark} h", 11))
    return Drawing(left + WIDE + 30, top + tall + 26, tuple(shapes))


@dataclass(frozen=True)
class LevelRow:
    """A level with its uncertainty, both in dB."""

    name: str
    level: float
    unsure: float


def level_chart(rows: Sequence[LevelRow], target: float) -> Drawing:
    """Levels from 30 to 110 dB with their uncertainty hatched, against a dashed target."""
    low, high = 30.0, 110.0

    def at(level: float) -> float:
        return NAMES + (min(max(level, low), high) - low) / (high - low) * WIDE

    shapes: list[Shape] = []
    for place, row in enumerate(rows):
        top = 24 + ROW * place
        shapes.append(Label((0, top + 15), row.name, 12, Anchor.START, most=27))
        shapes.append(Rect((NAMES, top + 8), at(row.level) - NAMES, ROW - 22, Ink.PLAIN, Fill.SOLID))
        first, last = at(row.level - row.unsure), at(row.level + row.unsure)
        shapes.append(Rect((first, top + 2), last - first, ROW - 10, Ink.PLAIN, Fill.SLANTED))
    foot = 24 + ROW * len(rows)
    shapes += [Line((at(target), 16), (at(target), foot), Ink.DASHED), Label((at(target), 12), "asked", 11)]
    shapes.append(Line((NAMES, foot), (NAMES + WIDE, foot), Ink.FINE))
    shapes += [Label((at(mark), foot + 16), f"{mark} dB(A)", 10) for mark in range(30, 111, 20)]
    return Drawing(NAMES + WIDE + 40, foot + 26, tuple(shapes))
