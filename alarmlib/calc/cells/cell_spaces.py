"""Where somebody can be, taken apart into pieces, and the places at which one part of the home leads to another.

A space is a drawn room, an undrawn one (a point), or a way between two rooms (a line as long as the way).
Each has metres of its own; spaces meet at portals alone: so a walk is at least as long as the straight
distances from portal to portal, whatever lies between.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING, Any

from alarmlib.calc.cells.cell_pieces import across, nearest_on_wall, pieces, shared_wall
from alarmlib.calc.cells.telling import Telling, nobody
from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, Point
from alarmlib.calc.walking.floor import Floor, lengths_m
from alarmlib.calc.walking.free_floor import FreeFloor
from alarmlib.calc.walking.walkers import STOPWATCH_M_S
from alarmlib.calc.walking.walks import ASSUMED_S
from alarmlib.calc.walking.way_lengths import inside_m, slope_m
from alarmlib.model.site import PassageKind

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

HALF_OPENING_M = 0.5  # half the width of a way in that wasn't measured
_DOORS = (PassageKind.DOOR, PassageKind.DOORWAY)
_EXACT = 1e-9
_SILL = 0.5  # widest part of a sill, of a square's side: along a part somebody may slip for nothing


@dataclass(frozen=True)
class Space:
    """A part of the home with metres of its own: `shapes` are its pieces, in a line along x for a way."""

    rooms: frozenset[str]
    shapes: tuple["BaseGeometry", ...]
    storey: str = ""
    floor: "BaseGeometry | None" = None  # of a drawn room
    middle: Point | None = None
    contacts: frozenset[str] = frozenset()  # may be opened by whoever is on this way

    @cached_property
    def array(self) -> Any:
        """The pieces as an array."""
        import numpy as np

        return np.asarray(self.shapes)

    @cached_property
    def walked(self) -> Floor | None:
        """The bare floor, ready for walks; a way and an undrawn room have none."""
        return None if self.floor is None else Floor(self.floor)

    def straight_m(self, one: Any, other: Any, reach_m: float) -> Any:
        """Metres from each row x, y to each in a straight line; infinite where a wall is between."""
        return lengths_m(one, other) if self.walked is None else self.walked.straight_m(one, other, reach_m)

    def least_walk_m(self, one: Any, other: Any) -> Any:
        """A lower bound of the walk from each shape of `one` to its fellow in `other`, metres."""
        from shapely import distance

        return distance(one, other) if self.walked is None else self.walked.least_walk_m(one, other)

    @property
    def on_the_way(self) -> bool:
        """Whether it is a way between two rooms."""
        return len(self.rooms) > 1

    @cached_property
    def is_box(self) -> bool:
        """Whether straight lines and boxes about the pieces tell all: a rectangle along the axes, or no floor."""
        return self.floor is None or self.floor.envelope.area - self.floor.area < _EXACT

    def nearest_piece(self, at: Point) -> int:
        """The first of the pieces that are nearest to a point."""
        from shapely import distance
        from shapely.geometry import Point as ShapelyPoint

        return int(distance(self.array, ShapelyPoint(at)).argmin())


@dataclass(frozen=True)
class Portal:
    """Where two spaces meet: its place in each, and the contacts that open when it is passed."""

    passage: str
    spaces: tuple[int, int]
    places: tuple["BaseGeometry", "BaseGeometry"]
    contacts: frozenset[str] = frozenset()

    @property
    def frame(self) -> str:
        """The drawn door this is a part of, or ""."""
        return self.passage if self.places[0] is self.places[1] else ""


@dataclass(frozen=True)
class Entry:
    """Where a way in from outside is: somebody may come in within `half_m` of it."""

    space: int
    place: "BaseGeometry"
    half_m: float


@dataclass
class Ground:
    """All spaces and portals of the rooms that are looked at; `notes` say what was assumed of them."""

    plan: Plan
    side_m: float
    reach_m: float
    spaces: list[Space] = field(default_factory=list)
    portals: list[Portal] = field(default_factory=list)
    entries: dict[str, Entry] = field(default_factory=dict)
    notes: dict[str, None] = field(default_factory=dict)
    of_room: dict[str, int] = field(default_factory=dict)

    @cached_property
    def first_cell(self) -> tuple[int, ...]:
        """Number of each space's first cell, and at the end the number of cells."""
        numbers = [0]
        for space in self.spaces:
            numbers.append(numbers[-1] + len(space.shapes))
        return tuple(numbers)

    @cached_property
    def stands(self) -> Any:
        """A point of each cell, rows x, y: where a way in is, the room's middle, else the piece's own middle."""
        import numpy as np
        from shapely import get_coordinates, point_on_surface

        at = np.concatenate([get_coordinates(point_on_surface(space.array)) for space in self.spaces])
        for entry in self.entries.values():
            if self.spaces[entry.space].floor is not None and entry.half_m:
                place = entry.place.coords[0]
                at[self.first_cell[entry.space] + self.spaces[entry.space].nearest_piece(place)] = place
        for number in self.of_room.values():
            middle = self.spaces[number].middle
            if middle is not None:
                at[self.first_cell[number] + self.spaces[number].nearest_piece(middle)] = middle
        return at

    def space_of(self, cell: int) -> int:
        """The space a cell is a piece of."""
        return next(n for n, first in enumerate(self.first_cell[1:]) if cell < first)


def ground_of(
    plan: Plan,
    rooms: Collection[str],
    side_m: float,
    reach_m: float,
    contacts: Mapping[str, frozenset[str]],
    telling: Telling = nobody,
) -> Ground:
    """The spaces and portals of these rooms, pieces `side_m` wide, a whole part of the `reach_m` of a tick."""
    ground = Ground(plan, side_m, reach_m)
    middles = dict(_middles(plan, rooms))
    for room in plan.rooms:
        if room.id in rooms:
            telling("rooms as squares", len(ground.spaces), len(rooms), 0)
            ground.of_room[room.id] = len(ground.spaces)
            ground.spaces.append(_room_space(plan, room.id, side_m, middles))
    for passage in plan.passages:
        if passage.kind is not PassageKind.OUTSIDE and set(passage.rooms) <= set(rooms):
            _join(ground, passage, contacts.get(passage.id, frozenset()))
    for opening in plan.openings:
        if opening.room in rooms:
            half_m = HALF_OPENING_M if opening.width_m is None else opening.width_m / 2
            space = ground.spaces[ground.of_room[opening.room]]
            ground.entries[opening.id] = _entry(ground.of_room[opening.room], space, opening.at, half_m)
    return ground


def _middles(plan: Plan, rooms: Collection[str]) -> Iterator[tuple[str, Point]]:
    """The middle of each drawn room, as walks have it."""
    drawn = [room for room in plan.rooms if room.id in rooms and room.outline]
    floors = {storey: FreeFloor(plan, storey) for storey in {room.storey for room in drawn}}
    for room in drawn:
        yield room.id, floors[room.storey].stand(room.id, None)[0]


def _room_space(plan: Plan, room_id: str, side_m: float, middles: Mapping[str, Point]) -> Space:
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    room = plan.room(room_id)
    if not room.outline:
        return Space(frozenset({room.id}), (ShapelyPoint(0, 0),), room.storey)
    floor = Polygon(room.outline)
    return Space(frozenset({room.id}), pieces(floor, side_m), room.storey, floor, middles[room.id])


def _entry(number: int, space: Space, at: Point | None, half_m: float) -> Entry:
    if space.floor is None:
        return Entry(number, space.shapes[0], 0.0)
    if at is None:
        return Entry(number, space.floor.boundary, 0.0)
    return Entry(number, nearest_on_wall(at, space.floor), half_m)


def _join(ground: Ground, passage: PlanPassage, contacts: frozenset[str]) -> None:
    """A door where it is drawn, the whole wall where only the rooms are, else a way as long as its seconds."""
    plan, (first, second) = ground.plan, passage.rooms
    if passage.kind in _DOORS and plan.drawn(first) and plan.drawn(second):
        one, other = plan.room(first), plan.room(second)
        if passage.at is not None:
            for place in across(passage.at, passage.width_m, one.outline, other.outline, ground.side_m * _SILL):
                _portal(ground, passage, contacts, (place, place))
            return
        walls = shared_wall(one, other), shared_wall(other, one)
        if walls[0] is not None and walls[1] is not None:
            ground.notes[f"The place of {passage.id} isn't drawn: it may be anywhere on the wall between."] = None
            _portal(ground, passage, contacts, (walls[0], walls[1]))
            return
    _way(ground, passage, contacts)


def _portal(
    ground: Ground, passage: PlanPassage, contacts: frozenset[str], places: tuple["BaseGeometry", "BaseGeometry"]
) -> None:
    spaces = ground.of_room[passage.rooms[0]], ground.of_room[passage.rooms[1]]
    guarding = contacts if passage.kind is PassageKind.DOOR else frozenset[str]()
    ground.portals.append(Portal(passage.id, spaces, places, guarding))


def _way(ground: Ground, passage: PlanPassage, contacts: frozenset[str]) -> None:
    """A line between the two rooms, cut into pieces.

    A guarded door is at an unknown place of it: two lines, and a portal from one to the other at each cut.
    """
    length_m = _length_m(ground, passage)
    ends = [_end(ground, room, at, passage.width_m / 2) for room, at in _ends(passage)]
    rooms = ground.of_room[passage.rooms[0]], ground.of_room[passage.rooms[1]]
    if length_m <= _EXACT:
        ground.notes[f"{passage.id} may take no time at all: its seconds say no more."] = None
        _portal(ground, passage, contacts, (ends[0], ends[1]))
        return
    guarding = contacts if passage.kind is PassageKind.DOOR else frozenset[str]()
    cuts_m = _cuts_m(length_m, ground.side_m)
    near = _line(ground, passage, cuts_m, contacts - guarding)
    far = _line(ground, passage, cuts_m, contacts - guarding) if guarding else near
    ground.portals.append(Portal(passage.id, (rooms[0], near), (ends[0], _at(0.0))))
    if guarding:
        ground.portals += [Portal(passage.id, (near, far), (_at(cut), _at(cut)), guarding) for cut in cuts_m]
    ground.portals.append(Portal(passage.id, (far, rooms[1]), (_at(length_m), ends[1])))


def _cuts_m(length_m: float, side_m: float) -> list[float]:
    """Ends of the pieces of a way, each longer than the side unless there is but one.

    So a tick of k sides brings somebody k pieces on and no more: nothing is lost to rounding along the way.
    """
    parts = max(1, ceil(length_m / side_m - _EXACT) - 1)
    return [length_m * part / parts for part in range(parts + 1)]


def _line(ground: Ground, passage: PlanPassage, cuts_m: list[float], contacts: frozenset[str]) -> int:
    from shapely.geometry import LineString

    shapes = tuple(LineString(((a, 0), (b, 0))) for a, b in pairwise(cuts_m))
    ground.spaces.append(Space(frozenset(passage.rooms), shapes, contacts=contacts))
    return len(ground.spaces) - 1


def _at(x: float) -> Any:
    from shapely.geometry import Point as ShapelyPoint

    return ShapelyPoint(x, 0)


def _ends(passage: PlanPassage) -> Iterator[tuple[str, Point | None]]:
    """The two rooms, each with the place at which the way ends in it; a door has one place."""
    second = passage.at if passage.kind in _DOORS and passage.at_second is None else passage.at_second
    return zip(passage.rooms, (passage.at, second), strict=True)


def _end(ground: Ground, room: str, at: Point | None, half_m: float) -> "BaseGeometry":
    """Where a way ends in a room: about its place, as wide as it is; the whole room when that isn't known."""
    from shapely.geometry import Point as ShapelyPoint

    space = ground.spaces[ground.of_room[room]]
    if space.floor is None:
        return space.shapes[0]
    return space.floor if at is None else ShapelyPoint(at).buffer(half_m)


def _length_m(ground: Ground, passage: PlanPassage) -> float:
    """Metres of a way: stairs along their slope; else what was stopped, less what may lie in drawn rooms."""
    climbs = passage.climbs and (passage.seconds is None or None not in (passage.at, passage.at_second))
    if climbs:
        along_m = slope_m(ground.plan, passage, ground.notes)
        if along_m:
            return along_m
    seconds = passage.seconds
    if seconds is None:
        seconds = ASSUMED_S[passage.kind]
        ground.notes[f"Nobody stopped {passage.id}: {seconds:g} s are assumed."] = None
    ends = [(ground.spaces[ground.of_room[room]], at) for room, at in _ends(passage)]
    lies_in_m = sum(inside_m(space.floor, space.middle, at, passage.width_m / 2) for space, at in ends)
    return max(0.0, seconds * STOPWATCH_M_S - lies_in_m)
