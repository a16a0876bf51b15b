"""Rooms like combs need a guard for each prong; the least cover lies between what is relaxed and what is greedy."""

from itertools import combinations
from math import ceil, log
from random import Random

import numpy as np
import pytest
from plain_covers import Covers, least_cover
from scipy.optimize import linprog
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from alarmlib.calc.choosing.needs import Need, least_choice
from alarmlib.calc.coverage.areas import Eye, Outline, view_from
from alarmlib.calc.coverage.view_lines import Blocks, inside
from alarmlib.calc.plan.floor_plan import Point
from alarmlib.model.shapes import edges

pytestmark = pytest.mark.outside
SLIVER_M2 = 1e-3  # places on walls are looked at from a thousandth of a millimetre inside


def pointed_comb(prongs: int) -> Outline:
    """A comb of n = 3k corners: a bar of 1 m, and upon it k pointed prongs 4 m apart; the outer sides run straight."""
    top = [
        corner for n in reversed(range(prongs)) for corner in ((4.0 * n + 2, 1.0), (4.0 * n + 1, 20.0), (4.0 * n, 1.0))
    ]
    return ((0.0, 0.0), (4.0 * prongs - 2, 0.0), *top[1:-1])


def square_comb(prongs: int) -> Outline:
    """An orthogonal comb of n = 4k corners: a bar of 1 m, and upon it k prongs of 1 m by 19 m, 4 m apart."""
    top = [
        corner
        for n in reversed(range(prongs))
        for corner in ((4.0 * n + 1, 1.0), (4.0 * n + 1, 20.0), (4.0 * n, 20.0), (4.0 * n, 1.0))
    ]
    return ((0.0, 0.0), (4.0 * prongs - 3, 0.0), *top[1:-1])


def seen_by(at: Point, outline: Outline) -> BaseGeometry:
    """All that somebody at a place of the gallery sees, all round and as far as walls allow."""
    eye = Eye("guard", "gallery", "g", inside(at, outline), 2.0, 0.0, 360.0, 200.0, 200.0, 200.0, 0.0)
    return view_from(eye, Blocks(tuple(edges(outline)), ()), 1.0, eye.range_m, eye.angle_deg)


def gallery(outline: Outline, guards: list[Point]) -> tuple[dict[str, BaseGeometry], Need]:
    """What each place sees, and the need to see all of the gallery, in pieces by the places that see them."""
    views = {str(n): seen_by(at, outline) for n, at in enumerate(guards)}
    pieces: list[tuple[BaseGeometry, frozenset[str]]] = [(Polygon(outline), frozenset())]
    for name, view in views.items():
        cut = [(piece.intersection(view), by | {name}) for piece, by in pieces]
        cut += [(piece.difference(view), by) for piece, by in pieces]
        pieces = [(piece, by) for piece, by in cut if piece.area > SLIVER_M2]
    parts = tuple((piece.area, by) for piece, by in pieces)
    return views, Need("all", sum(area for area, _ in parts), parts)


# Art gallery theorem: floor(n/3) guards suffice and combs need them (Chvátal 1973); floor(n/4) for orthogonal ones
# (Kahn, Klawe and Kleitman 1983). Both as restated in arXiv 2201.03535, which was seen.
@pytest.mark.parametrize(
    ("outline", "corners", "prongs"),
    [(pointed_comb(k), 3 * k, k) for k in range(2, 6)] + [(square_comb(k), 4 * k, k) for k in range(2, 5)],
)
def test_a_comb_needs_a_guard_for_each_prong(outline: Outline, corners: int, prongs: int) -> None:
    """As many as there are prongs: that many places see all of it, and no place sees into two tips."""
    assert len(outline) == corners
    side_m = 1.0 if corners == 3 * prongs else 0.5
    tips = [(4.0 * n + side_m, 20.0) for n in range(prongs)]
    guards = [*tips, *((x, y) for x, _ in tips for y in (0.5, 5.0)), outline[0], outline[1]]
    views, need = gallery(outline, guards)
    found = least_choice([need], dict.fromkeys(views, 1))
    assert (found.cost, found.bound, found.proven, found.left) == (prongs, prongs, True, frozenset())
    watched = unary_union([views[guard] for guard in found.chosen])
    assert Polygon(outline).difference(watched).area < SLIVER_M2 * len(guards)
    seen = [views[str(n)] for n in range(prongs)]
    assert all(one.intersection(other).area < SLIVER_M2 for one, other in combinations(seen, 2))


def test_a_room_seen_from_one_corner_needs_one() -> None:
    """The limiting case: where some corner sees all, one does."""
    outline = ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0))
    views, need = gallery(outline, [(6.0, 0.0), (0.0, 0.0), (0.0, 6.0)])
    assert least_choice([need], dict.fromkeys(views, 1)).chosen == ("1",)


def some_sets(seed: int) -> tuple[Covers, frozenset[str]]:
    """A small cover drawn by chance; every target is in some set."""
    random = Random(seed)
    things = [f"t{n}" for n in range(random.randint(4, 12))]
    sets = {f"s{n}": frozenset(random.sample(things, random.randint(1, 4))) for n in range(random.randint(4, 10))}
    sets["rest"] = frozenset(things).difference(*sets.values()) | {things[0]}
    return sets, frozenset(things)


def relaxed(covers: Covers, wanted: frozenset[str]) -> float:
    """The least sum when sets may be taken in part: a bound from below."""
    rows = [[-float(thing in covers[name]) for name in covers] for thing in wanted]
    return float(linprog(np.ones(len(covers)), A_ub=rows, b_ub=-np.ones(len(wanted)), bounds=(0, 1)).fun)


def greedy(covers: Covers, wanted: frozenset[str]) -> int:
    """How many sets are taken when each time the one that covers most of the rest is taken."""
    rest, taken = set(wanted), 0
    while rest:
        rest -= max(covers.values(), key=lambda covered: len(covered & rest))
        taken += 1
    return taken


@pytest.mark.parametrize("seed", range(40))
def test_the_least_lies_between_the_relaxed_and_the_greedy(seed: int) -> None:
    """Relaxed ≤ least ≤ greedy ≤ (1 + ln d) · relaxed, d the size of the largest set (Chvátal 1979, from memory)."""
    covers, wanted = some_sets(seed)
    least = least_cover(covers, dict.fromkeys(covers, 1), wanted).cost
    low, high = relaxed(covers, wanted), greedy(covers, wanted)
    assert ceil(low - 1e-6) <= least <= high
    assert high <= (1 + log(max(map(len, covers.values())))) * low + 1e-6
