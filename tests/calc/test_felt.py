"""What a walk in metres must and may trip, counted by hand."""

from itertools import pairwise
from math import hypot

from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.coverage.felt import felt_in_metres
from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, PlanRoom, PlanStorey
from alarmlib.model.site import PassageKind


def box(x, y, width, depth):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


PLAN = Plan(
    (PlanStorey("g"), PlanStorey("u", 2.7)),
    (
        PlanRoom("hall", "g", box(0, 0, 10, 4)),
        PlanRoom("study", "g", box(10, 0, 5, 4)),
        PlanRoom("loft", "u", box(0, 0, 10, 4)),
    ),
    passages=(PlanPassage("stairs", ("hall", "loft"), PassageKind.STAIRS, (9, 1), (9, 3)),),
)
SURE = Sight("eye", frozenset({"hall"}), "g", (box(2, 0, 8, 4),), (box(3, 0, 6, 4),))


def walk(*points, sights=(SURE,), storey="g", **more):
    labels = felt_in_metres(sights, PLAN, points, [storey] * len(points), **more)
    return [("must" if "eye" in label.must else "may" if "eye" in label.may else "") for label in labels]


def test_sure_after_four_steps_inside():
    """By hand: sure from x = 3; at 1 m a second from x = 0.5: 0.5 m inside at 3.5, 2.5 m at 5.5 only."""
    points = [(0.5 + second, 2) for second in range(8)]
    assert walk(*points) == ["", "may", "may", "may", "must", "must", "must"]


def test_whoever_keeps_still_is_not_sure():
    assert walk((1, 2), (6, 2), (6, 2), (6.1, 2)) == ["must", "may", "must"]


def test_leaving_the_sure_area_starts_again():
    """By hand: out at x = 3 and back in: 3 m, then 0 at 2.5, then 1.5 m, then 3 m."""
    assert walk((3, 1), (6, 1), (2.5, 1), (4.5, 1), (6, 1)) == ["must", "may", "may", "must"]


def test_through_and_out_within_a_second_is_not_sure():
    assert walk((2.5, 1), (9.5, 1)) == ["may"]


def test_the_possible_area_counts_where_it_is_crossed():
    assert walk((0, 2), (1, 2), (2.5, 2)) == ["", "may"]


def test_the_plan_of_another_storey_is_another_place():
    assert walk((4, 2), (8, 2), (4, 2), storey="u") == ["", ""]


def test_rooms_count_where_no_area_is_drawn():
    """Along the wall of a room nobody is in it yet."""
    study = Sight("eye", frozenset({"study"}))
    assert walk((8, 2), (10, 2), (10, 3), (10.1, 3), (9, 3), (8, 3), sights=(study,)) == ["", "", "may", "may", ""]


def test_on_the_way_between_rooms_their_detectors_may_trip():
    rooms = [frozenset(), frozenset({"hall", "loft"}), frozenset({"hall", "loft"}), frozenset()]
    points, storeys = [(9, 1), None, None, (9, 3)], ["g", "", "", "u"]
    for sight in (Sight("eye", frozenset({"loft"})), SURE):
        labels = felt_in_metres((sight,), PLAN, points, storeys, rooms)
        assert [label.may for label in labels] == [{"eye"}] * 3


def test_opened_doors_must_trip():
    labels = felt_in_metres((), PLAN, [(1, 1), (2, 1), (3, 1)], ["g"] * 3, opened=(frozenset(), frozenset({"c"})))
    assert [label.must for label in labels] == [set(), {"c"}]


def test_tenths_of_a_second_are_put_together():
    points = [(0.5 + tenth / 10, 2) for tenth in range(71)]
    assert walk(*points, per_second=10) == ["", "may", "may", "may", "must", "must", "must"]


@given(st.lists(st.tuples(st.floats(0, 10), st.floats(0, 4)), min_size=2, max_size=8))
def test_against_a_walk_counted_every_centimetre(points):
    """The same walk in 1 cm steps, each wholly in or out of the sure area by its middle: sure within 5 cm alike."""
    found, walked = walk(*points), 0.0
    for (one, other), felt in zip(pairwise(points), found, strict=True):
        length, before, least = hypot(other[0] - one[0], other[1] - one[1]), walked, walked
        steps = max(1, round(length / 0.01))
        for step in range(steps):
            x = one[0] + (step + 0.5) / steps * (other[0] - one[0])
            walked = walked + length / steps if 3 <= x <= 9 else 0.0
        least = min(walked, before)
        if length > 0.05 and walked > 2.44 + 0.1:
            assert felt == "must"
        if walked < 2.44 - 0.1 and least < 2.44:
            assert felt != "must"
