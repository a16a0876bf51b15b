"""Where each rule and figure in this record comes from, and how far it was seen."""

from collections.abc import Iterator

from alarmlib.checks.cautions import CAUTIONS
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.sections.settings import system_faults
from alarmlib.record.sections.upkeep import upkeep
from alarmlib.sources import cite

ID = "sources"
TITLE = "Sources"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.PUBLIC


def build(context: Context) -> tuple[Block, ...]:
    """The sources this record leans on, by title."""
    used = sorted({cite(key) for key in _keys(context)}, key=lambda source: (source.title, source.key))
    rows = tuple((source.title, source.edition, source.clause, source.standing) for source in used)
    told = (
        (
            "“Seen” means that the passage was read, not the whole document. What comes from memory is "
            "advice only: check it before you rely on "
            "it. Your local code and each device's manual decide."
        ),
        f"Rules checked: {context.home.rules.rule_set.text}.",
    )
    return (Text(told), Table("Sources of this record", ("Source", "Edition", "Clause", "How far seen"), rows))


def _keys(context: Context) -> Iterator[str]:
    yield from (caution.source for caution in CAUTIONS)
    yield from (source for _, _, source in upkeep.DUTIES)
    if context.sees(Share.HELPER):
        yield from system_faults.sources(context.home)
        yield from (finding.source for finding in context.assessment.findings)
        yield from (key for figure in context.assessment.figures for key in figure.sources)
