"""The front tells how the home is today: the proof, what was never tested, who may not wake."""

from dataclasses import replace
from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.proof.report.verdicts import Proof, Proved
from alarmlib.proof.report.verdicts import ProofVerdict as Found
from alarmlib.proof.search.budget import OverBudget, RanOut, gone_through
from alarmlib.record.context import Context
from alarmlib.record.plain import plain_blocks
from alarmlib.record.sections.front.summary import summary

DATE = "2026-11-25"
FOUND = (Found.BREACHED, Found.BREACHED, Found.NOT_SETTLED, Found.HOLDS)


def front(home: Home, kept: KeptProof = NEVER_RUN, findings: tuple[Finding, ...] = ()) -> str:
    """The front of the owner's copy as text."""
    context = Context(home, Assessment(findings=findings), Share.OWNER, DATE, kept=kept)
    return plain_blocks(summary.build(context)).replace("\u2068", "").replace("\u2069", "")


def proof() -> Proof:
    """A proof of four properties, two of them breached."""
    properties = tuple(Proved(f"p/{n}", f"Property {n}.", verdict) for n, verdict in enumerate(FOUND))
    return Proof("demo", properties=properties)


def test_the_proof_is_counted(home: Home) -> None:
    """The number breached and not settled is beside the findings; an old proof counts for nothing."""
    fresh = KeptProof(proof(), fresh=True)
    assert "The proof on paper, of 4 properties: 2 breached, 1 not settled, 1 holds." in front(home, fresh)
    assert "out of date, so nothing is proved of the home as it is" in front(home, replace(fresh, fresh=False))
    assert "never run, so nothing is proved" in front(home)


def test_what_is_too_large_is_counted(home: Home) -> None:
    """Apart from what else is not settled, in the sentence on the proof; nothing of it sounds as if it held."""
    large = Proved("p/5", "Property 5.", Found.NOT_SETTLED, why=gone_through(OverBudget(RanOut.TIME), "all", "none"))
    told = front(home, KeptProof(replace(proof(), properties=(*proof().properties, large)), fresh=True))
    assert (
        "of 5 properties: 2 breached, 2 not settled, 1 holds. One property is too large to be searched whole with"
        in told
    )
    more = replace(proof(), properties=(large, large))
    assert "2 properties are too large to be searched whole" in front(home, KeptProof(more, fresh=True))
    assert "too large" not in front(home, KeptProof(proof(), fresh=True))


def test_what_was_never_tested_is_named(facts: dict[str, Any]) -> None:
    """Control unit, keypad and siren count as well as detectors; what is only planned is counted apart."""
    for device in facts["devices"]:
        device["state"] = "planned" if device["id"] == "smoke" else "fitted"
    home = Home.model_validate(facts)
    told = front(home)
    assert "Fitted and never tested: Keypad, Control unit, Siren." in told
    assert "Planned and not fitted yet: 1 device." in told
    said = {f.subject for f in assess(home).findings if f.id == "test_walk.not_tested"}
    assert said == {"keypad", "unit", "siren"}


def test_all_tested_is_written_only_when_all_are(facts: dict[str, Any]) -> None:
    """One device more without a test takes the sentence away, on the front and among the findings."""
    tests = [{"id": f"all_{d['id']}", "device": d["id"], "seen": "as_expected"} for d in facts["devices"]]
    for device in facts["devices"]:
        device["state"] = "fitted"
    facts["log"] = {"tests": tests}
    home = Home.model_validate(facts)
    assert "Every fitted device has a test in the log" in front(home)
    assert any(f.id == "test_walk.not_tested" and f.verdict is Verdict.OK for f in assess(home).findings)
    less = home.model_copy(update={"log": home.log.model_copy(update={"tests": home.log.tests[:-1]})})
    assert "Every fitted device" not in front(less)
    assert "Siren" in front(less)
    assert not any(f.id == "test_walk.not_tested" and f.verdict is Verdict.OK for f in assess(less).findings)


@pytest.mark.parametrize(
    ("fact", "why"),
    [("hard_of_hearing", "is hard of hearing"), ("deep_sleeper", "sleeps deeply"), ("", "")],
)
def test_who_may_not_wake_is_named(fact: str, why: str, facts: dict[str, Any]) -> None:
    """Nobody reads that an alarm wakes somebody who hears badly or sleeps deeply."""
    people = [facts["household"]["people"][0] | ({fact: True} if fact else {})]
    told = front(Home.model_validate(facts | {"household": facts["household"] | {"people": people}}))
    assert (f"{why}. Nothing in this record says that it wakes them." in told) == bool(why)


def test_nothing_that_must_be_fixed_is_no_all_clear(home: Home) -> None:
    """The line points back at what is open above it; a finding that must be fixed is told in its place."""
    assert "No check found anything that must be fixed. That does not answer for the lines above." in front(home)
    heavy = Finding("x.y", "back", Verdict.MUST, "The kitchen door has no contact.", "Fit one.", "owner")
    assert "No check found anything" not in front(home, findings=(heavy,))
    assert "The kitchen door has no contact." in front(home, findings=(heavy,))


def test_no_finding_of_the_demo_home_says_that_an_alarm_wakes(demo: Home) -> None:
    """Of the rooms of the hard of hearing and the deep asleep it says that a level alone does not."""
    said = [f.message for f in assess(demo).findings if f.id == "sound.at_the_pillow"]
    assert not any("wake in a fire" in message for message in said)
    assert sum("a level alone does not say that they wake" in message for message in said) == 2
