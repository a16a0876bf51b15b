"""Findings in the order in which they matter, one line a cause."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import inf

from alarmlib.checks.concerns import Concern, concern
from alarmlib.checks.finding import Finding, Verdict

CAUSES = {
    "no smoke alarm": (
        "short_path.smoke_alarms_missing",
        "household_alarms.in_every_bedroom",
        "household_alarms.outside_sleeping_areas",
        "household_alarms.on_every_level",
        "household_alarms.on_both_sides_of_a_door",
        "household_alarms.unit_alone",
        "alarm_places.at_the_stairs",
        "british_alarms.rooms_of_the_category",
        "household_alarms.all_sound_together",
    ),
    "no CO alarm": (
        "carbon_monoxide.alarm_at_all",
        "carbon_monoxide.outside_sleeping_areas",
        "carbon_monoxide.in_bedrooms_with_fire",
        "carbon_monoxide.on_every_level",
        "carbon_monoxide.unit_alone",
    ),
    "alarms in a poor place": (
        "alarm_places.near_a_bathroom_door",
        "alarm_places.in_moving_air",
        "alarm_places.too_cold_or_hot",
        "alarm_places.on_a_cold_wall",
        "alarm_places.too_low_on_a_wall",
        "alarm_places.under_a_shaped_ceiling",
        "alarm_places.in_a_dead_corner",
        "alarm_walks.near_a_cooker",
        "carbon_monoxide.where_it_should_not_be",
        "carbon_monoxide.distance_to_appliances",
        "carbon_monoxide.height_by_en50292",
        "british_alarms.place_on_ceiling_or_wall",
        "british_alarms.near_heaters",
        "british_alarms.under_a_slope",
    ),
    "who comes": ("messages.nobody_can_come", "messages.not_agreed"),
    "nobody is told": ("short_path.siren_unanswered", "messages.nobody_is_told"),
    "pets": (
        "detectors.pet_trips_motion",
        "placement_walks.pet_on_furniture",
        "placement_walks.pet_seen_from_another_room",
    ),
    "warm air": ("detectors.disturbed_motion", "placement.warm_air_in_view"),
    "bare ways in": (
        "site.way_in_without_detector",
        "choice.left_uncovered",
        "coverage.way_in_by_motion_alone",
        "site.shock_without_contact",
    ),
    "place of the control unit": (
        "site.unit_at_the_entry",
        "site.unit_outside_the_guarded_area",
        "placement_walks.unit_on_the_entry_route",
        "placement_walks.unit_reached_unseen",
    ),
    "who cannot unset": ("people.person_cannot_unset", "people.visitor_cannot_unset"),
    "reach of contacts": ("detectors.gap_too_wide", "detectors.contact_on_steel"),
    "what rooms show": ("coverage.sees_nothing", "coverage.room_seen_in_part", "coverage.blind_spots"),
    "standby battery": ("battery.too_small", "battery.runs_out", "battery.told_too_late"),
    "tests to do": ("test_walk.not_tested", "test_walk.overdue"),
    "power cut": ("messages.path_in_a_power_cut", "battery.boxes_without_standby"),
}
"""Findings of several checks that one deed puts right, the one that leads first; any other check is its own cause."""
JOINED = {
    "proof.noticed_first": "proof.ways_in",
    "proof.sounds_first": "proof.ways_in",
    "proof.sounds_in_time": "proof.ways_in",
    "proof.beside": "proof.ways_in",
    "proof.habit": "proof.false_alarms",
    "proof.pairs": "proof.false_alarms",
}
"""Rules of the proof whose breaches one search for fixes on page 08 answers together."""
BREACHES = {
    "proof.ways_in": "Somebody may come in unnoticed, or be noticed too late.",
    "proof.false_alarms": "Family habits may sound the siren or send a false alarm message, alone or two at a time.",
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
        told = BREACHES.get(self._rule, "") if self.first.id == "proof.breached" else ""
        return replace(self.first, message=told) if told and self.others else self.first

    @property
    def _rule(self) -> str:
        """The one rule that is breached; of several, what they are joined under."""
        rules = {each.cause for each in (self.first, *self.others)}
        return rules.pop() if len(rules) == 1 else cause_of(self.first)

    @property
    def rows(self) -> tuple[Finding, ...]:
        """The findings that the line does not tell."""
        return self.others if self.line is self.first else (self.first, *self.others)


def ranked(findings: Iterable[Finding], touched: frozenset[str] = frozenset()) -> tuple[Gap, ...]:
    """What must or should be fixed, one gap a cause, the gravest first.

    In this order: the verdict; what it is about (`Concern`); what a breach of the proof touches (`touched` are
    ids); but for life safety how many findings the cause has, the most first; what is at stake by the check's subject,
    and the check that leads its cause; the smallest margin, findings without one last; then the order of the checks.
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
    gaps = (Gap(first, tuple(others)) for first, *others in causes.values())
    return tuple(sorted(gaps, key=lambda gap: (*weight(gap.first)[:3], _many_first(gap))))


def _many_first(gap: Gap) -> int:
    """The cause with the most findings first; where lives are at stake numbers do not weigh."""
    return 0 if concern(gap.first) is Concern.LIFE else -len(gap.others)


def cause_of(finding: Finding) -> str:
    """The cause that a finding tells of: its own or what that is joined under, a name of `CAUSES`, else its check."""
    return JOINED.get(finding.cause, finding.cause) or next(
        (cause for cause, checks in CAUSES.items() if finding.id in checks), finding.id
    )


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
