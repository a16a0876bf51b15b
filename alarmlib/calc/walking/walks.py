"""Shortest walks through a home, in metres where it is drawn and in stopwatch seconds where it isn't."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from alarmlib.calc.plan.floor_plan import Place, Plan, PlanPassage, Point
from alarmlib.calc.walking.floor import cheapest, path_to
from alarmlib.calc.walking.free_floor import BODY_HALF_M, FreeFloor
from alarmlib.calc.walking.walkers import Walker
from alarmlib.errors import FieldProblem
from alarmlib.model.site import PassageKind

# Seconds from room to room where neither plan nor stopwatch tells: assumed, and named in the walk.
ASSUMED_S = {
    PassageKind.DOOR: 5.0,
    PassageKind.DOORWAY: 5.0,
    PassageKind.STAIRS: 10.0,
    PassageKind.HATCH: 15.0,
    PassageKind.OUTSIDE: 30.0,
}
ASSUMED_IN_ROOM_S = 3.0  # from a door to a keypad in its own room, where nothing tells: assumed, and named likewise
_WALKERS_KEPT = 16  # a map outlives many edits of a pace
SLOPE_PER_RISE = 1.9  # stairs at about 32°: assumed where their length isn't known


class Spot(NamedTuple):
    """A node of the map: a point on a storey, or the middle of a room that isn't drawn."""

    storey: str
    at: Point | None
    room: str = ""


_MOST_SEARCHES = 64  # kept of one map
_SPOT_BYTES = 150  # about what an entry of a dict with its number or spot takes


@dataclass(frozen=True)
class Leg:
    """The walk over one storey as a line, metres."""

    storey: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Walk:
    """A walk: metres on the level, up and down along the slope, stopwatch seconds; what it passes.

    `doors` are closed doors passed, `assumed` the passages whose length or seconds nobody gave.
    """

    level_m: float = 0.0
    up_m: float = 0.0
    down_m: float = 0.0
    stopwatch_s: float = 0.0
    doors: tuple[str, ...] = ()
    rooms: tuple[str, ...] = ()
    legs: tuple[Leg, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def length_m(self) -> float:
        """Metres of the drawn part, stairs along their slope."""
        return self.level_m + self.up_m + self.down_m


@dataclass(frozen=True)
class Stretch:
    """One straight piece of a walk: what it costs, and the passages it goes through."""

    walk: Walk
    passages: frozenset[str] = frozenset()


class Graph:
    """Spots joined by stretches that lead from one to another; at most one from each to each."""

    def __init__(self) -> None:
        self.onward: dict[Spot, dict[Spot, Stretch]] = {}

    def add(self, spot: Spot) -> None:
        """A spot, where it isn't there yet."""
        self.onward.setdefault(spot, {})

    def join(self, one: Spot, other: Spot, stretch: Stretch) -> None:
        """Lead from the one to the other by this stretch, and by no other."""
        self.add(other)
        self.onward.setdefault(one, {})[other] = stretch


Straight = Callable[[str, tuple[Point, ...], frozenset[Point]], tuple[tuple[int, int, Stretch], ...]]
"""The straight stretches of a storey between some points, of which those are places; as `stretches`."""


def storeys_drawn(plan: Plan) -> tuple[str, ...]:
    """The storeys on which a room is drawn."""
    return tuple(dict.fromkeys(room.storey for room in plan.rooms if room.outline))


def stretches(
    floor: FreeFloor, plan: Plan, points: tuple[Point, ...], ends: frozenset[Point]
) -> tuple[tuple[int, int, Stretch], ...]:
    """Which of the points on a floor are joined by a straight walk, by their places in the row; `ends` are places.

    Reference: visibility graph, textbook.
    """
    sights = floor.sights(points, ends)
    through = floor.passages_crossed(plan, [(points[i], points[j]) for i, j, _ in sights])
    return tuple(
        (i, j, Stretch(Walk(level_m=level_m, doors=_shut(passages)), frozenset(p.id for p in passages)))
        for (i, j, level_m), passages in zip(sights, through, strict=True)
    )


def _shut(passages: Iterable[PlanPassage]) -> tuple[str, ...]:
    return tuple(p.id for p in passages if p.kind is PassageKind.DOOR)


class WalkMap:
    """Every place, corner and way of a plan, joined; built once, asked often.

    `places` are what walks may begin and end at, beside the openings and the middles of rooms. `floors` and `straight`
    hand in what is already known of each storey; without them it is worked out.
    """

    def __init__(
        self,
        plan: Plan,
        places: Iterable[Place] = (),
        body_half_m: float = BODY_HALF_M,
        floors: Mapping[str, FreeFloor] | None = None,
        straight: Straight | None = None,
    ) -> None:
        self.plan = plan
        self.graph = Graph()
        self.floors = floors or {storey: FreeFloor(plan, storey, body_half_m) for storey in storeys_drawn(plan)}
        self._straight = straight or (lambda storey, points, ends: stretches(self.floors[storey], plan, points, ends))
        self._stands: dict[Place, tuple[Spot, float]] = {}
        self._searched: dict[
            tuple[Spot, Walker, frozenset[str] | None], tuple[dict[Spot, float], dict[Spot, Spot]]
        ] = {}
        self._timed: dict[Walker, dict[Spot, list[tuple[Spot, float, frozenset[str]]]]] = {}
        self._points: dict[str, dict[Point, None]] = {
            storey: dict.fromkeys(floor.corners) for storey, floor in self.floors.items()
        }
        self._ways: list[tuple[Spot, Spot, Stretch]] = []
        for place in (*_own_places(plan), *places):
            self._stand(place)
        for passage in plan.passages:
            self._join(passage)
        for storey in self.floors:
            self._see(storey)
        for way in self._ways:
            self._add(*way)

    @property
    def nbytes(self) -> int:
        """About how many bytes the searches take that it keeps: each spot with its metres, and with the one before."""
        return _SPOT_BYTES * sum(len(far) + len(before) for far, before in self._searched.values())

    def walk(self, start: Place, end: Place, walker: Walker, passages: Iterable[str] | None = None) -> Walk | None:
        """The walk of fewest seconds, through `passages` alone if given; None when there is no way.

        Reference: shortest path over the visibility graph, textbook.
        """
        (first, off_m), (last, end_off_m) = self._spot(start), self._spot(end)
        seconds, before = self._search(first, walker, None if passages is None else frozenset(passages))
        if last not in seconds:
            return None
        path = path_to(last, before)
        return self._walk_along(path, start, end, off_m + end_off_m)

    def nearest(self, start: Place, ends: Iterable[Place], walker: Walker) -> tuple[Place, Walk] | None:
        """The end that is reached in the fewest seconds, and the walk to it; None when there is no way to any.

        Reference: shortest path over the visibility graph, textbook.
        """
        first, off_m = self._spot(start)
        seconds, before = self._search(first, walker)
        reached: list[tuple[float, Place, float]] = []
        for end in ends:
            spot, end_off_m = self._spot(end)
            if spot in seconds:
                reached.append((seconds[spot] + end_off_m / walker.speed_m_s.mean, end, end_off_m))
        if not reached:
            return None
        _, end, end_off_m = min(reached, key=lambda each: each[0])
        return end, self._walk_along(path_to(self._spot(end)[0], before), start, end, off_m + end_off_m)

    def seconds(self, places: Iterable[Place], walker: Walker) -> list[list[float]]:
        """Walking seconds from each place to each (row to column); infinite when there is no way.

        Reference: shortest path over the visibility graph, textbook.
        """
        spots = [self._spot(place) for place in places]
        table: list[list[float]] = []
        for row, (first, off_m) in enumerate(spots):
            cost, _ = self._search(first, walker)
            ends = ((off_m + end_m) / walker.speed_m_s.mean for _, end_m in spots)
            line = [cost.get(spot, float("inf")) + off_s for (spot, _), off_s in zip(spots, ends, strict=True)]
            line[row] = 0.0
            table.append(line)
        return table

    def _search(
        self, first: Spot, walker: Walker, allowed: frozenset[str] | None = None
    ) -> tuple[dict[Spot, float], dict[Spot, Spot]]:
        """Least seconds to each spot, and from where, through the allowed passages alone if any are given.

        The last ones are kept: many places may have one spot.
        """
        asked = first, walker, allowed
        if asked not in self._searched:
            while len(self._searched) >= _MOST_SEARCHES:
                self._searched.pop(next(iter(self._searched)))
            self._searched[asked] = self._found(first, walker, allowed)
        return self._searched[asked]

    def _found(
        self, first: Spot, walker: Walker, allowed: frozenset[str] | None
    ) -> tuple[dict[Spot, float], dict[Spot, Spot]]:
        onward = self._seconds_of(walker)

        def ways(spot: Spot) -> Iterator[tuple[Spot, float]]:
            return ((to, s) for to, s, passages in onward[spot] if allowed is None or passages <= allowed)

        return cheapest({first: 0.0}, ways)

    def _seconds_of(self, walker: Walker) -> dict[Spot, list[tuple[Spot, float, frozenset[str]]]]:
        """From each spot to each: the walker's seconds and the passages gone through; kept for a few walkers."""
        if walker not in self._timed:
            if len(self._timed) == _WALKERS_KEPT:
                self._timed.clear()
            self._timed[walker] = {
                spot: [(to, walk_seconds(each.walk, walker), each.passages) for to, each in onward.items()]
                for spot, onward in self.graph.onward.items()
            }
        return self._timed[walker]

    def _spot(self, place: Place) -> tuple[Spot, float]:
        if place not in self._stands:
            raise FieldProblem("", "place", f"{place.room} {place.at or ''}", "it must be a place of this map")
        return self._stands[place]

    def _stand(self, place: Place) -> Spot:
        """The node of a place; in a drawn room the nearest free point."""
        room = self.plan.room(place.room)
        if place not in self._stands:
            if room.outline:
                at, off_m = self.floors[room.storey].stand(room.id, place.at)
                self._points[room.storey][at] = None
                self._stands[place] = Spot(room.storey, at), off_m
            else:
                self._stands[place] = Spot("", None, room.id), 0.0
            self.graph.add(self._stands[place][0])
        return self._stands[place][0]

    def _join(self, passage: PlanPassage) -> None:
        """The way through stairs, across the yard, or by stopwatch; drawn doors are gaps of the floor."""
        first, second = passage.rooms
        if passage.kind in (PassageKind.DOOR, PassageKind.DOORWAY):
            if passage.at is not None and self.plan.drawn(first) and self.plan.drawn(second):
                return
            self._by_stopwatch(passage)
        elif passage.seconds is not None and (passage.at is None or passage.at_second is None):
            self._by_stopwatch(passage)
        elif passage.climbs:
            self._climb(passage)
        elif passage.at is not None and passage.at_second is not None:
            level_m = _apart_m(passage.at, passage.at_second)
            walk = Walk(level_m=level_m)
            self._both_ways(passage, (passage.at, passage.at_second), walk, walk)
        else:
            self._by_stopwatch(passage)

    def _by_stopwatch(self, passage: PlanPassage) -> None:
        assumed = () if passage.seconds is not None else (passage.id,)
        seconds = ASSUMED_S[passage.kind] if passage.seconds is None else passage.seconds
        walk = Walk(stopwatch_s=seconds, assumed=assumed)
        self._both_ways(passage, (None, None), walk, walk)

    def _climb(self, passage: PlanPassage) -> None:
        """Stairs along their slope: as typed, else from both ends, else from the rise alone."""
        first, second = passage.rooms
        rise_m = self.plan.floor_m(second) - self.plan.floor_m(first)
        assumed: tuple[str, ...] = ()
        slope_m = passage.slope_m
        if slope_m is None and passage.at is not None and passage.at_second is not None:
            slope_m = hypot(_apart_m(passage.at, passage.at_second), rise_m)
        if slope_m is None:
            slope_m, assumed = abs(rise_m) * SLOPE_PER_RISE, (passage.id,)
        if not rise_m:
            self._by_stopwatch(passage)
            return
        walks = Walk(up_m=slope_m, assumed=assumed), Walk(down_m=slope_m, assumed=assumed)
        onward, back = walks if rise_m > 0 else (walks[1], walks[0])
        self._both_ways(passage, (passage.at, passage.at_second), onward, back)

    def _both_ways(
        self, passage: PlanPassage, ends: tuple[Point | None, Point | None], onward: Walk, back: Walk
    ) -> None:
        one, other = (self._stand(Place(room, at)) for room, at in zip(passage.rooms, ends, strict=True))
        through = frozenset((passage.id,))
        self._ways += [(one, other, Stretch(onward, through)), (other, one, Stretch(back, through))]

    def _add(self, start: Spot, end: Spot, stretch: Stretch) -> None:
        """Keep each way; of two passages between the same spots the one with less on the clock."""
        held = self.graph.onward.get(start, {}).get(end)
        if held is None or _bulk(stretch.walk) < _bulk(held.walk):
            self.graph.join(start, end, stretch)

    def _see(self, storey: str) -> None:
        points = tuple(self._points[storey])
        ends = frozenset(spot.at for spot, _ in self._stands.values() if spot.at is not None and spot.storey == storey)
        spots = [Spot(storey, point) for point in points]
        for i, j, stretch in self._straight(storey, points, ends):
            self.graph.join(spots[i], spots[j], stretch)
            self.graph.join(spots[j], spots[i], stretch)

    def _walk_along(self, path: list[Spot], start: Place, end: Place, off_m: float) -> Walk:
        stretches = [self.graph.onward[one][other] for one, other in pairwise(path)]
        rooms_passed = tuple(dict.fromkeys((start.room, *self._rooms_along(path), end.room)))
        return _total(stretches, off_m, rooms_passed, _legs(path))

    def _rooms_along(self, path: list[Spot]) -> Iterator[str]:
        for start, end in pairwise(path):
            if start.at is None or end.at is None or start.storey != end.storey:
                yield from (spot.room for spot in (start, end) if spot.room)
            else:
                yield from self.floors[start.storey].in_order(start.at, end.at)


def _own_places(plan: Plan) -> Iterator[Place]:
    yield from (Place(room.id) for room in plan.rooms)
    yield from (Place(opening.room, opening.at) for opening in plan.openings)


def _apart_m(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _bulk(walk: Walk) -> float:
    return walk.length_m + walk.stopwatch_s


def _total(stretches: list[Stretch], off_m: float, rooms: tuple[str, ...], legs: tuple[Leg, ...]) -> Walk:
    walks = [stretch.walk for stretch in stretches]
    return Walk(
        level_m=off_m + sum(walk.level_m for walk in walks),
        up_m=sum(walk.up_m for walk in walks),
        down_m=sum(walk.down_m for walk in walks),
        stopwatch_s=sum(walk.stopwatch_s for walk in walks),
        doors=tuple(door for walk in walks for door in walk.doors),
        rooms=rooms,
        legs=legs,
        assumed=tuple(name for walk in walks for name in walk.assumed),
    )


def _legs(path: list[Spot]) -> tuple[Leg, ...]:
    legs: list[Leg] = []
    for spot in path:
        if spot.at is None:
            continue
        if legs and legs[-1].storey == spot.storey:
            legs[-1] = Leg(spot.storey, (*legs[-1].points, spot.at))
        else:
            legs.append(Leg(spot.storey, (spot.at,)))
    return tuple(legs)


def walk_seconds(walk: Walk, walker: Walker) -> float:
    """Mean seconds that this person takes for the walk."""
    return level_length_m(walk, walker) / walker.speed_m_s.mean + len(walk.doors) * walker.door_s


def level_length_m(walk: Walk, walker: Walker) -> float:
    """The walk put down to level floor: as many metres as this person walks on the level in the same time.

    So one speed says all: who is slow on the level is slow on stairs in the same ratio (assumed).
    """
    pace = walker.speed_m_s.mean
    stairs_m = pace * (walk.up_m / walker.up_m_s + walk.down_m / walker.down_m_s)
    return walk.level_m + stairs_m + walk.stopwatch_s * walker.stopwatch_m_s
