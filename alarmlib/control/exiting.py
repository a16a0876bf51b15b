"""The exit time and how it ends, and letting one person out of a part set."""

from alarmlib.control import area_part, zone_memory
from alarmlib.control.functions import Action
from alarmlib.control.inputs import LetOut
from alarmlib.control.layout import SET_FULL_AT, A, AreaAt, Z, ZoneAt
from alarmlib.control.setup import DoorAtEnd, ZoneAtEnd
from alarmlib.control.signals import Notice, Reason, Tone, UnitEvent
from alarmlib.control.tick import Tick, Trip
from alarmlib.model.words import BURGLARY, Function

UNTOUCHED, _OPENED, _CLOSED, _RESTARTED = 0, 1, 2, 3


def completed(t: Tick, area: AreaAt) -> None:
    """The area is set from now on."""
    s, base = t.s, area.base
    s[base + A.EXIT] = s[base + A.EXIT_DOOR] = s[base + A.OUTSIDE] = 0
    s[base + A.RECENT] = t.facts.recent_closing_s
    t.show(Notice.SET, area.id)
    t.tone(area.id, Tone.SET)
    t.log(UnitEvent.SET, area.id)


def door_opens(t: Tick, area: AreaAt) -> None:
    """An entry/exit door opens while somebody leaves: the exit time restarts, once, when it had been closed again."""
    s, base = t.s, area.base
    if not s[base + A.EXIT]:
        return
    if s[base + A.EXIT_DOOR] == _CLOSED and t.facts.exit_restarts_once:
        s[base + A.EXIT_DOOR] = _RESTARTED
        s[base + A.EXIT] = area.exit_s[s[base + A.SET]] or s[base + A.EXIT]  # changed to a set without: it runs on
        t.log(UnitEvent.EXIT_RESTART, area.id)
    elif s[base + A.EXIT_DOOR] == UNTOUCHED:
        s[base + A.EXIT_DOOR] = _OPENED


def door_closes(t: Tick, area: AreaAt, door: ZoneAt) -> None:
    """An entry/exit door closes: with the last one closed, the exit time is cut short if the unit does so."""
    s, base = t.s, area.base
    cut_s = t.facts.exit_after_door_s
    if s[base + A.LET] and s[base + A.LET_DOOR] == door.place + 1 and t.facts.exit_ends_by_door:
        s[base + A.LET] = min(s[base + A.LET], cut_s)
    if not s[base + A.EXIT] or any(s[other.base + Z.SEEN] for other in area.doors):
        return
    if s[base + A.EXIT_DOOR] in (UNTOUCHED, _OPENED):
        s[base + A.EXIT_DOOR] = _CLOSED
    if t.facts.exit_ends_by_door:
        s[base + A.EXIT] = min(s[base + A.EXIT], cut_s)


def finish_exit(t: Tick, area: AreaAt) -> None:
    """The button outside ends the exit time, if the unit has one."""
    if not t.facts.exit_ends_by_button:
        t.refuse(area.id, Reason.NOT_ALLOWED)
    elif not t.s[area.base + A.EXIT]:
        t.refuse(area.id, Reason.NO_EXIT)
    else:
        if t.s[area.base + A.EXIT_DOOR] == UNTOUCHED:
            t.s[area.base + A.EXIT_DOOR] = _OPENED  # who presses outside has left
        t.s[area.base + A.EXIT] = 0
        exit_ended(t, area)


def exit_ended(t: Tick, area: AreaAt) -> None:
    """The exit time is over: set, set with an exit error, or setting is not completed."""
    s, base = t.s, area.base
    _nobody_left(t, area)
    wanted = s[base + A.SET]
    still = [zone for zone in area.zones if zone.listens[area.place][wanted] and zone_memory.is_open(t, zone)]
    doors = [zone for zone in still if zone.is_door]
    others = [zone for zone in still if zone.function in BURGLARY and zone not in doors]
    not_set = t.facts.zone_at_end is ZoneAtEnd.NOT_SET
    blocking = doors if t.facts.door_at_end is DoorAtEnd.NOT_SET else []
    blocking = blocking + [zone for zone in others if not_set or zone.function is Function.WARN_UNSET]
    if blocking:
        _not_completed(t, area, blocking)
        return
    completed(t, area)
    if doors:
        _exit_error(t, area, doors)


def _nobody_left(t: Tick, area: AreaAt) -> None:
    """No entry/exit door was opened: somebody is still in, so a part set is set if the unit does so."""
    s, base = t.s, area.base
    full_from_inside = s[base + A.SET] == SET_FULL_AT and not s[base + A.OUTSIDE]
    if area.setup.nobody_left and full_from_inside and s[base + A.EXIT_DOOR] == UNTOUCHED:
        s[base + A.SET] = area.set_of[area.setup.nobody_left]
        t.show(Notice.NOBODY_LEFT, area.id, area.setup.nobody_left)
        t.log(UnitEvent.CHANGED, area.id)


def _not_completed(t: Tick, area: AreaAt, blocking: list[ZoneAt]) -> None:
    t.log(UnitEvent.NOT_COMPLETED, area.id)
    for zone in blocking:
        t.refuse(area.id, Reason.STILL_OPEN, zone.id)
    give_up(t, area)


def give_up(t: Tick, area: AreaAt) -> None:
    """Setting is given up: the area is unset as it was before."""
    area_part.clear(t, area, (A.SET, A.EXIT, A.EXIT_DOOR, A.OUTSIDE, A.RECENT))
    zone_memory.period_ends(t, area)


def tampered(t: Tick, area: AreaAt, about: str, action: Action) -> None:
    """Tamper; while the exit time runs, setting is given up."""
    area_part.tamper(t, area, about, action)
    if action is Action.TAMPER_SETTING:
        give_up(t, area)


def _exit_error(t: Tick, area: AreaAt, doors: list[ZoneAt]) -> None:
    """It sounds inside at once and the entry delay runs; not unset in time, an alarm marked so."""
    t.log(UnitEvent.EXIT_ERROR, area.id)
    for door in doors:
        t.s[door.base + Z.SEEN] = 2
        zone_memory.waits(t, door)
    shortest = min(doors, key=lambda door: door.delay_s[area.place])
    at_once = any(door.at_once[area.place][t.s[area.base + A.SET]] for door in doors)
    t.s[area.base + A.EXIT_ERROR] = 1
    if at_once or not shortest.delay_s[area.place]:
        area_part.entry_ended(t, area)
    else:
        area_part.enter(t, Trip(area, shortest, Action.ENTRY))


def let_out(t: Tick, asked: LetOut) -> None:
    """One person leaves by an entry/exit door while the part set stays on for the others."""
    area = t.lay.area_of[asked.area]
    door = t.lay.zone_of[asked.door]
    s, base = t.s, area.base
    if s[base + A.SET] <= SET_FULL_AT or s[base + A.EXIT]:
        t.refuse(area.id, Reason.NOT_PART_SET)
    elif s[base + A.ENTRY]:
        t.refuse(area.id, Reason.DELAY_RUNNING)
    elif not door.is_door:
        t.refuse(area.id, Reason.NOT_ALLOWED, door.id)
    else:
        s[base + A.LET] = area.setup.exit_s if door.setup.exit_s is None else door.setup.exit_s
        s[base + A.LET_DOOR] = door.place + 1
        t.log(UnitEvent.LET_OUT, door.id)


def let_out_ended(t: Tick, area: AreaAt) -> None:
    """The door listens again; still open, it is an exit error."""
    door = t.lay.zones[t.s[area.base + A.LET_DOOR] - 1]
    stop_letting_out(t, area)
    t.tone(area.id, Tone.SET)
    listens = door.listens[area.place][t.s[area.base + A.SET]]
    if listens and zone_memory.is_open(t, door) and not t.s[area.base + A.ENTRY]:
        _exit_error(t, area, [door])


def stop_letting_out(t: Tick, area: AreaAt) -> None:
    """Nobody is being let out any more."""
    area_part.clear(t, area, (A.LET, A.LET_DOOR))
