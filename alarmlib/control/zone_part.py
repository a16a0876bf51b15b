"""The zone part, the same for every zone: what its devices say, whether it counts, what the table does with it."""

from alarmlib.control import area_part, exiting, system_faults, zone_memory
from alarmlib.control.actions import ACT, ACTED, ALARMING, CONFIRMABLE, COUNTED, ONCE, WAITING
from alarmlib.control.functions import Action
from alarmlib.control.inputs import Closes, Opens, Sees
from alarmlib.control.layout import AreaAt, U, Z, ZoneAt, situation_of
from alarmlib.control.setup import OffRouteTrip
from alarmlib.control.signals import Notice, Tone, UnitEvent
from alarmlib.control.tick import Tick, Trip
from alarmlib.model.words import Function

_LIFE = frozenset({Function.FIRE, Function.CARBON_MONOXIDE})


def opens(t: Tick, event: Opens) -> None:
    """A lasting device is tripped: a new trip when the zone was normal, or when it reports each device."""
    device = t.lay.device_of[event.device]
    if t.s[device.slot]:
        return
    t.s[device.slot] = 1
    _trip(t, device.zone)


def closes(t: Tick, event: Closes) -> None:
    """A lasting device is normal again; the zone is when all its devices are."""
    device = t.lay.device_of[event.device]
    t.s[device.slot] = 0
    _perhaps_normal(t, device.zone)


def sees(t: Tick, event: Sees) -> None:
    """A device without a lasting state is tripped, unless it is in its sleep time."""
    device = t.lay.device_of[event.device]
    if device.slot >= 0:
        quiet = t.s[device.slot] > 0
        if not quiet or device.restarts:
            t.s[device.slot] = device.sleep_s
        if quiet:
            return
    t.seen_now.add(device.zone.place)
    _trip(t, device.zone)


def _trip(t: Tick, zone: ZoneAt) -> None:
    seen = zone.base + Z.SEEN
    t.s[zone.base + Z.HOLD] = 0
    if t.s[seen] and not zone.setup.reports_each_device:
        return
    t.s[seen] = 1
    if t.s[U.LOST]:
        return
    t.log(UnitEvent.TRIP, zone.id)
    hear(t, zone, True)


def hear(t: Tick, zone: ZoneAt, fresh: bool) -> None:
    """Do what the table says for each area of the zone; once acted upon, a trip is not acted upon again."""
    if t.s[U.LOST] or t.s[zone.base + Z.OUT] or _ignored(t, zone):
        return
    todo = _asked_of_table(t, zone, fresh)
    actions = {action for _, action in todo}
    if actions & COUNTED and _shut_out(t, zone):
        return
    mark = _confirmation(t, zone, actions)
    if mark is None:
        return
    if actions & ALARMING:
        zone_memory.count_alarm(t, zone)
    for area, action in todo:
        ACT[action](t, Trip(area, zone, action, mark))
    if actions & WAITING:
        zone_memory.waits(t, zone)
    if actions & ACTED:
        t.s[zone.base + Z.SEEN] = 2


def _ignored(t: Tick, zone: ZoneAt) -> bool:
    """Whether power has just come back and the unit hears nothing of this zone yet; fire and CO it may hear at once."""
    return t.s[U.IGNORE] > 0 and not (t.facts.life_heard_after_power and zone.function in _LIFE)


def _asked_of_table(t: Tick, zone: ZoneAt, fresh: bool) -> list[tuple[AreaAt, Action]]:
    needs_all = t.facts.common_needs_all
    found = []
    for place, base in zip(zone.areas, zone.area_bases, strict=True):
        action = zone.actions[situation_of(t.s, zone, place, base, needs_all)]
        if fresh or action not in ONCE:
            found.append((t.area(place), _as_unit_does(t, zone, place, action)))
    return found


def _as_unit_does(t: Tick, zone: ZoneAt, place: int, action: Action) -> Action:
    """The action where the unit's own facts decide: off the way out, a door without delay, hold-up switched off."""
    if action is Action.OFF_ROUTE and t.facts.off_route is OffRouteTrip.ALARM:
        return Action.ALARM
    if action is Action.ENTRY and not zone.delay_s[place]:
        return Action.ALARM
    return Action.IGNORE if action is Action.HOLD_UP and t.s[U.HOLD_UP_OFF] else action


def _shut_out(t: Tick, zone: ZoneAt) -> bool:
    """The repeat-trip limit of this set period is reached: the zone is ignored until it ends."""
    if not zone.limit or t.s[zone.base + Z.COUNT] < zone.limit:
        return False
    t.s[zone.base + Z.SEEN] = 2
    t.log(UnitEvent.SHUT_OUT, zone.id)
    t.show(Notice.SHUT_OUT, "", zone.id)
    return True


def _confirmation(t: Tick, zone: ZoneAt, actions: set[Action]) -> int | None:
    """0: needs no other zone; a mark: confirmed; None: the first trip, waiting for the second."""
    window_s = zone.setup.confirm_s
    if not window_s or not actions & CONFIRMABLE:
        return 0
    others = [t.lay.zones[place] for place in zone.partners]
    by_itself = zone.setup.same_zone_confirms and t.s[zone.base + Z.VERIFY]
    if by_itself or any(_has_tripped(t, other) for other in others):
        return area_part.CONFIRMED
    faulty = system_faults.faulty_zones(t)
    if not zone.setup.same_zone_confirms and all(_cannot_confirm(t, other, faulty) for other in others):
        return 0
    t.s[zone.base + Z.SEEN] = 2
    t.s[zone.base + Z.VERIFY] = window_s
    t.log(UnitEvent.UNCONFIRMED, zone.id)
    for place in zone.areas:
        t.tone(t.area(place).id, Tone.UNCONFIRMED)
        t.show(Notice.UNCONFIRMED, t.area(place).id, zone.id)
    return None


def _has_tripped(t: Tick, other: ZoneAt) -> bool:
    return t.s[other.base + Z.VERIFY] > 0 or t.s[other.base + Z.MEMORY] >= zone_memory.ALARMED


def _cannot_confirm(t: Tick, other: ZoneAt, faulty: frozenset[str]) -> bool:
    """Left out this time or of this set, out of use, stuck open, or faulty.

    Reference: ANSI/SIA CP-01 4.3.1 (from memory): then the first trip must alarm alone.
    """
    if t.s[other.base + Z.OUT] or t.s[other.base + Z.SEEN] or other.id in faulty:
        return True
    return not any(other.listens[place][t.s[base]] for place, base in zip(other.areas, other.area_bases, strict=True))


def _perhaps_normal(t: Tick, zone: ZoneAt) -> None:
    s, base = t.s, zone.base
    if not s[base + Z.SEEN] or zone.place in t.seen_now or any(s[slot] for slot in zone.levels):
        return
    if zone.setup.restore_hold_s:
        s[base + Z.HOLD] = s[base + Z.HOLD] or zone.setup.restore_hold_s
        return
    restored(t, zone)


def restored(t: Tick, zone: ZoneAt) -> None:
    """The zone is normal; an entry/exit door that closes may end an exit time."""
    t.s[zone.base + Z.SEEN] = 0
    if t.s[U.LOST]:
        return
    t.log(UnitEvent.RESTORE, zone.id)
    if Action.LEAVE in zone.actions:
        for place in zone.areas:
            exiting.door_closes(t, t.area(place), zone)


def second_ends(t: Tick, zone: ZoneAt) -> None:
    """A device without a lasting state that was not tripped in this second is normal again."""
    _perhaps_normal(t, zone)
