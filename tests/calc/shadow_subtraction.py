"""A second way to see past walls, sharing nothing with the library but the plan's numbers.

Start from a large square around the eye and take away, wall by wall, the region behind the wall.
"""

import itertools
from math import hypot

from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

FAR_M = 60.0


def walls_of(plan, storey, doors_open):
    """Every stretch of wall that stops a view, as shapely lines: outlines less the gaps of open ways, plus jambs."""
    kinds = {"doorway", "door"} if doors_open else {"doorway"}
    rooms = {r.id: Polygon(r.outline) for r in plan.rooms if r.storey == storey and r.outline}
    gaps, jambs = [], []
    for passage in plan.passages:
        if passage.kind.value in kinds and passage.at and all(name in rooms for name in passage.rooms):
            ends = []
            for name in passage.rooms:
                edge = nearest_edge(rooms[name], passage.at)
                middle = edge.project(Point(passage.at))
                half = passage.width_m / 2
                a, b = edge.interpolate(max(0, middle - half)), edge.interpolate(min(edge.length, middle + half))
                gaps.append((name, LineString([a, b])))
                ends.append((a, b))
            (a, b), (c, d) = ends
            if a.distance(c) + b.distance(d) > a.distance(d) + b.distance(c):
                c, d = d, c
            jambs += [LineString([x, y]) for x, y in ((a, c), (b, d)) if x.distance(y) > 1e-9]
    walls = []
    for name, room in rooms.items():
        mine = [gap.buffer(1e-7, cap_style="flat") for owner, gap in gaps if owner == name]
        ring = LineString(room.exterior.coords)
        walls.append(ring.difference(unary_union(mine)) if mine else ring)
    strokes = []
    for line in (*walls, *jambs):
        for part in getattr(line, "geoms", [line]):
            points = list(part.coords)
            strokes += list(itertools.pairwise(points))
    return strokes


def nearest_edge(room, at):
    points = list(room.exterior.coords)
    edges = [LineString(pair) for pair in itertools.pairwise(points)]
    return min(edges, key=lambda edge: edge.distance(Point(at)))


def seen_past(at, strokes):
    """What is seen from a point past these strokes, within a large square."""
    x, y = at
    shadows = []
    for a, b in strokes:
        if hypot(a[0] - b[0], a[1] - b[1]) < 1e-9:
            continue
        out_a, out_b = (
            (
                x + FAR_M * (px - x) / max(1e-12, hypot(px - x, py - y)),
                y + FAR_M * (py - y) / max(1e-12, hypot(px - x, py - y)),
            )
            for px, py in (a, b)
        )
        # three corners beyond, so that the shadow of a stroke near the eye reaches far enough at its middle
        mid = ((out_a[0] + out_b[0]) / 2 - x, (out_a[1] + out_b[1]) / 2 - y)
        length = hypot(*mid) or 1.0
        top = (x + 50 * FAR_M * mid[0] / length, y + 50 * FAR_M * mid[1] / length)
        shape = Polygon([a, b, out_b, top, out_a])
        shadows.append(shape if shape.is_valid else shape.buffer(0))
    return box(x - FAR_M, y - FAR_M, x + FAR_M, y + FAR_M).difference(unary_union(shadows))


def sector(at, facing_deg, angle_deg, range_m, sides):
    from math import cos, radians, sin

    first = radians(facing_deg - angle_deg / 2)
    step = radians(angle_deg) / sides
    return Polygon(
        [
            at,
            *(
                (at[0] + range_m * cos(first + n * step), at[1] + range_m * sin(first + n * step))
                for n in range(sides + 1)
            ),
        ]
    )
