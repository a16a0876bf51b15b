"""Shares of rooms, blind spots, and who is seen after four steps: by hand, and by walking in small steps."""

import itertools
from math import hypot
from random import Random

import pytest
from shapely.geometry import LineString, Point

from alarmlib.calc.coverage.areas import coverage_of, coverages, eye_of, joined_area, lacking
from alarmlib.calc.coverage.detection import STEPS_M
from alarmlib.calc.coverage.watched import best_seen, four_steps_after_m, place_seen_by, rooms_seen, seen_on_the_way
from alarmlib.calc.walking.walks import Leg
from alarmlib.model import Home
from alarmlib.record.produce import demo_home


@pytest.fixture(scope="module")
def demo():
    return demo_home()


def small(**device):
    """A room 8 by 6 m, door in the middle of the low wall, a detector in the far left corner."""
    facts = {
        "id": "eye",
        "name": "Eye",
        "kind": "motion",
        "room": "room",
        "at": (0, 6),
        "height_m": 2.2,
        "facing_deg": 315,
        "range_m": 12,
        "angle_deg": 90,
        "straight_range_m": 12,
        "looks_down_deg": 90,
    } | device
    site = {
        "storeys": [{"id": "g", "name": "G"}],
        "rooms": [{"id": "room", "name": "Room", "storey": "g", "outline": [(0, 0), (8, 0), (8, 6), (0, 6)]}],
        "openings": [{"id": "door", "name": "Door", "room": "room", "kind": "door", "at": (4, 0)}],
    }
    return Home.model_validate({"site": site, "devices": [facts]})


def with_site(home, **more):
    return Home.model_validate({**home.model_dump(), "site": {**home.site.model_dump(), **more}})


@pytest.mark.outside
def test_whole_room_is_seen():
    """Source: a convex room is seen whole from its corner by a fan as wide as the corner (plane geometry)."""
    (seen,) = rooms_seen(small())
    assert (seen.area_m2, seen.straight_m2) == (pytest.approx(48), pytest.approx(48, abs=1e-3))
    assert seen.blind == ()


@pytest.mark.outside
def test_wardrobe_hides_its_shadow():
    """Source: similar triangles: a wardrobe taller than the eye hides all behind it; by hand, the strip to the wall."""
    wardrobe = {"id": "w", "name": "W", "room": "room", "outline": [(0, 2), (1, 2), (1, 3), (0, 3)], "height_m": 2.4}
    bare, full = small(), with_site(small(), furniture=[wardrobe])
    (before,), (after,) = rooms_seen(bare), rooms_seen(full)
    # Below y = 2, right of the wall, left of the line from (0, 6) over (1, 3): x < (6 - y) / 3.
    hidden = sum((6 - (n + 0.5) * 2 / 1000) / 3 for n in range(1000)) * 2 / 1000
    # Between y = 2 and 3 that line runs to the right of the wardrobe.
    triangle = sum(max(0.0, (6 - y) / 3 - 1) for y in (2 + (n + 0.5) / 1000 for n in range(1000))) / 1000
    assert before.straight_m2 - after.straight_m2 == pytest.approx(1 + hidden + triangle, abs=0.02)
    assert [round(spot.area_m2, 1) for spot in after.blind] == [round(hidden + triangle, 1)]


@pytest.mark.outside
@pytest.mark.parametrize(("straight_m", "verdict"), [(12, "surely"), (3.5, "across")])
def test_walk_from_the_door_to_the_middle(straight_m, verdict):
    """Source: UL 1641 15.3.1: four steps of 0.61 m, 2.44 m; the walk of 3 m lies wholly in the view."""
    home = small(straight_range_m=straight_m)
    (seen,) = seen_on_the_way(home, ["room"], ["door"])
    assert seen.verdict == verdict
    if verdict == "surely":
        assert seen.after_m == pytest.approx(STEPS_M, abs=1e-6)
        assert seen.after_s == pytest.approx(4.0, abs=1e-6)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("points", "after_m"),
    [
        ([(0, 0), (10, 0)], 3 + 2.44),  # enters the square from x = 3 on
        ([(0, 0), (5, 0), (5, 10)], 5 + 0.44),  # 2 m inside, then 0.44 m round the corner
        ([(0, 0), (4, 0), (4, -2), (4, 0), (10, 0)], 4 + 2 + 2 + 2.44),  # left after 1 m: counted from nothing again
        ([(0, 0), (2.9, 0)], None),
        ([(4, 0), (4, 2.43)], None),
        ([(4, 0), (4, 2.44)], 2.44),
    ],
)
def test_four_steps_unbroken(points, after_m):
    """Source: UL 1641 15.3.1 (0.61 m a step), counted along the line by hand; the area is x from 3 up, y from 0 up."""
    area = ((3, -0.0), (20, 0), (20, 20), (3, 20))
    found = four_steps_after_m([Leg("g", tuple(points))], "g", [area])
    assert found == (None if after_m is None else pytest.approx(after_m, abs=1e-6))


@pytest.mark.parametrize("seed", range(30))
def test_four_steps_as_walked_in_small_steps(seed):
    """Independent: the walk in steps of a centimetre, counting those whose both ends lie inside."""
    draw = Random(seed)
    area = ((1, 1), (5, 1), (6, 4), (2, 6))
    shape = joined_area([area])
    points = [(draw.uniform(0, 7), draw.uniform(0, 7)) for _ in range(draw.randint(2, 5))]
    walked = inside = 0.0
    expected = None
    step = 0.005
    for a, b in itertools.pairwise(points):
        length = hypot(b[0] - a[0], b[1] - a[1])
        count = max(1, round(length / step))
        for n in range(count):
            here = [(a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count) for k in (n, n + 1)]
            inside = inside + length / count if all(shape.covers(Point(p)) for p in here) else 0.0
            walked += length / count
            if expected is None and inside >= STEPS_M:
                expected = walked
    found = four_steps_after_m([Leg("g", tuple(points))], "g", [area])
    total = LineString(points).length
    if expected is None:
        assert found is None or found > total - 0.05
    else:
        assert found == pytest.approx(expected, abs=0.05)


@pytest.mark.outside
@pytest.mark.parametrize(("at", "seen"), [((1, 1), True), ((7.9, 5.9), True), ((20, 1), False)])
def test_a_place_in_the_view(at, seen):
    """Source: a convex room is seen whole from its corner (plane geometry)."""
    assert place_seen_by(small(), "g", at) == (("eye",) if seen else ())
    assert place_seen_by(small(), "other", at) == ()


def test_demo_shares(demo):
    """Regression, with the order that must hold: any way ⊂ across ⊂ may."""
    for seen in rooms_seen(demo):
        assert seen.straight_m2 <= seen.sure_m2 + 1e-6 <= seen.possible_m2 + 1e-3 <= seen.area_m2 + 2e-3
    shares = {seen.room: seen.share for seen in rooms_seen(demo)}
    assert shares["living"] > 0.95
    assert shares["study"] == 0


def test_demo_ways_are_seen_by_the_detector_of_their_room(demo):
    best = best_seen(seen_on_the_way(demo, ["hall"], ["front_door"]))
    assert (best["front_door", "hall"].device, best["front_door", "hall"].verdict) == ("hall_motion", "surely")


def test_facts_that_are_lacking_are_named():
    assert lacking(small()) == {}
    faces_and_range = ("Direction that it faces, degrees", "Detection range")
    assert lacking(small(range_m=None, facing_deg=None)) == {"eye": faces_and_range}
    assert lacking(small(at=(20, 20))) == {"eye": ("place inside its room",)}
    assert coverages(small(range_m=None)) == ()


@pytest.mark.parametrize(
    ("facts", "sure_m"), [({}, 12), ({"hottest_c": 30}, 12), ({"hottest_c": 30.1}, 6), ({"disturbances": ["hot"]}, 6)]
)
def test_a_hot_room_halves_the_sure_range(facts, sure_m):
    home = with_site(small(), rooms=[{**small().site.rooms[0].model_dump(), **facts}])
    assert eye_of(home.whole_devices[0], home.site.rooms[0]).sure_m == sure_m


@pytest.mark.parametrize("at", [(0, 6), (0.0, 5.9), (-0.2, 6.2), (4, 6), (0.1, 5.9)])
def test_a_device_on_or_behind_its_wall_looks_into_its_room(at):
    home = small(at=at)
    seen = coverage_of(home, home.whole_devices[0])
    assert joined_area(seen.sure).area > 20


def test_slivers_beside_the_fan_count_as_seen():
    """A fan of 88° leaves 1° on each side: too narrow for a body."""
    home = small(angle_deg=88)
    (seen,) = rooms_seen(home)
    assert seen.share == pytest.approx(1.0, abs=0.01)
    (narrow,) = rooms_seen(small(angle_deg=70))
    assert narrow.share < 0.9


@pytest.mark.outside
def test_strips_that_count_as_seen_are_told():
    """A fan of 88° in the corner of a room of 8 m by 6 m: two strips of 1° along the walls.

    By trigonometry tan(1°)/2 × (8² + 6²) = 0.873 m² of 48 m², 1.8 points of the share.
    """
    from math import radians, tan

    (seen,) = rooms_seen(small(angle_deg=88))
    assert seen.strips_m2 == pytest.approx(tan(radians(1)) / 2 * (8**2 + 6**2), abs=0.001)
    assert seen.strips_share == pytest.approx(0.0182, abs=0.0001)
    (whole,) = rooms_seen(small(angle_deg=90))
    assert whole.strips_m2 == pytest.approx(0, abs=0.001)
