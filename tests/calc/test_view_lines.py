# ruff: noqa: E501 - one case a line reads best
"""What can be seen past walls and furniture: closed forms, theorems, a second method, and lines of sight one by one."""

from math import asin, cos, pi, radians, sin, sqrt, tan
from random import Random

import pytest
from shadow_subtraction import sector, seen_past, walls_of
from shapely.geometry import LineString, Point, Polygon, box

from alarmlib.calc.coverage.areas import Eye, fan, joined_area, outlines, view_from
from alarmlib.calc.coverage.view_lines import Blocks, Piece, blocks_of, inside, shadow, visible
from alarmlib.calc.plan.floor_plan import Plan, PlanFurniture, PlanPassage, PlanRoom, plan_from_home
from alarmlib.model.shapes import edges
from alarmlib.model.site import PassageKind
from alarmlib.record.produce import demo_home

EXACT = 1e-4  # m²: rays beside corners leave as much


def rect(left, low, right, high):
    return ((left, low), (right, low), (right, high), (left, high))


def seen_in(outline, at):
    return visible(inside(at, outline), tuple(edges(outline)), 100.0).area


L_ROOM = ((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4))
U_ROOM = ((0, 0), (6, 0), (6, 4), (4, 4), (4, 1), (2, 1), (2, 4), (0, 4))
T_ROOM = ((0, 0), (9, 0), (9, 2), (6, 2), (6, 5), (3, 5), (3, 2), (0, 2))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("outline", "at", "area_m2"),
    [
        # Areas by hand from the corners (shoelace), the hidden part taken off by similar triangles.
        (L_ROOM, (0.5, 0.5), 12.0),
        (L_ROOM, (3.5, 0.5), 10.0),
        (L_ROOM, (1.0, 3.0), 12 - 2.0),  # hidden: right of the line through (2, 2) down to (4, 0)
        (L_ROOM, (2, 2), 12.0),  # regression: from the inward corner itself all is seen; a sixth was missing
        (rect(0, 0, 5, 4), (2, 2), 20.0),
        (rect(0, 0, 5, 4), (0, 0), 20.0),
        # From the middle of a U's base between two arms: both arms are cut by lines over the inner corners.
        (U_ROOM, (3, 0.5), 6 + 2 * (0.5 * 2 * 1.0)),
        # From the middle of a T's bar, the stem's corners (3, 2) and (6, 2) hide nothing.
        (T_ROOM, (4.5, 1.0), 27.0),
        # From the end of a T's bar, the line over (3, 2) meets the stem's far side at (6, 4): a triangle 3 by 2.
        (T_ROOM, (0, 0), 18 + 3.0),
    ],
)
def test_area_seen_in_a_room(outline, at, area_m2):
    """Source: plane geometry by hand, worked in the comments."""
    assert seen_in(outline, at) == pytest.approx(area_m2, abs=1e-3)


@pytest.mark.outside
@pytest.mark.parametrize(("door_m", "wall_m"), [(1.0, 0.2), (0.8, 0.2), (1.0, 0.1), (1.2, 0.3), (1.0, 0.4)])
def test_through_a_doorway(door_m, wall_m):
    """Source: the integral of the widening strip behind a door, by hand: from x m before the wall the far jambs
    bound the beam; s m behind it, the strip is door·(x + wall + s)/(x + wall) wide; the gap itself is seen whole."""
    plan = Plan(
        rooms=(PlanRoom("a", "g", rect(0, 0, 4, 4)), PlanRoom("b", "g", rect(4 + wall_m, 0, 8 + wall_m, 4))),
        passages=(PlanPassage("d", ("a", "b"), PassageKind.DOORWAY, (4 + wall_m / 2, 2.0), None, door_m),),
    )
    before_m = 3.0
    at = (4 - before_m, 2.0)
    slope = (door_m / 2) / (before_m + wall_m)
    half = lambda s: min(2.0, slope * (before_m + wall_m + s))  # noqa: E731
    steps = 40_000
    strip = sum(2 * half((n + 0.5) * 4 / steps) for n in range(steps)) * 4 / steps
    seen = visible(at, blocks_of(plan, "g", doors_open=False).walls, 100.0)
    beyond = box(4, -1, 20, 5)
    assert seen.intersection(beyond).area == pytest.approx(strip + door_m * wall_m, abs=1e-3)


@pytest.mark.outside
def test_published_doorway():
    """Source: the reference's row 18, by integral and by two programs: 16 + 0.2 + 6.5 m²."""
    plan = Plan(
        rooms=(PlanRoom("a", "g", rect(0, 0, 4, 4)), PlanRoom("b", "g", rect(4.2, 0, 8.2, 4))),
        passages=(PlanPassage("d", ("a", "b"), PassageKind.DOORWAY, (4.1, 2.0), None, 1.0),),
    )
    seen = visible((1, 2), blocks_of(plan, "g", doors_open=False).walls, 100.0)
    assert seen.area == pytest.approx(22.7, abs=EXACT)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("at", "facing", "angle", "reach", "area_m2"),
    [
        ((0, 0), 45, 90, 5, 0.5 * (12 + 25 * asin(0.8))),  # row 19: a fan in the corner of a room 5 by 4
        ((0, 0), 45, 90, 4, pi * 16 / 4),  # the whole quarter disc fits
        ((0, 0), 45, 90, 10, 20.0),  # the fan reaches beyond the room
        ((2.5, 0), 90, 180, 2, pi * 4 / 2),  # half a disc along a wall
        ((2.5, 2), 0, 360, 1, pi),  # a whole disc
        # A disc of 2.5 m about the middle, cut by the walls y = 0 and y = 4, 2 m away: two circular segments less.
        ((2.5, 2), 0, 360, 2.5, pi * 6.25 - 2 * (6.25 * asin(sqrt(1 - 0.64)) - 2 * 1.5)),
        ((0, 2), 0, 60, 2, pi * 4 / 6),  # a sixth of a disc
    ],
)
def test_fan_in_a_room(at, facing, angle, reach, area_m2):
    """Source: area of a sector and of a circular segment, textbook plane geometry."""
    room = rect(0, 0, 5, 4)
    place = inside(at, room)
    seen = visible(place, tuple(edges(room)), 100.0).intersection(fan(place, facing, angle, reach, side_deg=0.02))
    assert seen.area == pytest.approx(area_m2, abs=2e-4)


def star(points, inner, outer):
    return tuple(
        (
            (outer if n % 2 == 0 else inner) * cos(pi * n / points),
            (outer if n % 2 == 0 else inner) * sin(pi * n / points),
        )
        for n in range(2 * points)
    )


@pytest.mark.outside
@pytest.mark.parametrize("points", [4, 5, 6, 8])
def test_star_is_seen_whole_from_its_middle(points):
    """Source: a star-shaped polygon is seen whole from its kernel (definition); area of the star by shoelace."""
    outline = star(points, 1.0, 3.0)
    assert seen_in(outline, (0.0, 0.0)) == pytest.approx(Polygon(outline).area, abs=EXACT)


def comb(prongs):
    """Chvátal's comb: a bar with `prongs` narrow teeth, 3 corners each."""
    corners = []
    for n in range(prongs):
        corners += [(4.0 * n, 0.0), (4.0 * n + 0.5, 10.0), (4.0 * n + 1.0, 0.0)]
    return (*((x, -y) for x, y in corners), (4.0 * prongs, 0.5), (-0.5, 0.5))


@pytest.mark.outside
@pytest.mark.parametrize("prongs", [2, 3, 4, 5])
def test_comb_needs_a_guard_a_prong(prongs):
    """Source: Chvátal 1973: combs of 3k corners need k guards, as no point sees the tips of two teeth."""
    outline = comb(prongs)
    tips = [(4.0 * n + 0.5, -9.99) for n in range(prongs)]
    seen = [visible(tip, tuple(edges(outline)), 100.0) for tip in tips]
    for n, one in enumerate(seen):
        assert one.area > 0
        assert all(one.intersection(other).area < 1e-6 for other in seen[n + 1 :])


def orthogonal_comb(prongs):
    corners = []
    for n in range(prongs):
        corners += [(4.0 * n, 0.0), (4.0 * n, -30.0), (4.0 * n + 1, -30.0), (4.0 * n + 1, 0.0)]
    return (*corners, (4.0 * prongs, 0.0), (4.0 * prongs, 1.0), (0.0, 1.0))


@pytest.mark.outside
@pytest.mark.parametrize("prongs", [2, 3, 4])
def test_orthogonal_comb_needs_a_guard_a_prong(prongs):
    """Source: Kahn, Klawe, Kleitman 1983: orthogonal rooms of n corners need at most n/4 guards, combs as many."""
    outline = orthogonal_comb(prongs)
    tips = [(4.0 * n + 0.5, -29.9) for n in range(prongs)]
    seen = [visible(tip, tuple(edges(outline)), 200.0) for tip in tips]
    for n, one in enumerate(seen):
        assert all(one.intersection(other).area < 1e-6 for other in seen[n + 1 :])
    assert len(outline) // 4 >= prongs


@pytest.mark.outside
@pytest.mark.parametrize(
    ("eye_m", "seen_m", "top_m", "beyond_m"),
    [
        # Similar triangles: the line from the eye over the top's far edge, 3 m out, sinks to what must be seen.
        (2.2, 0.8, 1.5, 3 * (2.2 - 0.8) / (2.2 - 1.5)),
        (2.4, 1.0, 1.2, 3 * (2.4 - 1.0) / (2.4 - 1.2)),
        (2.2, 0.0, 1.1, 6.0),
        (2.0, 0.8, 0.9, 3 * 1.2 / 1.1),
    ],
)
def test_shadow_of_a_cupboard_ends(eye_m, seen_m, top_m, beyond_m):
    """Source: similar triangles, textbook."""
    cupboard = Piece(rect(2, -0.5, 3, 0.5), top_m)
    hidden = shadow((0, 0), eye_m, seen_m, cupboard, 50.0)
    along = hidden.intersection(LineString([(0, 0), (40, 0)]))
    assert along.bounds[0] == pytest.approx(2.0)
    assert along.bounds[2] == pytest.approx(beyond_m)


def test_what_is_lower_than_must_be_seen_hides_nobody_and_what_is_higher_than_the_eye_hides_for_good():
    assert shadow((0, 0), 2.2, 0.8, Piece(rect(2, -1, 3, 1), 0.8), 20.0) is None
    wardrobe = shadow((0, 0), 2.2, 0.8, Piece(rect(2, -1, 3, 1), 2.2), 20.0)
    assert wardrobe.covers(Point(19.9, 0))
    assert not wardrobe.covers(Point(1.9, 0))


@pytest.mark.outside
def test_square_pillar_from_afar():
    """Source: similar triangles: a pillar 1 m wide, 4 m off, hides a trapezoid that is 0.25 m wide a metre."""
    room, pillar = rect(0, 0, 12, 8), Piece(rect(4, 3.5, 5, 4.5), 3.0)
    at = inside((0, 4), room)
    eye = Eye("", "", "", at, 2.2, 0, 360, 50, 50, 50, 0)
    blocks = Blocks(tuple(edges(room)), (pillar,))
    seen = view_from(eye, blocks, 0.8, 50.0, 360.0)
    trapezoid = sum(0.25 * (4 + (n + 0.5) * 8 / 1000) for n in range(1000)) * 8 / 1000
    assert 96 - seen.area == pytest.approx(trapezoid, abs=1e-3)


def random_home(seed):
    """Rooms side by side, wall to wall or with a wall between, a doorway each, some furniture."""
    draw = Random(seed)
    rooms, passages, furniture, left = [], [], [], 0.0
    for n in range(draw.randint(1, 4)):
        wide, high = draw.uniform(2, 6), draw.uniform(2.5, 6)
        rooms.append(PlanRoom(f"r{n}", "g", rect(left, 0, left + wide, high)))
        if n:
            gap = rooms[n].outline[0][0] - rooms[n - 1].outline[1][0]
            at = rooms[n].outline[0][0] - gap / 2, draw.uniform(0.6, 1.8)
            kind = draw.choice([PassageKind.DOORWAY, PassageKind.DOORWAY, PassageKind.DOOR])
            passages.append(PlanPassage(f"p{n}", (f"r{n - 1}", f"r{n}"), kind, at, None, draw.uniform(0.6, 1.1)))
        for k in range(draw.randint(0, 3)):
            x, y = draw.uniform(left + 0.3, left + wide - 1), draw.uniform(0.3, high - 1)
            furniture.append(
                PlanFurniture(
                    f"f{n}{k}", f"r{n}", rect(x, y, x + draw.uniform(0.2, 0.7), y + 0.5), draw.uniform(0.3, 2.4)
                )
            )
        left += wide + draw.choice([0.0, 0.0, 0.15, 0.3])
    return Plan(rooms=tuple(rooms), passages=tuple(passages), furniture=tuple(furniture)), draw


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(60))
def test_two_methods_agree_on_random_homes(seed):
    """Source: an own second method, shadow subtraction by shapely, sharing nothing but the plan's numbers."""
    plan, draw = random_home(seed)
    room = draw.choice(plan.rooms)
    (x0, y0), _, (x1, y1), _ = room.outline
    at = draw.choice([(x0, y0), (x1, y1), (draw.uniform(x0, x1), draw.uniform(y0, y1)), (x0, draw.uniform(y0, y1))])
    at = inside(at, room.outline)
    for doors_open in (False, True):
        ours = visible(at, blocks_of(plan, "g", doors_open).walls, 40.0)
        theirs = seen_past(at, walls_of(plan, "g", doors_open))
        floors = joined_area(r.outline for r in plan.rooms)
        assert ours.intersection(floors).symmetric_difference(theirs.intersection(floors)).area < 2e-4


@pytest.mark.outside
def test_two_methods_agree_on_the_demo_home():
    """Source: the same second method, for each motion detector of the demo home, walls and fan together."""
    demo = demo_home()
    plan = plan_from_home(demo)
    for device in (d for d in demo.whole_devices if d.kind.value == "motion"):
        room = next(r for r in demo.site.rooms if r.id == device.room)
        at = inside(device.at, room.outline)
        ours = visible(at, blocks_of(plan, room.storey, False).walls, 40.0).intersection(
            fan(at, device.facing_deg, device.angle_deg, device.range_m)
        )
        wedge = sector(at, device.facing_deg, device.angle_deg, device.range_m, round(device.angle_deg))
        theirs = seen_past(at, walls_of(plan, room.storey, False)).intersection(wedge)
        assert ours.symmetric_difference(theirs).area < 2e-4


@pytest.mark.parametrize("seed", range(25))
def test_each_point_is_seen_if_its_own_line_of_sight_is_clear(seed):
    """A third way: straight lines in space from the eye to the body, against walls and boxes."""
    plan, draw = random_home(seed)
    room = draw.choice(plan.rooms)
    at = inside(room.outline[draw.randrange(4)], room.outline)
    eye = Eye("", room.id, "g", at, draw.uniform(1.5, 2.6), 0, 360, 40, 40, 40, 0)
    blocks = blocks_of(plan, "g", False)
    area = view_from(eye, blocks, 0.8, 40.0, 360.0)
    walls = [LineString(stroke) for stroke in walls_of(plan, "g", False)]
    boxes = [(Polygon(f.outline), f.height_m) for f in plan.furniture]
    high = max(corner[1] for r in plan.rooms for corner in r.outline)
    wide = max(corner[0] for r in plan.rooms for corner in r.outline)
    looked_at = 0
    for _ in range(150):
        to = draw.uniform(0.05, wide - 0.05), draw.uniform(0.05, high - 0.05)
        if area.boundary.distance(Point(to)) < 0.02:
            continue
        looked_at += 1
        assert area.covers(Point(to)) == clear(eye, to, walls, boxes)
    assert looked_at > 50


def clear(eye, to, walls, boxes):
    line = LineString([eye.at, to])
    if any(line.crosses(wall) or line.intersection(wall).length > 0 or line.intersects(wall) for wall in walls):
        return False
    for shape, top_m in boxes:
        part = line.intersection(shape)
        if not part.is_empty and part.length > 1e-9:
            far = max(Point(eye.at).distance(Point(c)) for c in part.coords) / line.length
            lowest = eye.height_m - far * (eye.height_m - min(0.8, eye.height_m))
            if lowest < top_m:
                return False
    return True


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_turned_plan_is_seen_alike(turn):
    plan, _ = random_home(7)
    c, s = round(cos(radians(turn))), round(sin(radians(turn)))
    spin = lambda p: (c * p[0] - s * p[1], s * p[0] + c * p[1])  # noqa: E731
    rooms = tuple(PlanRoom(r.id, r.storey, tuple(map(spin, r.outline))) for r in plan.rooms)
    passages = tuple(PlanPassage(p.id, p.rooms, p.kind, spin(p.at), None, p.width_m) for p in plan.passages)
    turned = Plan(rooms=rooms, passages=passages)
    at = inside((1.0, 1.0), plan.rooms[0].outline)
    one = visible(at, blocks_of(plan, "g", True).walls, 40.0)
    other = visible(spin(at), blocks_of(turned, "g", True).walls, 40.0)
    floors = [joined_area(r.outline for r in each.rooms) for each in (plan, turned)]
    assert one.intersection(floors[0]).area == pytest.approx(other.intersection(floors[1]).area, abs=1e-3)


@pytest.mark.parametrize("seed", range(10))
def test_more_furniture_never_shows_more_and_open_doors_never_less(seed):
    plan, _ = random_home(seed)
    at = inside(plan.rooms[0].outline[0], plan.rooms[0].outline)
    eye = Eye("", "r0", "g", at, 2.2, 45, 90, 12, 12, 6, 0)
    shut, opened = blocks_of(plan, "g", False), blocks_of(plan, "g", True)
    bare = view_from(eye, Blocks(shut.walls, ()), 0.8, 12, 90)
    full = view_from(eye, shut, 0.8, 12, 90)
    assert full.difference(bare).area < 1e-6
    assert bare.difference(view_from(eye, Blocks(opened.walls, ()), 0.8, 12, 90)).area < 1e-3


def test_a_door_is_a_wall_unless_open():
    plan = Plan(
        rooms=(PlanRoom("a", "g", rect(0, 0, 4, 4)), PlanRoom("b", "g", rect(4, 0, 8, 4))),
        passages=(PlanPassage("d", ("a", "b"), PassageKind.DOOR, (4, 2), None, 1.0),),
    )
    beyond = box(4.001, 0, 8, 4)
    shut, opened = (
        visible((1, 2), blocks_of(plan, "g", o).walls, 40.0).intersection(beyond).area for o in (False, True)
    )
    assert shut == pytest.approx(0, abs=1e-6)
    assert opened == pytest.approx(
        sum(2 * min(2, 0.5 / 3 * (3 + (n + 0.5) / 250)) for n in range(1000)) / 250, abs=1e-2
    )


def test_outlines_with_a_hole_are_put_together_again():
    ring = box(0, 0, 10, 10).difference(box(4, 4, 6, 6)).difference(box(1, 1, 2, 2))
    pieces = outlines(ring)
    assert joined_area(pieces).symmetric_difference(ring).area < 1e-6
    assert all(Polygon(piece).is_valid for piece in pieces)


def test_a_hole_of_no_area_ends_the_cutting():
    """Regression: a hole as thin as dust was cut for ever."""
    dust = Polygon([(0, 0), (4, 0), (4, 4), (0, 4)], [[(1, 1), (1 + 1e-9, 3), (1, 3)]])
    assert len(outlines(dust)) == 1


def test_arc_inside_and_outside():
    for angle in (30, 90, 200, 360):
        true = pi * 9 * angle / 360
        assert fan((0, 0), 10, angle, 3).area < true < fan((0, 0), 10, angle, 3, outside=True).area


def test_blind_strip_is_left_out():
    """The strip below: height over the tangent of the steepest beam."""
    room = rect(0, 0, 6, 6)
    eye = Eye("", "", "", inside((0, 0), room), 2.0, 45, 90, 5, 5, 5, 2.0 / tan(radians(45)))
    seen = view_from(eye, Blocks(tuple(edges(room)), ()), 0.8, 5, 90, eye.blind_m)
    assert seen.area == pytest.approx(pi * (25 - 4) / 4, rel=2e-3)
    assert not seen.covers(Point(1.3, 1.3))
    assert seen.covers(Point(1.5, 1.5))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("eye_m", "seen_m", "top_m", "from_m"),
    [
        # The line that rises from the eye over the top's near edge, 2 m out, meets the height of the head there.
        (1.0, 1.8, 1.4, 2 * 0.8 / 0.4),
        (1.2, 1.8, 1.7, 2 * 0.6 / 0.5),
        (0.5, 1.8, 1.15, 2 * 1.3 / 0.65),
        (1.0, 1.8, 1.8, 2.0),  # as high as the head: hidden from the piece on
        (1.0, 1.8, 2.3, 2.0),
    ],
)
def test_shadow_begins_behind_a_piece_higher_than_the_eye(eye_m, seen_m, top_m, from_m):
    """Source: similar triangles, textbook. Regression: all behind such a piece was hidden, so `may` came out as `not`."""
    hidden = shadow((0, 0), eye_m, seen_m, Piece(rect(2, -0.5, 3, 0.5), top_m), 50.0)
    along = hidden.intersection(LineString([(0, 0), (40, 0)]))
    assert along.bounds[0] == pytest.approx(from_m)
    assert along.bounds[2] == pytest.approx(40)


def test_a_piece_as_high_as_the_eye_hides_no_head_above_it():
    assert shadow((0, 0), 1.2, 1.8, Piece(rect(2, -1, 3, 1), 1.2), 20.0) is None


@pytest.mark.parametrize("seed", range(20))
def test_each_head_is_seen_if_its_own_line_is_clear_whatever_the_height_of_the_eye(seed):
    """Straight lines in space from the eye, low or high, to a head at 1.8 m, cut into 4,000 steps, against boxes."""
    draw = Random(1000 + seed)
    room, eye_m = rect(0, 0, 6, 5), draw.uniform(0.3, 2.4)
    at = inside((0, 0), room)
    pieces = [
        Piece(rect(x, y, x + draw.uniform(0.3, 0.8), y + 0.5), draw.uniform(0.3, 2.4))
        for x, y in ((draw.uniform(0.5, 5), draw.uniform(0.5, 4)) for _ in range(3))
    ]
    eye = Eye("", "", "g", at, eye_m, 45, 90, 20, 20, 20, 0)
    area = view_from(eye, Blocks(tuple(edges(room)), tuple(pieces)), 1.8, 20.0, 120.0, outside=True)
    looked_at = 0
    for _ in range(60):
        to = draw.uniform(0.05, 5.95), draw.uniform(0.05, 4.95)
        if area.boundary.distance(Point(to)) < 0.02 or any(Polygon(p.outline).covers(Point(to)) for p in pieces):
            continue
        looked_at += 1
        assert area.covers(Point(to)) == head_shows(at, eye_m, to, pieces)
    assert looked_at > 20


def head_shows(at, eye_m, to, pieces):
    for n in range(4000):
        part = n / 4000
        x, y = at[0] + part * (to[0] - at[0]), at[1] + part * (to[1] - at[1])
        high_m = eye_m + part * (1.8 - eye_m)
        for piece in pieces:
            (x0, y0), _, (x1, y1), _ = piece.outline
            if x0 < x < x1 and y0 < y < y1 and high_m < piece.height_m:
                return False
    return True
