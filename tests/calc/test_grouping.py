"""Fewest groups: published packings and colourings, and brute force on small instances."""

import random
from collections.abc import Iterator
from itertools import combinations

import networkx as nx
import pytest

from alarmlib.calc.zoning.grouping import Costs, Groupable, GroupingRules, Pool, group

COUNT_ONLY = Costs(group=1, room=0, floor=0, alone=0)


def _packed(weights: list[int], capacity: int) -> int:
    items = [Groupable(size=weight, drop_cost=1000) for weight in weights]
    found = group(items, GroupingRules(capacity=capacity, costs=COUNT_ONLY), 60)
    assert found.gap == 0
    assert not found.left_out
    assert all(sum(weights[k] for k in members) <= capacity for members in found.groups)
    return len(found.groups)


@pytest.mark.outside
def test_bin_packing_of_the_solver_manuals() -> None:
    """Widely used manual data (from memory; bound 370/100 rounded up = 4): exactly 4 bins."""
    assert _packed([48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30], 100) == 4


@pytest.mark.outside
def test_first_fit_decreasing_trap() -> None:
    """6×51, 6×27, 6×26, 12×23 in 100: first fit decreasing needs 11, the best is 9 (Johnson's example)."""
    weights = [51] * 6 + [27] * 6 + [26] * 6 + [23] * 12
    assert _first_fit_decreasing(weights, 100) == 11
    assert _packed(weights, 100) == 9


def _first_fit_decreasing(weights: list[int], capacity: int) -> int:
    left: list[int] = []
    for weight in sorted(weights, reverse=True):
        fits = next((k for k, space in enumerate(left) if space >= weight), None)
        if fits is None:
            left.append(capacity - weight)
        else:
            left[fits] -= weight
    return len(left)


# Chromatic numbers, textbook graph theory: C5 3, Petersen 3, Grötzsch (11 nodes, 20 edges) 4.
@pytest.mark.outside
@pytest.mark.parametrize(
    ("graph", "fewest"),
    [(nx.cycle_graph(5), 3), (nx.petersen_graph(), 3), (nx.mycielski_graph(4), 4)],
    ids=["C5", "Petersen", "Grötzsch"],
)
def test_fewest_groups_by_conflicts_is_the_chromatic_number(graph: "nx.Graph", fewest: int) -> None:
    """Fewest zones under conflicts alone is a colouring."""
    conflicts = frozenset(frozenset(edge) for edge in graph.edges)
    items = [Groupable(drop_cost=1000)] * len(graph)
    found = group(items, GroupingRules(conflicts=conflicts, costs=COUNT_ONLY))
    assert (len(found.groups), found.bound, found.gap) == (fewest, fewest, 0)


def test_brute_force_on_small_random_instances() -> None:
    """120 random instances of up to 7 items: the same cost as trying every grouping."""
    draw = random.Random(7)
    for _ in range(120):
        items, rules = _instance(draw)
        found = group(items, rules)
        best = min(_cost(groups, items, rules) for groups in _groupings(range(len(items))))
        assert found.gap == 0
        assert found.cost == best
        chosen = [*found.groups, *((-1, k) for k in found.left_out)]
        assert _cost([tuple(members) for members in chosen], items, rules) == best


def _instance(draw: random.Random) -> tuple[list[Groupable], GroupingRules]:
    count = draw.randint(1, 7)
    items = [
        Groupable(
            kind=draw.choice("ab"),
            size=draw.randint(1, 6),
            units=draw.randint(1, 3),
            room=draw.choice("rst"),
            floor=draw.choice("01"),
            alone=draw.random() < 0.4,
            drop_cost=draw.choice((50, 300, 900)),
        )
        for _ in range(count)
    ]
    pairs = frozenset(frozenset(pair) for pair in combinations(range(count), 2) if draw.random() < 0.2)
    some = frozenset(k for k in range(count) if draw.random() < 0.6)
    pools = (Pool(frozenset(range(count)), most_groups=draw.randint(0, 4)), Pool(some, most_units=5))
    costs = draw.choice((Costs(), Costs(10, 4, 7, 15)))
    return items, GroupingRules(10, pairs, pools, costs)


def _groupings(items: range) -> Iterator[list[tuple[int, ...]]]:
    """Every way to split the items into groups, each also with any of them left out (marked by -1)."""
    if not len(items):
        yield []
        return
    last = items[-1]
    for rest in _groupings(items[:-1]):
        yield [*rest, (-1, last)]
        yield [*rest, (last,)]
        for k, members in enumerate(rest):
            if members[0] >= 0:
                yield [*rest[:k], (*members, last), *rest[k + 1 :]]


def _cost(groups: list[tuple[int, ...]], items: list[Groupable], rules: GroupingRules) -> float:
    """The cost of a grouping written down a second time from its definition; infinite where a rule is broken."""
    cost, placed = 0, {k for members in groups if members[0] >= 0 for k in members}
    for pool in rules.pools:
        held = [members for members in groups if members[0] >= 0 and pool.members.issuperset(members)]
        if pool.most_groups is not None and len(held) > pool.most_groups:
            return float("inf")
        if pool.most_units is not None and sum(items[k].units for k in pool.members & placed) > pool.most_units:
            return float("inf")
    for members in groups:
        if members[0] < 0:
            cost += items[members[1]].drop_cost
            continue
        inside = [items[k] for k in members]
        if len({item.kind for item in inside}) > 1 or any(pair <= set(members) for pair in rules.conflicts):
            return float("inf")
        if len(members) > 1 and rules.capacity is not None and sum(i.size for i in inside) > rules.capacity:
            return float("inf")
        lone = sum(item.alone for item in inside)
        cost += rules.costs.group + rules.costs.alone * (lone - (lone == len(inside)))
        cost += rules.costs.room * (len({item.room for item in inside}) - 1)
        cost += rules.costs.floor * (len({item.floor for item in inside}) - 1)
    return cost


def test_nothing_to_group() -> None:
    """No items, no groups, proven."""
    found = group([])
    assert (found.groups, found.left_out, found.gap) == ((), (), 0)
