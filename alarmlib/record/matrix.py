"""A grid of letters and hatching: rows and columns with names."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.record.picture import Anchor, Drawing, Fill, Ink, Label, Line, Rect, Shape

NAMES, CELL, ROW, HEAD = 220.0, 110.0, 22.0, 30.0


@dataclass(frozen=True)
class MatrixCell:
    """What is drawn where a row and a column cross: a letter, and a hatched box beside it (None: no box)."""

    letter: str
    fill: Fill | None = None


def matrix(heads: Sequence[str], rows: Sequence[tuple[str, Sequence[MatrixCell]]]) -> Drawing:
    """The grid as a drawing; long names are cut, the table beside it has them whole."""
    width = NAMES + CELL * len(heads) + 8
    height = HEAD + ROW * len(rows) + 8
    lines, boxes = list[Shape](), list[Shape]()
    labels: list[Shape] = [
        Label((NAMES + CELL * n + 4, HEAD - 10), head, 12, Anchor.START, bold=True, most=15)
        for n, head in enumerate(heads)
    ]
    for place, (name, cells) in enumerate(rows):
        top = HEAD + ROW * place
        lines.append(Line((0, top), (width, top), Ink.FINE))
        labels.append(Label((0, top + 15), name, 12, Anchor.START, most=34))
        for n, cell in enumerate(cells):
            left = NAMES + CELL * n + 4
            if cell.fill is not None:
                boxes.append(Rect((left, top + 4), 26, ROW - 8, Ink.PLAIN, cell.fill))
            if cell.letter:
                labels.append(Label((left + 34, top + 15), cell.letter, 12, Anchor.START, bold=True))
    return Drawing(width, height, (*lines, *boxes, *labels))
