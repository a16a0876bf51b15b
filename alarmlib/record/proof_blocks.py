"""A proof as blocks: assumptions, verdicts, counterexamples with their pictures, what each fault opens."""

from collections import Counter
from collections.abc import Iterator, Sequence

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import FaultRow, Hole, Proof, Proved, too_large_told
from alarmlib.record.blocks import Block, Bullets, Caution, Subheading, Table, Text, apart
from alarmlib.record.context import Context
from alarmlib.record.counterexample_blocks import SIGNS, cell, counterexample_blocks, counterexamples, worst_words
from alarmlib.record.plain import plain_blocks
from alarmlib.units import Kind, show

OTHERS = "The control unit"
GROUPS = {
    "Somebody comes in": ("noticed_first", "sounds_in_time", "sounds_first", "beside"),
    "Everyday life": ("habit", "pairs", "pair"),
    "Setting and unsetting": ("left_out_shown",),
    OTHERS: (),
}  # titles of the tables, and the kinds of properties (the first word of their ids) in each
MOST_HOLES = 3  # told of one fault; the rest are counted
CAUTION = Caution(
    "A proof on paper is no promise. It covers only what was computed, within the assumptions below. "
    "Walk through every room and test every device before you rely on it, and again after each change.",
    "practice",
)
NEVER = "The proof of this home was never run. Run it on the page about the proof, or with the command “prove”."
OUT_OF_DATE = (
    "OUT OF DATE: the home, or the library, has changed since this was worked out. Run the proof again; "
    "until then nothing below is claimed of the home as it is."
)


def state_blocks(kept: KeptProof) -> tuple[Block, ...]:
    """What comes before any result: the caution, and whether the proof was run and still speaks of the home."""
    said = [kept.problem] if kept.problem else []
    if kept.proof is None:
        said.append(NEVER)
    elif not kept.fresh:
        said.append(OUT_OF_DATE)
    return (CAUTION, *((Text(tuple(said)),) if said else ()))


def assumption_blocks(proof: Proof) -> Iterator[Block]:
    """What the claims take for granted, and what they do not cover."""
    yield Subheading("What is assumed")
    yield Bullets(tuple(apart(each.sentence) for each in proof.assumptions) or ("Nothing beyond the facts entered.",))
    if proof.not_covered:
        yield Subheading("What is not covered")
        yield Bullets(tuple(map(apart, proof.not_covered)))


def verdict_blocks(context: Context, proof: Proof) -> Iterator[Block]:
    """The counts in a sentence, and a row a property: what fails first."""
    counts = _counts(proof.properties)
    told = f"Of {len(proof.properties)} properties: {counts}. {proof.states:,} situations were gone through."
    yield Text(tuple(filter(None, (told, too_large_told(proof)))))
    numbers = {each.id: f"Case {number}" for number, each in enumerate(counterexamples(proof), 1)}
    for title in GROUPS:
        group = [each for each in proof.properties if _group(each) == title]
        rows = tuple(
            (
                cell(each.sentence),
                f"{SIGNS[each.verdict]} {each.verdict.text}",
                ". ".join(filter(None, (worst_words(context, each), numbers.get(each.id)))),
            )
            for each in sorted(group, key=lambda each: list(SIGNS).index(each.verdict))
        )
        if rows:
            yield Table(f"{title}: {_counts(group)}", ("Property", "Found", "Worst case"), rows)


def _counts(properties: Sequence[Proved]) -> str:
    """How many of each verdict, by sign and word: 2 ✖ breached, 5 ✔ holds."""
    counts = {verdict: sum(each.verdict is verdict for each in properties) for verdict in SIGNS}
    return ", ".join(f"{count} {SIGNS[verdict]} {verdict.text}" for verdict, count in counts.items() if count)


def _group(proved: Proved) -> str:
    kind = proved.id.partition("/")[0]
    return next((title for title, kinds in GROUPS.items() if kind in kinds), OTHERS)


def fault_blocks(proof: Proof) -> Iterator[Block]:
    """Single points of failure: a row for all faults that open just the same; those that open nothing are named."""
    if not proof.faults:
        yield Text(("No fault was tried.",))
        return
    open_ones = [fault for fault in proof.faults if fault.holes]
    alike: dict[str, list[FaultRow]] = {}
    for fault in open_ones:
        alike.setdefault(_holes(fault), []).append(fault)
    rows = tuple(("; ".join(map(_fault, faults)), holes) for holes, faults in alike.items())
    if rows:
        header = ("Any one of these faults, and whether it is announced", "What no longer holds")
        yield Table("What one fault alone opens", header, rows)
    others = [apart(fault.sentence) for fault in proof.faults if not fault.holes]
    if others:
        told = "With any one of these faults alone, all that holds without a fault still holds:"
        yield Text((f"{told} {'; '.join(each.removesuffix('.') for each in others)}.",))


def _fault(fault: FaultRow) -> str:
    return f"{cell(fault.sentence)} ({_announced(fault)})"


def _announced(fault: FaultRow) -> str:
    if not fault.announced:
        return "✖ not announced"
    if fault.after_s is None:
        return "✔ announced"
    return f"✔ announced after {_time(fault.after_s)}" if fault.after_s else "✔ announced at once"


def _holes(fault: FaultRow) -> str:
    """What no longer holds, each sentence once, and how long where that is not until the fault is announced."""
    told = Counter(cell(hole.sentence) + _lasts(fault, hole) for hole in fault.holes)
    lines = [words if count == 1 else f"{words} ({count} properties)" for words, count in told.items()]
    more = len(lines) - MOST_HOLES
    return "; ".join([*lines[:MOST_HOLES], *([f"and {more} more"] if more > 0 else [])])


def _lasts(fault: FaultRow, hole: Hole) -> str:
    if hole.lasts_s == fault.after_s:
        return ""
    return ", until somebody finds it" if hole.lasts_s is None else f", for {_time(hole.lasts_s)}"


def _time(seconds: int) -> str:
    return show(seconds, Kind.TIME, "metric")


def proof_text(home: Home, proof: Proof) -> str:
    """A proof just run, as plain text: what the command prints."""
    context = Context(home, Assessment(), Share.OWNER, "")
    told = plain_blocks(proof_blocks(context, KeptProof(proof, fresh=True), whole=True))
    return f"{told}\nWorked out in {proof.seconds:g} s."


def proof_blocks(context: Context, kept: KeptProof, whole: bool = False) -> Iterator[Block]:
    """Everything of a proof in the order in which it is to be read; for the owner alone, as it shows blind spots.

    Unless `whole`, a long row of counterexamples is cut, so that a record stays small.
    """
    assert context.sees(Share.OWNER)
    yield from state_blocks(kept)
    if kept.proof is None:
        return
    yield from assumption_blocks(kept.proof)
    yield Subheading("What was found")
    yield from verdict_blocks(context, kept.proof)
    yield from counterexample_blocks(context, kept.proof, whole)
    yield Subheading("Single points of failure")
    yield from fault_blocks(kept.proof)
