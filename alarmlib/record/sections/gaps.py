"""The five gaps that matter most."""

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Findings, Text
from alarmlib.record.context import Context

ID = "gaps"
TITLE = "The gaps that matter most"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER

MOST = 5


def worst(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The heaviest findings, at most five, in the order the checks gave them."""
    weights = list(Verdict)
    open_ones = [finding for finding in findings if finding.verdict in (Verdict.MUST, Verdict.SHOULD)]
    return tuple(sorted(open_ones, key=lambda finding: weights.index(finding.verdict))[:MOST])


def build(context: Context) -> tuple[Block, ...]:
    """At most five findings, the heaviest first."""
    found = worst(context.assessment.findings)
    return (Findings(found),) if found else (Text(("The checks found no gap in what was entered.",)),)
