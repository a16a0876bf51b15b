"""Rooms as people type them: one a line or several on a line, storeys before or after them."""

import pytest

from alarmlib.draft.lines import MOST_LINES, Reader
from alarmlib.draft.rooms import level_of, named_rooms, use_of
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import RoomUse


def read(text: str) -> list[tuple[str, str]]:
    """The rooms of a text with their storeys; nothing in it may be refused."""
    reader = Reader(ShortPath(rooms=text))
    found = [(room.name, room.storey) for room in named_rooms(reader)]
    assert reader.wrong == []
    return found


GROUND = [("Kitchen", "ground floor"), ("Hall", "ground floor"), ("Bedroom", "ground floor")]


@pytest.mark.parametrize("text", ["Kitchen, Hall, Bedroom", "Kitchen; Hall; Bedroom", "Kitchen\nHall\nBedroom",
                                  "- Kitchen\n- Hall, Bedroom", "Kitchen; Hall, Bedroom;"])  # fmt: skip
def test_three_rooms_however_they_are_separated(text: str) -> None:
    """Typed in one line they were one room called “Kitchen” on a storey “Hall, Bedroom”."""
    assert read(text) == GROUND


def test_a_name_with_and_stays_one() -> None:
    """Kitchen and dining room are one room, as typed."""
    assert [name for name, _ in read("Kitchen and dining room, Hall")] == ["Kitchen and dining room", "Hall"]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Bedroom, upstairs", [("Bedroom", "upstairs")]),
        ("Bedroom, Bathroom, upstairs", [("Bedroom", "upstairs"), ("Bathroom", "upstairs")]),
        ("Upstairs: Bedroom, Bathroom", [("Bedroom", "Upstairs"), ("Bathroom", "Upstairs")]),
        ("Loft room, second floor", [("Loft room", "second floor")]),
        ("Boiler room, cellar", [("Boiler room", "cellar")]),
        ("Kitchen, Hall, Cellar", [("Kitchen", "ground floor"), ("Hall", "ground floor"), ("Cellar", "cellar")]),
        ("Cellar", [("Cellar", "cellar")]),
        ("Studio, mezzanine level", [("Studio", "mezzanine level")]),
    ],
)
def test_storeys(text: str, wanted: list[tuple[str, str]]) -> None:
    """A word that can only be a storey is one; a cellar after one room is its storey, in a list it is a room."""
    assert read(text) == wanted


@pytest.mark.parametrize(
    ("text", "value", "kept"),
    [
        ("Hall, upstairs, Bedroom", "upstairs", ["Hall", "Bedroom"]),
        ("Hall\nHALL", "HALL", ["Hall"]),
        ("Hall\nHall, upstairs", "Hall", ["Hall"]),
        (f"{'x' * 81}, Hall", "xxx", ["Hall"]),
        ("\n".join(f"r{n}" for n in range(MOST_LINES + 1)), f"r{MOST_LINES}", [f"r{n}" for n in range(MOST_LINES)]),
    ],
)
def test_what_cannot_be_a_room_is_refused_alone(text: str, value: str, kept: list[str]) -> None:
    """One sentence names it; every other room stays."""
    reader = Reader(ShortPath(rooms=text))
    assert [room.name for room in named_rooms(reader)] == kept
    (wrong,) = reader.wrong
    assert wrong.field == "rooms"
    assert value in str(wrong.problem)


@pytest.mark.parametrize(
    ("storey", "american", "elsewhere"),
    [("ground floor", 0, 0), ("upstairs", 1, 1), ("first floor", 0, 1), ("2nd floor", 1, 2), ("cellar", -1, -1),
     ("the attic", 2, 2), ("floor 3", 2, 3), ("annexe floor", 7, 7)],
)  # fmt: skip
def test_level_of_a_storey(storey: str, american: int, elsewhere: int) -> None:
    """An American first floor is the ground floor; a name that tells nothing takes the next level."""
    assert level_of(storey, True, 7) == american
    assert level_of(storey, False, 7) == elsewhere


@pytest.mark.parametrize(
    ("name", "use"),
    [("Studio", RoomUse.WORKSHOP), ("Garden studio", RoomUse.WORKSHOP), ("Study", RoomUse.STUDY)],
)
def test_a_studio_is_used_as_a_workshop(name: str, use: RoomUse) -> None:
    """As the demo home's studio is; a study is still a study."""
    assert use_of(name) is use
