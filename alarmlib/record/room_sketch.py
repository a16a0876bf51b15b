"""A sketch of rooms that were never drawn: a box a room, a row a storey, with its ways in and devices in words."""

from collections import Counter
from collections.abc import Iterator, Sequence

from alarmlib.model import Home
from alarmlib.model.questions import present
from alarmlib.model.site import DOORS, Room
from alarmlib.record.blocks import Picture, Table, named
from alarmlib.record.picture import Anchor, Drawing, Ink, Label, Rect, Shape

WIDE, HIGH, GAP, HEAD, A_ROW = 226.0, 68.0, 8.0, 22.0, 3
_DESCRIPTION = (
    "A box for each room, the highest storey at the top. Each box says how many doors and windows lead outside and "
    "which devices are planned. A double edge marks a door by which you come home. Sizes and places mean nothing."
)


def room_sketch(home: Home) -> Picture:
    """The rooms as boxes by storey, and the table that says the same."""
    storeys = sorted(home.site.storeys, key=lambda storey: -storey.level)
    shapes: list[Shape] = []
    top = 0.0
    for storey in storeys:
        rooms = [room for room in home.site.rooms if room.storey == storey.id]
        shapes.append(
            Label((0.0, top + 15.0), f"{storey.name[:1].upper()}{storey.name[1:]}", 13.0, Anchor.START, bold=True)
        )
        for number, room in enumerate(rooms):
            row, column = divmod(number, A_ROW)
            shapes += _box(home, room, (column * (WIDE + GAP), top + HEAD + row * (HIGH + GAP)))
        top += HEAD + -(-len(rooms) // A_ROW) * (HIGH + GAP) + GAP
    drawing = Drawing(A_ROW * (WIDE + GAP), max(top, HEAD), tuple(shapes))
    rows = tuple((named(room.name), _ways(home, room), _devices(home, room)) for room in home.site.rooms)
    table = Table("Rooms of the draft", ("Room", "Ways in", "Devices"), rows)
    return Picture("Sketch of the rooms", _DESCRIPTION, drawing, table)


def _box(home: Home, room: Room, corner: tuple[float, float]) -> Iterator[Shape]:
    x, y = corner
    comes_home = any(o.room == room.id and o.entry_exit for o in home.site.openings)
    yield Rect(corner, WIDE, HIGH, Ink.WALL)
    if comes_home:
        yield Rect((x + 5.0, y + 5.0), WIDE - 10.0, HIGH - 10.0, Ink.PLAIN)
    middle = x + WIDE / 2
    yield Label((middle, y + 20.0), room.name, 13.0, bold=True, most=28)
    yield Label((middle, y + 40.0), _ways(home, room), 11.0, most=36)
    yield Label((middle, y + 58.0), _devices(home, room), 11.0, most=48)


def _ways(home: Home, room: Room) -> str:
    kinds = [opening.kind in DOORS for opening in home.site.openings if opening.room == room.id]
    return _listed((sum(kinds), "door"), (len(kinds) - sum(kinds), "window"))


def _devices(home: Home, room: Room) -> str:
    kinds = Counter(device.kind for device in present(home) if device.room == room.id)
    return _listed(*((count, _SHORT.get(kind.value, kind.text)) for kind, count in kinds.items()))


def _listed(*counted: tuple[int, str]) -> str:
    told: Sequence[str] = [word if n == 1 else f"{n} {word}s" for n, word in counted if n]
    return ", ".join(told)


_SHORT = {
    "contact": "contact",
    "motion": "motion detector",
    "control_unit": "control unit",
    "inside_sounder": "sounder",
}
"""Kinds of devices in a word or two, for a small box."""
