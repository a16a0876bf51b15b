"""The five gaps that matter most: one line a cause, the gravest first."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.checks.ranking import Gap, ranked
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.record.blocks import ISOLATE, RELEASE, Block, Findings, Text
from alarmlib.record.context import Context

ID = "gaps"
TITLE = "The gaps that matter most"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER

MOST = 5
_NAMED = 3
_ORDER = (
    "What must be fixed comes first; then life safety, then intrusion, then upkeep. Of these, what a breach of the "
    "proof touches comes first, then what is at stake, then the smallest margin. Findings of one cause share a line."
)


def worst(findings: Iterable[Finding], touched: frozenset[str] = frozenset()) -> tuple[Gap, ...]:
    """The gravest causes, at most five; `touched` are the ids that a breach of the proof names.

    Our own order.
    """
    return ranked(findings, touched)[:MOST]


def build(context: Context) -> tuple[Block, ...]:
    """The order, then at most five causes; where else the same holds stands in the same line."""
    gaps = worst(context.assessment.findings, touched(context.kept))
    if not gaps:
        return (Text(("The checks found no gap in what was entered.",)),)
    return (Text((_ORDER,)), Findings(tuple(_line(context, gap) for gap in gaps)))


def _line(context: Context, gap: Gap) -> Finding:
    """The first finding, with the names of what else the same cause concerns, or how many more there are."""
    if gap.first.id == "proof.breached" and gap.others:
        count = len(gap.others)
        return _longer(gap.first, f"{count} more {'property is' if count == 1 else 'properties are'} breached.")
    known = dict.fromkeys(each.subject for each in gap.others if each.subject != gap.first.subject)
    shown = {subject: context.any_name(subject).strip(ISOLATE + RELEASE) for subject in known}
    names = [said(name) for subject, name in shown.items() if name not in {subject, subject.replace("_", " ")}]
    if not names:
        return gap.first
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return _longer(gap.first, f"The same concerns {', '.join(names[:_NAMED])}{more}.")


def _longer(finding: Finding, told: str) -> Finding:
    return replace(finding, message=f"{finding.message} {told}")


def touched(kept: KeptProof) -> frozenset[str]:
    """The ids that the breaches of a proof name: in their properties, worst cases and stories; none of an old proof."""
    if kept.proof is None or not kept.fresh:
        return frozenset()
    breached = (each for each in kept.proof.properties if each.verdict is ProofVerdict.BREACHED)
    return frozenset(name for each in breached for name in _named_by(each))


def _named_by(proved: Proved) -> Iterator[str]:
    yield from proved.id.split("/")[1:]
    yield from proved.worst.values()
    for beat in proved.counterexample:
        yield from (beat.place, *beat.devices, *beat.zones)
