"""Setting and unsetting an area: what prevents setting, and what unsetting ends."""

from alarmlib.control import area_part, exiting, system_faults, zone_memory
from alarmlib.control.functions import Action, Situation
from alarmlib.control.inputs import SetArea, UnsetArea, Way
from alarmlib.control.layout import NEVER_LEFT_OUT, SET_FULL_AT, A, AreaAt, U, Z, ZoneAt
from alarmlib.control.setup import Override
from alarmlib.control.signals import Mark, Notice, Reason, Tone, UnitEvent
from alarmlib.control.tick import Tick
from alarmlib.model.words import BURGLARY, EventKind, Function

_ROUTE_ACTIONS = frozenset({Action.IGNORE, Action.LEAVE})
_GUARDS = BURGLARY | {Function.ALWAYS_SIREN, Function.ALWAYS_MESSAGE}
Obstacle = tuple[Reason, str]


def set_area(t: Tick, asked: SetArea) -> None:
    """Set, or change the set; refused with every reason that prevents it."""
    area = t.lay.area_of[asked.area]
    wanted = area.set_of[asked.part]
    reason = _never_now(t, area, wanted, asked)
    if reason:
        t.refuse(area.id, reason)
        return
    exit_s = _exit_time(t, area, wanted, asked)
    found = obstacles(t, area, wanted, exit_s > 0)
    rest = _overridden(t, found) if asked.override else found
    for why, about in rest:
        t.refuse(area.id, why, about)
    if not rest:
        if asked.override:
            _inhibit_open(t, area, wanted, exit_s > 0)
        _start(t, area, wanted, exit_s, asked.outside)


def _never_now(t: Tick, area: AreaAt, wanted: int, asked: SetArea) -> Reason | None:
    s, base = t.s, area.base
    if s[U.TEST]:
        return Reason.IN_TEST
    if s[U.LOCK] and asked.way is Way.KEYPAD:
        return Reason.LOCKED
    if s[base + A.ENTRY]:
        return Reason.DELAY_RUNNING
    if s[base + A.SIREN] or s[base + A.ABORT]:
        return Reason.ALARM_SOUNDING
    return Reason.ALREADY if s[base + A.SET] == wanted else None


def _exit_time(t: Tick, area: AreaAt, wanted: int, asked: SetArea) -> int:
    """A running exit time goes on; from outside there is one only if the unit gives it; a change to a part set none."""
    running = t.s[area.base + A.EXIT]
    if running:
        return running
    if asked.outside and not t.facts.exit_delay_from_outside:
        return 0
    changes_to_part = t.s[area.base + A.SET] and wanted != SET_FULL_AT
    return 0 if changes_to_part else area.exit_s[wanted]


def obstacles(t: Tick, area: AreaAt, wanted: int, with_exit: bool) -> list[Obstacle]:
    """All that prevents this set: open zones, an active hold-up button, tamper, faults, no notification.

    Reference: EN 50131-1 table 4; detectors that the exit column lets pass are on the agreed exit route.
    """
    found = [
        (Reason.ZONE_OPEN, zone.id)
        for zone in area.zones
        if zone.function in _GUARDS and zone.listens[area.place][wanted] and zone_memory.is_open(t, zone)
        if not (with_exit and zone.actions[Situation.EXIT] in _ROUTE_ACTIONS)
    ]
    for zone in area.zones:
        if zone.function is Function.HOLD_UP and (zone_memory.is_open(t, zone) or t.s[zone.base + Z.MEMORY]):
            found.append((Reason.HOLD_UP_ACTIVE, zone.id))
        elif zone.function is Function.TAMPER and zone_memory.is_open(t, zone):
            found.append((Reason.TAMPER, zone.id))
    return found + system_faults.obstacles(t, area)


def _overridden(t: Tick, found: list[Obstacle]) -> list[Obstacle]:
    """What is left of the obstacles when a person insists."""
    if t.facts.override is Override.ONE_SET_PERIOD:
        return []
    if t.facts.override is Override.INHIBITS_OPEN:
        return [obstacle for obstacle in found if obstacle[0] is not Reason.ZONE_OPEN]
    return found


def _inhibit_open(t: Tick, area: AreaAt, wanted: int, with_exit: bool) -> None:
    for why, about in obstacles(t, area, wanted, with_exit):
        if why is Reason.ZONE_OPEN:
            t.s[t.lay.zone_of[about].base + Z.OUT] = 1
            t.log(UnitEvent.INHIBITED, about)


def _start(t: Tick, area: AreaAt, wanted: int, exit_s: int, outside: bool) -> None:
    s, base = t.s, area.base
    changing = s[base + A.SET] > 0
    s[base + A.SET] = wanted
    if changing:
        t.log(UnitEvent.CHANGED, area.id)
    else:
        zone_memory.period_starts(t, area)
        s[base + A.SENT] = 0
    exiting.stop_letting_out(t, area)
    left_out = zone_memory.inhibited(t, area)
    if left_out:
        t.show(Notice.LEFT_OUT, area.id, *left_out)
    if not exit_s:
        exiting.completed(t, area)
        return
    if not s[base + A.EXIT]:
        s[base + A.EXIT_DOOR] = exiting.UNTOUCHED
        s[base + A.OUTSIDE] = int(outside)
        t.log(UnitEvent.EXIT, area.id)
    s[base + A.EXIT] = exit_s


def unset_area(t: Tick, asked: UnsetArea) -> None:
    """The right code: the area is unset, its burglar siren stops; held messages are dropped, sent ones cancelled."""
    area = t.lay.area_of[asked.area]
    if t.s[U.LOCK] and asked.way is Way.KEYPAD:
        t.refuse(area.id, Reason.LOCKED)
        return
    t.s[U.WRONG] = 0
    _tell_of_alarm(t, area)
    tell_of_shut_out(t, area)
    t.tone(area.id, Tone.UNSET)
    t.log(UnitEvent.UNSET, area.id)
    kept = (A.LIFE, A.TONES)
    area_part.clear(t, area, tuple(place for place in A if place not in kept))
    zone_memory.period_ends(t, area)


def tell_of_shut_out(t: Tick, area: AreaAt) -> None:
    """Say which zones were no longer heard at the end of a set period, since they had reached their limit of alarms.

    Our own decision; a unit that keeps it to its log shows less.
    """
    deaf = zone_memory.shut_out(t, area)
    if deaf:
        t.show(Notice.WAS_SHUT_OUT, area.id, *deaf)


def _tell_of_alarm(t: Tick, area: AreaAt) -> None:
    alarmed = zone_memory.alarmed(t, area)
    if alarmed:
        t.show(Notice.WAS_ALARM, area.id, *alarmed)
    if t.s[area.base + A.SENT]:
        t.send(EventKind.BURGLARY, area.id, (), (Mark.CANCEL,))
        t.show(Notice.CANCELLED, area.id)
    elif t.s[area.base + A.ABORT]:
        t.show(Notice.NO_MESSAGE, area.id)


def may_be_left_out(t: Tick, zone: ZoneAt) -> Reason | None:
    """Why this zone can't be left out or taken out of use just now; None when it can."""
    if zone.function in NEVER_LEFT_OUT:
        return Reason.NOT_ALLOWED
    return Reason.SET if any(t.s[base + A.SET] for base in zone.area_bases) else None
