"""Cable routes along walls and ceilings, from each wired device to the control unit: metres, cores, labels."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, dist
from typing import TYPE_CHECKING, Any

from alarmlib.calc.electrical.power import fed
from alarmlib.model.asked import asked
from alarmlib.model.base import Point
from alarmlib.model.devices import Device
from alarmlib.model.questions import present
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
_ROUNDED_M = 0.002  # corners of the walls are kept in whole millimetres
_RISE_M = 0.35  # corners of two storeys so near each other count as one above the other
CORES = {
    DeviceKind.CONTACT: 4,
    DeviceKind.KEY_SWITCH: 4,
    DeviceKind.HOLD_UP: 4,
    DeviceKind.MOTION: 6,
    DeviceKind.GLASS_BREAK: 6,
    DeviceKind.SHOCK: 6,
    DeviceKind.SMOKE: 4,
    DeviceKind.HEAT: 4,
    DeviceKind.CARBON_MONOXIDE: 6,
    DeviceKind.WATER: 4,
    DeviceKind.LOW_TEMPERATURE: 4,
    DeviceKind.KEYPAD: 4,
    DeviceKind.INSIDE_SOUNDER: 4,
    DeviceKind.OUTSIDE_SIREN: 6,
}
CableNode = tuple[str, float, float]
CableSpot = tuple[str, float, float, str]  # a place at the ceiling that one device's cable alone uses
_Outlines = tuple[tuple[str, tuple[Point, ...]], ...]
_Storeys = tuple[tuple[int, str, float], ...]
_Places = tuple[tuple[str, Point], ...]
_Drawn = tuple[_Outlines, _Storeys, _Places]
CableLink = tuple[CableSpot, CableSpot | CableNode, dict[str, float]]


@dataclass(frozen=True)
class CableRoute:
    """One cable: its length along walls, across a ceiling, up and down, m; cut length, m; cores; label; its storeys.

    `way` holds its turns at the ceiling, from the device to the unit.
    """

    device: str
    along_m: float
    cut_m: int
    cores: int
    label: str
    storeys: tuple[str, ...]
    way: tuple[CableNode, ...] = ()


def routes(home: "Home") -> tuple[tuple[CableRoute, ...], tuple[str, ...]]:
    """The shortest cable of each wired device with a place, to the control unit; and the devices no wall leads to.

    A cable runs along walls at the ceiling. A device within 0.4 m of a wall is on it; another is reached across its
    own room's ceiling, round that room's corners. The unit is on a wall: from its nearest one where it is drawn off
    it. A cable changes storey where corners are one above another. A building apart has no route here.
    Reference: Dijkstra's shortest path over walls and ceilings; cores are common practice, no source.
    """
    unit = next((device for device in present(home, DeviceKind.CONTROL_UNIT) if device.at), None)
    if unit is None or _room(home, unit.room) is None:
        return (), ()
    from networkx import single_source_dijkstra

    cabled = [d for d in fed(home) if d.kind in CORES and d.at is not None and d.room]
    metres, ways = single_source_dijkstra(_with_devices(home, unit, cabled), _spot(home, unit), weight="m")
    lengths = {spot: far + _drop_m(home, unit) for spot, far in metres.items()}
    found = [(device, _route(home, device, number, lengths, ways)) for number, device in enumerate(cabled, 1)]
    return tuple(route for _, route in found if route), tuple(device.id for device, route in found if not route)


def _route(
    home: "Home", device: Device, number: int, lengths: dict[CableSpot, float], ways: dict[CableSpot, list[CableSpot]]
) -> CableRoute | None:
    spot = _spot(home, device)
    if spot not in lengths:
        return None
    along = lengths[spot] + _drop_m(home, device)
    way = tuple(each[:3] for each in reversed(ways[spot]))
    cut = ceil(along * (1 + SLACK) + 2 * ENDS_M - 1e-9)
    label = f"{number:02d} {device.name}".upper()[:LABEL_LETTERS]
    storeys = tuple(dict.fromkeys(each[0] for each in way))
    return CableRoute(device.id, along, cut_m=cut, cores=CORES[device.kind], label=label, storeys=storeys, way=way)


def _drop_m(home: "Home", device: Device) -> float:
    """From the ceiling down to a device, m."""
    room = _room(home, device.room)
    high = room.ceiling_m if room and room.ceiling_m else 2.4
    return max(0.0, high - (_DEFAULT_HEIGHT_M if device.height_m is None else device.height_m))


def _room(home: "Home", room_id: str) -> Room | None:
    return next((room for room in home.site.rooms if room.id == room_id), None)


def _spot(home: "Home", device: Device) -> CableSpot:
    """A device's own place at the ceiling; no other cable passes there."""
    room = _room(home, device.room)
    assert device.at is not None
    return (room.storey if room else "", *device.at, device.id)


def _with_devices(home: "Home", unit: Device, cabled: list[Device]) -> Any:
    """The walls, with one-way links from the unit's place to them and from them to each device's place."""
    walls = _walls(home)
    graph = walls.to_directed()
    graph.add_node(_spot(home, unit))
    graph.add_edges_from(_to_walls(walls, _spot(home, unit)))
    for device in cabled:
        graph.add_edges_from((other, one, metres) for one, other, metres in _links(home, walls, device))
    return graph


def _links(home: "Home", walls: Any, device: Device) -> Iterator[CableLink]:
    """From a device's place to a wall it is on, else across its ceiling, else to the nearest walls."""
    room, spot = _room(home, device.room), _spot(home, device)
    on_wall = any(node[0] == spot[0] and _apart_m(spot, node) <= WALL_M for node in walls)
    across = [] if on_wall or room is None or not room.outline else list(_across(room, spot, walls))
    yield from across or _to_walls(walls, spot)


def _to_walls(walls: Any, spot: CableSpot) -> Iterator[CableLink]:
    """From a place to all nodes of the walls it is on; off the walls to the nearest of each connected piece."""
    from networkx import connected_components

    here = [node for node in walls if node[0] == spot[0]]
    near = [node for node in here if _apart_m(spot, node) <= WALL_M]
    pieces = [] if near else connected_components(walls.subgraph(here))
    nearest = [min(piece, key=lambda node: (_apart_m(spot, node), node)) for piece in pieces]
    yield from ((spot, node, {"m": _apart_m(spot, node)}) for node in near or nearest)


def _across(room: Room, spot: CableSpot, walls: Any) -> Iterator[CableLink]:
    """Straight pieces across a room's ceiling, from a place in it and from its corners, to its walls.

    Reference: textbook plane geometry: a shortest way in a polygon turns at its corners alone, and going along a
    straight wall to its end is never shorter than going there straight (triangle inequality).
    """
    from shapely import prepare
    from shapely.geometry import LineString, Polygon
    from shapely.geometry import Point as Place

    from alarmlib.calc.walking.floor import is_convex

    ceiling = Polygon(room.outline)
    corners = [] if is_convex(ceiling) else [(spot[0], x, y, spot[3]) for x, y in room.outline]
    here = (node for node in walls if node[0] == spot[0])
    ends = [node for node in here if ceiling.boundary.distance(Place(node[1:])) <= _ROUNDED_M]
    ceiling = ceiling.buffer(_ROUNDED_M)
    prepare(ceiling)
    for one, other in (*itertools.permutations([spot, *corners], 2), *itertools.product([spot, *corners], ends)):
        if ceiling.covers(LineString([one[1:3], other[1:3]])):
            yield one, other, {"m": _apart_m(one, other)}


def _apart_m(one: CableSpot | CableNode, other: CableSpot | CableNode) -> float:
    return dist(one[1:3], other[1:3])


@asked
def _walls(home: "Home") -> Any:
    return _graph(*_drawn(home))


@asked
def _drawn(home: "Home") -> _Drawn:
    """What the walls are made of: rooms' outlines, storeys, and the places of devices, by storey."""
    outlines = tuple((room.storey, room.outline) for room in home.site.rooms if room.outline)
    storeys = tuple(sorted((s.level, s.id, s.height_m or _DEFAULT_STOREY_M) for s in home.site.storeys))
    placed = [(room, d) for d in home.whole_devices if d.at and (room := _room(home, d.room))]
    places = tuple(sorted((room.storey, _at_wall(room, d)) for room, d in placed))
    return outlines, storeys, places


def _at_wall(room: Room, device: Device) -> Point:
    """A device's place; the control unit's nearest place on its room's walls."""
    from shapely.geometry import LinearRing
    from shapely.geometry import Point as Place

    assert device.at is not None
    if device.kind is not DeviceKind.CONTROL_UNIT or not room.outline:
        return device.at
    ring = LinearRing(room.outline)
    nearest = ring.interpolate(ring.project(Place(device.at)))
    return nearest.x, nearest.y


def _graph(outlines: _Outlines, storeys: _Storeys, places: _Places) -> Any:
    """The walls as a graph: nodes where walls meet and devices are on them, weights in m; corners join storeys."""
    from networkx import Graph

    graph = Graph()
    for _, storey, _ in storeys:
        for one, other in _pieces([o for s, o in outlines if s == storey], [at for s, at in places if s == storey]):
            graph.add_edge((storey, *one), (storey, *other), m=dist(one, other))
    corners = {(storey, round(x, 3), round(y, 3)) for storey, outline in outlines for x, y in outline}
    for (_, low, height), (_, high, _) in itertools.pairwise(storeys):
        below, above = ([node for node in sorted(corners) if node[0] == storey] for storey in (low, high))
        for foot, top in itertools.product(below, above):
            if (aside := _apart_m(foot, top)) <= _RISE_M:
                graph.add_edge(foot, top, m=height + aside)
    return graph


def _pieces(outlines: list[tuple[Point, ...]], mounted: list[Point]) -> Iterator[tuple[Point, Point]]:
    """The straight walls cut where they meet and where devices are on them, corners in whole millimetres."""
    from shapely import unary_union
    from shapely.geometry import LineString
    from shapely.geometry import Point as Place

    lines = unary_union([LineString((*outline, outline[0])) for outline in outlines])
    for line in getattr(lines, "geoms", [lines] if not lines.is_empty else []):
        for wall in map(LineString, itertools.pairwise(line.coords)):
            on_it = [wall.project(place) for place in map(Place, mounted) if wall.distance(place) <= WALL_M]
            cuts = [wall.interpolate(along) for along in sorted({0.0, wall.length, *on_it})]
            corners = [(round(cut.x, 3), round(cut.y, 3)) for cut in cuts]
            yield from ((a, b) for a, b in itertools.pairwise(corners) if a != b)
