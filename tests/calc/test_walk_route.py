"""The round of the walk test: published optimum, brute force, and waiting."""

from itertools import pairwise, permutations
from math import acos, cos, hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from alarmlib.calc.walking.tour import shortest_tour
from alarmlib.calc.walking.walk_route import TestStop, plan_walk_test, walk_figure
from alarmlib.errors import FieldProblem

# TSPLIB burma14: coordinates as degrees and minutes, GEO distances; published optimum 3323 (the library's
# own `solutions` file). Distances and optimum are integers, so the tolerance is 0.
BURMA14 = (
    (16.47, 96.10), (16.47, 94.44), (20.09, 92.54), (22.39, 93.37), (25.23, 97.24), (22.00, 96.05), (20.47, 97.02),
    (17.20, 96.29), (16.30, 97.38), (14.05, 98.12), (16.53, 97.38), (21.52, 95.59), (19.41, 97.13), (20.09, 94.55),
)  # fmt: skip


def radians(degrees_minutes):
    degrees = int(degrees_minutes)
    return 3.141592 * (degrees + 5.0 * (degrees_minutes - degrees) / 3.0) / 180.0


def geo(one, other):
    """TSPLIB's GEO rule: PI = 3.141592, RRR = 6378.388, cut to an integer after adding 1."""
    (lat, lon), (lat2, lon2) = [tuple(map(radians, place)) for place in (one, other)]
    q1, q2, q3 = cos(lon - lon2), cos(lat - lat2), cos(lat + lat2)
    return 0 if one == other else int(6378.388 * acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1.0)


BURMA14_KM = [[geo(one, other) for other in BURMA14] for one in BURMA14]


@pytest.mark.outside
@pytest.mark.parametrize("exact_stops", [13, 3], ids=["recursion", "integer program"])
def test_burma14_optimum(exact_stops):
    tour = shortest_tour(BURMA14_KM, exact_stops=exact_stops)
    assert (tour.length, tour.bound, tour.gap) == (3323, 3323, 0)
    assert sorted(tour.order) == list(range(14))
    assert sum(BURMA14_KM[a][b] for a, b in pairwise((*tour.order, tour.order[0]))) == 3323


points = st.lists(st.tuples(st.floats(0, 20), st.floats(0, 20)), min_size=1, max_size=7)


def table(places):
    return [[hypot(a - c, b - d) for c, d in places] for a, b in places]


def brute_force(cost):
    rounds = ((0, *rest, 0) for rest in permutations(range(1, len(cost))))
    return min(sum(cost[a][b] for a, b in pairwise(order)) for order in rounds)


@settings(max_examples=40)
@given(points)
def test_recursion_agrees_with_trying_every_order(places):
    assert shortest_tour(table(places)).length == pytest.approx(brute_force(table(places)), abs=1e-9)


@settings(max_examples=25)
@given(points)
def test_integer_program_agrees_with_trying_every_order(places):
    """To a thousandth a leg, in which the program counts."""
    tour = shortest_tour(table(places), exact_stops=0)
    assert tour.length == pytest.approx(brute_force(table(places)), abs=0.01)


def test_thirty_stops_are_proved_shortest():
    """On a circle the shortest round is the polygon: the order is known without computing."""
    from math import pi, sin

    places = [(10 * cos(2 * pi * k * 7 / 31), 10 * sin(2 * pi * k * 7 / 31)) for k in range(31)]
    tour = shortest_tour(table(places))
    assert tour.gap == 0
    assert tour.length == pytest.approx(31 * 2 * 10 * sin(pi / 31), abs=1e-6)


def test_no_time_gives_a_round_with_an_honest_gap():
    """With no time for the integer program the bound stays low and the result tells the gap."""
    places = [(k * 7 % 31, k * 11 % 29) for k in range(25)]
    tour = shortest_tour(table(places), time_limit_s=0.0)
    best = shortest_tour(table(places))
    assert sorted(tour.order) == list(range(25))
    assert best.gap == 0
    assert tour.bound <= best.length + 1e-6 <= tour.length + 2e-6
    assert tour.gap > 0


@pytest.mark.parametrize("cost", [[], [[0, 1], [2, 0]], [[0, float("inf")], [float("inf"), 0]], [[0, 1]]])
def test_a_table_that_is_no_table_is_refused(cost):
    with pytest.raises(FieldProblem):
        shortest_tour(cost)


LINE_S = [[abs(a - b) * 10.0 for b in range(4)] for a in range(4)]


def test_visits_follow_one_another():
    """Stops 10 s apart on a line, tests of 5 s, back at the start: 60 s on foot, 15 s of tests."""
    walk = plan_walk_test([TestStop(name, test_s=5) for name in "abc"], LINE_S)
    assert walk.back_s == walk.least_s == 75
    assert walk.waiting_s == 0
    assert all(later.arrive_s >= sooner.done_s for sooner, later in pairwise(walk.visits))


def test_warm_up_is_waited_for():
    walk = plan_walk_test([TestStop("a", 5, warm_up_s=120), TestStop("b", 5), TestStop("c", 5)], LINE_S)
    assert next(visit for visit in walk.visits if visit.stop == "a").wait_until_s >= 120
    assert walk.back_s == walk.least_s == 135  # the way round that leaves it for last


def test_sleep_time_after_a_trip_in_passing():
    """b rests 180 s after it was tripped by the walk to a, wherever in the order it comes later."""
    stops = [TestStop("a", 5), TestStop("b", 5, quiet_s=180, tripped_at=frozenset({"a", "c"})), TestStop("c", 5)]
    walk = plan_walk_test(stops, LINE_S)
    times = {visit.stop: visit for visit in walk.visits}
    first = min(times["a"].arrive_s, times["c"].arrive_s)
    assert times["b"].wait_until_s == pytest.approx(first + 180)


def test_movement_that_restarts_the_rest_lengthens_the_wait():
    def wait(restarts):
        near = frozenset({"a", "c"})
        stops = [
            TestStop("a", 5),
            TestStop("b", 5, quiet_s=180, tripped_at=near, movement_restarts=restarts),
            TestStop("c", 5),
        ]
        return plan_walk_test(stops, LINE_S).waiting_s

    assert wait(True) == wait(False) + 5


def test_figure_says_what_is_proved():
    figure = walk_figure(plan_walk_test([TestStop("a"), TestStop("b"), TestStop("c")], LINE_S))
    assert dict(figure.inputs)["on foot"] == "60 s, proved shortest"


def test_table_must_fit_the_stops():
    with pytest.raises(FieldProblem, match="one for each stop"):
        plan_walk_test([TestStop("a")], LINE_S)
