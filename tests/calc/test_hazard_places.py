# ruff: noqa: E501 - one case a line reads best
"""Distances and counts for smoke and CO alarms: rows of the reference, plane geometry by hand."""

import pytest

from alarmlib.calc.hazard_places import (
    At,
    air_path_m,
    bedroom_doors,
    devices_for_level,
    door_walks,
    open_groups,
    sleeping_areas,
)
from alarmlib.calc.plan import Passage, Plan, Room
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
        Room("hall", "g", rect(0, 0, 12, 2)), Room("bed", "g", rect(0, 2, 4, 6)), Room("bed2", "g", rect(4, 2, 8, 6)),
        Room("living", "g", rect(12, 0, 18, 6)), Room("kitchen", "g", rect(18, 0, 22, 6)), Room("bare", "g"),
    ),
    passages=(
        Passage("d1", ("bed", "hall"), PassageKind.DOOR, (2, 2)), Passage("d2", ("hall", "bed2"), PassageKind.DOOR, (6, 2)),
        Passage("d3", ("hall", "living"), PassageKind.DOOR, (12, 1)),
        Passage("w", ("living", "kitchen"), PassageKind.DOORWAY, (18, 3), None, 1.0),
        Passage("between", ("bed", "bed2"), PassageKind.DOOR, (4, 4)),
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


def test_doors_of_bedrooms():
    assert [(room, p.id) for room, p in bedroom_doors(PLAN, ["bed", "bed2"])] == [("bed", "d1"), ("bed2", "d2")]


def test_sleeping_areas_and_open_groups():
    assert sleeping_areas(PLAN, ["bed", "bed2"]) == ((frozenset({"hall"}), frozenset({"bed", "bed2"})),)
    assert open_groups(PLAN, ["living", "hall"]) == (frozenset({"living", "kitchen"}), frozenset({"hall"}))
