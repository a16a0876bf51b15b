"""The fewest or cheapest choice that covers all that must be covered, exactly, with the bound that proves it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from alarmlib.calc.integer_program import IntegerProgram

Covers = Mapping[str, frozenset[str]]
"""What each choice covers, by its id."""


@dataclass(frozen=True)
class Cover:
    """The choices taken, what they cost in whole units, the bound proven, and what none of the choices can cover."""

    chosen: tuple[str, ...]
    cost: int
    bound: int
    proven: bool
    left: frozenset[str]


def least_cover(covers: Covers, costs: Mapping[str, int], wanted: frozenset[str], each: int = 1) -> Cover:
    """The choice of least cost that covers everything wanted `each` times over, as far as that can be.

    What fewer than `each` choices cover is asked of as many as there are; what none covers is in `left`.
    Reference: set cover by branch and bound (`scipy.optimize.milp`), known optima in the tests.
    """
    program = IntegerProgram()
    number = {choice: program.choice(costs[choice]) for choice in covers}
    left = []
    for thing in sorted(wanted):
        able = [number[choice] for choice, covered in covers.items() if thing in covered]
        if able:
            program.row(dict.fromkeys(able, 1.0), lowest=min(each, len(able)))
        else:
            left.append(thing)
    found = program.solve()
    chosen = tuple(choice for choice, n in number.items() if found.chosen(n))
    return Cover(chosen, round(found.objective), round(found.bound), found.proven, frozenset(left))


def most_covered(covers: Covers, wanted: frozenset[str], most: int) -> tuple[int, tuple[str, ...]]:
    """How many of the wanted things `most` choices can cover at best, and one such choice.

    Reference: maximum coverage by branch and bound (`scipy.optimize.milp`).
    """
    program = IntegerProgram()
    number = {choice: program.choice() for choice in covers}
    for thing in sorted(wanted):
        met = program.choice(-1)
        able = {number[choice]: -1.0 for choice, covered in covers.items() if thing in covered}
        program.row({met: 1.0, **able}, highest=0)
    program.at_most(number.values(), most)
    found = program.solve()
    return round(-found.objective), tuple(choice for choice, n in number.items() if found.chosen(n))


def alone_covered(covers: Covers, chosen: Sequence[str], wanted: frozenset[str]) -> dict[str, frozenset[str]]:
    """For each choice what no other chosen one covers.

    Reference: computed here.
    """
    return {
        choice: (covers[choice] & wanted).difference(*(covers[other] for other in chosen if other != choice))
        for choice in chosen
    }
