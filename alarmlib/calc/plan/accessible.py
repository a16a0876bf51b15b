"""Which openings a person outside can reach, and from where.

Only the distances of UL 1641 18.1 and 18.2 were seen; its angle rule (45°, 90°, 150°) was not,
so distance alone decides here, which counts an opening as reachable rather too often than too seldom.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from math import dist, floor

from alarmlib.units import rounded

OpeningSpot = tuple[str, tuple[float, float]]  # storey, and where on its plan in m
REACH_M = 3.7  # 12 ft
LEDGE_M = 1.2  # 4 ft


@dataclass(frozen=True)
class Height:
    """How high an opening's lower edge lies above what somebody may stand on; None where it isn't known.

    `ledges` are (height above it in m, its width in m) of each roof, ledge or balcony below.
    """

    opening: str
    above_ground_m: float | None
    ledges: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class WithinReach:
    """An opening within reach, why, and from which opening it was passed on ("": ground or ledge)."""

    opening: str
    why: str
    passed_on_from: str = ""


def reachable(heights: Iterable[Height], spots: Mapping[str, OpeningSpot] | None = None) -> tuple[WithinReach, ...]:
    """The openings within reach, nearest to the ground first; unknown heights count as within reach.

    `spots` say where openings are; one that has none is taken as far from all others.
    Reference: UL 1641 18.1 and 18.2, distances seen, angle rule not seen (`ul1641_reach`); the ground is
    taken like a ledge.
    """
    named = {height.opening: height for height in heights}
    found = {name: WithinReach(name, why) for name, height in named.items() if (why := _why_within_reach(height))}
    spots = spots or {}
    left = _Left({name: spots[name] for name in named if name not in found and name in spots})
    waiting = deque(found)
    passed: set[OpeningSpot] = set()
    while waiting:
        source = waiting.popleft()
        spot = spots.get(source)
        if spot is None or spot in passed:
            continue
        passed.add(spot)
        for name, distance_m in left.taken_near(spot):
            found[name] = WithinReach(name, f"{rounded(distance_m)} m from an opening within reach", source)
            waiting.append(name)
    return tuple(found.values())


class _Left:
    """Openings not found yet, in squares as wide as somebody reaches, so that only the squares around are looked at."""

    def __init__(self, spots: Mapping[str, OpeningSpot]) -> None:
        self._order = {name: number for number, name in enumerate(spots)}
        self._squares: dict[tuple[str, int, int], dict[OpeningSpot, list[str]]] = {}
        for name, spot in spots.items():
            self._squares.setdefault(_square(spot), {}).setdefault(spot, []).append(name)

    def taken_near(self, spot: OpeningSpot) -> list[tuple[str, float]]:
        """Those within reach of a spot, in their order, with their distance in m; from now on they are found."""
        storey, across, along = _square(spot)
        near: list[tuple[str, float]] = []
        for square in product((storey,), range(across - 1, across + 2), range(along - 1, along + 2)):
            there = self._squares.get(square, {})
            for other in list(there):
                distance_m = dist(spot[1], other[1])
                if distance_m <= REACH_M:
                    near += [(name, distance_m) for name in there.pop(other)]
        return sorted(near, key=lambda each: self._order[each[0]])


def _square(spot: OpeningSpot) -> tuple[str, int, int]:
    storey, (across, along) = spot
    return storey, floor(across / REACH_M), floor(along / REACH_M)


def _why_within_reach(height: Height) -> str:
    """Why the opening can be reached from the ground or a ledge; "" when it can't."""
    if height.above_ground_m is None:
        return "height not known"
    if height.above_ground_m <= REACH_M:
        return f"{rounded(height.above_ground_m)} m above the ground"
    wide = [above_m for above_m, width_m in height.ledges if width_m >= LEDGE_M and above_m <= REACH_M]
    return f"{rounded(min(wide))} m above a ledge or roof" if wide else ""
