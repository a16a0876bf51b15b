"""Detectors that sleep after a trip: a shorter sleep time, or a wired detector that needs none."""

from collections.abc import Iterator

from alarmlib.calc.cells.sights import joined
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.proof import ChangeKind
from alarmlib.model.questions import at_work
from alarmlib.model.site import PassageKind
from alarmlib.model.words import DeviceKind, Link
from alarmlib.proof.repairs.changes import EditWay, RepairChange, RepairEdit
from alarmlib.proof.repairs.prices import Prices

SHORTER_S = (120.0, 60.0, 30.0, 10.0, 5.0, 0.0)  # our own steps: a manual may offer others


def rest_changes(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """For each motion detector that sleeps after a trip: shorter sleep times, the nearest first; a wired one.

    One that still sleeps is taken as sure by a walk test alone (`calc.cells.sights`): without that only no sleep
    time at all can help.
    Our own list.
    """
    doorways = [(p.first, p.second) for p in home.site.passages if p.kind is PassageKind.DOORWAY]
    for device in at_work(home, DeviceKind.MOTION):
        if device.sleep_s > 0 and device.zone:
            about = joined({device.room}, doorways) | {device.zone}
            values = SHORTER_S if device.id in home.proof.sure_detectors else SHORTER_S[-1:]
            yield from _shorter(device, prices, about, values)
            if device.link is Link.WIRELESS:
                yield _wired(device, prices, about)


def _shorter(
    device: Device, prices: Prices, about: frozenset[str], values: tuple[float, ...]
) -> Iterator[RepairChange]:
    price, assumed = prices.of(ChangeKind.REST)
    for value_s in (each for each in values if each < device.sleep_s):
        to = f"to {value_s:g} s" if value_s else "to none"
        yield RepairChange(
            f"rest/{device.id}/{value_s:g}",
            EditWay.REST,
            sentence=f"Shorten the sleep time of {device.name} from {device.sleep_s:g} s {to}, "
            "if its manual offers it.",
            price=price,
            edits=(RepairEdit(("devices", device.id, "sleep_s"), value_s),),
            about=about,
            slots=frozenset({f"rest/{device.id}"}),
            assumed=assumed,
            value_s=value_s,
            because="it sees again sooner after a trip; its battery lasts less long",
        )


def _wired(device: Device, prices: Prices, about: frozenset[str]) -> RepairChange:
    price, assumed = prices.of_device(DeviceKind.MOTION)
    facts = {"link": Link.WIRED.value, "wireless": None, "sleep_s": 0, "movement_restarts_sleep": False}
    return RepairChange(
        f"wired/{device.id}",
        EditWay.WIRED,
        sentence=f"Fit a wired detector of the same reach in place of {device.name}, and run a cable to it. "
        "Enter its detector circuit and its current afterwards: neither is checked here.",
        price=price,
        edits=tuple(RepairEdit(("devices", device.id, field), value) for field, value in facts.items()),
        about=about,
        slots=frozenset({f"rest/{device.id}"}),
        assumed=assumed,
        because="a wired detector does not sleep after a trip",
    )
