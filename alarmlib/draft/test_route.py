"""From a home to the order of its walk test: from the keypad past every device and back, with the waits."""

from dataclasses import dataclass
from math import isinf

from alarmlib.calc.plan.floor_plan import Place, place_of_device, plan_from_home
from alarmlib.calc.walking.walk_route import TestStop, WalkPlan, plan_walk_test
from alarmlib.calc.walking.walkers import Walker, walker_of
from alarmlib.calc.walking.walks import WalkMap
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import Person
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.words import DeviceKind

_TEST_S = 10.0  # common practice, no source: four steps, a look at the unit, a tick


@dataclass(frozen=True)
class TestRoute:
    """The walk, and the devices that no way on the plan leads to (ids)."""

    __test__ = False  # not a test class

    walk: WalkPlan
    no_way: tuple[str, ...]


def test_route(home: Home, time_limit_s: float = 10.0) -> TestRoute | None:
    """The walk test of an ordinary adult from the first keypad; None when there is no keypad in a room.

    By `alarmlib.calc.walking.walk_route`.
    """
    keypads = [device for device in at_work(home, DeviceKind.KEYPAD) if device.room]
    if not keypads:
        return None
    start = keypads[0]
    devices = [device for device in at_work(home) if device.room and device.id != start.id]
    places = [place for d in (start, *devices) if (place := place_of_device(d)) is not None]
    table = _seconds(home, places, walker_of(Person(id="tester", role="tester")))
    reached = [n for n in range(1, len(places)) if not isinf(table[0][n])]
    kept = [0, *reached]
    cost = [[table[i][j] for j in kept] for i in kept]
    stops = [_stop(devices[n - 1], devices) for n in reached]
    lost = tuple(device.id for n, device in enumerate(devices, 1) if n not in reached)
    return TestRoute(plan_walk_test(stops, cost, time_limit_s), lost)


@dataclass(frozen=True)
class WalkOrder:
    """The one order of the walk test, wherever it is shown: each device with the seconds to wait before it, s.

    `apart` are the devices without a room, or that no way on the plan leads to; `walk` is None where no keypad in a
    room gives it a beginning: then the order is storey by storey and room by room, and proved nothing.
    """

    rows: tuple[tuple[Device, float], ...]
    apart: tuple[Device, ...]
    walk: WalkPlan | None


@asked
def walk_order(home: Home) -> WalkOrder:
    """The shortest order found in which to test every device that is there; kept, since it is dear.

    By `test_route`.
    """
    route, there = test_route(home), by_id(at_work(home))
    if route is None:
        placed = tuple(sorted((d for d in there.values() if d.room), key=lambda d: _storey_and_room(home, d)))
        return WalkOrder(tuple((d, 0.0) for d in placed), tuple(d for d in there.values() if not d.room), None)
    first = next(d for d in there.values() if d.kind is DeviceKind.KEYPAD and d.room)
    visits = route.walk.visits
    rows = ((first, 0.0), *((there[each.stop], each.wait_until_s - each.arrive_s) for each in visits))
    walked = {device.id for device, _ in rows}
    return WalkOrder(rows, tuple(d for d in there.values() if d.id not in walked), route.walk)


def _storey_and_room(home: Home, device: Device) -> tuple[int, int]:
    level = {storey.id: storey.level for storey in home.site.storeys}
    rooms = {room.id: (level.get(room.storey, 0), place) for place, room in enumerate(home.site.rooms)}
    return rooms.get(device.room, (0, len(rooms)))


def _seconds(home: Home, places: list[Place], walker: Walker) -> list[list[float]]:
    """Seconds from place to place, the mean of both directions: the order has no sense of its own."""
    there = WalkMap(plan_from_home(home), places).seconds(places, walker)
    return [[(there[i][j] + there[j][i]) / 2 for j in range(len(places))] for i in range(len(places))]


def _stop(device: Device, devices: list[Device]) -> TestStop:
    """A motion detector is tripped whenever somebody is in its room."""
    motion = device.kind is DeviceKind.MOTION
    same_room = (d.id for d in devices if motion and d.room == device.room and d.id != device.id)
    return TestStop(
        id=device.id,
        test_s=_TEST_S,
        warm_up_s=device.warm_up_s,
        quiet_s=device.sleep_s,
        movement_restarts=device.movement_restarts_sleep,
        tripped_at=frozenset(same_room),
    )
