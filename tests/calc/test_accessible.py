"""Openings within reach by UL 1641's distances."""

from itertools import combinations
from math import dist

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.plan import accessible
from alarmlib.calc.plan.accessible import LEDGE_M, REACH_M, Height, reachable
from alarmlib.calc.plan.floor_plan import Plan, PlanOpening, PlanRoom, spots_of_openings


def found(heights, spots=None):
    return {reach.opening for reach in reachable(heights, spots)}


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
    along = {"low": 0.0, "mid": 3.5, "high": 3.5 + 3.7, "far": 3.5 + 3.7 + 3.8}
    reaches = {r.opening: r for r in reachable(heights, {name: ("ground", (m, 0.0)) for name, m in along.items()})}
    assert list(reaches) == ["low", "mid", "high"]
    assert reaches["mid"].why == "3.5 m from an opening within reach"
    assert reaches["high"].passed_on_from == "mid"


def test_unknown_height_counts_as_within_reach():
    (reach,) = reachable([Height("w", None)])
    assert reach.why == "height not known"


def test_openings_that_nobody_described_are_left_out():
    assert found([Height("a", 1.0)], {"a": ("g", (0.0, 0.0)), "ghost": ("g", (1.0, 0.0))}) == {"a"}


def test_another_storey_and_what_is_not_drawn_are_far_apart():
    """3, 4, 5 m; the plan says which openings have a place."""
    rooms = (PlanRoom("a", "ground", ((0, 0), (9, 0), (9, 9), (0, 9))), PlanRoom("b", "upper"))
    openings = (
        PlanOpening("w1", "a", (0, 3)),
        PlanOpening("w2", "a", (2, 3)),
        PlanOpening("w3", "b", (0, 3)),
        PlanOpening("w4", "a"),
        PlanOpening("w5", "gone", (0, 3)),
    )
    spots = spots_of_openings(Plan(rooms=rooms, openings=openings))
    assert spots == {"w1": ("ground", (0, 3)), "w2": ("ground", (2, 3)), "w3": ("upper", (0, 3))}
    heights = [Height("w1", 1.0), *(Height(name, 9.0) for name in ("w2", "w3", "w4", "w5"))]
    assert found(heights, spots) == {"w1", "w2"}


names = [f"w{n}" for n in range(6)]
heights_above = st.lists(st.floats(0, 12), min_size=6, max_size=6)
places = st.tuples(st.sampled_from(["g", "u"]), st.tuples(st.floats(-9, 9), st.floats(-9, 9)))
placed = st.dictionaries(st.sampled_from(names), places)


@given(heights_above, placed, st.integers(0, 5))
def test_lowering_an_opening_never_takes_one_out_of_reach(above, spots, which):
    heights = [Height(name, m) for name, m in zip(names, above, strict=True)]
    lowered = [
        Height(h.opening, h.above_ground_m / 2 if n == which else h.above_ground_m) for n, h in enumerate(heights)
    ]
    assert found(heights, spots) <= found(lowered, spots)


@given(heights_above, placed)
def test_what_is_passed_on_is_what_a_graph_joins(above, spots):
    """All pairs, and networkx for what is joined."""
    graph = networkx.Graph()
    graph.add_nodes_from(names)
    for (one, at), (other, there) in combinations(spots.items(), 2):
        if at[0] == there[0] and dist(at[1], there[1]) <= REACH_M:
            graph.add_edge(one, other)
    low = {name for name, m in zip(names, above, strict=True) if m <= REACH_M}
    joined = {name for part in networkx.connected_components(graph) if part & low for name in part}
    assert found([Height(n, m) for n, m in zip(names, above, strict=True)], spots) == joined


@pytest.mark.parametrize("step_m", [0.0, 1.0, 3.0])
def test_twice_the_openings_is_twice_the_work(step_m, monkeypatch):
    """At one place, along a wall: every distance that is worked out is counted; all pairs had been."""
    count = 0

    def counted(one, other):
        nonlocal count
        count += 1
        return dist(one, other)

    monkeypatch.setattr(accessible, "dist", counted)
    counts = []
    for many in (200, 400):
        count = 0
        heights = [Height(str(n), 0.0 if n % 2 else 9.0) for n in range(many)]
        reachable(heights, {str(n): ("g", (n * step_m, 0.0)) for n in range(many)})
        counts.append(count)
    assert counts[1] <= 2.2 * counts[0] + 2
    assert counts[1] < 400 * 12
