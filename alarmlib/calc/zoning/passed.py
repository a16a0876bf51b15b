"""Which zones people pass on the way out: the owner's own word first, else from where their devices are."""

from collections.abc import Iterable

from alarmlib.model.control_unit import Zone
from alarmlib.model.devices import Device
from alarmlib.model.questions import is_present
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, Function


def passed_leaving(zone: Zone, devices: Iterable[Device]) -> bool:
    """Whether people pass this zone's devices on the way out, so that they do not count during the exit delay.

    Where the owner has not said so: motion detectors that guard no way in. `devices` are all those of the home.
    Reference: common practice, no source.
    """
    if zone.passed_leaving is not Yes.UNKNOWN:
        return zone.passed_leaving is Yes.YES
    mine = [device for device in devices if device.zone == zone.id and is_present(device)]
    return bool(mine) and all(device.kind is DeviceKind.MOTION and not device.openings for device in mine)


def is_entry_exit_door(zone: Zone, devices: Iterable[Device]) -> bool:
    """Whether the zone is a door by which people come and go, no detector inside that starts the delay as well.

    Reference: common practice, no source.
    """
    return zone.function is Function.ENTRY_EXIT and not passed_leaving(zone, devices)
