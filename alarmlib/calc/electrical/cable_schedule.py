"""Every cable once: its label, what it joins, its length and cores; what is entered wins, the rest is planned."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.cable_lengths import Length, planned, stop_length
from alarmlib.calc.electrical.cable_routes import CORES, LABEL_LETTERS, CableRoute
from alarmlib.calc.electrical.home_loops import on_circuit
from alarmlib.model.circuits import Circuit
from alarmlib.model.conductor_sizes import cores_in
from alarmlib.model.devices import Device
from alarmlib.model.wiring import PowerRun
from alarmlib.model.words import Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

LABEL, LENGTH, CORE_COUNT = "label", "length", "cores"
_USUAL_CORES = 4


@dataclass(frozen=True)
class Cable:
    """One cable: the circuit or run it belongs to ("" for none), devices in order, label, length, cores, storeys.

    `planned` names what of it is not entered: "label", "length", "cores".
    """

    of: str
    devices: tuple[str, ...]
    label: str
    length_m: float
    cores: int
    storeys: tuple[str, ...]
    planned: tuple[str, ...]


@dataclass(frozen=True)
class Schedule:
    """All cables, and the wired devices whose cable is neither entered nor can be planned."""

    cables: tuple[Cable, ...]
    without: tuple[str, ...]

    def metres(self, of_planned: bool) -> float:
        """The length of all cables whose length is planned, or of all whose length is entered, m."""
        return sum(cable.length_m for cable in self.cables if (LENGTH in cable.planned) is of_planned)


def schedule(home: "Home") -> Schedule:
    """A cable a circuit or run whose length is entered, and a planned one for each other wired device.

    A loop and a feed that share one cable are two here: which cores share a cable isn't entered.
    Our own reading; the routes are those of `cable_routes.routes`.
    """
    found = [*_of_circuits(home), *_of_runs(home)]
    there = {device for cable in found for device in cable.devices}
    rest = [_planned(route) for device, route in planned(home).routes.items() if device not in there]
    without = tuple(device for device in planned(home).without if device not in there)
    return Schedule((*found, *rest), without)


def _of_circuits(home: "Home") -> Iterator[Cable]:
    for circuit in home.circuits:
        devices = [device for device in on_circuit(home, circuit) if device.link is Link.WIRED]
        if circuit.length_m is not None:
            yield _circuit(home, circuit, devices, Length(circuit.length_m), circuit.label)
            continue
        routed = [device for device in devices if device.id in planned(home).routes]
        for number, device in enumerate(routed, 1):
            label = f"{circuit.label} {number}" if circuit.label and routed[1:] else circuit.label
            length = Length(float(planned(home).routes[device.id].cut_m), planned=True)
            yield _circuit(home, circuit, [device], length, label)


def _circuit(home: "Home", circuit: Circuit, devices: list[Device], length: Length, label: str) -> Cable:
    cores = cores_in(circuit.cable)
    bare = {LABEL: not label, LENGTH: length.planned, CORE_COUNT: cores is None}
    usual = max((CORES.get(device.kind, _USUAL_CORES) for device in devices), default=_USUAL_CORES)
    ids = tuple(device.id for device in devices)
    routes = [planned(home).routes[name] for name in ids if name in planned(home).routes]
    shown = label or (routes[0].label if len(ids) == 1 and routes else circuit.name.upper()[:LABEL_LETTERS])
    return Cable(
        circuit.id,
        ids,
        label=shown,
        length_m=length.metres,
        cores=cores or usual,
        storeys=_storeys(routes),
        planned=_named(bare),
    )


def _of_runs(home: "Home") -> Iterator[Cable]:
    """Runs of which a length is entered; cores as many as they feed by, both ways."""
    for run in home.wiring.runs:
        if any(stop.metres for stop in run.stops):
            yield _run(home, run)


def _run(home: "Home", run: PowerRun) -> Cable:
    lengths = [stop_length(home, run, place) for place in range(len(run.stops))]
    ids = tuple(stop.device for stop in run.stops)
    routes = [planned(home).routes[name] for name in ids if name in planned(home).routes]
    bare = {LABEL: True, LENGTH: any(length.planned for length in lengths), CORE_COUNT: False}
    metres = sum(length.metres for length in lengths)
    label = run.name.upper()[:LABEL_LETTERS]
    return Cable(
        run.id, ids, label=label, length_m=metres, cores=2 * run.pairs, storeys=_storeys(routes), planned=_named(bare)
    )


def _planned(route: CableRoute) -> Cable:
    bare = (LABEL, LENGTH, CORE_COUNT)
    return Cable(
        "",
        (route.device,),
        label=route.label,
        length_m=float(route.cut_m),
        cores=route.cores,
        storeys=route.storeys,
        planned=bare,
    )


def _storeys(routes: list[CableRoute]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(storey for route in routes for storey in route.storeys))


def _named(bare: dict[str, bool]) -> tuple[str, ...]:
    return tuple(name for name, is_bare in bare.items() if is_bare)
