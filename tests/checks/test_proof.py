"""What the assessment says of a proof that was kept."""

from dataclasses import replace

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Verdict
from alarmlib.model import Home
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.proof.report.verdicts import Proof
from alarmlib.record.produce import demo_home


def said(home: Home, kept: KeptProof | None) -> list[tuple[str, Verdict]]:
    """The findings about the proof."""
    found = assess(home, proof=kept).findings
    return [(finding.id, finding.verdict) for finding in found if finding.id.startswith("proof.")]


def test_not_asked__no_sentence_comes() -> None:
    """Whoever assesses without a kept proof hears nothing of it, and it is not run."""
    assert said(demo_home(), None) == []


def test_never_run__a_note_when_the_home_is_ready() -> None:
    """A blank home isn't told to prove itself; one that is ready is."""
    assert said(demo_home(), NEVER_RUN) == [("proof.never_run", Verdict.NOTE)]
    assert said(Home(), NEVER_RUN) == []


def test_out_of_date__only_that(hand_proof: Proof) -> None:
    """An old proof says nothing of the present home."""
    assert said(demo_home(), KeptProof(hand_proof, fresh=False)) == [("proof.out_of_date", Verdict.NOTE)]


def test_fresh__a_should_for_each_that_does_not_hold(hand_proof: Proof) -> None:
    """Breached and not settled ones are to be fixed; what holds is counted once."""
    assert said(demo_home(), KeptProof(hand_proof, fresh=True)) == [
        ("proof.breached", Verdict.SHOULD),
        ("proof.not_settled", Verdict.SHOULD),
        ("proof.holds", Verdict.OK),
    ]
    found = {finding.id: finding for finding in assess(demo_home(), proof=KeptProof(hand_proof, True)).findings}
    assert found["proof.breached"].message == "Breached: Siren or message before the bedrooms, in Night."
    assert found["proof.breached"].subject == "night"
    assert found["proof.holds"].message.startswith("1 of 3 properties")


def test_all_hold__nothing_to_fix(hand_proof: Proof) -> None:
    """A proof in which all holds leaves one line."""
    kept = KeptProof(replace(hand_proof, properties=hand_proof.properties[:1]), True)
    assert said(demo_home(), kept) == [("proof.holds", Verdict.OK)]
