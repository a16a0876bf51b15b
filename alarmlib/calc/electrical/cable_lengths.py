"""How long a cable is: what is entered wins; the planned route fills only what is not, and is called planned."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.cable_routes import CableRoute, routes
from alarmlib.model.asked import asked
from alarmlib.model.circuits import Circuit
from alarmlib.model.devices import Device
from alarmlib.model.wiring import PowerRun

if TYPE_CHECKING:
    from alarmlib.model.home import Home


@dataclass(frozen=True)
class Length:
    """How long a cable is, m, and whether that is planned rather than entered."""

    metres: float
    planned: bool = False


@dataclass(frozen=True)
class Planned:
    """The planned route of each wired device that has one, by the device's id, and the devices that have none."""

    routes: Mapping[str, CableRoute]
    without: tuple[str, ...]


@asked
def planned(home: "Home") -> Planned:
    """The planned route of every wired device; worked out once for all who ask.

    By `cable_routes.routes`.
    """
    found, without = routes(home)
    return Planned({route.device: route for route in found}, without)


def circuit_length(home: "Home", circuit: Circuit, devices: Iterable[Device]) -> Length | None:
    """A circuit's cable, one way: as entered, else the planned cables of all its devices, one after another.

    None where neither is known. Each device's planned cable goes to the control unit, where a row of them is joined.
    Our own reading.
    """
    if circuit.length_m is not None:
        return Length(circuit.length_m)
    found = [planned(home).routes.get(device.id) for device in devices]
    if not found or None in found:
        return None
    return Length(float(sum(route.cut_m for route in found if route)), planned=True)


def stop_length(home: "Home", run: PowerRun, place: int) -> Length:
    """The cable before a stop of a run: as entered, else, of the first stop, its device's planned cable.

    0 m counts as not entered. Between later stops no route is planned, so 0 m there is at the place of the one before.
    Our own reading.
    """
    stop = run.stops[place]
    if stop.metres or place:
        return Length(stop.metres)
    route = planned(home).routes.get(stop.device)
    return Length(0.0) if route is None else Length(float(route.cut_m), planned=True)
