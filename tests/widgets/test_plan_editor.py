# ruff: noqa: E501 - one case a line reads best
"""The Python end of the plan editor: every question, what is refused, and the demo home drawn from nothing."""

from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.record.produce import demo_home
from alarmlib.store import Edit, Session
from alarmlib.widgets.plan_editor import PlanEditor


@pytest.fixture
def blank(tmp_path: Any) -> Session:
    storeys = [{"id": "g", "name": "Ground"}, {"id": "u", "name": "Upstairs", "level": 1}]
    return Session.new(tmp_path / "blank.json", Home.model_validate({"site": {"storeys": storeys}}))


@pytest.fixture
def two(tmp_path: Any) -> Session:
    """Two rooms with a shared wall, a way in, a device."""
    rooms = [
        {"id": "a", "name": "Hall", "storey": "g", "outline": [(0, 0), (4, 0), (4, 4), (0, 4)]},
        {"id": "b", "name": "Den", "storey": "g", "outline": [(4, 0), (8, 0), (8, 4), (4, 4)]},
    ]
    site = {
        "storeys": [{"id": "g", "name": "Ground"}],
        "rooms": rooms,
        "openings": [{"id": "o", "name": "Door", "room": "a", "at": (2, 0), "width_m": 0.9}],
        "furniture": [{"id": "f", "name": "Sofa", "room": "a", "outline": [(1, 1), (2, 1), (2, 2), (1, 2)]}],
    }
    devices = [{"id": "m", "name": "Eye", "kind": "motion", "room": "a", "at": (0, 4), "height_m": 2.2, "facing_deg": 315,
                "range_m": 9, "angle_deg": 90}]  # fmt: skip
    return Session.new(tmp_path / "two.json", Home.model_validate({"site": site, "devices": devices}))


def editor(session: Session, coverage: bool = True) -> PlanEditor:
    return PlanEditor(session, coverage=coverage, raising=True)


def test_room_by_two_corners_snaps_to_the_grid(blank, ask) -> None:
    answer = ask(editor(blank), "draw", tool="room", points=[[0.04, -0.03], [4.98, 4.02]])
    assert answer["select"] == "room:room_1"
    assert blank.home.site.rooms[0].outline == ((0, 0), (5, 0), (5, 4), (0, 4))


def test_next_room_snaps_to_the_first(blank, ask) -> None:
    made = editor(blank)
    ask(made, "draw", tool="room", points=[[0, 0], [5.03, 4]], exact=True)
    ask(made, "draw", tool="room", points=[[5.15, -0.1], [8, 4.15]])
    assert blank.home.site.rooms[1].outline == ((5.03, 0), (8, 0), (8, 4), (5.03, 4))
    assert made.scene["walls"] == [[[5.03, 0], [5.03, 4]]]


def test_us_grid_and_typed_feet(blank, ask) -> None:
    home = blank.home.model_copy(update={"units": "us"})
    blank.replace(Home.model_validate(home.model_dump()))
    made = editor(blank)
    assert ask(made, "typed", tool="room", text="10 ft x 7 ft 6 in at 0, 0")["ok"]
    assert blank.home.site.rooms[0].outline[2] == (pytest.approx(3.048), pytest.approx(2.286))
    assert made.scene["unit"] == "ft"


@pytest.mark.parametrize(
    ("tool", "points", "part"),
    [
        ("room_corners", [[0, 6], [4, 10], [4, 6], [0, 10]], "must not cross"),
        ("room", [[0, 6], [0.01, 9]], "at least three corners"),
        ("opening", [[4, 2]], "outside wall"),
        ("opening", [[2, 2]], "outside wall"),
        ("door", [[0, 2]], "two drawn rooms share"),
        ("furniture", [[20, 20], [21, 21]], "No room is drawn there"),
        ("fixture", [[20, 20]], "No room is drawn there"),
        ("device", [[20, 20]], "No room is drawn there"),
        ("stairs", [[20, 20]], "No room is drawn there"),
        ("lasso", [[0, 0]], "no such tool"),
    ],
)
def test_refused_with_a_sentence_and_nothing_changes(two, ask, tool, points, part) -> None:
    before = two.path.read_bytes()
    answer = ask(editor(two), "draw", tool=tool, points=points)
    assert not answer["ok"]
    assert part in answer["error"]
    assert "\n" not in answer["error"]
    assert two.path.read_bytes() == before


def test_typed_nonsense_is_refused(two, ask) -> None:
    for text in ("", "wide", "1; 2"):
        answer = ask(editor(two), "typed", tool="room", text=text)
        assert not answer["ok"]
        assert answer["error"]


def test_what_is_drawn_takes_its_place(two, ask) -> None:
    made = editor(two)
    assert ask(made, "draw", tool="opening", of="window", points=[[8.1, 2]])["select"] == "opening:way_in_1"
    assert (two.home.site.openings[1].room, two.home.site.openings[1].at) == ("b", (8, 2))
    ask(made, "draw", tool="door", of="doorway", points=[[4.1, 1]])
    passage = two.home.site.passages[0]
    assert ({passage.first, passage.second}, passage.kind, passage.at) == ({"a", "b"}, "doorway", (4, 1))
    ask(made, "draw", tool="fixture", of="cooker", points=[[6, 1]])
    assert two.home.site.fixtures[0].room == "b"
    ask(made, "draw", tool="device", of="motion", points=[[7.9, 3.9]])
    assert (two.home.devices[1].at, two.home.devices[1].room) == ((8, 4), "b")
    assert two.home.devices[1].facing_deg == 225
    assert ask(made, "choose", thing="device:m")["ok"]
    assert made.values["device:m/range_m"] == "9"


def test_moved_room_takes_along_what_is_in_it(two, ask) -> None:
    made = editor(two)
    ask(made, "move", thing="room:a", by=[-1, 0.5], exact=True)
    site, device = two.home.site, two.home.devices[0]
    assert site.rooms[0].outline[0] == (-1, 0.5)
    assert site.openings[0].at == (1, 0.5)
    assert site.furniture[0].outline[0] == (0, 1.5)
    assert device.at == (-1, 4.5)
    ask(made, "undo")
    assert two.home.site.rooms[0].outline[0] == (0, 0)
    assert two.home.devices[0].at == (0, 4)
    ask(made, "redo")
    assert two.home.devices[0].at == (-1, 4.5)


def test_moved_room_snaps_back_to_its_neighbour(two, ask) -> None:
    ask(editor(two), "move", thing="room:b", by=[0.13, 0.04])
    assert two.home.site.rooms[1].outline[0] == (4, 0)


def test_moved_way_in_stays_on_its_wall_and_device_takes_its_new_room(two, ask) -> None:
    made = editor(two)
    ask(made, "move", thing="opening:o", by=[1, 0.7])
    assert two.home.site.openings[0].at == (3, 0)
    ask(made, "move", thing="device:m", by=[6, -1.5])
    assert (two.home.devices[0].room, two.home.devices[0].at) == ("b", (6, 2.5))


def test_corner_moved_added_taken_away(two, ask) -> None:
    made = editor(two)
    ask(made, "corner", thing="room:b", n=2, to=[9.02, 5.01])
    assert two.home.site.rooms[1].outline[2] == (9, 5)
    ask(made, "corner", thing="room:b", n=4, to=[4, 2], exact=True)
    assert len(two.home.site.rooms[1].outline) == 5
    ask(made, "corner", thing="room:b", n=4, to=None)
    ask(made, "corner", thing="room:b", n=2, to=None)
    assert not ask(made, "corner", thing="room:b", n=0, to=None)["ok"]


def test_turned_and_looked_from(two, ask) -> None:
    made = editor(two)
    ask(made, "turn", thing="device:m", deg=-30)
    assert two.home.devices[0].facing_deg == 330
    before = two.path.read_bytes()
    areas = ask(made, "look", thing="device:m", at=[2, 2], facing=0)["areas"]
    assert areas["sure"]
    assert two.path.read_bytes() == before
    assert ask(made, "look", thing="device:gone", at=[2, 2])["areas"] == {"possible": [], "sure": [], "straight": []}


def test_removed_or_taken_off_the_plan(two, ask) -> None:
    made = editor(two)
    answer = ask(made, "remove", thing="room:a")
    assert "still holds Door, Sofa, Eye" in answer["error"]
    assert ask(made, "unplace", thing="device:m")["ok"]
    assert two.home.devices[0].at is None
    assert made.scene["unplaced"]["device"] == [["m", "Eye"]]
    ask(made, "draw", tool="device", id="m", points=[[0.1, 0.1]])
    assert two.home.devices[0].at == (0, 0)
    assert ask(made, "remove", thing="room:b")["ok"]
    assert [room.id for room in two.home.site.rooms] == ["a"]


def test_what_is_wrong_is_shown(two, ask) -> None:
    made = editor(two)
    ask(made, "draw", tool="room", points=[[3, 1], [6, 3]], exact=True)
    assert any("overlap" in problem["message"] for problem in made.scene["problems"])
    ask(made, "choose", thing="device:m")
    ask(made, "edit", id="device:m/at", text="20, 20", seen="0, 4")
    (device,) = made.scene["devices"]
    assert "outside every drawn room" in device["problem"]


def test_stairs_over_two_storeys(blank, ask) -> None:
    made = editor(blank)
    ask(made, "draw", tool="room", points=[[0, 0], [4, 4]])
    assert "begin here" in ask(made, "draw", tool="stairs", points=[[1, 1]])["say"]
    ask(made, "view", storey="u")
    ask(made, "draw", tool="room", points=[[0, 0], [4, 4]])
    assert "are placed" in ask(made, "draw", tool="stairs", points=[[1, 3]])["say"]
    (passage,) = blank.home.site.passages
    assert (passage.kind, passage.at, passage.at_second) == ("stairs", (1, 1), (1, 3))
    assert len(made.scene["passages"]) == 1
    assert not ask(made, "view", storey="attic")["ok"]


def test_scene_follows_an_edit_in_a_table(two) -> None:
    made = editor(two)
    other = Session.open(two.path)
    other.apply([Edit(("site", "rooms", "a", "name"), "Hall", "Porch")])
    two.refresh()
    assert made.scene["rooms"][0]["name"] == "Porch"


def test_the_first_room_of_a_blank_home_brings_its_storey(tmp_path, ask) -> None:
    session = Session.new(tmp_path / "none.json", Home())
    made = editor(session)
    assert made.scene["box"] == [-1, -1, 11, 8]
    assert "Draw a room first" in ask(made, "draw", tool="device", points=[[1, 1]])["error"]
    assert session.home.site.storeys == ()
    answer = ask(made, "draw", tool="room", points=[[0, 0], [4, 3]])
    assert answer["say"] == "A room is drawn, 4 m by 3 m. Give it its name. Its floor is “Ground floor”."
    (storey,), (room,) = session.home.site.storeys, session.home.site.rooms
    assert (storey.name, storey.level, room.storey) == ("Ground floor", 0, storey.id)
    assert made.scene["storeys"] == [[storey.id, "Ground floor"]]
    ask(made, "undo")
    assert (session.home.site.storeys, session.home.site.rooms) == ((), ())


def test_a_blank_home_is_framed_in_its_own_units_and_an_empty_storey_as_the_others(blank, ask) -> None:
    made = editor(blank)
    assert made.scene["box"] == [-1, -1, 11, 8]  # 12 m by 9 m
    ask(made, "draw", tool="room", points=[[0, 0], [5, 4]])
    ask(made, "view", storey="u")
    assert made.scene["rooms"] == []
    assert made.scene["box"] == [-1, -1, 6, 5]
    us = Session.new(blank.path.parent / "us.json", Home.model_validate({"units": "us"}))
    assert editor(us).scene["box"] == pytest.approx([each * 0.3048 for each in (-3, -3, 37, 27)])


@pytest.mark.parametrize(
    ("asked", "size", "at"),
    [
        ({"tool": "room", "points": [[0.02, 0.03], [4.23, 3.08]]}, "4.2 m by 3.1 m", [2.1, 1.55]),
        ({"tool": "room", "points": [[4.05, 0.1], [7.97, 3.95]]}, "4 m by 4 m", [6, 2]),  # the corners of a room there
        ({"tool": "furniture", "points": [[1, 1], [1.56, 2.24]]}, "0.55 m by 1.25 m", [1.275, 1.625]),
        ({"tool": "room_corners", "points": [[0, 6], [3, 6], [3, 10]]}, "4 m", [3, 8]),
        ({"tool": "room_corners", "points": [[8, 3.1], [6, 6]]}, "3.52 m", [7, 4.55]),  # the root of 2² + 2.9²
        ({"thing": "room:b", "n": 2, "to": [9.02, 5.01]}, "5 m by 5 m", [6.5, 2.5]),
    ],
)
def test_measures_under_the_hand_are_those_that_would_be_stored(two, ask, asked, size, at) -> None:
    before = two.path.read_bytes()
    answer = ask(editor(two), "measure", **asked)
    assert (answer["size"], answer["at"]) == (size, pytest.approx(at))
    assert two.path.read_bytes() == before


def test_what_has_no_size_is_not_measured(two, ask) -> None:
    made = editor(two)
    for asked in ({"tool": "device", "points": [[1, 1]]}, {"tool": "room", "points": [[1, 1], [1.01, 1.02]]}):
        assert "size" not in ask(made, "measure", **asked)


def test_measures_in_feet(tmp_path, ask) -> None:
    """13 ft 1 in by 9 ft 10 in is 4 m by 3 m to the inch; on the grid of two inches that is 13 ft 2 in by 9 ft 10 in."""
    session = Session.new(tmp_path / "us.json", Home.model_validate({"units": "us"}))
    made = editor(session)
    answer = ask(made, "measure", tool="room", points=[[0, 0], [4, 3]])
    ask(made, "draw", tool="room", points=[[0, 0], [4, 3]])
    wide, deep = session.home.site.rooms[0].outline[2]
    assert (wide / 0.0254, deep / 0.0254) == (pytest.approx(158), pytest.approx(118))
    assert answer["size"] == "13 ft 2 in by 9 ft 10 in"


def test_a_room_of_the_tables_takes_its_place_by_name(two, ask) -> None:
    room = {"id": "c", "name": "Kitchen", "storey": "g"}
    two.apply([Edit(("site", "rooms", "c"), None, room)])
    two.apply([Edit(("site", "rooms", "n"), None, {"id": "n", "name": "", "storey": "g"})])
    two.apply([Edit(("site", "openings", "w"), None, {"id": "w", "name": "Hatch", "room": "b", "kind": "window"})])
    made = editor(two)
    assert made.scene["unplaced"]["room"] == [["c", "Kitchen"], ["n", "one without a name yet"]]
    answer = ask(made, "draw", tool="room", id="c", points=[[0, 4], [4, 7]])
    assert (answer["say"], answer["select"]) == ("Kitchen is on the plan, 4 m by 3 m.", "room:c")
    assert [each.name for each in two.home.site.rooms] == ["Hall", "Den", "Kitchen", ""]
    assert (
        ask(made, "draw", tool="room", id="n", points=[[4, 4], [7, 7]])["say"] == "The room is on the plan, 3 m by 3 m."
    )
    refused = ask(made, "draw", tool="opening", id="w", points=[[2, 7]])
    assert refused["error"] == "Hatch belongs to Den. Point at an outside wall of Den. Nothing was changed."
    assert ask(made, "draw", tool="opening", id="w", points=[[8, 2]])["say"] == "Hatch is on the plan."


def test_demo_home_is_drawn_from_nothing(tmp_path, ask) -> None:
    """Every outline and place of the demo home, through the editor's questions alone."""
    demo = demo_home()
    storeys = [storey.model_dump() for storey in demo.site.storeys]
    session = Session.new(tmp_path / "drawn.json", Home.model_validate({"site": {"storeys": storeys}}))
    made = editor(session, coverage=False)
    rooms: dict[str, str] = {}
    for storey in demo.site.storeys:
        ask(made, "view", storey=storey.id)
        for room in demo.site.rooms:
            if room.storey == storey.id:
                corners = [list(corner) for corner in room.outline]
                rooms[room.id] = ask(made, "draw", tool="room_corners", points=corners)["select"].partition(":")[2]
        for opening in demo.site.openings:
            if opening.room in rooms and demo_storey(demo, opening.room) == storey.id:
                answer = ask(made, "draw", tool="opening", of=opening.kind.value, points=[list(opening.at)])
                assert answer["ok"], answer
        for passage in demo.site.passages:
            if passage.kind in ("door", "doorway") and demo_storey(demo, passage.first) == storey.id:
                answer = ask(made, "draw", tool="door", of=passage.kind.value, points=[list(passage.at)])
                assert answer["ok"], answer
        for device in demo.whole_devices:
            if device.at and demo_storey(demo, device.room) == storey.id:
                answer = ask(made, "draw", tool="device", of=device.kind.value, points=[list(device.at)], exact=True)
                assert answer["ok"], answer
    site = session.home.site
    assert [r.outline for r in site.rooms] == [demo_room(demo, old).outline for old in rooms]
    assert {(rooms[o.room], o.at) for o in demo.site.openings} == {(o.room, o.at) for o in site.openings}
    doors = {
        (frozenset((rooms[p.first], rooms[p.second])), p.at)
        for p in demo.site.passages
        if p.kind in ("door", "doorway")
    }
    assert doors == {(frozenset((p.first, p.second)), p.at) for p in site.passages}
    placed = sorted(d.at for d in demo.devices if d.at)
    assert sorted(d.at for d in session.home.devices) == placed
    assert made.scene["problems"] == []


def demo_room(demo: Home, name: str) -> Any:
    return next(room for room in demo.site.rooms if room.id == name)


def demo_storey(demo: Home, room: str) -> str:
    return str(demo_room(demo, room).storey)


def test_a_device_that_is_drawn_is_of_the_homes_own_type_of_its_kind(two, ask) -> None:
    """Of several types of the kind, the one that most devices are of; it is named."""
    types = [{"id": name, "name": name.title(), "kind": "motion", "range_m": 9} for name in ("one", "other")]
    home = two.home.model_dump(mode="json")
    home["device_types"], home["devices"][0] = types, home["devices"][0] | {"type": "other", "kind": None}
    two.replace(Home.model_validate(home))
    said = ask(editor(two), "draw", tool="device", of="motion", points=[[7.9, 3.9]])["say"]
    assert said == "The device is placed, of the type “Other”."
    assert (two.home.devices[1].type, two.home.whole_devices[1].range_m) == ("other", 9)


def test_where_the_home_has_no_such_type_a_plain_one_is_added_and_called_assumed(two, ask) -> None:
    said = ask(editor(two), "draw", tool="device", of="motion", points=[[7.9, 3.9]])["say"]
    assert said.startswith("The device is placed, of the type “Plain motion detector, wired”.") and "assumed" in said
    assert [(each.id, each.assumed) for each in two.home.device_types] == [("plain_motion_wired", True)]
    assert two.home.devices[1].type == "plain_motion_wired"
    two.undo()
    assert (two.home.device_types, len(two.home.devices)) == ((), 1)


def test_a_kind_without_a_plain_type_is_of_none(two, ask) -> None:
    said = ask(editor(two), "draw", tool="device", of="glass_break", points=[[6, 1]])["say"]
    assert "enter what its manual says" in said
    assert (two.home.devices[1].type, two.home.whole_devices[1].kind) == ("", "glass_break")
