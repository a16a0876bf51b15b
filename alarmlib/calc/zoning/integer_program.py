"""A small mixed-integer program, put together row by row and solved exactly."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import inf

from alarmlib.errors import AlarmProblem


@dataclass(frozen=True)
class Solution:
    """Values by variable, the objective reached, the bound proven and the relative gap between them."""

    values: tuple[float, ...]
    objective: float
    bound: float
    gap: float

    @property
    def proven(self) -> bool:
        """Whether nothing better can exist: the bound has met the objective."""
        return self.gap == 0

    def chosen(self, variable: int) -> bool:
        """Whether a yes-or-no variable is yes."""
        return self.values[variable] > 0.5


@dataclass
class IntegerProgram:
    """Minimise the summed costs under the rows; costs are integers, so a bound may be rounded up."""

    costs: list[float] = field(default_factory=list)
    integer: list[bool] = field(default_factory=list)
    rows: list[Mapping[int, float]] = field(default_factory=list)
    lowest: list[float] = field(default_factory=list)
    highest: list[float] = field(default_factory=list)

    def choice(self, cost: float = 0, integer: bool = True) -> int:
        """A new variable between 0 and 1, yes-or-no unless `integer` is false; its number."""
        self.costs.append(cost)
        self.integer.append(integer)
        return len(self.costs) - 1

    def row(self, terms: Mapping[int, float], lowest: float = -inf, highest: float = inf) -> None:
        """Hold lowest ≤ Σ factor · variable ≤ highest."""
        self.rows.append(terms)
        self.lowest.append(lowest)
        self.highest.append(highest)

    def at_most(self, variables: Iterable[int], highest: float) -> None:
        """Hold the plain sum of these variables at or below `highest`."""
        self.row(dict.fromkeys(variables, 1.0), highest=highest)

    def implies(self, cause: int, effect: int) -> None:
        """Hold effect at yes wherever cause is yes."""
        self.row({cause: 1.0, effect: -1.0}, highest=0)

    def solve(self, time_limit_s: float = 10.0) -> Solution:
        """The best solution found within the time, with the bound proven for it.

        Raises `AlarmProblem` when no solution exists or none was found in time.
        Reference: branch and bound of `scipy.optimize.milp` (HiGHS).
        """
        if not self.costs:
            return Solution((), 0.0, 0.0, 0.0)
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        starts = np.cumsum([0, *(len(row) for row in self.rows)])
        columns = [column for row in self.rows for column in row]
        factors = [factor for row in self.rows for factor in row.values()]
        matrix = csr_array((factors, columns, starts), shape=(len(self.rows), len(self.costs)))
        rules = [LinearConstraint(matrix, self.lowest, self.highest)] if self.rows else []
        found = milp(
            np.array(self.costs, dtype=float),
            integrality=np.array(self.integer, dtype=int),
            bounds=Bounds(0, 1),
            constraints=rules,
            options={"time_limit": time_limit_s, "mip_rel_gap": 0.0},
        )
        if found.x is None:
            raise AlarmProblem(f"No arrangement was found within {time_limit_s:g} s ({found.message}).")
        return _rated(tuple(float(value) for value in found.x), float(found.fun), found.mip_dual_bound)


def _rated(values: tuple[float, ...], objective: float, bound: float | None) -> Solution:
    """The solution with its bound: costs are integers, so a bound of 11.2 proves 12.

    A sum of integers is an integer.
    """
    from math import ceil

    reached = round(objective)
    proven = min(reached, ceil((reached if bound is None else bound) - 1e-6))
    gap = 0.0 if proven == reached else (reached - proven) / max(1, abs(reached))
    return Solution(values, float(reached), float(proven), gap)
