"""Which parts of a unit are explored together when it is proved alone, and which of these are alike.

A cone is a zone with its confirmation partners and its areas (with those that share their entry), or such a zone
beside a door that gives a delay, or what the unit watches. Everything else is left out: what stays still changes
nothing. Cones that differ only in names and in lengths of time are explored once; a part set or a device that does
what another does is its double.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from alarmlib.control.setup import Setup
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, WatchSetup, ZoneSetup
from alarmlib.control.system_faults import NOTIFICATION
from alarmlib.model.words import BURGLARY, FaultKind, Function, Word

_INFLUENCE = BURGLARY | {
    Function.ALWAYS_SIREN,
    Function.ALWAYS_MESSAGE,
    Function.TAMPER,
    Function.KEY_SWITCH,
    Function.FIRE,
    Function.WATER,
}
_GIVES_DELAY = frozenset({Function.ENTRY_EXIT})
Key = tuple[object, ...]
Distinct = tuple[tuple[str, ...], Setup, tuple[str, ...]]  # names, what is explored, names of those alike
_DOUBLES = 2
_OTHERWISE_COMPARED: dict[str, Any] = {
    "id": "",
    "areas": (),
    "devices": (),
    "partners": (),
    "entry_s": None,
    "exit_s": None,
    "repeat_limit": 0,
    "confirm_s": 0,
}


class Family(Word):
    """What may happen in a cone."""

    USE = "use", "setting, unsetting, leaving out, letting out, silence and reset, each trip"
    POWER = "power", "power lost and back while it is set, unset and tripped"
    TEST = "test", "the test mode, with setting and trips"
    BESIDE = "beside", "a door with a delay and another zone"
    CODES = "codes", "wrong and right codes at keypad and fob"
    FAULT = "fault", "what is watched, with setting, reset and power"


@dataclass(frozen=True)
class Cone:
    """Parts explored together: their setup, what may happen, what they are called, what else they cover."""

    setup: Setup
    family: Family
    about: tuple[str, ...]
    covers: tuple[str, ...] = ()


def cones_of(setup: Setup) -> tuple[Cone, ...]:
    """The cones of a setup, alike ones once.

    Our own construction (design, section 6); tests compare it with the whole unit.
    """
    singles = [(zone.id,) for zone in setup.zones if zone.function is not Function.UNUSED]
    zones = _distinct([(names, _zone_cone(setup, names)) for names in singles])
    found = [
        Cone(cone, family, names, others)
        for names, cone, others in zones
        for family in (Family.USE, Family.POWER, Family.TEST)
    ]
    pairs = _distinct([(names, _zone_cone(setup, names)) for names in _beside(setup)])
    found += [Cone(_unlimited(cone), Family.BESIDE, names, others) for names, cone, others in pairs]
    return (*found, *_codes(setup, zones), *_watched(setup))


def _unlimited(cone: Setup) -> Setup:
    """The same without repeat-trip limits: these are explored with each zone by itself."""
    return replace(cone, zones=tuple(replace(zone, repeat_limit=0) for zone in cone.zones))


def _beside(setup: Setup) -> Iterator[tuple[str, ...]]:
    """Each zone that gives a delay with each other that can influence it; two of the first kind once."""
    doors = [zone for zone in setup.zones if zone.function in _GIVES_DELAY]
    for at, door in enumerate(doors):
        for other in setup.zones:
            again = other in doors[: at + 1]
            alone = len(other.areas) == 1 and not other.partners and other.function in _INFLUENCE
            if alone and not again and set(door.areas) & set(other.areas):
                yield (door.id, other.id)


def _codes(setup: Setup, zones: list[Distinct]) -> Iterator[Cone]:
    """Codes beside one zone: one at the edge of the house if there is any."""
    first = min(zones, key=lambda each: not _at_edge(each[1].zones[0]), default=None)
    names, cone = first[:2] if first else ((), reduced(setup.only(())))
    yield Cone(cone, Family.CODES, names)


def _at_edge(zone: ZoneSetup) -> bool:
    return zone.function is Function.AT_ONCE and not zone.inside


def _watched(setup: Setup) -> Iterator[Cone]:
    """One cone for each kind of part that is watched alike, with one of its areas: each is told in the same way."""
    seen: dict[Key, list[WatchSetup]] = {}
    for watch in setup.watches:
        kind = (watch.kind is FaultKind.TAMPER, watch.kind in NOTIFICATION)
        key = (*kind, _length(watch.hold_s), watch.stops_setting, watch.latches)
        seen.setdefault(key, []).append(watch)
    for first, *others in seen.values():
        area = next((area for area in setup.areas if area.id in first.areas), setup.areas[0])
        bare = reduced(replace(setup.only(()), areas=(_parts_once(replace(area, follows=""), ()),)))
        watch = replace(first, zones=(), areas=(area.id,) if first.areas else ())
        yield Cone(replace(bare, watches=(watch,)), Family.FAULT, (first.id,), tuple(each.id for each in others))


def _zone_cone(setup: Setup, names: tuple[str, ...]) -> Setup:
    by_id = {zone.id: zone for zone in setup.zones}
    kept, todo = set(), list(names)
    while todo:
        name = todo.pop()
        if name not in kept and name in by_id:
            kept.add(name)
            todo += by_id[name].partners
    areas = {area for name in kept for area in by_id[name].areas}
    cone = replace(setup.only(kept), areas=_areas_with(setup, areas))
    first = {name: place for place, name in enumerate(names)}
    zones = sorted(cone.zones, key=lambda zone: first.get(zone.id, len(first)))
    cone = reduced(replace(cone, zones=tuple(zones)))
    return replace(cone, areas=tuple(_parts_once(area, cone.zones) for area in cone.areas))


def _parts_once(area: AreaSetup, zones: tuple[ZoneSetup, ...]) -> AreaSetup:
    """Two part sets at most of each kind: one may be changed for its double."""
    kept: list[PartSetup] = []
    for part in sorted(area.parts, key=lambda part: part.id != area.nobody_left):
        if sum(part_key(other, zones) == part_key(part, zones) for other in kept) < _DOUBLES:
            kept.append(part)
    return replace(area, parts=tuple(kept))


def _areas_with(setup: Setup, names: set[str]) -> tuple[AreaSetup, ...]:
    """These areas and those that share an entry with them."""
    follows = {area.id: area.follows for area in setup.areas if area.follows}
    while True:
        more = {a for pair in follows.items() if set(pair) & names for a in pair} - names
        if not more:
            return tuple(area for area in setup.areas if area.id in names)
        names = names | more


def reduced(setup: Setup) -> Setup:
    """The same without what no rule asks about: it changes words, loudness and messages, never whether or when.

    Left out: what is watched, the mark "just after setting", the siren time allowed in an hour, the abort window
    (it holds a message and refuses to set, and not setting is always possible), a detector's sleep after a trip (it
    then does not trip, and not tripping is always possible), chimes, and all devices of a zone but one that stays
    tripped and one that doesn't, unless the zone reports each.
    Our own construction; tests hold the whole unit against it.
    """
    facts = replace(setup.behaviour, recent_closing_s=0, exit_last_s=0, siren_cap_s=0)
    return replace(
        setup,
        areas=tuple(replace(area, abort_s=0) for area in setup.areas),
        zones=tuple(replace(zone, chime=False, devices=_devices(zone)) for zone in setup.zones),
        watches=(),
        behaviour=facts,
    )


def _devices(zone: ZoneSetup) -> tuple[DeviceSetup, ...]:
    devices = tuple(replace(d, sleep_s=0, movement_restarts_sleep=False) for d in zone.devices)
    if zone.reports_each_device:
        return devices
    first = {device.lasting: device for device in reversed(devices)}
    return tuple(first[lasting] for lasting in (True, False) if lasting in first)


def part_key(part: PartSetup, zones: tuple[ZoneSetup, ...]) -> Key:
    """What a part set is for these zones."""
    heard = tuple((zone.id in part.left_out, zone.id in part.doors_at_once) for zone in zones)
    return (heard, _length(part.exit_s))


def _length(time_s: int) -> int:
    """Lengths that are alike: none, one second, more."""
    return min(time_s, 2)


def _distinct(
    cones: list[tuple[tuple[str, ...], Setup]],
) -> list[Distinct]:
    """One cone of each kind, with those it covers; one with fewer kinds of part sets is in the other."""
    kinds: dict[Key, list[tuple[frozenset[Key], tuple[str, ...], Setup, list[str]]]] = {}
    for names, cone in sorted(cones, key=lambda each: -len(_part_keys(each[1]))):
        parts, found = _part_keys(cone), kinds.setdefault(_key(cone), [])
        over = next((each for each in found if parts <= each[0]), None)
        if over is None:
            found.append((parts, names, cone, []))
        else:
            over[3].append(" + ".join(names))
    return [(names, cone, tuple(others)) for found in kinds.values() for _, names, cone, others in found]


def _part_keys(cone: Setup) -> frozenset[Key]:
    many = len(cone.areas)
    found: set[Key] = set()
    for place, area in enumerate(cone.areas):
        keys = [part_key(part, cone.zones) for part in area.parts]
        found |= {(place, key, min(keys.count(key), 2)) for key in keys} | {(place, key, 1) for key in keys}
        if area.nobody_left:
            found.add((place, many, area.nobody_left))
    return frozenset(found)


def _key(cone: Setup) -> Key:
    place = {area.id: at for at, area in enumerate(cone.areas)}
    zone_place = {zone.id: at for at, zone in enumerate(cone.zones)}
    times = sorted({zone.entry_s for zone in cone.zones if zone.entry_s is not None})
    areas = tuple(
        (_length(a.exit_s), _length(a.entry_s), _length(a.siren_s), place.get(a.follows, -1)) for a in cone.areas
    )
    zones = tuple(
        (
            replace(z, **_OTHERWISE_COMPARED),
            tuple(place[area] for area in z.areas),
            tuple(replace(d, id="") for d in z.devices),
            tuple(zone_place[partner] for partner in z.partners),
            (None,) if z.entry_s is None else (times.index(z.entry_s), _length(z.entry_s)),
            None if z.exit_s is None else _length(z.exit_s),
            min(z.repeat_limit, 2),
            _length(z.confirm_s),
        )
        for z in cone.zones
    )
    return (areas, zones, cone.behaviour, cone.table, _exact(cone))


def _exact(cone: Setup) -> Key:
    """The lengths themselves where the unit compares a delay with another."""
    facts = cone.behaviour
    if not (facts.exit_ends_by_door or facts.later_door_shortens):
        return ()
    zones = tuple((zone.entry_s, zone.exit_s) for zone in cone.zones)
    return (zones, tuple((a.exit_s, a.entry_s, tuple(part.exit_s for part in a.parts)) for a in cone.areas))
