"""What a proof that was run earlier says: a finding for each property that does not hold."""

from collections.abc import Iterator
from dataclasses import replace

from alarmlib.checks.check import note, ok, should
from alarmlib.checks.finding import Finding
from alarmlib.model import Home
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.readiness import unready
from alarmlib.proof.report.verdicts import Proof, ProofVerdict, Proved

_RUN = "Run the proof on page 08."
_REMEDIES = {
    ProofVerdict.BREACHED: "Read how it fails on page 08, and try a fix there.",
    ProofVerdict.NOT_SETTLED: "Read on page 08 why it is not settled. Until it is, treat it as not proved.",
}

_MORE = "Give the proof more time or memory on page 08, and run it again. Until it is settled, treat it as not proved."


def kept_findings(home: Home, kept: KeptProof) -> Iterator[Finding]:
    """A `should` for each property that does not hold; a note when the proof was never run or is out of date."""
    if kept.proof is None:
        if not unready(home):
            yield _named("never_run", note("proof", kept.problem or "The proof was never run.", _RUN, "computed"))
    elif not kept.fresh:
        told = "The proof was worked out for an earlier state of this home and says nothing about the present one."
        yield _named("out_of_date", note("proof", told, _RUN, "computed"))
    else:
        yield from _said(kept.proof)


def _said(proof: Proof) -> Iterator[Finding]:
    held = sum(each.verdict is ProofVerdict.HOLDS for each in proof.properties)
    for each in proof.properties:
        if each.verdict is not ProofVerdict.HOLDS:
            only = f" {each.why}" if each.verdict is ProofVerdict.BREACHED and each.why else ""
            message = f"{each.verdict.text.capitalize()}: {each.sentence}{only}"
            remedy = _MORE if each.too_large else _REMEDIES[each.verdict]
            open_one = should(_subject(each), message, remedy, "computed")
            yield replace(_named(each.verdict.value, open_one), cause=_cause(each))
    if held:
        told = f"{held} of {len(proof.properties)} properties were proved on paper, within the proof's assumptions."
        yield _named("holds", ok("proof", told, "computed"))


def _subject(proved: Proved) -> str:
    """What the property is about: the last word of its id."""
    return proved.id.rpartition("/")[2]


def _cause(proved: Proved) -> str:
    """Its rule: a property that fails in many sets, or for many pairs of habits, mostly fails for one reason."""
    kind, *about = proved.id.split("/")
    rule = about[0] if kind == "unit" and about else kind
    return f"proof.{'pairs' if rule == 'pair' else rule}"


def _named(name: str, finding: Finding) -> Finding:
    return replace(finding, id=f"proof.{name}")
