"""Findings in the order in which they matter, one line a cause."""

import random

from hypothesis import given
from hypothesis import strategies as st

from alarmlib.checks.assess import CHECKS, FULL_CHECKS
from alarmlib.checks.concerns import CONCERNS, Concern, concern
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import BREACHES, CAUSES, JOINED, by_concern, cause_of, ranked
from alarmlib.checks.settings.proof import kept_findings
from alarmlib.model import Home
from alarmlib.proof.intruder import intrusions
from alarmlib.proof.repairs.copies import RUN_OF
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import Proof, ProofVerdict, Proved
from alarmlib.proof.unit.rules import RULES

MUST, SHOULD = Verdict.MUST, Verdict.SHOULD
RULES_OF_THE_PROOF = {*(rule.id for rule in RULES), *intrusions.RULES, *RUN_OF, "beside"}
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
        found("glass.behind_curtains", margin="-3 s"),
        found("glass.panes_heard", margin="2 s"),
        found("glass.nothing_to_hear"),
        found("times.siren_time", margin="-9 s"),
        found("battery.runs_out", margin="-9 h"),
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


def test_every_name_in_the_tables_is_a_check_its_module_or_a_rule_of_the_proof() -> None:
    """A check or a rule that is renamed does not silently fall out of its place, and none is in two."""
    names = {*KNOWN, *(each.partition(".")[0] for each in KNOWN), *(f"proof.{rule}" for rule in RULES_OF_THE_PROOF)}
    names |= {*JOINED.values()}
    placed = [name for listed in CONCERNS.values() for name in listed]
    assert len(placed) == len(set(placed))
    assert {*placed, *BREACHES, *JOINED, *(check for checks in CAUSES.values() for check in checks)} - names == set()
    assert {concern(found(check)) for check in KNOWN} == set(Concern)


def test_breaches_of_one_rule_are_one_line_that_says_what_they_come_to() -> None:
    """Seventeen pairs of habits that sound the siren were seventeen lines."""
    pairs = ["pairs", *(f"pair/shopping/habit_{number}" for number in range(17))]
    broken = [
        Proved(name, f"{name} is quiet.", ProofVerdict.BREACHED) for name in (*pairs, "noticed_first/house/night")
    ]
    kept = KeptProof(Proof("", properties=tuple(broken)), fresh=True)
    one, all_pairs = ranked(kept_findings(Home(), kept))
    assert (one.line.message, one.rows) == ("Breached: noticed_first/house/night is quiet.", ())
    assert all_pairs.line.message == BREACHES["proof.pairs"]
    assert [each.message for each in all_pairs.rows] == [f"Breached: {name} is quiet." for name in pairs]
    assert [heading for heading, _ in by_concern((one, all_pairs))] == [
        Concern.UNNOTICED.text,
        Concern.FALSE_ALARM.text,
    ]


def test_rules_that_one_search_for_fixes_answers_are_one_cause() -> None:
    """Noticed too late, and heard too late: a line that says both, above a cause with fewer findings."""
    names = ("noticed_first/house/night", "sounds_first/house/night", "beside/house/night")
    broken = [Proved(name, f"{name} holds.", ProofVerdict.BREACHED) for name in names]
    few = found("site.way_in_without_detector", "window")
    proved = kept_findings(Home(), KeptProof(Proof("", properties=tuple(broken)), fresh=True))
    joined, other = ranked([few, *proved])
    assert joined.line.message == BREACHES["proof.ways_in"]
    assert [each.message for each in joined.rows] == [f"Breached: {name} holds." for name in names]
    assert other.first is few


def test_within_a_concern_the_cause_with_the_most_findings_comes_first() -> None:
    """One deed that takes three findings away before one that takes one; what a breach touches before both."""
    one, steel = found("devices.weak_signal", "a"), [found("detectors.contact_on_steel", n) for n in "bcd"]
    assert [cause_of(gap.first) for gap in ranked([one, *steel])] == ["reach of contacts", "devices.weak_signal"]
    assert next(iter(ranked([one, *steel], frozenset({"a"})))).first is one


def test_what_is_only_not_settled_is_not_called_a_breach() -> None:
    """Two properties that are not settled keep their own words."""
    open_ones = [Proved(name, f"{name} is quiet.", ProofVerdict.NOT_SETTLED) for name in ("pairs", "pair/a/b")]
    (gap,) = ranked(kept_findings(Home(), KeptProof(Proof("", properties=tuple(open_ones)), fresh=True)))
    assert gap.line is gap.first
    assert gap.line.message == "Not settled: pairs is quiet."


def test_what_must_be_fixed_has_a_heading_of_its_own() -> None:
    """Whatever it is about, it comes before the rest."""
    gaps = ranked([found("household_alarms.in_every_bedroom"), found("capacity.slot_twice", verdict=MUST)])
    assert [heading for heading, _ in by_concern(gaps)] == ["What you must fix", Concern.LIFE.text]


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
