"""The home's own circuits as loops: from the survey's facts, how the unit reads them, and where they may fail."""

from dataclasses import dataclass, replace
from math import inf
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.cable_lengths import Length, circuit_length
from alarmlib.calc.electrical.conductors import ALARM_CORE_MM2, ALARM_CORE_WORST_OHM_KM, ohm_per_km
from alarmlib.calc.electrical.loop_reads import Thresholds
from alarmlib.calc.electrical.loops import (
    CABLE_OFF,
    Band,
    Loop,
    alike,
    bands,
    best_pull_up_ohm,
    cable_bearable_ohm,
    leak_bearable_ohm,
    longest_run_m,
    states,
)
from alarmlib.model.asked import asked
from alarmlib.model.circuits import Circuit, DetectorFeed, Ending
from alarmlib.model.conductor_sizes import size_in
from alarmlib.model.devices import Device
from alarmlib.model.questions import present
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.home import Home

CONTACT_OHM = 0.2  # one reed contact, from memory
JOINTS_OHM = 10.0  # what joints and terminals may come to in years; common practice, no source
DEFAULT_PULL_UP_OHM = 2200.0
PLANNED_OFF = 1.0  # a planned length may be off by as much as it is


@dataclass(frozen=True)
class LoopSeen:
    """A circuit as a loop: its bands, which neighbours touch, what the unit's own thresholds may get wrong.

    `missed` says that an open contact may be read as secure, `false_trip` that a secure loop may be read as tripped.
    """

    circuit: str
    loop: Loop
    bands: tuple[Band, ...]
    touching: tuple[tuple[str, str], ...]
    missed: bool
    false_trip: bool


@asked
def on_circuit(home: "Home", circuit: Circuit) -> tuple[Device, ...]:
    """The devices wired to a circuit, by their own entry or their zone's; those out of use are on it all the same.

    Our own reading.
    """
    zones = {zone.id: zone.circuit for zone in home.control_unit.zones}
    return tuple(device for device in present(home) if circuit.id == (device.circuit or zones.get(device.zone, "")))


@asked
def loop_of(home: "Home", circuit: Circuit) -> Loop | None:
    """A circuit as a loop; None while its ending or a resistor of it isn't entered.

    The pull-up is the unit's own, else 2.2 kΩ. Cable by its size and length, 0.22 mm² at its worst 95 Ω/km. Detectors
    that are open at rest are across the pair; in series with it are fault contacts and the relay behind the last.
    Reference: contacts at 0.2 Ω, from memory.
    """
    needs_end = circuit.ending in (Ending.SINGLE, Ending.DOUBLE, Ending.OPEN_FIRE)
    if circuit.ending is Ending.UNKNOWN or (needs_end and not circuit.end_resistor_ohm):
        return None
    if circuit.ending is Ending.DOUBLE and not circuit.contact_resistor_ohm:
        return None
    unit, devices = home.wiring.loop, on_circuit(home, circuit)
    contacts, opens = len(devices), opens_beside_a_cut(home, circuit)
    in_series = len(opens) if circuit.ending is Ending.OPEN_FIRE else contacts
    gas = bool(devices) and all(device.kind is DeviceKind.CARBON_MONOXIDE for device in devices)
    return Loop(
        circuit.ending,
        unit.pull_up_ohm or DEFAULT_PULL_UP_OHM,
        end_ohm=circuit.end_resistor_ohm or 0.0,
        contact_ohm=circuit.contact_resistor_ohm or 0.0,
        contacts=max(1, contacts),
        cable_ohm=cable_ohm(home, circuit, worst=True) + CONTACT_OHM * in_series,
        tolerance=unit.tolerance / 100,
        leak_ohm=unit.leak_ohm or inf,
        cable_slack_ohm=JOINTS_OHM,
        alarm="CO" if gas else "fire",
        opens=opens,
        across_all=circuit.resistor_across_all,
        cable_off=CABLE_OFF if circuit.length_m is not None else PLANNED_OFF,
    )


def thresholds(home: "Home") -> Thresholds:
    """The unit's own thresholds; none counts while the pull-up isn't entered: shares by a guessed one mean nothing.

    Reference: the owner's entries.
    """
    unit = home.wiring.loop
    return Thresholds(unit.short_below, unit.trip_above, unit.cut_above) if unit.pull_up_ohm else Thresholds()


def opens_beside_a_cut(home: "Home", circuit: Circuit) -> tuple[str, ...]:
    """What opens a circuit of detectors that are open at rest, beside a cut: their power gone, each fault contact.

    Reference: common practice: a relay behind the last detector, fault contacts in series with the pair.
    """
    if circuit.ending is not Ending.OPEN_FIRE:
        return ()
    power = ["the detectors' power gone"] if circuit.detectors_fed is DetectorFeed.WATCHED else []
    faults = [
        f"a fault of {d.name}" for d in on_circuit(home, circuit) if d.hazard and d.hazard.fault_contact is Yes.YES
    ]
    return (*power, *faults)


def length_of(home: "Home", circuit: Circuit) -> Length | None:
    """How long a circuit's cable is: as entered, else as planned; None while neither is known.

    By `cable_lengths.circuit_length`.
    """
    return circuit_length(home, circuit, () if circuit.length_m is not None else on_circuit(home, circuit))


def cable_ohm(home: "Home", circuit: Circuit, worst: bool = False) -> float:
    """Both cores of a circuit's cable, Ω; 0 while its size isn't entered, or its length is neither entered nor planned.

    Reference: Ohm's law, textbook: R = 2 L r.
    """
    per_km = core_ohm_per_km(circuit.cable, worst)
    length = None if per_km is None else length_of(home, circuit)
    return 0.0 if per_km is None or length is None else 2 * length.metres * per_km / 1000


def core_ohm_per_km(cable: str, worst: bool = False) -> float | None:
    """Ω/km of one core of a cable whose name holds its size; None when none does.

    Reference: 0.22 mm² at its worst 95 Ω/km, from memory.
    """
    size = size_in(cable)
    if size is None:
        return None
    if worst and size.area_mm2 == ALARM_CORE_MM2:
        return ALARM_CORE_WORST_OHM_KM
    return ohm_per_km(size)


@asked
def seen(home: "Home", circuit: Circuit) -> LoopSeen | None:
    """What the unit may make of a circuit; None while it isn't known.

    By `loops.bands`.
    """
    loop = loop_of(home, circuit)
    if loop is None:
        return None
    found = bands(loop)
    trip = thresholds(home).trip_above
    secure, opened = _secure_and_open(loop, found)
    missed = trip is not None and opened is not None and opened.low <= trip
    return LoopSeen(circuit.id, loop, found, alike(found), missed, trip is not None and secure.high >= trip)


def _secure_and_open(loop: Loop, found: tuple[Band, ...]) -> tuple[Band, Band | None]:
    if loop.ending is Ending.NONE:
        return found[0], found[1]
    return found[1], None if loop.ending is Ending.OPEN_FIRE else found[2]


@dataclass(frozen=True)
class Bearable:
    """What a circuit may still take before its secure state is read as a trip: Ω, m of its cable, leakage in Ω.

    Without an end-of-line resistor any pull-up serves, so none is the best.
    """

    circuit: str
    ohm: float
    longest_m: float | None
    leak_ohm: float
    best_pull_up_ohm: float | None


@asked
def bearable(home: "Home", circuit: Circuit) -> Bearable | None:
    """How much cable and damp a circuit may take by the unit's own trip threshold; None while that isn't known.

    By `loops.cable_bearable_ohm`, `loops.leak_bearable_ohm`.
    """
    loop, trip = loop_of(home, circuit), thresholds(home).trip_above
    if loop is None or trip is None or not 0 < trip < 1 or loop.ending is Ending.OPEN_FIRE:
        return None
    ohm, per_km = cable_bearable_ohm(replace(loop, cable_ohm=0.0), trip), core_ohm_per_km(circuit.cable, worst=True)
    pair = [state.ohm for state in states(loop) if 0 < state.ohm < inf][:2]
    best = best_pull_up_ohm(*pair) if len(pair) > 1 else pair[0] if pair else None
    longest = None if per_km is None else longest_run_m(ohm, per_km)
    return Bearable(circuit.id, ohm, longest, leak_bearable_ohm(loop, trip), best)


def fire_faults(home: "Home", circuit: Circuit) -> tuple[str, ...]:
    """What is wrong with a circuit of fire detectors, in words.

    Reference: common practice for fire circuits: normally open detectors across the end resistor, nothing else on
    them, power supervised at the last detector.
    """
    devices = on_circuit(home, circuit)
    fire = [d for d in devices if d.kind in (DeviceKind.SMOKE, DeviceKind.HEAT)]
    others = [d for d in devices if d not in fire]
    told = []
    if fire and others:
        told.append(f"it is shared with {', '.join(d.name for d in others)}")
    if fire and circuit.ending is not Ending.OPEN_FIRE:
        told.append(
            "its detectors should be open when quiet, across the end-of-line resistor: then a short is "
            "fire and a cut is a fault"
        )
    gas = [d for d in devices if d.kind is DeviceKind.CARBON_MONOXIDE]
    if gas and len(devices) > len(gas):
        told.append("a CO detector is on it: it wants a detector circuit of its own, with its fault contact in series")
    if gas and circuit.ending is not Ending.OPEN_FIRE:
        told.append(
            "a CO detector's alarm contact should be open when quiet, across the end-of-line resistor, "
            "and its fault contact in series"
        )
    return tuple(told)


def unheard_failures(home: "Home", circuit: Circuit) -> tuple[tuple[str, bool], ...]:
    """What may fail on a circuit of detectors that are open at rest and leaves it looking quiet: in words, and if sure.

    Reference: common practice: their power watched by a relay behind the last, each fault contact in series.
    """
    devices = on_circuit(home, circuit)
    if circuit.ending is not Ending.OPEN_FIRE or not devices:
        return ()
    found = []
    if circuit.detectors_fed in (DetectorFeed.UNWATCHED, DetectorFeed.UNKNOWN):
        found.append(("its detectors' power fails", circuit.detectors_fed is DetectorFeed.UNWATCHED))
    for device in devices:
        contact = device.hazard.fault_contact if device.hazard else Yes.UNKNOWN
        if device.kind is DeviceKind.CARBON_MONOXIDE and contact is not Yes.YES:
            found.append((f"the sensor of {device.name} fails or is worn out", contact is Yes.NO))
    return tuple(found)
