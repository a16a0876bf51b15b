"""Cable along walls: lengths by hand in a small house, and the way between storeys."""

from typing import Any

import pytest

from alarmlib.calc.cable_routes import routes
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
    """A detector in the middle of the ceiling is reached from the nearest corner or hung device of the walls."""
    (found,), _ = routes(home(device("s", "hall", (3, 2), "smoke", 2.5)))
    assert found.along_m == pytest.approx(3 + 1.0)


def test_up_a_storey_where_corners_stand_above_one_another() -> None:
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
    free = device("f", "hall", (3, 0)) | {"link": "wire_free"}
    assert routes(home(free)) == ((), ())


def test_routes_never_beat_the_straight_line() -> None:
    """On the demo home no cable is shorter than the straight line on its storey."""
    demo = demo_home()
    places = {d.id: d for d in demo.devices}
    unit = places["control_unit"].at
    assert unit
    found, without = routes(demo)
    assert without == ("workshop_key_switch",)
    assert len(found) == 16
    for route in found:
        at = places[route.device].at
        assert at
        assert route.along_m >= ((at[0] - unit[0]) ** 2 + (at[1] - unit[1]) ** 2) ** 0.5
        assert route.cut_m >= route.along_m * 1.1 + 1 - 1e-6
