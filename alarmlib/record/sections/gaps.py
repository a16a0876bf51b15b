"""The five gaps that matter most: one line a cause, the heaviest first."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.lookup import said
from alarmlib.model.words import Share
from alarmlib.record.blocks import ISOLATE, RELEASE, Block, Findings, Text
from alarmlib.record.context import Context

ID = "gaps"
TITLE = "The gaps that matter most"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.OWNER

MOST = 5
_NAMED = 3
_CAUSES = {
    "no smoke alarm": (
        "short_path.smoke_alarms_missing",
        "household_alarms.in_every_bedroom",
        "household_alarms.outside_sleeping_areas",
        "household_alarms.on_every_level",
        "household_alarms.on_both_sides_of_a_door",
        "alarm_places.at_the_stairs",
    ),
    "no CO alarm": (
        "carbon_monoxide.alarm_at_all",
        "carbon_monoxide.outside_sleeping_areas",
        "carbon_monoxide.in_bedrooms_with_fire",
        "carbon_monoxide.on_every_level",
    ),
    "nobody is told": ("short_path.siren_unanswered", "messages.nobody_is_told"),
}
"""Findings of several checks that one deed puts right; any other check is a cause of its own."""
_FIRST = (
    *("carbon_monoxide", "household_alarms", "british_alarms", "alarm_places", "people", "hazards"),
    *("proof", "short_path", "site", "part_sets", "messages", "control", "habits", "times", "zones"),
    *("glass", "detectors", "placement", "coverage", "sound", "battery", "loops"),
)
"""What can kill, then who comes in unheard, then who hears of it, then what rings falsely; by module of the checks."""


_AT_STAKE = {
    "alarm_places.at_the_stairs": "household_alarms",
    "short_path.smoke_alarms_missing": "household_alarms",
    "messages.emergency_calls": "",
}
"""Where a check weighs otherwise than its module."""


@dataclass(frozen=True)
class Gap:
    """One cause: the finding that tells it, and the other findings of the same cause."""

    first: Finding
    others: tuple[Finding, ...] = ()


def worst(findings: Iterable[Finding]) -> tuple[Gap, ...]:
    """The heaviest causes, at most five: what must be fixed, then by what is at stake, then as the checks gave them.

    Reference: our own order.
    """
    by_cause: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.verdict in (Verdict.MUST, Verdict.SHOULD):
            by_cause.setdefault(_cause(finding), []).append(finding)
    gaps = (_gap(found) for found in by_cause.values())
    return tuple(sorted(gaps, key=lambda gap: _weight(gap.first))[:MOST])


def _gap(found: Sequence[Finding]) -> Gap:
    first = min(found, key=_weight)
    return Gap(first, tuple(each for each in found if each is not first))


def _cause(finding: Finding) -> str:
    return next((cause for cause, checks in _CAUSES.items() if finding.id in checks), finding.id)


def _weight(finding: Finding) -> tuple[int, int, int]:
    """Smaller is heavier: the verdict, what is at stake, and the check that leads its cause."""
    stake = _AT_STAKE.get(finding.id, finding.id.partition(".")[0])
    led = next((checks.index(finding.id) for checks in _CAUSES.values() if finding.id in checks), 0)
    return list(Verdict).index(finding.verdict), _FIRST.index(stake) if stake in _FIRST else len(_FIRST), led


def build(context: Context) -> tuple[Block, ...]:
    """At most five causes, the heaviest first; where else the same holds stands in the same line."""
    gaps = worst(context.assessment.findings)
    if not gaps:
        return (Text(("The checks found no gap in what was entered.",)),)
    return (Findings(tuple(_line(context, gap) for gap in gaps)),)


def _line(context: Context, gap: Gap) -> Finding:
    """The first finding, with the names of what else the same cause concerns."""
    known = dict.fromkeys(each.subject for each in gap.others if each.subject != gap.first.subject)
    shown = {subject: context.any_name(subject).strip(ISOLATE + RELEASE) for subject in known}
    names = [said(name) for subject, name in shown.items() if name != subject]
    if not names:
        return gap.first
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return replace(gap.first, message=f"{gap.first.message} The same concerns {', '.join(names[:_NAMED])}{more}.")
