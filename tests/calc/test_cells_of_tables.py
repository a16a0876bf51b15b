"""Cells of homes that aren't drawn: rooms, doors and seconds alone, counted by hand."""

from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from alarmlib.calc.cells.cell_map import cell_map, components
from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.plan.floor_plan import Plan, PlanOpening, PlanPassage, PlanRoom
from alarmlib.calc.walking.walkers import STOPWATCH_M_S
from alarmlib.errors import FieldProblem
from alarmlib.model.site import PassageKind


def table(*seconds, kind=PassageKind.DOOR):
    """Rooms r0, r1, ... in a row, so many seconds apart; the way in is in r0."""
    rooms = tuple(PlanRoom(f"r{n}") for n in range(len(seconds) + 1))
    ways = tuple(PlanPassage(f"p{n}", (f"r{n}", f"r{n + 1}"), kind, seconds=s) for n, s in enumerate(seconds))
    return Plan(rooms=rooms, openings=(PlanOpening("front", "r0"),), passages=ways)


def cells_of(plan, speed=STOPWATCH_M_S, sights=(), **more):
    return cell_map(plan, sights, speed, **more)


def bits(value):
    return [place for place in range(value.bit_length()) if value >> place & 1]


def ticks_to(cells, room, opening="front"):
    """Ticks after coming in until the room's middle is reached, by breadth-first search over the labels."""
    reached = 0
    for _, start in cells.starts[opening]:
        reached |= start
    for tick in range(1000):
        if reached & cells.goals[room]:
            return tick
        more = 0
        for row in cells.moves:
            for cell, onward in row.items():
                if reached >> cell & 1:
                    more |= onward
        if reached | more == reached:
            return None
        reached |= more
    return None


@pytest.mark.parametrize(("seconds", "ticks"), [(4, 4), (4.0001, 5), (1, 1), (0.6, 1), (1.5, 2), (11, 11)])
def test_a_walk_at_the_stopwatch_pace_takes_its_seconds(seconds, ticks):
    """By hand: whole seconds take as many ticks, broken ones the next whole."""
    assert ticks_to(cells_of(table(seconds)), "r1") == ticks


def test_a_runner_takes_fewer_ticks():
    """By hand: 4 s at 1.393 m/s are 5.572 m; at 2.533 m/s 2.2 s, so 3 ticks."""
    assert ticks_to(cells_of(table(4), 2.533), "r1") == 3


@pytest.mark.parametrize(("seconds", "ticks"), [((1.5, 1.5), 3), ((1.5, 0.4), 2), ((0.3, 0.3, 0.3), 1), ((2, 3, 4), 9)])
def test_broken_seconds_are_not_rounded_room_by_room(seconds, ticks):
    """By hand: the seconds of a walk through several rooms are added first, then rounded up."""
    assert ticks_to(cells_of(table(*seconds)), f"r{len(seconds)}") == ticks


def test_the_quicker_of_two_ways_counts():
    plan = table(4, 6)
    plan = Plan(
        rooms=plan.rooms, openings=plan.openings, passages=(*plan.passages, PlanPassage("d", ("r0", "r2"), seconds=7))
    )
    assert ticks_to(cells_of(plan), "r2") == 7


def test_a_way_nobody_timed_is_assumed_and_named():
    plan = Plan(
        rooms=(PlanRoom("a"), PlanRoom("b")),
        openings=(PlanOpening("front", "a"),),
        passages=(PlanPassage("d", ("a", "b")),),
    )
    cells = cells_of(plan)
    assert ticks_to(cells, "b") == 5
    assert any("d" in line and "5 s" in line for line in cells.assumed)


def test_the_way_across_the_yard_is_not_used():
    plan = table(4, kind=PassageKind.OUTSIDE)
    assert components(plan) == (frozenset({"r0"}), frozenset({"r1"}))
    assert ticks_to(cells_of(plan), "r1") is None


def test_rooms_left_out_are_not_there():
    cells = cells_of(table(2, 2), rooms={"r1", "r2"})
    assert set().union(*(cell.rooms for cell in cells.cells)) == {"r1", "r2"}
    assert (set(cells.goals), set(cells.starts)) == ({"r1", "r2"}, set())


def test_on_the_way_both_rooms_may_see():
    """In a room its own detector may trip; on the way both; none must."""
    sights = Sight("here", frozenset({"r0"})), Sight("there", frozenset({"r1"}))
    cells = cells_of(table(4), sights=sights)
    labels = {}
    for label, row in zip(cells.labels, cells.moves, strict=True):
        for start, ends in row.items():
            labels.update({(start, end): label for end in bits(ends)})
    way = [n for n, cell in enumerate(cells.cells) if len(cell.rooms) == 2]
    home, goal = cells.goals["r0"].bit_length() - 1, cells.goals["r1"].bit_length() - 1
    assert labels[home, home].may == {"here"}
    assert labels[goal, goal].may == {"there"}
    assert {labels[n, n].may for n in way} == {frozenset({"here", "there"})}
    assert not any(label.must for label in cells.labels)


def test_a_guarded_door_opens_once_at_any_time_on_the_way():
    """By hand: 3 ticks from room to room; the contact trips in the first, second or third (or more), never in none."""
    cells = cells_of(table(3), contacts={"p0": frozenset({"c"})})
    home, goal = cells.goals["r0"].bit_length() - 1, cells.goals["r1"].bit_length() - 1
    counterexamples = {(home, ())}
    for tick in range(3):
        counterexamples = {
            (end, (*tripped, tick) if "c" in label.must else tripped)
            for start, tripped in counterexamples
            for label, row in zip(cells.labels, cells.moves, strict=True)
            for end in bits(row.get(start, 0))
        }
    tripped = {tripped for end, tripped in counterexamples if end == goal}
    assert {(0,), (1,), (2,)} <= tripped
    assert () not in tripped


def test_whoever_is_at_a_guarded_door_may_open_it_and_stay():
    cells = cells_of(table(3), contacts={"p0": frozenset({"c"})})
    home = cells.goals["r0"].bit_length() - 1
    stays = [label for label, row in zip(cells.labels, cells.moves, strict=True) if row.get(home, 0) >> home & 1]
    assert [label.may for label in stays] == [{"c"}]


@pytest.mark.parametrize(("speed", "side"), [(0, 0.5), (-1, 0.5), (2, 0), (float("nan"), 0.5)])
def test_speed_and_side_must_be_above_0(speed, side):
    with pytest.raises(FieldProblem, match="above 0"):
        cell_map(table(4), (), speed, side)


@settings(max_examples=60)
@given(st.lists(st.floats(0.5, 9), min_size=1, max_size=4), st.floats(0.5, 6))
def test_ticks_are_the_seconds_rounded_up(seconds, speed):
    """A row of rooms is walked in its seconds at this speed, rounded up; earlier by a piece a room at most."""
    walked_s, cells = sum(seconds) * STOPWATCH_M_S / speed, cells_of(table(*seconds), speed)
    early_s = (len(seconds) - 1) * cells.side_m / speed
    assert ceil(walked_s - early_s - 1e-5) <= ticks_to(cells, f"r{len(seconds)}") <= ceil(walked_s)
