"""What the unit makes of a loop: at its thresholds, with any number of contacts open, and of a meter's reading."""

from dataclasses import replace
from fractions import Fraction
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.loop_reads import (
    Thresholds,
    cut_from,
    made_between,
    made_of,
    made_of_bands,
    made_of_reading,
)
from alarmlib.calc.electrical.loops import Loop, Made, bands, share, states
from alarmlib.model.circuits import Ending

AT = Thresholds(0.15, 0.59, 0.87)
DOUBLE = Loop(Ending.DOUBLE, 4700, 4700, 4700)
OVER = 5e6


@pytest.mark.parametrize(
    ("ending", "found"),
    [
        (Ending.DOUBLE, "short quiet tripped cut"),
        (Ending.SINGLE, "short quiet tripped tripped"),
        (Ending.NONE, "quiet quiet tripped tripped"),
        (Ending.OPEN_FIRE, "tripped quiet quiet cut"),
    ],
)
def test_a_share_by_how_the_pair_is_ended(ending: Ending, found: str) -> None:
    assert [made_of(at, ending, AT) for at in (0.0, 0.5, 0.7, 1.0)] == [Made(word) for word in found.split()]


def test_nothing_is_made_of_a_share_without_thresholds() -> None:
    assert made_of(0.5, Ending.DOUBLE, Thresholds()) is None
    assert made_of(0.5, Ending.OPEN_FIRE, Thresholds(trip_above=0.59)) is None
    assert made_between(0.0, 1.0, Ending.DOUBLE, Thresholds()) == ()


@pytest.mark.parametrize("contacts", range(1, 13))
def test_which_open_contact_reads_as_cut(contacts: int) -> None:
    """By hand, exact parts at the unit's 4.7 kΩ: n open are (n + 1) / (n + 2); the sixth, 7/8, is over 0.87."""
    by_hand = next((n for n in range(1, contacts + 1) if Fraction(n + 1, n + 2) > Fraction(87, 100)), None)
    assert by_hand == (6 if contacts >= 6 else None)
    loop = replace(DOUBLE, contacts=contacts)
    assert cut_from(loop, bands(loop), AT) == by_hand
    assert cut_from(replace(loop, across_all=True), bands(replace(loop, across_all=True)), AT) is None


@given(st.integers(1, 20), st.floats(0, 0.1), st.floats(0, 100), st.floats(0.6, 0.99))
def test_cut_from_agrees_with_looking_at_each(contacts: int, tolerance: float, cable: float, cut: float) -> None:
    """Every number of open contacts one by one, at the resistors' worst, by the divider alone."""
    loop, at = replace(DOUBLE, contacts=contacts, tolerance=tolerance, cable_ohm=cable), Thresholds(0.15, 0.59, cut)
    worst = [
        share(4700 * (1 + number) * (1 + tolerance) + cable, 4700 * (1 - tolerance))
        for number in range(1, contacts + 1)
    ]
    assert cut_from(loop, bands(loop), at) == next((n for n, high in enumerate(worst, 1) if high > cut), None)


def test_a_band_over_a_threshold_is_read_both_ways() -> None:
    assert made_between(0.5, 0.6, Ending.DOUBLE, AT) == (Made.QUIET, Made.TRIPPED)
    assert made_between(0.1, 0.9, Ending.DOUBLE, AT) == (Made.SHORT, Made.QUIET, Made.TRIPPED, Made.CUT)
    assert made_between(0.5, 0.58, Ending.DOUBLE, AT) == (Made.QUIET,)


def test_good_loops_are_read_as_what_they_are() -> None:
    for ending in (Ending.NONE, Ending.SINGLE, Ending.DOUBLE, Ending.OPEN_FIRE):
        loop = replace(DOUBLE, ending=ending, tolerance=0.01, cable_ohm=10)
        assert made_of_bands(loop, bands(loop), AT) == tuple((state.means,) for state in states(loop))


@pytest.mark.parametrize(
    ("reading", "made"),
    [
        (4703, (Made.QUIET,)),
        (3900, (Made.QUIET,)),  # damp, and still quiet
        (9400, (Made.TRIPPED,)),
        (0.4, (Made.SHORT,)),
        (OVER, (Made.CUT,)),
        (inf, (Made.CUT,)),
        (6763, (Made.QUIET, Made.TRIPPED)),  # 4700 x 0.59 / 0.41 = 6763 Ω: the pull-up's 1 % decides
    ],
)
def test_what_the_unit_makes_of_a_reading(reading: float, made: tuple[Made, ...]) -> None:
    assert made_of_reading(replace(DOUBLE, tolerance=0.01), reading, OVER, AT) == made
