"""From version 1 to 2: what manuals say of devices goes into types, each entered once; no device loses a value.

Names of fields are those of version 2 and are kept here for good: a later version changes nothing in this step.
"""

from collections import Counter
from typing import Any

Document = dict[str, Any]
Key = tuple[str, ...]
DeviceFacts = dict[Key, Any]

_OWN = frozenset(
    {"id", "name", "type", "state", "room", "openings", "passages", "at", "height_m", "mount", "facing_deg", "zone"}
    | {"circuit", "made_on", "fitted_on", "price", "note"}
)
_PARTS = {
    "wireless": frozenset({"slot", "battery_fitted_on", "signal", "repeater", "trips_a_day"}),
    "hazard": frozenset(
        {"sounds_with_others", "fault_contact", "from_wall_m", "below_ceiling_m", "from_peak_m", "below_peak_m"}
        | {"in_air_stream"}
    ),
}
"""The parts of a device, and what in them is the device's own."""
_JOINED = "wireless"
_HAZARDS = frozenset({"smoke", "heat", "carbon_monoxide"})
_BLANK: DeviceFacts = {
    ("link",): "wired",
    ("sleep_s",): 0,
    ("movement_restarts_sleep",): False,
    ("warm_up_s",): 0,
    ("tamper",): "unknown",
    ("has_hold_up",): False,
    ("standby",): "unknown",
    ("wireless", "battery"): "unknown",
    ("wireless", "reports_low_battery"): "unknown",
    ("hazard", "sense"): "unknown",
    ("hazard", "hush"): "unknown",
    ("hazard", "resists_cooking"): "unknown",
}
"""The values of version 1 for facts that were not entered; every other fact was then null."""
_KIND_WORDS = {
    "motion": "motion detector",
    "glass_break": "glass-break detector",
    "shock": "shock detector",
    "smoke": "smoke detector",
    "heat": "heat detector",
    "carbon_monoxide": "carbon monoxide detector",
    "water": "water detector",
    "low_temperature": "low-temperature sensor",
    "hold_up": "hold-up button",
}
_LINK_WORDS = {
    "wired": "wired",
    "wireless": "wireless",
    "own": "not joined to the control unit",
}
FEW = 2
"""So many facts may differ from a type before a device gets one of its own."""


def with_device_types(document: Document) -> Document:
    """The document with types for its devices: each device has, through its type, the values that it had.

    Devices alike in every fact of a manual share a type; one that differs in few of them says so itself. The document
    given is not changed, and what is no device is left to those who say what is wrong with it.
    """
    devices = document.get("devices")
    there = document.get("device_types") or []
    if not isinstance(devices, list) or not isinstance(there, list):
        return document
    told = {n: _facts(device) for n, device in enumerate(devices) if _is_device(device)}
    types = _types(told, [each["id"] for each in there if isinstance(each, dict) and isinstance(each.get("id"), str)])
    entries = [
        _entry(device, told[n], *_best(told[n], types)) if n in told else device for n, device in enumerate(devices)
    ]
    return document | {
        "device_types": [*there, *(_type(name, facts) for name, facts in types.items())],
        "devices": entries,
    }


def _is_device(device: Any) -> bool:
    parts_right = isinstance(device, dict) and all(isinstance(device.get(part) or {}, dict) for part in _PARTS)
    return parts_right and isinstance(device.get("kind"), str) and not device.get("type") and _is_plain(device)


def _is_plain(device: Document) -> bool:
    """Whether each fact of a manual is one value, as all of them are."""
    facts = [value for name, value in device.items() if name not in _OWN and name not in _PARTS]
    inside = [value for part in _PARTS for value in (device.get(part) or {}).values()]
    return not any(isinstance(value, list | dict) for value in (*facts, *inside))


def _facts(device: Document) -> DeviceFacts:
    """What the manual says of a device, blanks left out; () means each part that the device has."""
    found: DeviceFacts = {(name,): value for name, value in device.items() if name not in _OWN and name not in _PARTS}
    for part, own in _PARTS.items():
        inside = device.get(part)
        if inside is None or not _counts(device, part):
            continue
        found[part, ""] = True
        found |= {(part, name): value for name, value in inside.items() if name not in own}
    return {key: value for key, value in found.items() if value is not None and value != _BLANK.get(key, _MISSING)}


def _counts(device: Document, part: str) -> bool:
    """Whether what a type says in that part counts for such a device; where not, the device keeps it all."""
    return device.get("link") == _JOINED if part == _JOINED else device.get("kind") in _HAZARDS


_MISSING = object()


def _types(told: dict[int, DeviceFacts], taken: list[Any]) -> dict[str, DeviceFacts]:
    """The types by id: facts that several devices share, then those too far from any of these."""
    counted = Counter(_frozen(facts) for facts in told.values())
    types: dict[str, DeviceFacts] = {}
    for frozen, count in sorted(counted.items(), key=lambda each: -each[1]):
        facts = dict(frozen)
        if count > 1 or not any(_differs(facts, known) is not None for known in types.values()):
            types[_free_id(facts, {*types, *taken})] = facts
    return types


def _frozen(facts: DeviceFacts) -> tuple[tuple[Key, Any], ...]:
    return tuple(sorted(facts.items(), key=lambda each: each[0]))


def _differs(facts: DeviceFacts, known: DeviceFacts) -> DeviceFacts | None:
    """What a device says otherwise than a type; None where that is much, or where it has no words for it."""
    same = (("kind",), ("link",), *((part, "") for part in _PARTS))
    if any(facts.get(key) != known.get(key) for key in same):
        return None
    other = {key: facts.get(key, _BLANK.get(key)) for key in facts.keys() | known.keys()}
    other = {key: value for key, value in other.items() if value != known.get(key)}
    return other if len(other) <= FEW and None not in other.values() else None


def _best(facts: DeviceFacts, types: dict[str, DeviceFacts]) -> tuple[str, DeviceFacts]:
    """The type nearest to a device, and what the device says otherwise."""
    near = ((name, _differs(facts, known)) for name, known in types.items())
    able = [(name, other) for name, other in near if other is not None]
    return min(able, key=lambda each: len(each[1]))


def _free_id(facts: DeviceFacts, taken: set[Any]) -> str:
    words = f"{facts['kind',]}_{facts.get(('link',), _BLANK['link',])}".lower()
    stem = "".join(sign if sign.isascii() and sign.isalnum() else "_" for sign in words).strip("_")[:40] or "type"
    return (
        stem
        if stem not in taken
        else next(f"{stem}_{n}" for n in range(2, len(taken) + 3) if f"{stem}_{n}" not in taken)
    )


def _type(name: str, facts: DeviceFacts) -> Document:
    kind, link = (str(facts.get(key, _BLANK.get(key))) for key in (("kind",), ("link",)))
    number = name.rpartition("_")[2]
    words = f"{_KIND_WORDS.get(kind, kind).replace('_', ' ').capitalize()}, {_LINK_WORDS.get(link, link)}"
    made: Document = {"id": name, "name": f"{words}, {number}" if number.isdigit() else words}
    return made | _put(facts, {})


def _entry(device: Document, facts: DeviceFacts, type_id: str, other: DeviceFacts) -> Document:
    """What is the device's own, its type, and what it says otherwise."""
    made = {name: value for name, value in device.items() if name in _OWN} | {"type": type_id}
    for part, own in _PARTS.items():
        inside = device.get(part)
        if inside is not None:
            kept = (part, "") not in facts
            made[part] = {name: value for name, value in inside.items() if kept or name in own}
    return _put(other, made)


def _put(facts: DeviceFacts, made: Document) -> Document:
    for key, value in facts.items():
        if len(key) == 1:
            made[key[0]] = value
        else:
            made[key[0]] = (made.get(key[0]) or {}) | ({key[1]: value} if key[1] else {})
    return made
