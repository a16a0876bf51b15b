"""All checks on one home: quick after every change, full when asked for."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from types import ModuleType
from typing import Literal

from alarmlib.calc.figure import Figure
from alarmlib.checks.check import Check
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
from alarmlib.checks.home import inherited, plan_drawn, readiness, short_path, site
from alarmlib.checks.home.missing import missing
from alarmlib.checks.people import by_day, habits, left_alone, part_sets, people
from alarmlib.checks.settings import capacity, control, messages, sound, times, zone_plan, zones
from alarmlib.checks.settings.proof import kept_findings
from alarmlib.checks.upkeep import test_walk
from alarmlib.model import Home
from alarmlib.proof.report.kept import KeptProof

Depth = Literal["quick", "full"]
# Growing point: a module of checks names them in its own `CHECKS`.
QUICK: tuple[ModuleType, ...] = (
    site,
    plan_drawn,
    detectors,
    placement,
    glass,
    zones,
    capacity,
    part_sets,
    times,
    control,
    messages,
    people,
    household_alarms,
    alarm_places,
    carbon_monoxide,
    british_alarms,
    hazards,
    devices,
    loops,
    radio,
    cable,
    battery,
    sound,
    fitting,
    test_walk,
    inherited,
    readiness,
    short_path,
    left_alone,
    by_day,
)
FULL: tuple[ModuleType, ...] = (zone_plan, habits, coverage, placement_walks, alarm_walks, choice)
CHECKS: tuple[Check, ...] = tuple(check for module in QUICK for check in module.CHECKS)
FULL_CHECKS: tuple[Check, ...] = tuple(check for module in FULL for check in module.CHECKS)

Result = tuple[Finding | Figure, ...]


@dataclass(frozen=True)
class Assessed(Assessment):
    """An assessment that keeps what each check said, so that the next runs only what moved."""

    home: Home | None = field(default=None, repr=False, compare=False)
    today: date | None = field(default=None, compare=False)
    results: Mapping[str, Result] = field(default_factory=dict, repr=False, compare=False)


def home_hash(home: Home) -> str:
    """A name for the state of a home: the same facts give the same name."""
    return sha256(home.model_dump_json().encode()).hexdigest()[:16]


def assess(
    home: Home,
    depth: Depth = "quick",
    previous: Assessment | None = None,
    today: date | None = None,
    proof: KeptProof | None = None,
) -> Assessed:
    """What all checks say about the home, heaviest first.

    `previous` is an earlier assessment: checks whose parts of the home have not moved are not run again.
    A quick assessment keeps full results while their parts are unchanged, and names them in `stale` once they change.
    Without `today` no finding depends on the day. The proof takes seconds, so it is never run here:
    what was kept of it is given as `proof`, and without it no finding speaks of the proof.
    """
    before = previous if isinstance(previous, Assessed) and previous.home is not None else Assessed("")
    results: dict[str, Result] = {}
    stale: list[str] = []
    for check in CHECKS:
        results[check.id] = _result(check, home, today, before)
    for check in FULL_CHECKS:
        if depth == "full" or _still_holds(check, home, today, before):
            results[check.id] = _result(check, home, today, before)
        elif check.id in before.results or check.id in before.stale:
            stale.append(check.id)
    if proof is not None:
        results["proof"] = tuple(kept_findings(home, proof))
    said = [each for result in results.values() for each in result]
    return Assessed(
        home_hash=home_hash(home),
        figures=tuple(each for each in said if isinstance(each, Figure)),
        findings=_by_weight([each for each in said if isinstance(each, Finding)]),
        missing=missing(home),
        stale=tuple(stale),
        home=home,
        today=today,
        results=results,
    )


def _result(check: Check, home: Home, today: date | None, before: Assessed) -> Result:
    return before.results[check.id] if _still_holds(check, home, today, before) else check.result(home, today)


def _still_holds(check: Check, home: Home, today: date | None, before: Assessed) -> bool:
    """Whether what the check said before still holds."""
    if before.home is None or check.id not in before.results or (check.dated and before.today != today):
        return False
    return check.unmoved(home, before.home)


def _by_weight(findings: list[Finding]) -> tuple[Finding, ...]:
    weights = list(Verdict)
    return tuple(sorted(findings, key=lambda finding: weights.index(finding.verdict)))
