"""Walks against closed forms, and what must hold for every walk."""

from math import hypot, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from alarmlib.calc.plan.floor_plan import (
    Place,
    Plan,
    PlanFurniture,
    PlanOpening,
    PlanPassage,
    PlanRoom,
    PlanStorey,
    plan_from_home,
)
from alarmlib.calc.walking.free_floor import FreeFloor
from alarmlib.calc.walking.gait import Spread
from alarmlib.calc.walking.routes import routes
from alarmlib.calc.walking.walkers import STOPWATCH_M_S, Walker
from alarmlib.calc.walking.walks import WalkMap, level_length_m, walk_seconds
from alarmlib.errors import FieldProblem
from alarmlib.model.site import PassageKind
from alarmlib.record.produce import demo_home

ONE_M_S = Walker(Spread(1.0), up_m_s=0.5, down_m_s=0.8, door_s=0.0, stopwatch_m_s=1.0)


def box(x, y, width, depth):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def pillar_plan(*blocks):
    furniture = tuple(PlanFurniture(f"block_{n}", "hall", outline) for n, outline in enumerate(blocks))
    return Plan((PlanStorey("ground"),), (PlanRoom("hall", "ground", box(0, 0, 10, 10)),), furniture=furniture)


def walk_between(plan, start, end, **settings_):
    places = Place("hall", start), Place("hall", end)
    return WalkMap(plan, places, **settings_).walk(*places, ONE_M_S)


@pytest.mark.outside
def test_walk_round_a_pillar_is_two_root_ten_and_two():
    """Closed form: (5,1) to (5,9) round a 2 m pillar about (5,5) is 2√10 + 2 = 8.324555 m."""
    walk = walk_between(pillar_plan(box(4, 4, 2, 2)), (5, 1), (5, 9), body_half_m=0.0)
    assert walk.length_m == pytest.approx(2 * sqrt(10) + 2, abs=1e-6)
    assert walk.length_m == pytest.approx(8.324555, abs=1e-6)


@pytest.mark.outside
def test_body_width_grows_the_pillar():
    """Closed form: a pillar of 1.5 m grown by 0.25 m on each side is walked round as one of 2 m."""
    walk = walk_between(pillar_plan(box(4.25, 4.25, 1.5, 1.5)), (5, 1), (5, 9), body_half_m=0.25)
    assert walk.length_m == pytest.approx(2 * sqrt(10) + 2, abs=1e-6)


@pytest.mark.outside
def test_walk_round_the_corner_of_an_l_room():
    """Closed form: from (0.5,3.5) to (3.5,0.5) of an L with its inner corner at (2,2), passed at (1.75,1.75)."""
    room = PlanRoom("hall", "ground", ((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)))
    walk = walk_between(Plan((PlanStorey("ground"),), (room,)), (0.5, 3.5), (3.5, 0.5))
    assert walk.length_m == pytest.approx(2 * hypot(1.25, 1.75), abs=1e-5)
    assert len(walk.legs[0].points) == 3


def two_rooms(gap=0.0, kind=PassageKind.DOOR, width=0.8):
    rooms = PlanRoom("hall", "ground", box(0, 0, 4, 4)), PlanRoom("study", "ground", box(4 + gap, 0, 4, 4))
    door = PlanPassage("study_door", ("hall", "study"), kind, at=(4 + gap / 2, 2), width_m=width)
    return Plan((PlanStorey("ground"),), rooms, passages=(door,))


@pytest.mark.outside
@pytest.mark.parametrize("gap", [0.0, 0.2])
def test_straight_through_a_doorway(gap):
    """Closed form: a straight walk through the middle of a door is as long as the distance."""
    places = Place("hall", (1, 2)), Place("study", (7 + gap, 2))
    walk = WalkMap(two_rooms(gap), places).walk(*places, ONE_M_S)
    assert walk.length_m == pytest.approx(6 + gap, abs=1e-6)
    assert walk.rooms == ("hall", "study")
    assert walk.doors == ("study_door",)


@pytest.mark.outside
def test_slanting_walk_touches_both_jambs():
    """Closed form: thin wall at x = 4, door 0.8 m at y = 2; from (1,3.5) to (7,3.5) the walk bends at the
    upper jamb's grown corners (3.75, 2.15) and (4.25, 2.15)."""
    places = Place("hall", (1, 3.5)), Place("study", (7, 3.5))
    walk = WalkMap(two_rooms(), places).walk(*places, ONE_M_S)
    assert walk.length_m == pytest.approx(2 * hypot(2.75, 1.35) + 0.5, abs=1e-4)


def test_open_doorway_is_no_closed_door():
    places = Place("hall", (1, 2)), Place("study", (7, 2))
    assert WalkMap(two_rooms(kind=PassageKind.DOORWAY), places).walk(*places, ONE_M_S).doors == ()


def test_door_narrower_than_a_body_can_be_passed():
    places = Place("hall", (1, 2)), Place("study", (7, 2))
    walk = WalkMap(two_rooms(width=0.4), places).walk(*places, ONE_M_S)
    assert walk.length_m == pytest.approx(6, abs=1e-6)


def test_no_door_no_way():
    """Rooms drawn wall to wall without a door have no way between them."""
    plan = two_rooms()
    places = Place("hall"), Place("study")
    assert WalkMap(Plan(plan.storeys, plan.rooms), places).walk(*places, ONE_M_S) is None


def test_place_that_isnt_on_the_map_is_refused():
    with pytest.raises(FieldProblem, match="place of this map"):
        WalkMap(two_rooms()).walk(Place("hall", (1, 1)), Place("study"), ONE_M_S)


def upstairs(**facts):
    storeys = PlanStorey("ground"), PlanStorey("upper", 2.7)
    rooms = PlanRoom("hall", "ground", box(0, 0, 4, 6)), PlanRoom("landing", "upper", box(0, 0, 4, 6))
    stairs = PlanPassage("stairs", ("hall", "landing"), PassageKind.STAIRS, **facts)
    return Plan(storeys, rooms, passages=(stairs,))


@pytest.mark.outside
def test_stairs_are_walked_along_their_slope():
    """Closed form: a rise of 2.7 m over a run of 3.6 m is a slope of 4.5 m (3-4-5)."""
    places = Place("hall", (2, 0.5)), Place("landing", (2, 5.5))
    walks = WalkMap(upstairs(at=(2, 1), at_second=(2, 4.6)), places)
    up, down = walks.walk(*places, ONE_M_S), walks.walk(*places[::-1], ONE_M_S)
    assert (up.up_m, up.down_m) == (pytest.approx(4.5), 0)
    assert (down.up_m, down.down_m) == (0, pytest.approx(4.5))
    assert up.level_m == pytest.approx(0.5 + 0.9)
    assert walk_seconds(up, ONE_M_S) == pytest.approx(1.4 + 4.5 / 0.5)
    assert walk_seconds(down, ONE_M_S) == pytest.approx(1.4 + 4.5 / 0.8)
    assert [leg.storey for leg in up.legs] == ["ground", "upper"]


def test_stairs_without_ends_are_an_assumption_that_is_named():
    places = Place("hall"), Place("landing")
    walk = WalkMap(upstairs(), places).walk(*places, ONE_M_S)
    assert walk.assumed == ("stairs",)
    assert walk.up_m == pytest.approx(2.7 * 1.9)


def table_plan():
    """Rooms, doors and seconds alone: front -> hall -> {kitchen, living} -> study, two ways to the study."""
    rooms = tuple(PlanRoom(name) for name in ("hall", "kitchen", "living", "study", "attic"))
    seconds = (("hall", "kitchen", 4), ("hall", "living", 5), ("kitchen", "study", 6), ("living", "study", 8))
    ways = tuple(PlanPassage(f"{one}_{other}", (one, other), seconds=s) for one, other, s in seconds)
    return Plan(rooms=rooms, openings=(PlanOpening("front", "hall"),), passages=ways)


def test_a_table_of_rooms_doors_and_seconds_is_enough():
    plan = table_plan()
    walk = WalkMap(plan).walk(plan.place_of_opening("front"), Place("study"), ONE_M_S)
    assert (walk.stopwatch_s, walk.rooms) == (10, ("hall", "kitchen", "study"))
    assert walk_seconds(walk, ONE_M_S) == 10


def test_stopwatch_seconds_take_a_slow_person_longer():
    """Seconds are taken as an adult's; half that pace takes twice as long."""
    plan = table_plan()
    slow = Walker(Spread(STOPWATCH_M_S / 2), door_s=0)
    walk = WalkMap(plan).walk(Place("hall"), Place("kitchen"), slow)
    assert walk_seconds(walk, slow) == pytest.approx(8)
    assert level_length_m(walk, slow) == pytest.approx(4 * STOPWATCH_M_S)


def test_drawn_and_undrawn_rooms_are_walked_together():
    plan = two_rooms()
    shed = Plan(
        plan.storeys,
        (*plan.rooms, PlanRoom("shed")),
        passages=(*plan.passages, PlanPassage("yard", ("study", "shed"), PassageKind.OUTSIDE, seconds=20)),
    )
    start, end = Place("hall", (1, 2)), Place("shed")
    walk = WalkMap(shed, (start, end)).walk(start, end, ONE_M_S)
    assert walk.stopwatch_s == 20
    assert walk.level_m == pytest.approx(5, abs=1e-6)  # to the study's middle (6, 2)
    assert walk.rooms == ("hall", "study", "shed")


def test_a_way_nobody_timed_is_assumed_and_named():
    plan = Plan(rooms=(PlanRoom("a"), PlanRoom("b")), passages=(PlanPassage("d", ("a", "b")),))
    walk = WalkMap(plan).walk(Place("a"), Place("b"), ONE_M_S)
    assert (walk.stopwatch_s, walk.assumed) == (5, ("d",))


def test_routes_list_the_quickest_and_those_near_it():
    found = routes(WalkMap(table_plan()), Place("hall"), Place("study"), ONE_M_S, factor=1.5)
    assert [(way.rooms[1], way.seconds) for way in found.ways] == [("kitchen", 10), ("living", 13)]
    assert found.rooms_passed == {"hall", "kitchen", "living", "study"}
    assert found.complete
    assert len(routes(WalkMap(table_plan()), Place("hall"), Place("study"), ONE_M_S, factor=1.2).ways) == 1


def test_route_within_one_room_and_to_nowhere():
    walks = WalkMap(table_plan())
    assert [way.rooms for way in routes(walks, Place("hall"), Place("hall"), ONE_M_S).ways] == [("hall",)]
    assert routes(walks, Place("hall"), Place("attic"), ONE_M_S).ways == ()


def test_routes_through_drawn_rooms_keep_to_their_rooms():
    """Three rooms about a ring: each way is walked inside its own rooms."""
    rooms = (
        PlanRoom("hall", "g", box(0, 0, 4, 4)), PlanRoom("kitchen", "g", box(4, 0, 4, 4)),
        PlanRoom("living", "g", box(0, 4, 8, 4)),
    )  # fmt: skip
    doors = (
        PlanPassage("a", ("hall", "kitchen"), at=(4, 2)), PlanPassage("b", ("kitchen", "living"), at=(6, 4)),
        PlanPassage("c", ("hall", "living"), at=(2, 4)),
    )  # fmt: skip
    start, end = Place("hall", (2, 1)), Place("living", (4, 7))
    found = routes(
        WalkMap(Plan((PlanStorey("g"),), rooms, passages=doors), (start, end)), start, end, ONE_M_S, factor=3
    )
    assert [way.rooms for way in found.ways] == [("hall", "living"), ("hall", "kitchen", "living")]
    assert found.ways[1].walk.doors == ("a", "b")


coordinate = st.floats(0.5, 9.5)
block = st.tuples(st.floats(1, 7), st.floats(1, 7), st.floats(0.2, 2), st.floats(0.2, 2)).map(lambda b: box(*b))


@settings(max_examples=60)
@given(coordinate, coordinate, coordinate, coordinate, block, block)
def test_more_furniture_never_shortens_a_walk(ax, ay, bx, by, one, other):
    """Between points free in both plans; and no walk is shorter than the straight line."""
    start, end = (ax, ay), (bx, by)
    fewer, more = (walk_between(pillar_plan(*blocks), start, end) for blocks in ((one,), (one, other)))
    if more is None or fewer.legs[0].points[0] != more.legs[0].points[0]:
        return
    if fewer.legs[-1].points[-1] != more.legs[-1].points[-1]:
        return
    assert fewer.length_m <= more.length_m + 1e-5
    assert fewer.length_m >= hypot(ax - bx, ay - by) - 1e-5


@settings(max_examples=30)
@given(coordinate, coordinate, coordinate, coordinate, block)
def test_a_level_walk_is_as_long_either_way(ax, ay, bx, by, one):
    there, back = (walk_between(pillar_plan(one), *pair) for pair in (((ax, ay), (bx, by)), ((bx, by), (ax, ay))))
    assert there.length_m == pytest.approx(back.length_m, abs=1e-6)


def test_table_of_seconds_agrees_with_single_walks():
    plan = two_rooms()
    places = [Place("hall", (1, 1)), Place("study", (7, 3)), Place("hall")]
    walks = WalkMap(plan, places)
    table = walks.seconds(places, ONE_M_S)
    for row, start in enumerate(places):
        for column, end in enumerate(places):
            walk = walks.walk(start, end, ONE_M_S)
            assert table[row][column] == pytest.approx(walk_seconds(walk, ONE_M_S), abs=1e-9)


def test_nearest_is_the_quickest_of_all_walks():
    """One search finds the end and the walk that single walks to every end find; no way to any gives nothing."""
    plan, start = two_rooms(), Place("hall", (1, 1))
    ends = Place("study", (7, 3)), Place("hall", (3, 3)), Place("study", (4.5, 1))
    walks = WalkMap(plan, (start, *ends))
    by_walk = min(ends, key=lambda end: walk_seconds(walks.walk(start, end, ONE_M_S), ONE_M_S))
    assert walks.nearest(start, ends, ONE_M_S) == (by_walk, walks.walk(start, by_walk, ONE_M_S))
    apart = WalkMap(Plan(plan.storeys, plan.rooms), (start, ends[0]))
    assert apart.nearest(start, ends[:1], ONE_M_S) is None


def every_sight(plan, places):
    """The map with all straight stretches in it, those that no shortest walk needs as well."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(FreeFloor, "_touched", lambda _self, _points, _ends, one, _other: one >= 0)
        return WalkMap(plan, places)


@settings(max_examples=60)
@given(st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=3), st.lists(block, min_size=1, max_size=4))
def test_stretches_left_out_shorten_no_walk(spots, blocks):
    """Only stretches that touch their corners are kept; the seconds are those over all of them."""
    plan, places = pillar_plan(*blocks), [Place("hall", spot) for spot in spots]
    kept, whole = (walks.seconds(places, ONE_M_S) for walks in (WalkMap(plan, places), every_sight(plan, places)))
    assert kept == [pytest.approx(row, abs=1e-4) for row in whole]


@pytest.mark.parametrize("shut", range(0, 17, 2))
def test_stretches_left_out_shorten_no_walk_at_the_demo_home(shut):
    """The same with a door kept closed, between all rooms."""
    plan = plan_from_home(demo_home())
    open_to = [passage.id for n, passage in enumerate(plan.passages) if n != shut]
    places = [Place(room.id) for room in plan.rooms]
    kept, whole = WalkMap(plan), every_sight(plan, ())
    stretches = [sum(map(len, walks.graph.onward.values())) for walks in (kept, whole)]
    assert stretches[0] < 0.7 * stretches[1]
    for start in places[::3]:
        for end in places:
            found = [walks.walk(start, end, ONE_M_S, open_to) for walks in (kept, whole)]
            seconds = [None if walk is None else walk_seconds(walk, ONE_M_S) for walk in found]
            assert seconds[0] == pytest.approx(seconds[1], abs=1e-4)
            assert [walk.doors for walk in found if walk][:1] == [walk.doors for walk in found if walk][1:]
