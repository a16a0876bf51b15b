"""The rooms that somebody may pass from a way in to the keypad: the quickest way and all that are near it."""

from dataclasses import dataclass
from itertools import islice, pairwise

from alarmlib.calc.plan.floor_plan import Place
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import Walk, WalkMap, walk_seconds

MOST_WAYS = 500


@dataclass(frozen=True)
class Route:
    """A way through rooms, in order, and the quickest walk through the passages between them."""

    rooms: tuple[str, ...]
    seconds: float
    walk: Walk


@dataclass(frozen=True)
class Routes:
    """Ways from quickest on; `complete` is false when there were too many ways to look at them all."""

    ways: tuple[Route, ...]
    complete: bool = True

    @property
    def rooms_passed(self) -> frozenset[str]:
        """Rooms on at least one of the ways."""
        return frozenset(room for way in self.ways for room in way.rooms)


def routes(walks: WalkMap, start: Place, end: Place, walker: Walker, factor: float = 1.5) -> Routes:
    """All ways from place to place that enter no room twice and take at most `factor` times the quickest.

    Reference: every simple path over the rooms, textbook.
    """
    import networkx as nx

    joined = nx.Graph(passage.rooms for passage in walks.plan.passages)
    joined.add_nodes_from((start.room, end.room))
    orders = list(islice(nx.all_simple_paths(joined, start.room, end.room), MOST_WAYS + 1))
    found: dict[tuple[str, ...], Route] = {}
    for order in [[start.room]] if start.room == end.room else orders[:MOST_WAYS]:
        walk = walks.walk(start, end, walker, passages=_between(walks, order))
        if walk is not None and walk.rooms not in found:
            found[walk.rooms] = Route(walk.rooms, walk_seconds(walk, walker), walk)
    ways = sorted(found.values(), key=lambda way: (way.seconds, way.rooms))
    near = tuple(way for way in ways if way.seconds <= factor * ways[0].seconds + 1e-9)
    return Routes(near, complete=len(orders) <= MOST_WAYS)


def _between(walks: WalkMap, order: list[str]) -> list[str]:
    """The passages that join each room of the order to the next."""
    steps = {frozenset(step) for step in pairwise(order)}
    return [passage.id for passage in walks.plan.passages if frozenset(passage.rooms) in steps]
