"""Volts along a shared cable: published examples with their printed errors, a dense solve by numpy, properties."""

from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.ladder import Rung, cable_ohms, drop_v, longest_m, lumped_drop_v, voltages
from alarmlib.errors import AlarmProblem

FOOT_M = 0.3048
KFT_KM = 1 / (FOOT_M * 1000) * 1000  # Ω/kft to Ω/km


@pytest.mark.outside
def test_sixteen_gauge_hundred_feet() -> None:
    """Source: an electricians' course: 2 x 100 ft x 4.99 Ω/kft x 4 A, printed as 4.0 V, 16.7 % of 24 V."""
    assert drop_v(100 * FOOT_M, 4.99 * KFT_KM, 4) == pytest.approx(3.992, abs=1e-9)
    assert drop_v(100 * FOOT_M, 4.99 * KFT_KM, 4) / 24 == pytest.approx(0.167, abs=1e-3)


@pytest.mark.outside
def test_eighteen_gauge_350_feet() -> None:
    """Source: a cable page's table, 1.27 V for 100 ft of pair at 1 A: 4.445 V printed; its table is rounded."""
    assert drop_v(350 * FOOT_M, 6.385 * KFT_KM, 1) == pytest.approx(4.470, abs=1e-3)
    assert drop_v(350 * FOOT_M, 6.385 * KFT_KM, 1) == pytest.approx(4.445, rel=0.006)


@pytest.mark.outside
def test_named_trap_the_return_conductor() -> None:
    """Source: a document that prints 2.91 V for 1500 ft of 18 AWG at 0.3 A: it forgets the way back. True: 5.86 V."""
    true_v = drop_v(1500 * FOOT_M, 6.51 * KFT_KM, 0.3)
    assert true_v == pytest.approx(5.859, abs=1e-3)
    assert true_v / 2 == pytest.approx(2.93, abs=0.005)
    assert abs(2.91 - true_v) > 2.9


@pytest.mark.outside
@pytest.mark.parametrize(("place", "volts"), [*enumerate((11.32454, 10.82703, 10.49963, 10.33720))])
def test_four_resistive_sounders(place: int, volts: float) -> None:
    """Source: ngspice 39.3 on four 40 Ω loads, 0.6285 Ω of 18 AWG before each, 12 V."""
    assert voltages(12, [Rung(0.6285, load_ohm=40)] * 4)[place] == pytest.approx(volts, abs=1e-5)


def test_own_examples() -> None:
    """No outside source: by hand with IACS copper."""
    assert drop_v(30, 52.96, 1) == pytest.approx(3.178, abs=1e-3)
    assert drop_v(100 * FOOT_M, 52.96, 0.5) == pytest.approx(1.614, abs=1e-3)
    assert longest_m(1.5, 52.96, 1) == pytest.approx(14.16, abs=0.01)
    five = [Rung(ohm, 0.015) for ohm in cable_ohms([10] * 5, 78.4)]
    assert 12 - voltages(12, five)[-1] == pytest.approx(0.353, abs=1e-3)
    assert lumped_drop_v(five, 12) == pytest.approx(0.588, abs=1e-3)


def dense(source_v: float, rungs: list[Rung]) -> list[float]:
    """The same by nodal analysis: conductances stamped into a matrix, solved by numpy."""
    size = len(rungs)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    for n, rung in enumerate(rungs):
        g = 1 / rung.cable_ohm
        matrix[n, n] += g + (1 / rung.load_ohm if rung.load_ohm else 0)
        right[n] -= rung.current_a
        if n:
            matrix[n - 1, n - 1] += g
            matrix[n, n - 1] -= g
            matrix[n - 1, n] -= g
        else:
            right[n] += g * source_v
    return list(np.linalg.solve(matrix, right))


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(20))
def test_nodal_analysis_agrees(seed: int) -> None:
    """Source: Kirchhoff's laws as a dense system, solved by numpy: another method."""
    draw = Random(seed)
    rungs = [
        Rung(
            draw.uniform(0.01, 2), draw.choice([0, draw.uniform(0, 0.05)]), draw.choice([None, draw.uniform(40, 4000)])
        )
        for _ in range(draw.randint(1, 40))
    ]
    assert voltages(12, rungs) == pytest.approx(dense(12, rungs), abs=1e-9)


LOADS = st.lists(st.tuples(st.floats(0, 5), st.floats(0, 0.3)), min_size=1, max_size=12)


@given(LOADS)
def test_exact_is_never_more_than_lumped(loads: list[tuple[float, float]]) -> None:
    rungs = [Rung(*each) for each in loads]
    assert 12 - voltages(12, rungs)[-1] <= lumped_drop_v(rungs, 12) + 1e-9


@given(st.floats(0.1, 500), st.floats(0.1, 200), st.floats(0.001, 5), st.floats(0.1, 10))
def test_drop_is_linear_in_length_and_current(metres: float, per_km: float, current: float, times: float) -> None:
    once = drop_v(metres, per_km, current)
    assert drop_v(metres * times, per_km, current) == pytest.approx(once * times)
    assert drop_v(metres, per_km, current * times) == pytest.approx(once * times)
    assert drop_v(longest_m(once, per_km, current), per_km, current) == pytest.approx(once)


@given(LOADS)
def test_volts_never_rise_along_the_cable(loads: list[tuple[float, float]]) -> None:
    found = voltages(12, [Rung(*each) for each in loads])
    assert all(later <= before + 1e-12 for before, later in zip((12, *found), found, strict=False))


@pytest.mark.parametrize(
    ("rung", "part"),
    [(Rung(-1, 0.1), "-1 Ω; 0 or more"), (Rung(1, 0.1, 0), "0 Ω; more than 0"), (Rung(1, 0.1, -40), "-40 Ω")],
)
def test_bad_values_get_a_sentence(rung: Rung, part: str) -> None:
    with pytest.raises(AlarmProblem, match=part.replace(".", r"\.")):
        voltages(12, [Rung(1, 0.1), rung])
