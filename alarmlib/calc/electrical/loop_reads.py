"""What the unit makes of a loop by its own thresholds: of a share, of a state's whole band, of a meter's reading."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, nextafter

from alarmlib.calc.electrical.loops import Band, Loop, Made, share, states
from alarmlib.model.circuits import Ending


@dataclass(frozen=True)
class Thresholds:
    """The unit's own thresholds, each a share of the loop's voltage; None where it isn't known."""

    short_below: float | None = None
    trip_above: float | None = None
    cut_above: float | None = None


def made_of(loop_share: float, ending: Ending, at: Thresholds) -> Made | None:
    """What the unit makes of a share; None where the threshold that decides isn't known.

    An input is taken as set for how its pair is ended: without an end-of-line resistor it shows no short, and only two
    resistors show a cut apart from a contact that is open. Where detectors are open at rest, a short is their alarm.
    Reference: common practice, no source: comparators with one threshold between each two states.
    """
    low, trip, cut = at.short_below, at.trip_above, at.cut_above
    if ending is Ending.OPEN_FIRE:
        if low is None or cut is None:
            return None
        return Made.TRIPPED if loop_share < low else Made.CUT if loop_share > cut else Made.QUIET
    if trip is None:
        return None
    if ending is not Ending.NONE and low is not None and loop_share < low:
        return Made.SHORT
    if loop_share <= trip:
        return Made.QUIET
    return Made.CUT if ending is Ending.DOUBLE and cut is not None and loop_share > cut else Made.TRIPPED


def made_between(low: float, high: float, ending: Ending, at: Thresholds) -> tuple[Made, ...]:
    """All that the unit may make of shares from `low` to `high`, the least share first; () where it isn't known.

    By `made_of` at both ends and on both sides of every threshold between them.
    """
    edges = [edge for edge in (at.short_below, at.trip_above, at.cut_above) if edge is not None and low <= edge <= high]
    beside = [near for edge in edges for near in (nextafter(edge, -inf), edge, nextafter(edge, inf))]
    tried = sorted({low, high, *(near for near in beside if low <= near <= high)})
    found = [made_of(each, ending, at) for each in tried]
    return tuple(dict.fromkeys(made for made in found if made is not None))


def made_of_bands(loop: Loop, bands: Sequence[Band], at: Thresholds) -> tuple[tuple[Made, ...], ...]:
    """What the unit may make of each state of a loop in the worst case, in the order of `loops.states`.

    By `made_between`.
    """
    return tuple(made_between(band.low, band.high, loop.ending, at) for band in bands)


def cut_from(loop: Loop, bands: Sequence[Band], at: Thresholds) -> int | None:
    """From how many open contacts on the unit may read a double loop as cut; None when it never does, or isn't known.

    By `made_of_bands`: the share rises with every contact that opens.
    """
    made = made_of_bands(loop, bands, at)
    opened = [each for state, each in zip(states(loop), made, strict=True) if state.means is Made.TRIPPED]
    if loop.ending is not Ending.DOUBLE:
        return None
    return next((number for number, each in enumerate(opened, 1) if Made.CUT in each), None)


def made_of_reading(loop: Loop, reading_ohm: float, over_range_ohm: float, at: Thresholds) -> tuple[Made, ...]:
    """What the unit may make of a pair that a meter read at the unit's end, Ω; () where its thresholds aren't known.

    What the meter read holds cable, joints and damp already; the pull-up may still be off by its tolerance.
    Reference: voltage divider, textbook, at both ends of the pull-up's tolerance.
    """
    field = inf if reading_ohm >= over_range_ohm else reading_ohm
    least, most = (share(field, loop.pull_up_ohm * (1 + off)) for off in (loop.tolerance, -loop.tolerance))
    return made_between(least, most, loop.ending, at)
