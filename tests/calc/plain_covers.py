"""Plain set cover: the fewest or cheapest choice that covers all that must be covered, with its proven bound."""

from collections.abc import Iterable, Mapping, Sequence
from math import inf

from alarmlib.calc.choosing.needs import Cover, Need, alone_met, least_choice, most_met

Covers = Mapping[str, frozenset[str]]
"""What each choice covers, by its id."""


def plain_needs(covers: Covers, wanted: Iterable[str], each: int = 1) -> tuple[Need, ...]:
    """A need for each target: `each` of the choices that cover it, or all of them where there are fewer.

    Reference: set cover with multiplicity, textbook.
    """
    needs = []
    for target in sorted(wanted):
        able = frozenset(choice for choice, covered in covers.items() if target in covered)
        needs.append(Need(target, 1, ((1, able),), max(1, min(each, len(able)))))
    return tuple(needs)


def least_cover(covers: Covers, costs: Mapping[str, int], wanted: frozenset[str], each: int = 1) -> Cover:
    """The choice of least cost that covers everything wanted `each` times over, as far as that can be.

    What fewer than `each` choices cover is asked of as many as there are; what none covers is in `left`. It takes as
    long as it takes: a slow machine proves no less.
    Reference: set cover by branch and bound (`scipy.optimize.milp`), known optima in the tests.
    """
    return least_choice(plain_needs(covers, wanted, each), costs, time_limit_s=inf)


def most_covered(covers: Covers, wanted: frozenset[str], most: int) -> tuple[int, tuple[str, ...]]:
    """How many of the wanted targets `most` choices can cover at best, and one such choice.

    Reference: maximum coverage by branch and bound (`scipy.optimize.milp`).
    """
    return most_met(plain_needs(covers, wanted), covers, most)


def alone_covered(covers: Covers, chosen: Sequence[str], wanted: frozenset[str]) -> dict[str, frozenset[str]]:
    """For each choice what no other chosen one covers."""
    return alone_met(plain_needs(covers, wanted), chosen)
