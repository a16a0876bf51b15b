"""The part for faults: each one that is watched, from its beginning to its end."""

from alarmlib.control import exiting
from alarmlib.control.functions import FUNCTION_AT, Situation
from alarmlib.control.layout import A, AreaAt, U, WatchAt
from alarmlib.control.signals import Notice, Tone, UnitEvent
from alarmlib.control.system_faults import KEPT, RAISED, RIGHT
from alarmlib.control.tick import Tick
from alarmlib.model.words import EventKind, FaultKind, Function


def begins(t: Tick, watch: WatchAt) -> None:
    """Something goes wrong; it is raised when it has lasted its hold time."""
    state = t.s[watch.slot]
    if state == KEPT:
        t.s[watch.slot] = RAISED
    elif state == RIGHT:
        t.s[watch.slot] = KEPT + watch.setup.hold_s
        if not watch.setup.hold_s:
            _raise(t, watch)


def ends(t: Tick, watch: WatchAt) -> None:
    """It is right again: a raised one that latches stays shown until reset."""
    state = t.s[watch.slot]
    if state == RAISED:
        t.s[watch.slot] = KEPT if watch.setup.latches else RIGHT
        t.log(UnitEvent.FAULT_OVER, watch.setup.id)
        if not watch.setup.latches:
            t.show(Notice.FAULT_OVER, "", watch.setup.id)
    elif state > KEPT:
        t.s[watch.slot] = RIGHT


def second_passes(t: Tick, watch: WatchAt) -> None:
    """One second less of its hold time."""
    if t.s[watch.slot] <= KEPT:
        return
    t.s[watch.slot] -= 1
    if t.s[watch.slot] == KEPT:
        _raise(t, watch)


def _raise(t: Tick, watch: WatchAt) -> None:
    t.s[watch.slot] = RAISED
    kind = watch.setup.kind
    t.show(Notice.FAULT, "", watch.setup.id)
    t.log(UnitEvent.FAULT, watch.setup.id)
    for place in watch.areas:
        t.tone(t.area(place).id, Tone.FAULT)
    if kind is not FaultKind.TAMPER:
        t.send(EventKind.FAULT, "", (watch.setup.id,))
        return
    for place in watch.areas:
        _tamper(t, t.area(place), watch)


def _tamper(t: Tick, area: AreaAt, watch: WatchAt) -> None:
    """A tampered device is treated as a tamper zone of each of its areas would be."""
    if t.s[U.TEST]:
        t.show(Notice.SEEN_IN_TEST, area.id, watch.setup.id)
        return
    action = t.table[FUNCTION_AT[Function.TAMPER]][_situation(t, area)]
    exiting.tampered(t, area, watch.setup.id, action)


def _situation(t: Tick, area: AreaAt) -> Situation:
    if t.s[area.base + A.EXIT]:
        return Situation.EXIT
    return Situation.SET_FULL if t.s[area.base + A.SET] else Situation.UNSET


def reset(t: Tick) -> None:
    """Faults that are over but were kept are cleared."""
    for watch in t.lay.watches:
        if t.s[watch.slot] == KEPT:
            t.s[watch.slot] = RIGHT
            t.show(Notice.FAULT_OVER, "", watch.setup.id)
