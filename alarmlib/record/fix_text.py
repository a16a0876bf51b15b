"""What a search for fixes came to, as plain text and as a document: what the command `prove --fixes` prints."""

from collections.abc import Iterator, Mapping
from typing import Any

from alarmlib.model.home import Home
from alarmlib.proof.repairs.cheapest import ALL, Repair, Sought
from alarmlib.proof.report.verdicts import Proof, ProofVerdict
from alarmlib.units import Kind, show


def fixes_text(home: Home, proof: Proof, sought: Sought, patience: int) -> str:
    """The fixes, the cheapest first; what has none, or none so far, and how to look further."""
    sentences = {each.id: each.sentence for each in proof.properties} | {ALL: "All of these at once:"}
    return "\n".join(_lines(home, sentences, sought, patience))


def _lines(home: Home, sentences: Mapping[str, str], sought: Sought, patience: int) -> Iterator[str]:
    yield "Fixes, the cheapest first" if sought.repairs else "No fix was found."
    for number, repair in enumerate(sought.repairs, 1):
        yield f"{number}. {repair.sentence} Cost: {show(repair.cost, Kind.MONEY, home.units)}."
        yield from (f"   It ends: {sentences[name]}" for name in repair.repairs)
        yield f"   {_held(repair.proof)}"
        yield from (f"   Then look at this: {each}" for each in repair.brings)
    if sought.unrepaired:
        yield "Without a fix"
        yield from (f"- {sentences[each.id]} {each.sentence}" for each in sought.unrepaired)
    if sought.left is not None:
        yield f"To look further, run this again with --fixes {2 * patience}."


def _held(proof: Proof) -> str:
    hold = sum(each.verdict is ProofVerdict.HOLDS for each in proof.properties)
    return f"Then {hold} of {len(proof.properties)} properties hold."


def fixes_document(sought: Sought) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "found": [_as_values(repair) for repair in sought.repairs],
        "not_found": [{"property": each.id, "why": each.sentence} for each in sought.unrepaired],
        "looked_everywhere": sought.left is None,
    }


def _as_values(repair: Repair) -> dict[str, Any]:
    return {
        "sentence": repair.sentence, "cost": repair.cost,
        "ends": list(repair.repairs), "still_open": list(repair.still_open),
        "then_look_at": list(repair.brings),
    }  # fmt: skip
