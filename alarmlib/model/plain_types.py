"""Plain types of devices to begin with: their values are assumed, and are called so until a manual is read.

Reference: 12 m, 90° and three minutes of sleep are common practice, no source; a contact draws no current of its own.
"""

from collections import Counter

from alarmlib.model.devices import DeviceType, WirelessFacts
from alarmlib.model.hazards import HazardTypeFacts
from alarmlib.model.home import Home
from alarmlib.model.words import DeviceKind, Link


def _plain(type_id: str, name: str, kind: DeviceKind, link: Link, **facts: float) -> DeviceType:
    parts = {"wireless": WirelessFacts(), "hazard": HazardTypeFacts()}
    return DeviceType.model_validate({"id": type_id, "name": name, "kind": kind, "link": link, **parts, **facts})


_EYE = {"range_m": 12.0, "angle_deg": 90.0}

PLAIN_TYPES = tuple(
    each.model_copy(update={"assumed": True})
    for each in (
        _plain("plain_contact_wired", "Plain contact, wired", DeviceKind.CONTACT, Link.WIRED, quiet_current_a=0.0,
               alarm_current_a=0.0),
        _plain("plain_contact_wireless", "Plain contact, wireless", DeviceKind.CONTACT, Link.WIRELESS),
        _plain("plain_motion_wired", "Plain motion detector, wired", DeviceKind.MOTION, Link.WIRED, **_EYE),
        _plain("plain_motion_wireless", "Plain motion detector, wireless", DeviceKind.MOTION, Link.WIRELESS, **_EYE,
               sleep_s=180.0),
        _plain("plain_keypad", "Plain keypad, wired", DeviceKind.KEYPAD, Link.WIRED),
        _plain("plain_fob", "Plain fob, wireless", DeviceKind.FOB, Link.WIRELESS),
        _plain("plain_sounder", "Plain inside sounder, wired", DeviceKind.INSIDE_SOUNDER, Link.WIRED),
        _plain("plain_siren", "Plain outside siren, wired", DeviceKind.OUTSIDE_SIREN, Link.WIRED),
        _plain("plain_smoke_alarm", "Plain smoke alarm, not joined to the control unit", DeviceKind.SMOKE, Link.OWN),
    )
)  # fmt: skip
"""The plain types, in the order in which they are offered. No level is assumed: a sounder's is measured or read."""


def with_plain_type(home: Home, wanted: DeviceType) -> Home:
    """The home with that type among its own; one that is there already stays as it is."""
    if any(each.id == wanted.id for each in home.device_types):
        return home
    return home.model_copy(update={"device_types": (*home.device_types, wanted)})


def own_type(home: Home, kind: DeviceKind, link: Link | None = None) -> DeviceType | None:
    """The home's own type of that kind and connection (any, where none is given) that most devices are of."""
    alike = [each for each in home.device_types if each.kind is kind and link in (None, each.link)]
    count = Counter(device.type for device in home.devices)
    return max(alike, key=lambda each: count[each.id], default=None)


def plain_type(kind: DeviceKind) -> DeviceType | None:
    """The first plain type of that kind; None where there is none."""
    return next((each for each in PLAIN_TYPES if each.kind is kind), None)
