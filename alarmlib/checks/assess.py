"""All checks on one home: quick after every change, full when asked for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, cast

from alarmlib.calc.figure import Figure
from alarmlib.checks.accepted import with_reasons
from alarmlib.checks.check import Check, CheckGroup
from alarmlib.checks.detectors import choice, coverage, detectors, devices, glass, placement, placement_walks
from alarmlib.checks.electrical import battery, cable, fitting, loops, radio
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.checks.hazards import (
    alarm_places,
    alarm_walks,
    british_alarms,
    carbon_monoxide,
    hazards,
    household_alarms,
)
from alarmlib.checks.home import inherited, plan_drawn, readiness, short_path, site, unlikely
from alarmlib.checks.home.missing import missing
from alarmlib.checks.people import by_day, habits, left_alone, part_sets, people
from alarmlib.checks.settings import capacity, control, messages, sound, times, zone_plan, zones
from alarmlib.checks.settings.proof import kept_findings
from alarmlib.checks.upkeep import test_walk
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.proof.report.kept import KeptProof

Depth = Literal["quick", "full"]
# Growing point: a module of checks names them in its own `GROUP`.
QUICK: tuple[CheckGroup, ...] = (
    site.GROUP,
    plan_drawn.GROUP,
    unlikely.GROUP,
    detectors.GROUP,
    placement.GROUP,
    glass.GROUP,
    zones.GROUP,
    capacity.GROUP,
    part_sets.GROUP,
    times.GROUP,
    control.GROUP,
    messages.GROUP,
    people.GROUP,
    household_alarms.GROUP,
    alarm_places.GROUP,
    carbon_monoxide.GROUP,
    british_alarms.GROUP,
    hazards.GROUP,
    devices.GROUP,
    loops.GROUP,
    radio.GROUP,
    cable.GROUP,
    battery.GROUP,
    sound.GROUP,
    fitting.GROUP,
    test_walk.GROUP,
    inherited.GROUP,
    readiness.GROUP,
    short_path.GROUP,
    left_alone.GROUP,
    by_day.GROUP,
)
FULL: tuple[CheckGroup, ...] = (
    zone_plan.GROUP,
    habits.GROUP,
    coverage.GROUP,
    placement_walks.GROUP,
    alarm_walks.GROUP,
    choice.GROUP,
)
CHECKS: tuple[Check, ...] = tuple(check for group in QUICK for check in group.checks)
FULL_CHECKS: tuple[Check, ...] = tuple(check for group in FULL for check in group.checks)

Result = tuple[Finding | Figure, ...]


@dataclass(frozen=True)
class Assessed(Assessment):
    """An assessment with what each check said, by the check's id."""

    results: Mapping[str, Result] = field(default_factory=dict, repr=False, compare=False)


def assess(
    home: Home | Facts, depth: Depth = "quick", today: date | None = None, proof: KeptProof | None = None
) -> Assessed:
    """What all checks say about the home, heaviest first.

    Facts remember: asked again after an edit, only the checks that read something that moved are run. A quick
    assessment keeps full results that are surely still right, and names the others in `stale`. The facts have their
    own day; for a home without `today` no finding depends on the day. The proof takes seconds, so it is never run here:
    what was kept of it is given as `proof`, and without it no finding speaks of the proof.
    """
    facts = home if isinstance(home, Facts) else Facts(home, today)
    results: dict[str, Result] = {}
    stale: list[str] = []
    for check in CHECKS:
        results[check.id] = facts.ask(outcome, check)
    for check in FULL_CHECKS:
        stands = facts.standing(outcome, check)
        if depth == "full" or stands:
            results[check.id] = facts.ask(outcome, check)
        elif stands is not None:
            stale.append(check.id)
    if proof is not None:
        results["proof"] = tuple(kept_findings(facts.home, proof))
    found = [each for result in results.values() for each in result]
    return Assessed(
        figures=tuple(each for each in found if isinstance(each, Figure)),
        findings=_by_weight(with_reasons(facts.home, [each for each in found if isinstance(each, Finding)])),
        missing=facts.ask(missing),
        stale=tuple(stale),
        results=results,
    )


def outcome(facts: Facts, check: Check) -> Result:
    """What one check says, as a query: it reads the day only where the check does."""
    return check.result(cast("Home", facts), facts.today if check.dated else None)


def _by_weight(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    weights = list(Verdict)
    return tuple(sorted(findings, key=lambda finding: weights.index(finding.verdict)))
