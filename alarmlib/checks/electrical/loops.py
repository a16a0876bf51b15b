"""Wired loops: which states the unit can't tell apart, what a contact or damp may hide, what fire circuits hold."""

from collections.abc import Iterator

from alarmlib.calc.electrical.home_loops import (
    LoopSeen,
    bearable,
    cable_ohm,
    core_ohm_per_km,
    fire_faults,
    length_of,
    on_circuit,
    seen,
    thresholds,
    unheard_failures,
)
from alarmlib.calc.electrical.loop_figures import loop_figures
from alarmlib.calc.electrical.loop_reads import cut_from
from alarmlib.calc.electrical.meter import CABLE_MOST_OHM
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.circuits import Circuit, Ending
from alarmlib.units import Kind, show

MANY_CONTACTS = 3
# Worked in the model by a test: then any number of open contacts reads as tripped, a cut as cut, a short as short.
ONE_ACROSS_ALL = (
    "Remove the resistors across single contacts. Join the contacts in series, and put one such resistor across "
    "them all, with the end resistor in series. That takes a third core. A cut between the contacts then reads as "
    "tripped, not as cut. Or give each contact a circuit of its own."
)


@check
def states_touch(home: Home) -> Said:
    """In the worst case secure, tripped, cut and short are still read apart."""
    for circuit in home.circuits:
        loop = seen(home, circuit)
        counts = [pair for pair in loop.touching if pair[1].endswith("contacts open")] if loop else []
        for one, other in [pair for pair in loop.touching if pair not in counts[1:]] if loop else ():
            message = f"{said(circuit.name)}: in the worst case the control unit may not tell “{one}” from “{other}”."
            remedy = "Use resistors of 1 %, a shorter cable and dry joints, or give a contact a circuit of its own."
            say = note if (one, other) in counts and "open" in one else should
            yield say(circuit.id, message, remedy, "loop_divider")


@check
def misread(home: Home) -> Said:
    """By the unit's own thresholds an open contact is read as a trip, and a secure loop is not."""
    for circuit in home.circuits:
        loop = seen(home, circuit)
        if loop is not None:
            yield from _misread(home, circuit, loop)


def _misread(home: Home, circuit: Circuit, loop: LoopSeen) -> Iterator[Finding]:
    trip = thresholds(home).trip_above or 0.0
    rested = loop.bands[0] if circuit.ending is Ending.NONE else loop.bands[1]
    if loop.missed:
        opened = next(band for band in loop.bands if "open" in band.state)
        numbers = {"figure": f"{opened.low:.3f}", "limit": f"{trip:.3f}", "margin": f"{opened.low - trip:.3f}"}
        message = f"{said(circuit.name)}: by its own threshold, the control unit may read an open contact as secure."
        yield must(
            circuit.id,
            message,
            "Dry the joints, fit the resistors that its manual asks for, and measure again.",
            "owner",
            **numbers,
        )
    if loop.false_trip:
        numbers = {"figure": f"{rested.high:.3f}", "limit": f"{trip:.3f}", "margin": f"{trip - rested.high:.3f}"}
        message = (
            f"{said(circuit.name)}: by its own threshold, the control unit may read it as tripped while it is quiet."
        )
        yield must(circuit.id, message, "Shorten the cable or use a thicker one, fix the joints, and "
    "check the resistors.", "owner",
                   **numbers)  # fmt: skip


@check
def short_and_cut(home: Home) -> Said:
    """By the unit's own thresholds a short and a cut are read as what they are."""
    unit = thresholds(home)
    for circuit in home.circuits:
        loop = seen(home, circuit)
        if loop is None or circuit.ending is Ending.NONE:
            continue
        rested = loop.bands[1]
        if unit.short_below is not None and rested.low <= unit.short_below:
            yield _other(circuit, "a quiet circuit", "short", rested.low, unit.short_below)
        if unit.short_below is not None and loop.bands[0].high >= unit.short_below:
            yield _other(circuit, "a short", "a quiet circuit", loop.bands[0].high, unit.short_below)
        one, cut = loop.bands[2] if circuit.ending is Ending.DOUBLE else None, loop.bands[-1]
        if one and unit.cut_above is not None and one.high > unit.cut_above:
            yield _other(circuit, "an open contact", "cut", one.high, unit.cut_above)
        if cut.state.startswith("cut") and unit.cut_above is not None and cut.low <= unit.cut_above:
            taken_for = "quiet" if circuit.ending is Ending.OPEN_FIRE else "an open contact"
            yield _other(circuit, "a cut", taken_for, cut.low, unit.cut_above)


def _other(circuit: Circuit, state: str, taken_for: str, share: float, limit: float) -> Finding:
    numbers = {"figure": f"{share:.3f}", "limit": f"{limit:.3f}", "margin": f"{abs(share - limit):.3f}"}
    message = f"{said(circuit.name)}: by its own threshold, the control unit may read {state} as {taken_for}."
    return should(
        circuit.id,
        message,
        "Check the resistors and joints, look for damp, and ask the maker of the control unit.",
        "owner",
        **numbers,
    )


@check
def many_contacts(home: Home) -> Said:
    """However many contacts of a double loop are open, the unit reads it as tripped; it can't count them."""
    for circuit in home.circuits:
        number = len(on_circuit(home, circuit))
        if circuit.ending is Ending.DOUBLE and number >= 2 and not circuit.resistor_across_all:
            yield _many(home, circuit, number)


def _many(home: Home, circuit: Circuit, number: int) -> Finding:
    loop, unit = seen(home, circuit), thresholds(home)
    first = cut_from(loop.loop, loop.bands, unit) if loop else None
    if loop is not None and first is not None and unit.cut_above is not None:
        band = loop.bands[1 + first]
        numbers = {"figure": f"{band.high:.3f}", "limit": f"{unit.cut_above:.3f}"}
        least = "Even one open contact" if first == 1 else f"From {first} open contacts on it"
        message = (
            f"{said(circuit.name)} has {number} contacts, each with a resistor across it. {least} may be read as "
            "cut, not as tripped. Your control unit then reports a fault in the wiring, not an open door or "
            "window."
        )
        return should(circuit.id, message, ONE_ACROSS_ALL, "loop_divider", **numbers)
    message = f"{said(circuit.name)} has {number} contacts on one detector circuit with two resistors."
    if loop is not None and unit.trip_above is not None and unit.cut_above is not None:
        message += " Any number of open contacts reads as tripped, so you cannot see how many are open."
        remedy = "You need do nothing. To see which one is open, give each contact a circuit of its own."
        return note(circuit.id, message, remedy, "loop_divider", figure=str(number))
    message += " You cannot see how many are open. It is not known how many open contacts read as cut."
    say = should if number >= MANY_CONTACTS else note
    remedy = f"Enter the detector circuit's resistors and the control unit's thresholds. {ONE_ACROSS_ALL}"
    return say(circuit.id, message, remedy, "loop_divider", figure=str(number))


@check
def fire_circuits(home: Home) -> Said:
    """Fire detectors are open at rest across the end resistor, alone on their circuit."""
    for circuit in home.circuits:
        for told in fire_faults(home, circuit):
            message = f"{said(circuit.name)} holds fire or CO detectors: {told}."
            yield should(
                circuit.id, message, "Follow the manuals of the detectors and the control unit.", "fire_circuit"
            )


@check
def quiet_though_dead(home: Home) -> Said:
    """Where detectors are open at rest, a dead power wire and a worn sensor read as a break, not as quiet."""
    for circuit in home.circuits:
        for what, sure in unheard_failures(home, circuit):
            where = said(circuit.name)
            message = (
                (f"{where}: when {what}, it still reads quiet.")
                if sure
                else (f"{where}: when {what}, it may still read quiet.")
            )
            remedy = (
                "Fit a relay behind the last detector to watch the power, and put a CO detector's fault contact "
                "in series."
            )
            yield (should if sure else note)(circuit.id, message, remedy, "fire_circuit")


@check
def cable_of_loop(home: Home) -> Said:
    """A loop's cable has a size that is known, and adds no more than 100 Ω."""
    for circuit in home.circuits:
        if circuit.cable and core_ohm_per_km(circuit.cable) is None:
            message = f"{said(circuit.name)}: the name of its cable gives no size that is known here."
            yield note(circuit.id, message, "Write its size: 22 AWG, 0.22 mm² or 7/0.2.", "owner")
        elif circuit.cable and circuit.length_m is None:
            yield _no_length(home, circuit)
        ohm = cable_ohm(home, circuit, worst=True)
        if ohm > CABLE_MOST_OHM:
            numbers = {"figure": show(ohm, Kind.RESISTANCE, home.units), "limit": f"{CABLE_MOST_OHM:g} Ω"}
            message = f"{said(circuit.name)}: its cable alone adds more resistance than a zone usually tolerates."
            yield should(circuit.id, message, "Use a thicker cable, or a shorter way.", "loop_100_ohm", **numbers)


def _no_length(home: Home, circuit: Circuit) -> Finding:
    """A cable whose length isn't entered: what is taken in its place."""
    length = length_of(home, circuit)
    name = said(circuit.name)
    if length is None:
        message = f"{name}: the length of its cable is not entered, so it counts as no resistance at all."
    else:
        taken = show(length.metres, Kind.LENGTH, home.units)
        message = f"{name}: the length of its cable is not entered, so {taken} is assumed, as planned along the walls."
    return note(circuit.id, message, "Enter the length once the cable is in.", "owner")


@check
def damp(home: Home) -> Said:
    """Damp that the unit must bear leaves an open contact readable."""
    leak = home.wiring.loop.leak_ohm
    for circuit in home.circuits if leak else ():
        most = bearable(home, circuit)
        if most and leak and most.leak_ohm > leak and most.leak_ohm != float("inf"):
            shown = (show(ohm, Kind.RESISTANCE, home.units) for ohm in (leak, most.leak_ohm))
            numbers = dict(zip(("figure", "limit"), shown, strict=True))
            message = f"{said(circuit.name)} may hide an open contact, with the damp that you entered."
            yield should(
                circuit.id,
                message,
                "Dry and seal the joints, and measure from core to core.",
                "loop_divider",
                **numbers,
            )


@check
def thresholds_unknown(home: Home) -> Said:
    """The unit's own thresholds are entered: without them there are bands, but no verdict by the unit."""
    ended = [c for c in home.circuits if c.ending in (Ending.SINGLE, Ending.DOUBLE)]
    if ended and (home.wiring.loop.trip_above is None or home.wiring.loop.pull_up_ohm is None):
        message = (
            "The resistor inside the control unit and its thresholds are not entered. 2.2 kΩ is "
            "assumed, and no state is judged by thresholds."
        )
        yield note("wiring", message, "Look in its manual, or ask its maker.", "owner")


@check
def worked_out(home: Home) -> Said:
    """What is worked out of each loop, to follow."""
    yield from loop_figures(home)


GROUP = CheckGroup(
    "loops",
    (
        states_touch,
        misread,
        short_and_cut,
        many_contacts,
        fire_circuits,
        quiet_though_dead,
        cable_of_loop,
        damp,
        thresholds_unknown,
        worked_out,
    ),
)
