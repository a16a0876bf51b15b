"""Needs met part by part: against every subset on small instances, sharing out, ties and what cannot be met."""

from itertools import chain, combinations
from random import Random

import pytest

from alarmlib.calc.choosing.needs import Need, alone_met, least_choice, met_needs, most_by_count, most_met


def some_needs(seed: int) -> tuple[tuple[Need, ...], dict[str, int]]:
    """A few needs of a few parts each, some twice over, and choices with prices, drawn by chance."""
    random = Random(seed)
    names = [f"c{n}" for n in range(random.randint(3, 8))]
    needs = []
    for number in range(random.randint(1, 5)):
        parts = tuple(
            (random.randint(1, 9) / 2, frozenset(random.sample(names, random.randint(0, min(3, len(names))))))
            for _ in range(random.randint(1, 4))
        )
        least = random.uniform(0.3, 1.0) * sum(weight for weight, _ in parts)
        needs.append(Need(f"n{number}", least, parts, random.choice((1, 1, 2))))
    return tuple(needs), {name: random.randint(100, 9900) for name in names}


def subsets(names: dict[str, int]) -> list[tuple[str, ...]]:
    """Every choice of any size."""
    return list(chain.from_iterable(combinations(names, size) for size in range(len(names) + 1)))


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(60))
def test_the_least_is_what_trying_every_subset_finds(seed: int) -> None:
    """Source: every subset tried. Cost, bound, what is left, and that what is taken meets the rest."""
    needs, costs = some_needs(seed)
    able = met_needs(needs, tuple(costs))
    best = min(sum(costs[c] for c in chosen) for chosen in subsets(costs) if able <= met_needs(needs, chosen))
    found = least_choice(needs, costs)
    assert (found.cost, found.bound, found.proven, found.gap) == (best, best, True, 0)
    assert found.left == {need.target for need in needs} - able
    assert able <= met_needs(needs, found.chosen)
    assert sum(costs[choice] for choice in found.chosen) == best


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(60))
def test_the_most_for_each_number_is_what_trying_every_subset_finds(seed: int) -> None:
    """Source: every subset tried; solved at once and shared out among groups, the numbers are the same."""
    needs, costs = some_needs(seed)
    best = [max(len(met_needs(needs, c)) for c in subsets(costs) if len(c) <= most) for most in range(1, 6)]
    assert list(most_by_count(needs, costs, 5)) == best
    for most, expected in enumerate(best, 1):
        count, chosen = most_met(needs, costs, most)
        assert count == expected == len(met_needs(needs, chosen))
        assert len(chosen) <= most


def test_two_that_see_part_of_a_room_watch_it_together() -> None:
    """Neither sees half of it alone; with what both see counted once, both are needed and enough."""
    room = Need("room", 5, ((3, frozenset("a")), (1, frozenset("ab")), (3, frozenset("b")), (3, frozenset())))
    assert not room.met_by("a")
    assert room.met_by("ab")
    assert room.weight("ab") == 7
    assert least_choice([room], {"a": 1, "b": 1}).chosen == ("a", "b")


def test_among_equals_the_second_price_decides() -> None:
    """Of two that do alike, the one of lesser second price is taken, and the first cost stays what it was."""
    need = Need("door", 1, ((1, frozenset("ab")),))
    assert least_choice([need], {"a": 7, "b": 7}, {"a": 1, "b": 0}).chosen == ("b",)
    assert least_choice([need], {"a": 7, "b": 7}, {"a": 0, "b": 1}).chosen == ("a",)
    assert least_choice([need], {"a": 6, "b": 7}, {"a": 1, "b": 0}).chosen == ("a",)


def test_what_nothing_can_meet_is_left() -> None:
    """A need too large for all choices together is named, and nothing is spent on it."""
    needs = [Need("large", 3, ((2, frozenset("a")), (1, frozenset()))), Need("small", 1, ((1, frozenset("b")),))]
    found = least_choice(needs, {"a": 5, "b": 4})
    assert (found.chosen, found.cost, found.left) == (("b",), 4, frozenset({"large"}))
    assert most_by_count(needs, "ab", 2) == (1, 1)


def test_nothing_is_needed_of_nothing() -> None:
    """No needs and no choices: an empty set, proven."""
    for costs in ({}, {"a": 3}):
        found = least_choice([], costs)
        assert (found.chosen, found.cost, found.proven, found.left) == ((), 0, True, frozenset())
    assert most_by_count([], (), 0) == ()


def test_what_each_alone_meets() -> None:
    """Two doors and a room: what is lost with each one."""
    needs = [
        Need("one", 1, ((1, frozenset("a")),)),
        Need("two", 1, ((1, frozenset("ab")),)),
        Need("room", 2, ((1, frozenset("b")), (1, frozenset("c")))),
    ]
    alone = alone_met(needs, ("a", "b", "c"))
    assert alone == {"a": {"one"}, "b": {"room"}, "c": {"room"}}
