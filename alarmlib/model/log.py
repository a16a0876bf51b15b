"""What was tested, what happened, what was kept up, what was found in the walls."""

from alarmlib.model.base import Clock, Day, Id, Name, Note, Part, Ref, fact, identity, ref
from alarmlib.model.site import Yes
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER = Share.HELPER


class Seen(Word):
    """What the unit showed at a test."""

    NOT_TESTED = "not_tested", "not tested yet"
    AS_EXPECTED = "as_expected", "as expected"
    OTHER_ZONE = "other_zone", "another zone"
    NOTHING = "nothing", "nothing"
    LATE = "late", "too late"
    OTHER = "other", "something else"


class TestKind(Word):
    """What a test tries."""

    __test__ = False  # not a test class

    WALK = "walk", "walk or open"
    BUTTON = "button", "press"
    TIMER = "timer", "time by stopwatch"
    SOUND = "sound", "listen"
    TAMPER = "tamper", "open the cover"
    BATTERY = "battery", "run without mains"
    MESSAGE = "message", "send a test message"


class Test(Part):
    """One line of the test log."""

    __test__ = False  # not a test class

    id: Id = identity()
    on: Day = fact("", "Date", share=HELPER)
    at: Clock = fact(
        "",
        "Time of day",
        help="Such as 14:05, or better 14:05:30. It shows whether a detector was still in its sleep time.",
        share=HELPER,
    )
    by: Name = fact("", "Who (a role)", share=HELPER)
    device: Ref = ref("devices", "", "Device", share=HELPER)
    kind: TestKind = fact(TestKind.WALK, "Kind of test", share=HELPER)
    expected: Note = fact("", "What you expected", share=HELPER)
    seen: Seen = fact(Seen.NOT_TESTED, "What the control unit showed", share=HELPER)
    seen_zone: Ref = ref("control_unit.zones", "", "Zone shown", share=HELPER)
    cause: Note = fact("", "Cause found", share=HELPER)
    action: Note = fact("", "What was done", share=HELPER)
    retest_of: Ref = ref("log.tests", "", "Earlier test that it repeats", share=HELPER)


class Event(Part):
    """One line of the event diary: every trip, wanted or not."""

    id: Id = identity()
    on: Day = fact("", "Date")
    zone: Ref = ref("control_unit.zones", "", "Zone")
    cause: Note = fact("", "Cause")
    changed: Note = fact("", "What was changed")


class Upkeep(Part):
    """One line of the maintenance diary."""

    id: Id = identity()
    on: Day = fact("", "Date", share=HELPER)
    done: Note = fact("", "What was done", share=HELPER)
    device: Ref = ref("devices", "", "Device", share=HELPER)


class Log(Part):
    """The record of years."""

    tests: tuple[Test, ...] = fact((), "Test log", noun="test")
    events: tuple[Event, ...] = fact((), "Event diary", noun="event")
    upkeep: tuple[Upkeep, ...] = fact((), "Maintenance diary", share=HELPER, noun="upkeep line")


class Fate(Word):
    """What becomes of something found in an old system."""

    UNDECIDED = "undecided", "not decided yet"
    KEEP = "keep", "keep"
    REPLACE = "replace", "replace"
    TAKE_OUT = "take_out", "take out"


class FoundItem(Part):
    """A device or cable pair found in the walls."""

    id: Id = identity()
    what: Name = fact(..., "What was found", share=HELPER)
    room: Ref = ref("site.rooms", "", "Room", share=HELPER)
    pair: Name = fact("", "Cable pair (colours)", share=HELPER)
    closed_ohm: float | None = fact(
        None,
        "Meter reading, all closed",
        help="With every contact on the pair closed and the pair off the control unit.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=100_000_000,
        share=HELPER,
    )
    open_ohm: float | None = fact(
        None,
        "Meter reading, one contact open",
        help="Open the door or window, and read the meter again.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=100_000_000,
        share=HELPER,
    )
    both_open_ohm: float | None = fact(
        None,
        "Meter reading, two contacts open",
        help="It shows whether each contact has a resistor of its own.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=100_000_000,
        share=HELPER,
    )
    answers: Yes = fact(
        Yes.UNKNOWN, "Does the control unit react to it?", help="Open or trip it, and look at the keypad.", share=HELPER
    )
    unknown: Note = fact("", "What you do not know yet", share=HELPER)
    fate: Fate = fact(Fate.UNDECIDED, "Keep, replace or take out", share=HELPER)
    device: Ref = ref("devices", "", "Device that it is now", share=HELPER)


class Inherited(Part):
    """What came with the home."""

    items: tuple[FoundItem, ...] = fact((), "Found", share=HELPER, noun="found item")
    contract_ended: bool = fact(False, "The old contract is ended", share=HELPER)
    users_removed: bool = fact(False, "All old users are removed from the control unit", share=HELPER)
    factory_access_changed: bool = fact(
        False, "The factory codes are changed", help="Only tick it. Never write a code.", share=HELPER
    )
