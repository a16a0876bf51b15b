"""Where a walker is, second by second, on the way from place to place of a home."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

from alarmlib.calc.plan.floor_plan import Place, Plan, Point, place_of_device, plan_from_home
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import Leg, Walk, WalkMap, walk_seconds
from alarmlib.model.home import Home
from alarmlib.model.shapes import edges

ASSUMED_S = 10.0  # a walk of which no way is known: assumed, and named in the run
_SAMPLE_M = 0.25
WalkPiece = tuple[float, frozenset[str]]


@dataclass(frozen=True)
class Stroll:
    """A walk in time: the rooms the walker may be in for each second, and the seconds in which doors are passed."""

    seconds: float
    rooms: tuple[frozenset[str], ...]
    doors: tuple[tuple[int, str], ...] = ()
    assumed: str = ""


class HabitGround:
    """Every place that a habit may name, and the walks between them; built once for a home."""

    def __init__(self, home: Home, plan: Plan | None = None) -> None:
        self.plan = plan or plan_from_home(home)
        self.sides = dict(_sides(home, self.plan))
        self.map = WalkMap(self.plan, (place for sides in self.sides.values() for place in sides))
        self._walked: dict[tuple[Place, Place, Walker], Stroll] = {}

    def stroll(self, start: Place, end: Place, walker: Walker) -> Stroll:
        """The quickest walk; where no way is known, `ASSUMED_S` in both rooms.

        Shortest walk by `alarmlib.calc.walking.walks`; rooms by sampling its line every 0.25 m.
        """
        asked = start, end, walker
        if asked not in self._walked:
            self._walked[asked] = self._stroll(start, end, walker)
        return self._walked[asked]

    def _stroll(self, start: Place, end: Place, walker: Walker) -> Stroll:
        walk = self.map.walk(start, end, walker)
        if walk is None:
            both = frozenset((start.room, end.room))
            no_way = f"no way is known from {start.room} to {end.room}; {ASSUMED_S:g} s are assumed"
            return Stroll(ASSUMED_S, (both,) * ceil(ASSUMED_S), assumed=no_way)
        seconds = walk_seconds(walk, walker)
        rooms = tuple(self._rooms(walk, walker, seconds))
        return Stroll(seconds, rooms, tuple(self._passed(walk, rooms)))

    def _rooms(self, walk: Walk, walker: Walker, seconds: float) -> Iterator[frozenset[str]]:
        """Rooms by second; a walk that is not wholly drawn may be in any of its rooms all the time."""
        everywhere = frozenset(walk.rooms)
        pieces = [] if walk.stopwatch_s else list(self._pieces(walk, walker))
        whole = sum(length for length, _ in pieces)
        if not whole:
            yield from (everywhere for _ in range(max(1, ceil(seconds))))
            return
        ends, gone = [], 0.0
        for length, rooms in pieces:
            ends.append((gone * seconds / whole, (gone + length) * seconds / whole, rooms))
            gone += length
        for second in range(max(1, ceil(seconds))):
            within = (rooms for first, last, rooms in ends if first < second + 1 and last > second)
            yield frozenset().union(*within)

    def _pieces(self, walk: Walk, walker: Walker) -> Iterator[WalkPiece]:
        """Short pieces of the walk in order: seconds at the walker's pace, and the rooms they lie in."""
        stairs = max(1, len(walk.legs) - 1)
        climb_s = (walk.up_m / walker.up_m_s + walk.down_m / walker.down_m_s) / stairs
        before: frozenset[str] = frozenset()
        for leg in walk.legs:
            samples = [(length_m, self._room_at(leg.storey, at)) for length_m, at in _samples(leg)]
            first = samples[0][1] if samples else frozenset()
            if before:
                yield climb_s, before | first
            yield from ((length_m / walker.speed_m_s.mean, rooms) for length_m, rooms in samples)
            before = samples[-1][1] if samples else first

    def _room_at(self, storey: str, at: Point) -> frozenset[str]:
        return frozenset(r.id for r in self.plan.rooms if r.storey == storey and r.outline and within(at, r.outline))

    def _passed(self, walk: Walk, rooms: tuple[frozenset[str], ...]) -> Iterator[tuple[int, str]]:
        """A door is passed in the second in which the later of its two rooms is first entered.

        A door that the walk only begins or ends at is not passed.
        """
        entered: dict[str, int] = {}
        for second, there in enumerate(rooms):
            for room in there:
                entered.setdefault(room, second)
        sides = {passage.id: passage.rooms for passage in self.plan.passages}
        for door in walk.doors:
            if all(room in entered for room in sides[door]):
                yield max(entered[room] for room in sides[door]), door


def _sides(home: Home, plan: Plan) -> Iterator[tuple[str, tuple[Place, ...]]]:
    """Where one may stand for each id: a passage has two sides, everything else one."""
    yield from ((room.id, (Place(room.id),)) for room in plan.rooms)
    yield from ((opening.id, (Place(opening.room, opening.at),)) for opening in plan.openings)
    for passage in plan.passages:
        first, second = passage.rooms
        yield passage.id, (Place(first, passage.at), Place(second, passage.at_second or passage.at))
    for device in home.whole_devices:
        place = place_of_device(device)
        if place is not None:
            yield device.id, (place,)


def _samples(leg: Leg) -> Iterator[tuple[float, Point]]:
    for (ax, ay), (bx, by) in pairwise(leg.points):
        length_m = hypot(bx - ax, by - ay)
        count = max(1, ceil(length_m / _SAMPLE_M))
        for piece in range(count if length_m else 0):
            along = (piece + 0.5) / count
            yield length_m / count, (ax + along * (bx - ax), ay + along * (by - ay))


def within(at: Point, outline: tuple[Point, ...]) -> bool:
    """Whether a point lies within an outline.

    Reference: crossing count along a ray, textbook plane geometry.
    """
    x, y = at
    crossed = (
        (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay) for (ax, ay), (bx, by) in edges(outline)
    )
    return sum(crossed) % 2 == 1
