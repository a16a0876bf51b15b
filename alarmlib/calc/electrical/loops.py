"""What a supervised loop shows the unit in each state: shares of its voltage, worst-case bands, thresholds.

The unit pulls the loop up through `pull_up_ohm`; what it reads is the share RL / (RL + Ru) of its own voltage, so
the supply's ripple cancels. Everything in Ω; a share is 0 (short) to 1 (cut).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import inf, sqrt

from alarmlib.errors import AlarmProblem
from alarmlib.model.circuits import Ending

CABLE_OFF = 0.2  # share by which a cable's length or Ω/km may differ from what was entered; common practice


class Made(StrEnum):
    """What a unit makes of a loop."""

    SHORT = "short"
    QUIET = "quiet"
    TRIPPED = "tripped"
    CUT = "cut"


@dataclass(frozen=True)
class Loop:
    """A wired loop: how it is ended, its resistors, its cable (both cores), the unit's pull-up, and what may differ.

    With two resistors `contact_ohm` lies across each contact, or, `across_all`, once across all of them in a row.
    `tolerance` is a share (0.01 is 1 %) of every resistor, `cable_off` of the cable that a meter reads; `leak_ohm` the
    least leakage across the pair at the unit; `cable_slack_ohm` how much more the joints may add. Where detectors are
    open at rest, `alarm` is what a short means and `opens` what reads as a cut beside a cut.
    """

    ending: Ending
    pull_up_ohm: float
    end_ohm: float = 0.0
    contact_ohm: float = 0.0
    contacts: int = 1
    cable_ohm: float = 0.0
    tolerance: float = 0.0
    leak_ohm: float = inf
    cable_slack_ohm: float = 0.0
    alarm: str = "fire"
    opens: tuple[str, ...] = ()
    across_all: bool = False
    cable_off: float = CABLE_OFF


@dataclass(frozen=True)
class LoopState:
    """One state of a loop: what it is called, its field resistance, Ω, and what the unit should make of it."""

    name: str
    ohm: float
    means: Made


@dataclass(frozen=True)
class Band:
    """Between which shares a state may be read."""

    state: str
    low: float
    high: float


def share(field_ohm: float, pull_up_ohm: float) -> float:
    """What the unit reads, as a share of its loop voltage. AlarmProblem for a pull-up of 0 Ω or less.

    Reference: voltage divider, textbook: Vz / V = RL / (RL + Ru).
    """
    if pull_up_ohm <= 0:
        raise AlarmProblem(f"The resistor inside the control unit has {pull_up_ohm:g} Ω; more than 0 is allowed.")
    return 1.0 if field_ohm == inf else field_ohm / (field_ohm + pull_up_ohm)


def sensitivity(field_ohm: float, pull_up_ohm: float) -> tuple[float, float]:
    """How the share moves with the field's and with the pull-up's resistance, each a Ω.

    Reference: derivatives of the voltage divider, textbook: d(share)/dRL = Ru / (RL + Ru)², d(share)/dRu = -RL / (RL
    + Ru)².
    """
    whole = (field_ohm + pull_up_ohm) ** 2
    return pull_up_ohm / whole, -field_ohm / whole


def states(loop: Loop) -> tuple[LoopState, ...]:
    """The states that the loop can be in, by how it is ended, the cable left out: any number of contacts open.

    With one resistor across all contacts a cut between them is their state too: the resistor goes round it.
    Reference: common practice for single and double end-of-line loops; resistors at the device.
    """
    end = loop.end_ohm
    if loop.ending is Ending.NONE:
        return LoopState("secure", 0.0, Made.QUIET), LoopState("a contact open, or cut", inf, Made.TRIPPED)
    short = LoopState("short", 0.0, Made.SHORT)
    if loop.ending is Ending.SINGLE:
        return short, LoopState("secure", end, Made.QUIET), LoopState("a contact open, or cut", inf, Made.TRIPPED)
    if loop.ending is Ending.OPEN_FIRE:
        cut = ", or ".join(("cut", *loop.opens))
        fire = LoopState(f"{loop.alarm}, or short", 0.0, Made.TRIPPED)
        return fire, LoopState("quiet", end, Made.QUIET), LoopState(cut, inf, Made.CUT)
    return short, LoopState("secure", end, Made.QUIET), *_opened(loop), LoopState("cut", inf, Made.CUT)


def _opened(loop: Loop) -> Iterator[LoopState]:
    """A double loop with one contact open, two, and so on to all of them."""
    if loop.across_all and loop.contacts > 1:
        yield LoopState("one or more contacts open", loop.end_ohm + loop.contact_ohm, Made.TRIPPED)
        return
    for number in range(1, loop.contacts + 1):
        name = "one contact open" if number == 1 else f"{number} contacts open"
        yield LoopState(name, loop.end_ohm + number * loop.contact_ohm, Made.TRIPPED)


def bands(loop: Loop) -> tuple[Band, ...]:
    """Each state's worst-case band, in the order of `states`.

    The share rises with the field's resistance and falls with the pull-up's, so the corners of the tolerances bound
    it: cable and slack at nothing or whole, leakage none or least.
    Reference: voltage divider, textbook, at every corner; leakage across the pair at the control end.
    """
    return tuple(_band(loop, state) for state in states(loop))


def _band(loop: Loop, state: LoopState) -> Band:
    low, high = state.ohm * (1 - loop.tolerance), state.ohm * (1 + loop.tolerance)
    whole = high + loop.cable_ohm + loop.cable_slack_ohm
    least = share(in_parallel(low, loop.leak_ohm), loop.pull_up_ohm * (1 + loop.tolerance))
    return Band(state.name, least, share(whole, loop.pull_up_ohm * (1 - loop.tolerance)))


def envelope(loops: Sequence[Sequence[Band]]) -> tuple[Band, ...]:
    """The worst of several loops that have the same states: each state from its least to its greatest share."""
    same = zip(*loops, strict=True)
    return tuple(Band(each[0].state, min(b.low for b in each), max(b.high for b in each)) for each in same)


def in_parallel(one: float, other: float) -> float:
    """Two resistances side by side, Ω.

    Reference: resistors in parallel, textbook: R1 R2 / (R1 + R2).
    """
    if inf in (one, other):
        return min(one, other)
    return one * other / (one + other) if one + other else 0.0


def alike(found: Sequence[Band]) -> tuple[tuple[str, str], ...]:
    """Neighbouring states whose bands touch: no threshold separates them."""
    return tuple((one.state, other.state) for one, other in pairwise(found) if one.high >= other.low)


def best_thresholds(found: Sequence[Band]) -> tuple[float | None, ...]:
    """Between each two neighbouring states the middle of the gap, as a share; None where there is no gap.

    The middle leaves both sides the same.
    """
    return tuple((a.high + b.low) / 2 if a.high < b.low else None for a, b in pairwise(found))


def best_pull_up_ohm(one_ohm: float, other_ohm: float) -> float:
    """The pull-up resistor with which two states differ most, Ω.

    Reference: voltage divider, textbook: Ru = √(R1 R2), the greatest of R2 / (R2 + Ru) - R1 / (R1 + Ru).
    """
    return sqrt(one_ohm * other_ohm)


def cable_bearable_ohm(loop: Loop, trip_above: float) -> float:
    """How much cable and joints may add before a secure loop is read as tripped, Ω; 0 when it is so already.

    Reference: voltage divider, textbook, solved for RL at the threshold, resistors and pull-up at their worst.
    """
    if not 0 < trip_above < 1:
        raise AlarmProblem(f"The threshold is {trip_above:g} of the voltage; between 0 and 1 is allowed.")
    limit = loop.pull_up_ohm * (1 - loop.tolerance) * trip_above / (1 - trip_above)
    return max(0.0, limit - _secure_ohm(loop) * (1 + loop.tolerance))


def leak_bearable_ohm(loop: Loop, trip_above: float) -> float:
    """The least leakage at which one open contact is still read as a trip, Ω; infinite when it never is.

    Reference: voltage divider, textbook, solved for the leak at the threshold, resistors and pull-up at their worst.
    """
    needed = loop.pull_up_ohm * (1 + loop.tolerance) * trip_above / (1 - trip_above)
    opened = inf if loop.ending is not Ending.DOUBLE else (loop.end_ohm + loop.contact_ohm) * (1 - loop.tolerance)
    if opened <= needed:
        return inf
    return needed if opened == inf else needed * opened / (opened - needed)


def _secure_ohm(loop: Loop) -> float:
    return 0.0 if loop.ending is Ending.NONE else loop.end_ohm


def longest_run_m(bearable_ohm: float, ohm_per_km: float) -> float:
    """The longest run, one way, whose two cores add no more than that, m.

    Reference: Ohm's law, textbook: R = 2 L r, solved for L.
    """
    return bearable_ohm / (2 * ohm_per_km / 1000)


def expected_ohm(loop: Loop) -> Iterator[tuple[str, float, float]]:
    """What a meter at the unit's end reads in each state with the unit off: least and most, Ω, cable included.

    A pair that is read before it is joined is dry: what may leak in years to come must not leak yet.
    Reference: series resistance, textbook; a meter has no pull-up.
    """
    for state in states(loop):
        low = state.ohm * (1 - loop.tolerance) + loop.cable_ohm * (1 - loop.cable_off)
        high = state.ohm * (1 + loop.tolerance) + loop.cable_ohm * (1 + loop.cable_off) + loop.cable_slack_ohm
        yield state.name, low, high
