"""What cannot be right in a plan, each just inside its edge, at it, and just beyond."""

from collections.abc import Callable

import pytest

from alarmlib.calc.plan.floor_plan import Plan, PlanFurniture, PlanOpening, PlanRoom, PlanStorey, Point
from alarmlib.calc.plan.plan_problems import PlacedThing, home_plan_problems, plan_problems
from alarmlib.model import Home

HALL = PlanRoom("hall", "ground", ((0, 0), (4, 0), (4, 4), (0, 4)))
STUDY = PlanRoom("study", "ground", ((4.2, 0), (8, 0), (8, 4), (4.2, 4)))


def plan(*rooms: PlanRoom, openings: tuple[PlanOpening, ...] = (), furniture: tuple[PlanFurniture, ...] = ()) -> Plan:
    return Plan((PlanStorey("ground"), PlanStorey("upper", 2.7)), rooms, openings, furniture=furniture)


def said(made: Plan, *placed: PlacedThing) -> list[str]:
    return [problem.message for problem in plan_problems(made, placed)]


# A frame may reach 0.05 m around a corner (`OVER_CORNER_M`, our own line): a door of 1 m needs 0.45 m.
@pytest.mark.parametrize(("x", "over"), [(0.46, False), (0.45, False), (0.44, True), (3.55, False), (3.56, True)])
def test_an_opening_over_a_corner(x: float, over: bool) -> None:
    """Where it would be on two walls, at either end of the wall."""
    found = said(plan(HALL, openings=(PlanOpening("front", "hall", (x, 0), 1.0),)))
    corner = "The way in front lies over a corner of hall, on two walls: give it a place on one of them."
    assert found == ([corner] if over else [])


def test_an_opening_of_no_known_width_lies_over_no_corner() -> None:
    """At the corner itself nothing is known against it."""
    assert said(plan(HALL, openings=(PlanOpening("front", "hall", (0, 0)),))) == []


@pytest.mark.parametrize(("rise_m", "over"), [(0.0, False), (0.02, False), (0.03, True)])
def test_a_corner_in_a_straight_wall_is_no_corner(rise_m: float, over: bool) -> None:
    """Regression: a corner drawn where the wall runs straight on made every door there a corner door."""
    corners = ((0, 0), (2, rise_m), (4, 0), (4, 4), (0, 4))
    made = plan(PlanRoom("hall", "ground", corners), openings=(PlanOpening("front", "hall", (2, 0), 1.0),))
    assert bool(said(made)) is over


# Walls up to 0.4 m apart (`WALL_MOST_M`) touch.
@pytest.mark.parametrize(("x", "shared"), [(4.39, True), (4.4, True), (4.41, False)])
def test_a_way_in_through_a_wall_to_another_room(x: float, shared: bool) -> None:
    """A wall that a room lies behind leads nowhere outside."""
    study = PlanRoom("study", "ground", ((x, 0), (8, 0), (8, 4), (x, 4)))
    found = said(plan(HALL, study, openings=(PlanOpening("side", "hall", (4, 2), 0.8),)))
    assert found == (
        ["The way in side leads into study, not outside: enter it as an inside doorway."] if shared else []
    )


def test_a_room_behind_on_another_storey_or_only_beside_is_nothing() -> None:
    """A room upstairs, and one whose wall begins beyond the opening."""
    door = (PlanOpening("side", "hall", (4, 1), 0.8),)
    upstairs = PlanRoom("loft", "upper", STUDY.outline)
    beyond = PlanRoom("study", "ground", ((4.2, 2), (8, 2), (8, 4), (4.2, 4)))
    assert said(plan(HALL, upstairs, openings=door)) == said(plan(HALL, beyond, openings=door)) == []


@pytest.mark.parametrize(("x", "outside"), [(3.4, False), (3.5, False), (3.6, True)])
def test_furniture_for_the_most_part_outside(x: float, outside: bool) -> None:
    """A piece 1 m wide with its middle inside, on and beyond the wall at 4 m."""
    piece = PlanFurniture("chest", "hall", ((x, 1), (x + 1, 1), (x + 1, 2), (x, 2)))
    found = said(plan(HALL, furniture=(piece,)))
    assert found == (["The piece of furniture chest is mostly outside its room hall."] if outside else [])


# 0.3 m beyond the wall (`BESIDE_M`) still counts as in the room.
@pytest.mark.parametrize("kind", ["device", "fixture"])
@pytest.mark.parametrize(("y", "outside"), [(2, False), (-0.29, False), (-0.3, False), (-0.31, True)])
def test_what_is_placed_outside_every_room(kind: str, y: float, outside: bool) -> None:
    """Below the wall at y = 0 there is no room."""
    found = said(plan(HALL, STUDY), PlacedThing(kind, "thing", "hall", (2, y)))
    assert found == ([f"The {kind} thing lies outside every drawn room; its room is hall."] if outside else [])


@pytest.mark.parametrize(("at", "other"), [((4.3, 2), ""), ((4.31, 2), "study"), ((7, 2), "study")])
def test_a_device_in_another_room(at: Point, other: str) -> None:
    """It is named where it lies and where it belongs; a room of another storey does not count."""
    loft = PlanRoom("loft", "upper", ((0, 0), (9, 0), (9, 9), (0, 9)))
    found = said(plan(HALL, loft, STUDY), PlacedThing("device", "pir", "hall", at))
    assert found == ([f"The device pir lies in {other}, but is entered as being in the room hall."] if other else [])


def test_what_is_in_an_undrawn_room_is_left_alone() -> None:
    """Nothing is known of where such a room lies."""
    assert said(plan(HALL, PlanRoom("shed")), PlacedThing("device", "pir", "shed", (99, 99))) == []


@pytest.mark.parametrize(("x", "shared_m2"), [(4.0, 0), (3.9975, 0), (3.99, 0.04)])
def test_rooms_that_overlap(x: float, shared_m2: float) -> None:
    """Up to 0.01 m² is a slip of the tape; rooms wall to wall share nothing."""
    study = PlanRoom("study", "ground", ((x, 0), (8, 0), (8, 4), (x, 4)))
    found = said(plan(HALL, study))
    assert found == ([f"The rooms hall and study overlap by {shared_m2:g} m²."] if shared_m2 else [])


@pytest.fixture
def house() -> Home:
    """A hall that is drawn and a room that is not, joined by a door."""
    rooms = [{"id": "hall", "name": "Front hall", "storey": "ground", "outline": [[0, 0], [4, 0], [4, 4], [0, 4]]},
             {"id": "living", "name": "Living room", "storey": "ground"}]  # fmt: skip
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "ground", "name": "Ground floor"}],
                "rooms": rooms,
                "openings": [{"id": "front_door", "name": "Street door", "room": "hall", "at": [2, 0]}],
                "passages": [{"id": "hall_living", "first": "hall", "second": "living", "at": [4, 2]}],
                "fixtures": [{"id": "stove", "name": "Old stove", "room": "hall", "at": [1, 1]}],
                "furniture": [{"id": "chest", "name": "Chest", "room": "hall", "outline": [[1, 1], [2, 1], [2, 2]]}],
            },
            "devices": [{"id": "pir", "name": "Hall eye", "kind": "motion", "room": "hall", "at": [0, 0]}],
        }
    )


def test_a_home_is_told_by_the_names_its_owner_gave(house: Home, put: Callable[..., Home]) -> None:
    """Device, fixture, furniture, opening and passage, each in quotes."""
    assert home_plan_problems(house) == ()
    away = {
        "site.openings.front_door.at": [0, 0],
        "site.openings.front_door.width_m": 1,
        "site.passages.hall_living.at": [2, 2],
        "site.fixtures.stove.at": [9, 9],
        "site.furniture.chest.outline": [[7, 1], [8, 1], [8, 2]],
        "devices.pir.at": [9, 9],
    }
    hall, way = "“Front hall”", "“door between Front hall and Living room”"
    both = "on two walls: give it a place on one of them."
    assert {(each.kind, each.subject, each.message) for each in home_plan_problems(put(house, away))} == {
        ("opening", "front_door", f"The way in “Street door” lies over a corner of {hall}, {both}"),
        ("passage", "hall_living", f"The inside doorway {way} does not touch the room {hall}."),
        ("furniture", "chest", f"The piece of furniture “Chest” is mostly outside its room {hall}."),
        ("device", "pir", f"The device “Hall eye” lies outside every drawn room; its room is {hall}."),
        ("fixture", "stove", f"The fixture “Old stove” lies outside every drawn room; its room is {hall}."),
    }
