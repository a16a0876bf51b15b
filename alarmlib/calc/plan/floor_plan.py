"""The floor plan that calculations read: rooms, ways in, ways between rooms, furniture; no drawing is required.

Points are metres in the plan of the storey; walls have no thickness of their own, so rooms may be drawn
wall to wall or with the wall's thickness between them (up to `WALL_MOST_M`).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.errors import FieldProblem
from alarmlib.model.asked import asked
from alarmlib.model.shapes import edges, signed_area_m2
from alarmlib.model.site import PassageKind

if TYPE_CHECKING:
    from alarmlib.model.devices import Device
    from alarmlib.model.home import Home

Point = tuple[float, float]
Segment = tuple[Point, Point]
WALL_MOST_M = 0.4  # the thickest wall between two rooms that still touch
_SHARED_LEAST_M = 0.05


@dataclass(frozen=True)
class PlanStorey:
    """A floor and how high it lies above the ground floor, m."""

    id: str
    floor_m: float = 0.0


@dataclass(frozen=True)
class PlanRoom:
    """A room; no outline means that only doors and seconds are known."""

    id: str
    storey: str = ""
    outline: tuple[Point, ...] = ()
    floor_area_m2: float | None = None


@dataclass(frozen=True)
class PlanOpening:
    """A way in from outside, at a place on its room's wall when drawn."""

    id: str
    room: str
    at: Point | None = None
    width_m: float | None = None


@dataclass(frozen=True)
class PlanPassage:
    """A way from the first room to the second.

    `at` is its place in the first room's storey, `at_second` where it ends in the second's (stairs);
    `seconds` were stopped from the middle of one room to the middle of the other.
    """

    id: str
    rooms: tuple[str, str]
    kind: PassageKind = PassageKind.DOOR
    at: Point | None = None
    at_second: Point | None = None
    width_m: float = 0.8
    slope_m: float | None = None
    seconds: float | None = None

    @property
    def climbs(self) -> bool:
        """Whether it goes from storey to storey."""
        return self.kind in (PassageKind.STAIRS, PassageKind.HATCH)


@dataclass(frozen=True)
class PlanFurniture:
    """Something that cannot be walked through."""

    id: str
    room: str
    outline: tuple[Point, ...] = ()
    height_m: float = 0.9


@dataclass(frozen=True)
class Place:
    """Where a walk begins or ends: a point in a room, or its middle when no point is known."""

    room: str
    at: Point | None = None


@dataclass(frozen=True)
class Plan:
    """All that is known of the floors."""

    storeys: tuple[PlanStorey, ...] = ()
    rooms: tuple[PlanRoom, ...] = ()
    openings: tuple[PlanOpening, ...] = ()
    passages: tuple[PlanPassage, ...] = ()
    furniture: tuple[PlanFurniture, ...] = ()
    _rooms: Mapping[str, PlanRoom] = field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_rooms", {room.id: room for room in self.rooms})

    def room(self, room_id: str) -> PlanRoom:
        """The room of that id; FieldProblem when there is none."""
        if room_id not in self._rooms:
            raise FieldProblem("", "room", room_id, "it must be one of the plan's rooms")
        return self._rooms[room_id]

    def drawn(self, room_id: str) -> bool:
        """Whether the room has an outline."""
        return bool(self.room(room_id).outline)

    def floor_m(self, room_id: str) -> float:
        """Height of the room's floor above the ground floor, m; 0 when its storey isn't known."""
        storey = self.room(room_id).storey
        return next((s.floor_m for s in self.storeys if s.id == storey), 0.0)

    def place_of_opening(self, opening_id: str) -> Place:
        """Where somebody is who has just come in by this opening."""
        for opening in self.openings:
            if opening.id == opening_id:
                return Place(opening.room, opening.at)
        raise FieldProblem("", "opening", opening_id, "it must be one of the plan's openings")


def area_m2(room: PlanRoom) -> float | None:
    """Floor area in m²: of the outline, else as typed, else None.

    Reference: shoelace formula, textbook plane geometry.
    """
    return abs(signed_area_m2(room.outline)) if room.outline else room.floor_area_m2


def shared_walls(plan: Plan) -> Iterator[tuple[str, str, Segment, float]]:
    """(room, room, stretch of the first room's wall, metres) of each wall that two drawn rooms share.

    Walls are shared where they run parallel at most `WALL_MOST_M` apart on one storey.
    Reference: textbook plane geometry; the wall's thickness is an assumption.
    """
    for one, other in combinations((room for room in plan.rooms if room.outline), 2):
        if one.storey == other.storey:
            for wall in edges(one.outline):
                for beside in edges(other.outline):
                    stretch = _alongside(wall, beside)
                    if stretch is not None:
                        yield one.id, other.id, stretch, _length_m(stretch)


def touching(plan: Plan) -> frozenset[tuple[str, str]]:
    """Pairs of rooms, each in the order of the plan, that share a wall or are joined by a passage.

    By `shared_walls` and the passages as typed.
    """
    order = {room.id: place for place, room in enumerate(plan.rooms)}
    joined = (p.rooms for p in plan.passages if all(room in order for room in p.rooms))
    walls = ((one, other) for one, other, _, _ in shared_walls(plan))
    pairs = (sorted(pair, key=order.__getitem__) for pair in (*joined, *walls))
    return frozenset((one, other) for one, other in pairs if one != other)


def _length_m(segment: Segment) -> float:
    return hypot(segment[1][0] - segment[0][0], segment[1][1] - segment[0][1])


def _alongside(wall: Segment, beside: Segment) -> Segment | None:
    """The stretch of `wall` that `beside` runs along, or None."""
    length_m = _length_m(wall)
    (ax, ay), (bx, by) = wall
    ux, uy = (bx - ax) / length_m, (by - ay) / length_m
    along = [(x - ax) * ux + (y - ay) * uy for x, y in beside]
    apart = [(y - ay) * ux - (x - ax) * uy for x, y in beside]
    if abs(apart[0] - apart[1]) > 1e-6 * length_m or abs(apart[0]) > WALL_MOST_M:
        return None
    start_m, end_m = max(0.0, min(along)), min(length_m, max(along))
    if end_m - start_m < _SHARED_LEAST_M:
        return None
    return (ax + start_m * ux, ay + start_m * uy), (ax + end_m * ux, ay + end_m * uy)


def spots_of_openings(plan: Plan) -> dict[str, tuple[str, Point]]:
    """Storey and place of each drawn opening."""
    storey = {room.id: room.storey for room in plan.rooms}
    return {each.id: (storey[each.room], each.at) for each in plan.openings if each.at and each.room in storey}


@asked
def plan_from_home(home: "Home") -> Plan:
    """The plan of a home as surveyed.

    Floors lie where the storeys' heights put them, level 0 at 0 m.
    Reference: the owner's own survey.
    """
    site = home.site
    floors_m = _floors_m({storey.level: storey.height_m for storey in site.storeys})
    return Plan(
        storeys=tuple(PlanStorey(s.id, floors_m[s.level]) for s in site.storeys),
        rooms=tuple(PlanRoom(r.id, r.storey, r.outline, r.floor_area_m2) for r in site.rooms),
        openings=tuple(PlanOpening(o.id, o.room, o.at, o.width_m) for o in site.openings),
        passages=tuple(
            PlanPassage(
                p.id,
                (p.first, p.second),
                kind=p.kind,
                at=p.at,
                at_second=p.at_second,
                width_m=p.width_m,
                slope_m=p.slope_m,
                seconds=p.seconds,
            )
            for p in site.passages
        ),
        furniture=tuple(PlanFurniture(f.id, f.room, f.outline, f.height_m) for f in site.furniture),
    )


@asked
def walked_plan(home: "Home") -> Plan:
    """The plan as walks read it: how wide a way in is and how high a piece of furniture says nothing of them.

    Reference: the owner's own survey.
    """
    plan = plan_from_home(home)
    openings = tuple(PlanOpening(each.id, each.room, each.at) for each in plan.openings)
    furniture = tuple(PlanFurniture("", each.room, each.outline) for each in plan.furniture if each.outline)
    return replace(plan, openings=openings, furniture=furniture)


def place_of_device(device: "Device") -> Place | None:
    """Where somebody is who works at a device; None for one that is carried.

    Reference: the owner's own survey.
    """
    return Place(device.room, device.at) if device.room else None


def _floors_m(heights_m: Mapping[int, float]) -> dict[int, float]:
    """Floor height by level; levels without a storey of their own take 2.7 m."""

    def between(levels: Sequence[int]) -> float:
        return sum(heights_m.get(level, 2.7) for level in levels)

    return {level: between(range(level)) if level >= 0 else -between(range(level, 0)) for level in heights_m}
