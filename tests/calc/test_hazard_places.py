# ruff: noqa: E501 - one case a line reads best
"""Distances and counts for smoke and CO alarms: rows of the reference, plane geometry by hand."""

from dataclasses import replace

import pytest

from alarmlib.calc.hazards.hazard_places import (
    At,
    air_path_m,
    bedroom_doors,
    devices_for_level,
    door_walks,
    farthest_m,
    open_groups,
    sleeping_areas,
)
from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, PlanRoom
from alarmlib.model.site import PassageKind
from alarmlib.units.kinds import FOOT_M


def rect(left, low, right, high):
    return ((left, low), (right, low), (right, high), (left, high))


@pytest.mark.outside
@pytest.mark.parametrize(("feet2", "count"), [(1000, 1), (1001, 3), (1500, 3), (1501, 4), (2400, 5)])
def test_devices_for_a_level(feet2, count):
    """Source: the reference's row 2 for NFPA 72 (2007 and later), from memory: n = ceil(A / 500 ft²) beyond 1000 ft²."""
    assert devices_for_level(feet2 * FOOT_M**2) == count


PLAN = Plan(
    rooms=(
        PlanRoom("hall", "g", rect(0, 0, 12, 2)), PlanRoom("bed", "g", rect(0, 2, 4, 6)), PlanRoom("bed2", "g", rect(4, 2, 8, 6)),
        PlanRoom("living", "g", rect(12, 0, 18, 6)), PlanRoom("kitchen", "g", rect(18, 0, 22, 6)), PlanRoom("bare", "g"),
    ),
    passages=(
        PlanPassage("d1", ("bed", "hall"), PassageKind.DOOR, (2, 2)), PlanPassage("d2", ("hall", "bed2"), PassageKind.DOOR, (6, 2)),
        PlanPassage("d3", ("hall", "living"), PassageKind.DOOR, (12, 1)),
        PlanPassage("w", ("living", "kitchen"), PassageKind.DOORWAY, (18, 3), None, 1.0),
        PlanPassage("between", ("bed", "bed2"), PassageKind.DOOR, (4, 4)),
    ),
)  # fmt: skip


@pytest.mark.outside
def test_walk_from_each_bedroom_door():
    """Source: straight lines in a convex hall, Pythagoras; doors between bedrooms do not count."""
    walks = door_walks(
        PLAN, ["bed", "bed2"], [At("near", "hall", (2.0, 0.5)), At("far", "hall", (11, 0.5)), At("in", "bed", (1, 3))]
    )
    assert [(w.room, w.device) for w in walks] == [("bed", "near"), ("bed2", "near")]
    assert walks[0].metres == pytest.approx(1.5, abs=0.01)
    assert walks[1].metres == pytest.approx((4**2 + 1.5**2) ** 0.5, abs=0.08)  # a body keeps 0.25 m off the wall


def test_without_places_there_is_no_walk():
    assert door_walks(PLAN, ["bed"], [At("a", "hall")]) == ()
    assert door_walks(PLAN, ["bed"], [At("a", "bare", (1, 1))]) == ()


@pytest.mark.outside
def test_air_goes_through_the_doorway():
    """Source: two straight lines over the doorway's near jamb, Pythagoras."""
    direct = air_path_m(PLAN, At("c", "kitchen", (21, 3)), At("s", "living", (15, 3)))
    assert direct == pytest.approx(6.0, abs=0.01)
    round_corner = air_path_m(PLAN, At("c", "kitchen", (19, 5.5)), At("s", "living", (17, 5.5)))
    half = (1 + 2**2) ** 0.5
    assert round_corner == pytest.approx(2 * half, abs=0.16)
    assert air_path_m(PLAN, At("c", "living", (13, 1)), At("s", "living", (16, 5))) == pytest.approx(5.0)
    assert air_path_m(PLAN, At("c", "living"), At("s", "living", (16, 5))) is None
    assert air_path_m(PLAN, At("c", "", (13, 1)), At("s", "living", (16, 5))) is None  # a place, but no room yet


def test_doors_of_bedrooms():
    assert [(room, p.id) for room, p in bedroom_doors(PLAN, ["bed", "bed2"])] == [("bed", "d1"), ("bed2", "d2")]


def test_a_door_from_a_bedroom_to_itself_leads_nowhere():
    """Entered by mistake, it used to end the checks of smoke and CO alarms."""
    looped = replace(PLAN, passages=(*PLAN.passages, PlanPassage("loop", ("bed", "bed"))))
    assert bedroom_doors(looped, ["bed", "bed2"]) == bedroom_doors(PLAN, ["bed", "bed2"])
    assert sleeping_areas(looped, ["bed", "bed2"]) == sleeping_areas(PLAN, ["bed", "bed2"])


def test_sleeping_areas_and_open_groups():
    assert sleeping_areas(PLAN, ["bed", "bed2"]) == ((frozenset({"hall"}), frozenset({"bed", "bed2"})),)
    assert open_groups(PLAN, ["living", "hall"]) == (frozenset({"living", "kitchen"}), frozenset({"hall"}))


# Bedrooms with doors of several kinds: an en-suite bath, a dressing room that leads nowhere else, a curtain for a door.
WINGS = Plan(
    rooms=tuple(PlanRoom(name, "g") for name in ("hall", "bed", "ensuite", "dressing", "nook", "living")),
    passages=(
        PlanPassage("out", ("bed", "hall")), PlanPassage("e", ("bed", "ensuite")), PlanPassage("d", ("bed", "dressing")),
        PlanPassage("n", ("nook", "hall"), PassageKind.DOORWAY), PlanPassage("l", ("hall", "living")),
    ),
)  # fmt: skip


def test_a_bath_or_dressing_room_of_a_bedroom_is_not_the_way_out():
    """Counted by hand: of the bedroom's three doors one leads out; the baths' own door counts where it is the only."""
    assert [(room, door.id) for room, door in bedroom_doors(WINGS, ["bed"])] == [("bed", "out")]
    through = Plan(
        rooms=WINGS.rooms, passages=(PlanPassage("e", ("bed", "ensuite")), PlanPassage("h", ("ensuite", "hall")))
    )
    assert [door.id for _, door in bedroom_doors(through, ["bed"], {"ensuite"})] == ["e"]
    both = Plan(rooms=WINGS.rooms, passages=(*through.passages, PlanPassage("out", ("bed", "hall"))))
    assert [door.id for _, door in bedroom_doors(both, ["bed"])] == ["e", "out"]
    assert [door.id for _, door in bedroom_doors(both, ["bed"], {"ensuite"})] == ["out"]


def test_an_open_bedroom_is_not_outside():
    assert sleeping_areas(WINGS, ["bed", "nook"]) == ((frozenset({"hall"}), frozenset({"bed", "nook"})),)
    assert open_groups(WINGS, ["hall"]) == (frozenset({"hall", "nook"}),)


def test_no_walk_where_an_alarm_without_a_place_may_be_nearer():
    far, unplaced = At("far", "hall", (11, 0.5)), At("somewhere", "hall")
    beds = ["bed", "bed2"]
    assert len(door_walks(PLAN, beds, [far])) == 2
    assert door_walks(PLAN, beds, [far, unplaced]) == ()
    assert len(door_walks(PLAN, beds, [far, At("in", "bed")])) == 2


def test_no_metres_over_a_room_that_is_not_drawn():
    """A corridor known by stopwatch alone has no metres, so neither has the way through it."""
    rooms = (PlanRoom("one", "g", rect(0, 0, 3, 3)), PlanRoom("corridor", "g"), PlanRoom("two", "g", rect(9, 0, 12, 3)))
    ways = (PlanPassage("a", ("one", "corridor"), seconds=4), PlanPassage("b", ("corridor", "two"), seconds=4))
    assert air_path_m(Plan(rooms=rooms), At("c", "one", (1, 1)), At("s", "two", (10, 1))) is None
    plan = Plan(rooms=rooms, passages=ways)
    assert air_path_m(plan, At("c", "one", (1, 1)), At("s", "two", (10, 1))) is None


@pytest.mark.outside
def test_the_farthest_point_of_a_floor():
    """Source: Pythagoras. Of one place the farthest is a corner; of two at the ends it lies midway on the wall."""
    room = rect(0, 0, 10, 4)
    assert farthest_m(room, [(5, 2)]) == pytest.approx(29**0.5)
    assert farthest_m(room, [(0, 2), (10, 2)]) == pytest.approx(29**0.5)
    assert farthest_m(room, [(1, 2), (9, 2)]) == pytest.approx(20**0.5)
    around = [(5 + 3, 5), (5 - 1.5, 5 + 1.5 * 3**0.5), (5 - 1.5, 5 - 1.5 * 3**0.5)]  # three on a circle of 3 m
    small = ((4, 4), (6, 4), (6, 6), (4, 6))
    assert farthest_m(small, around) == pytest.approx(3.0)


def test_the_farthest_point_agrees_with_a_fine_grid():
    """A plain search over a grid of 2 cm finds nothing farther, and nothing more than the grid's step nearer."""
    outline = ((0, 0), (6, 0), (6, 3), (2, 3), (2, 5), (0, 5))
    places = [(0.5, 4.5), (5.5, 0.5), (3.0, 2.0)]
    grid = [(i / 50, j / 50) for i in range(301) for j in range(251) if i <= 100 or j <= 150]
    plain = max(min(((x - a) ** 2 + (y - b) ** 2) ** 0.5 for a, b in places) for x, y in grid)
    assert plain - 1e-9 <= farthest_m(outline, places) <= plain + 0.03
