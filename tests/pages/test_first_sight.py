"""What of a check is in sight at first, and that nothing of it is lost."""

from typing import Any

import pytest

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import Gap
from alarmlib.pages.first_sight import MOST_LINES, MOST_OPEN, called, lines, split, verdict_line
from alarmlib.record.blocks import Bullets, Causes, Findings, Subheading, Table, Text


def found(verdict: Verdict, count: int) -> tuple[Finding, ...]:
    return tuple(Finding(f"{verdict.value}.{n}", "hall", verdict, f"Hall {n}.") for n in range(count))


FEW = Findings((*found(Verdict.SHOULD, 2), *found(Verdict.NOTE, 3), *found(Verdict.OK, 1)))
MANY = Findings(found(Verdict.SHOULD, MOST_OPEN + 4))
LONG = Table("Parts", ("Part", "Count"), tuple((f"part {n}", "1") for n in range(MOST_LINES + 1)))


def test_what_is_open_is_in_sight_and_notes_are_folded() -> None:
    shown, rest = split((FEW,))
    assert shown == (Findings(found(Verdict.SHOULD, 2)),)
    assert rest == (Findings((*found(Verdict.NOTE, 3), *found(Verdict.OK, 1))),)
    assert called(rest) == "Show 4 more lines"
    assert verdict_line(FEW.findings) == "2 that you should fix, 3 good to know, 1 in order."


@pytest.mark.parametrize(
    "blocks",
    [
        (FEW,),
        (MANY, Text(("After it.",))),
        (LONG,),
        (Text(("One.",)), LONG, Text(("Two.",))),
        (Text(("One.",)), Subheading("Then"), LONG),
        (Bullets(tuple(f"line {n}" for n in range(30))), Text(("Last.",))),
        (Causes(tuple(Gap(each) for each in found(Verdict.SHOULD, 12))),),
        (Text(("Nothing was found in what you entered (3 checks).",)),),
    ],
    ids=str,
)
def test_few_lines_are_in_sight_and_none_is_lost(blocks: tuple[Any, ...]) -> None:
    """A heading is not left alone, and the order stays."""
    shown, rest = split(blocks)
    assert lines(shown) <= MOST_LINES
    assert lines(shown) + lines(rest) == lines(blocks)
    assert not (shown and isinstance(shown[-1], Subheading))
    assert [type(each) for each in (*shown, *rest) if isinstance(each, Text)] == [Text] * sum(
        isinstance(each, Text) for each in blocks
    )


def test_a_short_answer_is_not_folded() -> None:
    assert split((Text(("One.",)), Bullets(("a", "b")))) == ((Text(("One.",)), Bullets(("a", "b"))), ())
    assert called((LONG,)) == "Show the table"
