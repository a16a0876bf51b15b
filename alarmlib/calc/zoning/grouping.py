"""Put items into as few groups as fit, telling apart what should be: exact, with a proven bound."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import combinations

from alarmlib.calc.zoning.integer_program import IntegerProgram, Solution


@dataclass(frozen=True)
class Groupable:
    """An item to be grouped.

    Items of different `kind` never share. `size` counts against the capacity of a group, `units` against
    the pools. `room` and `floor` are kept separate where that is affordable; an item that is `alone` shares
    only at a price. Leaving the item out altogether costs `drop_cost`.
    """

    kind: Hashable = ""
    size: int = 1
    units: int = 1
    room: str = ""
    floor: str = ""
    alone: bool = False
    drop_cost: int = 10_000


@dataclass(frozen=True)
class Costs:
    """What is paid for: each group, each further room or floor in it, each lone item made to share.

    Our own choice; a further room costs more than a further group, so rooms are kept separate
    for as long as groups last.
    """

    group: int = 10
    room: int = 12
    floor: int = 30
    alone: int = 40


@dataclass(frozen=True)
class Pool:
    """A limit over some of the items: at most so many groups of them, or so many of their units."""

    members: frozenset[int]
    most_groups: int | None = None
    most_units: int | None = None


@dataclass(frozen=True)
class GroupingRules:
    """What a grouping keeps: the capacity of a group, pairs of item numbers kept apart, pools, costs."""

    capacity: int | None = None
    conflicts: frozenset[frozenset[int]] = frozenset()
    pools: tuple[Pool, ...] = ()
    costs: Costs = Costs()


@dataclass(frozen=True)
class Grouping:
    """Groups and left-out items by item number; the cost paid, the bound proven, the relative gap."""

    groups: tuple[tuple[int, ...], ...]
    left_out: tuple[int, ...]
    cost: float
    bound: float
    gap: float


def group(items: Sequence[Groupable], rules: GroupingRules = GroupingRules(), time_limit_s: float = 10.0) -> Grouping:
    """The cheapest grouping under the rules.

    Each group is named by the first of its members (lone items come last), so no two solutions differ
    by numbering alone. Raises `AlarmProblem` when nothing was found within the time.
    Reference: asymmetric representatives formulation of colouring (Campêlo, Corrêa, Frota 2008), from memory.
    """
    order = sorted(range(len(items)), key=lambda number: (items[number].alone, number))
    program = IntegerProgram()
    member = _members(program, items, order, rules)
    dropped = {j: program.choice(items[j].drop_cost) for j in order}
    for j in order:
        program.row({dropped[j]: 1.0} | {x: 1.0 for (_, k), x in member.items() if k == j}, 1, 1)
    for first in order:
        own = member[first, first]
        others = {j: x for (i, j), x in member.items() if i == first and j != first}
        _open(program, own, others, items, rules.capacity, items[first].size)
        _pay_mixture(program, first, others, items, rules.costs)
    _forbid(program, rules.conflicts, order, member)
    _limit(program, items, rules.pools, member)
    return _read(program.solve(time_limit_s), order, member, dropped)


_Members = dict[tuple[int, int], int]


def _members(
    program: IntegerProgram, items: Sequence[Groupable], order: Sequence[int], rules: GroupingRules
) -> _Members:
    """A choice for each pair (first of the group, member) that may be together."""
    member = {(j, j): program.choice(rules.costs.group) for j in order}
    for i, j in combinations(order, 2):
        if items[i].kind == items[j].kind and frozenset((i, j)) not in rules.conflicts:
            member[i, j] = program.choice(rules.costs.alone if items[j].alone else 0)
    return member


def _open(
    program: IntegerProgram,
    own: int,
    others: dict[int, int],
    items: Sequence[Groupable],
    capacity: int | None,
    first_size: int,
) -> None:
    """Members only where the group is open, and within its capacity."""
    for x in others.values():
        program.implies(x, own)
    if capacity is not None:
        sizes = {x: float(items[j].size) for j, x in others.items()}
        program.row(sizes | {own: float(first_size - capacity)}, highest=0)


def _pay_mixture(
    program: IntegerProgram, first: int, others: dict[int, int], items: Sequence[Groupable], costs: Costs
) -> None:
    """Each further room and each further floor of the group is paid once."""
    for place, cost in (("room", costs.room), ("floor", costs.floor)):
        paid: dict[str, int] = {}
        for j, x in others.items():
            name = getattr(items[j], place)
            if name != getattr(items[first], place):
                if name not in paid:
                    paid[name] = program.choice(cost, integer=False)
                program.implies(x, paid[name])


def _forbid(
    program: IntegerProgram, conflicts: frozenset[frozenset[int]], order: Sequence[int], member: _Members
) -> None:
    """No group holds both items of a conflict."""
    for a, b in sorted(tuple(sorted(pair)) for pair in conflicts):
        for first in order:
            if first not in {a, b} and (first, a) in member and (first, b) in member:
                both = {member[first, a]: 1.0, member[first, b]: 1.0}
                program.row(both | {member[first, first]: -1.0}, highest=0)


def _limit(program: IntegerProgram, items: Sequence[Groupable], pools: Sequence[Pool], member: _Members) -> None:
    """The pools' limits: groups are counted by their first member, units by every member."""
    for pool in pools:
        if pool.most_groups is not None:
            program.at_most((member[j, j] for j in sorted(pool.members)), pool.most_groups)
        if pool.most_units is not None:
            units = {x: float(items[j].units) for (_, j), x in member.items() if j in pool.members}
            program.row(units, highest=pool.most_units)


def _read(solution: Solution, order: Sequence[int], member: _Members, dropped: dict[int, int]) -> Grouping:
    """The groups that a solution describes, in item order."""
    groups = tuple(
        tuple(sorted(j for (i, j), x in member.items() if i == first and solution.chosen(x)))
        for first in order
        if solution.chosen(member[first, first])
    )
    left_out = tuple(sorted(j for j, x in dropped.items() if solution.chosen(x)))
    return Grouping(tuple(sorted(groups)), left_out, solution.objective, solution.bound, solution.gap)
