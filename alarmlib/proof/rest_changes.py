"""Detectors that sleep after a trip: a shorter sleep time, or a wired detector that needs none."""

from collections.abc import Iterator

from alarmlib.model.devices import NOT_THERE, Device
from alarmlib.model.home import Home
from alarmlib.model.proof import ChangeKind
from alarmlib.model.words import DeviceKind, Link
from alarmlib.proof.changes import Change, Edit, Way
from alarmlib.proof.prices import Prices

SHORTER_S = (120.0, 60.0, 30.0, 10.0, 5.0, 0.0)  # our own steps: a manual may offer others


def rest_changes(home: Home, prices: Prices) -> Iterator[Change]:
    """For each motion detector that sleeps after a trip: shorter sleep times, the nearest first; a wired one.

    Reference: our own list.
    """
    for device in home.devices:
        sleeps = device.kind is DeviceKind.MOTION and device.quiet_time_s > 0 and device.zone
        if sleeps and device.state not in NOT_THERE:
            yield from _shorter(device, prices)
            if device.link is Link.WIRE_FREE:
                yield _wired(device, prices)


def _shorter(device: Device, prices: Prices) -> Iterator[Change]:
    price, assumed = prices.of(ChangeKind.REST)
    for value_s in (each for each in SHORTER_S if each < device.quiet_time_s):
        to = f"to {value_s:g} s" if value_s else "to none"
        yield Change(
            f"rest/{device.id}/{value_s:g}", Way.REST,
            f"Shorten the sleep time of {device.name} from {device.quiet_time_s:g} s {to}, if its manual offers it.",
            price, (Edit(("devices", device.id, "quiet_time_s"), value_s),),
            frozenset({device.zone}), frozenset({f"rest/{device.id}"}), assumed=assumed, value_s=value_s,
            because="it sees again sooner after a trip; its battery lasts less long",
        )  # fmt: skip


def _wired(device: Device, prices: Prices) -> Change:
    price, assumed = prices.of_device(DeviceKind.MOTION)
    facts = {"link": Link.WIRED.value, "wire_free": None, "quiet_time_s": 0, "movement_restarts_quiet": False}
    return Change(
        f"wired/{device.id}", Way.WIRED,
        f"Fit a wired detector of the same reach in place of {device.name}, and run a cable to it.", price,
        tuple(Edit(("devices", device.id, field), value) for field, value in facts.items()),
        frozenset({device.zone}), frozenset({f"rest/{device.id}"}), assumed=assumed,
        because="a wired detector does not sleep after a trip",
    )  # fmt: skip
