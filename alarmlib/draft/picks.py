"""The lists of the short path as picks: read from the texts that are stored, and written back as such texts."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from alarmlib.draft.lines import Reader, commas, lines
from alarmlib.draft.rooms import GROUND, NamedRoom, level_of, named_rooms
from alarmlib.draft.site import SiteDraft
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import RoomUse
from alarmlib.rules import rules_of

UPSTAIRS = "upstairs"
FLOORS = ("Ground floor", "Upstairs", "Top floor", "Cellar", "Attic")
_NUMBERED = re.compile(r"(.*\S) \d+")
_MARKS = re.compile(r"[,;:\n\r]+")


@dataclass(frozen=True)
class ListedWay:
    """A line of doors or windows: its name, its room, and how it is reached, as typed."""

    name: str
    room: str
    how: tuple[str, ...] = ()


class Picks:
    """What the short path of a home holds, as lists of names; nothing that is stored is changed by reading it."""

    def __init__(self, home: Home) -> None:
        self.home, self.answers = home, home.short_path
        self.rooms = named_rooms(Reader(self.answers))
        self.site = SiteDraft(home, Reader(self.answers))
        self.uses = {room.name.casefold(): room.use for room in self.site.rooms}

    @property
    def floors(self) -> tuple[str, ...]:
        """The floors of the home: those picked, those that a room names, and the ground floor where none is."""
        typed = [room.storey for room in self.rooms]
        picked = [*commas(self.answers.floors), *typed] or [FLOORS[0]]
        known = {floor.casefold(): floor for floor in FLOORS}
        return tuple({each.casefold(): known.get(each.casefold(), each) for each in picked}.values())

    def on(self, floor: str) -> tuple[NamedRoom, ...]:
        """The rooms of a floor."""
        return tuple(room for room in self.rooms if room.storey.casefold() == floor.casefold())

    def is_upper(self, floor: str) -> bool:
        """Whether a floor is above the ground."""
        american = rules_of(self.home).first_floor_on_the_ground
        return level_of(floor, american, max(1, self.floors.index(floor))) > 0

    def use(self, room: str) -> RoomUse:
        """What a room is for, by its name."""
        return self.uses.get(room.casefold(), RoomUse.OTHER)

    def lines(self, field: str) -> tuple[ListedWay, ...]:
        """The doors or windows as listed."""
        return tuple(ListedWay(name, room, tuple(how)) for name, (room, *how) in Reader(self.answers).pairs(field))

    def joined(self) -> tuple[tuple[str, str], ...]:
        """The rooms that are joined inside, in pairs; as long as nothing is answered, those that are assumed."""
        if not self.answers.inner_doors.strip() and "joined" not in commas(self.answers.asked):
            return self.site.guessed()
        found = ((first, other) for first, others in Reader(self.answers).pairs("inner_doors") for other in others)
        return tuple(dict.fromkeys(found))

    def chosen(self, field: str, known: Iterable[str]) -> tuple[str, ...]:
        """The names of a field that are among those known."""
        names = {name: name for name in known}
        return Reader(self.answers).chosen(field, names, "names")


def base_of(name: str) -> str:
    """A name without its number: of “Bedroom 2” it is “Bedroom”."""
    found = _NUMBERED.fullmatch(name)
    return found[1] if found else name


def fresh(base: str, taken: Iterable[str]) -> str:
    """The name, with the first number under which nothing of that name is there yet."""
    there = {name.casefold() for name in taken}
    tries = (base, *(f"{base} {n}" for n in range(2, len(there) + 3)))
    return next(name for name in tries if name.casefold() not in there)


def plain_name(text: str) -> str:
    """A name somebody typed, on one line and without the marks that part a list. Raises AlarmProblem when empty."""
    name = " ".join(_MARKS.sub(" ", text).split())
    if not name:
        raise AlarmProblem("Write a name first, such as Music room.")
    return name[:80]


def rooms_text(rooms: Iterable[NamedRoom]) -> str:
    """Rooms as they are stored, one a line with its storey last."""
    return "\n".join(f"{room.name}, {room.storey or GROUND}" for room in rooms)


def lines_text(found: Iterable[ListedWay]) -> str:
    """Doors or windows as they are stored."""
    return "\n".join(f"{line.name}: {', '.join((line.room, *line.how))}" for line in found)


def joined_text(pairs: Sequence[tuple[str, str]]) -> str:
    """Pairs of rooms as they are stored: a room a line with those that it leads to."""
    leading: dict[str, list[str]] = {}
    for first, second in pairs:
        leading.setdefault(first, []).append(second)
    return "\n".join(f"{first}: {', '.join(others)}" for first, others in leading.items())


def outbuildings(answers: ShortPath) -> tuple[str, ...]:
    """The buildings apart, one a line or several with commas."""
    return tuple(dict.fromkeys(name for line in lines(answers.outbuildings) for name in commas(line)))
