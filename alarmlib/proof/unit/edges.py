"""Questions about one second of the unit that several rules ask; the answers never come from the function table."""

from collections.abc import Iterator

from alarmlib.control import inputs
from alarmlib.control.layout import A, AreaAt, U, Z, ZoneAt
from alarmlib.control.signals import Pattern, UnitEvent
from alarmlib.model.words import BURGLARY, Function
from alarmlib.proof.unit.timer_abstraction import AT_END, Edge

BURGLAR = frozenset({Pattern.BURGLARY, Pattern.EXIT_ERROR})
AS_LOUD = frozenset({Pattern.BURGLARY, Pattern.HOLD_UP, Pattern.CARBON_MONOXIDE, Pattern.FIRE})
GIVES_DELAY = frozenset({Function.ENTRY_EXIT})
ON_THE_ROUTE = frozenset({Function.ENTRY_EXIT, Function.ENTRY_ROUTE})
SOUNDS = BURGLARY | {Function.ALWAYS_SIREN}
_TRIPS = (inputs.Opens, inputs.Sees)
_FELT = (inputs.Opens, inputs.Sees, inputs.Closes)
_WHEN_SET = 2  # a zone's memory: it has given an alarm


def only_felt(edge: Edge) -> bool:
    """Only devices were heard of in this second; no person did anything at the unit or turned a key."""
    return all(isinstance(event, _FELT) for event in edge.happened) and not (edge.happened and key_turned(edge))


def hears(edge: Edge) -> bool:
    """The unit has power, listens to detectors and is not in test mode."""
    before = edge.before
    return not before[U.LOST] and not before[U.TEST] and before[U.IGNORE] in (0, AT_END)


def tripped_now(edge: Edge, zone: ZoneAt) -> bool:
    """A device of the zone tripped in this second."""
    device_of = edge.setup.layout.device_of
    return any(isinstance(event, _TRIPS) and device_of[event.device].zone is zone for event in edge.happened)


def in_use(edge: Edge, zone: ZoneAt) -> bool:
    """The zone was neither left out this time nor out of use all through this second."""
    slot = zone.base + Z.OUT
    return not edge.before[slot] or not edge.after[slot]


def is_tripped(edge: Edge, zone: ZoneAt) -> bool:
    """The zone tripped in this second or was tripped before it."""
    return bool(edge.before[zone.base + Z.SEEN]) or tripped_now(edge, zone)


def counts(edge: Edge, zone: ZoneAt) -> bool:
    """The zone is to be acted upon in this second: a fresh trip, or one not acted upon yet; in use, below its limit."""
    before, base = edge.before, zone.base
    if before[base + Z.OUT] or (zone.limit and before[base + Z.COUNT] >= zone.limit):
        return False
    normal = not before[base + Z.SEEN] or before[base + Z.HOLD] == AT_END
    return tripped_now(edge, zone) if normal else before[base + Z.SEEN] == 1


def listens(edge: Edge, zone: ZoneAt, area: AreaAt) -> bool:
    """The area is set, not only being set, and this zone is heard in that set."""
    before, base = edge.before, area.base
    set_at = before[base + A.SET]
    if not set_at or before[base + A.EXIT] or not zone.listens[area.place][set_at]:
        return False
    if before[base + A.LET] and zone.function in ON_THE_ROUTE:
        return False
    together = edge.setup.behaviour.common_needs_all and len(zone.areas) > 1
    return not together or all(before[other + A.SET] for other in zone.area_bases)


def at_once(edge: Edge, zone: ZoneAt, area: AreaAt) -> bool:
    """What its function and the set mean: this zone gives no delay and waits for none in this area just now."""
    before, set_at = edge.before, edge.before[area.base + A.SET]
    if zone.function is Function.ENTRY_EXIT and zone.at_once[area.place][set_at]:
        return True
    waits = before[area.base + A.ENTRY] or edge.after[area.base + A.ENTRY]
    if zone.function in GIVES_DELAY:
        return not zone.delay_s[area.place] and not waits
    return zone.function is not Function.ENTRY_ROUTE or not waits


def confirmed(edge: Edge, zone: ZoneAt) -> bool:
    """The zone needs no other, or another has tripped within the window."""
    if not zone.setup.confirm_s:
        return True
    others = [edge.setup.layout.zones[place] for place in zone.partners]
    before = edge.before
    return any(
        before[other.base + Z.MEMORY] >= _WHEN_SET
        or (before[other.base + Z.VERIFY] and before[other.base + Z.VERIFY] != AT_END)
        for other in others
    )


def sounds(edge: Edge, area: AreaAt, patterns: frozenset[Pattern] = AS_LOUD) -> bool:
    """A siren of one of these patterns sounds in the area."""
    return any(siren.area == area.id and siren.pattern in patterns for siren in edge.out.sirens)


def logged(edge: Edge, *events: UnitEvent) -> bool:
    """One of these events is in the log of this second."""
    return any(line.event in events for line in edge.out.log)


def unset(edge: Edge, area: AreaAt) -> bool:
    """This area was unset in this second."""
    return any(line.event is UnitEvent.UNSET and line.about == area.id for line in edge.out.log)


def alarm_of(edge: Edge, about: str) -> bool:
    """An alarm of this zone is in the log of this second."""
    return any(line.event is UnitEvent.ALARM and line.about == about for line in edge.out.log)


def happened(edge: Edge, *kinds: type) -> bool:
    """Something of these kinds happened."""
    return any(isinstance(event, kinds) for event in edge.happened)


def key_turned(edge: Edge) -> bool:
    """A key switch was used."""
    return any(zone.function is Function.KEY_SWITCH and tripped_now(edge, zone) for zone in edge.setup.layout.zones)


def causes(edge: Edge, area: AreaAt) -> Iterator[ZoneAt]:
    """The zones that may sound the burglar siren of this area in this second: tripped, in use, heard in its set."""
    sets_at = (edge.before[area.base + A.SET], edge.after[area.base + A.SET])
    for zone in area.zones:
        if zone.function in SOUNDS and is_tripped(edge, zone) and in_use(edge, zone):
            always = zone.function is Function.ALWAYS_SIREN
            if always or any(set_at and zone.listens[area.place][set_at] for set_at in sets_at):
                yield zone
