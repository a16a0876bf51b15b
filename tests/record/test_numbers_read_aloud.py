"""Numbers as people say them: no exponent in any text of the demo home, times in minutes, one count of the zones."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.__main__ import main
from alarmlib.calc.figure import Figure
from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.record.blocks import Picture, Record
from alarmlib.record.context import Context
from alarmlib.record.markup import shown_value
from alarmlib.record.plain import plain_blocks
from alarmlib.record.sections import LONG, SHORT
from alarmlib.units import Kind, read, rounded

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
EXPONENT = re.compile(r".{0,40}\d[eE][+-]?\d.{0,9}")


def spoken(record: Record) -> str:
    """All that a record says, its pictures' tables among it."""
    blocks = [block for section in record.sections for block in section.blocks]
    return plain_blocks([*blocks, *(block.table for block in blocks if isinstance(block, Picture))])


@pytest.mark.parametrize("copy", list(Share))
def test_no_exponent_in_the_demo_record(copy: Share, demo_records: dict[Share, Record]) -> None:
    text = spoken(demo_records[copy])
    assert len(text) > 1000
    assert EXPONENT.findall(text) == []


def test_no_exponent_in_the_short_record(demo: Home) -> None:
    context = Context(demo, assess(demo), Share.OWNER, "2026-11-25")
    assert EXPONENT.findall(plain_blocks(block for section in SHORT for block in section.build(context))) == []
    assert len(LONG) > len(SHORT)


def test_no_exponent_in_any_figure_or_finding(demo: Home) -> None:
    """With the checks of full depth among them, and what the command line prints of them."""
    assessment = assess(demo, "full")
    told = [
        *(f"{shown_value(figure)} {figure.inputs} {figure.valid_range}" for figure in assessment.figures),
        *(f"{each.message} {each.figure} {each.limit} {each.margin}" for each in assessment.findings),
    ]
    assert len(told) > 100
    assert [text for text in told if EXPONENT.search(text)] == []


def test_no_exponent_on_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(DEMO)])
    out = capsys.readouterr().out
    assert "zones" in out
    assert EXPONENT.findall(out) == []


@given(st.floats(1e-9, 1e9), st.integers(1, 6))
def test_a_rounded_number_is_written_out(value: float, figures: int) -> None:
    """No exponent, at most so many figures, and off by no more than half of the last one."""
    for number in (value, -value):
        text = rounded(number, figures)
        assert re.fullmatch(r"-?\d+(\.\d*[1-9])?", text)
        assert len(text.lstrip("-").replace(".", "").strip("0")) <= figures
        assert float(text) == pytest.approx(number, rel=0.5 * 10 ** (1 - figures) * 1.0001)
        assert float(text) == pytest.approx(float(f"{number:.{figures}g}"), rel=1e-12)  # Python's own rounding


def test_zero_and_no_number() -> None:
    assert (rounded(0), rounded(-0.0), rounded(1150), rounded(12345)) == ("0", "0", "1150", "12300")
    for wrong in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="cannot be shown"):
            rounded(wrong)


def seconds(value: float) -> str:
    return shown_value(Figure("walk", value, "s", "sum"))


def test_times_as_people_say_them() -> None:
    """The demo's walk of 1150 s was printed as 1.15e+03 s."""
    assert seconds(1150) == "19 min 10 s"
    assert (seconds(33.24), seconds(119.6), seconds(7265)) == ("33.2 s", "2 min", "2 h 1 min")


@given(st.floats(1e-2, 1e7))
def test_any_time_is_read_back(value: float) -> None:
    text = seconds(value)
    assert not re.search(r"\d[eE]", text)
    assert read(text, Kind.TIME, "metric") == pytest.approx(value, rel=0.00501, abs=0.005)


def test_zones_are_counted_once_and_each_count_says_of_what(demo: Home) -> None:
    """37 zones of the unit everywhere; those with a detector and those of a proposal are called so.

    Seen before: "You entered 36 zones", "Zones needed: 39", "47 zones, proven best".
    """
    used = len(demo.control_unit.zones_used)
    assert used == 37
    context = Context(demo, assess(demo, "full"), Share.OWNER, "2026-11-25")
    record = plain_blocks(block for section in LONG for block in section.build(context))
    told = record + answer(demo, "zone_findings") + answer(demo, "zone_plan")
    counts = set(re.findall(r"[^.\n]{0,50}\b\d+ zones\b[^.\n]{0,40}", told))
    named = (
        f"of your {used} zones",
        "zones are used",
        "arrangement found for these detectors has",
        "arrangement proposed has",
    )
    assert counts
    assert [text for text in counts if not any(words in text for words in named)] == []
    assert f"36 of your {used} zones have a detector." in told
    assert f"{used} of 48 zones are used." in told
    assert f"zones of the control unit. How many: {used}" in record
