"""A proof as blocks: assumptions, verdicts, stories with their pictures, what each fault opens."""

from collections import Counter
from collections.abc import Iterator

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.proof.kept import KeptProof
from alarmlib.proof.verdicts import Beat, FaultRow, Hole, Proof, Proved, Verdict
from alarmlib.record.blocks import Block, Bullets, Caution, Heading, Picture, Table, Text, apart
from alarmlib.record.context import Context
from alarmlib.record.floor_plan import drawn_rooms, floor_plan, marks
from alarmlib.record.plain import plain_blocks
from alarmlib.record.story_timeline import story_timeline
from alarmlib.units import Kind, show

SIGNS = {Verdict.BREACHED: "✖", Verdict.NOT_SETTLED: "▲", Verdict.HOLDS: "✔"}  # in the order of their weight
OTHERS = "The control unit"
GROUPS = {
    "Somebody comes in": ("noticed_first", "sounds_in_time", "sounds_first", "beside"),
    "Everyday life": ("habit", "pairs", "pair"),
    "Setting and unsetting": ("left_out_shown",),
    OTHERS: (),
}  # titles of the tables, and the kinds of properties (the first word of their ids) in each
_LABELS = {
    "margin_of": "left of",
    "played_s": "worst found",
    "most_s": "never more than",
    "unbroken_s": "without a break",
    "limit_s": "limit of one alarm",
    "limit_hour_s": "limit in an hour",
}
MOST_DRAWN, MOST_TOLD = 3, 8  # stories drawn, and told step by step, in a record; a page draws them all
MOST_HOLES = 3  # told of one fault; the rest are counted
CAUTION = Caution(
    "A proof on paper is no promise. It speaks only of what was computed, and only within what is assumed below. "
    "Walk through every room and test every device before you rely on it, and again after each change.",
    "practice",
)
NEVER = "The proof of this home was never run. Run it on the page about the proof, or with the command “prove”."
OUT_OF_DATE = (
    "OUT OF DATE: the home, or the library, has changed since this was worked out. Run the proof again; "
    "until then nothing below is claimed of the home as it is."
)


def state_blocks(kept: KeptProof) -> tuple[Block, ...]:
    """What stands before any result: the caution, and whether the proof was run and still speaks of the home."""
    said = [kept.trouble] if kept.trouble else []
    if kept.proof is None:
        said.append(NEVER)
    elif not kept.fresh:
        said.append(OUT_OF_DATE)
    return (CAUTION, *((Text(tuple(said)),) if said else ()))


def assumption_blocks(proof: Proof) -> Iterator[Block]:
    """What the claims stand on, and what they do not cover."""
    yield Heading("What is assumed")
    yield Bullets(tuple(apart(each.sentence) for each in proof.assumptions) or ("Nothing beyond the facts entered.",))
    if proof.not_covered:
        yield Heading("What is not covered")
        yield Bullets(tuple(map(apart, proof.not_covered)))


def verdict_blocks(context: Context, proof: Proof) -> Iterator[Block]:
    """The counts in a sentence, and a row a property: what fails first."""
    counts = {verdict: sum(each.verdict is verdict for each in proof.properties) for verdict in SIGNS}
    told = ", ".join(f"{count} {SIGNS[verdict]} {verdict.text}" for verdict, count in counts.items() if count)
    yield Text((f"Of {len(proof.properties)} properties: {told}. {proof.states:,} situations were gone through.",))
    for title in GROUPS:
        rows = tuple(
            (_cell(each.sentence), f"{SIGNS[verdict]} {verdict.text}", worst_words(context, each))
            for verdict in SIGNS
            for each in proof.properties
            if each.verdict is verdict and _group(each) == title
        )
        if rows:
            yield Table(title, ("Property", "Found", "Worst case"), rows)


def _group(proved: Proved) -> str:
    kind = proved.id.partition("/")[0]
    return next((title for title, kinds in GROUPS.items() if kind in kinds), OTHERS)


def worst_words(context: Context, proved: Proved) -> str:
    """The worst case in words: names in place of ids, seconds with their unit, and why something isn't settled."""
    told = [f"{_label(name)}: {_shown(context, name, value)}" for name, value in proved.worst.items()]
    return ". ".join(filter(None, ("; ".join(told), _cell(proved.why))))


def _cell(sentence: str) -> str:
    """A sentence as it stands in a cell or heading, without its full stop."""
    return apart(sentence).removesuffix(".")


def _label(name: str) -> str:
    return _LABELS.get(name, name.removesuffix("_s").replace("_", " "))


def _shown(context: Context, name: str, value: str) -> str:
    if name.endswith("_s"):
        return f"{value} s"
    return ", ".join(context.any_name(each.strip()) for each in value.split(","))


def story_blocks(context: Context, proof: Proof, whole: bool = True) -> Iterator[Block]:
    """Each story of what fails: in time, on the plans, and as a table that says the same.

    Unless `whole`, only the first stories are drawn, some more are told by their table, and the others counted.
    """
    stories = [each for each in proof.properties if each.story]
    for number, proved in enumerate(stories if whole else stories[:MOST_TOLD], 1):
        first = _cell(proved.sentence.partition(". ")[0])
        yield Heading(f"Story {number}: {SIGNS[proved.verdict]} {proved.verdict.text}: {first}")
        if whole or number <= MOST_DRAWN:
            yield _in_time(context, number, proved.story)
            yield from _on_plans(context, number, proved.story)
        else:
            yield _step_by_step(context, number, proved.story)
    if not whole and len(stories) > MOST_TOLD:
        yield Text((f"Not told here: {len(stories) - MOST_TOLD}. The page about the proof draws every story.",))


def _in_time(context: Context, number: int, story: tuple[Beat, ...]) -> Picture:
    device_marks = {name: mark for (kind, name), mark in marks(context.home).items() if kind == "device"}
    return Picture(
        f"Story {number} in time",
        "Numbered steps over a line of seconds; steps close in time stand side by side. Under them the marks of the "
        "devices that trip, the state of the control unit and what it gives out.",
        story_timeline(story, device_marks),
        _step_by_step(context, number, story),
    )


def _step_by_step(context: Context, number: int, story: tuple[Beat, ...]) -> Table:
    rows = tuple(_beat_row(context, step, beat) for step, beat in enumerate(story, 1))
    header = ("Step", "Second", "Who", "Where", "What trips", "Control unit", "Gives out")
    return Table(f"Story {number}, step by step", header, rows, frozenset({1}))


def _beat_row(context: Context, step: int, beat: Beat) -> tuple[str, ...]:
    tripped = [context.name("device", each) for each in beat.devices]
    zones = f"zone {', '.join(context.name('zone', each) for each in beat.zones)}" if beat.zones else ""
    trips = f"{', '.join(tripped)} ({zones})" if tripped and zones else ", ".join(tripped) or zones
    who, place = context.any_name(beat.who), context.any_name(beat.place)
    return str(step), str(beat.at_s), who, place, trips, _cell(beat.state), _cell(beat.output)


def _on_plans(context: Context, number: int, story: tuple[Beat, ...]) -> Iterator[Picture]:
    for storey in sorted(context.home.site.storeys, key=lambda each: each.level):
        steps = [(n, beat.at) for n, beat in enumerate(story, 1) if beat.storey == storey.id and beat.at is not None]
        if not steps or not drawn_rooms(context.home, storey.id):
            continue
        name = context.name("storey", storey.id)
        rows = tuple((str(n), context.any_name(story[n - 1].place), f"{at[0]:.1f} m, {at[1]:.1f} m") for n, at in steps)
        yield Picture(
            f"Story {number} on the plan: {name}",
            "White numbers on black are the steps, joined by dashed strokes (not the way walked); all other marks "
            "are those of the plans.",
            floor_plan(context.home, storey.id, steps),
            Table(f"Where the steps are: {name}", ("Step", "Where", "On the plan, right and up"), rows),
        )


def fault_blocks(proof: Proof) -> Iterator[Block]:
    """Single points of failure: a row for each fault that opens something, the others named."""
    if not proof.faults:
        yield Text(("No fault was tried.",))
        return
    open_ones = [fault for fault in proof.faults if fault.holes]
    rows = tuple((_cell(fault.sentence), _announced(fault), _holes(fault)) for fault in open_ones)
    if rows:
        yield Table("What one fault alone opens", ("Fault", "Announced", "What no longer holds"), rows)
    others = [apart(fault.sentence) for fault in proof.faults if not fault.holes]
    if others:
        yield Text(("With any one of these faults alone, all that holds without a fault still holds:",))
        yield Bullets(tuple(others))


def _announced(fault: FaultRow) -> str:
    if not fault.announced:
        return "✖ no"
    if fault.after_s is None:
        return "✔ yes"
    return f"✔ yes, after {_time(fault.after_s)}" if fault.after_s else "✔ yes, at once"


def _holes(fault: FaultRow) -> str:
    """What no longer holds, each sentence once, and how long where that is not until the fault is announced."""
    told = Counter(_cell(hole.sentence) + _lasts(fault, hole) for hole in fault.holes)
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
    context = Context(home, Assessment(""), Share.OWNER, "")
    told = plain_blocks(proof_blocks(context, KeptProof(proof, fresh=True), whole=True))
    return f"{told}\nWorked out in {proof.seconds:g} s."


def proof_blocks(context: Context, kept: KeptProof, whole: bool = False) -> Iterator[Block]:
    """Everything of a proof in the order in which it is to be read; for the owner alone, as it shows blind spots.

    Unless `whole`, a long row of stories is cut, so that a record stays small.
    """
    assert context.sees(Share.OWNER)
    yield from state_blocks(kept)
    if kept.proof is None:
        return
    yield from assumption_blocks(kept.proof)
    yield Heading("What was found")
    yield from verdict_blocks(context, kept.proof)
    yield from story_blocks(context, kept.proof, whole)
    yield Heading("Single points of failure")
    yield from fault_blocks(kept.proof)
