"""The day of fitting in its safe order: what is done, with which caution, and which reading stops the line."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.home_loops import loop_of, thresholds
from alarmlib.calc.electrical.loop_reads import made_of_reading
from alarmlib.calc.electrical.loops import Made, expected_ohm
from alarmlib.calc.electrical.meter import EARTH_LEAST_OHM, OVER_RANGE_OHM, faults_of
from alarmlib.model.asked import asked
from alarmlib.model.circuits import Circuit, Ending
from alarmlib.model.questions import present
from alarmlib.model.words import DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

WHOLE_STEPS = (
    ("place", "The control unit and its supply are mounted in their place. Nothing is plugged in.", "drilling"),
    ("cables", "Every cable is laid, labelled at both ends, and away from mains cable.", "mains"),
    ("devices", "Every wired device is in place, with its cover off.", "ladders"),
    ("resistors", "End resistors are at the last device of their detector circuit, not in the control unit.", ""),
)
_LAST = (
    ("supply_off", "The supply is off and unplugged; nothing is live in the box.", "mains"),
    ("joined", "The pairs are joined to the control unit, one after another.", ""),
    ("supply_on", "The supply is on and the control unit has started. No zone shows cut or short.", "mains"),
    ("battery", "The battery is joined last: fuse in its lead, red to red.", "battery"),
    ("covers", "All covers are closed. No tamper is shown.", ""),
)
_AFTER = (
    (
        "settings",
        "The settings are entered, from the record or your own list, and the factory-set code is changed.",
        "",
    ),
    ("walk_test", "The walk test of page 10 is done, device by device.", "siren_ears"),
)


@dataclass(frozen=True)
class FittingStep:
    """One step of the day: the id that is ticked, what is done, and the caution before it ("" for none)."""

    id: str
    text: str
    caution: str = ""


def steps(home: "Home") -> tuple[FittingStep, ...]:
    """Every step in order: whole house, each pair at the meter, joining, each wireless device, settings, test.

    Reference: common practice, no source: a pair is read before it is joined, the battery comes last.
    """
    return tuple(_steps(home))


def _steps(home: "Home") -> Iterator[FittingStep]:
    yield from (FittingStep(*each) for each in WHOLE_STEPS)
    for circuit in home.circuits:
        yield FittingStep(
            f"pair_{circuit.id}", f"{circuit.name}: measured closed, open and to earth, before it is connected."
        )
    yield from (FittingStep(*each) for each in _LAST)
    for device in present(home):
        if device.link is Link.WIRELESS and device.kind is not DeviceKind.FOB:
            yield FittingStep(
                f"free_{device.id}", f"{device.name}: enrolled at the table, named, mounted, its signal read."
            )
    yield from (FittingStep(*each) for each in _AFTER)


@dataclass(frozen=True)
class Reading:
    """One reading beside what was computed: least and most, Ω; what it may mean when it is outside, in words.

    `made` is what the unit may make of it by its own thresholds, () where those aren't known; `wanted` what it should.
    """

    circuit: str
    state: str
    read_ohm: float
    low_ohm: float
    high_ohm: float
    faults: tuple[str, ...]
    made: tuple[Made, ...] = ()
    wanted: Made | None = None

    @property
    def misread(self) -> bool:
        """Whether the unit may make something else of the pair than it should."""
        return bool(self.made) and self.made != (self.wanted,)

    @property
    def stops(self) -> bool:
        """Whether the pair is not to be joined so: the unit misreads it, or, where that isn't known, it is outside."""
        return self.misread if self.made else bool(self.faults)


def readings(home: "Home") -> tuple[Reading, ...]:
    """Every reading that is entered, beside its band, and what the unit makes of it.

    Reference: to earth 1 MΩ at least, common practice, no source.
    """
    return tuple(reading for circuit in home.circuits for reading in _of_circuit(home, circuit))


@asked
def _of_circuit(home: "Home", circuit: Circuit) -> tuple[Reading, ...]:
    return tuple(_readings(home, circuit))


def _readings(home: "Home", circuit: Circuit) -> Iterator[Reading]:
    loop = loop_of(home, circuit)
    if loop is not None:
        table = [(low, high) for _, low, high in expected_ohm(loop)]
        at_rest = 0 if loop.ending is Ending.NONE else 1
        tripped = 0 if loop.ending is Ending.OPEN_FIRE else at_rest + 1
        for read, place, state, opened, wanted in (
            (circuit.measured_ohm, at_rest, "shut", False, Made.QUIET),
            (circuit.open_ohm, tripped, "open", True, Made.TRIPPED),
        ):
            if read is not None:
                made = made_of_reading(loop, read, OVER_RANGE_OHM, thresholds(home))
                low, high = table[place]
                faults = faults_of(loop, read, opened)
                yield Reading(circuit.id, state, read, low, high, faults=faults, made=made, wanted=wanted)
    if circuit.earth_ohm is not None:
        low = circuit.earth_ohm < EARTH_LEAST_OHM
        told = ("a core touches metal or damp: find it before anything is joined",) if low else ()
        yield Reading(circuit.id, "to earth", circuit.earth_ohm, EARTH_LEAST_OHM, float("inf"), told)


def why_stopped(reading: Reading) -> str:
    """Why a pair is not to be joined so, in words: what it may mean, and what the unit would make of it.

    Our own reading.
    """
    made = f"your control unit would read it as {' or '.join(reading.made)}" if reading.misread else ""
    return ", and ".join(filter(None, ("; or ".join(reading.faults), made)))


@dataclass(frozen=True)
class Halt:
    """How far the day has come: the first step that isn't done, and why the work stops there ("" when it doesn't)."""

    step: FittingStep | None
    why: str


def halted_at(home: "Home") -> Halt:
    """The next step; stopped at a pair that the unit would misread, or that was joined unread.

    Where the unit's thresholds aren't known, a reading outside its band stops the work.

    Our own reading of the order above.
    """
    bad = {reading.circuit: reading for reading in readings(home) if reading.stops}
    read = {circuit.id for circuit in home.circuits if circuit.measured_ohm is not None}
    done = set(home.wiring.done)
    names = {circuit.id: circuit.name for circuit in home.circuits}
    for step in steps(home):
        circuit = step.id.removeprefix("pair_")
        if circuit in bad and step.id != circuit:
            return Halt(step, f"“{names[circuit]}”, read {bad[circuit].state}: {why_stopped(bad[circuit])}.")
        if step.id in done and step.id != circuit and circuit not in read:
            return Halt(step, f"“{names[circuit]}” is ticked, but no reading of it is entered.")
        if step.id not in done:
            return Halt(step, "")
    return Halt(None, "")
