"""What can be seen past walls, beside CGAL's visibility polygons in exact numbers: another method, by other people."""

from math import cos, pi, sin
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyvispoly import Point, PolygonWithHoles, VisibilityPolygonCalculator
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from alarmlib.calc.coverage.view_lines import blocks_of, visible
from alarmlib.calc.plan.floor_plan import Plan, PlanPassage, PlanRoom
from alarmlib.model.shapes import edges
from alarmlib.model.site import PassageKind

pytestmark = [pytest.mark.outside, pytest.mark.filterwarnings("error")]  # source of every area: CGAL, by pyvispoly
EXACT = 1e-4  # m²: rays beside corners leave as much


def by_cgal(floor, at):
    """The area seen, m², of a shapely polygon, which may have holes."""
    rings = [floor.exterior, *floor.interiors]
    outer, *holes = [list(ring.coords[:-1]) for ring in rings]
    around = [Point(*corner) for corner in (outer if floor.exterior.is_ccw else outer[::-1])]
    inner = [
        [Point(*corner) for corner in (hole[::-1] if ring.is_ccw else hole)]
        for hole, ring in zip(holes, floor.interiors, strict=True)
    ]
    walls = PolygonWithHoles(around, inner) if inner else PolygonWithHoles(around)
    return float(VisibilityPolygonCalculator(walls).compute_visibility_polygon(Point(*at)).area())


def strokes(floor):
    return tuple(wall for ring in (floor.exterior, *floor.interiors) for wall in edges(ring.coords[:-1]))


@given(st.lists(st.floats(1, 6), min_size=5, max_size=14), st.floats(0, 0.9), st.integers(0, 10_000))
@settings(max_examples=80, deadline=None)
def test_any_room(far_m, part, turn):
    """Rooms of any corners round a middle; the eye anywhere on the way from it to a corner, or almost at it."""
    count = len(far_m)
    corners = [(far * cos(2 * pi * n / count), far * sin(2 * pi * n / count)) for n, far in enumerate(far_m)]
    x, y = corners[turn % count]
    at = part * x + 1e-3, part * y
    floor = Polygon(corners)
    if floor.contains(box(at[0] - 1e-4, at[1] - 1e-4, at[0] + 1e-4, at[1] + 1e-4)):
        assert visible(at, strokes(floor), 40.0).area == pytest.approx(by_cgal(floor, at), abs=EXACT)


@pytest.mark.parametrize("seed", range(40))
def test_rectilinear_rooms_with_pillars(seed):
    """Rooms put together of rectangles, with square pillars that leave holes in the floor."""
    draw = Random(seed)
    floor = box(0, 0, 8, 6)
    for _ in range(draw.randint(1, 4)):
        x, y = draw.uniform(-3, 7), draw.uniform(-3, 5)
        floor = floor.union(box(x, y, x + draw.uniform(1, 4), y + draw.uniform(1, 4)))
    pillars = [
        box(x, y, x + 0.4, y + draw.uniform(0.2, 0.6))
        for x, y in ((draw.uniform(1, 7), draw.uniform(1.5, 5)) for _ in range(3))
    ]
    floor = floor.difference(unary_union(pillars))
    floor = max(getattr(floor, "geoms", [floor]), key=lambda each: each.area)
    at = draw.uniform(0.1, 7.9), draw.uniform(0.1, 0.9)
    assert visible(at, strokes(floor), 40.0).area == pytest.approx(by_cgal(floor, at), abs=EXACT)


@pytest.mark.parametrize("seed", range(40))
def test_rooms_in_a_row_through_doorways(seed):
    """Up to five rooms with walls between; the floor CGAL gets is the rooms and the doorways put together."""
    draw = Random(500 + seed)
    rooms, ways, floors, left = [], [], [], 0.0
    for n in range(draw.randint(2, 5)):
        wide, high = draw.uniform(2, 5), draw.uniform(2.5, 6)
        if n:
            wall_m, door_m, middle = draw.uniform(0.08, 0.4), draw.uniform(0.6, 1.2), draw.uniform(0.6, 1.8)
            floors.append(box(left, middle - door_m / 2, left + wall_m, middle + door_m / 2))
            at = left + wall_m / 2, middle
            ways.append(PlanPassage(f"w{n}", (f"r{n - 1}", f"r{n}"), PassageKind.DOORWAY, at, None, door_m))
            left += wall_m
        rooms.append(PlanRoom(f"r{n}", "g", ((left, 0), (left + wide, 0), (left + wide, high), (left, high))))
        floors.append(Polygon(rooms[-1].outline))
        left += wide
    floor = unary_union([each.buffer(1e-9, join_style="mitre") for each in floors])
    (x0, y0), _, (x1, y1), _ = draw.choice(rooms).outline
    at = draw.uniform(x0 + 0.05, x1 - 0.05), draw.uniform(y0 + 0.05, y1 - 0.05)
    walls = blocks_of(Plan(rooms=tuple(rooms), passages=tuple(ways)), "g", doors_open=False).walls
    assert visible(at, walls, 40.0).area == pytest.approx(by_cgal(floor, at), abs=EXACT)
