# ruff: noqa: E501 - one case a line reads best
"""Sound against ISO 9613, NIOSH, building acoustics, and a library of other people."""

from math import log10

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sound_propagation import AtmosphericPropagation

from alarmlib.calc.sound.levels import (
    PARTITIONS,
    added,
    added_unsure_db,
    air_db_per_km,
    at_distance,
    bearable_s,
    composite_db,
    pillow_target_dba,
)
from alarmlib.errors import AlarmProblem


@pytest.mark.outside
@pytest.mark.parametrize(("metres", "level"), [(12.0, 104.44), (21.0, 99.58)])
def test_siren_in_the_open(metres: float, level: float) -> None:
    """Source: a published exercise: 120 dB at 2.0 m; answers by the 6 dB rule."""
    assert at_distance(120, 2.0, metres) == pytest.approx(level, abs=0.005)


@pytest.mark.outside
def test_rated_at_ten_feet() -> None:
    """Source: UL 217 family's 85 dBA at 10 ft (from memory): 94.68 at 1 m, 85.14 at 3 m, 78.98 at 20 ft."""
    assert [at_distance(85, 3.048, m) for m in (1, 3, 6.096)] == pytest.approx([94.68, 85.14, 78.98], abs=0.005)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("levels", "whole"), [([90, 90], 93.0103), ([80, 85], 86.1933), ([70] * 10, 80.0), ([60] * 100, 80.0)]
)
def test_adding_levels(levels: list[float], whole: float) -> None:
    """Source: python-acoustics and acoustic-toolbox; a fire marshal's note: a hundredfold is 20 dB."""
    assert added(levels) == pytest.approx(whole, abs=1e-4)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("parts", "loss"), [([(30, 60), (2, 15)], 27.04), ([(29.976, 60), (2, 15), (0.024, 0)], 25.64)]
)
def test_composite(parts: list[tuple[float, float]], loss: float) -> None:
    """Source: a published exercise, wall of 8 x 4 m with a door of 1 x 2 m; with a 4 mm gap round 6 m of it."""
    assert composite_db(parts) == pytest.approx(loss, abs=0.005)


@pytest.mark.outside
def test_named_trap_a_window_cannot_raise_the_loss() -> None:
    """Source: a web answer that adds 10^(TL/10) and gets 60.13 dB for a 60 dB wall with a 45 dB window."""
    assert 45 < composite_db([(10, 60), (2, 45)]) < 60


ISO_9613_1 = [
    (10, 70, 1000, 3.66),
    (20, 50, 1000, 4.66),
    (20, 50, 2000, 9.86),
    (0, 20, 2000, 34.6),
    (10, 50, 4000, 46.7),
    (30, 50, 4000, 24.5),
    (25, 100, 2000, 11.4),
]


@pytest.mark.outside
@pytest.mark.parametrize(("celsius", "humidity", "hz", "loss"), ISO_9613_1)
def test_air_by_the_standard(celsius: float, humidity: float, hz: float, loss: float) -> None:
    """Source: ISO 9613-1 table 1, dB/km, at exact mid-bands (base ten)."""
    exact = 1000 * 10 ** (round(10 * log10(hz / 1000)) / 10)
    assert air_db_per_km(exact, celsius, humidity) == pytest.approx(loss, rel=0.006)


ISO_9613_2 = {(10, 70): (0.1, 0.4, 1.0, 1.9, 3.7, 9.7, 32.8, 117), (20, 70): (0.1, 0.3, 1.1, 2.8, 5.0, 9.0, 22.9, 76.6),
              (30, 70): (0.1, 0.3, 1.0, 3.1, 7.4, 12.7, 23.1, 59.3), (15, 20): (0.3, 0.6, 1.2, 2.7, 8.2, 28.2, 88.8, 202),
              (15, 50): (0.1, 0.5, 1.2, 2.2, 4.2, 10.8, 36.2, 129), (15, 80): (0.1, 0.3, 1.1, 2.4, 4.1, 8.3, 23.7, 82.8)}  # fmt: skip


@pytest.mark.outside
@pytest.mark.parametrize(("air", "row"), ISO_9613_2.items())
def test_air_by_octaves(air: tuple[float, float], row: tuple[float, ...]) -> None:
    """Source: ISO 9613-2 table 2, 63 Hz to 8 kHz; within its rounding."""
    found = [air_db_per_km(1000 * 10 ** (0.3 * n), *air) for n in range(-4, 4)]
    assert found == pytest.approx(row, rel=0.02, abs=0.06)


@pytest.mark.outside
@pytest.mark.parametrize("hz", [500.0, 1000.0, 2000.0, 4000.0])
@pytest.mark.parametrize(("celsius", "humidity"), [(20.0, 50.0), (0.0, 80.0), (30.0, 20.0)])
def test_air_by_another_library(hz: float, celsius: float, humidity: float) -> None:
    """Source: sound-propagation 0.1, another implementation of ISO 9613-1."""
    other = AtmosphericPropagation(celsius, humidity)
    per_m = float(np.asarray(other.absorption_coefficient(np.array([hz])))[0])
    assert air_db_per_km(hz, celsius, humidity) == pytest.approx(1000 * per_m, rel=1e-3)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("level", "minutes"), [(85, 480), (88, 240), (91, 120), (94, 60), (97, 30), (100, 15), (110, 1.488), (115, 0.469)]
)
def test_how_long_ears_bear_it(level: float, minutes: float) -> None:
    """Source: NIOSH criteria, as its noise app prints them."""
    assert bearable_s(level) / 60 == pytest.approx(minutes, rel=2e-3)


@pytest.mark.outside
@pytest.mark.parametrize(("ambient", "loudest", "asked"), [(35, 50, 75), (65, 50, 80), (35, 78, 83), (35, None, 75)])
def test_pillow(ambient: float, loudest: float | None, asked: float) -> None:
    """Source: NFPA 72 18.4.6.1, as quoted in a code forum."""
    assert pillow_target_dba(ambient, loudest) == asked


@pytest.mark.outside
@pytest.mark.parametrize(
    ("name", "stc_like"), [("hollow wooden door", 19), ("solid wooden door", 34), ("4 in brick", 45)]
)
def test_partitions_against_their_single_number(name: str, stc_like: float) -> None:
    """Source: Introduction to Acoustics, table 11.4: each row's octaves lie around its STC."""
    assert min(PARTITIONS[name]) <= stc_like <= max(PARTITIONS[name])


def test_house_chain() -> None:
    """By hand: 105 at 1 m, 6 m of hall, an 18 dB door: 71.4: short of 75. 85 at 10 ft reaches 75 out to 9.64 m."""
    assert at_distance(105, 1, 6) - 18 == pytest.approx(71.4, abs=0.05)
    assert at_distance(85, 3.048, 9.64) == pytest.approx(75, abs=0.01)


@given(st.lists(st.floats(0, 120), min_size=1, max_size=8), st.floats(0, 120))
def test_a_further_source_never_lowers_the_level(levels: list[float], more: float) -> None:
    assert added([*levels, more]) >= added(levels) - 1e-9


@given(st.lists(st.tuples(st.floats(0.01, 50), st.floats(0, 70)), min_size=1, max_size=6))
def test_composite_lies_between_its_parts(parts: list[tuple[float, float]]) -> None:
    losses = [loss for _, loss in parts]
    assert min(losses) - 1e-9 <= composite_db(parts) <= max(losses) + 1e-9


@pytest.mark.parametrize(("call", "part"), [
    (lambda: at_distance(100, None, 3), "without the distance"), (lambda: at_distance(100, 0, 3), "without the distance"),
    (lambda: at_distance(100, 1, 0), "distance is 0 m"), (lambda: composite_db([]), "parts of more than 0"), (lambda: composite_db([(-1, 3), (3, 3)]), "more than 0"),
])  # fmt: skip
def test_bad_values_get_a_sentence(call: object, part: str) -> None:
    with pytest.raises(AlarmProblem, match=part):
        call()  # type: ignore[operator]


TOGETHER = [  # levels, each with what makes it unsure, and what they are together unsure by
    ([(66, {"meter": 2}), (65, {"room": 4, "a": 3, "door": 3})], 2.8116661741718816),
    ([(70, {"room": 4, "a": 3, "d1": 3}), (68, {"room": 4, "b": 3, "d1": 3}), (69, {"room": 4, "c": 3, "d2": 3})],
     4.913261774590087),
    ([(70, {"room": 4, "a": 3}), (70, {"room": 4, "b": 3})], 4.527692569068708),
    ([(70, {"room": 4, "a": 3})], 5.0),
]  # fmt: skip


@pytest.mark.outside
@pytest.mark.parametrize(("parts", "wanted"), TOGETHER)
def test_unsureness_of_a_sum(parts: list[tuple[float, dict[str, float]]], wanted: float) -> None:
    """Source: the library `uncertainties` 3.2.3, one variable a cause, 10 log10 of the sum of 10^(Li / 10)."""
    assert added_unsure_db(parts) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(("parts", "_wanted"), TOGETHER)
def test_unsureness_by_sampling(parts: list[tuple[float, dict[str, float]]], _wanted: float) -> None:
    """numpy, 200,000 draws, seed 7: a twentieth of the causes to 1 %; whole, first order is up to a tenth too small."""
    for part, off in ((0.05, 0.01), (1.0, 0.1)):
        draws = np.random.default_rng(7)
        drawn = {cause: draws.standard_normal(200_000) for _, causes in parts for cause in causes}
        levels = [level + sum(part * dB * drawn[cause] for cause, dB in causes.items()) for level, causes in parts]
        spread = float(np.std(10 * np.log10(sum(10 ** (each / 10) for each in levels))))
        small = [(level, {cause: part * dB for cause, dB in causes.items()}) for level, causes in parts]
        assert added_unsure_db(small) == pytest.approx(spread, rel=off)


@given(st.lists(st.tuples(st.floats(20, 120), st.floats(0, 9), st.floats(0, 9)), min_size=1, max_size=6))
def test_unsureness_lies_between_its_bounds(each: list[tuple[float, float, float]]) -> None:
    """Never over the loudest uncertainty of any part; with causes of their own only, never over with one cause."""
    own = [(level, {f"own {n}": unsure}) for n, (level, _, unsure) in enumerate(each)]
    shared = [(level, {"all": unsure}) for level, _, unsure in each]
    assert added_unsure_db(own) <= added_unsure_db(shared) + 1e-9
    assert added_unsure_db(shared) <= max(unsure for _, _, unsure in each) + 1e-9


def test_no_level_is_a_mistake() -> None:
    with pytest.raises(AlarmProblem, match="one or more"):
        added_unsure_db([])
