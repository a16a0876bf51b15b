"""Cable along walls: lengths by hand in a small house, the way between storeys, and a search of another make."""

from itertools import pairwise
from math import dist, hypot
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.cable_routes import routes
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

ROOMS = [
    {"id": "hall", "name": "Hall", "storey": "g", "ceiling_m": 2.5, "outline": [(0, 0), (6, 0), (6, 4), (0, 4)]},
    {"id": "bed", "name": "Bed", "storey": "u", "ceiling_m": 2.5, "outline": [(0, 0), (6, 0), (6, 4), (0, 4)]},
    {"id": "shed", "name": "Shed", "storey": "g", "ceiling_m": 2.5, "outline": [(20, 0), (22, 0), (22, 2), (20, 2)]},
]
STOREYS = [{"id": "g", "name": "Ground", "height_m": 2.8}, {"id": "u", "name": "Up", "level": 1}]
UNIT = {"id": "unit", "name": "Unit", "kind": "control_unit", "room": "hall", "at": (0, 2), "height_m": 1.5}


def device(name: str, room: str, at: Any, kind: str = "contact", height_m: float = 2.0) -> dict[str, Any]:
    return {"id": name, "name": name, "kind": kind, "room": room, "at": at, "height_m": height_m}


def home(*devices: Any, unit: Any = UNIT) -> Home:
    site = {"storeys": STOREYS, "rooms": ROOMS}
    return Home.model_validate({"site": site, "devices": [unit, *devices] if unit else list(devices)})


def test_along_two_walls() -> None:
    """By hand: from (3, 0) left 3 m and up 2 m of wall; 0.5 m down to the contact, 1 m to the unit."""
    (found,), without = routes(home(device("c", "hall", (3, 0))))
    assert (found.along_m, found.cores, without) == (pytest.approx(3 + 2 + 0.5 + 1.0), 4, ())
    assert found.cut_m == 9  # 6.5 m and a tenth, and half a metre at each end, up to whole metres
    assert found.label == "01 C"


def test_off_the_wall_across_the_ceiling() -> None:
    """By hand: straight across 3 m of ceiling to the wall where the unit is, and 1 m down to it."""
    (found,), _ = routes(home(device("s", "hall", (3, 2), "smoke", 2.5)))
    assert found.along_m == pytest.approx(3 + 1.0)


def test_the_nearest_wall_is_not_the_way() -> None:
    """By hand: from (4.5, 2) the corner (6, 0) is nearest, 2.5 m and then 8 m of wall; straight across are 4.5 m."""
    (found,), _ = routes(home(device("s", "hall", (4.5, 2), "smoke", 2.5)))
    assert found.along_m == pytest.approx(4.5 + 1.0)


def test_across_a_ceiling_round_the_room_s_inner_corner() -> None:
    """By hand, a room like an L: no straight line from the detector to the unit, so round the corner (2, 2)."""
    ell = {"id": "ell", "name": "Ell", "storey": "g", "ceiling_m": 2.5,
           "outline": [(0, 0), (8, 0), (8, 2), (2, 2), (2, 9), (0, 9)]}  # fmt: skip
    unit = UNIT | {"room": "ell", "at": (1, 9), "height_m": 2.5}
    detector = device("s", "ell", (6, 1), "smoke", 2.5)
    ell_home = Home.model_validate({"site": {"storeys": STOREYS, "rooms": [ell]}, "devices": [unit, detector]})
    (found,), _ = routes(ell_home)
    assert found.along_m == pytest.approx(hypot(4, 1) + hypot(1, 7))
    assert [turn[1:] for turn in found.way] == [(6, 1), (2, 2), (1, 9), (1, 9)]


def test_a_device_on_a_slanted_wall() -> None:
    """By hand, a triangle of 6, 8 and 10 m: from the middle of its long side 5 m of wall, then 6 m."""
    room = {"id": "tri", "name": "Tri", "storey": "g", "ceiling_m": 2.5, "outline": [(0, 0), (6, 0), (0, 8)]}
    unit = UNIT | {"room": "tri", "at": (0, 0), "height_m": 2.5}
    contact = device("c", "tri", (3, 4), "contact", 2.5)
    found_home = Home.model_validate({"site": {"storeys": STOREYS, "rooms": [room]}, "devices": [unit, contact]})
    (found,), _ = routes(found_home)
    assert found.along_m == pytest.approx(5 + 6)


def test_a_unit_drawn_off_its_wall_is_taken_at_the_nearest() -> None:
    """By hand: from (3, 0) left 3 m, up 2 m of wall, then 1 m to the unit; 0.5 and 1 m of drops."""
    (found,), _ = routes(home(device("c", "hall", (3, 0)), unit=UNIT | {"at": (1, 2)}))
    assert found.along_m == pytest.approx(3 + 2 + 1 + 0.5 + 1.0)


def test_a_device_within_reach_of_two_walls_takes_the_better() -> None:
    """By hand: a motion detector in the corner (6, 4) goes 0.1 m to the wall y = 4, not to x = 6 beside it."""
    (found,), _ = routes(home(device("m", "hall", (5.9, 3.9), "motion", 2.5)))
    assert found.along_m == pytest.approx(0.1 + 5.9 + 2 + 1.0)


def test_up_a_storey_where_corners_are_above_one_another() -> None:
    """By hand: in the upper room 1 m to the corner, 2.8 m down a storey, 2 m to the unit, drops of 0.5 and 1 m."""
    (found,), _ = routes(home(device("m", "bed", (1, 0), "motion")))
    assert found.along_m == pytest.approx(1 + 2.8 + 2 + 0.5 + 1.0)
    assert (found.cores, found.storeys) == (6, ("u", "g"))


def test_a_building_apart_is_named() -> None:
    found, without = routes(home(device("k", "shed", (20, 1), "key_switch"), device("c", "hall", (3, 0))))
    assert ([route.device for route in found], without) == (["c"], ("k",))


def test_nothing_without_a_unit_or_places() -> None:
    assert routes(home(device("c", "hall", (3, 0)), unit=None)) == ((), ())
    assert routes(home(device("c", "hall", None))) == ((), ())
    free = device("f", "hall", (3, 0)) | {"link": "wireless"}
    assert routes(home(free)) == ((), ())


def test_routes_never_beat_the_straight_line() -> None:
    """On the demo home no cable is shorter than the straight line on its storey."""
    demo = demo_home()
    places = {d.id: d for d in demo.whole_devices}
    unit = places["control_unit"].at
    assert unit
    found, without = routes(demo)
    assert without == ("studio_key_switch",)
    assert len(found) == 16
    for route in found:
        at = places[route.device].at
        assert at
        assert route.along_m >= ((at[0] - unit[0]) ** 2 + (at[1] - unit[1]) ** 2) ** 0.5
        assert route.cut_m >= route.along_m * 1.1 + 1 - 1e-6


def test_pieces_of_a_route_add_up() -> None:
    """Demo home: straight pieces, storeys and drops are the length; a storey is changed at corners only."""
    demo = demo_home()
    levels = {storey.id: storey for storey in demo.site.storeys}
    high = {room.id: room.ceiling_m or 2.4 for room in demo.site.rooms}
    corners = {(room.storey, *corner) for room in demo.site.rooms for corner in room.outline}
    things = {d.id: d for d in demo.whole_devices}
    for route in routes(demo)[0]:
        metres = 0.0
        for one, other in pairwise(route.way):
            metres += dist(one[1:], other[1:])
            if one[0] != other[0]:
                assert {one, other} <= corners
                metres += min((levels[one[0]], levels[other[0]]), key=lambda s: s.level).height_m or 2.6
        for end in (things[route.device], things["control_unit"]):
            metres += max(0.0, high[end.room] - (1.5 if end.height_m is None else end.height_m))
        assert route.along_m == pytest.approx(metres)


def test_routes_that_took_the_nearest_wall() -> None:
    """Demo home, regressions: the nearest corner of wall cost these detectors up to 6 m more (22.6, 12.1, 12.6 m)."""
    found = {route.device: route.along_m for route in routes(demo_home())[0]}
    assert found["cellar_smoke"] == pytest.approx(16.6, abs=0.05)
    assert found["kitchen_heat"] == pytest.approx(10.05, abs=0.05)
    assert found["landing_smoke"] == pytest.approx(10.06, abs=0.05)  # 9.8 m would cross the bedroom beside it


STEP_M = 0.5  # of the grid of the search of another make
Spot = tuple[int, int]
Room = tuple[int, int, int, int]  # x0, y0, x1, y1 in steps of the grid


@st.composite
def plans(draw: st.DrawFn) -> tuple[list[Room], list[tuple[int, Spot]]]:
    """Rooms in columns, each cut across at its own height; a unit on a wall and two detectors, each with its room."""
    rooms: list[Room] = []
    left = 0
    for width in draw(st.lists(st.integers(4, 10), min_size=1, max_size=3)):
        cut, top = draw(st.integers(3, 8)), draw(st.integers(12, 16))
        rooms += [(left, 0, left + width, cut), (left, cut, left + width, top)]
        left += width
    number = draw(st.integers(0, len(rooms) - 1))
    places = [(number, draw(st.sampled_from(ring(rooms[number]))))]
    for _ in range(2):
        number = draw(st.integers(0, len(rooms) - 1))
        x0, y0, x1, y1 = rooms[number]
        places.append((number, (draw(st.integers(x0, x1)), draw(st.integers(y0, y1)))))
    return rooms, places


def ring(room: Room) -> list[Spot]:
    """The places of a room's walls, one a step, in order."""
    x0, y0, x1, y1 = room
    bottom, right = [(x, y0) for x in range(x0, x1)], [(x1, y) for y in range(y0, y1)]
    return bottom + right + [(x, y1) for x in range(x1, x0, -1)] + [(x0, y) for y in range(y1, y0, -1)]


def shortest_by_scipy(rooms: list[Room], unit: Spot, room: Room, at: Spot) -> float:
    """Metres from place to place: every half metre of wall is a node, a place off it is joined to all its room's."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import dijkstra

    number = {spot: n for n, spot in enumerate(sorted({spot for room in rooms for spot in ring(room)}))}
    edges = {(number[a], number[b]): 1.0 for room in rooms for a, b in pairwise((*ring(room), ring(room)[0]))}
    end = number.setdefault(at, len(number))
    if at not in ring(room):
        edges |= {(end, number[spot]): dist(at, spot) for spot in ring(room)}
    rows, columns = zip(*edges, strict=True)
    matrix = coo_array((list(edges.values()), (rows, columns)), shape=(len(number), len(number))).tocsr()
    return STEP_M * float(dijkstra(matrix, directed=False, indices=number[unit])[end])


@pytest.mark.outside
@given(plans())
def test_routes_are_as_short_as_another_search_finds(plan: tuple[list[Room], list[tuple[int, Spot]]]) -> None:
    """Random small plans: the same length as scipy's Dijkstra over walls cut each half metre, to a micrometre."""
    rooms, ((unit_room, unit_at), *found_at) = plan
    drawn = [
        {"id": f"r{n}", "name": f"Room {n}", "storey": "g", "ceiling_m": 2.5,
         "outline": [(x0 / 2, y0 / 2), (x1 / 2, y0 / 2), (x1 / 2, y1 / 2), (x0 / 2, y1 / 2)]}
        for n, (x0, y0, x1, y1) in enumerate(rooms)
    ]  # fmt: skip
    unit = UNIT | {"room": f"r{unit_room}", "at": (unit_at[0] / 2, unit_at[1] / 2), "height_m": 2.5}
    smoke = [device(f"d{n}", f"r{room}", (x / 2, y / 2), "smoke", 2.5) for n, (room, (x, y)) in enumerate(found_at)]
    site = {"storeys": STOREYS, "rooms": drawn}
    found, without = routes(Home.model_validate({"site": site, "devices": [unit, *smoke]}))
    assert without == ()
    for route, (number, at) in zip(found, found_at, strict=True):
        assert route.along_m == pytest.approx(shortest_by_scipy(rooms, unit_at, rooms[number], at), abs=1e-6)


def test_cables_lead_to_the_unit_that_is_there_now() -> None:
    """A unit taken out and replaced elsewhere: the way is to the new one, 5 m and 2 m of wall from (1, 0)."""
    old, new = UNIT | {"id": "old", "state": "removed"}, UNIT | {"at": (6, 2)}
    (found,), _ = routes(home(new, device("c", "hall", (1, 0)), unit=old))
    assert found.along_m == pytest.approx(5 + 2 + 0.5 + 1.0)


@pytest.mark.parametrize(("state", "count"), [("fitted", 1), ("out_of_use", 1), ("removed", 0)])
def test_the_cable_of_what_is_out_of_use_is_in_the_wall(state: str, count: int) -> None:
    """A schedule that left it out for a week would call a cable in the wall unknown."""
    found, _ = routes(home(device("c", "hall", (3, 0)) | {"state": state}))
    assert len(found) == count
