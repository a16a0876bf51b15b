"""Voltage along one pair of conductors that feeds several loads: exact, in one pass there and one back."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.errors import AlarmProblem


@dataclass(frozen=True)
class Rung:
    """One load and the cable before it: Ω of both cores together, its constant current, A, and its own Ω."""

    cable_ohm: float
    current_a: float = 0.0
    load_ohm: float | None = None


def voltages(source_v: float, rungs: Sequence[Rung]) -> tuple[float, ...]:
    """The voltage at each load, V, nearest the source first.

    Time grows with the number of loads alone. Voltages may come out below zero: then a constant current cannot flow.
    Raises AlarmProblem for a cable of less than 0 Ω or a load of 0 Ω or less.
    Reference: Kirchhoff's laws, eliminated from the far end; checked against ngspice and numpy.
    """
    _refuse(rungs)
    fixed, slope = 0.0, 0.0  # what flows on beyond a node: fixed + slope x its voltage
    beyond: list[tuple[float, float]] = []
    for rung in reversed(rungs):
        fixed += rung.current_a
        slope += 1 / rung.load_ohm if rung.load_ohm else 0.0
        beyond.append((fixed, slope))
        fixed, slope = fixed / (1 + slope * rung.cable_ohm), slope / (1 + slope * rung.cable_ohm)
    found, volts = [], source_v
    for rung, (current, per_v) in zip(rungs, reversed(beyond), strict=True):
        volts = (volts - rung.cable_ohm * current) / (1 + rung.cable_ohm * per_v)
        found.append(volts)
    return tuple(found)


def _refuse(rungs: Sequence[Rung]) -> None:
    for number, rung in enumerate(rungs, 1):
        if rung.cable_ohm < 0:
            raise AlarmProblem(f"Load {number}: the cable before it has {rung.cable_ohm:g} Ω; 0 or more is allowed.")
        if rung.load_ohm is not None and rung.load_ohm <= 0:
            raise AlarmProblem(f"Load {number}: it has {rung.load_ohm:g} Ω; more than 0 is allowed.")


def lumped_drop_v(rungs: Sequence[Rung], source_v: float) -> float:
    """The drop if every load were at the far end and drew what it draws at the source's voltage: never too small, V.

    Reference: Ohm's law, textbook: Vdrop = 2 L r I with all loads lumped at the end, the usual safe bound.
    """
    cable = sum(rung.cable_ohm for rung in rungs)
    return cable * sum(rung.current_a + (source_v / rung.load_ohm if rung.load_ohm else 0.0) for rung in rungs)


def drop_v(metres: float, ohm_per_km: float, current_a: float) -> float:
    """The drop along a pair that feeds one load, both cores counted, V.

    Reference: Ohm's law, textbook: Vdrop = 2 L r I.
    """
    return 2 * metres * ohm_per_km / 1000 * current_a


def longest_m(drop_allowed_v: float, ohm_per_km: float, current_a: float) -> float:
    """The longest run for one load, one way, m.

    Reference: Ohm's law, textbook: Vdrop = 2 L r I, solved for L.
    """
    return drop_allowed_v / (2 * ohm_per_km / 1000 * current_a)


def cable_ohms(metres: Sequence[float], ohm_per_km: float, pairs: int = 1) -> tuple[float, ...]:
    """Ω of both cores of each piece of a run, cores of one side in parallel.

    Reference: Ohm's law, textbook: R = 2 L r / n.
    """
    return tuple(2 * length * ohm_per_km / 1000 / pairs for length in metres)
