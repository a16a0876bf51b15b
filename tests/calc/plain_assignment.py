"""Give each job to one place with room for it, at the least cost (generalised assignment)."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.calc.zoning.integer_program import IntegerProgram


@dataclass(frozen=True)
class Assignment:
    """`place[j]` takes job j; the total cost, the proven bound and the relative gap."""

    place: tuple[int, ...]
    cost: float
    bound: float
    gap: float


def assign(
    costs: Sequence[Sequence[int]],
    sizes: Sequence[Sequence[int]],
    capacities: Sequence[int],
    time_limit_s: float = 10.0,
) -> Assignment:
    """The cheapest way to give every job to one place.

    `costs[i][j]` and `sizes[i][j]` are those of job j in place i; `capacities[i]` is the room in place i.
    Negate the costs to find the dearest. Raises `AlarmProblem` when the jobs cannot all be placed.
    Reference: generalised assignment problem, OR-Library (Beasley).
    """
    program = IntegerProgram()
    chosen = [[program.choice(cost) for cost in row] for row in costs]
    for job in zip(*chosen, strict=True):
        program.row(dict.fromkeys(job, 1.0), 1, 1)
    for row, size, capacity in zip(chosen, sizes, capacities, strict=True):
        program.row(dict(zip(row, map(float, size), strict=True)), highest=capacity)
    best = program.solve(time_limit_s)
    place = tuple(next(i for i, x in enumerate(job) if best.chosen(x)) for job in zip(*chosen, strict=True))
    return Assignment(place, best.objective, best.bound, best.gap)
