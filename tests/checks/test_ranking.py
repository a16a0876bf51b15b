"""Findings in the order in which they matter, one line a cause."""

import random

from hypothesis import given
from hypothesis import strategies as st

from alarmlib.checks.assess import CHECKS, FULL_CHECKS
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import _LIFE_SAFETY, _UPKEEP, CAUSES, Concern, cause_of, concern, ranked

MUST, SHOULD = Verdict.MUST, Verdict.SHOULD
KNOWN = [check.id for check in (*CHECKS, *FULL_CHECKS)]


def found(check: str, subject: str = "x", verdict: Verdict = SHOULD, margin: str = "") -> Finding:
    """A finding of a check."""
    return Finding(check, subject, verdict, f"{check} of {subject}.", source="owner", margin=margin)


def test_each_step_of_the_order_decides_before_the_next() -> None:
    """Verdict, concern, the proof's breach, margin: each pair differs in one step and in all that come after it."""
    order = [
        found("capacity.slot_twice", verdict=MUST),
        found("household_alarms.in_every_bedroom"),
        found("site.unit_at_the_entry", "hall", margin="9 s"),
        found("times.siren_in_an_hour", margin="-3 s"),
        found("times.siren_time", margin="2 s"),
        found("coverage.sees_nothing"),
        found("cable.too_few_volts", margin="-5 V"),
    ]
    for seed in range(20):
        shuffled = random.Random(seed).sample(order, len(order))
        assert [gap.first for gap in ranked(shuffled, frozenset({"hall"}))] == order


def test_four_lines_about_one_cat_are_one() -> None:
    """The same check in four rooms is one cause, and so are checks that find it from different sides."""
    cat = [found("detectors.pet_trips_motion", room) for room in ("hall", "kitchen", "living", "landing")]
    gaps = ranked(
        [*cat, found("placement_walks.pet_on_furniture", "sofa"), found("zones.entry_exit_door_at_once", "door")]
    )
    assert {cause_of(gap.first): len(gap.others) for gap in gaps} == {"pets": 4, "zones.entry_exit_door_at_once": 0}


def test_notes_and_what_is_in_order_are_no_gaps() -> None:
    """Only what must or should be fixed is ranked."""
    assert ranked([found("times.in_time", verdict=Verdict.NOTE), found("times.in_time", verdict=Verdict.OK)]) == ()


def test_every_name_in_the_tables_is_a_check_or_a_module() -> None:
    """A check that is renamed does not silently fall out of its place."""
    names = {*KNOWN, *(each.partition(".")[0] for each in KNOWN)}
    assert (_LIFE_SAFETY | _UPKEEP | {check for checks in CAUSES.values() for check in checks}) - names == set()
    assert not _LIFE_SAFETY & _UPKEEP
    assert {concern(found(check)) for check in KNOWN} == set(Concern)


@given(st.lists(st.tuples(st.sampled_from(KNOWN), st.sampled_from(list(Verdict)), st.sampled_from(["", "-1", "4 dB"]))))
def test_nothing_is_lost_and_no_cause_is_listed_twice(drawn: list[tuple[str, Verdict, str]]) -> None:
    """Every open finding is in exactly one gap, whose first weighs no less than the others."""
    findings = [found(check, str(n), verdict, margin) for n, (check, verdict, margin) in enumerate(drawn)]
    gaps = ranked(findings)
    told = [each for gap in gaps for each in (gap.first, *gap.others)]
    assert sorted(told, key=lambda f: f.subject) == sorted(
        (f for f in findings if f.verdict in (MUST, SHOULD)), key=lambda f: f.subject
    )
    causes = [cause_of(gap.first) for gap in gaps]
    assert len(causes) == len(set(causes))
    weights = list(Verdict)
    assert all(weights.index(gap.first.verdict) <= weights.index(o.verdict) for gap in gaps for o in gap.others)
