"""What is open: on the last page everything, on the others the causes of that page, each led by what to do next."""

from collections.abc import Sequence

from alarmlib.checks.fixes.gains import MOST
from alarmlib.checks.fixes.where import PAGES, page_of
from alarmlib.checks.home.readiness import rules_no_longer_offered
from alarmlib.checks.ranking import Gap, accepted, ranked
from alarmlib.facts import Facts
from alarmlib.model.home import Home
from alarmlib.model.words import Share
from alarmlib.pages import places
from alarmlib.pages.assessed import assessed, facts_of
from alarmlib.pages.proved import kept_here
from alarmlib.record.blocks import Block, Causes, Findings, Folded, Subheading, Text
from alarmlib.record.context import Context
from alarmlib.record.sections.front.findings import once_accepted, touched
from alarmlib.record.sections.front.next_steps import step_blocks


def next_blocks(home: Home) -> tuple[Block, ...]:
    """What to do next in the whole home, once there is something to look at."""
    if not home.site.rooms:
        return (Text(("What to fix first is told here once you have entered rooms.",)),)
    gaps = ranked(assessed(home).findings, touched(kept_here(home)))
    with facts_of(home) as facts:
        return step_blocks(_context(home, facts), gaps, places.page_of)


def open_blocks(home: Home, page: str = "") -> tuple[Block, ...]:
    """What is still to fix, a line a cause, of one page or of all; and what could still be entered."""
    assessment = assessed(home)
    rules = tuple(f for f in assessment.findings if f.id == rules_no_longer_offered.id)
    told = [f for f in assessment.findings if f not in rules]
    everything = ranked(told, touched(kept_here(home)))
    here = _of_page(everything, page)
    with facts_of(home) as facts:
        steps = step_blocks(_context(home, facts), here, places.page_of)
    blocks: list[Block] = [Findings(rules)] if rules else []
    blocks += [Subheading("Do this next"), *steps] if here else steps
    rest = (*here[MOST:], *_of_page(accepted(told), page))
    blocks += [Causes(rest)] if rest else []
    if page:
        return (*blocks, Text((_elsewhere(len(everything) - len(here)),)))
    blocks += once_accepted(home, told)
    return (*blocks, *_more(assessment.missing))


def _of_page(gaps: Sequence[Gap], page: str) -> tuple[Gap, ...]:
    return tuple(gap for gap in gaps if not page or page_of(gap.first) == page)


def _more(missing: tuple[str, ...]) -> tuple[Block, ...]:
    return (Folded("Would improve the result", missing),) if missing else ()


def _elsewhere(count: int) -> str:
    if not count:
        return "Nothing is open on the other pages."
    return (
        f"{'One more cause is' if count == 1 else f'{count} more causes are'} open on other pages. Page 11 lists all."
    )


def _context(home: Home, facts: Facts) -> Context:
    return Context(home, assessed(home), Share.OWNER, "", kept=kept_here(home), facts=facts)


OPEN_ON = {f"open_{page[:2]}": page for page in PAGES if page != "00_start"}
"""The names of what is open on one page; the start page tells what to do next in the whole home."""
