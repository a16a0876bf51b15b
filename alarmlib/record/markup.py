"""Blocks written out as HTML; every text is escaped here, and nowhere else is HTML made."""

import re
from collections.abc import Iterable
from functools import singledispatch
from html import escape
from unicodedata import bidirectional

from alarmlib.calc.figure import Figure
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import ACCEPTED, Gap, by_concern
from alarmlib.record.blocks import (
    ISOLATE,
    RELEASE,
    Block,
    Bullets,
    Causes,
    Caution,
    Checklist,
    FigureBlock,
    Findings,
    Folded,
    Lines,
    Picture,
    Subheading,
    Table,
    Text,
    ToldStep,
    ToldSteps,
    apart,
    named,
)
from alarmlib.record.picture import svg
from alarmlib.sources import cite
from alarmlib.units import Kind, rounded, show

ROWS_KEPT_WHOLE = 10  # a table this short is not torn by a page's end
WIDEST_WHOLE = 360.0  # drawing units, about the inner width of the smallest screen
FEW_NOTES = 3  # so many are read at once; more are behind one line
_SAID_ONCE = ("verdict", "remedy", "source", "accepted")
SIGNS = {Verdict.MUST: "✖", Verdict.SHOULD: "▲", Verdict.NOTE: "●", Verdict.OK: "✔"}
GROUPS = {
    Verdict.MUST: "Must fix",
    Verdict.SHOULD: "Should fix, or check",
    Verdict.NOTE: "Good to know",
    Verdict.OK: "In order",
}
_LONG_RUN = re.compile(r"(?:&[#\w]+;|[^\s&]){30,}")
_RUN_PIECE = re.compile(r"(?:&[#\w]+;|[^\s&]){1,20}")
_ISOLATED = re.compile(f"{ISOLATE}([^{RELEASE}]*){RELEASE}")
_TURNED = frozenset({"R", "AL", "AN"})  # letters and numbers that run from right to left
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def escaped(text: str) -> str:
    """The text for HTML, also within double quotes; an apostrophe, which ends nothing there, stays one byte."""
    return escape(text).replace("&#x27;", "'")


def plain(text: str) -> str:
    """The text escaped for HTML: control characters replaced, isolated names kept apart."""
    safe = _LONG_RUN.sub(_breakable, escaped(_CONTROL.sub("\ufffd", text)))
    marks = "".join(mark for mark in safe if mark in (ISOLATE, RELEASE))
    if marks.replace(ISOLATE + RELEASE, ""):
        return safe.replace(ISOLATE, "").replace(RELEASE, "")
    return _ISOLATED.sub(_own_direction, safe)


def _own_direction(name: re.Match[str]) -> str:
    """A name in an element of its own where any letter or number of it runs from right to left; else as it is."""
    turned = any(bidirectional(sign) in _TURNED for sign in name[1])
    return f"<bdi>{name[1]}</bdi>" if turned else name[1]


@singledispatch
def block_html(block: Block, key: str) -> str:
    """One block as HTML; `key` makes its ids unique in the document."""
    raise TypeError(f"no way to write {type(block).__name__} for {key}")


@block_html.register
def _(block: Text, _key: str) -> str:
    return "".join(f"<p>{plain(text)}</p>" for text in block.paragraphs)


@block_html.register
def _(block: Subheading, _key: str) -> str:
    return f"<h3>{plain(block.text)}</h3>"


@block_html.register
def _(block: Bullets, _key: str) -> str:
    return _list(block.items, "ol" if block.ordered else "ul")


@block_html.register
def _(block: Table, key: str) -> str:
    return _table(block, key)


@block_html.register
def _(block: Lines, key: str) -> str:
    rows = (("",) * len(block.header),) * block.count
    return _table(Table(block.caption, block.header, rows), key, "blank")


@block_html.register
def _(block: FigureBlock, _key: str) -> str:
    return _figure(block.title, block.figure)


@block_html.register
def _(block: Picture, key: str) -> str:
    drawn = svg(block.drawing, key, plain_text(block.title), plain_text(block.description))
    told = f"<figcaption>{plain(block.title)}. {plain(block.description)}</figcaption>"
    return f"<figure>{_wide(block.drawing.width, drawn, key)}{told}</figure>{_table(block.table, f'{key}-table')}"


@block_html.register
def _(block: Caution, _key: str) -> str:
    source = f'<span class="source">{plain(cited(block.source))}</span>'
    return f'<p class="caution"><strong>⚠ Caution.</strong> {plain(block.text)} {source}</p>'


@block_html.register
def _(block: Findings, _key: str) -> str:
    return _findings(block.findings)


@block_html.register
def _(block: Causes, _key: str) -> str:
    return "".join(
        f'<h3>{plain(heading)} ({len(gaps)})</h3><ul class="findings">{"".join(map(_cause, gaps))}</ul>'
        for heading, gaps in by_concern(block.gaps)
    )


@block_html.register
def _(block: ToldSteps, _key: str) -> str:
    return f'<ol class="findings steps">{"".join(_step(step, block.linked) for step in block.steps)}</ol>'


@block_html.register
def _(block: Folded, _key: str) -> str:
    summary = f"{plain(block.title)} ({len(block.items)})"
    return f"<details><summary>{summary}</summary>{_list(block.items, 'ul')}</details>"


@block_html.register
def _(block: Checklist, _key: str) -> str:
    return f"<h3>{plain(block.title)}</h3>" + _list(block.items, "ul", "ticks")


def _breakable(run: re.Match[str]) -> str:
    """A run without a space, with places where a line may be broken (entities stay whole)."""
    return "<wbr>".join(_RUN_PIECE.findall(run.group()))


def cited(key: str) -> str:
    """A source as it is cited; a title that says how far it was seen is enough."""
    source = cite(key)
    return source.title if source.title.lower().startswith(source.status.value) else str(source)


def plain_text(text: str) -> str:
    """The text without the marks that keep names apart (a picture's title holds no markup)."""
    return _CONTROL.sub("\ufffd", text).replace(ISOLATE, "").replace(RELEASE, "")


def _wide(width: float, drawn: str, key: str) -> str:
    """A drawing too wide for a small screen scrolls in a region of its own rather than shrink beyond reading."""
    if width <= WIDEST_WHOLE:
        return drawn
    return f'<div class="scroll wide" role="region" tabindex="0" aria-labelledby="{key}-title">{drawn}</div>'


def _list(items: Iterable[str], tag: str, kind: str = "") -> str:
    opened = f'<{tag} class="{kind}">' if kind else f"<{tag}>"
    return opened + "".join(f"<li>{plain(item)}</li>" for item in items) + f"</{tag}>"


def _table(table: Table, key: str, kind: str = "") -> str:
    head = "".join(
        f'<th scope="col"{_right(index, table)}>{plain(text)}</th>' for index, text in enumerate(table.header)
    )
    rows = "".join(_row(row, table, kind) for row in table.rows)
    scroll = "scroll whole" if len(table.rows) <= ROWS_KEPT_WHOLE else "scroll"
    return (
        f'<div class="{scroll}" role="region" tabindex="0" aria-labelledby="{key}-caption">'
        f"<table{_shape(table, kind)}>"
        f'<caption id="{key}-caption">{plain(table.caption)}'
        f"</caption><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _shape(table: Table, kind: str) -> str:
    shape = kind or ("slim" if len(table.header) <= 3 else "")
    return f' class="{shape}"' if shape else ""


def _row(row: tuple[str, ...], table: Table, kind: str) -> str:
    first = f'<th scope="row">{plain(row[0])}</th>' if kind != "blank" else "<td></td>"
    cells = "".join(f"<td{_right(index, table)}>{plain(text)}</td>" for index, text in enumerate(row[1:], start=1))
    return f"<tr>{first}{cells}</tr>"


def _right(index: int, table: Table) -> str:
    return ' class="n"' if index in table.numeric else ""


def shown_value(figure: Figure) -> str:
    """The result as it is read: three significant figures and the unit, seconds as hours, minutes and seconds."""
    if isinstance(figure.value, str):
        return f"{figure.value} {figure.unit}".strip()
    if figure.unit == "s":
        return show(figure.value, Kind.TIME, "metric", 3)
    return f"{rounded(figure.value)} {figure.unit}".strip()


def _figure(title: str, figure: Figure) -> str:
    numbers = "; ".join(f"{name} = {value}" for name, value in figure.inputs)
    lines = [
        ("Formula", figure.formula),
        ("Numbers put in", numbers),
        ("Result", shown_value(figure)),
        ("Holds for", figure.valid_range),
        ("Source", "; ".join(cited(key) for key in figure.sources)),
    ]
    told = "".join(f"<dt>{name}</dt><dd>{plain(text)}</dd>" for name, text in lines if text)
    return f'<div class="figure"><h3>{plain(title)}</h3><dl>{told}</dl></div>'


def _findings(findings: tuple[Finding, ...]) -> str:
    lived_with = [finding for finding in findings if finding.accepted and not finding.is_open]
    weighed = [(v, [f for f in findings if f.verdict is v and f not in lived_with], GROUPS[v]) for v in Verdict]
    return "".join(
        _group(verdict, group, words)
        for verdict, group, words in (*weighed[:2], (Verdict.SHOULD, lived_with, ACCEPTED), *weighed[2:])
        if group
    )


def _group(verdict: Verdict, group: list[Finding], words: str) -> str:
    """The findings of one weight; what is in order, and more than a few notes, are one line, which unfolds."""
    heading = f'<h3><span class="sign">{SIGNS[verdict]}</span> {words} ({len(group)})</h3>'
    listed = f'<ul class="findings {verdict.value}">{"".join(f"<li>{_finding(each)}</li>" for each in group)}</ul>'
    folded = verdict is Verdict.OK or (verdict is Verdict.NOTE and len(group) > FEW_NOTES)
    return f"<details><summary>{heading}</summary>{listed}</details>" if folded else heading + listed


def _cause(gap: Gap) -> str:
    """The line that tells a cause, and its findings behind one line."""
    line = gap.line
    told = _finding(line) + _rows(gap.rows, line, "more like it" if line is gap.first else "findings")
    return f'<li class="{line.verdict.value}">{told}</li>'


def _rows(rows: tuple[Finding, ...], under: Finding, words: str) -> str:
    """The findings of a cause that its line does not tell, behind one line."""
    listed = "".join(f"<li>{_finding(each, under)}</li>" for each in rows)
    return f"<details><summary>{len(rows)} {words}</summary><ul>{listed}</ul></details>" if rows else ""


def _step(step: ToldStep, linked: bool) -> str:
    """A cause, what doing it gains, and where it is entered."""
    found, where = step.finding, plain(page_told(step.page))
    if linked:
        field = f' data-field="{escaped(step.field)}"' if step.field else ""
        where = f'<a href="{escaped(step.page)}.ipynb"{field}>Go to page {plain(step.page[:2])}</a>'
    told = f"{_finding(found, sourced=False)}<br>{plain(apart(step.gained))} {where}"
    return f'<li class="{found.verdict.value}">{told}{_rows(step.rows, found, "more like it")}</li>'


def page_told(page: str) -> str:
    """Where something is entered, in words."""
    return f"It is entered on page {page[:2]} of the workbook."


def _finding(finding: Finding, under: Finding | None = None, sourced: bool = True) -> str:
    """A finding: word and sign, sentence, remedy on a line of its own, numbers and source behind.

    `under` another one, its weight, remedy and source only where they differ.
    """
    same = {name for name in _SAID_ONCE if under and getattr(finding, name) == getattr(under, name)}
    word = f'<span class="word">{SIGNS[finding.verdict]} {finding.verdict.value}</span> '
    remedy = f'<br><span class="remedy">What to do: {plain(apart(finding.remedy))}</span>' if finding.remedy else ""
    numbers = ", ".join(
        f"{name} {value}"
        for name, value in (("found", finding.figure), ("limit", finding.limit), ("margin", finding.margin))
        if value
    )
    told = ". ".join(filter(None, (numbers, "" if "source" in same or not sourced else cited(finding.source))))
    behind = f' <span class="source">{plain(told)}</span>' if told else ""
    message = plain(apart(finding.message))
    reason = f'<br><span class="remedy">Accepted: {plain(named(finding.accepted))}</span>' if finding.accepted else ""
    ends = f"{behind}{reason if 'accepted' not in same else ''}"
    return f"{word if 'verdict' not in same else ''}{message}{remedy if 'remedy' not in same else ''}{ends}"
