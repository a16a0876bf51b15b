"""What coverage comes to: the share of each room that is seen, blind spots, and who is seen on the way in.

All areas are m² of floor on the plan; undrawn rooms are left out.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.coverage.areas import Coverage, Outline, coverages, joined_area, outlines
from alarmlib.calc.coverage.detection import STEP_M, STEPS_M
from alarmlib.calc.plan.drawing import PlanBox, bounds
from alarmlib.calc.plan.floor_plan import Place, Point, plan_from_home
from alarmlib.calc.walking.home_walks import walk_from
from alarmlib.calc.walking.walks import Leg, Walk
from alarmlib.model.asked import asked

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from alarmlib.model.home import Home

BODY_M = 0.25  # a blind spot whose largest circle is smaller holds nobody
_NOTHING_M = 1e-9
_NOTHING_M2 = 1e-3
_TOUCH_M = 1e-6


@dataclass(frozen=True)
class BlindSpot:
    """A part of a room's floor that no detector surely sees: its outlines, m², and the largest circle in it."""

    room: str
    outlines: tuple[Outline, ...]
    area_m2: float
    middle: Point
    radius_m: float


@dataclass(frozen=True)
class RoomSeen:
    """How much of a room's floor, less what furniture takes, is seen, m².

    `straight_m2` is surely seen by four steps any way, `sure_m2` by four steps across the view, `possible_m2` may be;
    `strips_m2` is how much of the first is unseen strips too narrow for a body, which count as seen.
    """

    room: str
    area_m2: float
    straight_m2: float
    sure_m2: float
    possible_m2: float
    blind: tuple[BlindSpot, ...]
    strips_m2: float = 0.0

    @property
    def strips_share(self) -> float:
        """The part of the floor that counts as seen only because unseen strips are too narrow for a body."""
        return self.strips_m2 / self.area_m2 if self.area_m2 else 0.0

    @property
    def share(self) -> float:
        """The part of the floor that is surely seen whichever way somebody walks."""
        return self.straight_m2 / self.area_m2 if self.area_m2 else 0.0


@dataclass(frozen=True)
class EntrySeen:
    """How one detector sees whoever comes in by a way and walks to a room's middle.

    `verdict` is "surely", "across" (only across its view), "may" or "not"; `after_m` are the metres walked until
    four steps lie behind in its area, `after_s` those metres at one step a second.
    """

    device: str
    way: str
    room: str
    verdict: str
    after_m: float | None = None

    @property
    def after_s(self) -> float | None:
        """Seconds at the walk test's step of 0.61 m a second."""
        return None if self.after_m is None else self.after_m / STEP_M


def rooms_seen(home: "Home") -> tuple[RoomSeen, ...]:
    """Each drawn room with what all detectors at work see of it.

    Areas of `alarmlib.calc.coverage.areas`.
    """
    return tuple(_room_seen(home, room.id) for room in plan_from_home(home).rooms if room.outline)


@asked
def _room_seen(home: "Home", room: str) -> RoomSeen:
    outline, pieces = _floor(home, room)
    seen, floor = _looking_in(home, room), joined_area([outline]).difference(joined_area(pieces))
    straight, sure, possible, without_strips = (
        floor.intersection(joined_area(o for each in seen for o in getattr(each, name)))
        for name in ("straight", "sure", "possible", "without_strips")
    )
    strips_m2 = float(straight.area - without_strips.area)
    strips_m2 = strips_m2 if strips_m2 > _NOTHING_M2 else 0.0
    blind = tuple(_blind_spots(room, floor.difference(sure)))
    return RoomSeen(
        room,
        float(floor.area),
        straight_m2=float(straight.area),
        sure_m2=float(sure.area),
        possible_m2=float(possible.area),
        blind=blind,
        strips_m2=strips_m2,
    )


@asked
def _floor(home: "Home", room: str) -> tuple[Outline, tuple[Outline, ...]]:
    """The outline of a room, and of each piece of furniture in it."""
    plan = plan_from_home(home)
    return plan.room(room).outline, tuple(f.outline for f in plan.furniture if f.room == room and f.outline)


@asked
def _looking_in(home: "Home", room: str) -> tuple[Coverage, ...]:
    """What may see something of a room: areas that are wholly beside it say nothing of it."""
    here = plan_from_home(home).room(room)
    box = bounds(here.outline)
    return tuple(
        each for each in coverages(home)
        if each.storey == here.storey and _meet(box, bounds([point for shape in each.possible for point in shape]))
    )  # fmt: skip


def _meet(one: PlanBox | None, other: PlanBox | None) -> bool:
    """Whether two boxes, by their least and largest x and y, have a point in common."""
    if one is None or other is None:
        return False
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _blind_spots(room: str, unseen: "BaseGeometry") -> Iterator[BlindSpot]:
    """The largest first; those in which nobody has room are left out."""
    from shapely import maximum_inscribed_circle

    pieces = [piece for piece in getattr(unseen, "geoms", [unseen]) if piece.area > BODY_M**2]
    for piece in sorted(pieces, key=lambda each: -each.area):
        radius = maximum_inscribed_circle(piece, tolerance=0.01)
        if radius.length >= BODY_M:
            x, y = radius.coords[0]
            yield BlindSpot(room, outlines(piece), float(piece.area), (round(x, 2), round(y, 2)), float(radius.length))


def place_seen_by(home: "Home", storey: str, at: Point) -> tuple[str, ...]:
    """The detectors in whose area a place lies: whoever comes there by four steps in it is surely seen.

    Areas of `alarmlib.calc.coverage.areas`.
    """
    from shapely.geometry import Point as ShapelyPoint

    here = (each for each in coverages(home) if each.storey == storey and each.straight)
    return tuple(each.device for each in here if joined_area(each.straight).covers(ShapelyPoint(at)))


def seen_on_the_way(home: "Home", rooms: Iterable[str], ways: Iterable[str]) -> tuple[EntrySeen, ...]:
    """How each detector sees whoever comes in by one of these openings and walks to each of these rooms' middles.

    The quickest walk is taken for the way; somebody may walk another, which the proof's cells try.
    Reference: UL 1641 15.3.1, four steps of 24 in (`ul1641_steps`), unbroken in the area.
    """
    detectors = [each.device for each in coverages(home)]
    ends = tuple(rooms)
    found = ([_on_the_way(home, device, way, ends) for device in detectors] for way in ways)
    return tuple(each for of_way in found for of_room in zip(*of_way, strict=True) for each in of_room)


@asked
def _on_the_way(home: "Home", device: str, way: str, rooms: tuple[str, ...]) -> tuple[EntrySeen, ...]:
    """How one detector sees whoever comes in by one way, for each of the rooms that can be walked to."""
    seen = _area_of(home, device)
    return tuple(_seen(seen, way, room, walk) for room in rooms if (walk := _walk(home, way, room)) is not None)


@asked
def _area_of(home: "Home", device: str) -> Coverage:
    return next(each for each in coverages(home) if each.device == device)


def _walk(home: "Home", way: str, room: str) -> Walk | None:
    plan = plan_from_home(home)
    start = plan.place_of_opening(way)
    if start.at is None or not plan.drawn(start.room) or not plan.drawn(room):
        return None
    return walk_from(home, way, Place(room))


def _seen(coverage: Coverage, way: str, room: str, walk: Walk) -> EntrySeen:
    for verdict, areas in (("surely", coverage.straight), ("across", coverage.sure)):
        after_m = four_steps_after_m(walk.legs, coverage.storey, areas)
        if after_m is not None:
            return EntrySeen(coverage.device, way, room, verdict, after_m)
    possible = joined_area(coverage.possible)
    touched = any(leg.storey == coverage.storey and _line(leg.points).intersects(possible) for leg in walk.legs)
    return EntrySeen(coverage.device, way, room, "may" if touched else "not")


def four_steps_after_m(legs: Sequence[Leg], storey: str, areas: Sequence[Outline]) -> float | None:
    """Metres walked until four steps lie unbroken in the areas; None when that never comes.

    Metres on stairs between the legs are not counted.
    Reference: UL 1641 15.3.1 (`ul1641_steps`).
    """
    if not areas:
        return None
    area = joined_area(areas).buffer(_NOTHING_M)
    walked_m = inside_m = 0.0
    for leg in legs:
        inside_m = inside_m if leg.storey == storey else 0.0
        for start, end in pairwise(leg.points):
            length_m = hypot(end[0] - start[0], end[1] - start[1])
            for low_m, high_m in _stretches(area, (start, end), length_m) if leg.storey == storey else ():
                inside_m = (inside_m if low_m <= _TOUCH_M else 0.0) + high_m - low_m
                if inside_m >= STEPS_M:
                    return walked_m + high_m - (inside_m - STEPS_M)
                inside_m = inside_m if high_m >= length_m - _TOUCH_M else 0.0
            if leg.storey == storey and not area.intersects(_line((end,))):
                inside_m = 0.0
            walked_m += length_m
    return None


def _stretches(area: "BaseGeometry", ends: tuple[Point, Point], length_m: float) -> list[tuple[float, float]]:
    """Where along a straight piece of walk, in metres from its start, the area is entered and left."""
    if length_m <= _TOUCH_M:
        return []
    parts = _line(ends).intersection(area)
    found = []
    for part in getattr(parts, "geoms", [parts]):
        if part.length > _TOUCH_M:
            along = sorted(hypot(x - ends[0][0], y - ends[0][1]) for x, y in (part.coords[0], part.coords[-1]))
            found.append((along[0], along[1]))
    return sorted(found)


def _line(points: Sequence[Point]) -> "BaseGeometry":
    from shapely.geometry import LineString
    from shapely.geometry import Point as ShapelyPoint

    return ShapelyPoint(points[0]) if len(points) == 1 else LineString(points)


def best_seen(seen: Iterable[EntrySeen]) -> Mapping[tuple[str, str], EntrySeen]:
    """For each way and room the detector that sees surest, and soonest among those."""
    order = {"surely": 0, "across": 1, "may": 2, "not": 3}
    best: dict[tuple[str, str], EntrySeen] = {}
    for each in seen:
        held = best.get((each.way, each.room))
        if held is None or (order[each.verdict], each.after_m or 0) < (order[held.verdict], held.after_m or 0):
            best[each.way, each.room] = each
    return best
