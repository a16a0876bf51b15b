"""How far smoke, heat and carbon monoxide alarms are from bedrooms, stairs and cookers: metres and counts, no verdicts.

Everything is in SI; a distance is None where the plan does not tell it.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil, dist, hypot

from alarmlib.calc.cells.sights import joined
from alarmlib.calc.plan.floor_plan import Place, Plan, PlanPassage, Point
from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import WalkMap
from alarmlib.model.shapes import edges
from alarmlib.model.site import PassageKind
from alarmlib.units.kinds import FOOT_M

LARGE_LEVEL_M2 = 1000 * FOOT_M**2  # 1000 ft²: beyond this, one device for every 500 ft²
EACH_M2 = 500 * FOOT_M**2
_ANYBODY = Walker(level_speed(50), door_s=0.0)  # doors open: the fewest seconds are the fewest metres
_NO_ROOMS: frozenset[str] = frozenset()
_AIR_HALF_M = 0.05  # air passes where no body does


@dataclass(frozen=True)
class At:
    """An object with its room and, where known, its place in m on the plan."""

    id: str
    room: str
    at: Point | None = None


@dataclass(frozen=True)
class DoorWalk:
    """From a bedroom's door to the nearest of some devices: the door's passage, the device, metres walked."""

    room: str
    door: str
    device: str
    metres: float


def devices_for_level(area_m2: float) -> int:
    """How many devices a level of that floor area asks for, the garage left out.

    One up to 1000 ft², beyond that one for each 500 ft² begun.
    Reference: NFPA 72 household chapter, 2007 and later, from memory (`nfpa72_area`).
    """
    return 1 if area_m2 <= LARGE_LEVEL_M2 + 1e-6 else ceil(round(area_m2 / EACH_M2, 9))


def bedroom_doors(
    plan: Plan, bedrooms: Iterable[str], no_way: Collection[str] = _NO_ROOMS
) -> list[tuple[str, PlanPassage]]:
    """Each bedroom with each of its doors that leads out of it, to a room that is no bedroom.

    A door to a room of `no_way` (a bathroom, a store), or to one that leads to bedrooms alone, counts only where
    the bedroom has no other.
    Reference: the owner's own survey; which doors lead out.
    """
    beds = frozenset(bedrooms)
    found: dict[str, list[PlanPassage]] = {}
    for passage in plan.passages:
        leads_out = sum(room in beds for room in passage.rooms) == 1  # not so of one entered as from a room to itself
        if leads_out and passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY):
            found.setdefault(next(room for room in passage.rooms if room in beds), []).append(passage)
    blind = _dead_ends(plan, beds)
    return [
        (bedroom, door) for bedroom, doors in found.items() for door in _leading_out(_leading_out(doors, no_way), blind)
    ]


def _leading_out(doors: list[PlanPassage], not_to: Collection[str]) -> list[PlanPassage]:
    return [door for door in doors if not set(door.rooms) & set(not_to)] or doors


def _dead_ends(plan: Plan, beds: frozenset[str]) -> frozenset[str]:
    """The rooms that lead to bedrooms alone."""
    onward = [p.rooms for p in plan.passages if not beds & set(p.rooms)]
    return frozenset(room.id for room in plan.rooms if room.id not in beds and not any(room.id in w for w in onward))


def door_walks(
    plan: Plan, bedrooms: Iterable[str], devices: Sequence[At], no_way: Collection[str] = _NO_ROOMS
) -> tuple[DoorWalk, ...]:
    """From each drawn bedroom's door to the nearest of the devices outside the bedrooms of that storey.

    Metres are walked, doors open; doors and rooms without a place on the plan are left out, and so is a storey
    where a device outside the bedrooms has no place: it may be the nearest.
    Reference: shortest path over the visibility graph, textbook.
    """
    beds = frozenset(bedrooms)
    outside = tuple(device for device in devices if device.room not in beds)
    doors = [each for each in bedroom_doors(plan, beds, no_way) if _known(plan, *each, outside)]
    if not doors:
        return ()
    ends = [Place(device.room, device.at) for device in outside if device.at is not None and plan.drawn(device.room)]
    starts = [Place(_beyond(room, door), door.at) for room, door in doors]
    walks = WalkMap(replace(plan, furniture=()), (*starts, *ends))
    return tuple(found for room, door in doors for found in _door_walk(walks, room, door, outside))


def _beyond(bedroom: str, door: PlanPassage) -> str:
    """The room that a bedroom's door leads to."""
    return next(room for room in door.rooms if room != bedroom)


def _on_its_storey(plan: Plan, room: str, devices: tuple[At, ...]) -> tuple[At, ...]:
    return tuple(device for device in devices if plan.room(device.room).storey == plan.room(room).storey)


def _known(plan: Plan, bedroom: str, door: PlanPassage, devices: tuple[At, ...]) -> bool:
    """Whether the plan has a place for the door, and for each device that may be the nearest."""
    room = _beyond(bedroom, door)
    here = _on_its_storey(plan, room, devices)
    return door.at is not None and plan.drawn(room) and all(d.at is not None and plan.drawn(d.room) for d in here)


def _door_walk(walks: WalkMap, bedroom: str, door: PlanPassage, devices: tuple[At, ...]) -> Iterator[DoorWalk]:
    start = Place(_beyond(bedroom, door), door.at)
    lengths = [
        (metres, device.id)
        for device in _on_its_storey(walks.plan, start.room, devices)
        if (metres := _length_m(walks, start, Place(device.room, device.at))) is not None
    ]
    if lengths:
        metres, device = min(lengths)
        yield DoorWalk(bedroom, door.id, device, metres)


def _length_m(walks: WalkMap, start: Place, end: Place) -> float | None:
    walk = walks.walk(start, end, _ANYBODY)
    return None if walk is None or walk.stopwatch_s else walk.length_m


def air_path_m(plan: Plan, start: At, end: At) -> float | None:
    """How far smoke travels along the floor plan from one place to another, inside doors open, furniture no bar.

    None where a place isn't drawn, on another storey, or reached only by rooms that aren't drawn.
    Reference: shortest path past walls, textbook.
    """
    if start.at is None or end.at is None or not all(room and plan.drawn(room) for room in (start.room, end.room)):
        return None
    if plan.room(start.room).storey != plan.room(end.room).storey:
        return None
    if start.room == end.room and _straight(plan, start.room):
        return hypot(start.at[0] - end.at[0], start.at[1] - end.at[1])
    ends = Place(start.room, start.at), Place(end.room, end.at)
    return _length_m(WalkMap(replace(plan, furniture=()), ends, _AIR_HALF_M), *ends)


def within_m(plan: Plan, room: str, devices: Iterable[At], most_m: float) -> bool:
    """Whether one of the devices has every corner, so the whole floor, of a room within some metres of air path.

    Two devices that reach a room only between them don't count: the answer errs to the strict side.
    Reference: the shortest path from a point to a polygon's points is longest at a corner; textbook geometry.
    """
    corners = [At("corner", room, corner) for corner in plan.room(room).outline]
    return bool(corners) and any(
        all((far := air_path_m(plan, device, corner)) is not None and far <= most_m + 1e-6 for corner in corners)
        for device in devices
    )


def _straight(plan: Plan, room: str) -> bool:
    """Whether a room has no inner corner, so that any two of its places see one another."""
    outline = plan.room(room).outline
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(outline, (*outline[1:], outline[0]), (*outline[2:], *outline[:2]), strict=True)
    ]
    return all(turn >= 0 for turn in turns) or all(turn <= 0 for turn in turns)


def open_groups(plan: Plan, rooms: Iterable[str], apart: Collection[str] = _NO_ROOMS) -> tuple[frozenset[str], ...]:
    """Rooms of one storey that are open to one another: a door parts them, a doorway does not.

    Rooms that are `apart` (bedrooms) join no group.
    Reference: reachability in a graph, textbook.
    """
    wanted = list(rooms)
    storeys = {room.id: room.storey for room in plan.rooms}
    ways = [
        p.rooms for p in plan.passages
        if p.kind is PassageKind.DOORWAY and storeys.get(p.rooms[0]) == storeys.get(p.rooms[1])
        and not set(apart) & set(p.rooms)
    ]  # fmt: skip
    return tuple(dict.fromkeys(joined({room}, ways) for room in wanted))


def sleeping_areas(
    plan: Plan, bedrooms: Iterable[str], no_way: Collection[str] = _NO_ROOMS
) -> tuple[tuple[frozenset[str], frozenset[str]], ...]:
    """Each separate sleeping area: the rooms outside the bedrooms that its doors lead to, and its bedrooms.

    Bedrooms whose doors lead to rooms that are open to one another share one; a bedroom is never outside,
    even where it is open.
    Reference: NFPA 72 household chapter, "outside each separate sleeping area".
    """
    beds = frozenset(bedrooms)
    found: dict[frozenset[str], set[str]] = {}
    for bedroom, door in bedroom_doors(plan, beds, no_way):
        outside = next(room for room in door.rooms if room != bedroom)
        (group,) = open_groups(plan, [outside], beds)
        found.setdefault(group, set()).add(bedroom)
    return tuple((group, frozenset(beds)) for group, beds in found.items())


def farthest_m(outline: Sequence[Point], places: Sequence[Point]) -> float:
    """How far the point of a floor that is farthest from all of some places lies from the nearest of them, m.

    In a straight line; the point is a corner, or on a wall midway between two places, or midway between three.
    Reference: vertices of the Voronoi diagram within the outline, textbook plane geometry.
    """
    spots = [*outline, *_midway_on_walls(outline, places), *_midway_of_three(outline, places)]
    return max(min(dist(spot, place) for place in places) for spot in spots)


def _midway_on_walls(outline: Sequence[Point], places: Sequence[Point]) -> Iterator[Point]:
    for p, q in combinations(places, 2):
        for a, b in edges(outline):
            from_a, from_b = (dist(end, p) ** 2 - dist(end, q) ** 2 for end in (a, b))
            if from_a * from_b < 0:
                share = from_a / (from_a - from_b)
                yield a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _midway_of_three(outline: Sequence[Point], places: Sequence[Point]) -> Iterator[Point]:
    for (ax, ay), (bx, by), (cx, cy) in combinations(places, 3):
        twice = 2 * ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
        if twice:
            to_b, to_c = (bx - ax) ** 2 + (by - ay) ** 2, (cx - ax) ** 2 + (cy - ay) ** 2
            x = ax + (to_b * (cy - ay) - to_c * (by - ay)) / twice
            y = ay + (to_c * (bx - ax) - to_b * (cx - ax)) / twice
            if _within((x, y), outline):
                yield x, y


def _within(at: Point, outline: Sequence[Point]) -> bool:
    crossed = [
        a for a, b in edges(outline)
        if (a[1] > at[1]) != (b[1] > at[1]) and at[0] < a[0] + (at[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
    ]  # fmt: skip
    return len(crossed) % 2 == 1
