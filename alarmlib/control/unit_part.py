"""What belongs to the whole unit: power, test mode, codes, zones left out, reset, the siren time allowed in an hour."""

from alarmlib.control import area_part, fault_part, setting
from alarmlib.control.inputs import HoldUpPressed, Inhibit, OutOfUse, PutBack, Reset
from alarmlib.control.layout import A, U, Z, ZoneAt
from alarmlib.control.signals import Mark, Notice, Reason, Timer, UnitEvent
from alarmlib.control.tick import Tick
from alarmlib.model.words import EventKind

_KEYPAD_HOLD_UP = "keypad"


def wrong_code(t: Tick) -> None:
    """Too many wrong codes in a row lock the keypads for a while and send a message."""
    limit = t.facts.wrong_code_limit
    t.log(UnitEvent.WRONG_CODE, "")
    if not limit or t.s[U.LOCK]:
        return
    t.s[U.WRONG] += 1
    if t.s[U.WRONG] < limit:
        return
    t.s[U.WRONG] = 0
    t.s[U.LOCK] = t.facts.wrong_code_lock_s
    t.log(UnitEvent.LOCKED, "")
    t.show(Notice.LOCKED, "")
    t.send(EventKind.TAMPER, "", (), (Mark.WRONG_CODES,))


def hold_up_pressed(t: Tick, event: HoldUpPressed) -> None:
    """The hold-up function of a keypad or fob, unless the hold-up side is switched off or a test runs."""
    if t.s[U.TEST]:
        t.show(Notice.SEEN_IN_TEST, event.area, _KEYPAD_HOLD_UP)
    elif not t.s[U.HOLD_UP_OFF]:
        area_part.hold_up_pressed(t, t.lay.area_of[event.area], _KEYPAD_HOLD_UP)


def hold_up(t: Tick, on: bool) -> None:
    """Switch the hold-up side; setting does not change it."""
    t.s[U.HOLD_UP_OFF] = int(not on)
    t.log(UnitEvent.HOLD_UP, "on" if on else "off")


def inhibit(t: Tick, event: Inhibit | OutOfUse) -> None:
    """Leave a zone out until the area is next unset, or until it is put back."""
    zone = t.lay.zone_of[event.zone]
    reason = setting.may_be_left_out(t, zone)
    if reason:
        t.refuse(t.area(zone.areas[0]).id, reason, zone.id)
        return
    for_good = isinstance(event, OutOfUse)
    t.s[zone.base + Z.OUT] = 2 if for_good else max(1, t.s[zone.base + Z.OUT])
    t.log(UnitEvent.OUT if for_good else UnitEvent.INHIBITED, zone.id)


def put_back(t: Tick, event: PutBack) -> None:
    """The zone is in use again."""
    t.s[t.lay.zone_of[event.zone].base + Z.OUT] = 0
    t.log(UnitEvent.BACK, event.zone)


def reset(t: Tick, event: Reset) -> None:
    """Clear the memory of zones that are normal again, and faults that are over; refused while set."""
    area = t.lay.area_of[event.area]
    if t.s[area.base + A.SET]:
        t.refuse(area.id, Reason.SET)
        return
    for zone in area.zones:
        if t.s[zone.base + Z.MEMORY]:
            _reset_zone(t, area.id, zone)
    fault_part.reset(t)


def _reset_zone(t: Tick, area: str, zone: ZoneAt) -> None:
    if t.s[zone.base + Z.SEEN]:
        t.refuse(area, Reason.NOT_CLEAR, zone.id)
        return
    t.s[zone.base + Z.MEMORY] = 0
    t.show(Notice.MEMORY, area, zone.id)
    t.log(UnitEvent.RESET, zone.id)


def test_start(t: Tick) -> None:
    """Begin the test mode, which ends by itself; refused while any area is set."""
    if any(t.s[area.base + A.SET] for area in t.lay.areas):
        t.refuse("", Reason.SET)
    elif not t.facts.test_s:
        t.refuse("", Reason.NOT_ALLOWED)
    else:
        t.s[U.TEST] = t.facts.test_s
        t.log(UnitEvent.TEST, "")


def test_end(t: Tick) -> None:
    """The test mode is over, by hand or by its time."""
    t.s[U.TEST] = 0
    t.show(Notice.TEST_OVER, "")
    t.log(UnitEvent.TEST_OVER, "")


def power_lost(t: Tick) -> None:
    """Mains and standby are gone: nothing works, all is kept."""
    t.s[U.LOST] = 1


def power_back(t: Tick) -> None:
    """The unit starts set or unset as it was, with the same zones left out, and ignores detectors for a while.

    Fire and carbon monoxide too, unless the owner says that the unit hears them at once.
    Reference: ANSI/SIA CP-01 4.4.3 (2005 draft): at least 60 s.
    """
    if not t.s[U.LOST]:
        return
    t.s[U.LOST] = 0
    t.s[U.IGNORE] = t.facts.ignore_after_power_s
    t.log(UnitEvent.POWER_BACK, "")


def ignoring_ended(t: Tick) -> None:
    """Detectors are listened to again; what is still open then trips."""
    t.log(UnitEvent.LISTENING, "")


def unlocked(t: Tick) -> None:
    """The keypad lock is over."""
    t.log(UnitEvent.UNLOCKED, "")


def count_siren(t: Tick, outside: bool) -> None:
    """Count seconds of outside siren; a whole long quiet clears the count, so no hour holds more than the cap.

    Our own rule: stricter than a sliding hour, and provable with two numbers.
    """
    cap_s = t.facts.siren_cap_s
    if not cap_s:
        return
    if outside:
        t.s[U.CAP_USED] = min(cap_s, t.s[U.CAP_USED] + 1)
        t.s[U.CAP_QUIET] = t.facts.siren_cap_quiet_s
    elif t.s[U.CAP_QUIET]:
        t.s[U.CAP_QUIET] -= 1
        if not t.s[U.CAP_QUIET]:
            t.s[U.CAP_USED] = 0


TIMERS = (
    (U.IGNORE, Timer.IGNORING, ignoring_ended),
    (U.TEST, Timer.TEST, test_end),
    (U.LOCK, Timer.LOCK, unlocked),
)
