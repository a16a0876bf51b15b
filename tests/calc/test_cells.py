"""Cells of drawn homes: nothing of the floor is lost, walls hold, and no walk is quicker than the cells say."""

from dataclasses import replace
from math import ceil, hypot, inf

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from alarmlib.calc.cells.cell_map import cell_map, components
from alarmlib.calc.cells.sights import Sight, sights_from_home
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
from alarmlib.calc.walking.gait import Spread
from alarmlib.calc.walking.walkers import STOPWATCH_M_S, Walker
from alarmlib.calc.walking.walks import WalkMap, walk_seconds
from alarmlib.errors import FieldProblem
from alarmlib.model.proof import INTRUDER_M_S
from alarmlib.model.site import PassageKind
from alarmlib.record.produce import demo_home

L_SHAPE = ((0, 0), (6, 0), (6, 2.5), (2.5, 2.5), (2.5, 6), (0, 6))
U_SHAPE = ((0, 0), (5, 0), (5, 6), (3.1, 6), (3.1, 1), (1.9, 1), (1.9, 6), (0, 6))


def box(x, y, width, depth):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def one_room(outline, at=None):
    return Plan((PlanStorey("g"),), (PlanRoom("hall", "g", outline),), openings=(PlanOpening("front", "hall", at),))


def two_rooms(gap=0.0, kind=PassageKind.DOOR, door_at=2.0):
    rooms = PlanRoom("hall", "g", box(0, 0, 4, 5)), PlanRoom("study", "g", box(4 + gap, 0, 4, 5))
    door = PlanPassage("door", ("hall", "study"), kind, at=None if door_at is None else (4 + gap / 2, door_at))
    return Plan((PlanStorey("g"),), rooms, openings=(PlanOpening("front", "hall", (0, 2.5), 0.9),), passages=(door,))


def bits(value):
    return [place for place in range(value.bit_length()) if value >> place & 1]


def area(cells, members):
    from shapely.geometry import Polygon

    return sum(Polygon(outline).area for n in members for outline in cells.cells[n].outlines)


def cells_at(cells, point, storey="g"):
    from shapely.geometry import Point, Polygon

    return [
        number
        for number, cell in enumerate(cells.cells)
        if cell.storey == storey and any(Polygon(o).distance(Point(point)) < 1e-9 for o in cell.outlines)
    ]


def onward(cells, reached):
    """All cells that one tick brings."""
    found = 0
    for row in cells.moves:
        for cell, more in row.items():
            if reached >> cell & 1:
                found |= more
    return found


def ticks_from(cells, opening):
    """Tick at which each cell is first reached."""
    reached = 0
    for _, start in cells.starts[opening]:
        reached |= start
    first, tick = dict.fromkeys(bits(reached), 0), 0
    while True:
        more = onward(cells, reached) & ~reached
        if not more:
            return first
        tick += 1
        first.update(dict.fromkeys(bits(more), tick))
        reached |= more


def ticks_to(cells, opening, room):
    return min(ticks_from(cells, opening).get(cell, inf) for cell in bits(cells.goals[room]))


def labels_of(cells, start, end):
    return [label for label, row in zip(cells.labels, cells.moves, strict=True) if row.get(start, 0) >> end & 1]


@pytest.fixture(scope="module")
def home():
    return demo_home()


@pytest.fixture(scope="module")
def house(home):
    """The plan of the demo home's house without its furniture, and its rooms."""
    plan = plan_from_home(home)
    return replace(plan, furniture=()), max(components(plan), key=len)


@pytest.mark.parametrize("outline", [box(0.1, 0.2, 4.33, 3.21), L_SHAPE, U_SHAPE, ((0, 0), (5, 1), (4, 4))])
@pytest.mark.parametrize("side", [0.25, 0.5, 0.63, 3.0])
def test_no_floor_is_lost_and_none_is_counted_twice(outline, side):
    from shapely.geometry import Polygon

    cells = cell_map(one_room(outline), (), 2.533, side)
    assert area(cells, range(len(cells.cells))) == pytest.approx(Polygon(outline).area, abs=1e-9)


def test_no_piece_is_wider_than_a_square_and_a_quarter():
    cells = cell_map(one_room(box(0.1, 0.2, 4.33, 3.21)), (), 2.533)
    for cell in cells.cells:
        for axis in (0, 1):
            values = [point[axis] for point in cell.outlines[0]]
            assert 0.2 * cells.side_m < max(values) - min(values) < 1.26 * cells.side_m


def test_side_is_a_whole_part_of_a_ticks_walk():
    for side, parts in ((0.5, 5), (0.63, 4), (9, 1)):
        assert cell_map(one_room(L_SHAPE), (), 2.533, side).side_m == pytest.approx(2.533 / parts, rel=1e-4)


def test_along_a_wall_nobody_runs_faster_than_top_speed():
    """By hand: a corridor of 20 m at 2 m/s in squares of 0.5 m: 40 squares on take 10 ticks, from the first."""
    cells = cell_map(one_room(box(0, 0, 20, 0.5), at=(0, 0.25)), (), 2.0, 0.5)
    assert max(ticks_from(cells, "front").values()) == ceil((20 - 0.5 - 0.5) / 2)
    assert 2.0 < cells.effective_m_s < 2.7


def test_effective_speed_by_hand():
    """By hand: at 4 squares a tick the worst is 3 on and 4 aside: between them lie 2 and 3, √13 < 4; so 5 for 4."""
    assert cell_map(one_room(L_SHAPE), (), 2.0, 0.5).effective_m_s == pytest.approx(2.5, rel=1e-4)


def test_staying_is_a_move():
    cells = cell_map(two_rooms(), (), 2.533)
    for cell in range(len(cells.cells)):
        assert labels_of(cells, cell, cell)


def test_every_move_can_be_walked_back():
    cells = cell_map(two_rooms(), (Sight("eye", frozenset({"hall"})),), 2.533, contacts={"door": frozenset({"c"})})
    for row in cells.moves:
        for start, ends in row.items():
            assert all(row.get(end, 0) >> start & 1 for end in bits(ends))


def test_without_a_door_there_is_no_way():
    plan = replace(two_rooms(), passages=())
    cells = cell_map(plan, (), 2.533)
    assert ticks_to(cells, "front", "study") == inf


def test_nobody_walks_through_the_wall_of_a_wing():
    """By hand: at the tips of a U its wings are 1.2 m apart, but 10 m by foot: never in one tick, four at least."""
    cells = cell_map(one_room(U_SHAPE, at=(0.95, 6)), (), 2.533)
    first = ticks_from(cells, "front")
    far = cells_at(cells, (4, 5.9))
    assert min(first[cell] for cell in far) == 4
    for start in cells_at(cells, (1.8, 5.5)):
        assert not any(labels_of(cells, start, end) for end in cells_at(cells, (3.2, 5.5)))


@pytest.mark.parametrize("gap", [0.0, 0.2])
def test_rooms_are_joined_by_their_door_alone(gap):
    """By hand: 2 m from the door on either side nobody gets across in 1 s at 2.533 m/s; at the door they do."""
    cells = cell_map(two_rooms(gap), (), 2.533)
    for start in cells_at(cells, (3.9, 4.5)):
        assert not any(labels_of(cells, start, end) for end in cells_at(cells, (4.1 + gap, 4.5)))
    for start in cells_at(cells, (3.9, 2)):
        assert any(labels_of(cells, start, end) for end in cells_at(cells, (4.1 + gap, 2)))


def test_a_guarded_door_trips_its_contact_and_whoever_is_there_opens_it_at_will():
    cells = cell_map(two_rooms(), (), 2.533, contacts={"door": frozenset({"c"})})
    (here,), (there,), (far,) = (cells_at(cells, point) for point in ((3.9, 2.1), (4.1, 2.1), (0.3, 4.8)))
    assert [(label.must, label.may) for label in labels_of(cells, here, there)] == [({"c"}, set())]
    assert [(label.must, label.may) for label in labels_of(cells, here, here)] == [(set(), {"c"})]
    assert [(label.must, label.may) for label in labels_of(cells, far, far)] == [(set(), set())]


def test_a_contact_on_an_open_doorway_trips_for_nobody():
    cells = cell_map(two_rooms(kind=PassageKind.DOORWAY), (), 2.533, contacts={"door": frozenset({"c"})})
    assert not any(label.must | label.may for label in cells.labels)


def test_of_two_doors_side_by_side_either_may_be_taken():
    """Through the guarded door its contact trips; through the other it may still be opened in passing."""
    plan = two_rooms()
    plan = replace(plan, passages=(*plan.passages, PlanPassage("other", ("hall", "study"), at=(4, 3))))
    cells = cell_map(plan, (), 2.533, contacts={"door": frozenset({"c"})})
    (here,), (there,) = (cells_at(cells, point) for point in ((3.9, 2.7), (4.1, 2.7)))
    assert {(label.must, label.may) for label in labels_of(cells, here, there)} == {(frozenset(), frozenset({"c"}))}
    (here,), (there,) = (cells_at(cells, point) for point in ((3.2, 1.1), (5.4, 0.2)))
    assert {(label.must, label.may) for label in labels_of(cells, here, there)} == {(frozenset({"c"}), frozenset())}


def test_a_door_whose_place_is_unknown_is_the_whole_wall():
    cells = cell_map(two_rooms(door_at=None), (), 2.533)
    for start in cells_at(cells, (3.9, 4.9)):
        assert any(labels_of(cells, start, end) for end in cells_at(cells, (4.1, 4.9)))
    assert any("door" in line for line in cells.assumed)


def test_seconds_between_drawn_rooms_apart_count_less_what_lies_in_them():
    """By hand: 10 s at 1.393 m/s are 13.93 m, of which the farthest corners take hypot(2, 2.5) in each room."""
    rooms = PlanRoom("hall", "g", box(0, 0, 4, 5)), PlanRoom("shed", "g", box(20, 0, 4, 5))
    way = PlanPassage("way", ("hall", "shed"), PassageKind.DOORWAY, seconds=10)
    plan = Plan((PlanStorey("g"),), rooms, openings=(PlanOpening("front", "hall", (0, 2.5)),), passages=(way,))
    on_the_way_s = (10 * STOPWATCH_M_S - 2 * hypot(2, 2.5)) / 2.0
    assert ticks_to(cell_map(plan, (), 2.0), "front", "shed") == ceil(on_the_way_s)


def test_stairs_are_as_long_as_their_slope():
    """By hand: 1 m to the stairs, 4.2 m of slope, at the top in the middle: 5.2 m at 2 m/s, 3 ticks."""
    rooms = PlanRoom("hall", "g", box(0, 0, 4, 4)), PlanRoom("landing", "u", box(0, 0, 4, 4))
    stairs = PlanPassage("s", ("hall", "landing"), PassageKind.STAIRS, (2, 1), (2, 2), 0.3, slope_m=4.2)
    plan = Plan((PlanStorey("g"), PlanStorey("u", 2.7)), rooms, (PlanOpening("front", "hall", (2, 0), 0.3),), (stairs,))
    assert ticks_to(cell_map(plan, (), 2.0), "front", "landing") == 3
    slower = replace(plan, passages=(replace(stairs, slope_m=6.2),))
    assert ticks_to(cell_map(slower, (), 2.0), "front", "landing") == 4


def test_furniture_is_walked_over_and_a_note_says_so():
    plan = one_room(box(0, 0, 4, 4))
    table = PlanFurniture("table", "hall", box(1, 1, 2, 2))
    assert cell_map(replace(plan, furniture=(table,)), (), 2.533).moves == cell_map(plan, (), 2.533).moves
    assert any("urniture" in line for line in cell_map(plan, (), 2.533).assumed)


def test_a_home_too_large_is_refused_with_an_estimate():
    """By hand: 100 × 60 m in squares of 0.5 m are 24,000; squares of 0.55 m would do."""
    with pytest.raises(FieldProblem, match=r"about 240\d\d such squares.*0\.55 m or more"):
        cell_map(one_room(box(0, 0, 100, 60)), (), 2.5)


def test_a_large_room_is_taken_in_parts():
    """A hall of 60 × 15 m is 3,600 squares; each may be left for all within a tick, and for no other."""
    cells = cell_map(one_room(box(0, 0, 60, 15)), (), 2.5)
    (corner,) = cells_at(cells, (0.2, 0.2))
    reached = bits(onward(cells, 1 << corner))
    assert len(cells.cells) == 3600
    assert len(reached) == sum(hypot(max(0, a - 1), max(0, b - 1)) < 5 for a in range(9) for b in range(9))


def test_somebody_comes_in_where_the_opening_is():
    """Within half its width; along the walls where its place isn't known."""
    cells = cell_map(one_room(box(0, 0, 5, 5), at=(0, 2.5)), (Sight("eye", frozenset({"hall"})),), 2.533)
    ((label, start),) = cells.starts["front"]
    assert cells.labels[label].may == {"eye"}
    assert set(cells_at(cells, (0, 2.5))) <= set(bits(start))
    assert not set(cells_at(cells, (0, 3.6))) & set(bits(start))
    ((_, anywhere),) = cell_map(one_room(box(0, 0, 5, 5)), (), 2.533).starts["front"]
    assert set(cells_at(cells, (5, 4.9))) <= set(bits(anywhere))
    assert not set(cells_at(cells, (2.5, 2.5))) & set(bits(anywhere))


def test_the_goal_is_the_piece_with_the_rooms_middle():
    cells = cell_map(one_room(box(0, 0, 5, 4.4)), (), 2.533)
    assert set(bits(cells.goals["hall"])) <= set(cells_at(cells, (2.5, 2.2)))


def test_must_needs_four_steps_inside_and_a_move():
    """By hand: 12 × 12 m, sure all over, way in at (0, 6) within 0.5 m: sure 2.94 m off it, and not before."""
    outline = box(0, 0, 12, 12)
    sight = Sight("eye", frozenset({"hall"}), "g", (outline,), (outline,))
    cells = cell_map(one_room(outline, at=(0, 6)), (sight,), 2.533)
    (deep,), (beside,) = (cells_at(cells, point) for point in ((6.2, 6.2), (6.8, 6.2)))
    assert [label.must for label in labels_of(cells, deep, beside)] == [{"eye"}]
    assert [(label.must, label.may) for label in labels_of(cells, deep, deep)] == [(set(), {"eye"})]
    for number, cell in enumerate(cells.cells):
        near = min(hypot(x, max(0, abs(y - 6))) for x, y in cell.outlines[0]) - 0.5
        musts = {"eye" in label.must for label in labels_of(cells, number, deep)} if number != deep else set()
        if near < 2.44 - cells.side_m:
            assert musts <= {False}


def test_the_sure_area_is_entered_again_at_its_edge():
    """By hand: sure from x = 6 on; pieces that begin before 8.44 m are never sure, those after 8.95 m are."""
    outline, sure = box(0, 0, 14, 8), box(6, 0, 8, 8)
    cells = cell_map(one_room(outline, at=(0, 4)), (Sight("eye", frozenset(), "g", (outline,), (sure,)),), 2.533)
    sure_cells = {start for label, row in zip(cells.labels, cells.moves, strict=True) if label.must for start in row}
    for number, cell in enumerate(cells.cells):
        left = min(x for x, _ in cell.outlines[0])
        assert (number in sure_cells) == (left >= 6 + 2.44)


def test_possible_areas_are_felt_where_they_can_be_passed_within_the_second():
    """By hand: a curtain at x = 5 to 5.2 may trip between 2 m squares apart, never for who stays 1.3 m off."""
    outline = box(0, 0, 10, 3)
    cells = cell_map(one_room(outline), (Sight("eye", frozenset(), "g", (box(5, 0, 0.2, 3),)),), 2.533)
    near, far, away = (cells_at(cells, point)[0] for point in ((4.3, 1.3), (6.3, 1.3), (3.0, 1.3)))
    assert [label.may for label in labels_of(cells, near, far)] == [{"eye"}]
    assert [label.may for label in labels_of(cells, away, away)] == [set()]


def test_detectors_of_a_room_may_trip_while_somebody_dashes_through_its_door():
    cells = cell_map(two_rooms(), (Sight("eye", frozenset({"study"})),), 2.533)
    (here,), (far,) = (cells_at(cells, point) for point in ((3.9, 2.1), (0.3, 0.3)))
    assert [label.may for label in labels_of(cells, here, here)] == [{"eye"}]
    assert [label.may for label in labels_of(cells, far, far)] == [set()]


RUNNER = Walker(Spread(INTRUDER_M_S), INTRUDER_M_S, INTRUDER_M_S, 0.0)


def test_no_walk_through_the_demo_home_is_quicker_than_its_cells(house):
    """Every way in, every room: shortest walks of a body 4 cm wide over the bare floor, ticks at most its seconds."""
    plan, rooms = house
    cells = cell_map(plan, (), INTRUDER_M_S, 0.63, rooms)
    walks = WalkMap(plan, body_half_m=0.02)
    for opening in cells.starts:
        first = ticks_from(cells, opening)
        for room in rooms:
            walk = walks.walk(plan.place_of_opening(opening), Place(room), RUNNER)
            assert min(first[cell] for cell in bits(cells.goals[room])) <= ceil(walk_seconds(walk, RUNNER) - 1e-6)


def test_cells_of_the_demo_home_are_not_much_quicker_than_its_walks(house):
    """Regression, no outside source: over all ways in and rooms, at most 3 ticks and on the whole 20 % too early."""
    plan, rooms = house
    cells, walks = cell_map(plan, (), INTRUDER_M_S, 0.5, rooms), WalkMap(plan, body_half_m=0.02)
    early, walked = [], []
    for opening in cells.starts:
        first = ticks_from(cells, opening)
        for room in rooms:
            walk = walks.walk(plan.place_of_opening(opening), Place(room), RUNNER)
            walked.append(ceil(walk_seconds(walk, RUNNER) - 1e-6))
            early.append(walked[-1] - min(first[cell] for cell in bits(cells.goals[room])))
    assert max(early) <= 3
    assert sum(early) < 0.2 * sum(walked)


def test_the_demo_homes_detectors_are_in_its_labels(home, house):
    _, rooms = house
    sights = sights_from_home(home)
    cells = cell_map(home, sights, INTRUDER_M_S, rooms=rooms)
    named = frozenset().union(*(label.may | label.must for label in cells.labels))
    assert named == {sight.device for sight in sights} - {"studio_motion"} | {"pass_door_contact"}
    must = {device for label in cells.labels for device in label.must}
    assert must == {"pass_door_contact", "cellar_motion"}  # the only drawn room that leaves four steps from every way


def grid_graph(plan, step):
    """Independent: a grid with diagonals over floors and door frames, edges by metres."""
    import networkx as nx
    import numpy as np
    from shapely import covers, linestrings, points, union_all
    from shapely.geometry import LineString, Polygon

    floor = union_all([Polygon(room.outline) for room in plan.rooms]).buffer(0)
    walls = union_all([Polygon(room.outline).boundary for room in plan.rooms])
    doors = union_all([LineString(((p.at[0], p.at[1] - 0.4), (p.at[0], p.at[1] + 0.4))) for p in plan.passages])
    free = floor.buffer(1e-6).difference(walls.difference(doors.buffer(1e-3)).buffer(1e-4))
    low_x, low_y, high_x, high_y = floor.bounds
    across, down = (int((high - low) / step) for low, high in ((low_x, high_x), (low_y, high_y)))
    grid = {(i, j): (low_x + (i + 0.5) * step, low_y + (j + 0.5) * step) for i in range(across) for j in range(down)}
    inside = covers(free, points(list(grid.values())))
    where = {place: spot for (place, spot), keep in zip(grid.items(), inside, strict=True) if keep}
    edges = [
        (spot, where[i + di, j + dj])
        for (i, j), spot in where.items()
        for di, dj in ((1, 0), (0, 1), (1, 1), (1, -1))
        if (i + di, j + dj) in where
    ]
    kept = covers(free, linestrings(np.array(edges)))
    graph = nx.Graph()
    for (one, other), keep in zip(edges, kept, strict=True):
        if keep:
            graph.add_edge(one, other, weight=hypot(one[0] - other[0], one[1] - other[1]))
    return graph


@pytest.mark.outside
@pytest.mark.parametrize("plan", [one_room(L_SHAPE, (6, 1)), one_room(U_SHAPE, (0.9, 6)), two_rooms()])
@pytest.mark.parametrize("side", [0.5, 0.36])
def test_cells_against_networkx_on_a_grid(plan, side):
    """Dijkstra of networkx over a grid of 0.1 m: a grid walk is real, so never quicker than the cells; and it is
    8.24 % longer at most than the shortest walk, so the cells, at their effective speed, aren't far before it."""
    import networkx as nx

    cells = cell_map(plan, (), 2.533, side)
    graph = grid_graph(plan, 0.1)
    at = plan.openings[0].at
    start = min(graph, key=lambda spot: hypot(spot[0] - at[0], spot[1] - at[1]))
    lengths = nx.single_source_dijkstra_path_length(graph, start)
    first = ticks_from(cells, "front")
    assert len(lengths) == len(graph) > 1000
    for spot in list(graph)[::23]:
        ticks = min(first[cell] for cell in cells_at(cells, spot))
        assert ticks <= ceil(lengths[spot] / 2.533 - 1e-9)
        turns = len(plan.passages) + len(plan.rooms[0].outline) // 6  # corners and doors may each save a square
        assert ticks * cells.effective_m_s >= lengths[spot] / 1.0824 - (2.5 + 2 * turns) * cells.side_m - 0.5


@settings(max_examples=15)
@given(
    st.floats(1.5, 6), st.floats(1.5, 6), st.floats(1.5, 6), st.floats(0.5, 4),
    st.sampled_from([0.4, 0.5, 0.7, 1.0]), st.floats(0.2, 0.8), st.floats(0, 0.3),
)  # fmt: skip
def test_half_the_side_is_never_earlier(width, depth, other_width, speed, side, along, gap):
    """Cells of half the side lie within these: nothing is reached in fewer ticks."""
    rooms = (
        PlanRoom("hall", "g", box(0.1, 0.3, width, depth)),
        PlanRoom("study", "g", box(0.1 + width + gap, 0, other_width, 7)),
    )
    door = PlanPassage("door", ("hall", "study"), at=(0.1 + width, 0.3 + along * depth), width_m=0.3)
    plan = Plan((PlanStorey("g"),), rooms, (PlanOpening("front", "hall", (0.1, 0.3 + depth / 2)),), (door,))
    coarse = cell_map(plan, (), speed, side)
    fine = cell_map(plan, (), speed, coarse.side_m / 2)
    assert fine.side_m == pytest.approx(coarse.side_m / 2)
    assert ticks_to(coarse, "front", "study") <= ticks_to(fine, "front", "study")


@settings(max_examples=15)
@given(st.floats(1.5, 6), st.floats(1.5, 6), st.floats(0.5, 4), st.floats(1, 2))
def test_who_is_faster_is_never_later(width, depth, speed, times):
    """A top speed raised in the same squares reaches all at least as soon."""
    assume(speed * times < 8)
    plan = one_room(box(0.1, 0.3, width, depth), (0.1, 0.3 + depth / 2))
    slow, fast = cell_map(plan, (), speed, 0.5), cell_map(plan, (), speed * times, 0.5)
    slow_s, fast_s = ticks_to(slow, "front", "hall"), ticks_to(fast, "front", "hall")
    assert fast_s <= slow_s + 1  # squares differ in width, so that one tick may be lost
