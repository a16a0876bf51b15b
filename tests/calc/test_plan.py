"""Areas, shared walls, touching rooms and the problems of a plan."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.plan.floor_plan import (
    Plan,
    PlanFurniture,
    PlanOpening,
    PlanPassage,
    PlanRoom,
    PlanStorey,
    area_m2,
    place_of_device,
    plan_from_home,
    shared_walls,
    touching,
)
from alarmlib.calc.plan.plan_problems import plan_problems
from alarmlib.errors import FieldProblem
from alarmlib.model import devices, home, site
from alarmlib.model.site import PassageKind
from alarmlib.model.words import DeviceKind


def box(x, y, width, depth):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


HALL = PlanRoom("hall", "ground", box(0, 0, 4, 4))
STUDY = PlanRoom("study", "ground", box(4.2, 1, 3, 5))
BOW_TIE = PlanRoom("bow", "ground", ((10, 0), (12, 2), (12, 0), (10, 2)))
DOOR = PlanPassage("door", ("hall", "study"), at=(4.1, 2))


def plan(*rooms, **parts):
    return Plan((PlanStorey("ground"), PlanStorey("upper", 2.7)), rooms, **parts)


def messages(made):
    return [(problem.kind, problem.subject, problem.message) for problem in plan_problems(made)]


@pytest.mark.outside
@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), min_size=3, max_size=3))
def test_area_of_a_triangle_by_heron(corners):
    """Heron's formula, textbook; three corners of any order."""
    from math import dist, sqrt

    a, b, c = dist(corners[0], corners[1]), dist(corners[1], corners[2]), dist(corners[2], corners[0])
    s = (a + b + c) / 2
    heron = sqrt(max(0.0, s * (s - a) * (s - b) * (s - c)))
    assert area_m2(PlanRoom("r", outline=tuple(corners))) == pytest.approx(heron, abs=1e-4)


def test_area_is_drawn_else_typed_else_unknown():
    assert area_m2(PlanRoom("l", outline=((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)))) == 12
    assert area_m2(PlanRoom("r", floor_area_m2=9.5)) == 9.5
    assert area_m2(PlanRoom("r")) is None


def test_shared_wall_across_its_thickness():
    ((one, other, stretch, length_m),) = shared_walls(plan(HALL, STUDY))
    assert (one, other, length_m) == ("hall", "study", 3)
    assert {round(y) for _, y in stretch} == {1, 4}


def test_rooms_of_two_storeys_share_no_wall():
    assert not list(shared_walls(plan(HALL, PlanRoom("landing", "upper", box(4, 0, 4, 4)))))


def test_rooms_too_far_apart_share_no_wall():
    assert not list(shared_walls(plan(HALL, PlanRoom("shed", "ground", box(4.5, 0, 3, 3)))))


def test_touching_by_wall_or_passage():
    attic = PlanRoom("attic")
    stairs = PlanPassage("ladder", ("attic", "hall"), PassageKind.HATCH)
    assert touching(plan(HALL, STUDY, attic, passages=(stairs,))) == {("hall", "study"), ("hall", "attic")}


def test_good_plan_has_no_problem():
    made = plan(
        HALL, STUDY, PlanRoom("landing", "upper", box(0, 0, 4, 4)), PlanRoom("shed"),
        openings=(PlanOpening("front", "hall", (2, 0)), PlanOpening("skylight", "shed", (99, 99))),
        passages=(
            DOOR, PlanPassage("stairs", ("hall", "landing"), PassageKind.STAIRS, (1, 1), (1, 3)),
            PlanPassage("yard", ("hall", "shed"), PassageKind.OUTSIDE, seconds=20),
        ),
        furniture=(PlanFurniture("table", "hall", box(1, 1, 1, 1)),),
    )  # fmt: skip
    assert messages(made) == []


@pytest.mark.parametrize(
    ("made", "expected"),
    [
        (plan(BOW_TIE), ("room", "bow", "Walls of the room bow cross one another.")),
        (
            plan(HALL, PlanRoom("bath", "ground", box(3, 3, 2, 2))),
            ("room", "bath", "The rooms hall and bath overlap by 1 m²."),
        ),
        (
            plan(HALL, openings=(PlanOpening("front", "hall", (2, 1)),)),
            ("opening", "front", "The way in front lies 1 m from every wall of the room hall."),
        ),
        (
            plan(HALL, STUDY, passages=(PlanPassage("door", ("hall", "study"), at=(1.9, 0)),)),
            ("passage", "door", "The inside doorway door does not touch the room study."),
        ),
        (
            plan(HALL, PlanRoom("landing", "upper"), passages=(PlanPassage("door", ("hall", "landing"), at=(4, 1)),)),
            ("passage", "door", "The inside doorway door joins rooms of two storeys, but is not entered as stairs."),
        ),
        (
            plan(HALL, passages=(PlanPassage("door", ("hall", "hall")),)),
            ("passage", "door", "The inside doorway door leads from the room hall into the same room."),
        ),
        (
            plan(HALL, openings=(PlanOpening("front", "ghost"),)),
            ("opening", "front", "The opening front is in the room ghost, which is not in the plan."),
        ),
    ],
)
def test_each_problem_is_one_sentence(made, expected):
    assert messages(made) == [expected]


def test_overlapping_rooms_of_two_storeys_are_fine():
    assert messages(plan(HALL, PlanRoom("landing", "upper", box(0, 0, 4, 4)))) == []


def test_unknown_room_and_opening_are_refused():
    with pytest.raises(FieldProblem, match="one of the plan's rooms"):
        plan(HALL).room("ghost")
    with pytest.raises(FieldProblem, match="one of the plan's openings"):
        plan(HALL).place_of_opening("ghost")


def small_site():
    storeys = (
        site.Storey(id="cellar", name="Cellar", level=-1, height_m=2.2),
        site.Storey(id="ground", name="Ground floor", level=0, height_m=2.8),
        site.Storey(id="upper", name="Upstairs", level=1, height_m=2.6),
        site.Storey(id="attic", name="Attic", level=2, height_m=2.0),
    )
    return site.Site(
        storeys=storeys,
        rooms=(
            site.Room(id="hall", name="Hall", storey="ground", outline=box(0, 0, 4, 4)),
            site.Room(id="loft", name="Loft", storey="attic", floor_area_m2=12),
            site.Room(id="store", name="Store", storey="cellar"),
        ),
        openings=(site.Opening(id="front", name="Front door", room="hall", at=(2, 0)),),
        passages=(site.Passage(id="steps", first="hall", second="store", kind=PassageKind.STAIRS, slope_m=4.0),),
        furniture=(site.Furniture(id="table", name="Table", room="hall", outline=box(1, 1, 1, 1)),),
    )


def test_plan_of_a_home_keeps_every_fact_and_stacks_the_floors():
    made = plan_from_home(home.Home.model_construct(site=small_site()))
    heights = {storey.id: storey.floor_m for storey in made.storeys}
    assert heights == {"cellar": -2.2, "ground": 0, "upper": 2.8, "attic": pytest.approx(5.4)}
    assert made.floor_m("store") == -2.2
    assert made.place_of_opening("front").at == (2, 0)
    assert made.passages[0] == PlanPassage("steps", ("hall", "store"), PassageKind.STAIRS, slope_m=4.0)
    assert [area_m2(room) for room in made.rooms] == [16, 12, None]
    assert made.furniture[0].height_m == 0.9


def test_place_of_a_device():
    keypad = devices.DeviceEntry(id="keypad", name="Keypad", kind=DeviceKind.KEYPAD, room="hall", at=(1, 0))
    fob = devices.DeviceEntry(id="fob", name="Fob", kind=DeviceKind.FOB)
    assert place_of_device(keypad).at == (1, 0)
    assert place_of_device(fob) is None
