"""What a record is made of: typed blocks of plain text; no block holds HTML."""

import re
from dataclasses import dataclass

from alarmlib.calc.figure import Figure
from alarmlib.checks.finding import Finding
from alarmlib.checks.ranking import Gap
from alarmlib.record.picture import Drawing

ISOLATE, RELEASE = "\u2068", "\u2069"
_DIRECTION_MARKS = dict.fromkeys(map(ord, "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"))


def named(text: str) -> str:
    """A name as a person typed it, kept apart so that its writing direction disturbs no neighbour."""
    return f"{ISOLATE}{text.translate(_DIRECTION_MARKS)}{RELEASE}"


def apart(message: str) -> str:
    """A sentence of the checks, whose “names in quotation marks” are kept apart."""
    return re.sub("“([^”]*)”", lambda quoted: f"“{named(quoted[1])}”", message)


@dataclass(frozen=True)
class Text:
    """Paragraphs."""

    paragraphs: tuple[str, ...]


@dataclass(frozen=True)
class Subheading:
    """A heading inside a section."""

    text: str


@dataclass(frozen=True)
class Bullets:
    """A list; `ordered` when the order matters."""

    items: tuple[str, ...]
    ordered: bool = False


@dataclass(frozen=True)
class Table:
    """Rows under a header; the first column names the row; `numeric` columns are set to the right."""

    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        if any(len(row) != len(self.header) for row in self.rows):
            raise ValueError(f"table “{self.caption}”: a row has not {len(self.header)} cells")


@dataclass(frozen=True)
class FigureBlock:
    """A calculation that a reader can follow: formula, numbers put in, result, sources."""

    title: str
    figure: Figure


@dataclass(frozen=True)
class Picture:
    """A drawing with a title, a description, and the table that says the same."""

    title: str
    description: str
    drawing: Drawing
    table: Table


@dataclass(frozen=True)
class Caution:
    """What can hurt, and who says so (a key of `alarmlib.sources`)."""

    text: str
    source: str


@dataclass(frozen=True)
class Findings:
    """Findings, to be shown by weight."""

    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Causes:
    """What must or should be fixed, one line a cause; the other findings of a cause are folded under its line."""

    gaps: tuple[Gap, ...]


@dataclass(frozen=True)
class ToldStep:
    """One cause to put right: what was found, what that gains, the page where it is entered, and the field there.

    `field` is its path in the home, joined by "/"; "" where the whole page is meant. `rows` are the findings that the
    line does not tell.
    """

    finding: Finding
    gained: str
    page: str
    field: str = ""
    rows: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class ToldSteps:
    """What to do next, in this order; `linked` on a page, where a link leads to the field."""

    steps: tuple[ToldStep, ...]
    linked: bool = False


@dataclass(frozen=True)
class Folded:
    """A list behind one line; on paper it is open."""

    title: str
    items: tuple[str, ...]


@dataclass(frozen=True)
class Checklist:
    """Items to tick on paper."""

    title: str
    items: tuple[str, ...]


@dataclass(frozen=True)
class Lines:
    """An empty table to be filled in by hand."""

    caption: str
    header: tuple[str, ...]
    count: int


Block = (
    Text
    | Subheading
    | Bullets
    | Table
    | FigureBlock
    | Picture
    | Caution
    | Findings
    | Causes
    | ToldSteps
    | Folded
    | Checklist
    | Lines
)


@dataclass(frozen=True)
class SectionText:
    """One heading of the record and the blocks under it; `paper` sections start a new page in print."""

    id: str
    title: str
    blocks: tuple[Block, ...]
    paper: bool = False


@dataclass(frozen=True)
class Record:
    """A whole record: equal records give equal bytes."""

    title: str
    home: str
    copy: str
    date: str
    version: str
    sections: tuple[SectionText, ...]
