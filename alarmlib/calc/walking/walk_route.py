"""The walk test: in which order to try the devices, and how long to wait at each.

The order is the shortest round on foot; waiting for warm-up and sleep times is added as it falls.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.calc.figure import Figure
from alarmlib.calc.walking.tour import Cost, Tour, shortest_tour
from alarmlib.errors import FieldProblem


@dataclass(frozen=True)
class TestStop:
    """A device to try.

    `warm_up_s` after the start it can't be tried yet; for `quiet_s` after a trip it sees nothing. It is tripped in
    passing whenever somebody is at one of `tripped_at` (other stops' ids) or on its own place.
    """

    id: str
    test_s: float = 10.0
    warm_up_s: float = 0.0
    quiet_s: float = 0.0
    tripped_at: frozenset[str] = frozenset()
    movement_restarts: bool = False


@dataclass(frozen=True)
class Visit:
    """A stop of the walk: when it is reached, until when to wait, when its test is over; s from the start."""

    stop: str
    arrive_s: float
    wait_until_s: float
    done_s: float


@dataclass(frozen=True)
class WalkPlan:
    """The visits in order, the time back at the start, and what is proved of it.

    `tour` is the walking alone; `least_s` is a time that no order can beat.
    """

    visits: tuple[Visit, ...]
    back_s: float
    tour: Tour
    least_s: float

    @property
    def waiting_s(self) -> float:
        """Seconds spent waiting for warm-up and sleep times."""
        return sum(visit.wait_until_s - visit.arrive_s for visit in self.visits)


def plan_walk_test(stops: Sequence[TestStop], walk_s: Cost, time_limit_s: float = 10.0) -> WalkPlan:
    """The shortest round from row 0 (the keypad) past every stop (rows 1 on) and back, with its waits.

    Of the two ways round the one with less waiting is taken. `walk_s` is symmetric, seconds on foot.
    Reference: waiting as the devices' manuals say.
    """
    if len(walk_s) != len(stops) + 1:
        raise FieldProblem("", "table of walks", f"{len(walk_s)} rows", "one for the start and one for each stop")
    tour = shortest_tour(walk_s, time_limit_s)
    onward, back = tour.order[1:], tour.order[:0:-1]
    walks = [_timed(stops, walk_s, order, tour) for order in (onward, back)]
    return min(walks, key=lambda walk: walk.back_s)


def _timed(stops: Sequence[TestStop], walk_s: Cost, order: Sequence[int], tour: Tour) -> WalkPlan:
    visits: list[Visit] = []
    now_s, here = 0.0, 0
    tripped_s: dict[str, float] = {}
    for place in order:
        stop = stops[place - 1]
        arrive_s = now_s + walk_s[here][place]
        ready_s = tripped_s[stop.id] + stop.quiet_s if stop.id in tripped_s else 0.0
        wait_s = max(arrive_s, ready_s, stop.warm_up_s)
        now_s, here = wait_s + stop.test_s, place
        visits.append(Visit(stop.id, arrive_s, wait_s, now_s))
        for other in stops:
            if stop.id in other.tripped_at or stop.id == other.id:
                _trip(other, (arrive_s, now_s), tripped_s)
    return WalkPlan(tuple(visits), now_s + walk_s[here][0], tour, _least_s(stops, tour, walk_s))


def _trip(device: TestStop, stay_s: tuple[float, float], tripped_s: dict[str, float]) -> None:
    """Note the trip that the stay causes: its end where movement restarts the rest, else its last new trip."""
    begin_s, end_s = stay_s
    if device.movement_restarts or device.quiet_s <= 0:
        tripped_s[device.id] = end_s
        return
    asleep_until_s = tripped_s[device.id] + device.quiet_s if device.id in tripped_s else begin_s
    first_s = max(begin_s, asleep_until_s)
    if first_s <= end_s:
        tripped_s[device.id] = first_s + (end_s - first_s) // device.quiet_s * device.quiet_s


def _least_s(stops: Sequence[TestStop], tour: Tour, walk_s: Cost) -> float:
    """No order ends sooner: all walking and testing, or the last warm-up, its test and the way back."""
    whole_s = tour.bound + sum(stop.test_s for stop in stops)
    warm_s = (stop.warm_up_s + stop.test_s + walk_s[n][0] for n, stop in enumerate(stops, 1))
    return max([whole_s, *warm_s])


def walk_figure(walk: WalkPlan) -> Figure:
    """How long the walk test takes, fit to show, with what is proved."""
    proof = "proved shortest" if walk.tour.gap == 0 else f"at most {walk.tour.gap:.1%} above the shortest"
    return Figure(
        key="test_walk",
        value=walk.back_s,
        unit="s",
        formula="walking + tests + waiting",
        inputs=(
            ("on foot", f"{walk.tour.length:.0f} s, {proof}"),
            ("waiting", f"{walk.waiting_s:.0f} s"),
            ("no order takes less than", f"{walk.least_s:.0f} s"),
        ),
        sources=("computed",),
    )
