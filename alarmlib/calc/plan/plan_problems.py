"""What cannot be right in a floor plan, one sentence each."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from alarmlib.calc.plan.floor_plan import WALL_MOST_M, Plan, PlanOpening, PlanPassage, PlanRoom, Point, plan_from_home
from alarmlib.model.asked import asked
from alarmlib.model.shapes import ON_WALL_M, crosses_itself, edges, off_wall_m
from alarmlib.model.site import PassageKind
from alarmlib.units import rounded

if TYPE_CHECKING:
    from alarmlib.model.home import Home

OVERLAP_M2 = 0.01  # less than this is a slip of the tape
OVER_CORNER_M = 0.05  # a frame may reach this far around a corner by a slip of the tape
STRAIGHT_M = 0.02  # a corner this little off the straight line between its neighbours is none
BESIDE_M = 0.3  # a device or fixture this far beyond its wall still counts as in its room
_NOTHING_M = 1e-9
Called = Callable[[str, str], str]


@dataclass(frozen=True)
class PlanProblem:
    """A part of the plan that cannot be right: which kind of part, its id, and one sentence."""

    kind: str
    subject: str
    message: str


@dataclass(frozen=True)
class PlacedThing:
    """A device or a fixture with a place on the plan."""

    kind: str
    id: str
    room: str
    at: Point


@asked
def home_plan_problems(home: "Home") -> tuple[PlanProblem, ...]:
    """Every problem of a home's plan, with the names that the owner gave.

    Reference: textbook plane geometry.
    """
    site = home.site
    named = {("room", room.id): room.name for room in site.rooms}
    named |= {("opening", opening.id): opening.name for opening in site.openings}
    named |= {("furniture", piece.id): piece.name for piece in site.furniture}
    named |= {("fixture", fixture.id): fixture.name for fixture in site.fixtures}
    named |= {("device", device.id): device.name for device in home.whole_devices}
    for passage in site.passages:
        ends = (named["room", passage.first], named["room", passage.second])
        named["passage", passage.id] = f"{passage.kind.text} between {ends[0]} and {ends[1]}"
    placed = [PlacedThing("device", d.id, d.room, d.at) for d in home.whole_devices if d.at is not None and d.room]
    placed += [PlacedThing("fixture", f.id, f.room, f.at) for f in site.fixtures if f.at is not None]
    return plan_problems(plan_from_home(home), placed, lambda kind, name: f"“{named.get((kind, name), name)}”")


def plan_problems(
    plan: Plan, placed: Sequence[PlacedThing] = (), called: Called = lambda _kind, name: name
) -> tuple[PlanProblem, ...]:
    """Every problem of the plan; rooms whose walls cross are left out of the later checks.

    `called` gives what a part is called in the sentences, by kind and id.
    Reference: textbook plane geometry.
    """
    crossed = {room.id for room in plan.rooms if room.outline and crosses_itself(room.outline)}
    sound = {room.id: room for room in plan.rooms if room.outline and room.id not in crossed}
    found = _Found(plan, sound, called)
    return (
        *(found.crossing(name) for name in sorted(crossed)),
        *found.strangers(),
        *found.overlaps(),
        *(problem for opening in plan.openings for problem in found.of_opening(opening)),
        *(problem for passage in plan.passages for problem in found.of_passage(passage)),
        *found.furniture(),
        *(problem for thing in placed for problem in found.of_placed(thing)),
    )


class _Found:
    """The problems of one plan; `sound` are the drawn rooms whose walls do not cross."""

    def __init__(self, plan: Plan, sound: dict[str, PlanRoom], called: Called) -> None:
        self.plan, self.sound, self.called = plan, sound, called

    def crossing(self, name: str) -> PlanProblem:
        """A room whose walls cross."""
        return PlanProblem("room", name, f"Walls of the room {self.called('room', name)} cross one another.")

    def strangers(self) -> Iterator[PlanProblem]:
        """Parts of rooms that aren't in the plan."""
        known = {room.id for room in self.plan.rooms}
        parts = [("opening", part.id, part.room) for part in self.plan.openings]
        parts += [("furniture", part.id, part.room) for part in self.plan.furniture]
        parts += [("passage", part.id, room) for part in self.plan.passages for room in part.rooms]
        for kind, name, room in parts:
            if room not in known:
                message = f"The {kind} {self.called(kind, name)} is in the room {room}, which is not in the plan."
                yield PlanProblem(kind, name, message)

    def overlaps(self) -> Iterator[PlanProblem]:
        """Rooms of one storey that lie over one another."""
        from shapely.geometry import Polygon

        shapes = {name: Polygon(room.outline) for name, room in self.sound.items()}
        for one, other in combinations(self.sound.values(), 2):
            if one.storey == other.storey and _boxes_meet(one, other):
                shared_m2 = shapes[one.id].intersection(shapes[other.id]).area
                if shared_m2 > OVERLAP_M2:
                    rooms = f"{self.called('room', one.id)} and {self.called('room', other.id)}"
                    yield PlanProblem("room", other.id, f"The rooms {rooms} overlap by {rounded(shared_m2, 2)} m².")

    def of_opening(self, opening: PlanOpening) -> Iterator[PlanProblem]:
        """A way in that lies off its room's walls, over a corner, or in a wall to another room."""
        room = self.sound.get(opening.room)
        if opening.at is None or room is None:
            return
        name, inside = self.called("opening", opening.id), self.called("room", opening.room)
        off_m = off_wall_m(opening.at, room.outline)
        if off_m > ON_WALL_M:
            message = f"The way in {name} lies {rounded(off_m, 2)} m from every wall of the room {inside}."
            yield PlanProblem("opening", opening.id, message)
            return
        if _over_corner(opening, room):
            message = f"The way in {name} lies over a corner of {inside}, on two walls: give it a place on one of them."
            yield PlanProblem("opening", opening.id, message)
        for other in self._behind(opening, room):
            beyond = self.called("room", other)
            message = f"The way in {name} leads into {beyond}, not outside: enter it as an inside doorway."
            yield PlanProblem("opening", opening.id, message)

    def _behind(self, opening: PlanOpening, room: PlanRoom) -> Iterator[str]:
        """Rooms on the other side of the wall at an opening's place, and a little to both sides of it."""
        assert opening.at is not None
        (ax, ay), (bx, by) = min(edges(room.outline), key=lambda wall: off_wall_m(opening.at or (0, 0), wall))
        length_m = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        aside_m = min((opening.width_m or 0.5) / 4, length_m / 4)
        beside = [
            (opening.at[0] + part * (bx - ax) / length_m, opening.at[1] + part * (by - ay) / length_m)
            for part in (-aside_m, 0, aside_m)
        ]
        for other in self.sound.values():
            if other.id == room.id or other.storey != room.storey or not _near_box(opening.at, other):
                continue
            if all(off_wall_m(point, other.outline) <= WALL_MOST_M + _NOTHING_M for point in beside):
                yield other.id

    def of_passage(self, passage: PlanPassage) -> Iterator[PlanProblem]:
        """A passage that joins a room with itself, two storeys without stairs, or doesn't touch its rooms."""
        rooms = [room for name in passage.rooms for room in self.plan.rooms if room.id == name]
        if len(rooms) < 2:
            return
        name = self.called("passage", passage.id)
        if rooms[0].id == rooms[1].id:
            message = (
                f"The inside doorway {name} leads from the room {self.called('room', rooms[0].id)} into the same room."
            )
            yield PlanProblem("passage", passage.id, message)
            return
        if passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY) and rooms[0].storey != rooms[1].storey:
            message = f"The inside doorway {name} joins rooms of two storeys, but is not entered as stairs."
            yield PlanProblem("passage", passage.id, message)
            return
        for room, at in zip(rooms, _ends(passage), strict=True):
            if at is not None and room.id in self.sound and _misses(passage, room, at):
                message = f"The inside doorway {name} does not touch the room {self.called('room', room.id)}."
                yield PlanProblem("passage", passage.id, message)

    def furniture(self) -> Iterator[PlanProblem]:
        """Furniture that lies for the most part outside its room."""
        from shapely.geometry import Polygon

        for piece in self.plan.furniture:
            room = self.sound.get(piece.room)
            if room is not None and piece.outline and not crosses_itself(piece.outline):
                shape = Polygon(piece.outline)
                if shape.intersection(Polygon(room.outline)).area < shape.area / 2:
                    name, inside = self.called("furniture", piece.id), self.called("room", piece.room)
                    message = f"The piece of furniture {name} is mostly outside its room {inside}."
                    yield PlanProblem("furniture", piece.id, message)

    def of_placed(self, thing: PlacedThing) -> Iterator[PlanProblem]:
        """A device or fixture whose place is outside every room, or outside its own."""
        room = self.sound.get(thing.room)
        if room is None or _holds(room, thing.at):
            return
        name, inside = self.called(thing.kind, thing.id), self.called("room", thing.room)
        others = [each.id for each in self.sound.values() if each.storey == room.storey and _holds(each, thing.at)]
        if others:
            where = f"lies in {self.called('room', others[0])}, but is entered as being in the room {inside}"
        else:
            where = f"lies outside every drawn room; its room is {inside}"
        yield PlanProblem(thing.kind, thing.id, f"The {thing.kind} {name} {where}.")


def _holds(room: PlanRoom, at: Point) -> bool:
    if off_wall_m(at, room.outline) <= BESIDE_M:
        return True
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    return bool(Polygon(room.outline).covers(ShapelyPoint(at)))


def _boxes_meet(one: PlanRoom, other: PlanRoom) -> bool:
    """Whether the upright boxes around two rooms share more than an edge: a quick no before the dear question."""
    return all(
        max(min(c[axis] for c in one.outline), min(c[axis] for c in other.outline))
        < min(max(c[axis] for c in one.outline), max(c[axis] for c in other.outline))
        for axis in (0, 1)
    )


def _near_box(at: Point, room: PlanRoom) -> bool:
    """Whether a place lies so near the upright box around a room that its wall may be shared."""
    return all(
        min(c[axis] for c in room.outline) - 2 * WALL_MOST_M
        <= at[axis]
        <= max(c[axis] for c in room.outline) + 2 * WALL_MOST_M
        for axis in (0, 1)
    )


def _over_corner(opening: PlanOpening, room: PlanRoom) -> bool:
    """Whether the wall that an opening is in ends before the opening does."""
    at, width_m = opening.at, opening.width_m
    if at is None or width_m is None:
        return False
    (ax, ay), (bx, by) = min(edges(_turning(room.outline)), key=lambda wall: off_wall_m(at, wall))
    length_m = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    along_m = ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / length_m
    return bool(min(along_m, length_m - along_m) < width_m / 2 - OVER_CORNER_M)


def _turning(outline: tuple[Point, ...]) -> tuple[Point, ...]:
    """The corners at which the wall turns; one drawn in the middle of a straight wall is no corner."""
    before, after = (outline[-1], *outline[:-1]), (*outline[1:], outline[0])
    return tuple(
        corner
        for last, corner, following in zip(before, outline, after, strict=True)
        if off_wall_m(corner, (last, following)) > STRAIGHT_M
    )


def _ends(passage: PlanPassage) -> tuple[Point | None, Point | None]:
    """Where the passage ought to touch its first and its second room."""
    if passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY):
        return passage.at, passage.at
    return passage.at, passage.at_second


def _misses(passage: PlanPassage, room: PlanRoom, at: Point) -> bool:
    if off_wall_m(at, room.outline) <= WALL_MOST_M:
        return False
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    return not (passage.climbs and bool(Polygon(room.outline).covers(ShapelyPoint(at))))
