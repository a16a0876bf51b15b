"""The faults a proof runs through: none, each single one, each two at once."""

from collections.abc import Iterator
from itertools import combinations
from typing import Literal

from alarmlib.model.home import Home
from alarmlib.proof.faults.fault import NONE, Fault, FaultMasks, Outlets, both
from alarmlib.proof.faults.single_faults import nothing_broken, outlets_of, single_faults

__all__ = ["NONE", "Fault", "FaultMasks", "How", "faults_of", "pairs"]

How = Literal["none", "single", "pairs"]


def faults_of(home: Home, how: How = "single") -> tuple[Fault, ...]:
    """The faults in a fixed order; the first is no fault (id "none"), the singles follow, then the pairs.

    The first is `NONE` itself unless no sounder is fitted or nobody is told, which its flags and sentence say.
    Our own list.
    """
    outlets = outlets_of(home)
    nothing = nothing_broken(outlets)
    if how == "none":
        return (nothing,)
    singles = single_faults(home, outlets)
    if how == "single":
        return (nothing, *singles)
    return (nothing, *singles, *_pairs(singles, outlets))


def pairs(home: Home) -> Iterator[Fault]:
    """Each two single faults at once, made as they are asked for."""
    outlets = outlets_of(home)
    return _pairs(single_faults(home, outlets), outlets)


def _pairs(singles: tuple[Fault, ...], outlets: Outlets) -> Iterator[Fault]:
    return (both(first, second, outlets) for first, second in combinations(singles, 2))
