"""What is open on a page: what to do next, then that page's other causes; long answers that are read once fold."""

from pathlib import Path

import pytest

from alarmlib.checks.fixes.where import page_of
from alarmlib.checks.ranking import ranked
from alarmlib.model import Home
from alarmlib.pages.answers import answer_and_blocks
from alarmlib.pages.assessed import assessed
from alarmlib.pages.open_here import OPEN_ON, next_blocks, open_blocks
from alarmlib.pages.pictures import FOLDED, first_sight_html
from alarmlib.pages.places import page_of as page_of_path
from alarmlib.record.blocks import Causes, ToldSteps
from alarmlib.rules import say_of
from alarmlib.store import load

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture(scope="module")
def demo() -> Home:
    """The demo home as first planned."""
    return load(DEMO)


def told(home: Home, page: str) -> list[str]:
    """The first findings that a page tells, in their order."""
    blocks = open_blocks(home, page)
    steps = [step.finding.message for block in blocks if isinstance(block, ToldSteps) for step in block.steps]
    return steps + [gap.line.message for block in blocks if isinstance(block, Causes) for gap in block.gaps]


def test_each_page_tells_its_own_causes_and_the_last_page_all(demo: Home) -> None:
    """No cause falls between the pages, and none is told on two of them."""
    gaps = ranked(assessed(demo).findings)
    assert told(demo, "") == [gap.line.message for gap in gaps]
    for page in OPEN_ON.values():
        assert told(demo, page) == [gap.line.message for gap in gaps if page_of(gap.first) == page]


def test_what_to_do_next_is_five_causes_at_most_with_the_page_of_each(demo: Home) -> None:
    """The start page's view; before there is a room it says when it begins."""
    steps = next(block for block in next_blocks(demo) if isinstance(block, ToldSteps))
    assert len(steps.steps) == 5
    assert all(step.page in {"00_start", *OPEN_ON.values()} for step in steps.steps)
    assert all(step.field and page_of_path(step.field) == step.page for step in steps.steps)
    assert "once you have entered rooms" in answer_and_blocks(Home(), "next")[0]


@pytest.mark.parametrize("name", [name.removeprefix("answer-") for name in FOLDED])
def test_a_long_answer_that_is_read_once_is_behind_one_line(demo: Home, name: str) -> None:
    """Page 11 is read from its first screen."""
    html = first_sight_html(f"answer-{name}", answer_and_blocks(demo, name)[1], say_of(demo), name)
    assert html.startswith("<details><summary>Show the ")
    assert html.endswith("</details>")
    assert "more lines</summary>" not in html
