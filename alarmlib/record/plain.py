"""Blocks of a record as plain text, for the pages' check cells: no tables drawn, no colour, no time."""

from collections.abc import Iterable
from functools import singledispatch

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import by_concern
from alarmlib.record.blocks import (
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
    ToldSteps,
)
from alarmlib.record.markup import page_told, plain_text, shown_value
from alarmlib.sources import cite

SIGN = {Verdict.MUST: "MUST FIX", Verdict.SHOULD: "SHOULD FIX", Verdict.NOTE: "NOTE", Verdict.OK: "FINE"}


def plain_blocks(blocks: Iterable[Block]) -> str:
    """The blocks as lines of text."""
    return "\n".join(filter(None, (plain_text(plain(block)) for block in blocks)))


@singledispatch
def plain(block: Block) -> str:
    """One block as text."""
    raise TypeError(f"no plain text is written for {type(block).__name__}")


@plain.register
def _(block: Text) -> str:
    return "\n".join(block.paragraphs)


@plain.register
def _(block: Subheading) -> str:
    return f"{block.text}:"


@plain.register
def _(block: Bullets) -> str:
    return "\n".join(f"- {item}" for item in block.items)


@plain.register
def _(block: Checklist) -> str:
    return "\n".join([block.title, *(f"[ ] {item}" for item in block.items)])


@plain.register
def _(block: Table) -> str:
    rows = [
        ". ".join(f"{head}: {cell}" for head, cell in zip(block.header, row, strict=True) if cell) for row in block.rows
    ]
    return "\n".join([f"{block.caption}:", *(f"- {row}" for row in rows)])


@plain.register
def _(block: FigureBlock) -> str:
    figure = block.figure
    numbers = ", ".join(f"{name} = {value}" for name, value in figure.inputs)
    sources = "; ".join(str(cite(key)) for key in figure.sources)
    return f"{block.title}: {shown_value(figure)}\n  {figure.formula}; {numbers}\n  Source: {sources}"


@plain.register
def _(block: Picture) -> str:
    return plain(block.table)


@plain.register
def _(block: Caution) -> str:
    return f"Caution: {block.text}"


@plain.register
def _(block: Findings) -> str:
    return "\n".join(finding_line(finding) for finding in block.findings)


@plain.register
def _(block: Causes) -> str:
    lines = []
    for heading, gaps in by_concern(block.gaps):
        lines.append(f"{heading}:")
        for gap in gaps:
            lines.append(finding_line(gap.line))
            lines += [f"- {each.message}" for each in gap.rows]
    return "\n".join(lines)


@plain.register
def _(block: ToldSteps) -> str:
    lines = []
    for number, step in enumerate(block.steps, 1):
        lines.append(f"{number}. {finding_line(step.finding)} {step.gained} {page_told(step.page)}")
        lines += [f"- {each.message}" for each in step.rows]
    return "\n".join(lines)


@plain.register
def _(block: Folded) -> str:
    return "\n".join([f"{block.title}:", *(f"- {item}" for item in block.items)])


@plain.register
def _(block: Lines) -> str:
    return f"{block.caption}: on paper."


def finding_line(finding: Finding) -> str:
    """A finding in one line: its weight as a word, what was found, what fixes it, and the source."""
    remedy = f" {finding.remedy}" if finding.remedy else ""
    reason = f" Accepted: {finding.accepted}" if finding.accepted else ""
    return f"{SIGN[finding.verdict]}: {finding.message}{remedy} [{cite(finding.source).title}]{reason}"
