"""In the record each caution comes again in the section of its subject, before that section's first table."""

import pytest

from alarmlib.calc.electrical.fitting_day import steps
from alarmlib.checks.cautions import CAUTIONS, Advice, before, begins
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Caution, Lines, Picture, Record, Table
from alarmlib.record.markup import block_html
from alarmlib.record.sections import LONG, SHORT
from alarmlib.sources import cite


@pytest.mark.parametrize("advice", CAUTIONS, ids=lambda each: each.id)
def test_caution__comes_before_the_table_of_its_section(advice: Advice, demo_records: dict[Share, Record]) -> None:
    """In the owner's copy, in each section of its subject, and not only in the list at the front."""
    sections = {section.id: section.blocks for section in demo_records[Share.OWNER].sections}
    assert advice.sections and "cautions" not in advice.sections
    for name in advice.sections:
        blocks = sections[name]
        place = blocks.index(Caution(advice.text, advice.source))
        tables = [n for n, block in enumerate(blocks) if isinstance(block, Table | Lines | Picture)]
        assert tables and place < tables[0], name


def test_every_section_named_is_a_section() -> None:
    """A caution names no section that no record has."""
    assert {name for advice in CAUTIONS for name in advice.sections} <= {section.id for section in (*LONG, *SHORT)}


def test_the_day_of_fitting__has_the_caution_of_each_step(demo: Home) -> None:
    """The caution for a step of the day comes before the steps, on the page and in the record."""
    named = {step.caution for step in steps(demo) if step.caution}
    assert named
    assert named <= {advice.id for advice in before("fitting_day")}
    assert named <= {advice.id for advice in begins("fitting")}


def test_a_caution_names_its_source_and_how_far_it_was_seen() -> None:
    """What the reader of a record sees of it."""
    for advice in CAUTIONS:
        html = block_html(Caution(advice.text, advice.source), "x")
        assert cite(advice.source).standing in html.casefold()
