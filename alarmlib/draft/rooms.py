"""The rooms of the short path: a line may hold one room, or several, with their storey before or after them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from alarmlib.draft.lines import MOST_LETTERS, MOST_LINES, Reader, commas, lines
from alarmlib.model.site import RoomUse

GROUND = "ground floor"
_LEVELS = {
    "lower ground floor": -1,
    "ground": 0,
    GROUND: 0,
    "downstairs": 0,
    "main floor": 0,
    "upstairs": 1,
    "upper floor": 1,
}
_ALSO_ROOMS = {"cellar": -1, "basement": -1, "attic": 2, "loft": 2}
_ORDINALS = {"first": 1, "1st": 1, "second": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4}
_NAMED = re.compile(r"(.+ )?(floor|storey|story|level)( \d+)?")
_USES = (
    ("bed", RoomUse.BEDROOM),
    ("nursery", RoomUse.BEDROOM),
    ("kitchen", RoomUse.KITCHEN),
    ("bath", RoomUse.BATH),
    ("toilet", RoomUse.BATH),
    ("shower", RoomUse.BATH),
    ("hall", RoomUse.HALL),
    ("landing", RoomUse.HALL),
    ("corridor", RoomUse.HALL),
    ("stair", RoomUse.HALL),
    ("living", RoomUse.LIVING),
    ("dining", RoomUse.LIVING),
    ("lounge", RoomUse.LIVING),
    ("study", RoomUse.STUDY),
    ("office", RoomUse.STUDY),
    ("garage", RoomUse.GARAGE),
    ("cellar", RoomUse.CELLAR),
    ("basement", RoomUse.CELLAR),
    ("attic", RoomUse.ATTIC),
    ("loft", RoomUse.ATTIC),
    ("utility", RoomUse.UTILITY),
    ("laundry", RoomUse.UTILITY),
    ("pantry", RoomUse.STORE),
    ("store", RoomUse.STORE),
    ("porch", RoomUse.PORCH),
    ("conservatory", RoomUse.PORCH),
    ("studio", RoomUse.WORKSHOP),
    ("workshop", RoomUse.WORKSHOP),
    ("shed", RoomUse.WORKSHOP),
)


@dataclass(frozen=True)
class NamedRoom:
    """A room as typed, its storey as typed; `beside`: other rooms were on its line, so it might be read wrongly."""

    name: str
    storey: str
    beside: bool = False


def named_rooms(reader: Reader) -> tuple[NamedRoom, ...]:
    """The rooms of the answers, each name once; what cannot be a room is refused."""
    found: dict[str, NamedRoom] = {}
    for room in _all(reader):
        if len(room.name) > MOST_LETTERS:
            reader.refuse("rooms", room.name, f"at most {MOST_LETTERS} letters a room are allowed")
        elif room.name.casefold() in found:
            reader.refuse("rooms", room.name, "each room needs a name of its own")
        elif len(found) == MOST_LINES:
            reader.refuse("rooms", room.name, f"at most {MOST_LINES} rooms are allowed")
        else:
            found[room.name.casefold()] = room
    return tuple(found.values())


def _all(reader: Reader) -> Iterator[NamedRoom]:
    for line in lines(reader.text("rooms")):
        names, storey = _parted(line)
        for name in names:
            if is_storey(name) and name.casefold() not in _ALSO_ROOMS:
                wanted = "write a storey last on the line of its rooms, such as “Bedroom, Bathroom, upstairs”"
                reader.refuse("rooms", name, wanted)
            else:
                own = name.casefold() if name.casefold() in _ALSO_ROOMS and not storey else storey
                yield NamedRoom(name, own or GROUND, len(names) > 1)


def _parted(line: str) -> tuple[tuple[str, ...], str]:
    """The rooms of a line and their storey: “Upstairs: Bedroom, Bathroom” or “Bedroom, Bathroom, upstairs”."""
    before, colon, after = line.partition(":")
    if colon and is_storey(before.strip()):
        return commas(after), before.strip()
    parts = commas(line)
    told = len(parts) > 1 and is_storey(parts[-1]) and (len(parts) == 2 or parts[-1].casefold() not in _ALSO_ROOMS)
    return (parts[:-1], parts[-1]) if told else (parts, "")


def is_storey(name: str) -> bool:
    """Whether a name can only mean a storey, or may mean one (a cellar is a room too)."""
    said = _plain(name)
    return said in _LEVELS or said in _ALSO_ROOMS or _NAMED.fullmatch(said) is not None


def level_of(storey: str, american: bool, others: int) -> int:
    """The level of a storey by its name, 0 on the ground; the number of `others` for a name that tells nothing.

    An American first floor is on the ground, elsewhere it is one up. Reference: common usage, no source.
    """
    said = _plain(storey)
    if said in _LEVELS or said in _ALSO_ROOMS:
        return (_LEVELS | _ALSO_ROOMS)[said]
    ordinal = next((n for word, n in _ORDINALS.items() if word in said.split()), None)
    number = re.search(r"\d+$", said)
    counted = ordinal if ordinal is not None else int(number[0]) if number else None
    return others if counted is None else max(-5, min(20, counted - american))


def _plain(name: str) -> str:
    return name.casefold().removeprefix("the ").removeprefix("on the ").strip()


def use_of(name: str) -> RoomUse:
    """What a room is for, as far as its name tells."""
    return next((use for word, use in _USES if word in name.casefold()), RoomUse.OTHER)
