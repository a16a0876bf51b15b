"""Do this next: at most five causes, what each gains on a copy, and where it is entered."""

from collections.abc import Callable, Sequence

from alarmlib.checks.fixes.gains import Gain, NextStep, next_steps
from alarmlib.checks.fixes.where import page_of
from alarmlib.checks.ranking import Gap, ranked
from alarmlib.facts import Facts
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import KeptProof
from alarmlib.record.blocks import Block, Text, ToldStep, ToldSteps
from alarmlib.record.context import Context
from alarmlib.record.section import section
from alarmlib.record.sections.front.findings import touched
from alarmlib.record.sections.front.summary import proof_line

PageOf = Callable[[str], str | None]
NOTHING = "Nothing to fix was found in what you entered."


@section("next", "Do this next", level=Share.OWNER)
def do_next(context: Context) -> tuple[Block, ...]:
    """The first five causes that are open."""
    return step_blocks(context, ranked(context.assessment.findings, touched(context.kept)))


def step_blocks(context: Context, gaps: Sequence[Gap], page_of_field: PageOf | None = None) -> tuple[Block, ...]:
    """At most five of these causes as steps, linked where a page knows its fields; then what the last proof says."""
    if not gaps:
        return (Text((NOTHING,)),)
    facts = context.facts or Facts(context.judged)
    found = next_steps(facts, gaps)
    steps = tuple(_step(step, page_of_field) for step in found)
    tried = any(step.gain is not None for step in found)
    return (ToldSteps(steps, page_of_field is not None), *((Text((_of_the_proof(context.kept),)),) if tried else ()))


def _step(step: NextStep, page_of_field: PageOf | None) -> ToldStep:
    field = "/".join(step.at)
    known = page_of_field(field) if page_of_field and field else None
    page = known or page_of(step.gap.first)
    rows = step.gap.rows if page_of_field else ()  # the record tells them once, among its findings
    return ToldStep(step.gap.line, gained(step), page, field if known else "", rows)


def gained(step: NextStep) -> str:
    """What doing it gains, within what was worked out."""
    if step.gain is not None:
        return _computed(step.done, step.gain)
    count = 1 + len(step.gap.others)
    concerns = "It concerns one finding" if count == 1 else f"It concerns {count} findings"
    if step.gap.first.id.startswith("proof."):
        return f"{concerns}. Page 08 searches for fixes, and tries each on a copy."
    return f"{concerns}. What it gains was not worked out."


def _computed(done: str, gain: Gain) -> str:
    goes = f"{gain.taken} of {gain.before} open findings {'goes' if gain.taken == 1 else 'go'}"
    if not gain.new:
        return f"On a copy with {done}, {goes} and nothing new comes."
    count = "one new finding comes" if len(gain.new) == 1 else f"{len(gain.new)} new findings come"
    return f"On a copy with {done}, {goes} and {count}: {gain.new[0].message}"


def _of_the_proof(kept: KeptProof) -> str:
    return f"The quick checks judged the copies. No proof was run on them. {proof_line(kept)}"
