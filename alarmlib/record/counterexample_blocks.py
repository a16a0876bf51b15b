"""Counterexamples: in time, on the plans, and step by step as a table that says the same."""

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from alarmlib.proof.report.verdicts import Beat, Proof, ProofVerdict, Proved
from alarmlib.record.blocks import Block, Picture, Subheading, Table, Text, apart
from alarmlib.record.context import Context
from alarmlib.record.counterexample_timeline import counterexample_timeline
from alarmlib.record.floor_plan import PlacedStep, drawn_rooms, floor_plan, marks
from alarmlib.record.markup import plain_text

SIGNS = {
    ProofVerdict.BREACHED: "✖",
    ProofVerdict.NOT_SETTLED: "▲",
    ProofVerdict.HOLDS: "✔",
}  # in the order of their weight
MOST_DRAWN, MOST_TOLD = 2, 8  # cases drawn, and told step by step, in a record; a page shows them all
_LABELS = {
    "margin_of": "left of",
    "set": "how it is set",
    "played_s": "worst found",
    "most_s": "never more than",
    "unbroken_s": "without a break",
    "limit_s": "limit of one alarm",
    "limit_hour_s": "limit in an hour",
}
_NOBODY_IN = {"set_full": "nobody in"}
_ID = re.compile(r"\b[a-z0-9]+(?:_[a-z0-9]+)*\b")
_SENTENCE = re.compile(r"(?<=\.) ")


def cell(sentence: str) -> str:
    """A sentence as it is written in a cell or heading, without its full stop."""
    return apart(sentence).removesuffix(".")


def counterexamples(proof: Proof) -> tuple[Proved, ...]:
    """The properties that have a counterexample, in the order of their numbers."""
    return tuple(each for each in proof.properties if each.counterexample)


def counterexample_title(number: int, proved: Proved) -> str:
    """The heading of a counterexample: its number, the verdict, and the first sentence of what was to be shown."""
    first = cell(proved.sentence.partition(". ")[0])
    return f"Case {number}: {SIGNS[proved.verdict]} {proved.verdict.text}: {first}"


def worst_words(context: Context, proved: Proved) -> str:
    """The worst case in words: names in place of ids, seconds with their unit, and why something is not settled."""
    told = [f"{_label(name)}: {_shown(context, name, value)}" for name, value in proved.worst.items()]
    return ". ".join(filter(None, ("; ".join(told), cell(proved.why))))


def _label(name: str) -> str:
    return _LABELS.get(name, name.removesuffix("_s").replace("_", " "))


def _shown(context: Context, name: str, value: str) -> str:
    if name.endswith("_s"):
        return f"{value} s"
    return ", ".join(_NOBODY_IN.get(each, context.any_name(each)) for each in map(str.strip, value.split(",")))


def counterexample_blocks(context: Context, proof: Proof, whole: bool = True) -> Iterator[Block]:
    """Each counterexample under its heading.

    Unless `whole`, only the first are drawn, some more are told by their table, and the others counted.
    """
    found = counterexamples(proof)
    for number, proved in enumerate(found if whole else found[:MOST_TOLD], 1):
        yield Subheading(counterexample_title(number, proved))
        yield from one_counterexample(context, number, proved, whole or number <= MOST_DRAWN)
    if not whole and len(found) > MOST_TOLD:
        yield Text((f"Not shown here: {len(found) - MOST_TOLD}. Page 08 shows every case.",))


def one_counterexample(context: Context, number: int, proved: Proved, drawn: bool = True) -> Iterator[Block]:
    """The pictures and the table of one counterexample, or its table alone."""
    if worst := worst_words(context, proved):
        yield Text((f"{worst[:1].upper()}{worst[1:]}.",))
    counterexample = tuple(_news(context, proved.counterexample))
    table = _step_by_step(context, number, counterexample)
    if not drawn:
        yield table
        return
    device_marks = {name: mark for (kind, name), mark in marks(context.home).items() if kind == "device"}
    yield Picture(
        f"Case {number} over time",
        "Numbered steps are on a line of seconds. Steps close in time are side by side. Under them are the "
        "marks of the devices that trip, the state of the control unit and what it does.",
        counterexample_timeline(counterexample, device_marks),
        table,
    )
    yield from _on_plans(context, number, counterexample)


def _news(context: Context, counterexample: tuple[Beat, ...]) -> Iterator[Beat]:
    """The beats with names in place of ids, and of each state only the sentences that the beat before did not have."""
    before: list[str] = []
    for beat in counterexample:
        now = _SENTENCE.split(_names_for_ids(context, beat.state))
        yield replace(beat, state=" ".join(each for each in now if each not in before))
        before = now


def _names_for_ids(context: Context, state: str) -> str:
    """A state of the unit as people read it: its areas, zones and part sets by name."""
    unit = context.home.control_unit
    lists: dict[str, tuple[Any, ...]] = {"zone": unit.zones, "part set": unit.part_sets, "area": unit.areas}
    names = {each.id: plain_text(context.name(kind, each.id)) for kind, all_ in lists.items() for each in all_}
    return _ID.sub(lambda word: names.get(word[0], word[0]), state)


def _step_by_step(context: Context, number: int, counterexample: tuple[Beat, ...]) -> Table:
    rows = tuple(_beat_row(context, step, beat) for step, beat in enumerate(counterexample, 1))
    header = ("Step", "Second", "Who", "Where", "What trips", "Control unit (blank: as before)", "What it does")
    return Table(f"Case {number}, step by step", header, rows, frozenset({1}))


def _beat_row(context: Context, step: int, beat: Beat) -> tuple[str, ...]:
    tripped = [context.name("device", each) for each in beat.devices]
    zones = f"zone {', '.join(context.name('zone', each) for each in beat.zones)}" if beat.zones else ""
    trips = f"{', '.join(tripped)} ({zones})" if tripped and zones else ", ".join(tripped) or zones
    who, place = context.any_name(beat.who), context.any_name(beat.place)
    return str(step), str(beat.at_s), who, place, trips, cell(beat.state), cell(beat.output)


def _on_plans(context: Context, number: int, counterexample: tuple[Beat, ...]) -> Iterator[Picture]:
    for storey in sorted(context.home.site.storeys, key=lambda each: each.level):
        steps = _steps(counterexample, storey.id)
        if not steps or not drawn_rooms(context.home, storey.id):
            continue
        name = context.name("storey", storey.id)
        rows = tuple(
            (
                _span(step),
                context.any_name(counterexample[step.first - 1].place),
                f"{step.at[0]:.1f} m, {step.at[1]:.1f} m",
            )
            for step in steps
        )
        yield Picture(
            f"Case {number} on the plan: {name}",
            "White numbers on black are the steps, joined by dashed strokes (not the way walked); all other marks "
            "are those of the plans.",
            floor_plan(context.home, storey.id, steps),
            Table(f"Where the steps are: {name}", ("Step", "Where", "On the plan, right and up"), rows),
        )


def _steps(counterexample: tuple[Beat, ...], storey: str) -> list[PlacedStep]:
    """The steps on one storey; those of one mover who stays in one place are one."""
    found: list[PlacedStep] = []
    for n, beat in enumerate(counterexample, 1):
        if beat.at is None or beat.storey != storey:
            continue
        last = found[-1] if found else None
        if last and last.last == n - 1 and last.at == beat.at and counterexample[n - 2].who == beat.who:
            found[-1] = replace(last, last=n)
        else:
            found.append(PlacedStep(n, n, beat.at))
    return found


def _span(step: PlacedStep) -> str:
    return str(step.first) if step.first == step.last else f"{step.first} to {step.last}"
