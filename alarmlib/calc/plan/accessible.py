"""Which openings a person outside can reach, and from where.

Only the distances of UL 1641 18.1 and 18.2 were seen; its angle rule (45°, 90°, 150°) was not,
so distance alone decides here, which counts an opening as reachable rather too often than too seldom.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from alarmlib.units import rounded

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


def reachable(
    heights: Iterable[Height], apart_m: Mapping[tuple[str, str], float] | None = None
) -> tuple[WithinReach, ...]:
    """The openings within reach, nearest to the ground first; unknown heights count as within reach.

    `apart_m` gives the distance of two openings, either way round; pairs left out are taken as far apart.
    Reference: UL 1641 18.1 and 18.2, distances seen, angle rule not seen (`ul1641_reach`); the ground is
    taken like a ledge.
    """
    named = {height.opening: height for height in heights}
    found = {name: WithinReach(name, why) for name, height in named.items() if (why := _why_within_reach(height))}
    near = _neighbours(apart_m or {})
    waiting = deque(found)
    while waiting:
        source = waiting.popleft()
        for name, distance_m in near.get(source, ()):
            if name in named and name not in found:
                why = f"{rounded(distance_m)} m from an opening within reach"
                found[name] = WithinReach(name, why, source)
                waiting.append(name)
    return tuple(found.values())


def _why_within_reach(height: Height) -> str:
    """Why the opening can be reached from the ground or a ledge; "" when it can't."""
    if height.above_ground_m is None:
        return "height not known"
    if height.above_ground_m <= REACH_M:
        return f"{rounded(height.above_ground_m)} m above the ground"
    wide = [above_m for above_m, width_m in height.ledges if width_m >= LEDGE_M and above_m <= REACH_M]
    return f"{rounded(min(wide))} m above a ledge or roof" if wide else ""


def _neighbours(apart_m: Mapping[tuple[str, str], float]) -> dict[str, list[tuple[str, float]]]:
    near: dict[str, list[tuple[str, float]]] = {}
    for (one, other), distance_m in apart_m.items():
        if distance_m <= REACH_M:
            near.setdefault(one, []).append((other, distance_m))
            near.setdefault(other, []).append((one, distance_m))
    return near
