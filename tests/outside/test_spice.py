"""ngspice solves the same loops and ladders: another program, by other people."""

from math import inf
from pathlib import Path
from random import Random

import pytest
from spice import solved

from alarmlib.calc.electrical.ladder import Rung, voltages
from alarmlib.calc.electrical.loops import Loop, bands, in_parallel, sensitivity, share, states
from alarmlib.model.circuits import Ending

pytestmark = pytest.mark.outside
OPEN_OHM = 1e15


def loop_lines(n: int, volts: float, pull_up: float, field: float, cable: float, leak: float) -> list[str]:
    """One loop: pull-up, both cores of the cable, the field side, a leak at the unit."""
    field = OPEN_OHM if field == inf else field + 1e-9
    return [
        f"V{n} v{n} 0 {volts}",
        f"Ru{n} v{n} z{n} {pull_up}",
        f"Rg{n} z{n} 0 {leak}",
        f"Ra{n} z{n} a{n} {cable / 2 + 1e-9}",
        f"Rf{n} a{n} b{n} {field}",
        f"Rb{n} b{n} 0 {cable / 2 + 1e-9}",
    ]


@pytest.mark.parametrize("ending", [Ending.NONE, Ending.SINGLE, Ending.DOUBLE, Ending.OPEN_FIRE])
def test_loops_in_every_state(ending: Ending, tmp_path: Path) -> None:
    """Twelve drawn loops of each ending, each state: the share of the supply that the unit reads."""
    draw = Random(ending.value)
    lines, wanted = [], []
    for _ in range(12):
        pull_up, end, contact = draw.uniform(500, 9e3), draw.uniform(500, 9e3), draw.uniform(500, 9e3)
        cable, leak, volts = draw.uniform(0, 100), draw.uniform(1e4, 1e6), draw.uniform(5, 15)
        for state in states(Loop(ending, pull_up, end, contact, 2)):
            lines += loop_lines(len(wanted), volts, pull_up, state.ohm, cable, leak)
            wanted.append(volts * share(in_parallel(state.ohm + cable, leak), pull_up))
    names = [f"v(z{n})" for n in range(len(wanted))]
    found = solved(lines, names, tmp_path)
    assert [found[name] for name in names] == pytest.approx(wanted, abs=2e-5)


def test_sensitivities(tmp_path: Path) -> None:
    """`sens` of ngspice on 2 kΩ pulled up by 2.2 kΩ from 12 V."""
    lines = ["V1 v 0 12", "Ru v n1 2200", "RL n1 0 2000"]
    found = solved(lines, ["ru", "rl"], tmp_path, "sens v(n1)")
    field, pull_up = sensitivity(2000, 2200)
    assert (found["rl"], found["ru"]) == pytest.approx((12 * field, 12 * pull_up), abs=1e-8)


def test_bands_hold_what_ngspice_finds(tmp_path: Path) -> None:
    """Seventy-five drawn loops within their tolerances lie in the bands of their states."""
    draw = Random(5)
    loop = Loop(Ending.DOUBLE, 2200, 4700, 4700, 1, 30, 0.05, 2e4, 10)
    lines, ranges = [], []
    for _ in range(15):
        for state, band in zip(states(loop), bands(loop), strict=True):
            near = draw.uniform(0.95, 1.05)
            field = inf if state.ohm == inf else state.ohm * near
            pull_up, leak = 2200 * draw.uniform(0.95, 1.05), draw.uniform(2e4, 1e6)
            lines += loop_lines(len(ranges), 1.0, pull_up, field, draw.uniform(0, 40), leak)
            ranges.append((band.low, band.high))
    names = [f"v(z{n})" for n in range(len(ranges))]
    found = solved(lines, names, tmp_path)
    assert all(low - 1e-6 <= found[name] <= high + 1e-6 for name, (low, high) in zip(names, ranges, strict=True))


@pytest.mark.parametrize("seed", range(6))
def test_ladders_of_currents_and_resistances(seed: int, tmp_path: Path) -> None:
    """A shared cable with up to thirty loads: constant currents, resistances, both, none."""
    draw = Random(seed)
    rungs = [
        Rung(
            draw.uniform(0.02, 1.5),
            draw.choice([0.0, draw.uniform(0, 0.04)]),
            draw.choice([None, draw.uniform(60, 5e3)]),
        )
        for _ in range(draw.randint(2, 30))
    ]
    lines = ["V0 n0 0 12"]
    for n, rung in enumerate(rungs, 1):
        lines.append(f"Rc{n} n{n - 1} n{n} {rung.cable_ohm}")
        lines.append(f"Rl{n} n{n} 0 {rung.load_ohm or OPEN_OHM}")
        lines.append(f"I{n} n{n} 0 {rung.current_a}")
    names = [f"v(n{n})" for n in range(1, len(rungs) + 1)]
    found = solved(lines, names, tmp_path)
    assert [found[name] for name in names] == pytest.approx(voltages(12, rungs), abs=1e-6)


def test_four_sounders_as_printed(tmp_path: Path) -> None:
    """The ladder of the reference: four sounders of 40 Ω, 0.6285 Ω of 18 AWG before each, on 12 V."""
    lines = ["V0 n0 0 12"]
    for n in range(1, 5):
        lines += [f"Rc{n} n{n - 1} n{n} 0.6285", f"Rl{n} n{n} 0 40"]
    found = solved(lines, [f"v(n{n})" for n in range(1, 5)], tmp_path)
    assert list(found.values()) == pytest.approx([11.32454, 10.82703, 10.49963, 10.33720], abs=1e-5)
