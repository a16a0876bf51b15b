"""Every finding with its remedy and source, by weight."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Findings, Subheading, Text
from alarmlib.record.context import Context

ID = "findings"
TITLE = "Findings"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER


def build(context: Context) -> tuple[Block, ...]:
    """The findings; what was computed for an earlier state is named as such."""
    assessment = context.assessment
    blocks: list[Block] = []
    if assessment.stale:
        blocks += [Subheading("Computed for an earlier state of the home"), Bullets(assessment.stale)]
    if assessment.findings:
        return (*blocks, Findings(assessment.findings))
    return (*blocks, Text(("No check had anything to look at yet.",)))
