"""Wired loops: what the unit reads in each state, what each may still bear, what the meter showed."""

from collections.abc import Iterator
from math import inf

from alarmlib.calc.electrical.fitting_day import Reading, readings
from alarmlib.calc.electrical.home_loops import LoopSeen, bearable, length_of, seen, thresholds
from alarmlib.calc.electrical.loop_reads import made_of_bands
from alarmlib.calc.electrical.loops import (
    Band,
    Loop,
    Made,
    best_thresholds,
    envelope,
    expected_ohm,
    sensitivity,
    states,
)
from alarmlib.calc.electrical.meter import OVER_RANGE_OHM, named_states, read_pair
from alarmlib.model.circuits import Ending
from alarmlib.model.log import FoundItem
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Picture, Subheading, Table, Text
from alarmlib.record.charts import BandRow, band_chart
from alarmlib.record.context import Context
from alarmlib.record.picture import Fill
from alarmlib.record.section import section
from alarmlib.units import Kind, rounded, show

_FIRE = (
    (
        "Fire detectors are open when quiet, side by side across the end-of-line resistor: a short is fire, a "
        "cut is a fault."
    ),
    "The resistor sits behind the last detector; a relay there opens the circuit when the detectors' power fails.",
    "Nothing else is on such a circuit: no door, no window, no hold-up button.",
    "A CO detector has a circuit of its own, its fault contact in series, so that a failed sensor reads as a cut.",
    "While a fault contact is open, detectors beyond it are not heard.",
    "This is common practice. The manuals of the detectors and the control unit and your code decide.",
)
_HOW = (
    "The control unit feeds each circuit through a resistor of its own, Ru, and reads the part RL / (RL + Ru) of "
    "its voltage. Each band is the worst case over the resistors' tolerance, the cable, 10 Ω of joints and the "
    "leakage entered. The control unit can distinguish two states where their bands do not touch."
)


@section("loops", "Detector circuits", level=Share.OWNER, needs=("circuits",))
def loops(context: Context) -> Iterator[Block]:
    """Bands as a picture and a table, what may still be added, the meter's table, pairs found in the walls."""
    loops = [loop for circuit in context.home.circuits if (loop := seen(context.asked, circuit))]
    if loops:
        yield Text((_HOW,))
        yield _bands(context, loops)
        yield from _moved(context, [loop for loop in loops if loop.loop.end_ohm])
        yield from _bearable(context)
        yield _meter(context, loops)
        yield from _planned_lengths(context)
    if any(circuit.ending is Ending.OPEN_FIRE for circuit in context.home.circuits):
        yield Subheading("Circuits of fire and CO detectors")
        yield Bullets(_FIRE)
    read: dict[str, list[Reading]] = {}
    for reading in readings(context.asked):
        read.setdefault(reading.circuit, []).append(reading)
    if read:
        rows = tuple(_reading_row(context, circuit, found) for circuit, found in read.items())
        header = ("Circuit", "Closed", "Open", "To earth", "Control unit reads", "May mean")
        yield Table("What the meter showed", header, rows, frozenset({1, 2, 3}))
    found = [item for item in context.home.inherited.items if item.closed_ohm is not None]
    if found:
        yield Table("Pairs found in the walls", ("Pair", "Holds", "Can't be told"), tuple(map(_pair_row, found)))


def _bands(context: Context, loops: list[LoopSeen]) -> Picture:
    """Circuits that read alike share a row, each state at the worst that any of them may read."""
    alike: dict[tuple[tuple[str, str, str], ...], list[LoopSeen]] = {}
    for loop in loops:
        alike.setdefault(tuple((b.state, f"{b.low:.2f}", f"{b.high:.2f}") for b in loop.bands), []).append(loop)
    groups = [(same, envelope([loop.bands for loop in same])) for same in alike.values()]
    rows = [
        BandRow(
            f"{context.name('circuit', same[0].circuit)}{f' + {len(same) - 1}' if same[1:] else ''}",
            tuple((band.low, band.high, _fill(band.state)) for band in worst),
        )
        for same, worst in groups
    ]
    unit = thresholds(context.home)
    told = ((unit.short_below, "short below"), (unit.trip_above, "trip above"), (unit.cut_above, "cut above"))
    marks = [(at, word) for at, word in told if at is not None]
    best = {_said_thresholds(same[0].loop, worst) for same, worst in groups} - {""}
    cells = tuple(row for same, worst in groups for row in _band_rows(context, same, worst))
    header = ("Circuit", "State", "From", "To", "At the supply", "Control unit reads")
    table = Table("Part of the circuit's voltage by state, worst case", header, cells, frozenset({2, 3}))
    described = (
        "A row for circuits that read alike: the first, + how many more. Black: short; slanted: quiet; crossed: one "
        "contact open; dotted: more open; empty: cut. Dashed: the unit's own thresholds."
    )
    if best:
        described += f" Best thresholds for these circuits: {'; '.join(sorted(best))}."
    return Picture("What the unit reads", described, band_chart(rows, marks), table)


def _moved(context: Context, loops: list[LoopSeen]) -> Iterator[Text]:
    """How far the share at rest moves, of the loop that cable moves most."""

    def moved(seen_loop: LoopSeen) -> tuple[float, float]:
        loop = seen_loop.loop
        return sensitivity(_at_rest_ohm(loop) + loop.cable_ohm, loop.pull_up_ohm)

    if not loops:
        return
    most = max(loops, key=lambda each: moved(each)[0])
    by_cable, by_pull_up = moved(most)
    told = (
        f"10 Ω more cable on {context.name('circuit', most.circuit)} raise its quiet percentage by "
        f"{rounded(10 * by_cable, 1)}"
        f"{', no other circuit by more' if loops[1:] else ''}; a resistor in the control unit 1 % higher lowers it by "
        f"{rounded(-by_pull_up * most.loop.pull_up_ohm / 100, 1)}."
    )
    yield Text((told,))


def _at_rest_ohm(loop: Loop) -> float:
    at_rest, _ = named_states(loop)
    return next(state.ohm for state in states(loop) if state.name == at_rest)


def _said_thresholds(loop: Loop, worst: tuple[Band, ...]) -> str:
    """Where thresholds would leave both sides the same, for a double end-of-line loop of one contact."""
    if loop.ending is not Ending.DOUBLE or loop.contacts > 1:
        return ""
    return ", ".join("none" if each is None else f"{each:.2f}" for each in best_thresholds(worst))


def _fill(state: str) -> Fill:
    """How a state is drawn; a fire circuit's short is its fire."""
    if state in ("secure", "quiet"):
        return Fill.SLANTED
    if state.endswith("contacts open") and not state.startswith("one"):
        return Fill.DOTTED
    return Fill.CROSSED if "open" in state else Fill.SOLID if "short" in state else Fill.NONE


def _band_rows(context: Context, same: list[LoopSeen], worst: tuple[Band, ...]) -> Iterator[tuple[str, ...]]:
    """A row a state: its shares, volts, and what the unit makes of it by its own thresholds."""
    names = ", ".join(context.name("circuit", loop.circuit) for loop in same)
    loop_v, made = context.home.wiring.loop.loop_v, made_of_bands(same[0].loop, worst, thresholds(context.home))
    for state, band, read in zip(states(same[0].loop), worst, made, strict=True):
        volts = f"{band.low * loop_v:.2f} to {band.high * loop_v:.2f} V"
        yield names, band.state, f"{band.low:.3f}", f"{band.high:.3f}", volts, _made(read, state.means)


def _made(read: tuple[Made, ...], wanted: Made | None) -> str:
    """What the unit makes of it; what it should make of it is added where that is something else."""
    told = " or ".join(read)
    return told if not read or read == (wanted,) or wanted is None else f"{told}, and it should be {wanted}"


def _bearable(context: Context) -> Iterator[Block]:
    found = [each for circuit in context.home.circuits if (each := bearable(context.home, circuit))]
    system = context.home.units
    if found:
        rows = tuple(
            (
                context.name("circuit", each.circuit),
                show(_three(each.ohm), Kind.RESISTANCE, system),
                "" if each.longest_m is None else show(_three(each.longest_m), Kind.LENGTH, system),
                "never a trip" if each.leak_ohm == inf else show(_three(each.leak_ohm), Kind.RESISTANCE, system),
                "any"
                if each.best_pull_up_ohm is None
                else show(_three(each.best_pull_up_ohm), Kind.RESISTANCE, system),
            )
            for each in found
        )
        header = (
            "Circuit",
            "Cable and joints at most",
            "Longest run",
            "Leakage at least",
            "Best resistor in the control unit",
        )
        yield Table(
            "What each circuit tolerates, by the control unit's trip threshold", header, rows, frozenset({1, 2, 3, 4})
        )
        yield Text(("Resistance rarely limits a house; damp and bad joints do.",))


def _three(value: float) -> float:
    """Three significant figures: no more is meant."""
    return float(f"{value:.3g}")


def _meter(context: Context, loops: list[LoopSeen]) -> Table:
    rows = tuple(_meter_row(context, loop) for loop in loops)
    header = ("Circuit", "Quiet", "Tripped", "All open", "Short", "Cut")
    return Table("What a meter reads at the unit's end, unit off", header, rows, frozenset({1, 2, 3, 4, 5}))


def _meter_row(context: Context, loop: LoopSeen) -> tuple[str, ...]:
    found = {state: _between(low, high) for state, low, high in expected_ohm(loop.loop)}
    at_rest, tripped = named_states(loop.loop)
    short = next((found[state] for state in found if "short" in state), "as quiet")
    cut = next((found[state] for state in found if "cut" in state), "")
    every = found.get(f"{loop.loop.contacts} contacts open", "")
    return context.name("circuit", loop.circuit), found[at_rest], found[tripped], every, short, cut


def _planned_lengths(context: Context) -> Iterator[Text]:
    """Whose cable's length is taken from the planned route, since none is entered."""
    told = [
        f"{context.name('circuit', circuit.id)} {show(length.metres, Kind.LENGTH, context.home.units)}"
        for circuit in context.home.circuits
        if circuit.length_m is None and circuit.cable and (length := length_of(context.home, circuit))
    ]
    if told:
        yield Text((f"Cable taken as planned, since no length is entered: {', '.join(told)}.",))


def _between(low: float, high: float) -> str:
    return "over range" if low >= OVER_RANGE_OHM or high == inf else f"{_ohm(low)} to {_ohm(high)}"


def _ohm(ohm: float) -> str:
    return "over range" if ohm >= OVER_RANGE_OHM else show(float(f"{ohm:.4g}"), Kind.RESISTANCE, "metric")


def _reading_row(context: Context, circuit: str, found: list[Reading]) -> tuple[str, ...]:
    shown = {reading.state: _ohm(reading.read_ohm) for reading in found}
    faults = [f"{reading.state}: {'; or '.join(reading.faults)}" for reading in found if reading.faults]
    cells = (shown.get(state, "not read") for state in ("shut", "open", "to earth"))
    made = "; ".join(f"{reading.state}: {_made(reading.made, reading.wanted)}" for reading in found if reading.made)
    return context.name("circuit", circuit), *cells, made, "; ".join(faults) or "as computed"


def _pair_row(item: FoundItem) -> tuple[str, str, str]:
    pair = read_pair(item.closed_ohm, item.open_ohm, item.both_open_ohm)
    return item.what, " ".join(pair.told), " ".join(pair.untold)
