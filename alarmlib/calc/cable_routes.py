"""Cable routes along walls, from each wired device to the control unit: metres, cores, what to write on them."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, hypot
from typing import TYPE_CHECKING, Any

from alarmlib.calc.power import fed
from alarmlib.model.base import Point
from alarmlib.model.devices import Device
from alarmlib.model.site import Room
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.home import Home

ENDS_M = 0.5  # left over at each end
SLACK = 0.10  # corners, clips and wrong turns
WALL_M = 0.4
LABEL_LETTERS = 34
_DEFAULT_STOREY_M = 2.6
_DEFAULT_HEIGHT_M = 1.5
_RISE_M = 0.35  # corners of two storeys so near each other stand above one another
CORES = {
    DeviceKind.CONTACT: 4,
    DeviceKind.KEY_SWITCH: 4,
    DeviceKind.PANIC_BUTTON: 4,
    DeviceKind.MOTION: 6,
    DeviceKind.GLASS_BREAK: 6,
    DeviceKind.SHOCK: 6,
    DeviceKind.SMOKE: 4,
    DeviceKind.HEAT: 4,
    DeviceKind.CARBON_MONOXIDE: 6,
    DeviceKind.WATER: 4,
    DeviceKind.COLD: 4,
    DeviceKind.KEYPAD: 4,
    DeviceKind.INSIDE_SOUNDER: 4,
    DeviceKind.OUTSIDE_SOUNDER: 6,
}
Node = tuple[str, float, float]


@dataclass(frozen=True)
class Route:
    """One cable: along walls and up and down, m; cut length, m; cores; label; storeys and corners on its way."""

    device: str
    along_m: float
    cut_m: int
    cores: int
    label: str
    storeys: tuple[str, ...]
    way: tuple[Node, ...] = ()


def routes(home: "Home") -> tuple[tuple[Route, ...], tuple[str, ...]]:
    """The cable of each wired device with a place, to the control unit; and the devices no wall leads to.

    A cable runs along walls only: it drops from the ceiling to its device, and changes storey where corners stand
    one above another. What the unit itself stands beside needs one too. A building apart has no route here.
    Reference: shortest path in the graph of walls, computed here; cores are common practice, no source.
    """
    unit = next((d for d in home.devices if d.kind is DeviceKind.CONTROL_UNIT and d.at), None)
    if unit is None:
        return (), ()
    from networkx import single_source_dijkstra

    walls = _walls(home)
    start = _nearest(home, walls, unit)
    if start is None:
        return (), ()
    node, first_m = start
    metres, ways = single_source_dijkstra(walls, node, weight="m")
    lengths = {end: first_m + _drop_m(home, unit) + far for end, far in metres.items()}
    cabled = [d for d in fed(home) if d.kind in CORES and d.at is not None and d.room]
    found = [(device, _route(home, device, number, walls, lengths, ways)) for number, device in enumerate(cabled, 1)]
    return tuple(route for _, route in found if route), tuple(device.id for device, route in found if not route)


def _route(
    home: "Home", device: Device, number: int, walls: Any, lengths: dict[Node, float], ways: dict[Node, list[Node]]
) -> Route | None:
    end = _nearest(home, walls, device)
    if end is None or end[0] not in lengths:
        return None
    node, off_m = end
    along = lengths[node] + off_m + _drop_m(home, device)
    storeys = tuple(dict.fromkeys(each[0] for each in reversed(ways[node])))
    cut = ceil(along * (1 + SLACK) + 2 * ENDS_M - 1e-9)
    label = f"{number:02d} {device.name}".upper()[:LABEL_LETTERS]
    return Route(device.id, along, cut, CORES[device.kind], label, storeys, tuple(reversed(ways[node])))


def _drop_m(home: "Home", device: Device) -> float:
    """From the ceiling down to a device, m."""
    room = _room(home, device.room)
    high = room.ceiling_m if room and room.ceiling_m else 2.4
    return max(0.0, high - (_DEFAULT_HEIGHT_M if device.height_m is None else device.height_m))


def _room(home: "Home", room_id: str) -> Room | None:
    return next((room for room in home.site.rooms if room.id == room_id), None)


def _nearest(home: "Home", walls: Any, device: Device) -> tuple[Node, float] | None:
    """The node of the walls nearest to a device in its storey, and how far: along its wall, else across the ceiling."""
    room = _room(home, device.room)
    if room is None or device.at is None:
        return None
    x, y = device.at
    here = [(hypot(node[1] - x, node[2] - y), node) for node in walls if node[0] == room.storey]
    return (min(here)[1], min(here)[0]) if here else None


def _walls(home: "Home") -> Any:
    outlines = tuple((room.storey, room.outline) for room in home.site.rooms if room.outline)
    storeys = tuple(sorted((s.level, s.id, s.height_m or _DEFAULT_STOREY_M) for s in home.site.storeys))
    places = tuple(sorted((room.storey, d.at) for d in home.devices if d.at and (room := _room(home, d.room))))
    return _graph(outlines, storeys, places)


@lru_cache(maxsize=8)
def _graph(
    outlines: tuple[tuple[str, tuple[Point, ...]], ...],
    storeys: tuple[tuple[int, str, float], ...],
    places: tuple[tuple[str, Point], ...],
) -> Any:
    """The walls as a graph: nodes where walls meet and where devices hang on them, weights in m."""
    from networkx import Graph

    graph = Graph()
    for _, storey, _ in storeys:
        for one, other in _pieces([o for s, o in outlines if s == storey], [at for s, at in places if s == storey]):
            graph.add_edge((storey, *one), (storey, *other), m=hypot(one[0] - other[0], one[1] - other[1]))
    for (_, low, height), (_, high, _) in itertools.pairwise(storeys):
        for node in [node for node in graph if node[0] == low]:
            above = [n for n in graph if n[0] == high and hypot(n[1] - node[1], n[2] - node[2]) <= _RISE_M]
            graph.add_edges_from((node, other, {"m": height}) for other in above)
    return graph


def _pieces(outlines: list[tuple[Point, ...]], hung: list[Point]) -> Iterator[tuple[Point, Point]]:
    """The walls cut where they meet and where devices hang on them."""
    from shapely.geometry import LineString, MultiPoint
    from shapely.geometry import Point as Spot
    from shapely.ops import split, unary_union

    lines = unary_union([LineString((*outline, outline[0])) for outline in outlines])
    for line in getattr(lines, "geoms", [lines] if not lines.is_empty else []):
        on_it = [line.interpolate(line.project(Spot(at))) for at in hung if line.distance(Spot(at)) <= WALL_M]
        cut = split(line, MultiPoint(on_it)) if on_it else line
        for piece in getattr(cut, "geoms", [cut]):
            corners = [(round(x, 3), round(y, 3)) for x, y in piece.coords]
            yield from ((a, b) for a, b in itertools.pairwise(corners) if a != b)
