# ruff: noqa: E501 - one case a line reads best
"""The meter: what a reading means, and what an unknown pair holds, made from pairs that are known."""

from dataclasses import replace
from math import inf
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.loops import Loop
from alarmlib.calc.electrical.meter import COMMON_OHM, common_ohm, faults_of, read_pair
from alarmlib.model.circuits import Ending

OVER = 10e6
DOUBLE = Loop(Ending.DOUBLE, 2200, 4700, 4700, cable_ohm=4, tolerance=0.01, cable_slack_ohm=10)
SINGLE, NONE = replace(DOUBLE, ending=Ending.SINGLE), replace(DOUBLE, ending=Ending.NONE)
FIRE = replace(DOUBLE, ending=Ending.OPEN_FIRE)


@pytest.mark.parametrize(("loop", "reading", "opened"), [
    (DOUBLE, 4703, False), (DOUBLE, 9402, True), (SINGLE, 4703, False), (SINGLE, OVER, True), (NONE, 4, False),
    (NONE, OVER, True), (FIRE, 4705, False), (FIRE, 4, True),
])  # fmt: skip
def test_what_is_right_has_no_fault(loop: Loop, reading: float, opened: bool) -> None:
    assert faults_of(loop, reading, opened) == ()


@pytest.mark.parametrize(("loop", "reading", "opened", "part"), [
    (DOUBLE, OVER, False, "reads open"), (DOUBLE, 0.5, False, "reads short"), (DOUBLE, 9403, False, "as with a contact open"),
    (DOUBLE, 4703, True, "nothing changed"), (DOUBLE, 2354, False, "about half"), (DOUBLE, 4200, False, "damp"),
    (DOUBLE, 4900, False, "more than it should"), (NONE, 60, False, "more than it should"), (SINGLE, 4703, True, "nothing changed"),
    (FIRE, OVER, False, "reads open"),
])  # fmt: skip
def test_what_a_reading_may_mean(loop: Loop, reading: float, opened: bool, part: str) -> None:
    assert part in "; ".join(faults_of(loop, reading, opened))


@given(st.sampled_from(COMMON_OHM), st.floats(-0.05, 0.05), st.floats(0, 60))
def test_common_resistor_is_found_or_a_neighbour(ohm: int, off: float, cable: float) -> None:
    """A 5 % resistor with cable is named, or one whose own tolerance covers the same reading."""
    reading = ohm * (1 + off) + cable
    found = common_ohm(reading)
    assert found is not None
    assert found * 0.94 <= reading <= found * 1.06 + 100


@pytest.mark.parametrize("seed", range(40))
def test_unknown_pairs_are_read_right(seed: int) -> None:
    """A pair is made, its three readings taken, and what it was made of comes back."""
    draw = Random(seed)
    end, across = draw.choice((2200, 3300, 4700, 5600)), draw.choice((1000, 2200, 4700, 5600))
    cable = draw.uniform(1, 12)
    ending = draw.choice((Ending.NONE, Ending.SINGLE, Ending.DOUBLE, Ending.OPEN_FIRE))
    shut = {Ending.NONE: cable}.get(ending, end * draw.uniform(0.99, 1.01) + cable)
    opened = {Ending.DOUBLE: shut + across * draw.uniform(0.99, 1.01), Ending.OPEN_FIRE: cable}.get(ending, OVER)
    pair = read_pair(shut, opened, opened + across if ending is Ending.DOUBLE else None)
    assert pair.ending is ending
    assert pair.end_ohm == (None if ending is Ending.NONE else end)
    assert pair.contact_ohm == (across if ending is Ending.DOUBLE else None)


@pytest.mark.parametrize(("readings", "part"), [
    ((None, None, None), "every door and window closed"), ((OVER, None, None), "cut, or its contacts are open"),
    ((4700, None, None), "one reading cannot tell"), ((OVER, OVER, None), "Open in both"), ((4703, 4703, None), "not in this pair"),
    ((4703, 9403, None), "own resistor"), ((4703, 9403, 9403), "changed nothing"), ((3, 4703, None), "short looks secure"),
    ((4703, OVER, None), "Where the end resistor is"),
])  # fmt: skip
def test_a_sentence_names_what_cannot_be_told(
    readings: tuple[float | None, float | None, float | None], part: str
) -> None:
    assert part in " ".join(read_pair(*readings).untold)


def test_second_contact_without_a_resistor_looks_like_a_cut() -> None:
    assert "looks like a cut" in " ".join(read_pair(4703, 9403, OVER).told)
    assert "resistor of the same kind" in " ".join(read_pair(4703, 9403, 14103).told)
    assert "open when quiet" in " ".join(read_pair(OVER, 2).told)
    assert read_pair(inf, 3).ending is Ending.UNKNOWN


def test_one_resistor_across_all_contacts_may_be_what_it_is() -> None:
    """In such a row a second open contact changes nothing, and is neither missing nor bridged."""
    assert "One resistor goes across all contacts" in " ".join(read_pair(4703, 9403, 9403).untold)
