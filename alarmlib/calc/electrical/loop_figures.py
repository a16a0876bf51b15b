"""What is worked out of a wired loop, as figures to follow: its shares, a meter's ranges, what it may still bear."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.home_loops import JOINTS_OHM, bearable, core_ohm_per_km, loop_of, thresholds
from alarmlib.calc.electrical.loops import Loop, LoopState, bands, expected_ohm, states
from alarmlib.calc.electrical.meter import OVER_RANGE_OHM
from alarmlib.calc.figure import Figure
from alarmlib.model.asked import asked
from alarmlib.model.circuits import Circuit, Ending
from alarmlib.units import Kind, rounded, show

if TYPE_CHECKING:
    from alarmlib.model.home import Home

Inputs = tuple[tuple[str, str], ...]


def ohm_text(ohm: float, figures: int = 3) -> str:
    """A resistance as a person reads it, Ω to MΩ.

    Our own wording.
    """
    return "over range" if ohm >= OVER_RANGE_OHM else show(ohm, Kind.RESISTANCE, "metric", figures)


def loop_figures(home: "Home") -> Iterator[Figure]:
    """All that is worked out of every circuit that is known as a loop.

    By `loops.bands`, `loops.expected_ohm`, `loops.cable_bearable_ohm`, `loops.leak_bearable_ohm`.
    """
    for circuit in home.circuits:
        yield from _of_circuit(home, circuit)


@asked
def _of_circuit(home: "Home", circuit: Circuit) -> tuple[Figure, ...]:
    loop = loop_of(home, circuit)
    return () if loop is None else (_shares(circuit, loop), _meter(circuit, loop), *_bears(home, circuit, loop))


def _resistors(loop: Loop) -> str:
    return ", ".join("open" if state.ohm == inf else ohm_text(state.ohm, 4) for state in _shown(loop))


def _shown(loop: Loop) -> list[LoopState]:
    """The states that a table has room for: of those with contacts open the first and the last."""
    found = list(states(loop))
    opened = [state for state in found if state.name.endswith("contacts open")]
    return [state for state in found if state not in opened[:-1]]


def _common(loop: Loop) -> Inputs:
    return ("R", _resistors(loop)), ("t", f"{100 * loop.tolerance:g} %"), ("cable", ohm_text(loop.cable_ohm))


def _shares(circuit: Circuit, loop: Loop) -> Figure:
    found = {band.state: band for band in bands(loop)}
    value = "; ".join(f"{s.name} {found[s.name].low:.3f} to {found[s.name].high:.3f}" for s in _shown(loop))
    leak = "none" if loop.leak_ohm == inf else ohm_text(loop.leak_ohm)
    inputs = (*_common(loop), ("joints", ohm_text(JOINTS_OHM)), ("leakage", leak), ("Ru", ohm_text(loop.pull_up_ohm)))
    formula = (
        "part of the voltage = RL / (RL + Ru); least: RL = R (1 − t) beside the leakage, Ru (1 + t); most: RL = "
        "R (1 + t) + cable + joints, Ru (1 − t)"
    )
    return Figure(f"loop_shares.{circuit.id}", value, "", formula, inputs, ("loop_divider", "owner", "practice"))


def _meter(circuit: Circuit, loop: Loop) -> Figure:
    ranges = {name: (low, high) for name, low, high in expected_ohm(loop)}
    shown = ((state.name, *ranges[state.name]) for state in _shown(loop))
    value = "; ".join(
        f"{name} over range" if high == inf else f"{name} {ohm_text(low, 4)} to {ohm_text(high, 4)}"
        for name, low, high in shown
    )
    formula = f"R (1 − t) + {1 - loop.cable_off:g} × cable to R (1 + t) + {1 + loop.cable_off:g} × cable + joints"
    inputs = (*_common(loop), ("joints", ohm_text(JOINTS_OHM)))
    return Figure(f"meter_range.{circuit.id}", value, "", formula, inputs, ("computed", "owner", "practice"))


def _bears(home: "Home", circuit: Circuit, loop: Loop) -> Iterator[Figure]:
    most, trip = bearable(home, circuit), thresholds(home).trip_above
    if most is None or trip is None:
        return
    rest = 0.0 if loop.ending is Ending.NONE else loop.end_ohm
    inputs = (
        ("T", f"{trip:g}"),
        ("R quiet", ohm_text(rest, 4)),
        ("t", f"{100 * loop.tolerance:g} %"),
        ("Ru", ohm_text(loop.pull_up_ohm)),
    )
    formula = "cable and joints at most = Ru (1 − t) T / (1 − T) − R (1 + t)"
    sources = ("loop_divider", "owner")
    yield Figure(f"loop_cable.{circuit.id}", ohm_text(most.ohm), "", formula, inputs, sources)
    per_km = core_ohm_per_km(circuit.cable, worst=True)
    if most.longest_m is not None and per_km is not None:
        run = (("cable and joints at most", ohm_text(most.ohm)), ("r", f"{rounded(per_km)} Ω/km"))
        longest = show(most.longest_m, Kind.LENGTH, home.units, 3)
        yield Figure(f"loop_run.{circuit.id}", longest, "", "longest run = cable and joints at most / (2 r)", run,
                     ("voltage_drop", "loop_divider"))  # fmt: skip
    opened = "open" if loop.ending is not Ending.DOUBLE else ohm_text(loop.end_ohm + loop.contact_ohm, 4)
    leak = "no leakage: an open contact never reads as a trip" if most.leak_ohm == inf else ohm_text(most.leak_ohm)
    formula = "leakage at least = N O / (O − N), or N where O is open; N = Ru (1 + t) T / (1 − T), O = R open (1 − t)"
    told = (inputs[0], ("R open", opened), *inputs[2:])
    yield Figure(f"loop_leak.{circuit.id}", leak, "", formula, told, sources)
    if most.best_pull_up_ohm is not None:
        yield _pull_up(circuit, loop, most.best_pull_up_ohm)


def _pull_up(circuit: Circuit, loop: Loop, best_ohm: float) -> Figure:
    pair = [state.ohm for state in states(replace(loop, contacts=1)) if 0 < state.ohm < inf]
    inputs = (("R quiet", ohm_text(pair[0], 4)), ("R open", ohm_text(pair[1], 4) if pair[1:] else "open"))
    formula = "best resistor in the unit = √(R quiet × R open), or R quiet where R open is open"
    return Figure(f"loop_pull_up.{circuit.id}", ohm_text(best_ohm), "", formula, inputs, ("loop_divider",))
