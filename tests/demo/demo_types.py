"""The types of the invented home's devices: what their manuals say, once; the names are the household's own."""

from alarmlib.model.device_types import entry_of
from alarmlib.model.devices import Device, DeviceEntry, DeviceType
from alarmlib.store.upgrade_device_types import with_device_types

_NAMES = {
    "contact_wireless": "Small contact, wireless",
    "contact_wired": "Contact in the frame, wired",
    "motion_wired": "Corner motion detector, wired",
    "motion_wireless": "Corner motion detector, wireless",
    "smoke_own": "Household smoke alarm",
    "smoke_wired": "Smoke detector on the fire pair",
    "carbon_monoxide_own": "Household CO alarm",
    "keypad_wired": "Hall keypad",
    "keypad_wireless": "Wireless keypad",
}


def typed(devices: tuple[Device, ...]) -> tuple[tuple[DeviceType, ...], tuple[DeviceEntry, ...]]:
    """The types that these devices are of, and each device's entry: grouped as a file of before is brought up."""
    document = with_device_types({"devices": [entry_of(device).model_dump(mode="json") for device in devices]})
    types = (DeviceType.model_validate(each) for each in document["device_types"])
    named = (each.model_copy(update={"name": _NAMES.get(each.id, each.name)}) for each in types)
    return tuple(named), tuple(DeviceEntry.model_validate(each) for each in document["devices"])
