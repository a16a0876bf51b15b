"""Where each part is in the flat state, and what each part needs to know, computed once for a setup."""

from dataclasses import dataclass
from enum import IntEnum

from alarmlib.control.functions import FUNCTION_AT, Action, FunctionTable, Situation
from alarmlib.control.setup_parts import AreaSetup, WatchSetup, ZoneSetup
from alarmlib.model.words import Function

State = tuple[int, ...]


class U(IntEnum):
    """Places of the unit's own numbers."""

    LOST = 0  # 1: dead, mains and standby gone
    IGNORE = 1  # rest of the time in which detectors are ignored
    TEST = 2  # rest of the test time
    WRONG = 3  # wrong codes in a row
    LOCK = 4  # rest of the keypad lock
    HOLD_UP_OFF = 5  # 1: the hold-up side is switched off
    CAP_USED = 6  # seconds of outside siren since the last long quiet
    CAP_QUIET = 7  # rest of the quiet that clears CAP_USED


class A(IntEnum):
    """Places within an area part."""

    SET = 0  # 0 unset, 1 set with nobody in, 2... part sets
    EXIT = 1  # rest of the exit time
    EXIT_DOOR = 2  # 0 untouched, 1 opened, 2 closed again, 3 opened again (restart used)
    OUTSIDE = 3  # 1: set from outside (while the exit time runs)
    ENTRY = 4  # rest of the entry delay
    EXIT_ERROR = 5  # 1: the entry delay runs because of an exit error
    LET = 6  # rest of the time for letting somebody out
    LET_DOOR = 7  # by which zone (its place + 1)
    RECENT = 8  # rest of "just after setting"
    SIREN = 9  # rest of the siren time
    SOUND = 10  # rank of what sounds
    LIFE = 11  # 1 carbon monoxide, 2 fire, 3 both sounding
    TONES = 12  # 1 water, 2 low temperature
    ABORT = 13  # rest of the abort window: a message is held
    MARK = 14  # marks of the held message: 1 just after setting, 2 exit error, 4 confirmed
    SENT = 15  # 1: a burglary message has been sent for this alarm


class Z(IntEnum):
    """Places within a zone part."""

    SEEN = 0  # 0 normal, 1 tripped and not acted upon, 2 tripped and acted upon
    OUT = 1  # 0 in use, 1 left out this time, 2 out of use
    COUNT = 2  # alarms in this set period, up to the limit
    MEMORY = 3  # 0 none, 1 waits for the entry delay, 2 alarm, 3 alarm and waits again
    VERIFY = 4  # rest of its confirmation window
    HOLD = 5  # rest of the time it must stay normal


SET_FULL_AT = 1
NEVER_LEFT_OUT = frozenset(
    {Function.FIRE, Function.CARBON_MONOXIDE, Function.HOLD_UP, Function.TAMPER, Function.KEY_SWITCH, Function.UNUSED}
)
NO_REPEAT_LIMIT = frozenset({Function.FIRE, Function.CARBON_MONOXIDE, Function.HOLD_UP})


@dataclass(frozen=True, slots=True)
class AreaAt:
    """An area part: its place in the state, its sets, zones and entry/exit doors."""

    place: int
    base: int
    setup: AreaSetup
    id: str
    set_of: dict[str, int]
    exit_s: tuple[int, ...]
    zones: tuple["ZoneAt", ...]
    doors: tuple["ZoneAt", ...]
    followers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DeviceAt:
    """A device: its zone and the place of its number (-1 when it has none)."""

    zone: "ZoneAt"
    slot: int
    lasting: bool
    sleep_s: int
    restarts: bool


@dataclass(frozen=True, slots=True, eq=False)
class ZoneAt:
    """A zone part: its place in the state, its row of the table, its place in each set of each of its areas."""

    place: int
    base: int
    setup: ZoneSetup
    id: str
    function: Function
    actions: tuple[Action, ...]
    areas: tuple[int, ...]
    area_bases: tuple[int, ...]
    listens: dict[int, tuple[bool, ...]]
    at_once: dict[int, tuple[bool, ...]]
    delay_s: dict[int, int]
    levels: tuple[int, ...]
    partners: tuple[int, ...]
    limit: int
    route: bool
    is_door: bool


@dataclass(frozen=True, slots=True)
class WatchAt:
    """Something watched: the place of its number, its areas."""

    slot: int
    setup: WatchSetup
    areas: tuple[int, ...]


@dataclass(frozen=True)
class Layout:
    """All parts of a setup by place and by id."""

    areas: tuple[AreaAt, ...]
    zones: tuple[ZoneAt, ...]
    area_of: dict[str, AreaAt]
    zone_of: dict[str, ZoneAt]
    device_of: dict[str, DeviceAt]
    watch_of: dict[str, WatchAt]
    watches: tuple[WatchAt, ...]
    quiet_slots: tuple[int, ...]
    seen_slots: tuple[tuple[int, ZoneAt], ...]
    passing: tuple[tuple[int, ZoneAt], ...]
    timed_zones: tuple[ZoneAt, ...]
    first_watch: int
    size: int

    @staticmethod
    def of(
        areas: tuple[AreaSetup, ...],
        zones: tuple[ZoneSetup, ...],
        watches: tuple[WatchSetup, ...],
        table: FunctionTable,
    ) -> "Layout":
        """The layout of what is entered; `KeyError` when an area, zone or part set is named that isn't there."""
        return _lay_out(areas, zones, watches, table)


def _lay_out(
    areas: tuple[AreaSetup, ...], zones: tuple[ZoneSetup, ...], watches: tuple[WatchSetup, ...], table: FunctionTable
) -> Layout:
    area_place = {area.id: place for place, area in enumerate(areas)}
    zone_place = {zone.id: place for place, zone in enumerate(zones)}
    zone_base = len(U) + len(A) * len(areas)
    slot = zone_base + len(Z) * len(zones)
    zones_at: list[ZoneAt] = []
    devices: dict[str, DeviceAt] = {}
    for place, zone in enumerate(zones):
        kept = _device_slots(zone, slot)
        slot += sum(at >= 0 for at in kept)
        at_zone = _zone(areas, table, zone, zone_base + len(Z) * place, kept, (area_place, zone_place))
        zones_at.append(at_zone)
        devices |= _devices(zone, at_zone, kept)
    watches_at = tuple(
        WatchAt(slot + place, watch, tuple(area_place[area] for area in watch.areas))
        for place, watch in enumerate(watches)
    )
    areas_at = tuple(_area(areas, place, zones_at) for place in range(len(areas)))
    return Layout(
        areas_at,
        tuple(zones_at),
        area_of={area.id: area for area in areas_at},
        zone_of={zone.id: zone for zone in zones_at},
        device_of=devices,
        watch_of={watch.setup.id: watch for watch in watches_at},
        watches=watches_at,
        quiet_slots=tuple(device.slot for device in devices.values() if device.sleep_s),
        seen_slots=tuple((zone.base + Z.SEEN, zone) for zone in zones_at),
        passing=tuple(
            (zone.base + Z.SEEN, zone) for zone in zones_at if any(not d.lasting for d in zone.setup.devices)
        ),
        timed_zones=tuple(zone for zone in zones_at if zone.setup.confirm_s or zone.setup.restore_hold_s),
        first_watch=slot,
        size=slot + len(watches),
    )


def _device_slots(zone: ZoneSetup, first: int) -> tuple[int, ...]:
    """A place for each device that has a lasting state or a sleep time, -1 for the others."""
    slots = []
    for device in zone.devices or (None,):
        keeps = device is None or device.lasting or device.sleep_s > 0
        slots.append(first if keeps else -1)
        first += keeps
    return tuple(slots)


def _devices(zone: ZoneSetup, at: ZoneAt, slots: tuple[int, ...]) -> dict[str, DeviceAt]:
    if not zone.devices:
        return {zone.id: DeviceAt(at, slots[0], True, 0, False)}
    return {
        device.id: DeviceAt(
            at, slot, device.lasting, 0 if device.lasting else device.sleep_s, device.movement_restarts_sleep
        )
        for device, slot in zip(zone.devices, slots, strict=True)
    }


def _zone(
    entered: tuple[AreaSetup, ...],
    table: FunctionTable,
    zone: ZoneSetup,
    base: int,
    slots: tuple[int, ...],
    places: tuple[dict[str, int], dict[str, int]],
) -> ZoneAt:
    area_place, zone_place = places
    areas = tuple(area_place[area] for area in zone.areas)
    sets = {place: entered[place] for place in areas}
    lasting = (True,) if not zone.devices else tuple(device.lasting for device in zone.devices)
    return ZoneAt(
        zone_place[zone.id],
        base,
        setup=zone,
        id=zone.id,
        function=zone.function,
        actions=_row(table, zone),
        areas=areas,
        area_bases=tuple(len(U) + len(A) * place for place in areas),
        listens={
            place: (False, True, *(zone.id not in part.left_out for part in area.parts)) for place, area in sets.items()
        },
        at_once={
            place: (False, False, *(zone.id in part.doors_at_once for part in area.parts))
            for place, area in sets.items()
        },
        delay_s={place: area.entry_s if zone.entry_s is None else zone.entry_s for place, area in sets.items()},
        levels=tuple(slot for slot, stays in zip(slots, lasting, strict=True) if stays),
        partners=tuple(zone_place[partner] for partner in zone.partners),
        limit=0 if zone.function in NO_REPEAT_LIMIT else zone.repeat_limit,
        route=zone.function is Function.ENTRY_ROUTE or (zone.function is Function.ENTRY_EXIT and zone.inside),
        is_door=zone.function is Function.ENTRY_EXIT and not zone.inside,
    )


def _row(table: FunctionTable, zone: ZoneSetup) -> tuple[Action, ...]:
    """The zone's row of the table; devices inside that people pass have a column of their own during the exit delay."""
    row = list(table[FUNCTION_AT[zone.function]])
    if zone.inside:
        row[Situation.EXIT] = row[Situation.EXIT_INSIDE]
    return tuple(row)


def _area(areas: tuple[AreaSetup, ...], place: int, zones: list[ZoneAt]) -> AreaAt:
    area = areas[place]
    mine = tuple(zone for zone in zones if place in zone.areas)
    names = {"": SET_FULL_AT} | {part.id: SET_FULL_AT + 1 + at for at, part in enumerate(area.parts)}
    return AreaAt(
        place,
        len(U) + len(A) * place,
        setup=area,
        id=area.id,
        set_of=names,
        exit_s=(0, area.exit_s, *(part.exit_s for part in area.parts)),
        zones=mine,
        doors=tuple(zone for zone in mine if zone.is_door),
        followers=tuple(at for at, other in enumerate(areas) if other.follows == area.id),
    )


def situation_of(state: list[int] | State, zone: ZoneAt, place: int, base: int, needs_all: bool) -> Situation:
    """Which column of the table holds for this zone as far as the area at `place` is concerned.

    Our own order of precedence: test, unset, left out, exit, at once, entry, alarm, set.
    """
    if state[U.TEST]:
        return Situation.TEST
    set_at = state[base + A.SET]
    if not set_at:
        return Situation.UNSET
    if not zone.listens[place][set_at] or (needs_all and len(zone.areas) > 1 and _waits_for_other(state, zone)):
        return Situation.LEFT_OUT
    return _listening(state, zone, place, base)


def _listening(state: list[int] | State, zone: ZoneAt, place: int, base: int) -> Situation:
    set_at = state[base + A.SET]
    if state[base + A.EXIT] or (state[base + A.LET] and (zone.route or state[base + A.LET_DOOR] == zone.place + 1)):
        return Situation.EXIT
    if zone.at_once[place][set_at]:
        return Situation.PART_AT_ONCE
    if state[base + A.ENTRY]:
        return Situation.ENTRY
    if state[base + A.SIREN]:
        return Situation.ALARM
    return Situation.SET_FULL if set_at == SET_FULL_AT else Situation.PART_SET


def _waits_for_other(state: list[int] | State, zone: ZoneAt) -> bool:
    return not all(state[base + A.SET] for base in zone.area_bases)
