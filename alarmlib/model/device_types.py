"""From the entry of a device and its type to the device with every fact."""

from collections.abc import Iterable, Mapping

from alarmlib.model.devices import Device, DeviceEntry, DeviceType, Wireless
from alarmlib.model.differences import joined
from alarmlib.model.hazards import HazardFacts
from alarmlib.model.words import HAZARD_KINDS, Link


def whole_devices(entries: Iterable[DeviceEntry], types: Mapping[str, DeviceType]) -> tuple[Device, ...]:
    """Each device with every fact: its own, else its type's."""
    return tuple(whole_device(entry, types.get(entry.type)) for entry in entries)


def whole_device(entry: DeviceEntry, its_type: DeviceType | None) -> Device:
    """One device with every fact: its own, else its type's, else as the field is declared.

    Its kind is its type's, where it has one. Wireless facts of the type count where the device is wireless, facts
    of smoke, heat and CO where it is of such a kind.
    """
    kind = {} if its_type is None else {"kind": its_type.kind}
    device = joined(Device, entry, its_type, wireless=None, hazard=None, **kind)
    radio = None if its_type is None or device.link is not Link.WIRELESS else its_type.wireless
    hazard = None if its_type is None or device.kind not in HAZARD_KINDS else its_type.hazard
    parts = {
        "wireless": joined(Wireless, entry.wireless, radio) if entry.wireless or radio else None,
        "hazard": joined(HazardFacts, entry.hazard, hazard) if entry.hazard or hazard else None,
    }
    return device.model_copy(update=parts)


def entry_of(device: Device) -> DeviceEntry:
    """The entry of a device that is of no type: every fact is its own."""
    return DeviceEntry.model_validate(device.model_dump() | {"type": ""})
