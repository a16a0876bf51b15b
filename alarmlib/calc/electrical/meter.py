"""A meter at a pair: what a reading may mean, and what an unknown pair holds, from up to three readings in Ω."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from alarmlib.calc.electrical.loops import Loop, expected_ohm, states
from alarmlib.model.circuits import Ending
from alarmlib.units import rounded

OVER_RANGE_OHM = 5e6  # what most meters show as open
CABLE_MOST_OHM = 100.0  # more than this in a plain loop is a bad joint: the usual figure for a wired zone
COMMON_OHM = (1000, 1500, 2200, 2700, 3300, 3900, 4700, 5600, 6800, 8200, 10000)
_NEAR = 0.06  # a resistor of 5 % and the meter's own error
EARTH_LEAST_OHM = 1e6


@dataclass(frozen=True)
class UnknownPair:
    """What an unknown pair was found to hold: its ending, resistors in Ω where told, and what cannot be told."""

    ending: Ending
    end_ohm: float | None
    contact_ohm: float | None
    told: tuple[str, ...]
    untold: tuple[str, ...]


def common_ohm(reading_ohm: float) -> float | None:
    """The common end resistor that a reading is within 6 % of, Ω, cable of up to 100 Ω allowed for.

    Reference: values of the E12 row that are sold for the purpose; common practice, no source.
    """
    near = [value for value in COMMON_OHM if value * (1 - _NEAR) <= reading_ohm <= value * (1 + _NEAR) + CABLE_MOST_OHM]
    return min(near, key=lambda value: abs(value - reading_ohm), default=None)


def faults_of(loop: Loop, reading_ohm: float, opened: bool = False) -> tuple[str, ...]:
    """What a reading at the unit's end may mean, the unit off, every contact closed (or one `opened`); () when right.

    Reference: series and parallel resistance; causes are common practice, no source.
    """
    table = {name: (low, high) for name, low, high in expected_ohm(loop)}
    closed, tripped = named_states(loop)
    low, high = table[tripped if opened else closed]
    if low <= reading_ohm <= high or (high == inf and reading_ohm >= min(low, OVER_RANGE_OHM)):
        return ()
    return tuple(_why(loop, reading_ohm, (low, high), table, opened))


def named_states(loop: Loop) -> tuple[str, str]:
    """The names of the states with all contacts closed, and with one opened (or a fire detector tripped).

    The order of `loops.states`.
    """
    names = [state.name for state in states(loop)]
    if loop.ending is Ending.OPEN_FIRE:
        return names[1], names[0]
    return (names[0], names[1]) if loop.ending is Ending.NONE else (names[1], names[2])


def _why(
    loop: Loop, reading: float, wanted: tuple[float, float], table: dict[str, tuple[float, float]], opened: bool
) -> Iterator[str]:
    closed, tripped = (table[name] for name in named_states(loop))
    if opened and closed[0] <= reading <= closed[1]:
        yield "nothing changed: the contact is not in this pair, is bridged, or its magnet still holds it"
    elif not opened and tripped[0] <= reading <= tripped[1] and tripped[1] < inf:
        yield "it reads as with a contact open: something is open, or a magnet is too far off"
    elif reading >= OVER_RANGE_OHM:
        yield "it reads open: a cut, a loose terminal, an open contact without a resistor, or the wrong pair"
    elif reading <= max(2 * loop.cable_ohm, 5.0):
        yield "it reads short: the two cores touch, a staple or screw went through, or the end resistor is bridged"
    elif reading < wanted[0]:
        yield from _too_low(loop, reading)
    else:
        yield "it reads more than it should: a bad joint, a longer or thinner cable, or another resistor than entered"


def _too_low(loop: Loop, reading: float) -> Iterator[str]:
    half = loop.end_ohm / 2 + loop.cable_ohm
    if loop.end_ohm and abs(reading - half) <= _NEAR * half:
        yield "it reads about half: a second end-of-line resistor is across the pair"
    yield "it reads less than it should: damp in a joint leaks across the pair, or another resistor than entered"


def read_pair(closed_ohm: float | None, open_ohm: float | None, both_open_ohm: float | None = None) -> UnknownPair:
    """What an unknown pair holds: read with all contacts closed, with one opened, with a second opened too.

    None is a reading not taken; over range is 5 MΩ and more. The result names what two or three numbers cannot tell.
    Reference: series resistance of single and double end-of-line loops, textbook.
    """
    if closed_ohm is None:
        return UnknownPair(Ending.UNKNOWN, None, None, (), ("Measure it first with every door and window closed.",))
    if open_ohm is None:
        return _from_one(closed_ohm)
    return _from_more(closed_ohm, open_ohm, both_open_ohm)


def _from_one(closed: float) -> UnknownPair:
    need = "Open one contact of it and read again: one reading cannot tell how it is ended."
    if closed >= OVER_RANGE_OHM:
        return UnknownPair(Ending.UNKNOWN, None, None, (), (f"It is cut, or its contacts are open when quiet. {need}",))
    if closed <= CABLE_MOST_OHM:
        return UnknownPair(
            Ending.UNKNOWN,
            None,
            None,
            (f"There is no end-of-line resistor in series: {rounded(closed)} Ω is the cable.",),
            (need,),
        )
    return UnknownPair(
        Ending.UNKNOWN, common_ohm(closed), None, (_resistor("an end-of-line resistor", closed),), (need,)
    )


def _resistor(what: str, reading: float) -> str:
    near = common_ohm(reading)
    return (
        f"{rounded(reading, 4)} Ω: {what} of {rounded(near, 6)} Ω."
        if near
        else f"{rounded(reading, 4)} Ω fits no common resistor."
    )


def _from_more(closed: float, opened: float, both: float | None) -> UnknownPair:
    if closed >= OVER_RANGE_OHM:
        return _open_at_rest(opened)
    if abs(opened - closed) <= 0.02 * closed + 1:
        untold = "What you opened is not in this pair, is bridged, or is hidden by damp. Try another contact."
        return UnknownPair(Ending.UNKNOWN, common_ohm(closed), None, (), (untold,))
    if opened < closed:
        told = (
            _resistor("an end-of-line resistor", closed),
            "It closes when tripped: the detectors are open when quiet.",
        )
        return UnknownPair(
            Ending.OPEN_FIRE, common_ohm(closed), None, told, ("Whether they are fire detectors: look at them.",)
        )
    if closed <= CABLE_MOST_OHM:
        return _no_end(closed, opened)
    if opened >= OVER_RANGE_OHM:
        where = "Where the end resistor is: at the control unit's end it watches nothing. Follow the cable."
        return UnknownPair(Ending.SINGLE, common_ohm(closed), None, (_resistor("one end resistor", closed),), (where,))
    return _double(closed, opened, both)


def _no_end(closed: float, opened: float) -> UnknownPair:
    if opened >= OVER_RANGE_OHM:
        return UnknownPair(
            Ending.NONE, None, None, (f"No end-of-line resistor; {rounded(closed)} Ω of cable and contacts.",), ()
        )
    told = _resistor("across the contact", opened - closed)
    untold = (
        "There is no resistor in series, so a short looks secure. From here you cannot see whether one was bridged."
    )
    return UnknownPair(Ending.UNKNOWN, None, common_ohm(opened - closed), (told,), (untold,))


def _open_at_rest(opened: float) -> UnknownPair:
    if opened >= OVER_RANGE_OHM:
        text = "Open in both: cut, nothing joined, or the wrong contact. Bridge the pair at its far end and read again."
        return UnknownPair(Ending.UNKNOWN, None, None, (), (text,))
    told = "It is open when quiet and closes when tripped, with no end-of-line resistor: a cut cannot be noticed."
    return UnknownPair(Ending.UNKNOWN, None, None, (told,), ("Which devices are on it.",))


def _double(closed: float, opened: float, both: float | None) -> UnknownPair:
    across = opened - closed
    told = [_resistor("an end-of-line resistor", closed), _resistor("one across the contact", across)]
    untold = ["How much of the first is cable: bridge the far end and read."]
    if both is None:
        untold.append("Whether a second contact has its own resistor: open it too and read.")
    elif both >= OVER_RANGE_OHM:
        told.append("The second contact has no resistor across it, so when it is open it looks like a cut.")
    elif abs(both - opened - across) <= _NEAR * across:
        told.append("The second contact has a resistor of the same kind. Two open contacts may be read as a cut.")
    elif abs(both - opened) <= 0.02 * opened + 1:
        several = "One resistor goes across all contacts; or the second is not in this pair, or is bridged."
        untold.append(f"The second contact changed nothing. {several}")
    else:
        told.append(_resistor("across the second contact", both - opened))
    return UnknownPair(Ending.DOUBLE, common_ohm(closed), common_ohm(across), tuple(told), tuple(untold))
