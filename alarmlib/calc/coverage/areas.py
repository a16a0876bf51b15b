"""Where a motion detector surely sees somebody, where it may, and where only one who walks across its view.

Sure areas are computed with doors closed, furniture in the way and the strip below left out; possible ones with doors
open, looked over furniture, wider and farther than the manual says. Both are areas of the floor, m on the plan.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, cos, radians, sin, tan
from typing import TYPE_CHECKING

from alarmlib.calc.coverage.view_lines import Blocks, blocks_of, inside, shadow, visible
from alarmlib.calc.plan.floor_plan import Plan, Point, plan_from_home
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.shapes import off_wall_m
from alarmlib.model.site import Disturbance, Room
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from shapely.geometry import Polygon
    from shapely.geometry.base import BaseGeometry

    from alarmlib.model.home import Home

Outline = tuple[Point, ...]
SURE_BODY_M = 0.8  # somebody surely seen shows the detector all above this height
POSSIBLE_BODY_M = 1.8  # somebody possibly seen shows it no more than the head
FARTHER = 1.5  # how much farther than its manual says a detector may see
WIDER_DEG = 30.0  # how much wider, both sides together
STRAIGHT_PART = 0.5  # the part of the range at which somebody walking straight at it is surely seen
LOOKS_DOWN_DEG = 45.0
HOT_C = 30.0  # from here on, near the warmth of skin, range falls
HOT_PART = 0.5
SLIVER_M = 0.3  # whoever walks where what is not seen is narrower shows a good part of a body
_OUTSIDE_M = 0.3  # a device mounted on the far side of its wall still counts as in its room
_ARC_DEG = 1.0
_NOTHING_M2 = 1e-6
_NOTHING_M = 1e-6
_SEEN_M2 = 1e-3
ASSUMED = (
    "A motion detector is taken to see whoever walks four steps upright where its manual says, inside doors closed.",
    "It sees past furniture that leaves free all of a body above 0.8 m, as the line of sight runs down to it.",
    (
        f"Somebody who walks straight at it is taken as seen within {STRAIGHT_PART:g} of its range, unless its "
        "manual says otherwise."
    ),
    (
        "Close to its foot it is blind: nearer than its height over the tangent of its steepest beam, "
        f"{LOOKS_DOWN_DEG:g}° unless entered."
    ),
    f"In a room that gets hotter than {HOT_C:g} °C its sure range is taken as half.",
    f"It may see {FARTHER:g} times as far and {WIDER_DEG:g}° wider than its manual says, and through open doors.",
    f"An unseen strip narrower than {SLIVER_M:g} m counts as seen, as a body shows in part; the tables say how much.",
    "Walls and glass stop its view. What you did not draw is not known.",
)


@dataclass(frozen=True)
class Eye:
    """A motion detector as the calculations take it: m and degrees, turned counter-clockwise from the plan's right.

    `sure_m` is its range with heat taken off, `straight_m` that for somebody walking at it, `blind_m` the strip below.
    """

    device: str
    room: str
    storey: str
    at: Point
    height_m: float
    facing_deg: float
    angle_deg: float
    range_m: float
    sure_m: float
    straight_m: float
    blind_m: float


@dataclass(frozen=True)
class Coverage:
    """Of one motion detector: outlines without holes, m on the plan of the storey.

    `possible` may be seen with inside doors open, `possible_shut` with them closed; `sure` is surely seen by four steps
    across the view, `straight` by four steps any way. `without_strips` is `straight` less the unseen strips, too narrow
    for a body, that count as seen in both.
    """

    device: str
    room: str
    storey: str
    possible: tuple[Outline, ...]
    possible_shut: tuple[Outline, ...]
    sure: tuple[Outline, ...]
    straight: tuple[Outline, ...]
    without_strips: tuple[Outline, ...] = ()


def lacking(home: "Home") -> dict[str, tuple[str, ...]]:
    """Motion detectors at work whose area cannot be computed: the labels of the facts that are missing.

    Reference: the owner's own survey.
    """
    rooms = by_id(home.site.rooms)
    missing = {device.id: _missing(device, rooms.get(device.room)) for device in motion_detectors(home)}
    return {device: labels for device, labels in missing.items() if labels}


def motion_detectors(home: "Home") -> tuple[Device, ...]:
    """The motion detectors, planned or fitted."""
    return at_work(home, DeviceKind.MOTION)


def _missing(device: Device, room: Room | None) -> tuple[str, ...]:
    if room is None or not room.outline:
        return ("outline of its room",)
    fields = ("at", "height_m", "facing_deg", "range_m", "angle_deg")
    labels = [str(Device.model_fields[name].title) for name in fields if getattr(device, name) is None]
    if device.at is not None and not _within(device.at, room.outline):
        labels.append("place inside its room")
    return tuple(labels)


def _within(at: Point, outline: Outline) -> bool:
    from shapely.geometry import Point as ShapelyPoint
    from shapely.geometry import Polygon

    return off_wall_m(at, outline) <= _OUTSIDE_M or bool(Polygon(outline).covers(ShapelyPoint(at)))


def eye_of(device: Device, room: Room) -> Eye | None:
    """The detector as the calculations take it; None where facts are missing.

    Reference: its own manual; strip below it = height / tan(steepest beam); heat, common practice, no source.
    """
    if _missing(device, room):
        return None
    assert device.at and device.height_m is not None and device.facing_deg is not None
    assert device.range_m is not None and device.angle_deg is not None
    hot = Disturbance.HOT in room.disturbances or (room.hottest_c is not None and room.hottest_c > HOT_C)
    part = HOT_PART if hot else 1.0
    straight_m = device.straight_range_m or STRAIGHT_PART * device.range_m
    down_deg = device.looks_down_deg or LOOKS_DOWN_DEG
    return Eye(
        device=device.id,
        room=room.id,
        storey=room.storey,
        at=inside(device.at, room.outline),
        height_m=device.height_m,
        facing_deg=device.facing_deg,
        angle_deg=device.angle_deg,
        range_m=device.range_m,
        sure_m=part * device.range_m,
        straight_m=part * min(straight_m, device.range_m),
        blind_m=0.0 if down_deg >= 90 else device.height_m / tan(radians(down_deg)),
    )


@asked
def coverages(home: "Home") -> tuple[Coverage, ...]:
    """What each motion detector at work sees, in the order of the devices; those lacking facts are left out.

    By `coverage`.
    """
    found = (coverage_of(home, device) for device in motion_detectors(home))
    return tuple(each for each in found if each is not None)


def coverage_of(home: "Home", device: Device) -> Coverage | None:
    """What one motion detector sees; None where facts are missing.

    By `coverage`.
    """
    eye = _eye(home, device)
    return coverage_by(home, eye) if eye else None


def coverage_tried(home: "Home", device: Device) -> Coverage | None:
    """What a motion detector would see; the same as `coverage_of`, and not kept: while it is dragged it is anywhere.

    By `coverage`.
    """
    eye = _eye(home, device)
    return _coverage(eye, *_storey_blocks(home, eye.storey)) if eye else None


def _eye(home: "Home", device: Device) -> Eye | None:
    room = next((room for room in home.site.rooms if room.id == device.room), None)
    return eye_of(device, room) if room else None


@asked
def coverage_by(home: "Home", eye: Eye) -> Coverage:
    """What an eye sees on the plan of the home: kept for the eye, so that one moved leaves the others as they are.

    By `coverage`.
    """
    return _coverage(eye, *_storey_blocks(home, eye.storey))


def coverage(plan: Plan, eye: Eye) -> Coverage:
    """What a motion detector sees on a plan.

    Reference: visibility polygon less shadows, textbook computational geometry.
    """
    return _coverage(eye, *_blocks(plan, eye.storey))


@asked
def _storey_blocks(home: "Home", storey: str) -> tuple[Blocks, Blocks]:
    return _blocks(plan_from_home(home), storey)


def _blocks(plan: Plan, storey: str) -> tuple[Blocks, Blocks]:
    return blocks_of(plan, storey, doors_open=False), blocks_of(plan, storey, doors_open=True)


def _coverage(eye: Eye, shut: Blocks, opened: Blocks) -> Coverage:
    in_view = view_from(eye, shut, SURE_BODY_M, eye.sure_m, eye.angle_deg, eye.blind_m)
    across = _without_slivers(in_view, shut)
    near_fan = fan(eye.at, eye.facing_deg, min(360, eye.angle_deg + WIDER_DEG), eye.straight_m)
    wide_deg = min(360.0, eye.angle_deg + WIDER_DEG)
    possible, possible_shut = (
        view_from(eye, blocks, POSSIBLE_BODY_M, FARTHER * eye.range_m, wide_deg, outside=True).union(across)
        for blocks in (opened, shut)
    )
    return Coverage(
        device=eye.device,
        room=eye.room,
        storey=eye.storey,
        possible=outlines(possible),
        possible_shut=outlines(possible_shut),
        sure=outlines(across),
        straight=outlines(across.intersection(near_fan)),
        without_strips=outlines(across.intersection(near_fan).intersection(in_view)),
    )


def _without_slivers(seen: "BaseGeometry", shut: Blocks) -> "BaseGeometry":
    """The area, and beside it what is too narrow for a body in the rooms it lies in."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    half_m, slivers = SLIVER_M / 2, []
    for unseen in (
        room.difference(seen) for room in map(Polygon, shut.rooms) if room.intersection(seen).area > _SEEN_M2
    ):
        wide = unseen.buffer(-half_m, join_style="mitre").buffer(half_m, join_style="mitre")
        narrow = unseen.difference(wide)
        slivers += [piece for piece in getattr(narrow, "geoms", [narrow]) if piece.distance(seen) < _NOTHING_M]
    tall = [Polygon(piece.outline) for piece in shut.pieces if piece.height_m > SURE_BODY_M]
    area: BaseGeometry = unary_union([seen, *slivers]).difference(unary_union(tall))
    return area


def view_from(
    eye: Eye,
    blocks: Blocks,
    seen_m: float,
    range_m: float,
    angle_deg: float,
    blind_m: float = 0.0,
    outside: bool = False,
) -> "BaseGeometry":
    """The floor that is seen: the fan, cut by walls, the strip below, and furniture that hides somebody up to `seen_m`.

    Arcs are drawn inside the true ones, or with `outside` outside of them; only with `outside` is somebody seen who
    shows above furniture that is higher than the eye.
    Reference: visibility polygon less shadows, textbook computational geometry.
    """
    from shapely.ops import unary_union

    seen: BaseGeometry = visible(eye.at, blocks.walls, range_m).intersection(
        fan(eye.at, eye.facing_deg, angle_deg, range_m, outside)
    )
    near = [piece for piece in blocks.pieces if off_wall_m(eye.at, piece.outline) <= range_m]
    low_m = seen_m if outside else min(seen_m, eye.height_m)
    shadows = (shadow(eye.at, eye.height_m, low_m, piece, range_m) for piece in near)
    hidden = [each for each in shadows if each is not None]
    if blind_m > 0:
        hidden.append(fan(eye.at, 0, 360, blind_m, outside=True))
    return seen.difference(unary_union(hidden)) if hidden else seen


def fan(
    at: Point, facing_deg: float, angle_deg: float, range_m: float, outside: bool = False, side_deg: float = _ARC_DEG
) -> "Polygon":
    """The sector of a circle as a polygon whose arc is broken into sides of at most `side_deg`.

    Corners lie on the arc, or beyond it with `outside`, so that the polygon holds the whole sector.
    Reference: textbook plane geometry.
    """
    from shapely.geometry import Polygon

    sides = max(1, ceil(angle_deg / side_deg))
    step = radians(angle_deg) / sides
    first = radians(facing_deg - angle_deg / 2)
    reach_m = range_m / cos(step / 2) if outside else range_m
    arc = [(at[0] + reach_m * cos(first + n * step), at[1] + reach_m * sin(first + n * step)) for n in range(sides + 1)]
    return Polygon(arc[:-1]) if angle_deg >= 360 else Polygon([at, *arc])


def outlines(shape: "BaseGeometry") -> tuple[Outline, ...]:
    """A shape as outlines without holes, true to a thousandth of a millimetre; what has a hole is cut through it.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import Polygon, box

    done: list[Outline] = []
    waiting = [shape.simplify(_NOTHING_M)]
    while waiting:
        piece = waiting.pop()
        if hasattr(piece, "geoms"):
            waiting += reversed(list(piece.geoms))
        elif piece.geom_type == "Polygon" and piece.area > _NOTHING_M2:
            holes = [hole for hole in map(Polygon, piece.interiors) if hole.area > _NOTHING_M2]
            if not holes:
                done.append(tuple((x, y) for x, y in piece.exterior.coords[:-1]))
                continue
            low_x, low_y, high_x, high_y = piece.bounds
            cut = holes[0].centroid.x
            waiting += [
                piece.intersection(box(cut, low_y - 1, high_x + 1, high_y + 1)),
                piece.intersection(box(low_x - 1, low_y - 1, cut, high_y + 1)),
            ]
    return tuple(done)


def plainer(outline: Outline, off_m: float = 0.02) -> Outline:
    """An outline of fewer corners, nowhere more than `off_m` off: fit to be drawn, not to be reckoned with.

    Reference: Douglas and Peucker 1973, by shapely.
    """
    from shapely.geometry import Polygon

    return tuple((x, y) for x, y in Polygon(outline).simplify(off_m).exterior.coords[:-1])


def joined_area(shapes: Iterable[Sequence[Point]]) -> "BaseGeometry":
    """Outlines put together again as one shape.

    Reference: textbook plane geometry.
    """
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    area: BaseGeometry = unary_union([Polygon(outline) for outline in shapes])
    return area
