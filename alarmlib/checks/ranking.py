"""Findings in the order in which they matter, one line a cause."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from math import inf

from alarmlib.checks.finding import Finding, Verdict


class Concern(IntEnum):
    """What a finding is about, the gravest first."""

    LIFE_SAFETY = 0
    INTRUSION = 1
    UPKEEP = 2


_LIFE_SAFETY = frozenset(
    {"household_alarms", "alarm_places", "alarm_walks", "carbon_monoxide", "british_alarms"}
    | {"people.would_not_wake", "site.locked_in", "sound.at_the_pillow", "messages.first_leave", "loops.fire_circuits"}
    | {
        "short_path.smoke_alarms_missing",
        "hazards.smoke_alarm_too_old",
        "hazards.one_way_out",
        "devices.sensor_too_old",
    }
    | {"zones.life_safety_apart", "zones.life_safety_held_back", "part_sets.leaves_out_what_counts_always"}
)
_UPKEEP = frozenset(
    {"hazards", "capacity", "choice", "zone_plan", "plan_drawn", "cable", "fitting", "inherited", "readiness"}
    | {
        "zones.labels",
        "devices.battery_due",
        "radio.cell_ends_sooner",
        "battery.battery_due",
        "battery.battery_undated",
    }
    | {"people.person_not_shown", "test_walk.overdue", "test_walk.cause_not_found", "sound.ears_beside_it"}
)
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


def concern(finding: Finding) -> Concern:
    """What the finding is about, by its check; what is named nowhere is about intrusion."""
    names = {finding.id, finding.id.partition(".")[0]}
    if names & _LIFE_SAFETY:
        return Concern.LIFE_SAFETY
    return Concern.UPKEEP if names & _UPKEEP else Concern.INTRUSION


def ranked(findings: Iterable[Finding], touched: frozenset[str] = frozenset()) -> tuple[Gap, ...]:
    """What must or should be fixed, one gap a cause, the gravest first.

    In this order: the verdict; life safety, intrusion, upkeep; what a breach of the proof touches (`touched` are
    ids); what is at stake by the check's subject, and the check that leads its cause; the smallest margin, findings
    without one last; then the order of the checks.
    Reference: an order of our own; common practice, no source.
    """
    weights = list(Verdict)
    open_ones = [each for each in findings if each.verdict in (Verdict.MUST, Verdict.SHOULD)]

    def weight(each: Finding) -> tuple[int, int, bool, int, int, float]:
        touches = _touches(each, touched)
        return weights.index(each.verdict), concern(each), not touches, _stake(each), _led(each), _margin(each)

    causes: dict[str, list[Finding]] = {}
    for each in sorted(open_ones, key=weight):
        causes.setdefault(cause_of(each), []).append(each)
    return tuple(Gap(first, tuple(others)) for first, *others in causes.values())


def cause_of(finding: Finding) -> str:
    """The cause that a finding tells of: a name of `CAUSES`, else its check."""
    return next((cause for cause, checks in CAUSES.items() if finding.id in checks), finding.id)


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
