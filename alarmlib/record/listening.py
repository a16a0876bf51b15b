"""Who is listening: each zone in armed away and in each part set."""

from enum import StrEnum

from alarmlib.model.control_unit import PartSet, Zone
from alarmlib.model.words import BURGLARY, Function


class Standing(StrEnum):
    """What a zone does in one way of arming."""

    AT_ONCE = "listens"
    DELAYED = "listens, with delay"
    ALWAYS = "always on"
    LEFT_OUT = "left out"
    OUT_OF_USE = "out of use"
    ELSEWHERE = "another area"
    UNUSED = "does not guard"


_NOT_GUARDING = frozenset({Function.UNUSED, Function.KEY_SWITCH})
_DELAYED = frozenset({Function.ENTRY_EXIT, Function.ENTRY_ROUTE})


def standing(zone: Zone, part_set: PartSet | None) -> Standing:
    """What the zone does in a part set, or in armed away when that is None.

    The project's own words: the function says how a trip is treated, the part set who is listening.
    """
    if zone.function in _NOT_GUARDING:
        return Standing.UNUSED
    if zone.out_of_use:
        return Standing.OUT_OF_USE
    if zone.function not in BURGLARY:
        return Standing.ALWAYS
    return _in_part_set(zone, part_set) if part_set else _listening(zone)


def _in_part_set(zone: Zone, part_set: PartSet) -> Standing:
    if part_set.area and zone.areas and part_set.area not in zone.areas:
        return Standing.ELSEWHERE
    if zone.id in part_set.left_out:
        return Standing.LEFT_OUT
    at_once = any(door.zone == zone.id and not door.delayed for door in part_set.doors)
    return Standing.AT_ONCE if at_once else _listening(zone)


def _listening(zone: Zone) -> Standing:
    return Standing.DELAYED if zone.function in _DELAYED else Standing.AT_ONCE
