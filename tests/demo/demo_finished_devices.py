"""What the family fitted, moved and changed after the proof of their first plan, and the tests that followed."""

from demo_devices import Free, Household, free, household_alarm

from alarmlib.model.devices import Device
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind as K

CHANGED_ON = "2026-10-31"
"""The day on which all of it was done."""

_ADDED: tuple[Free, ...] = (
    ("conservatory_window_contact", "Conservatory window contact", K.CONTACT, "conservatory", ("conservatory_window",),
     (2.5, 12.0), 1.9, "conservatory_window", 35, 57),
    ("garage_contact", "Garage window contact", K.CONTACT, "garage", ("garage_window",), (18.0, 3.0), 1.9,
     "garage_window", 36, 47),
    ("hatch_contact", "Boiler room hatch contact", K.CONTACT, "boiler_room", ("boiler_room_hatch",), (9.6, 0.0), 1.9,
     "boiler_hatch", 37, 46),
    ("box_door_contact", "Box room door contact", K.CONTACT, "landing", ("landing_box",), (9.2, 6.0), 2.0, "box_door",
     38, 87),
    ("garage_corner_motion", "Garage corner motion detector", K.MOTION, "garage", (), (12.1, 5.9), 2.2,
     "garage_corner", 39, 52),
    ("second_fob", "Second parent's fob", K.FOB, "", (), None, None, "", 40, 60),
)  # fmt: skip
_ALARMS: tuple[Household, ...] = (
    ("spare_alarm", "Spare room smoke alarm", K.SMOKE, "spare_room", (2.5, 7.0), 2.4, "2026-03-04", 2.0),
    ("living_co_alarm", "Living room CO alarm", K.CARBON_MONOXIDE, "living", (1.4, 4.9), 1.6, "2026-03-04", 0.0),
)
_DONE = {"state": "fitted", "fitted_on": CHANGED_ON}
_CHANGES: dict[str, dict[str, object]] = {
    "main_alarm": {**_DONE, "at": (2.5, 4.3), "made_on": "2026-03-04",
                   "note": "A new one, further from the ceiling fan."},
    "cellar_alarm": {**_DONE, "note": "Linked to the others by radio."},
    "living_motion": {**_DONE, "facing_deg": 38.0, "note": "Turned so that the stove is out of its view."},
    "landing_motion": {
        **_DONE, "sleep_s": 30.0, "movement_restarts_sleep": False,
        "note": "Its switch for the sleep time is on the shortest.",
    },
    "garage_shock": {**_DONE, "zone": "garage_blows"},
    "boiler_co": {**_DONE, "zone": "cellar_co"},
    "teen_contact": {**_DONE, "note": "Its magnet was moved: on the latch it reads closed, opened further it trips."},
}  # fmt: skip
_BATTERY_YEARS = {"kitchen_motion": 2.5}
CHANGED = (*_CHANGES, *_BATTERY_YEARS)
"""Devices that were there before and are not now as they were."""


def added() -> tuple[Device, ...]:
    """What was not in the first plan."""
    new = (*(free(row) for row in _ADDED), *(household_alarm(row) for row in _ALARMS))
    return tuple(device.model_copy(update={"made_on": device.made_on, "fitted_on": CHANGED_ON}) for device in new)


def changed(device: Device) -> Device:
    """A device of the first plan as it is now."""
    facts = dict(_CHANGES.get(device.id, {}))
    if device.id == "cellar_alarm" and device.hazard is not None:
        facts["hazard"] = device.hazard.model_copy(update={"sounds_with_others": Yes.YES})
    if device.id == "main_alarm" and device.hazard is not None:
        facts["hazard"] = device.hazard.model_copy(update={"from_wall_m": 0.7})
    if device.id in _BATTERY_YEARS and device.wireless is not None:
        facts["wireless"] = device.wireless.model_copy(update={"battery_lasts_years": _BATTERY_YEARS[device.id]})
    return Device.model_validate(device.model_dump() | facts) if facts else device
