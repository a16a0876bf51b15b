"""Who is listening: each zone when nobody is in and in each part set."""

from enum import StrEnum

from alarmlib.model.control_unit import PartSet, Zone
from alarmlib.model.words import BURGLARY, Function


class ZoneListens(StrEnum):
    """What a zone does in one way of setting."""

    AT_ONCE = "listens"
    DELAYED = "listens, with delay"
    ALWAYS = "always on"
    LEFT_OUT = "left out"
    OUT_OF_USE = "out of use"
    ELSEWHERE = "another area"
    UNUSED = "does not guard"


_NOT_GUARDING = frozenset({Function.UNUSED, Function.KEY_SWITCH})
_DELAYED = frozenset({Function.ENTRY_EXIT, Function.ENTRY_ROUTE})


def listens(zone: Zone, part_set: PartSet | None) -> ZoneListens:
    """What the zone does in a part set, or, when that is None, with nobody in.

    The project's own words: the function says how a trip is treated, the part set who is listening.
    """
    if zone.function in _NOT_GUARDING:
        return ZoneListens.UNUSED
    if zone.out_of_use:
        return ZoneListens.OUT_OF_USE
    if zone.function not in BURGLARY:
        return ZoneListens.ALWAYS
    return _in_part_set(zone, part_set) if part_set else _listening(zone)


def _in_part_set(zone: Zone, part_set: PartSet) -> ZoneListens:
    if part_set.area and zone.areas and part_set.area not in zone.areas:
        return ZoneListens.ELSEWHERE
    if zone.id in part_set.left_out:
        return ZoneListens.LEFT_OUT
    at_once = any(door.zone == zone.id and not door.delayed for door in part_set.doors)
    return ZoneListens.AT_ONCE if at_once else _listening(zone)


def _listening(zone: Zone) -> ZoneListens:
    return ZoneListens.DELAYED if zone.function in _DELAYED else ZoneListens.AT_ONCE
