"""Openings within reach by UL 1641's distances."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.plan.accessible import LEDGE_M, REACH_M, Height, reachable


def found(heights, apart=None):
    return {reach.opening for reach in reachable(heights, apart)}


@pytest.mark.outside
def test_distances():
    """UL 1641 18.1, seen: 12 ft above a ledge at least 4 ft wide; pint gives the metres to a decimal."""
    import pint

    feet = pint.UnitRegistry()
    assert pytest.approx(feet.Quantity(12, "foot").to("metre").magnitude, abs=0.05) == REACH_M
    assert pytest.approx(feet.Quantity(4, "foot").to("metre").magnitude, abs=0.05) == LEDGE_M


@pytest.mark.outside
@pytest.mark.parametrize(
    ("height", "within"),
    [
        (Height("w", 3.7), True),
        (Height("w", 3.8), False),
        (Height("w", 6.0, ((3.7, 1.2),)), True),
        (Height("w", 6.0, ((3.7, 1.1),)), False),
        (Height("w", 6.0, ((3.8, 2.0),)), False),
    ],
)
def test_above_ground_and_ledge(height, within):
    """UL 1641 18.1, seen: ≤ 3.7 m above a roof or ledge ≥ 1.2 m wide; the ground is taken like a ledge."""
    assert (found([height]) == {"w"}) is within


@pytest.mark.outside
def test_reach_is_passed_on():
    """UL 1641 18.2, seen (without its angle rule): openings ≤ 3.7 m apart pass accessibility on."""
    heights = [Height("low", 1.0), Height("mid", 4.5), Height("high", 8.0), Height("far", 8.0)]
    apart = {("low", "mid"): 3.5, ("high", "mid"): 3.7, ("far", "high"): 3.8}
    reaches = {reach.opening: reach for reach in reachable(heights, apart)}
    assert list(reaches) == ["low", "mid", "high"]
    assert reaches["high"].passed_on_from == "mid"


def test_unknown_height_counts_as_within_reach():
    (reach,) = reachable([Height("w", None)])
    assert reach.why == "height not known"


def test_openings_that_nobody_described_are_left_out():
    assert found([Height("a", 1.0)], {("a", "ghost"): 1.0}) == {"a"}


names = [f"w{n}" for n in range(6)]
heights_above = st.lists(st.floats(0, 12), min_size=6, max_size=6)
distances = st.dictionaries(st.tuples(st.sampled_from(names), st.sampled_from(names)), st.floats(0, 8), max_size=12)


@given(heights_above, distances, st.integers(0, 5))
def test_lowering_an_opening_never_takes_one_out_of_reach(above, apart, which):
    heights = [Height(name, m) for name, m in zip(names, above, strict=True)]
    lowered = [
        Height(h.opening, h.above_ground_m / 2 if n == which else h.above_ground_m) for n, h in enumerate(heights)
    ]
    assert found(heights, apart) <= found(lowered, apart)
