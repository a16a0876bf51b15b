"""From version 1 to 2: down to which voltage a device works was asked at each cable; now it is the device's own fact.

Names of fields are those of version 2 and are kept here for good: a later version changes nothing in this step.
"""

from collections.abc import Iterator
from typing import Any

Document = dict[str, Any]

FIELD = "least_v"


def with_least_volts(document: Document) -> Document:
    """The document with what its cables said that a device works down to said by the device; the one given stays.

    Where two cables said two voltages of one device, the higher counts and the device's note keeps the other.
    """
    devices, wiring = document.get("devices"), document.get("wiring")
    runs = wiring.get("runs") if isinstance(wiring, dict) else None
    if not isinstance(devices, list) or not isinstance(wiring, dict) or not isinstance(runs, list):
        return document
    said: dict[str, list[float]] = {}
    for stop in _stops(runs):
        if isinstance(volts := stop.get(FIELD), int | float):
            said.setdefault(str(stop.get("device")), []).append(volts)
    return document | {
        "devices": [_telling(device, said) for device in devices],
        "wiring": wiring | {"runs": [_bare(run) for run in runs]},
    }


def _stops(runs: list[Any]) -> Iterator[Document]:
    for run in runs:
        stops = run.get("stops") if isinstance(run, dict) else None
        yield from (stop for stop in (stops if isinstance(stops, list) else []) if isinstance(stop, dict))


def _bare(run: Any) -> Any:
    """A cable without its devices' volts; what is none is left for the model to refuse."""
    if not isinstance(run, dict) or not isinstance(run.get("stops"), list):
        return run
    stops = [{k: v for k, v in s.items() if k != FIELD} if isinstance(s, dict) else s for s in run["stops"]]
    return run | {"stops": stops}


def _telling(device: Any, said: dict[str, list[float]]) -> Any:
    volts = said.get(str(device.get("id"))) if isinstance(device, dict) else None
    if not volts:
        return device
    other = [f"Another cable gave its lowest voltage as {each:g} V." for each in sorted({*volts} - {max(volts)})]
    before = device.get("note")
    if not other or not isinstance(before, str | None):
        return device | {FIELD: max(volts)}
    return device | {FIELD: max(volts), "note": " ".join((*filter(None, (before,)), *other))}
