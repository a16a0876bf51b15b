"""What a fix gains on a copy is what a whole fresh assessment of the edited home says, for every kind of fix."""

import os
import random
from collections import Counter
from functools import cache
from typing import Any

from drafted_homes import british_home, wintry_home
from drawn_home import drawn_home

from alarmlib.checks.assess import CHECKS, assess
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.checks.fixes.gains import MOST, NextStep, gain_of, next_steps, remedy_of
from alarmlib.checks.fixes.where import PAGES, page_of
from alarmlib.checks.ranking import ranked
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.repairs.changes import changed
from alarmlib.record.context import Context
from alarmlib.record.plain import plain_blocks
from alarmlib.record.sections.front.next_steps import NOTHING, do_next, gained

WHOLE = os.environ.get("ALARM_WHOLE") == "1"
HOMES = (wintry_home, drawn_home, british_home)
QUICK = frozenset(check.id for check in CHECKS)


def worse(home: Home, seed: int) -> Home:
    """The home with a few of its answers made worse, drawn by the seed."""
    draw, document = random.Random(seed), home.model_dump(mode="json")
    for room in document["site"]["rooms"]:
        room |= {"smoke_alarm": draw.choice(["yes", "no"]), "carbon_monoxide_alarm": draw.choice(["yes", "no"])}
    for opening in document["site"]["openings"]:
        opening.update(
            draw.choice([{}, {"escape_way": True, "opens_without_key": "no"}, {"latches_in_wind": "needs_work"}])
        )
    document["devices"] = [each for each in document["devices"] if not each["openings"] or draw.random() < 0.7]
    for person in document["household"]["people"]:
        person.update(draw.choice([{}, {"can_unset": False, "fob": ""}]))
    for part in document["control_unit"]["part_sets"]:
        part["left_out"] = [zone["id"] for zone in document["control_unit"]["zones"] if draw.random() < 0.5]
    for zone in document["control_unit"]["zones"]:
        zone["function"] = "at_once" if zone["function"] == "entry_exit" and draw.random() < 0.5 else zone["function"]
    document["control_unit"]["times"] |= {"entry_s": 8.0, "siren_s": 3600.0, "doors": []}
    document["messages"]["messages"] = []
    document["log"]["tests"] = []
    return Home.model_validate(document)


@cache
def sample() -> tuple[Home, ...]:
    """Two small homes as they are or made worse; the whole count adds more."""
    more = [worse(made(), seed) for made in HOMES for seed in range(1, 5)] if WHOLE else []
    return (drawn_home(), worse(wintry_home(), 1), *more)


def open_in(home: Home) -> Counter[tuple[str, str, str]]:
    """What the quick checks find, of the home read as a file is read: nothing of it is kept from before."""
    fresh = assess(Home.model_validate_json(home.model_dump_json()))
    return Counter((f.id, f.subject, f.verdict.value) for f in fresh.findings if f.is_open and f.id in QUICK)


def fixed(home: Home, findings: list[Finding]) -> Home | None:
    """The home with the remedies of these findings entered."""
    known = {repr(c.edits): c for f in findings if (r := remedy_of(home, f)) is not None for c in r.changes}
    return changed(home, known.values()) if known else None


def test_a_gain_is_what_a_fresh_assessment_of_the_edited_home_says() -> None:
    """Each cause of each home: what goes, what was open, and what comes; every kind of fix but few is met."""
    met: set[str] = set()
    for home in sample():
        facts, before = Facts(home), open_in(home)
        for gap in ranked(assess(facts).findings):
            findings = [gap.first, *gap.others]
            made = fixed(home, findings)
            gain = gain_of(facts, [r for f in findings if (r := remedy_of(home, f)) is not None])
            assert (gain is None) == (made is None)
            if gain is None or made is None:
                continue
            after = open_in(made)
            assert gain.before == before.total()
            assert gain.taken == (before - after).total()
            assert Counter((f.id, f.subject, f.verdict.value) for f in gain.new).keys() == (after - before).keys()
            met |= {finding.id for finding in findings} if gain.taken else set()
        assert facts.home is home
    assert len(met) >= 14, sorted(met)
    assert {"times.in_time", "household_alarms.in_every_bedroom", "test_walk.not_tested"} <= met


def test_each_step_says_what_it_gains_and_no_more() -> None:
    """Five at most; where nothing was entered on a copy, nothing is claimed of it."""
    for home in sample():
        facts = Facts(home)
        gaps = ranked(assess(facts).findings)
        steps = next_steps(facts, gaps)
        assert [step.gap for step in steps] == list(gaps[:MOST])
        for step in steps:
            told = gained(step)
            assert ("On a copy with" in told) == (step.gain is not None)
            assert ("was not worked out" in told) == (step.gain is None)
            assert step.gain is None or (step.done and f"{step.gain.taken} of {step.gain.before} open" in told)


def is_there(here: Any, at: tuple[str, ...]) -> bool:
    """Whether a path leads to a field or an element, as far as the home holds parts on the way."""
    if not at or here is None:
        return True
    name, rest = at[0], at[1:]
    if isinstance(here, tuple):
        found = [item for item in here if name in (getattr(item, "id", ""), getattr(item, "zone", ""))]
        return len(found) == 1 and is_there(found[0], rest)
    return name in type(here).model_fields and is_there(getattr(here, name), rest)


def test_each_step_leads_to_a_field_of_the_home() -> None:
    """So that a form can open it; of each cause, in homes that are not in order."""
    for home in sample():
        facts = Facts(home)
        gaps = ranked(assess(facts).findings)
        for first in range(0, len(gaps), MOST):
            for step in next_steps(facts, gaps[first:]):
                assert is_there(home, step.at), step.at


def test_the_record_tells_the_first_cause_with_its_gain_and_page() -> None:
    """A home in which nothing is open says so."""
    home = drawn_home()
    told = plain_blocks(do_next.build(Context(home, assess(home), Share.OWNER, "")))
    assert told.startswith("1. MUST FIX: “Back door”")
    assert "On a copy with a lock that opens without a key, 1 of" in told
    nothing = Context(home, Assessment(), Share.OWNER, "")
    assert plain_blocks(do_next.build(nothing)) == NOTHING


def test_every_group_of_checks_has_its_page() -> None:
    """A group that is added does not silently fall to another page."""
    placed = [group for groups in PAGES.values() for group in groups]
    groups = {check.id.partition(".")[0] for check in CHECKS} | {"proof"}
    assert len(placed) == len(set(placed))
    assert groups <= set(placed)
    assert page_of(Finding("proof.breached", "x", Verdict.SHOULD, "x")) == "08_proof"


def test_a_step_of_the_proof_names_the_page_that_searches() -> None:
    """No quick check can say what a fix of a breach gains."""
    (gap,) = ranked([Finding("proof.breached", "x", Verdict.SHOULD, "x", cause="proof.pairs")])
    assert gained(NextStep(gap, ())) == "It concerns one finding. Page 08 searches for fixes, and tries each on a copy."
