"""What the control unit gives out in a second, and what its timers are called as causes."""

from dataclasses import dataclass
from enum import IntEnum

from alarmlib.control.inputs import Input
from alarmlib.model.words import EventKind, Word


class Timer(Word):
    """A timer of the unit that ran out: the cause of what follows."""

    EXIT = "exit", "the exit delay ended"
    ENTRY = "entry", "the entry delay ended"
    LET_OUT = "let_out", "the time for letting somebody out ended"
    ABORT = "abort", "the abort window ended"
    SIREN = "siren", "the siren time ended"
    SIREN_CAP = "siren_cap", "the siren time allowed in an hour is used up"
    CONFIRM = "confirm", "the confirmation window ended"
    RESTORE = "restore", "the zone stayed normal long enough"
    TEST = "test", "the test time ended"
    IGNORING = "ignoring", "the time after a power loss ended"
    LOCK = "lock", "the keypad lock ended"
    FAULT = "fault", "the fault lasted long enough"
    STILL_OPEN = "still_open", "the zone was still open"


Cause = Input | Timer


class Rank(IntEnum):
    """Which alarm wins the sounders; a higher one comes first."""

    NONE = 0
    TAMPER_INSIDE = 1
    TAMPER = 2
    BURGLARY = 3
    HOLD_UP = 4
    CARBON_MONOXIDE = 5
    FIRE = 6


class Pattern(Word):
    """How a siren sounds."""

    EXIT_ERROR = "exit_error", "exit error"
    TAMPER = "tamper", "tamper"
    BURGLARY = "burglary", "burglary"
    HOLD_UP = "hold_up", "hold-up"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide (four short)"
    FIRE = "fire", "fire (three long)"


class Tone(Word):
    """What a keypad sounds."""

    CHIME = "chime", "chime"
    EXIT = "exit", "exit delay running"
    EXIT_LAST = "exit_last", "last seconds of the exit delay"
    ENTRY = "entry", "entry delay running"
    SET = "set", "set"
    UNSET = "unset", "unset"
    REFUSED = "refused", "refused"
    UNCONFIRMED = "unconfirmed", "one detector, not confirmed yet"
    FAULT = "fault", "fault"
    TAMPER = "tamper", "tamper"
    WATER = "water", "water"
    LOW_TEMPERATURE = "low_temperature", "low temperature"


class Mark(Word):
    """A note carried by a message."""

    RECENT_CLOSING = "recent_closing", "just after setting"
    EXIT_ERROR = "exit_error", "exit error"
    CANCEL = "cancel", "cancelled by a person"
    CONFIRMED = "confirmed", "confirmed by a second detector"
    WRONG_CODES = "wrong_codes", "too many wrong codes"


class Notice(Word):
    """What a keypad shows."""

    SEEN_IN_TEST = "seen_in_test", "seen in the test"
    WAS_ALARM = "was_alarm", "there was an alarm"
    NO_MESSAGE = "no_message", "no message was sent"
    CANCELLED = "cancelled", "a cancel message was sent"
    LEFT_OUT = "left_out", "left out this time or out of use"
    BLOCKS = "blocks", "open, setting waits"
    SHUT_OUT = "shut_out", "repeat-trip limit reached"
    WAS_SHUT_OUT = "was_shut_out", "was no longer heard: repeat-trip limit reached"
    UNCONFIRMED = "unconfirmed", "waiting for a second detector"
    FAULT = "fault", "fault"
    FAULT_OVER = "fault_over", "fault over"
    WARN_UNSET = "warn_unset", "open while unset"
    TAMPER = "tamper", "tamper"
    NOBODY_LEFT = "nobody_left", "nobody left, part set instead"
    SET = "set", "set"
    LOCKED = "locked", "keypad locked"
    MEMORY = "memory", "alarm memory cleared"
    TEST_OVER = "test_over", "test over"


class Reason(Word):
    """Why something was refused."""

    ZONE_OPEN = "zone_open", "is open"
    HOLD_UP_ACTIVE = "hold_up_active", "a hold-up device is active"
    TAMPER = "tamper", "tamper is open"
    FAULT = "fault", "has a fault"
    NO_NOTIFICATION = "no_notification", "neither siren nor message can be given"
    IN_TEST = "in_test", "the test mode is running"
    ALREADY = "already", "it is so already"
    DELAY_RUNNING = "delay_running", "an entry delay is running"
    ALARM_SOUNDING = "alarm_sounding", "the siren is sounding"
    LOCKED = "locked", "the keypad is locked"
    NOT_SET = "not_set", "the area is not set"
    NOT_PART_SET = "not_part_set", "no part set is on"
    SET = "set", "an area is set"
    NOT_ALLOWED = "not_allowed", "this zone cannot be left out"
    NO_EXIT = "no_exit", "no exit delay is running"
    NOT_CLEAR = "not_clear", "has not returned to normal"
    STILL_OPEN = "still_open", "was open when the exit delay ended, setting was not completed"


class UnitEvent(Word):
    """What the log notes."""

    TRIP = "trip", "trip"
    RESTORE = "restore", "back to normal"
    EXIT = "exit", "exit delay started"
    EXIT_RESTART = "exit_restart", "exit delay restarted"
    SET = "set", "set"
    CHANGED = "changed", "set changed"
    UNSET = "unset", "unset"
    NOT_COMPLETED = "not_completed", "setting not completed"
    EXIT_ERROR = "exit_error", "exit error"
    ENTRY = "entry", "entry delay started"
    LET_OUT = "let_out", "somebody is let out"
    ALARM = "alarm", "alarm"
    UNCONFIRMED = "unconfirmed", "trip not confirmed"
    SHUT_OUT = "shut_out", "ignored by the repeat-trip limit"
    MESSAGE = "message", "message sent"
    SILENCED = "silenced", "siren stopped"
    RESET = "reset", "memory cleared"
    INHIBITED = "inhibited", "left out this time"
    OUT = "out", "taken out of use"
    BACK = "back", "put back"
    WRONG_CODE = "wrong_code", "wrong code"
    LOCKED = "locked", "keypad locked"
    UNLOCKED = "unlocked", "keypad free again"
    HOLD_UP = "hold_up", "hold-up side switched"
    TEST = "test", "test mode started"
    TEST_OVER = "test_over", "test mode ended"
    FAULT = "fault", "fault"
    FAULT_OVER = "fault_over", "fault over"
    POWER_BACK = "power_back", "started again after a power loss"
    LISTENING = "listening", "listening again"
    REFUSED = "refused", "refused"


@dataclass(frozen=True, slots=True)
class Siren:
    """A siren sounding in this second."""

    area: str
    pattern: Pattern
    inside: bool
    outside: bool


@dataclass(frozen=True, slots=True)
class Sound:
    """A keypad tone in this second."""

    area: str
    tone: Tone


@dataclass(frozen=True, slots=True)
class SentMessage:
    """A message sent: for what, about which area and zones or watched parts, with which marks."""

    kind: EventKind
    area: str
    about: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class KeypadLine:
    """A line on the keypads."""

    notice: Notice
    area: str
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LogLine:
    """A line of the log; nothing happens without a cause."""

    event: UnitEvent
    about: str
    cause: Cause


@dataclass(frozen=True, slots=True)
class Refusal:
    """Something a person asked for that the unit did not do, and why."""

    area: str
    reason: Reason
    about: str = ""


@dataclass(frozen=True, slots=True)
class Outputs:
    """All that the unit gives out in a second."""

    sirens: tuple[Siren, ...] = ()
    tones: tuple[Sound, ...] = ()
    messages: tuple[SentMessage, ...] = ()
    shown: tuple[KeypadLine, ...] = ()
    log: tuple[LogLine, ...] = ()
    refusals: tuple[Refusal, ...] = ()


NOTHING = Outputs()
