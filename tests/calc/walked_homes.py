"""Homes to walk in, random walks in metres and tenths of a second, and what a map of cells claims of them."""

from dataclasses import replace
from itertools import pairwise
from math import floor, hypot

from alarmlib.calc.cells.cell_map import components
from alarmlib.calc.cells.sights import Sight, door_contacts, sights_from_home
from alarmlib.calc.coverage.felt import felt_in_metres
from alarmlib.calc.plan.floor_plan import Place, Plan, PlanOpening, PlanPassage, PlanRoom, PlanStorey, plan_from_home
from alarmlib.calc.walking.gait import Spread
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import WalkMap
from alarmlib.model.site import PassageKind
from alarmlib.record.produce import demo_home

LEVEL = Walker(Spread(1.0), 1.0, 1.0, 0.0)


def box(x, y, width, depth):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def two_rooms():
    """Two rooms with a wall of 20 cm between, a guarded door in it; one detector in each, areas drawn."""
    rooms = PlanRoom("hall", "g", box(0.13, 0.2, 7, 6)), PlanRoom("study", "g", box(7.33, 0, 5, 5))
    door = PlanPassage("door", ("hall", "study"), at=(7.13, 2.2), width_m=0.9)
    plan = Plan((PlanStorey("g"),), rooms, (PlanOpening("front", "hall", (0.13, 3.2)),), (door,))
    sights = (
        Sight("hall_eye", frozenset({"hall"}), "g", (box(0, 0, 6.4, 6.5),), (box(0.1, 0.1, 5.9, 6.2),)),
        Sight("study_eye", frozenset({"study"}), "g", (((7.33, 0), (12.33, 0), (12.33, 5)),)),
    )
    return plan, sights, {"door": frozenset({"contact"})}


def l_shaped():
    """An L-shaped room about a small one, an open doorway; the detector of the L is sure in one wing."""
    outline = ((0, 0), (9, 0), (9, 4.2), (3.3, 4.2), (3.3, 9), (0, 9))
    rooms = PlanRoom("hall", "g", outline), PlanRoom("store", "g", box(3.3, 4.2, 2.1, 1.9))
    passages = (
        PlanPassage("up", ("hall", "store"), PassageKind.DOORWAY, (3.3, 5.1)),
        PlanPassage("down", ("hall", "store"), at=(4.4, 4.2), width_m=0.7),
    )
    plan = Plan((PlanStorey("g"),), rooms, (PlanOpening("front", "hall", (0, 8)),), passages)
    sights = (
        Sight("eye", frozenset({"hall"}), "g", (box(0, 0, 9, 4.2), box(0, 4, 2, 4)), (box(0.2, 0.2, 8.5, 3.9),)),
        Sight("small", frozenset({"store", "hall"})),
    )
    return plan, sights, {"down": frozenset({"contact"})}


def flat():
    """Three rooms in a row, guarded doors between, and one upstairs; detectors without drawn areas, one sure."""
    rooms = (
        PlanRoom("hall", "g", box(0, 0, 3, 5)), PlanRoom("living", "g", box(3, 0, 6.5, 7)),
        PlanRoom("bed", "g", box(9.5, 0, 4, 4)),
        PlanRoom("loft", "u", box(0, 0, 9, 5)),
    )  # fmt: skip
    passages = (
        PlanPassage("one", ("hall", "living"), at=(3, 1)), PlanPassage("two", ("bed", "living"), at=(9.5, 3)),
        PlanPassage("steps", ("hall", "loft"), PassageKind.STAIRS, (1, 3.5), (1.2, 1), 0.8, slope_m=4.4),
    )  # fmt: skip
    plan = Plan((PlanStorey("g"), PlanStorey("u", 2.6)), rooms, (PlanOpening("front", "hall", (1.5, 0)),), passages)
    whole = box(3, 0, 6.5, 7)
    sights = (
        Sight("hall_eye", frozenset({"hall"})), Sight("living_eye", frozenset({"living"}), "g", (), (whole,)),
        Sight("bed_eye", frozenset({"bed", "living"})), Sight("loft_eye", frozenset({"loft"}), "u"),
    )  # fmt: skip
    return plan, sights, {"one": frozenset({"first"}), "two": frozenset({"second", "third"})}


def demo():
    home = demo_home()
    plan = replace(plan_from_home(home), furniture=())
    rooms = max(components(plan), key=len)
    kept = [passage for passage in plan.passages if rooms.issuperset(passage.rooms)]
    plan = replace(plan, rooms=tuple(r for r in plan.rooms if r.id in rooms), passages=tuple(kept))
    plan = replace(plan, openings=tuple(o for o in plan.openings if o.room in rooms))
    own = {room.id: (room.storey, room.outline) for room in plan.rooms}
    sights = [
        replace(sight, sure=(own["garage"][1],), storey="ground") if sight.device == "garage_motion" else sight
        for sight in sights_from_home(home)
        if sight.rooms & rooms
    ]
    return plan, tuple(sights), {k: v for k, v in door_contacts(home).items() if k in {p.id for p in kept}}


HOMES = {"two rooms": two_rooms, "L-shaped": l_shaped, "flat": flat, "demo": demo}


class World:
    """A home and random walks through it: tenths of a second, as (point or None, storey, passage, metres on it)."""

    def __init__(self, plan, sights, contacts, random):
        from shapely.geometry import LineString, Polygon

        self.plan, self.sights, self.contacts, self.random = plan, sights, contacts, random
        self.floors = {room.id: Polygon(room.outline) for room in plan.rooms}
        self.storey = {room.id: room.storey for room in plan.rooms}
        self.sills = {
            p.id: (self.storey[p.rooms[0]], LineString(self.sill(p, self.floors[p.rooms[0]])))
            for p in plan.passages
            if p.id in contacts
        }
        self.places = [Place(room.id, self.spot(self.floors[room.id])) for room in plan.rooms for _ in range(6)]
        self.places += [Place(o.room, o.at) for o in plan.openings]
        self.walks = WalkMap(plan, self.places, body_half_m=0.02)

    def sill(self, passage, floor):
        at, half = passage.at, passage.width_m / 2 + 0.13  # tenths of a second cut corners by as much
        for (ax, ay), (bx, by) in pairwise(floor.exterior.coords):
            length = hypot(bx - ax, by - ay)
            ux, uy = (bx - ax) / length, (by - ay) / length
            along, off = (at[0] - ax) * ux + (at[1] - ay) * uy, (at[0] - ax) * uy - (at[1] - ay) * ux
            if abs(off) < 1e-6 and 0 <= along <= length:
                return (at[0] - half * ux, at[1] - half * uy), (at[0] + half * ux, at[1] + half * uy)
        raise AssertionError(passage)

    def spot(self, floor):
        from shapely.geometry import Point

        low_x, low_y, high_x, high_y = floor.bounds
        while True:
            point = self.random.uniform(low_x, high_x), self.random.uniform(low_y, high_y)
            if floor.buffer(-0.05).covers(Point(point)):
                return point

    def line(self, start, end):
        """Straight pieces of a shortest walk: (metres, from, to, storey, passage, metres on it from and to)."""
        walk = self.walks.walk(start, end, LEVEL)
        for number, leg in enumerate(walk.legs):
            if number:
                yield self.stairs(walk.legs[number - 1].points[-1], leg.points[0])
            for one, other in pairwise(leg.points):
                yield hypot(one[0] - other[0], one[1] - other[1]), one, other, leg.storey, "", 0, 0

    def stairs(self, one, other):
        for passage in self.plan.passages:
            if passage.slope_m and (one, other) == (passage.at, passage.at_second):
                return passage.slope_m, None, None, "", passage.id, 0, passage.slope_m
            if passage.slope_m and (other, one) == (passage.at, passage.at_second):
                return passage.slope_m, None, None, "", passage.id, passage.slope_m, 0
        raise AssertionError((one, other))

    def walk(self, speed, opening=""):
        """Tenths of a walk from a way in to one place or more, its pace changing every half second, with pauses."""
        entered = self.plan.place_of_opening(opening or self.random.choice(self.plan.openings).id)
        others = [place for place in self.places if place != entered]
        stops = [entered, *self.random.sample(others, self.random.choice((1, 2, 3)))]
        pieces = [piece for one, other in pairwise(stops) for piece in self.line(one, other) if piece[0] > 1e-9]
        reached, tenths, gone, pace = 0.0, [], 0.0, speed
        for tenth in range(600):
            while pieces and gone > reached + pieces[0][0]:
                reached += pieces.pop(0)[0]
            if not pieces:
                break
            tenths.append(self.place(pieces[0], (gone - reached) / pieces[0][0]))
            if tenth % 5 == 4:
                pace = speed * self.random.choice((0, 0.3, 1, 1, 1, self.random.random()))
            gone += pace * 0.1
        return tenths[: (len(tenths) - 1) // 10 * 10 + 1]

    def place(self, piece, share):
        _, one, other, storey, passage, start_m, end_m = piece
        if one is None:
            return None, "", passage, start_m + share * (end_m - start_m)
        return (one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])), storey, "", 0.0

    def opened(self, tenths):
        """Contacts of the guarded doors whose sill is crossed or touched, second by second."""
        from shapely.geometry import LineString

        for second in range(0, len(tenths) - 1, 10):
            here = tenths[second : second + 11]
            lines = [(a[1], LineString((a[0], b[0]))) for a, b in pairwise(here) if a[0] and b[0] and a[0] != b[0]]
            crossed = [
                self.contacts[name]
                for name, (storey, sill) in self.sills.items()
                if any(storey == own and sill.intersects(line) for own, line in lines)
            ]
            yield frozenset().union(*crossed)

    def felt(self, tenths):
        rooms = {passage.id: frozenset(passage.rooms) for passage in self.plan.passages} | {"": frozenset()}
        return felt_in_metres(
            self.sights,
            self.plan,
            [tenth[0] for tenth in tenths],
            [tenth[1] for tenth in tenths],
            [rooms[tenth[2]] for tenth in tenths],
            tuple(self.opened(tenths)),
            per_second=10,
        )


class Claims:
    """What a map of cells says of a second between two places."""

    def __init__(self, cells, plan):
        from shapely import STRtree
        from shapely.geometry import Polygon

        self.cells, self.plan = cells, plan
        self.drawn, self.beyond = {}, {p.rooms[1] for p in plan.passages}
        for storey in {cell.storey for cell in cells.cells if cell.outlines}:
            numbers = [n for n, c in enumerate(cells.cells) if c.outlines and c.storey == storey]
            self.drawn[storey] = numbers, STRtree([Polygon(cells.cells[n].outlines[0]) for n in numbers])
        self.ways = {}
        for number, cell in enumerate(cells.cells):
            if len(cell.rooms) > 1:
                self.ways.setdefault(cell.rooms, []).append(number)

    def at(self, tenth):
        """The cells somebody may be said to be in: all that touch the place; in a frame the nearest past the leaf."""
        from shapely.geometry import Point, Polygon

        point, storey, passage, metres = tenth
        if point is None:
            (way,) = [p for p in self.plan.passages if p.id == passage]
            numbers = self.ways[frozenset(way.rooms)]
            return [numbers[min(len(numbers) - 1, floor(metres / way.slope_m * len(numbers)))]]
        numbers, tree = self.drawn[storey]
        found = [numbers[n] for n in tree.query(Point(point), predicate="dwithin", distance=1e-9)]
        near = [numbers[n] for n in tree.query(Point(point), predicate="dwithin", distance=0.25)]
        beyond = [n for n in near if self.cells.cells[n].rooms <= self.beyond]
        return found or [min(beyond, key=lambda n: Polygon(self.cells.cells[n].outlines[0]).distance(Point(point)))]

    def agree(self, start, end, felt):
        labels = [x for x, row in zip(self.cells.labels, self.cells.moves, strict=True) if row.get(start, 0) >> end & 1]
        return any(
            label.must <= felt.must and felt.must <= label.must | label.may and felt.may <= label.must | label.may
            for label in labels
        )
