"""Findings in the order in which they matter, one line a cause."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import inf

from alarmlib.checks.concerns import concern
from alarmlib.checks.finding import Finding, Verdict

CAUSES = {
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
    "pets": (
        "detectors.pet_trips_motion",
        "placement_walks.pet_on_furniture",
        "placement_walks.pet_seen_from_another_room",
    ),
    "warm air": ("detectors.disturbed_motion", "placement.warm_air_in_view"),
    "bare ways in": ("site.way_in_without_detector", "choice.left_uncovered"),
    "power cut": ("messages.path_in_a_power_cut", "battery.boxes_without_standby"),
}
"""Findings of several checks that one deed puts right, the one that leads first; any other check is its own cause."""
BREACHES = {
    "proof.noticed_first": "Somebody may come in and reach the middle of a guarded room before they are noticed.",
    "proof.sounds_first": "Somebody may reach a room that needs a quick alarm before the siren or a message.",
    "proof.sounds_in_time": "The siren or a message may come too late after somebody is noticed.",
    "proof.beside": "While others come or go, somebody may come in by another way unnoticed.",
    "proof.habit": "Family habits may sound the siren or send a false alarm message.",
    "proof.pairs": "The habits of two people that overlap may sound the siren or send a false alarm message.",
    "proof.left_out_shown": "The control unit may set without showing what is left out, out of use or open.",
}
"""What several breached properties of one rule come to, in a sentence."""
ACCEPTED = "Accepted, with your reason"
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
_NUMBER = re.compile(r"[-−+]?\d+(?:[.,]\d+)?")


@dataclass(frozen=True)
class Gap:
    """One cause: the finding that tells it, and the other findings of the same cause."""

    first: Finding
    others: tuple[Finding, ...] = ()

    @property
    def line(self) -> Finding:
        """What tells the cause: the first finding; of several breaches of one rule, what they come to."""
        told = BREACHES.get(cause_of(self.first), "") if self.first.id == "proof.breached" else ""
        return replace(self.first, message=told) if told and self.others else self.first

    @property
    def rows(self) -> tuple[Finding, ...]:
        """The findings that the line does not tell."""
        return self.others if self.line is self.first else (self.first, *self.others)


def ranked(findings: Iterable[Finding], touched: frozenset[str] = frozenset()) -> tuple[Gap, ...]:
    """What must or should be fixed, one gap a cause, the gravest first.

    In this order: the verdict; what it is about (`Concern`); what a breach of the proof touches (`touched` are
    ids); what is at stake by the check's subject, and the check that leads its cause; the smallest margin, findings
    without one last; then the order of the checks.
    Reference: an order of our own; common practice, no source.
    """
    return _by_cause((each for each in findings if each.is_open), touched, cause_of)


def accepted(findings: Iterable[Finding]) -> tuple[Gap, ...]:
    """What should be fixed and the household accepts, one gap for each cause and reason, the gravest first."""
    lived_with = (each for each in findings if each.accepted and not each.is_open)
    return _by_cause(lived_with, frozenset(), lambda each: f"{cause_of(each)}\n{each.accepted}")


def _by_cause(findings: Iterable[Finding], touched: frozenset[str], cause: Callable[[Finding], str]) -> tuple[Gap, ...]:
    weights = list(Verdict)

    def weight(each: Finding) -> tuple[int, int, bool, int, int, float]:
        touches = _touches(each, touched)
        return weights.index(each.verdict), concern(each), not touches, _stake(each), _led(each), _margin(each)

    causes: dict[str, list[Finding]] = {}
    for each in sorted(findings, key=weight):
        causes.setdefault(cause(each), []).append(each)
    return tuple(Gap(first, tuple(others)) for first, *others in causes.values())


def cause_of(finding: Finding) -> str:
    """The cause that a finding tells of: its own, a name of `CAUSES`, else its check."""
    return finding.cause or next((cause for cause, checks in CAUSES.items() if finding.id in checks), finding.id)


def _stake(finding: Finding) -> int:
    stake = _AT_STAKE.get(finding.id, finding.id.partition(".")[0])
    return _FIRST.index(stake) if stake in _FIRST else len(_FIRST)


def _led(finding: Finding) -> int:
    return next((checks.index(finding.id) for checks in CAUSES.values() if finding.id in checks), 0)


def _touches(finding: Finding, touched: frozenset[str]) -> bool:
    return finding.id == "proof.breached" or finding.subject in touched


def _margin(finding: Finding) -> float:
    """The margin's number, which is below nought where a limit is missed; without one, the last."""
    found = _NUMBER.search(finding.margin)
    return float(found[0].replace("−", "-").replace(",", ".")) if found else inf


def by_concern(gaps: Iterable[Gap]) -> tuple[tuple[str, tuple[Gap, ...]], ...]:
    """Causes under their headings: what must be fixed first, what should be, by what it is about; what is accepted."""
    headed: dict[str, list[Gap]] = {}
    for gap in gaps:
        headed.setdefault(_heading(gap.first), []).append(gap)
    return tuple((heading, tuple(under)) for heading, under in headed.items())


def _heading(finding: Finding) -> str:
    if finding.verdict is Verdict.MUST:
        return "What you must fix"
    return ACCEPTED if finding.accepted else concern(finding).text
