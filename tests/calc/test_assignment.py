"""Generalised assignment against published optima."""

import pytest
from plain_assignment import assign

from alarmlib.errors import AlarmProblem

# OR-Library, gap1, problem c515-1 (5 agents, 15 jobs, maximise); data and optimum as published by
# J. E. Beasley. The optimum is exact: no tolerance.
PROFITS = """
17 21 22 18 24 15 20 18 19 18 16 22 24 24 16
23 16 21 16 17 16 19 25 18 21 17 15 25 17 24
16 20 16 25 24 16 17 19 19 18 20 16 17 21 24
19 19 22 22 20 16 19 17 21 19 25 23 25 25 25
18 19 15 15 21 25 16 16 23 15 22 17 19 22 24
"""
SIZES = """
8 15 14 23 8 16 8 25 9 17 25 15 10 8 24
15 7 23 22 11 11 12 10 17 16 7 16 10 18 22
21 20 6 22 24 10 24 9 21 14 11 14 11 19 16
20 11 8 14 9 5 6 19 19 7 6 6 13 9 18
8 13 13 13 10 20 25 16 16 17 10 10 5 12 23
"""
CAPACITIES = (36, 34, 38, 27, 33)


def _rows(text: str) -> list[list[int]]:
    return [[int(number) for number in line.split()] for line in text.split("\n") if line]


@pytest.mark.outside
def test_or_library_c515_1() -> None:
    """The published optimum 336 is reached, proven, within every capacity."""
    profits, sizes = _rows(PROFITS), _rows(SIZES)
    best = assign([[-profit for profit in row] for row in profits], sizes, CAPACITIES)
    assert (-best.cost, -best.bound, best.gap) == (336, 336, 0)
    assert sum(profits[i][j] for j, i in enumerate(best.place)) == 336
    for agent, capacity in enumerate(CAPACITIES):
        assert sum(sizes[agent][j] for j, i in enumerate(best.place) if i == agent) <= capacity


def test_jobs_that_cannot_be_placed_are_said_in_a_sentence() -> None:
    """Two jobs of size 2 in one place of size 3."""
    with pytest.raises(AlarmProblem, match="No arrangement was found"):
        assign([[1, 1]], [[2, 2]], [3])
