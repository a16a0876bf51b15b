"""Loops: states, worst-case bands and sensitivities against ngspice's printed values, and what always holds."""

from dataclasses import replace
from itertools import pairwise, product
from math import inf, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.loops import (
    Loop,
    alike,
    bands,
    best_pull_up_ohm,
    best_thresholds,
    cable_bearable_ohm,
    envelope,
    in_parallel,
    leak_bearable_ohm,
    longest_run_m,
    sensitivity,
    share,
    states,
)
from alarmlib.errors import AlarmProblem
from alarmlib.model.circuits import Ending

DOUBLE = Loop(Ending.DOUBLE, 2200, 1000, 1000, contacts=2)
SINGLE = Loop(Ending.SINGLE, 2200, 2200)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("ohm", "volts"), [(0, 0.0), (1000, 3.750), (2000, 5.7143), (3000, 6.923), (inf, 12.0), (2200, 6.0)]
)
def test_states_in_volts(ohm: float, volts: float) -> None:
    """Source: ngspice 39.3, pull-up 2.2 kΩ, 12 V: double 1 k + 1 k, and single 2.2 k."""
    assert 12 * share(ohm, 2200) == pytest.approx(volts, abs=5e-4)


@pytest.mark.outside
@pytest.mark.parametrize(("ohm", "volts"), [(1020, 3.801245), (2020, 5.744074)])
def test_with_cable(ohm: float, volts: float) -> None:
    """Source: ngspice 39.3, secure and alarm with 2 x 10 Ω of cable."""
    assert 12 * share(ohm, 2200) == pytest.approx(volts, abs=5e-6)


@pytest.mark.outside
def test_sensitivities() -> None:
    """Source: ngspice `sens v(n1)` at 12 V, RL 2 kΩ: 1.4965971e-3 and -1.360543e-3 V/Ω."""
    field, pull_up = sensitivity(2000, 2200)
    assert 12 * field == pytest.approx(1.4965971e-3, abs=1e-8)
    assert 12 * pull_up == pytest.approx(-1.360543e-3, abs=1e-8)


BANDS = [  # tolerance, leakage, secure, one open, two open, cut at least; corner enumeration beside ngspice
    (0.01, inf, (0.3082, 0.3376), (0.4712, 0.4933), (0.5720, 0.5897), 1.000),
    (0.01, 47e3, (0.3038, 0.3376), (0.4609, 0.4933), (0.5570, 0.5897), 0.955),
    (0.01, 10e3, (0.2885, 0.3376), (0.4265, 0.4933), (0.5075, 0.5897), 0.818),
    (0.05, inf, (0.2914, 0.3549), (0.4513, 0.5128), (0.5523, 0.6086), 1.000),
    (0.05, 22e3, (0.2828, 0.3549), (0.4309, 0.5128), (0.5220, 0.6086), 0.905),
    (0.05, 10e3, (0.2730, 0.3549), (0.4087, 0.5128), (0.4898, 0.6086), 0.812),
]


@pytest.mark.parametrize(("tolerance", "leak", "secure", "one", "two", "cut"), BANDS)
def test_worst_case_bands(
    tolerance: float,
    leak: float,
    secure: tuple[float, float],
    one: tuple[float, float],
    two: tuple[float, float],
    cut: float,
) -> None:
    """The reference's table 2.3, computed by another hand from the same formula; no outside source."""
    found = bands(replace(DOUBLE, tolerance=tolerance, leak_ohm=leak, cable_ohm=100))
    for band, wanted in zip(found[1:4], (secure, one, two), strict=True):
        assert (band.low, band.high) == pytest.approx(wanted, abs=6e-5)
    assert found[4].low == pytest.approx(cut, abs=6e-4)


def test_two_open_overlap_one_open_with_damp() -> None:
    """No promise to count open contacts: with 5 % and 10 kΩ the bands touch."""
    loop = replace(DOUBLE, tolerance=0.05, leak_ohm=10e3, cable_ohm=100)
    assert alike(bands(loop)) == (("one contact open", "2 contacts open"),)
    assert alike(bands(replace(loop, contacts=1))) == ()


def test_naive_thresholds_and_what_they_bear() -> None:
    """By hand: the middle between secure and alarm is 0.3943, 432 Ω above secure; a leak of 5.05 kΩ hides an alarm."""
    middle = best_thresholds(bands(replace(DOUBLE, contacts=1)))
    assert middle == pytest.approx((0.1563, 0.3943, 0.7381), abs=1e-4)
    assert cable_bearable_ohm(DOUBLE, middle[1] or 0) == pytest.approx(432, abs=1)
    assert leak_bearable_ohm(DOUBLE, middle[1] or 0) == pytest.approx(5050, abs=10)


def test_longest_runs() -> None:
    """By hand: 100 Ω are 944 m of 22 AWG, 594 m of 24 AWG, 588 m of 7/0.2 at 85 Ω/km."""
    assert [longest_run_m(100, r) for r in (52.96, 84.22, 85)] == pytest.approx([944, 594, 588], abs=0.7)


def test_best_pull_up() -> None:
    """By hand: for 1 k and 2 k it is 1.414 kΩ, the gap 0.1716; no other does better."""
    best = best_pull_up_ohm(1000, 2000)
    assert best == pytest.approx(1414.2, abs=0.1)
    gap = share(2000, best) - share(1000, best)
    assert gap == pytest.approx(0.1716, abs=1e-4)
    assert all(share(2000, r) - share(1000, r) <= gap for r in range(100, 10_000, 50))


@given(st.floats(10, 1e6), st.floats(10, 1e5), st.floats(10, 1e5))
def test_order_of_states(pull_up: float, end: float, contact: float) -> None:
    """short < secure < alarm < cut for any pull-up."""
    loop = Loop(Ending.DOUBLE, pull_up, end, contact)
    shares = [share(state.ohm, pull_up) for state in states(loop)]
    assert all(a < b for a, b in pairwise(shares))


@given(st.floats(0, 1e6), st.floats(1, 1e7), st.floats(10, 1e5))
def test_leakage_never_raises_the_share(field: float, leak: float, pull_up: float) -> None:
    assert share(in_parallel(field, leak), pull_up) <= share(field, pull_up)


@given(st.floats(0.001, 0.1), st.floats(0, 200), st.floats(2e3, 1e6), st.floats(500, 9000))
def test_bands_hold_every_corner(tolerance: float, cable: float, leak: float, pull_up: float) -> None:
    """Every corner of tolerances, cable and leakage lies within its band."""
    loop = Loop(Ending.DOUBLE, pull_up, 4700, 4700, 1, cable, tolerance, leak)
    for state, band in zip(states(loop), bands(loop), strict=True):
        for part, unit, wire, damp in product((-1, 1), (-1, 1), (0, cable), (inf, leak)):
            at = share(in_parallel(state.ohm * (1 + part * tolerance) + wire, damp), pull_up * (1 + unit * tolerance))
            assert band.low - 1e-12 <= at <= band.high + 1e-12


def test_the_end_resistors_decide_which_events_differ() -> None:
    assert [s.name for s in states(replace(SINGLE, ending=Ending.NONE))] == ["secure", "a contact open, or cut"]
    assert [s.name for s in states(SINGLE)] == ["short", "secure", "a contact open, or cut"]
    assert [s.name for s in states(replace(SINGLE, ending=Ending.OPEN_FIRE))] == ["fire, or short", "quiet", "cut"]
    assert [s.name for s in states(DOUBLE)][-1] == "cut"


def test_a_voltage_would_move_where_a_share_does_not() -> None:
    """By hand: over 10.5 to 14.4 V secure is 3.28 to 4.50 V and alarm 5.00 to 6.86 V: 0.50 V apart at worst."""
    low, high = share(1000, 2200), share(2000, 2200)
    assert (10.5 * low, 14.4 * low) == pytest.approx((3.28, 4.50), abs=5e-3)
    assert 10.5 * high - 14.4 * low == pytest.approx(0.50, abs=5e-3)


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: share(1000, 0), "0 Ω; more than 0"),
        (lambda: share(1000, -5), "-5 Ω"),
        (lambda: cable_bearable_ohm(DOUBLE, 1.2), "1.2 of the voltage"),
    ],
)
def test_bad_values_get_a_sentence(call: object, part: str) -> None:
    with pytest.raises(AlarmProblem, match=part):
        call()  # type: ignore[operator]


def test_geometric_mean_is_exact() -> None:
    assert best_pull_up_ohm(4700, 9400) == 4700 * sqrt(2)


def test_every_number_of_open_contacts_is_a_state() -> None:
    """By hand: ten contacts of 1 k after 1 k are 2 k to 11 k open; one resistor across them all stays at 2 k."""
    ten = replace(DOUBLE, contacts=10)
    assert [state.ohm for state in states(ten)[2:-1]] == [1000 * number for number in range(2, 12)]
    assert states(ten)[-2].name == "10 contacts open"
    (opened,) = states(replace(ten, across_all=True))[2:-1]
    assert (opened.name, opened.ohm) == ("one or more contacts open", 2000)


def test_worst_of_several_loops() -> None:
    """Each state from the least to the greatest of any of them, whichever comes first."""
    short, long = bands(replace(DOUBLE, tolerance=0.01)), bands(replace(DOUBLE, tolerance=0.01, cable_ohm=30))
    for order in ((short, long), (long, short)):
        worst = envelope(order)
        assert [band.state for band in worst] == [band.state for band in short]
        assert [band.high for band in worst] == [band.high for band in long]
        assert [band.low for band in worst] == [band.low for band in short]
