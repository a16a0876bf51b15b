"""Which detectors cover what must be covered: the fewest and the cheapest set, proven, and what each detector adds."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import fsum
from typing import TYPE_CHECKING

from alarmlib.calc.choosing.device_candidates import LEAST_SHARE, Candidate, candidates, needs
from alarmlib.calc.choosing.needs import Cover, Need, alone_met, least_choice, met_needs, missed_without, most_by_count
from alarmlib.model.asked import asked
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.devices import Device
    from alarmlib.model.home import Home


@dataclass(frozen=True)
class DeviceChoice:
    """The best sets from nothing, what is missing beside what is there, and what each device adds.

    Targets are "opening:ID", "glass:ID" and "room:ID" (see `Candidate`). `missing` is the cheapest set beside what is
    there, or the one of fewest where a price is missing; `alone` names for each detector there what would be left
    uncovered without it; `most_by_count` how many targets 1, 2, 3 ... detectors cover at best. `cheapest` takes no
    kind of `unpriced`, and is None where that leaves something uncovered.
    """

    wanted: frozenset[str]
    needs: tuple[Need, ...]
    candidates: tuple[Candidate, ...]
    fewest: Cover
    cheapest: Cover | None
    missing: Cover
    uncovered_now: frozenset[str]
    most_by_count: tuple[tuple[int, int], ...]
    alone: Mapping[str, frozenset[str]]
    unpriced: tuple[DeviceKind, ...]

    def candidate(self, name: str) -> Candidate:
        """The candidate of that id."""
        return next(each for each in self.candidates if each.id == name)

    def added(self, name: str, chosen: Iterable[str]) -> frozenset[str]:
        """What a candidate of a set covers by itself, or only together with others of the set."""
        return self.candidate(name).covers | missed_without(self.needs, tuple(chosen), name)

    def takes_part(self, name: str) -> frozenset[str]:
        """What a candidate covers at least a part of."""
        return frozenset(need.target for need in self.needs if any(name in by for _, by in need.parts))


@dataclass(frozen=True)
class _Asked:
    """What the search for a choice reads: needs, candidates in order with their price in hundredths, those there."""

    needs: tuple[Need, ...]
    prices: tuple[tuple[str, int | None], ...]
    there: tuple[str, ...]


@asked
def choose(home: "Home", least_share: float = LEAST_SHARE) -> DeviceChoice:
    """The choice of detectors for a home. Raises AlarmProblem when no set is found in time.

    Detectors that are there are taken first among equal ones. `least_share` of a room's floor makes it watched.
    Reference: set cover, exact, textbook.
    """
    found = candidates(home)
    wanted = needs(home, found, least_share)
    able = frozenset[str]().union(*(by for need in wanted for _, by in need.parts))
    found = tuple(replace(each, covers=met_needs(wanted, (each.id,))) for each in found)
    cents = {price.kind: round(100 * price.price) for price in home.prices}
    prices = tuple((each.id, cents.get(each.kind)) for each in found if each.id in able)
    there = tuple(each.id for each in found if each.device)
    fewest, cheapest, missing, most = _solved(home, _Asked(wanted, prices, there))
    unpriced = sorted({each.kind for each in found if each.id in able and each.kind not in cents})
    return DeviceChoice(
        wanted=frozenset(need.target for need in wanted),
        needs=wanted,
        candidates=found,
        fewest=fewest,
        cheapest=cheapest,
        missing=missing,
        uncovered_now=frozenset(need.target for need in wanted) - met_needs(wanted, there),
        most_by_count=most,
        alone=alone_met(wanted, there),
        unpriced=tuple(unpriced),
    )


@asked
def _solved(_home: "Home", of: _Asked) -> tuple[Cover, Cover | None, Cover, tuple[tuple[int, int], ...]]:
    """The set of fewest, the cheapest, what is missing beside what is there, the most that each number covers."""
    prices = {name: price for name, price in of.prices if price is not None}
    ones = {name: 1 for name, _ in of.prices}
    new = {name: int(name not in of.there) for name in ones}
    fewest = least_choice(of.needs, ones, new)
    cheapest = least_choice(of.needs, prices, {name: 1 + new[name] for name in prices})
    met = met_needs(of.needs, of.there)
    left = tuple(_beside(need, of.there) for need in of.needs if need.target not in met)
    to_buy = prices if len(prices) == len(ones) else ones
    missing = least_choice(left, {name: to_buy[name] for name in ones if new[name]}, ones)
    most = tuple(enumerate(most_by_count(of.needs, ones, len(fewest.chosen)), 1))
    return fewest, cheapest if cheapest.left == fewest.left else None, missing, most


def _beside(need: Need, there: Iterable[str]) -> Need:
    """What is left of a need beside the detectors that are there."""
    taken = frozenset(there)
    parts = tuple((weight, by) for weight, by in need.parts if not by & taken)
    return Need(need.target, need.least - need.weight(taken), parts)


def parts_list(home: "Home", devices: Iterable["Device"]) -> tuple[tuple[DeviceKind, int, float | None], ...]:
    """How many of each kind, and what they cost together by the owner's prices; None where a price is missing.

    A device's own price comes before the price of its kind.
    Reference: the owner's own prices.
    """
    prices = {price.kind: price.price for price in home.prices}
    costs: dict[DeviceKind, list[float | None]] = {}
    for device in devices:
        own = prices.get(device.kind) if device.price is None else device.price
        costs.setdefault(device.kind, []).append(own)
    return tuple((kind, len(each), _total(each)) for kind, each in sorted(costs.items()))


def _total(costs: Iterable[float | None]) -> float | None:
    known = list(costs)
    return None if None in known else fsum(cost for cost in known if cost is not None)
