"""Which rooms somebody passes from one place to another."""

from collections.abc import Iterable

from alarmlib.calc.plan.floor_plan import Place
from alarmlib.calc.walking.home_walks import ANYBODY, home_map, unset_places
from alarmlib.calc.walking.routes import routes
from alarmlib.checks.lookup import entry_exit_doors, rooms
from alarmlib.model import Home
from alarmlib.model.asked import asked


@asked
def route_rooms(home: Home) -> frozenset[str]:
    """The rooms that somebody may pass between an entry/exit door and the keypad nearest to it.

    By `alarmlib.calc.walking.routes`, all ways at most half as long again as the quickest.
    """
    return frozenset[str]().union(*(_passed(home, door.id) for door in entry_exit_doors(home)))


def rooms_between(home: Home, start: str, goals: Iterable[str]) -> frozenset[str]:
    """The rooms passed on the quickest way from a room to the nearest of the goals, both ends among them.

    By `alarmlib.calc.walking.walks`.
    """
    known = rooms(home)
    return _between(home, start, tuple(goal for goal in goals if goal in known))


@asked
def _passed(home: Home, door: str) -> frozenset[str]:
    walks, ends = home_map(home), unset_places(home)
    start = walks.plan.place_of_opening(door)
    near = walks.nearest(start, ends, ANYBODY)
    return routes(walks, start, near[0], ANYBODY).rooms_passed if near is not None else frozenset()


@asked
def _between(home: Home, start: str, goals: tuple[str, ...]) -> frozenset[str]:
    near = home_map(home).nearest(Place(start), [Place(goal) for goal in goals], ANYBODY)
    return frozenset(near[1].rooms) if near is not None else frozenset()
