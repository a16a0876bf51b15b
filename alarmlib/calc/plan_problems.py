"""What cannot be right in a floor plan, one sentence each."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from alarmlib.calc.plan import WALL_MOST_M, Passage, Plan, Point, Room
from alarmlib.model.shapes import ON_WALL_M, crosses_itself, off_wall_m
from alarmlib.model.site import PassageKind

OVERLAP_M2 = 0.01  # less than this is a slip of the tape


@dataclass(frozen=True)
class PlanProblem:
    """A part of the plan that cannot be right: which kind of part, its id, and one sentence."""

    kind: str
    subject: str
    message: str


def plan_problems(plan: Plan) -> tuple[PlanProblem, ...]:
    """Every problem of the plan; rooms whose walls cross are left out of the later checks.

    Reference: textbook plane geometry.
    """
    crossed = {room.id for room in plan.rooms if room.outline and crosses_itself(room.outline)}
    return (
        *(PlanProblem("room", name, f"Walls of the room {name} cross one another.") for name in sorted(crossed)),
        *_strangers(plan),
        *_overlaps([room for room in plan.rooms if room.outline and room.id not in crossed]),
        *_openings_off_wall(plan, crossed),
        *(found for passage in plan.passages for found in _passage_problems(plan, passage, crossed)),
    )


def _strangers(plan: Plan) -> Iterator[PlanProblem]:
    known = {room.id for room in plan.rooms}
    parts = [("opening", part.id, part.room) for part in plan.openings]
    parts += [("furniture", part.id, part.room) for part in plan.furniture]
    parts += [("passage", part.id, room) for part in plan.passages for room in part.rooms]
    for kind, name, room in parts:
        if room not in known:
            yield PlanProblem(kind, name, f"The {kind} {name} belongs to the room {room}, which isn't in the plan.")


def _overlaps(rooms: list[Room]) -> Iterator[PlanProblem]:
    from shapely.geometry import Polygon

    shapes = {room.id: Polygon(room.outline) for room in rooms}
    for one, other in combinations(rooms, 2):
        if one.storey == other.storey:
            shared_m2 = shapes[one.id].intersection(shapes[other.id]).area
            if shared_m2 > OVERLAP_M2:
                message = f"The rooms {one.id} and {other.id} overlap by {shared_m2:.2g} m²."
                yield PlanProblem("room", other.id, message)


def _openings_off_wall(plan: Plan, crossed: set[str]) -> Iterator[PlanProblem]:
    rooms = {room.id: room for room in plan.rooms if room.outline and room.id not in crossed}
    for opening in plan.openings:
        if opening.at is not None and opening.room in rooms:
            off_m = off_wall_m(opening.at, rooms[opening.room].outline)
            if off_m > ON_WALL_M:
                message = f"The opening {opening.id} lies {off_m:.2g} m from every wall of the room {opening.room}."
                yield PlanProblem("opening", opening.id, message)


def _passage_problems(plan: Plan, passage: Passage, crossed: set[str]) -> Iterator[PlanProblem]:
    rooms = [room for name in passage.rooms for room in plan.rooms if room.id == name]
    if len(rooms) < 2:
        return
    if rooms[0].id == rooms[1].id:
        message = f"The passage {passage.id} leads from the room {rooms[0].id} into the same room."
        yield PlanProblem("passage", passage.id, message)
        return
    if passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY) and rooms[0].storey != rooms[1].storey:
        message = f"The passage {passage.id} is no stairs but joins rooms of two storeys."
        yield PlanProblem("passage", passage.id, message)
        return
    for room, at in zip(rooms, _ends(passage), strict=True):
        if at is not None and room.outline and room.id not in crossed and _misses(passage, room, at):
            yield PlanProblem("passage", passage.id, f"The passage {passage.id} doesn't touch the room {room.id}.")


def _ends(passage: Passage) -> tuple[Point | None, Point | None]:
    """Where the passage ought to touch its first and its second room."""
    if passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY):
        return passage.at, passage.at
    return passage.at, passage.at_second


def _misses(passage: Passage, room: Room, at: Point) -> bool:
    if off_wall_m(at, room.outline) <= WALL_MOST_M:
        return False
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    return not (passage.climbs and Polygon(room.outline).covers(ShapelyPoint(at)))
