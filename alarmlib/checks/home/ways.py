"""Which rooms somebody passes from one place to another."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache

from alarmlib.calc.plan.floor_plan import Place, Plan, place_of_device, plan_from_home
from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.home_walks import HomeWalk, home_walks
from alarmlib.calc.walking.routes import routes
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import WalkMap
from alarmlib.checks.lookup import entry_exit_doors, rooms
from alarmlib.model import Home
from alarmlib.model.questions import at_work
from alarmlib.model.words import DeviceKind

_ANYBODY = Walker(level_speed(50))


def route_rooms(home: Home) -> frozenset[str]:
    """The rooms that somebody may pass between an entry/exit door and the keypad nearest to it.

    By `alarmlib.calc.walking.routes`, all ways at most half as long again as the quickest.
    """
    return _passed(plan_from_home(home), tuple(door.id for door in entry_exit_doors(home)), _ends(home))


def rooms_between(home: Home, start: str, goals: Iterable[str]) -> frozenset[str]:
    """The rooms passed on the quickest way from a room to the nearest of the goals, both ends among them.

    By `alarmlib.calc.walking.walks`.
    """
    known = rooms(home)
    return _between(plan_from_home(home), _ends(home), start, tuple(goal for goal in goals if goal in known))


def timed_walks(home: Home) -> tuple[HomeWalk, ...]:
    """Everybody's walks between entry/exit doors and keypads; kept, since they are dear and seldom move.

    By `alarmlib.calc.walking.home_walks`.
    """
    keypads = at_work(home, DeviceKind.KEYPAD)
    doors = tuple(door.id for door in entry_exit_doors(home))
    return _walks(_Asked((plan_from_home(home), doors, keypads, home.household.people, home.household.walks), home))


@dataclass(frozen=True)
class _Asked:
    """A home, equal to another where the parts that decide the answer are equal."""

    parts: tuple[object, ...]
    home: Home = field(compare=False)


@lru_cache(maxsize=4)
def _walks(asked: _Asked) -> tuple[HomeWalk, ...]:
    return home_walks(asked.home, _map(plan_from_home(asked.home), _ends(asked.home)))


def _ends(home: Home) -> tuple[Place, ...]:
    """Where keypads and key switches at work are."""
    points = at_work(home, DeviceKind.KEYPAD, DeviceKind.KEY_SWITCH)
    return tuple(place for device in points if (place := place_of_device(device)) is not None)


@lru_cache(maxsize=8)
def _map(plan: Plan, ends: tuple[Place, ...]) -> WalkMap:
    """The map of a plan; kept for all checks, since it is the dear part and depends on nothing else."""
    return WalkMap(plan, ends)


@lru_cache(maxsize=8)
def _passed(plan: Plan, doors: tuple[str, ...], ends: tuple[Place, ...]) -> frozenset[str]:
    passed: set[str] = set()
    for door in doors if ends else ():
        walks = _map(plan, ends)
        start = plan.place_of_opening(door)
        near = walks.nearest(start, ends, _ANYBODY)
        if near is not None:
            passed |= routes(walks, start, near[0], _ANYBODY).rooms_passed
    return frozenset(passed)


@lru_cache(maxsize=64)
def _between(plan: Plan, ends: tuple[Place, ...], start: str, goals: tuple[str, ...]) -> frozenset[str]:
    walks = _map(plan, ends)
    near = walks.nearest(Place(start), [Place(goal) for goal in goals], _ANYBODY)
    return frozenset(near[1].rooms) if near is not None else frozenset()
