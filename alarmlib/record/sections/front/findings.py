"""What is open: every finding, the gaps that matter most, what to do on the house, what was assumed."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from alarmlib.checks.accepted import changed_since, reason_told
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.lookup import said
from alarmlib.checks.ranking import Gap, accepted, ranked
from alarmlib.model.home import Home
from alarmlib.model.site import Opening, RoundResult, Yes
from alarmlib.model.survey import POINTS, Answer, Found, Heading
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.record.blocks import (
    ISOLATE,
    RELEASE,
    Block,
    Bullets,
    Causes,
    Checklist,
    Findings,
    Subheading,
    Text,
    apart,
    named,
)
from alarmlib.record.context import Context
from alarmlib.record.rows import label, note_table
from alarmlib.record.section import section


@section("findings", "Findings", level=Share.OWNER)
def findings(context: Context) -> tuple[Block, ...]:
    """The causes, then what is good to know and what is in order; results for an earlier state are named as such."""
    assessment = context.assessment
    blocks: list[Block] = []
    if assessment.stale:
        blocks += [Subheading("Computed for an earlier state of the home"), Bullets(assessment.stale)]
    if not assessment.findings:
        return (*blocks, Text(("No check had anything to look at yet.",)))
    causes = (*ranked(assessment.findings, touched(context.kept)), *accepted(assessment.findings))
    rest = tuple(each for each in assessment.findings if each.verdict in (Verdict.NOTE, Verdict.OK))
    blocks += [Causes(causes)] if causes else []
    return (*blocks, *([Findings(rest)] if rest else []), *once_accepted(context.home, assessment.findings))


def once_accepted(home: Home, findings: Iterable[Finding]) -> tuple[Block, ...]:
    """What was accepted and is not found so any more, with the reason that no longer counts."""
    lines = tuple(f"{apart(line)} Accepted: {named(reason_told(each))}" for line, each in changed_since(home, findings))
    return (Subheading("Accepted earlier, and no longer found as it was"), Bullets(lines)) if lines else ()


MOST = 5
_NAMED = 3
_ORDER = (
    "What you must fix comes first. Then come life safety, ways in, false alarms, messages and upkeep. In each of "
    "these, what a breach of the proof touches comes first. Then comes the cause with the most findings; "
    "for life safety, what is at stake. Findings of one cause share a line."
)


def worst(findings: Iterable[Finding], touched: frozenset[str] = frozenset()) -> tuple[Gap, ...]:
    """The gravest causes, at most five; `touched` are the ids that a breach of the proof names.

    Our own order.
    """
    return ranked(findings, touched)[:MOST]


@section("gaps", "The gaps that matter most", level=Share.OWNER)
def gaps(context: Context) -> tuple[Block, ...]:
    """The order, then at most five causes; where else the same holds is in the same line."""
    gaps = worst(context.assessment.findings, touched(context.kept))
    if not gaps:
        return (Text(("The checks found no gap in what was entered.",)),)
    return (Text((_ORDER,)), Findings(tuple(line_of(context, gap) for gap in gaps)))


def line_of(context: Context, gap: Gap) -> Finding:
    """The first finding, with the names of what else the same cause concerns, or how many more there are."""
    if gap.line is not gap.first:
        return _longer(gap.line, f"{len(gap.rows)} properties are breached or not settled.")
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
    """The ids that the breaches of a proof name: of their worst cases and counterexamples; none of an old proof."""
    if kept.proof is None or not kept.fresh:
        return frozenset()
    breached = (each for each in kept.proof.properties if each.verdict is ProofVerdict.BREACHED)
    return frozenset(name for each in breached for name in _named_by(each))


def _named_by(proved: Proved) -> Iterator[str]:
    yield from proved.id.split("/")[1:]
    yield from proved.worst.values()
    for beat in proved.counterexample:
        yield from (beat.place, *beat.devices, *beat.zones)


_LOOKED_AT = ("lock", "latches_in_wind", "by_day", "by_night")
_POINTS = {point.id: point for point in POINTS}


@section("to_do", "To do on the house", level=Share.OWNER, needs=("site.rooms",))
def to_do(context: Context) -> tuple[Block, ...]:
    """What needs work, a line each; lines that nobody has looked at say so."""
    site = context.home.site
    lines = [line for opening in site.openings for line in _opening(context, opening)]
    lines += [line for answer in sorted(site.answers, key=_round) for line in _answer(answer)]
    unseen = sum(_nothing_looked_at(opening) for opening in site.openings)
    if unseen:
        lines.append(f"Look at the {unseen} ways in that nobody has looked at yet.")
    quiet = [answer for answer in site.answers if not any(_answer(answer))]
    return (
        Checklist("What needs work", tuple(lines) or ("Nothing was found that needs work.",)),
        *note_table(context, "Written down on the round where nothing needs work now", quiet, ("to_do",)),
    )


def _opening(context: Context, opening: Opening) -> Iterator[str]:
    name = context.name("opening", opening.id)
    bad = [label(Opening, field) for field in _LOOKED_AT if getattr(opening, field) is RoundResult.NEEDS_WORK]
    if bad or opening.to_do:
        wanted = f": {named(opening.to_do)}" if opening.to_do else ""
        yield f"{name}: {' and '.join(f'“{text}” needs work' for text in bad) or 'noted'}{wanted}"
    if opening.escape_way and opening.opens_without_key is Yes.NO:
        yield f"{name} is an escape way but does not open from inside without a key: change the lock"


def _round(answer: Answer) -> int:
    """Where on the walk its heading comes."""
    return list(Heading).index(answer.heading)


def _answer(answer: Answer) -> Iterator[str]:
    if Found.NEEDS_WORK not in (answer.found, answer.in_the_dark) or answer.left is Found.OK:
        return
    point = _POINTS.get(answer.id)
    told = point.text if point else named(answer.point or answer.id)
    wanted = named(answer.to_do) if answer.to_do else (point.to_do if point else "to fix")
    yield f"{answer.heading.text}: {wanted} (“{told}” needs work)"


def _nothing_looked_at(opening: Opening) -> bool:
    return all(getattr(opening, field) is RoundResult.NOT_LOOKED_AT for field in _LOOKED_AT)


@section("assumptions", "Assumptions", level=Share.OWNER)
def assumptions(context: Context) -> tuple[Block, ...]:
    """The facts that were skipped; each would make this record say more, or say it more firmly."""
    if not context.assessment.missing:
        return (Text(("No fact that the checks asked for was skipped.",)),)
    told = (
        "You skipped these facts. Where a calculation needed one, its usual value was used, and the "
        "calculation says so."
    )
    return (Text((told,)), Bullets(tuple(map(apart, context.assessment.missing))))
