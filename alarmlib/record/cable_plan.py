"""Where cables are planned to run, storey by storey: a strip along walls and ceilings, and a table of the same."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from alarmlib.calc.electrical.cable_lengths import planned
from alarmlib.calc.electrical.cable_routes import CORES, CableNode, CableRoute
from alarmlib.calc.electrical.cable_schedule import schedule
from alarmlib.model.base import Point
from alarmlib.model.words import DeviceKind
from alarmlib.record.blocks import Block, Picture, Table
from alarmlib.record.context import Context
from alarmlib.record.floor_plan import HatchedArea, floor_plan, marks
from alarmlib.record.picture import Fill, Ink
from alarmlib.units import Kind, show

HALF_M = 0.14  # half the strip's width on the plan
_KINDS = frozenset(CORES) | {DeviceKind.CONTROL_UNIT}


def cable_pictures(context: Context) -> tuple[Block, ...]:
    """A picture a storey through which a cable runs, from the cellar up; () where none does."""
    found = tuple(planned(context.asked).routes.values())
    storeys = sorted(context.home.site.storeys, key=lambda each: each.level)
    return tuple(_picture(context, each.id, here) for each in storeys if (here := _on(found, each.id)))


def _on(found: tuple[CableRoute, ...], storey: str) -> list[CableRoute]:
    return [route for route in found if storey in route.storeys]


def _picture(context: Context, storey: str, here: list[CableRoute]) -> Picture:
    name, mark, system = context.name("storey", storey), marks(context.home), context.home.units
    pieces = {frozenset(piece): piece for route in here for piece in _pieces(route, storey)}
    labels = {device: cable.label for cable in reversed(schedule(context.home).cables) for device in cable.devices}
    areas = [HatchedArea(_strip(*piece), Ink.FINE, Fill.CROSSED) for piece in pieces.values()]
    rows = tuple(
        (
            labels.get(route.device, route.label),
            f"{mark['device', route.device]} {context.name('device', route.device)}",
            show(round(_length_m(route, storey), 1), Kind.LENGTH, system),
        )
        for route in here
    )
    header = ("Label", "From", "Planned along walls and ceiling")
    table = Table(f"Cables planned on this storey: {name}", header, rows, frozenset({2}))
    text = (
        "Crossed strip: planned cable at the ceiling, along walls or across the room of a device that is not on a "
        "wall. It leads to the control unit U1. Letters are as on the plans. Wireless devices have no cable. Cable "
        "runs up and down where corners are one above another."
    )
    drawing = floor_plan(context.home, storey, (), areas, _KINDS)
    return Picture(f"Where cable is planned: {name}", text, drawing, table)


def _pieces(route: CableRoute, storey: str) -> Iterator[tuple[Point, Point]]:
    """The straight pieces that a cable takes on one storey."""
    for one, other in pairwise(route.way):
        if one[0] == other[0] == storey and one != other:
            yield _at(one), _at(other)


def _length_m(route: CableRoute, storey: str) -> float:
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in _pieces(route, storey))


def _at(node: CableNode) -> Point:
    return node[1], node[2]


def _strip(a: Point, b: Point) -> tuple[Point, ...]:
    """A thin rectangle around a straight piece."""
    long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    x, y = (b[1] - a[1]) / long * HALF_M, (a[0] - b[0]) / long * HALF_M
    return (a[0] + x, a[1] + y), (b[0] + x, b[1] + y), (b[0] - x, b[1] - y), (a[0] - x, a[1] - y)
