"""Set cover and maximum coverage against known optima and brute force."""

from itertools import combinations, product
from random import Random

import pytest
from plain_covers import alone_covered, least_cover, most_covered

pytestmark = pytest.mark.outside


def plane_lines(points, dimension, field):
    """The lines of an affine space over a prime field, as sets of points."""
    directions = [d for d in product(range(field), repeat=dimension) if any(d)]
    lines = set()
    for point in points:
        for d in directions:
            steps = ([(p + k * x) % field for p, x in zip(point, d, strict=True)] for k in range(field))
            lines.add(frozenset(map(tuple, steps)))
    return lines


def blocking(lines):
    """The least set of points that meets every line: a cover of lines by points."""
    points = sorted({point for line in lines for point in line})
    covers = {str(point): frozenset(str(sorted(line)) for line in lines if point in line) for point in points}
    return least_cover(covers, dict.fromkeys(covers, 1), frozenset(str(sorted(line)) for line in lines))


FANO = [frozenset(line) for line in ((1, 2, 3), (1, 4, 5), (1, 6, 7), (2, 4, 6), (2, 5, 7), (3, 4, 7), (3, 5, 6))]


def projective_lines():
    """PG(3, 2): 15 points, 35 lines: any two points and their sum modulo 2."""
    points = [p for p in product(range(2), repeat=4) if any(p)]
    return {
        frozenset({a, b, tuple((x + y) % 2 for x, y in zip(a, b, strict=True))}) for a, b in combinations(points, 2)
    }


@pytest.mark.parametrize(
    ("lines", "least"),
    [
        (FANO, 3),  # a line of the Fano plane blocks all lines; two points cannot (textbook, computed in the reference)
        (plane_lines(list(product(range(3), repeat=2)), 2, 3), 5),  # AG(2,3), "stein9" of Fulkerson and others 1974
        (plane_lines(list(product(range(3), repeat=3)), 3, 3), 18),  # AG(3,3), "stein27": 27 less the largest cap of 9
        (projective_lines(), 7),  # PG(3,2): a plane of 7 points
    ],
    ids=["fano", "stein9", "stein27", "pg32"],
)
def test_least_blocking_sets(lines, least):
    """Source: the reference's row 13 and section 2; a plane or line is the witness, the bound proves the rest."""
    found = blocking(lines)
    assert (found.cost, found.bound, found.proven) == (least, least, True)
    assert len(found.chosen) == least


def random_instance(seed):
    draw = Random(seed)
    things = [f"t{n}" for n in range(draw.randint(4, 9))]
    covers = {f"c{n}": frozenset(draw.sample(things, draw.randint(1, 4))) for n in range(draw.randint(4, 9))}
    costs = {name: draw.randint(1, 30) for name in covers}
    return covers, costs, frozenset(things)


def brute(covers, costs, wanted):
    able = wanted & frozenset().union(*covers.values())
    best = min(
        sum(costs[name] for name in chosen)
        for size in range(len(covers) + 1)
        for chosen in combinations(covers, size)
        if able <= frozenset().union(*(covers[name] for name in chosen))
    )
    return best, wanted - able


@pytest.mark.parametrize("seed", range(40))
def test_cheapest_is_what_brute_force_finds(seed):
    """Source: every subset tried."""
    covers, costs, wanted = random_instance(seed)
    found = least_cover(covers, costs, wanted)
    assert (found.cost, found.left) == brute(covers, costs, wanted)
    assert found.proven
    assert wanted - found.left <= frozenset().union(*(covers[name] for name in found.chosen))


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("most", [1, 2, 3])
def test_most_covered_is_what_brute_force_finds(seed, most):
    """Source: every subset tried."""
    covers, _, wanted = random_instance(seed)
    best = max(
        len(wanted & frozenset().union(*(covers[name] for name in chosen))) for chosen in combinations(covers, most)
    )
    count, chosen = most_covered(covers, wanted, most)
    assert count == best == len(wanted & frozenset().union(*(covers[name] for name in chosen)))
    assert len(chosen) <= most


@pytest.mark.parametrize("seed", range(10))
def test_covered_twice_takes_at_least_as_much(seed):
    covers, costs, wanted = random_instance(seed)
    once, twice = least_cover(covers, costs, wanted), least_cover(covers, costs, wanted, each=2)
    assert twice.cost >= once.cost
    for thing in wanted - twice.left:
        able = sum(thing in covered for covered in covers.values())
        assert sum(thing in covers[name] for name in twice.chosen) >= min(2, able)


def test_what_each_alone_covers():
    covers = {"a": frozenset("xy"), "b": frozenset("yz"), "c": frozenset("z")}
    alone = alone_covered(covers, ["a", "b", "c"], frozenset("xyz"))
    assert alone == {"a": frozenset("x"), "b": frozenset(), "c": frozenset()}
