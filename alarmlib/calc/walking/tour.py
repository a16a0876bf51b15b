"""The shortest round through all stops, proved, or with the gap that is left when the time ran out."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import inf, isfinite

from alarmlib.calc.zoning.integer_program import IntegerProgram, Solution
from alarmlib.errors import AlarmProblem, FieldProblem

EXACT_STOPS = 13  # beside the start; above it the integer program takes over
_MOST_RUNS = 60
_SCALE = 1000  # the integer program counts in thousandths
Cost = Sequence[Sequence[float]]


@dataclass(frozen=True)
class Tour:
    """A round from stop 0 through all others and back: its length, and a length no round falls short of."""

    order: tuple[int, ...]
    length: float
    bound: float

    @property
    def gap(self) -> float:
        """How much longer than the bound it may be, as a share; 0 is proved shortest."""
        return max(0.0, (self.length - self.bound) / self.length) if self.length > 1e-9 else 0.0


def shortest_tour(cost: Cost, time_limit_s: float = 10.0, exact_stops: int = EXACT_STOPS) -> Tour:
    """The shortest round over a symmetric table of costs, proved unless a run of `time_limit_s` is too short.

    Raises FieldProblem when the table isn't square and symmetric or a stop can't be reached.
    Reference: Held and Karp's recursion; for more stops an integer program with subtour cuts (Dantzig, Fulkerson and
    Johnson); lengths to a thousandth.
    """
    _check(cost)
    if len(cost) <= 3:
        order = tuple(range(len(cost)))
        return Tour(order, _length(cost, order), _length(cost, order))
    if len(cost) - 1 <= exact_stops:
        order = _held_karp(cost)
        return Tour(order, _length(cost, order), _length(cost, order))
    return _by_cuts(cost, time_limit_s)


def _check(cost: Cost) -> None:
    count = len(cost)
    if not count or any(len(row) != count for row in cost):
        raise FieldProblem("", "table of walks", f"{count} rows", "as many columns as rows, at least one")
    for i in range(count):
        for j in range(count):
            if not isfinite(cost[i][j]) or cost[i][j] < 0:
                raise FieldProblem("", f"walk from stop {i} to stop {j}", str(cost[i][j]), "there must be a way")
            if abs(cost[i][j] - cost[j][i]) > 1e-6 * max(1.0, cost[i][j]):
                raise FieldProblem("", f"walk from stop {i} to stop {j}", str(cost[i][j]), "equal both ways")


def _length(cost: Cost, order: Sequence[int]) -> float:
    return sum(cost[a][b] for a, b in pairwise((*order, order[0])))


def _held_karp(cost: Cost) -> tuple[int, ...]:
    """Best end of every set of stops that leads to each last stop; stop k is bit k - 1."""
    count = len(cost) - 1
    best = [[inf] * count for _ in range(1 << count)]
    came = [[-1] * count for _ in range(1 << count)]
    for last in range(count):
        best[1 << last][last] = cost[0][last + 1]
    for visited in range(1, 1 << count):
        here = best[visited]
        for following in range(count):
            if visited >> following & 1:
                continue
            column = cost[following + 1]
            length, last = min((here[k] + column[k + 1], k) for k in range(count))
            best[visited | 1 << following][following] = length
            came[visited | 1 << following][following] = last
    return _trace(cost, best[-1], came)


def _trace(cost: Cost, ends: Sequence[float], came: Sequence[Sequence[int]]) -> tuple[int, ...]:
    count = len(ends)
    visited, last = (1 << count) - 1, min(range(count), key=lambda k: ends[k] + cost[k + 1][0])
    order: list[int] = []
    while last >= 0:
        order.append(last + 1)
        visited, last = visited & ~(1 << last), came[visited][last]
    return (0, *reversed(order))


def _by_cuts(cost: Cost, time_limit_s: float) -> Tour:
    """Cut off each part that the chosen legs leave apart, first with legs in fractions, then whole."""
    best, bound, whole = _quick_tour(cost), 0.0, False
    cuts: list[frozenset[int]] = []
    for _ in range(_MOST_RUNS):
        try:
            solution, legs = _relaxed(cost, cuts, time_limit_s, whole)
        except AlarmProblem:
            break
        parts = _parts(legs, len(cost))
        if whole:
            bound = max(bound, solution.bound / _SCALE)
            if len(parts) == 1:
                best = min(best, _order(legs), key=lambda order: _length(cost, order))
                return Tour(best, _length(cost, best), _length(cost, best) if solution.proven else bound)
            if not solution.proven:
                break
        whole = whole or len(parts) == 1
        cuts.extend(parts if len(parts) > 1 else ())
    return Tour(best, _length(cost, best), min(bound, _length(cost, best)))


def _relaxed(
    cost: Cost, cuts: Sequence[frozenset[int]], time_limit_s: float, whole: bool
) -> tuple[Solution, list[tuple[int, int]]]:
    """The cheapest set of legs that meets every stop twice and leaves every cut twice, and the legs in it."""
    program = IntegerProgram()
    legs = list(combinations(range(len(cost)), 2))
    chosen = {leg: program.choice(round(cost[leg[0]][leg[1]] * _SCALE), whole) for leg in legs}
    for stop in range(len(cost)):
        program.row({chosen[leg]: 1.0 for leg in legs if stop in leg}, lowest=2, highest=2)
    for part in cuts:
        program.row({chosen[leg]: 1.0 for leg in legs if (leg[0] in part) != (leg[1] in part)}, lowest=2)
    solution = program.solve(time_limit_s)
    least = 0.5 if whole else 1e-6
    return solution, [leg for leg in legs if solution.values[chosen[leg]] > least]


def _beside(legs: Sequence[tuple[int, int]]) -> dict[int, list[int]]:
    beside: dict[int, list[int]] = {}
    for one, other in legs:
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    return beside


def _parts(legs: Sequence[tuple[int, int]], count: int) -> list[frozenset[int]]:
    """The groups of stops that the legs join."""
    beside, left = _beside(legs), set(range(count))
    parts: list[frozenset[int]] = []
    while left:
        part, edge = {min(left)}, [min(left)]
        while edge:
            reached = set(beside.get(edge.pop(), ())) - part
            part |= reached
            edge += reached
        parts.append(frozenset(part))
        left -= part
    return parts


def _order(legs: Sequence[tuple[int, int]]) -> tuple[int, ...]:
    """The stops of one round in order, from stop 0."""
    beside, order = _beside(legs), [0]
    while (onward := next((stop for stop in beside[order[-1]] if stop not in order), None)) is not None:
        order.append(onward)
    return tuple(order)


def _quick_tour(cost: Cost) -> tuple[int, ...]:
    """A good round to begin with: always to the nearest stop, then stretches turned about while it helps."""
    order, left = [0], set(range(1, len(cost)))
    while left:
        order.append(min(left, key=lambda stop: cost[order[-1]][stop]))
        left.remove(order[-1])
    turned = True
    while turned:
        turned = False
        for i, j in combinations(range(1, len(order)), 2):
            other = [*order[:i], *reversed(order[i : j + 1]), *order[j + 1 :]]
            if _length(cost, other) < _length(cost, order) - 1e-9:
                order, turned = other, True
    return tuple(order)
