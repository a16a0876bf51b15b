"""Which facts a device of a kind has: a contact has no angle of view, a fob no height above the floor."""

from collections.abc import Mapping, Sequence

from alarmlib.model.devices import Device, DeviceType
from alarmlib.model.words import DETECTORS, HAZARD_KINDS, PLAIN_CONTACTS, DeviceKind, Link

_K = DeviceKind
_LOOKS = frozenset({_K.MOTION})
_GUARDS = frozenset({_K.CONTACT, _K.SHOCK, _K.GLASS_BREAK})
_PLAIN = frozenset({_K.CONTACT, _K.HOLD_UP, _K.KEY_SWITCH, _K.WATER, _K.LOW_TEMPERATURE})
_SENSES = DETECTORS - _PLAIN
_SOUNDS = HAZARD_KINDS | {_K.INSIDE_SOUNDER, _K.OUTSIDE_SIREN, _K.CONTROL_UNIT}
_BOXES = frozenset(_K) - DETECTORS - {_K.FOB}
_PLACED = frozenset(_K) - {_K.FOB}

KINDS: Mapping[str, frozenset[DeviceKind]] = {
    "range_m": frozenset({_K.MOTION, _K.GLASS_BREAK}),
    **dict.fromkeys(
        ("angle_deg", "straight_range_m", "looks_down_deg", "slowest_m_s", "ignores_pets_kg", "facing_deg"), _LOOKS
    ),
    **dict.fromkeys(("sleep_s", "movement_restarts_sleep", "warm_up_s"), _SENSES - HAZARD_KINDS),
    "contact_gap_mm": frozenset({_K.CONTACT}),
    "least_v": _PLACED - PLAIN_CONTACTS,
    **dict.fromkeys(("level_dba", "level_at_m", "tone_hz"), _SOUNDS),
    "has_hold_up": frozenset({_K.KEYPAD, _K.FOB, _K.CONTROL_UNIT}),
    "standby": _BOXES | HAZARD_KINDS,
    "tamper": _PLACED,
    "openings": _GUARDS,
    "passages": _GUARDS,
    "mount": HAZARD_KINDS | _LOOKS,
    **dict.fromkeys(("room", "at", "height_m", "fitted_on"), _PLACED),
    "made_on": HAZARD_KINDS,
    "hazard": HAZARD_KINDS,
    "hazard.sense": frozenset({_K.SMOKE}),
    "hazard.resists_cooking": frozenset({_K.SMOKE}),
    "hazard.rating_c": frozenset({_K.HEAT}),
    "hazard.listed_spacing_m": frozenset({_K.HEAT}),
    "hazard.fault_contact": frozenset({_K.CARBON_MONOXIDE}),
}
"""The kinds that a fact belongs to; one that is not here belongs to all of them."""
_LINKS = {
    "wireless": Link.WIRELESS,
    **dict.fromkeys(("circuit", "quiet_current_a", "alarm_current_a", "least_v"), Link.WIRED),
}
"""The connection that a fact belongs to."""


def belongs(whose: Device | DeviceType, path: Sequence[str]) -> bool:
    """Whether a device or a type has that fact: by its kind, and by how it is joined to the control unit.

    A fact that says something there already belongs to it, whatever its kind: nothing that was entered is hidden. The
    kind of a device that has a type is the type's.
    """
    name = path[0]
    if name == "kind" and isinstance(whose, Device) and whose.type:
        return False
    kinds = KINDS.get(".".join(path), KINDS.get(name))
    fits = (kinds is None or whose.kind in kinds) and _LINKS.get(name, whose.link) is whose.link
    return fits or _says(whose, path)


def _says(whose: Device | DeviceType, path: Sequence[str]) -> bool:
    part = whose if len(path) == 1 else getattr(whose, path[0], None)
    field = None if part is None else type(part).model_fields.get(path[-1])
    return field is not None and getattr(part, path[-1]) != field.default
