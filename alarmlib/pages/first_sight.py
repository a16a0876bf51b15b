"""What of a check or a picture is in sight at first: its verdict and what is open; the rest is folded below it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from alarmlib.checks.finding import Finding
from alarmlib.record.blocks import (
    Block,
    Bullets,
    Causes,
    FigureBlock,
    Findings,
    Picture,
    Subheading,
    Table,
    Text,
    ToldSteps,
)

MOST_BESIDE = 3  # beside a picture
MOST_LINES = 6  # in sight; a table or a picture that does not fit is folded whole
MOST_OPEN = 2  # findings or causes in sight
_LINE = 130  # characters
_HEAD = 2  # lines of a table's caption and header
_COUNTED = {
    "must": "to fix",
    "should": "that you should fix",
    "accepted must": "to fix, though accepted",
    "accepted should": "accepted",
    "note": "good to know",
    "ok": "in order",
}


def split(blocks: Iterable[Block], most: int = MOST_LINES) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """The blocks that are in sight at first, and those that are folded; together they say all."""
    shown: list[Block] = []
    rest: list[Block] = []
    left = most
    for block in blocks:
        now, later = _parted(block, left)
        full = bool(rest) or now is None
        shown += [] if full or now is None else [now]
        rest += [block] if full else [] if later is None else [later]
        left -= 0 if full else lines((now,) if now else ())
    while shown and isinstance(shown[-1], Subheading):  # a heading stays with what it heads
        rest.insert(0, shown.pop())
    return tuple(shown), tuple(rest)


def lines(blocks: Iterable[Block]) -> int:
    """How many lines, rows and findings they have."""
    return sum(map(_lines, blocks))


def verdict_line(findings: Iterable[Finding]) -> str:
    """How many findings there are of each weight, in a sentence; "" where there are none."""
    found = [f"{'accepted ' if each.accepted else ''}{each.verdict}" for each in findings]
    counts = [f"{found.count(verdict)} {words}" for verdict, words in _COUNTED.items() if verdict in found]
    return f"{', '.join(counts).capitalize()}." if counts else ""


def called(rest: Sequence[Block]) -> str:
    """What the button of the folded part says."""
    pictures = sum(isinstance(block, Picture) for block in rest)
    if pictures:
        return "Show the picture" if pictures == 1 else f"Show {pictures} pictures"
    tables = [block for block in rest if isinstance(block, Table)]
    if tables and len(tables) == len(rest):
        return f"Show {'the table' if len(tables) == 1 else f'{len(tables)} tables'}"
    count = lines(rest)
    return f"Show {count} more {'line' if count == 1 else 'lines'}"


def counted(blocks: Sequence[Block]) -> Iterator[Block]:
    """The blocks, each list of findings after the line that counts them."""
    for block in blocks:
        if isinstance(block, Findings | Causes):
            found = block.findings if isinstance(block, Findings) else [gap.first for gap in block.gaps]
            line = verdict_line(found)
            yield from [Text((line,))] if line else []
        yield block


def _parted(block: Block, left: int) -> tuple[Block | None, Block | None]:
    """What of a block is shown while so many lines are left, and what of it is folded."""
    match block:
        case _ if left <= 0:
            return None, block
        case Findings(findings):
            return _open_ones(findings)
        case Causes(gaps) if len(gaps) > MOST_OPEN:
            return Causes(gaps[:MOST_OPEN]), Causes(gaps[MOST_OPEN:])
        case Bullets(items) if (fit := _fitting(items, left)) < len(items):
            return replace(block, items=items[:fit]), replace(block, items=items[fit:])
        case Text(paragraphs) if (fit := _fitting(paragraphs, left)) < len(paragraphs):
            return Text(paragraphs[:fit]), Text(paragraphs[fit:])
    folded = isinstance(block, Picture | FigureBlock) or (isinstance(block, Table) and _lines(block) > left)
    return (None, block) if folded else (block, None)


def _open_ones(findings: Sequence[Finding]) -> tuple[Block | None, Block | None]:
    first = [each for each in findings if each.is_open][:MOST_OPEN]
    later = tuple(each for each in findings if each not in first)
    return (Findings(tuple(first)) if first else None), (Findings(later) if later else None)


def _fitting(texts: Sequence[str], left: int) -> int:
    """How many of these texts fit into so many lines: one at least."""
    ends = list(accumulate(map(_wrapped, texts)))
    return max(1, sum(end <= left for end in ends))


def _wrapped(text: str) -> int:
    return 1 + len(text) // _LINE


def _lines(block: Block) -> int:
    match block:
        case Findings(parts) | Causes(parts):
            return len(parts)
        case ToldSteps(steps):
            return len(steps)
        case Bullets(texts) | Text(texts):
            return sum(map(_wrapped, texts))
        case Table(rows=rows):
            return _HEAD + len(rows)
        case Picture(table=table):
            return 1 + _lines(table)
    return 1
