"""What a picture cell shows: pictures and tables of the record's sections, the drafts."""

from collections.abc import Callable, Sequence

from alarmlib.model.home import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import NO_DATE, section_blocks, title_of
from alarmlib.pages.assessed import assessed, facts_of
from alarmlib.pages.first_sight import MOST_BESIDE, MOST_LINES, called, counted, split
from alarmlib.pages.proved import kept_here
from alarmlib.proof.report.verdicts import Proof, ProofVerdict
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.cable_plan import cable_pictures
from alarmlib.record.context import Context
from alarmlib.record.counterexample_blocks import SIGNS, counterexample_title, counterexamples, one_counterexample
from alarmlib.record.markup import block_html, plain
from alarmlib.record.proof_blocks import (
    assumption_blocks,
    fault_blocks,
    state_blocks,
    verdict_blocks,
)
from alarmlib.record.wording import Say, reworded
from alarmlib.rules import say_of

MOST_OPEN_ROWS = 12
FOLDED = {
    "answer-settings": "Show the settings",
    "answer-assumptions": "Show the assumptions",
    "answer-cautions": "Show the cautions",
}
"""Answers that are long and read once: behind one line."""
MOST_DRAWN_HERE = 12  # counterexamples with pictures on a page: a message to the browser has a limit


def drawn(home: Home, name: str) -> str:
    """The picture of that name with its table, as HTML."""
    if name in PROVED:
        return proof_html(home, name)
    blocks = _cable_plan(home) if name == "cable_plan" else section_blocks(home, name)
    title = "Plan of the cables" if name == "cable_plan" else title_of(name)
    nothing = (Text(("There is nothing to draw yet.",)),)
    return first_sight_html(name, blocks or nothing, say_of(home), title, MOST_BESIDE)


def _cable_plan(home: Home) -> tuple[Block, ...]:
    said = assessed(home)
    with facts_of(home) as facts:
        return cable_pictures(Context(home, said, Share.OWNER, NO_DATE, facts=facts))


def counterexamples_html(context: Context, proof: Proof) -> str:
    """Each counterexample folded under its heading; the first dozen are drawn, the others told."""
    parts, say = [], say_of(context.home)
    for number, proved in enumerate(counterexamples(proof), 1):
        blocks = one_counterexample(context, number, proved, number <= MOST_DRAWN_HERE)
        parts.append(
            folded_html(
                say(counterexample_title(number, proved)), blocks_html(f"story-{number}", [*blocks], say), opened=False
            )
        )
    return "".join(parts)


def folded_html(title: str, inner: str, opened: bool) -> str:
    """HTML folded under a title, which is escaped."""
    return f"<details{' open' if opened else ''}><summary>{plain(title)}</summary>{inner}</details>"


def proof_html(home: Home, name: str) -> str:
    """One of the proof's pictures: what comes before any result, then its blocks."""
    kept, say = kept_here(home), say_of(home)
    blocks = [*state_blocks(kept)] if name == "proof_table" or kept.proof is None or not kept.fresh else []
    if kept.proof is not None:
        context = Context(home, assessed(home), Share.OWNER, NO_DATE)
        if name == "proof_stories" and counterexamples(kept.proof):
            cases = counterexamples_html(context, kept.proof)
            count = len(counterexamples(kept.proof))
            title = "Show how it fails" if count == 1 else f"Show {count} cases of how it fails"
            return first_sight_html(name, blocks, say, PROVED[name][0]) + folded_html(say(title), cases, opened=False)
        blocks += PROVED[name][1](context, kept.proof) or [Text((PROVED[name][2],))]
    if name == "proof_table" and kept.proof is not None:  # the check before it says the same
        return folded_html(say("Show all that was found, as tables"), blocks_html(name, blocks, say), opened=False)
    return first_sight_html(name, blocks, say, PROVED[name][0])


def first_sight_html(name: str, blocks: Sequence[Block], say: Say, title: str, most: int = MOST_LINES) -> str:
    """The verdict and what is open; the rest folded below it, behind the title where nothing else names it.

    What is read once is folded whole.
    """
    if name in FOLDED:
        return blocks_html(name, blocks, say)
    shown, rest = split(counted(blocks), most)
    words = called(rest) if shown else f"{title}: {called(rest).lower()}"
    told = blocks_html(name, shown, say)
    return told + (folded_html(say(words), blocks_html(f"{name}-rest", rest, say), False) if rest else "")


def blocks_html(name: str, blocks: Sequence[Block], say: Say) -> str:
    """The blocks in their country's words; long tables are folded under their caption, open where something fails."""
    parts = []
    for number, block in enumerate(reworded(each, say) for each in blocks):
        html = block_html(block, f"{name}-{number}")
        if isinstance(block, Table) and len(block.rows) >= MOST_OPEN_ROWS:
            html = folded_html(block.caption, html, SIGNS[ProofVerdict.BREACHED] in block.caption)
        parts.append(html)
    return folded_html(say(FOLDED[name]), "".join(parts), False) if name in FOLDED else "".join(parts)


PROVED: dict[str, tuple[str, Callable[[Context, Proof], list[Block]], str]] = {
    "proof_table": (
        "What was found",
        lambda context, proof: [*assumption_blocks(proof), *verdict_blocks(context, proof)],
        "There is nothing to show.",
    ),
    "proof_stories": (
        "How it fails, step by step",
        lambda _context, _proof: [],
        "There is nothing to tell: no property is breached.",
    ),
    "proof_faults": ("Single points of failure", lambda _, proof: [*fault_blocks(proof)], "No fault was tried."),
}
"""The proof's pictures: the title, the blocks, and the words when there are none."""
