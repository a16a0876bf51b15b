"""Why devices are in a zone, and why some found none, in plain words."""

from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.calc.zoning.zone_labels import joined
from alarmlib.calc.zoning.zone_types import ZoneDevice, ZoningLimits
from alarmlib.model.words import LIFE_SAFETY, PLAIN_CONTACTS, DeviceKind, Link

_KIND_WORD = {
    DeviceKind.CONTACT: "contact",
    DeviceKind.MOTION: "motion",
    DeviceKind.GLASS_BREAK: "glass",
    DeviceKind.SHOCK: "shock",
    DeviceKind.SMOKE: "smoke",
    DeviceKind.HEAT: "heat",
    DeviceKind.CARBON_MONOXIDE: "CO",
    DeviceKind.WATER: "water",
    DeviceKind.LOW_TEMPERATURE: "frost",
    DeviceKind.HOLD_UP: "hold-up",
    DeviceKind.KEY_SWITCH: "key switch",
}


@dataclass(frozen=True)
class NotFitting:
    """Devices that found no zone, by id, and why."""

    devices: tuple[str, ...]
    reason: str


def label(devices: Sequence[ZoneDevice]) -> str:
    """A name for the zone of these devices, not yet shortened.

    Reference: common practice, no source.
    """
    first = devices[0]
    if len(devices) == 1 and first.place:
        return _large(first.place)
    rooms = tuple(dict.fromkeys(device.room_name or device.room or device.name for device in devices))
    where = " + ".join(rooms) if len(rooms) < 3 or not first.floor else first.floor
    return _large(f"{where} {_what(devices)}")


def why_together(devices: Sequence[ZoneDevice], unit: ZoningLimits) -> str:
    """One sentence: why these devices, and no others, make up the zone."""
    if len(devices) == 1:
        return _why_alone(devices[0], unit)
    names = joined([device.name for device in devices])
    rooms = [device.room_name or device.room for device in devices]
    if len(set(rooms)) == 1:
        return (
            f"{_large(names)} share a zone because they are in one room and are treated alike "
            f"({devices[0].function.text}); a trip tells you the room."
        )
    floors = len({device.floor for device in devices}) == 1
    either = " or ".join(dict.fromkeys(rooms))
    where = "on one floor and" if floors else "on different floors, but"
    return (
        f"{_large(names)} share a zone because the control unit {_tight(devices[0], unit)}. They are {where} "
        f"treated alike. A trip will not tell you whether it was in {either}."
    )


def not_fitting(
    left_out: Sequence[Sequence[ZoneDevice]],
    homeless: Sequence[ZoneDevice],
    unit: ZoningLimits,
    zones_used: int,
) -> tuple[NotFitting, ...]:
    """Why each of these devices has no zone."""
    without = [
        NotFitting(
            (device.id,),
            f"{_large(device.name)} cannot be treated as it should be: the control unit has no function "
            f"“{device.function.text}” and nothing that comes near it.",
        )
        for device in homeless
    ]
    for devices in left_out:
        names = joined([device.name for device in devices])
        verb = "has" if len(devices) == 1 else "have"
        full = _full(devices[0], unit, zones_used)
        reason = f"{_large(names)} {verb} no place: the control unit is too small; it {full}."
        without.append(NotFitting(tuple(device.id for device in devices), reason))
    return tuple(without)


def _why_alone(device: ZoneDevice, unit: ZoningLimits) -> str:
    alone = f"{_large(device.name)} has a zone of its own because"
    if device.function in LIFE_SAFETY:
        return f"{alone} fire and gas must never be mistaken for anything else."
    if device.link is Link.WIRELESS and unit.tells_wireless_apart:
        return f"{alone} the control unit recognises each wireless device."
    if device.kind not in PLAIN_CONTACTS:
        return f"{alone} a detector that decides for itself should have a zone of its own."
    return f"{alone} nothing else in its room is treated alike ({device.function.text})."


def _tight(device: ZoneDevice, unit: ZoningLimits) -> str:
    if device.link is Link.WIRED and unit.circuits is not None:
        return f"has only {_counted(unit.circuits, 'detector circuit')}"
    return f"has only {_counted(unit.zones, 'zone')}" if unit.zones is not None else "needs fewer zones this way"


def _full(device: ZoneDevice, unit: ZoningLimits, zones_used: int) -> str:
    others = "and all are taken by devices that matter more or cannot share with this"
    if unit.zones is not None and zones_used >= unit.zones:
        return f"has {_counted(unit.zones, 'zone')}, {others}"
    if device.link is Link.WIRELESS:
        return f"has {_counted(unit.slots, 'place')} for wireless devices, and all are taken"
    return f"has {_counted(unit.circuits, 'detector circuit')}, {others}"


def _counted(number: int | None, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _what(devices: Sequence[ZoneDevice]) -> str:
    """What is guarded, in one word or two: "windows", "door and window", "smoke"."""
    words = [_thing(device) for device in devices]
    if len(set(words)) > 1:
        return joined(sorted(set(words)))
    plural = len(words) > 1 and words[0] in {"door", "window", "contact"}
    return words[0] + ("s" if plural else "")


def _thing(device: ZoneDevice) -> str:
    if device.kind is DeviceKind.CONTACT:
        found = [word for word in ("window", "door") if word in device.place.casefold()]
        if found:
            return found[0]
    return _KIND_WORD.get(device.kind, device.kind.text)


def _large(text: str) -> str:
    return text[:1].upper() + text[1:]
