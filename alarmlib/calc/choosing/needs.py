"""What must be covered by several choices together, part by part; the least set that does it, with its bound."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from alarmlib.calc.zoning.integer_program import IntegerProgram

# The solver holds rows to about a millionth of their numbers: what its whole choices then weigh may fall short by more.
_ROW_SHORT = 1e-9
_MET_SHORT = 1e-4


@dataclass(frozen=True)
class Need:
    """Something that must be covered, in parts: each has a weight and the choices that cover it.

    A part counts once `times` of its choices are taken; the need is met once the parts that count weigh `least`.
    """

    target: str
    least: float
    parts: tuple[tuple[float, frozenset[str]], ...]
    times: int = 1

    def can_be_met(self) -> bool:
        """Whether all choices together meet it."""
        return self.weight(frozenset[str]().union(*(by for _, by in self.parts))) >= self.least - _ROW_SHORT

    def met_by(self, chosen: Collection[str]) -> bool:
        """Whether these choices meet it, to a ten-thousandth of its unit (1 cm² of floor)."""
        return self.weight(chosen) >= self.least - _MET_SHORT

    def weight(self, chosen: Collection[str]) -> float:
        """How much the parts weigh that count with these choices."""
        taken = frozenset(chosen)
        return sum(weight for weight, by in self.parts if len(by & taken) >= self.times)

    def among(self, choices: Collection[str]) -> "Need":
        """The same need, with no other choices than these."""
        kept = frozenset(choices)
        return Need(self.target, self.least, tuple((weight, by & kept) for weight, by in self.parts), self.times)


@dataclass(frozen=True)
class Cover:
    """The choices taken, what they cost in whole units, the bound proven, and what none of the choices can cover."""

    chosen: tuple[str, ...]
    cost: int
    bound: int
    proven: bool
    left: frozenset[str]

    @property
    def gap(self) -> float:
        """How far the cost may lie above the least, as a part of the cost; 0 when proven."""
        return (self.cost - self.bound) / max(1, abs(self.cost))


def least_choice(
    needs: Iterable[Need], costs: Mapping[str, int], then: Mapping[str, int] | None = None, time_limit_s: float = 10.0
) -> Cover:
    """The choices of least cost that meet every need that can be met; among those of equal cost, least by `then`.

    Needs that all choices together don't meet are in `left`. Raises AlarmProblem when nothing is found in time.
    Reference: set cover by branch and bound (`scipy.optimize.milp`), known optima in the tests.
    """
    able = [need.among(costs) for need in needs]
    program, number = _program(costs)
    for need in able:
        if need.can_be_met():
            program.row(_counting(program, number, need), lowest=need.least - _ROW_SHORT)
    found = program.solve(time_limit_s)
    left = frozenset(need.target for need in able if not need.can_be_met())
    cost, bound, proven = round(found.objective), round(found.bound), found.proven
    if then is not None and proven and number:
        program.row({n: float(costs[choice]) for choice, n in number.items()}, highest=cost)
        program.costs[: len(number)] = [float(then[choice]) for choice in number]
        found = program.solve(time_limit_s)
    chosen = tuple(choice for choice, n in number.items() if found.chosen(n))
    return Cover(chosen, cost, bound, proven, left)


def most_met(needs: Iterable[Need], choices: Iterable[str], most: int) -> tuple[int, tuple[str, ...]]:
    """How many needs at most `most` of the choices can meet, and one such choice.

    Reference: maximum coverage by branch and bound (`scipy.optimize.milp`).
    """
    costs = dict.fromkeys(choices, 0)
    program, number = _program(costs)
    for need in (each.among(costs) for each in needs):
        met = program.choice(-1)
        program.row({**_counting(program, number, need), met: _ROW_SHORT - need.least}, lowest=0)
    program.at_most(number.values(), most)
    found = program.solve()
    return round(-found.objective), tuple(choice for choice, n in number.items() if found.chosen(n))


def most_by_count(needs: Sequence[Need], choices: Iterable[str], up_to: int) -> tuple[int, ...]:
    """How many needs 1, 2, ... `up_to` choices can meet at best.

    Needs that share no choice are solved apart, and the numbers of choices are then shared out among them, exactly.
    Reference: maximum coverage by branch and bound (`scipy.optimize.milp`); sharing out by dynamic programming.
    """
    best = [0] * (up_to + 1)
    for group in _apart([need.among(tuple(choices)) for need in needs]):
        alone = _growing(group, up_to)
        best = [max(best[k - n] + met for n, met in enumerate(alone[: k + 1])) for k in range(up_to + 1)]
    return tuple(best[1:])


def _growing(group: Sequence[Need], up_to: int) -> list[int]:
    """How many needs of one group 0, 1, 2 ... choices meet, until all that can be met are."""
    able = frozenset[str]().union(*(by for need in group for _, by in need.parts))
    most = sum(need.can_be_met() for need in group)
    met = [0]
    while met[-1] < most and len(met) <= up_to:
        met.append(most_met(group, sorted(able), len(met))[0])
    return met


def _apart(needs: Iterable[Need]) -> list[list[Need]]:
    """The needs in groups that share no choice."""
    groups: list[tuple[frozenset[str], list[Need]]] = []
    for need in needs:
        able = frozenset[str]().union(*(by for _, by in need.parts))
        joined = [group for group in groups if group[0] & able]
        groups = [group for group in groups if not group[0] & able]
        together = able.union(*(choices for choices, _ in joined))
        groups.append((together, [*(each for _, members in joined for each in members), need]))
    return [members for _, members in groups]


def met_needs(needs: Iterable[Need], chosen: Collection[str]) -> frozenset[str]:
    """The targets that these choices cover together."""
    return frozenset(need.target for need in needs if need.met_by(chosen))


def alone_met(needs: Iterable[Need], chosen: Sequence[str]) -> dict[str, frozenset[str]]:
    """For each choice what would be left uncovered if it alone were missing."""
    met = [need for need in needs if need.met_by(chosen)]
    return {choice: missed_without(met, chosen, choice) for choice in chosen}


def missed_without(needs: Iterable[Need], chosen: Collection[str], choice: str) -> frozenset[str]:
    """The targets that the choices cover together, and no longer without this one of them."""
    others = frozenset(chosen) - {choice}
    touched = [need for need in needs if any(choice in by for _, by in need.parts)]
    return frozenset(need.target for need in touched if need.met_by(chosen) and not need.met_by(others))


def _program(costs: Mapping[str, int]) -> tuple[IntegerProgram, dict[str, int]]:
    program = IntegerProgram()
    return program, {choice: program.choice(cost) for choice, cost in costs.items()}


def _counting(program: IntegerProgram, number: Mapping[str, int], need: Need) -> dict[int, float]:
    """The weighted sum of the parts that count: each at most as often as `times` goes into its choices taken.

    Where one choice is enough, whole choices make the part whole, so it may be a plain fraction.
    """
    terms: dict[int, float] = {}
    for weight, by in need.parts:
        if by:
            part = program.choice(integer=need.times > 1)
            program.row({**{number[choice]: 1.0 for choice in sorted(by)}, part: -float(need.times)}, lowest=0)
            terms[part] = weight
    return terms
