"""One walk for household and proof: held against other people's methods, and the two against each other."""

from dataclasses import replace
from itertools import pairwise
from math import hypot, inf
from random import Random

import networkx as nx
import numpy as np
import pytest
from pyvispoly import Point as ExactPoint
from pyvispoly import PolygonWithHoles, VisibilityPolygonCalculator
from shapely.geometry import Point as ShapelyPoint
from walked_homes import LEVEL, box

from alarmlib.calc.cells.cell_metres import Metres
from alarmlib.calc.cells.cell_spaces import ground_of
from alarmlib.calc.plan.floor_plan import Place, Plan, PlanFurniture, PlanPassage, PlanRoom, PlanStorey, plan_from_home
from alarmlib.calc.walking.floor import all_ways, cheapest, path_to
from alarmlib.calc.walking.footpaths import Footpaths, Spots
from alarmlib.calc.walking.free_floor import FreeFloor
from alarmlib.calc.walking.walks import WalkMap
from alarmlib.model.site import PassageKind
from alarmlib.record.produce import demo_home

RANDOM_HOMES = 12
THIN_M = 1e-4  # half a body's width for which the household's walk all but touches walls and jambs
BETWEEN_M = 0.125  # a sill is passed at places this far apart at most: a walk by them is no more longer, door by door
LONG_M = 60.0


def random_home(seed):
    """Rooms wall to wall, some with a corner cut out, doors and doorways between most, a table in each."""
    random = Random(seed)
    xs, ys = ([0.0], [0.0])
    for edges in (xs, ys):
        for _ in range(random.randint(2, 3)):
            edges.append(edges[-1] + random.choice((2.5, 3.2, 4.1, 5.0)))
    columns, rows = range(len(xs) - 1), range(len(ys) - 1)
    rooms, passages, tables = [], [], []
    for i in columns:
        for j in rows:
            (x, y), (east, north) = (xs[i], ys[j]), (xs[i + 1], ys[j + 1])
            outline = box(x, y, east - x, north - y)
            if random.random() < 0.5:
                cut = (east, north - 0.9), (east - 1.1, north - 0.9), (east - 1.1, north)
                outline = (*outline[:2], *cut, outline[3])
            rooms.append(PlanRoom(f"{i} {j}", "g", outline))
            tables.append(PlanFurniture(f"table {i} {j}", f"{i} {j}", box(x + 1.0, y + 1.0, 0.6, 0.5)))
            for onward, at in (((i + 1, j), (east, y + 0.8)), ((i, j + 1), (x + 0.7, north))):
                if onward[0] in columns and onward[1] in rows and random.random() < 0.8:
                    kind = random.choice((PassageKind.DOOR, PassageKind.DOORWAY))
                    ends = f"{i} {j}", f"{onward[0]} {onward[1]}"
                    passages.append(PlanPassage(f"{ends}", ends, kind, at, width_m=random.choice((0.7, 0.9))))
    return Plan((PlanStorey("g"),), tuple(rooms), passages=tuple(passages), furniture=tuple(tables))


def spots_of(plan, seed, number=2):
    """A few random places of each drawn room, off its furniture and its walls."""
    random, spots = Random(seed), []
    floors = {storey: FreeFloor(plan, storey) for storey in {room.storey for room in plan.rooms}}
    for room in plan.rooms:
        free = floors[room.storey].inside[room.id]
        for _ in range(0 if free.is_empty else number):
            low_x, low_y, high_x, high_y = free.bounds
            at = low_x, low_y
            while not free.covers(ShapelyPoint(at)):
                at = random.uniform(low_x, high_x), random.uniform(low_y, high_y)
            spots.append(Place(room.id, at))
    return spots


def one_storey(home):
    """The largest storey of the demo home, furniture in it."""
    plan = plan_from_home(home)
    storey = max((room.storey for room in plan.rooms), key=[room.storey for room in plan.rooms].count)
    rooms = {room.id: room for room in plan.rooms if room.storey == storey and room.outline}
    kinds = (PassageKind.DOOR, PassageKind.DOORWAY)
    passages = [p for p in plan.passages if p.kind in kinds and p.at and rooms.keys() >= set(p.rooms)]
    furniture = tuple(f for f in plan.furniture if f.room in rooms)
    return Plan(plan.storeys, tuple(rooms.values()), passages=tuple(passages), furniture=furniture)


@pytest.fixture(params=[*range(RANDOM_HOMES), "demo"])
def plan(request):
    return one_storey(demo_home()) if request.param == "demo" else random_home(request.param)


def by_cgal(floor, points):
    """Metres from each point to each over a floor: who sees whom by CGAL in exact numbers, shortest by networkx."""
    metres = np.full((len(points), len(points)), inf)
    for piece in getattr(floor, "geoms", [floor]):
        here = [n for n, at in enumerate(points) if piece.covers(ShapelyPoint(at))]
        graph = seen_by_cgal(piece, [points[n] for n in here])
        for n in here:
            far = nx.single_source_dijkstra_path_length(graph, points[n], weight="m")
            for other in here:
                metres[n, other] = far.get(points[other], inf)
    return metres


def seen_by_cgal(piece, points):
    """The graph of all corners and points of a polygon, each joined to each that is in its visibility polygon."""
    rings = [piece.exterior, *piece.interiors]
    outer, *holes = (list(dict.fromkeys(ring.coords if ring.is_ccw else ring.coords[::-1])) for ring in rings)
    walls = PolygonWithHoles([ExactPoint(*at) for at in outer], [[ExactPoint(*at) for at in h[::-1]] for h in holes])
    sight, graph = VisibilityPolygonCalculator(walls), nx.Graph()
    nodes = list(dict.fromkeys((*points, *outer, *(at for hole in holes for at in hole))))
    graph.add_nodes_from(nodes)
    exact = [ExactPoint(*at) for at in nodes]
    for number, here in enumerate(nodes):
        seen = sight.compute_visibility_polygon(exact[number])
        for other in range(number):
            if seen.contains(exact[other]):
                graph.add_edge(here, nodes[other], m=hypot(here[0] - nodes[other][0], here[1] - nodes[other][1]))
    return graph


@pytest.mark.outside
def test_the_household_walks_as_far_as_cgal_and_networkx_say(plan):
    """Source of each distance: CGAL's exact visibility (pyvispoly), then networkx; round furniture, through doors."""
    spots, storey = spots_of(plan, 1), plan.rooms[0].storey
    outside = by_cgal(FreeFloor(plan, storey).shape, [spot.at for spot in spots])
    assert np.isfinite(outside).sum() > len(spots)
    assert np.array(WalkMap(plan, spots).seconds(spots, LEVEL)) == pytest.approx(outside, abs=1e-5)


@pytest.mark.outside
def test_bounds_household_and_real_walks_of_the_proof_are_of_one_walk(plan):
    """Source of each distance: CGAL and networkx, over bare rooms, for a body 0.2 mm wide.

    The household's walk is theirs to 0.01 mm, and no bound of the proof is longer. Where the proof's real walk differs,
    theirs is right: it keeps to a few places of each sill. It is longer by no more than sill by sill it can be (the
    triangle's inequality), by 4.5 mm at the most when this was written; it is shorter by what the body is wide alone.
    """
    plan = replace(plan, furniture=())
    spots, storey = spots_of(plan, 2), plan.rooms[0].storey
    outside = by_cgal(FreeFloor(plan, storey, THIN_M).shape, [spot.at for spot in spots])
    walks = WalkMap(plan, spots, THIN_M)
    assert np.array(walks.seconds(spots, LEVEL)) == pytest.approx(outside, abs=1e-5)
    ground = ground_of(plan, [room.id for room in plan.rooms], 0.5, LONG_M, {})
    bounds, real = bounds_of(ground, spots), real_walks(ground, spots)
    assert np.array_equal(np.isfinite(real), np.isfinite(outside))
    for here, there in zip(*np.nonzero(np.isfinite(outside)), strict=True):
        walk_m, doors = outside[here, there], len(walks.walk(spots[here], spots[there], LEVEL).rooms) - 1
        assert bounds[here, there] <= walk_m + 1e-5
        assert -0.001 <= real[here, there] - walk_m <= min(BETWEEN_M * doors, 0.02) + 1e-5


def bounds_of(ground, spots):
    """Least metres to each spot (column) from the cell that each spot (row) is in."""
    metres, rows = Metres(ground), []
    for spot in spots:
        to = metres.to_places({ground.of_room[spot.room]: ShapelyPoint(spot.at)})
        rows.append([to[cell_of(ground, each)] for each in spots])
    return np.array(rows).T


def cell_of(ground, spot):
    space = ground.of_room[spot.room]
    return ground.first_cell[space] + ground.spaces[space].nearest_piece(spot.at)


def real_walks(ground, spots):
    paths = Footpaths(ground)
    at = [Spots(ground.of_room[spot.room], np.array([spot.at])) for spot in spots]
    return np.array([[float(paths.metres(one, other)[0, 0]) for other in at] for one in at])


def random_web(seed):
    """Places and what leads from one to another, some at no cost, two ways between some; costs as whole numbers."""
    random = Random(seed)
    size = random.randint(1, 12)
    count = random.randint(0, 3 * size)
    return size, [(random.randrange(size), random.randrange(size), float(random.randint(0, 9))) for _ in range(count)]


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(60))
def test_both_searches_find_what_networkx_finds(seed):
    """Source of each cost: networkx, over a graph that may hold two ways between the same places."""
    size, ways = random_web(seed)
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(range(size))
    graph.add_weighted_edges_from(ways)
    onward = {n: [(other, cost) for one, other, cost in ways if one == n] for n in range(size)}
    ends, costs = np.array([way[:2] for way in ways], dtype=int).reshape(-1, 2).T, np.array([way[2] for way in ways])
    apart, _ = all_ways(size, ends, costs, inf)
    for first in range(size):
        outside = nx.single_source_dijkstra_path_length(graph, first)
        found, before = cheapest({first: 0.0}, onward.__getitem__)
        assert found == outside
        assert {n: float(cost) for n, cost in enumerate(apart[first]) if np.isfinite(cost)} == outside
        for last, cost in found.items():
            steps = pairwise(path_to(last, before))
            assert sum(min(c for to, c in onward[one] if to == other) for one, other in steps) == cost


def test_what_is_dearer_than_allowed_is_left():
    """On a line of unit steps: three of them at the most, from the nearer of two beginnings, which cost 1 and 0."""
    found, before = cheapest({0: 1.0, 9: 0.0}, lambda n: [(n + 1, 1.0), (n - 1, 1.0)], most=3.0)
    assert found == {0: 1, 1: 2, 2: 3, -1: 2, -2: 3, 9: 0, 8: 1, 10: 1, 7: 2, 11: 2, 6: 3, 12: 3}
    assert path_to(6, before) == [9, 8, 7, 6]
