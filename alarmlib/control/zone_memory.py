"""The signals an area sends to its zone parts, and what they answer: the only other writer of a zone's numbers."""

from alarmlib.control.layout import A, AreaAt, U, Z, ZoneAt
from alarmlib.control.tick import Tick
from alarmlib.model.words import BURGLARY, Function

_CLEARED_BY_SETTING = BURGLARY | {Function.ALWAYS_SIREN, Function.ALWAYS_MESSAGE}
WAITING, ALARMED, AGAIN = 1, 2, 3


def count_alarm(t: Tick, zone: ZoneAt) -> None:
    """The zone has given an alarm: remember it, and count it towards its repeat-trip limit."""
    t.s[zone.base + Z.MEMORY] = ALARMED
    if zone.limit:
        t.s[zone.base + Z.COUNT] = min(zone.limit, t.s[zone.base + Z.COUNT] + 1)


def waits(t: Tick, zone: ZoneAt) -> None:
    """The zone waits for the entry delay of its area."""
    t.s[zone.base + Z.MEMORY] = AGAIN if t.s[zone.base + Z.MEMORY] >= ALARMED else WAITING


def alarmed(t: Tick, area: AreaAt) -> tuple[str, ...]:
    """The zones of the area whose alarm is remembered."""
    return tuple(zone.id for zone in area.zones if t.s[zone.base + Z.MEMORY] >= ALARMED)


def intruded(t: Tick, area: AreaAt) -> tuple[str, ...]:
    """The zones of the area that a burglary message names."""
    return tuple(zone.id for zone in area.zones if zone.function in BURGLARY and t.s[zone.base + Z.MEMORY] >= ALARMED)


def delay_expired(t: Tick, area: AreaAt) -> list[ZoneAt]:
    """The entry delay ended: the zones that waited, now in alarm; a shared zone may be so by its other area already."""
    due = [zone for zone in area.zones if t.s[zone.base + Z.MEMORY] in (WAITING, AGAIN)]
    for zone in due:
        count_alarm(t, zone)
    if due:
        return due
    shared = (zone for zone in area.zones if len(zone.areas) > 1 and zone.function in BURGLARY)
    return [zone for zone in shared if t.s[zone.base + Z.MEMORY] == ALARMED]


def period_starts(t: Tick, area: AreaAt) -> None:
    """The area is being set: counts start again, old burglary memory is gone, but of zones another set area shares."""
    for zone in area.zones:
        if any(t.s[base + A.SET] for base in zone.area_bases if base != area.base):
            continue
        t.s[zone.base + Z.COUNT] = 0
        if zone.function in _CLEARED_BY_SETTING:
            t.s[zone.base + Z.MEMORY] = 0


def period_ends(t: Tick, area: AreaAt) -> None:
    """The area is unset: leaving out, counts and windows end where no other area of the zone is still set."""
    for zone in area.zones:
        if any(t.s[base + A.SET] for base in zone.area_bases):
            continue
        t.s[zone.base + Z.COUNT] = t.s[zone.base + Z.VERIFY] = 0
        if t.s[zone.base + Z.MEMORY] in (WAITING, AGAIN):
            t.s[zone.base + Z.MEMORY] -= 1  # only waiting: forgotten; alarmed before: remembered
        if t.s[zone.base + Z.OUT] == 1:
            t.s[zone.base + Z.OUT] = 0


def inhibited(t: Tick, area: AreaAt) -> tuple[str, ...]:
    """The zones of the area that are left out this time or out of use."""
    return tuple(zone.id for zone in area.zones if t.s[zone.base + Z.OUT])


def shut_out(t: Tick, area: AreaAt) -> tuple[str, ...]:
    """The zones of the area that have given as many alarms in this set period as the unit listens to."""
    return tuple(zone.id for zone in area.zones if 0 < zone.limit <= t.s[zone.base + Z.COUNT])


def is_open(t: Tick, zone: ZoneAt) -> bool:
    """Tripped, in use, and heard at all just now."""
    return t.s[zone.base + Z.SEEN] > 0 and not t.s[zone.base + Z.OUT] and not t.s[U.IGNORE]
