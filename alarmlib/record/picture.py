"""Drawings of our own: lines, shapes, letters and hatching, written out as SVG with fixed decimals.

Lengths are drawing units (about a screen pixel); y grows downwards. Everything is drawn in the colour of
the text around it, so one drawing serves light, dark and print; meaning is carried by letters and hatching.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from html import escape
from itertools import groupby

Point = tuple[float, float]


class Ink(StrEnum):
    """How a line is drawn."""

    WALL = "wall"
    PLAIN = "plain"
    FINE = "fine"
    DASHED = "dashed"
    NONE = "none"


class Fill(StrEnum):
    """How a shape is filled."""

    NONE = "none"
    SOLID = "solid"
    SLANTED = "slanted"
    CROSSED = "crossed"
    DOTTED = "dotted"


@dataclass(frozen=True)
class Line:
    """A line from one point to another."""

    start: Point
    end: Point
    ink: Ink = Ink.PLAIN


@dataclass(frozen=True)
class Polygon:
    """A closed shape."""

    points: tuple[Point, ...]
    ink: Ink = Ink.PLAIN
    fill: Fill = Fill.NONE


@dataclass(frozen=True)
class Rect:
    """An upright rectangle from its top left corner."""

    corner: Point
    width: float
    height: float
    ink: Ink = Ink.PLAIN
    fill: Fill = Fill.NONE


@dataclass(frozen=True)
class Circle:
    """A circle."""

    centre: Point
    radius: float
    ink: Ink = Ink.PLAIN
    fill: Fill = Fill.NONE


class Anchor(StrEnum):
    """Which end of a label is at its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Label:
    """A short text; `at` is on its base line; longer than `most` characters it is cut."""

    at: Point
    text: str
    size: float = 12.0
    anchor: Anchor = Anchor.MIDDLE
    bold: bool = False
    most: int = 28


@dataclass(frozen=True)
class Badge:
    """A white mark with black letters, legible on any ground: round or square; `dark` is white on black."""

    at: Point
    text: str
    square: bool = False
    radius: float = 10.0
    dark: bool = False


Shape = Line | Polygon | Rect | Circle | Label | Badge


@dataclass(frozen=True)
class Drawing:
    """Shapes on a sheet of `width` by `height` units."""

    width: float
    height: float
    shapes: tuple[Shape, ...]


_STROKES = {
    Ink.WALL: 'stroke="currentColor" stroke-width="3" stroke-linejoin="round" stroke-linecap="round"',
    Ink.PLAIN: 'stroke="currentColor" stroke-width="1.5"',
    Ink.FINE: 'stroke="currentColor" stroke-width="0.6"',
    Ink.DASHED: 'stroke="currentColor" stroke-width="1.2" stroke-dasharray="5 4"',
    Ink.NONE: 'stroke="none"',
}
_LETTERS = 'text-anchor="middle" font-weight="bold"'  # those of badges
_HATCHES = {
    Fill.SLANTED: '<path d="M0 6L6 0" stroke="currentColor" stroke-width="1"></path>',
    Fill.CROSSED: '<path d="M0 6L6 0M0 0L6 6" stroke="currentColor" stroke-width="0.8"></path>',
    Fill.DOTTED: '<circle cx="3" cy="3" r="0.9" fill="currentColor"></circle>',
}


def svg(drawing: Drawing, key: str, title: str, description: str, alone: bool = False) -> str:
    """The drawing as SVG text; `key` makes its ids unique in a document.

    With `alone` the text is a document of its own (namespace and size), as a notebook output needs it.
    """
    size = f'viewBox="0 0 {_number(drawing.width)} {_number(drawing.height)}" width="{_number(drawing.width)}"'
    space = f' xmlns="http://www.w3.org/2000/svg" height="{_number(drawing.height)}"' if alone else ""
    used = {shape.fill for shape in drawing.shapes if isinstance(shape, Polygon | Rect | Circle)}
    patterns = "".join(_pattern(fill, key) for fill in _HATCHES if fill in used)
    return (
        f'<svg{space} {size} role="img" aria-labelledby="{key}-title {key}-desc"'
        ' font-family="sans-serif" font-size="12" fill="currentColor">'
        f'<title id="{key}-title">{escape(title)}</title><desc id="{key}-desc">{escape(description)}</desc>'
        + (f"<defs>{patterns}</defs>" if patterns else "")
        + "".join(_together(alike, shapes, key) for alike, shapes in groupby(drawing.shapes, _alike))
        + "</svg>"
    )


def _pattern(fill: Fill, key: str) -> str:
    return (
        f'<pattern id="{key}-{fill.value}" width="6" height="6" patternUnits="userSpaceOnUse">'
        f"{_HATCHES[fill]}</pattern>"
    )


def _alike(shape: Shape) -> str:
    """The attributes that a shape shares with its like; a label has its own."""
    if isinstance(shape, Label):
        return ""
    return _LETTERS if isinstance(shape, Badge) else _STROKES[shape.ink]


def _together(alike: str, shapes: Iterable[Shape], key: str) -> str:
    """Shapes one after another that share attributes, which are written once for all of them."""
    drawn = "".join(_drawn(kind, list(run), key) for kind, run in groupby(shapes, key=type))
    return f"<g {alike}>{drawn}</g>" if alike else drawn


def _drawn(kind: type, shapes: Sequence[Shape], key: str) -> str:
    """Shapes of one kind, one after another; straight lines are one path, which keeps a record small."""
    if kind is not Line:
        return "".join(_shape(shape, key) for shape in shapes)
    return f'<path d="{"".join(_stroke(shape) for shape in shapes if isinstance(shape, Line))}"></path>'


def _stroke(line: Line) -> str:
    (x1, y1), (x2, y2) = line.start, line.end
    return f"M{_number(x1)} {_number(y1)}L{_number(x2)} {_number(y2)}"


def _shape(shape: Shape, key: str) -> str:
    match shape:
        case Line():
            return f'<path d="{_stroke(shape)}"></path>'
        case Polygon():
            points = " ".join(f"{_number(x)},{_number(y)}" for x, y in shape.points)
            return f'<polygon points="{points}" {_paint(shape.fill, key)}></polygon>'
        case Rect():
            place = f'x="{_number(shape.corner[0])}" y="{_number(shape.corner[1])}"'
            size = f'width="{_number(shape.width)}" height="{_number(shape.height)}"'
            return f"<rect {place} {size} {_paint(shape.fill, key)}></rect>"
        case Circle():
            place = f'cx="{_number(shape.centre[0])}" cy="{_number(shape.centre[1])}"'
            return f'<circle {place} r="{_number(shape.radius)}" {_paint(shape.fill, key)}></circle>'
        case Label():
            return _label(shape)
        case Badge():
            return _badge(shape)


def _label(label: Label) -> str:
    text = label.text if len(label.text) <= label.most else label.text[: label.most - 1] + "…"
    size = "" if label.size == 12 else f' font-size="{_number(label.size)}"'
    anchor = "" if label.anchor is Anchor.START else f' text-anchor="{label.anchor.value}"'
    weight = ' font-weight="bold"' if label.bold else ""
    place = f'x="{_number(label.at[0])}" y="{_number(label.at[1])}"'
    return f"<text {place}{size}{anchor}{weight}>{escape(text)}</text>"


def _badge(badge: Badge) -> str:
    (x, y), r = badge.at, badge.radius
    ink, paper = ("#fff", "#000") if badge.dark else ("#000", "#fff")
    ground = f'stroke="{ink}" stroke-width="1.2" fill="{paper}"'
    size = _number(2 * r)
    frame = (
        f'<rect x="{_number(x - r)}" y="{_number(y - r)}" width="{size}" height="{size}" {ground}></rect>'
        if badge.square
        else f'<circle cx="{_number(x)}" cy="{_number(y)}" r="{_number(r)}" {ground}></circle>'
    )
    letters = 10 if len(badge.text) < 3 else 8.5
    return (
        f'{frame}<text x="{_number(x)}" y="{_number(y + 3.5)}" font-size="{_number(letters)}" fill="{ink}">'
        f"{escape(badge.text[:3])}</text>"
    )


def _paint(fill: Fill, key: str) -> str:
    match fill:
        case Fill.NONE:
            paint = "none"
        case Fill.SOLID:
            paint = "currentColor"
        case _:
            paint = f"url(#{key}-{fill.value})"
    return f'fill="{paint}"'


def _number(value: float) -> str:
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")
