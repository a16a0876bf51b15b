"""Every figure of a record can be followed: formula, numbers put in, result and source; some worked again from them."""

import re
from datetime import date
from itertools import pairwise
from math import hypot, log10

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.wiring import FedBy
from alarmlib.model.words import Share, UnitSystem
from alarmlib.record.blocks import FigureBlock, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.plain import plain_blocks
from alarmlib.record.sections import LONG
from alarmlib.record.sections.front.calculations import calculations, head, shown
from alarmlib.record.sections.front.summary import summary
from alarmlib.sources import cite

ASKED = {
    "battery_asked", "recharge", "battery_course", "battery_quiet", "load_shed", "box_lasts", "cell_life",
    "loop_shares", "meter_range", "loop_cable", "loop_run", "loop_leak", "loop_pull_up", "drop", "drop_at_end",
    "run_longest", "pillow", "pillow_unsure", "burglary", "burglary_unsure", "ears", "next_door", "indoors",
}  # fmt: skip


@pytest.fixture(scope="module")
def rich(demo: Home) -> Home:
    """The demo home, with a box on a battery of its own and nothing measured at the neighbour's, so all is computed."""
    box = demo.wiring.boxes[0].model_copy(update={"fed_by": FedBy.OWN_BATTERY, "own_battery_wh": 90.0})
    wiring = demo.wiring.model_copy(update={"boxes": (box, *demo.wiring.boxes[1:])})
    sound = demo.sound.model_copy(update={"heard": tuple(r for r in demo.sound.heard if r.room)})
    return demo.model_copy(update={"wiring": wiring, "sound": sound})


@pytest.fixture(scope="module")
def context(rich: Home) -> Context:
    return Context(rich, assess(rich, "full", today=date(2026, 11, 27)), Share.OWNER, "2026-11-27")


@pytest.fixture(scope="module")
def figures(context: Context) -> dict[str, Figure]:
    return {figure.key: figure for figure in context.assessment.figures}


def test_each_figure_can_be_followed(context: Context) -> None:
    """Formula, numbers put in, a result and at least one source that is written down."""
    for figure in context.assessment.figures:
        assert figure.formula, figure.key
        assert figure.inputs, figure.key
        assert all(name and value for name, value in figure.inputs), figure
        assert str(figure.value), figure.key
        assert figure.sources, figure.key
        assert all(cite(source).title for source in figure.sources), figure.key
    assert {head(figure) for figure in context.assessment.figures} >= ASKED


def test_no_figure_shows_an_exponent_or_an_id(context: Context) -> None:
    for figure in context.assessment.figures:
        shown = " ".join((str(figure.value), *(value for _, value in figure.inputs)))
        assert not re.search(r"\d[eE][+-]?\d", shown), figure
        assert not re.search(r"[a-z]+_[a-z]+", shown), figure


def test_each_figure_is_in_the_record(context: Context) -> None:
    """By itself, or as a row of a table of its own kind: each number put in, there or once above it, and its result."""
    blocks = [block for section in LONG for block in section.build(context)]
    alone = {block.figure.key for block in blocks if isinstance(block, FigureBlock)}
    tables = [
        (" ".join(above.paragraphs) if isinstance(above, Text) else "", {frozenset(row[1:]) for row in table.rows})
        for above, table in pairwise(blocks)
        if isinstance(table, Table)
    ]
    for figure in context.assessment.figures:
        in_a_row = any(_put_in(figure, above) < row for above, rows in tables for row in rows)
        assert figure.key in alone or in_a_row, figure.key


def _put_in(figure: Figure, above: str) -> frozenset[str]:
    """The numbers put into a figure that the text above its table does not say for every row."""
    said = above.partition("In every row: ")[2]
    return frozenset(value for name, value in figure.inputs if f"{name} = {value}" not in said)


def test_what_is_alike_in_every_row_is_written_once_above(context: Context) -> None:
    """By hand: two figures of one formula that differ in one number of two."""
    two = [
        Figure(f"drop.{run}", 1.0, "V", "V = I R", (("I", amps), ("R", "2 Ω")), ("owner",))
        for run, amps in (("one", "1 A"), ("other", "3 A"))
    ]
    _, text, table = shown(context, two)
    assert isinstance(text, Text)
    assert text.paragraphs[0].endswith("In every row: R = 2 Ω.")
    assert isinstance(table, Table)
    assert table.header == ("For", "I", "Result")
    assert [row[1] for row in table.rows] == ["1 A", "3 A"]


def test_tables_of_figures_have_names_of_their_own(context: Context) -> None:
    captions = [b.caption for section in LONG for b in section.build(context) if isinstance(b, Table)]
    assert len(captions) == len(set(captions))


def _numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def test_drops_again_from_what_is_shown(figures: dict[str, Figure]) -> None:
    """A reader with a pocket calculator: 2 r / n x the pieces."""
    for key in ("drop.ground_feed", "drop.fire_feed", "drop.sounder_feed"):
        told = dict(figures[key].inputs)
        ohm_km, cores = _numbers(told["r"])[0], float(told["n"])
        pieces = sum(m * a for m, a in (_numbers(piece) for piece in told["pieces"].split(" + ")))
        assert 2 * ohm_km / 1000 / cores * pieces == pytest.approx(float(figures[key].value), rel=0.01)


def test_a_conductors_source_is_its_own(figures: dict[str, Figure]) -> None:
    """24.5 Ω/km of 0.75 mm² is IEC 60228; 85 of 0.22 mm² is not in it; 0.00393 a °C is IACS."""
    assert figures["drop.fire_feed"].sources == ("voltage_drop", "iec60228", "iacs")
    assert figures["drop.ground_feed"].sources == ("voltage_drop", "alarm_core", "iacs")


def test_battery_again_from_what_is_shown(figures: dict[str, Figure]) -> None:
    told = dict(figures["battery_quiet"].inputs)
    c, h, k, s, current = (_numbers(told[name])[-1] for name in ("C", "H", "k", "s", "I"))
    by_hand = s * min(c / current, h * (c / current / h) ** k)
    assert by_hand == pytest.approx(float(figures["battery_quiet"].value), rel=0.01)
    less = current - _numbers(dict(figures["load_shed.control_unit"].inputs)["i"])[0]
    more = s * min(c / less, h * (c / less / h) ** k)
    assert more - by_hand == pytest.approx(float(figures["load_shed.control_unit"].value), rel=0.02)


def test_cells_again_from_what_is_shown(figures: dict[str, Figure]) -> None:
    told = {name: _numbers(value)[0] for name, value in figures["cell_life.studio_motion"].inputs}
    messages = 86_400 / (told["reports every"] * 60) + 2 * told["trips a day"]
    average = told["at rest"] + told["a message"] * 1000 * messages / 86_400
    assert average == pytest.approx(told["I"], rel=0.01)
    years = 1000 * told["c"] * told["Q"] / ((average + told["leaks"]) * 8766)
    assert years == pytest.approx(float(figures["cell_life.studio_motion"].value), rel=0.01)


def test_loops_again_from_what_is_shown(figures: dict[str, Figure]) -> None:
    told = dict(figures["loop_cable.front_door_loop"].inputs)
    trip, off = float(told["T"]), _numbers(told["t"])[0] / 100
    rest, pull_up = (1000 * _numbers(told[name])[0] for name in ("R quiet", "Ru"))
    ohm = pull_up * (1 - off) * trip / (1 - trip) - rest * (1 + off)
    assert ohm == pytest.approx(1000 * _numbers(str(figures["loop_cable.front_door_loop"].value))[0], rel=0.01)


def test_pillows_again_from_what_is_shown(figures: dict[str, Figure]) -> None:
    """The level from its levels; how unsure from shares, causes: two sounders, one read, one through one door."""
    levels = _numbers(dict(figures["burglary.main_bedroom"].inputs)["levels"])
    whole = 10 * log10(sum(10 ** (level / 10) for level in levels))
    assert whole == pytest.approx(float(figures["burglary.main_bedroom"].value), abs=0.06)
    read, other = _numbers(dict(figures["burglary_unsure.main_bedroom"].inputs)["parts of the whole, w"])
    unsure = hypot(2 * read, 4 * other, 3 * other, 3 * other)
    assert unsure == pytest.approx(_numbers(str(figures["burglary_unsure.main_bedroom"].value))[0], abs=0.1)


def test_figures_follow_the_homes_units(rich: Home) -> None:
    """In feet the core's resistance is a foot's too, so that the numbers put in still give the result."""
    us = rich.model_copy(update={"units": UnitSystem.US})
    figures = {figure.key: figure for figure in assess(us).figures}
    told = dict(figures["drop_at_end.cellar_feed"].inputs)
    assert "Ω/1000 ft" in told["r"]
    assert "ft" in told["L"]


@pytest.mark.parametrize("copy", list(Share))
def test_only_a_copy_with_calculations_claims_them(context: Context, copy: Share) -> None:
    """A copy whose readers may not see the section of calculations says nothing of formulas."""
    seen = Context(context.home, context.assessment, copy, "2026-11-27")
    assert ("show the formula" in plain_blocks(summary.build(seen))) is seen.sees(calculations.level)
