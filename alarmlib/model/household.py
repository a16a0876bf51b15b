"""Who lives here and who comes: by role, never by name; how they walk, and what they habitually do."""

from alarmlib.model.base import Day, Id, Name, Note, Part, Ref, fact, identity, ref
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS
MOVERS = ("household.people", "household.visitors", "household.pets")
PLACES = (
    "site.rooms",
    "site.openings",
    "site.passages",
    "devices",
    "control_unit.zones",
    "control_unit.part_sets",
    "control_unit.areas",
)


class AgeBand(Word):
    """Age in bands; walking speeds are published by band."""

    CHILD = "child", "child"
    TEENAGER = "teenager", "teenager"
    ADULT = "adult", "adult under 60"
    OLDER = "older", "60 or older"


class Person(Part):
    """Somebody who lives here, by role."""

    id: Id = identity()
    role: Name = fact(..., "Who (a role, no name)", help="Such as parent or older child.", share=HELPER)
    age: AgeBand = fact(
        AgeBand.ADULT, "Age", help="It decides the assumed walking speed, and who may not wake.", share=CLASS
    )
    slow: bool = fact(False, "Walks slowly", share=CLASS)
    carries: bool = fact(False, "Often comes in with full hands", share=CLASS)
    speed_m_s: float | None = fact(
        None,
        "Measured walking speed",
        help="By stopwatch over a known distance. Blank: a published speed for the age.",
        kind=Kind.SPEED,
        ge=0.1,
        le=3,
        share=CLASS,
    )
    keying_s: float | None = fact(
        None,
        "Seconds at the keypad",
        help="By stopwatch, from reaching the keypad until the alarm is unset.",
        kind=Kind.TIME,
        ge=0.5,
        le=60,
        share=CLASS,
    )
    unlock_s: float | None = fact(
        None,
        "Seconds from opening the door until walking",
        help="By stopwatch. Locking, shoes and bags count.",
        kind=Kind.TIME,
        ge=0,
        le=120,
        share=CLASS,
    )
    entries_a_week: float = fact(
        7,
        "Times a week that they come home",
        help="It decides how often somebody may be late.",
        ge=0,
        le=200,
        share=CLASS,
    )
    can_unset: bool = fact(True, "Can unset the alarm", share=HELPER)
    fob: Ref = ref("devices", "", "Fob that they carry", share=HELPER)
    user_slot: int | None = fact(
        None, "User number in the control unit", help="Write the number, never the code.", ge=0, le=999
    )
    sleeps_in: Ref = ref("site.rooms", "", "Sleeps in")
    deep_sleeper: bool = fact(False, "Sleeps deeply")
    hard_of_hearing: bool = fact(False, "Hard of hearing")
    needs_help_out: bool = fact(False, "Needs help to get out")
    trained_on: Day = fact("", "Date they were shown how it works", share=HELPER)
    note: Note = fact("", "Note")


class Pet(Part):
    """An animal that moves about the home."""

    id: Id = identity()
    kind: Name = fact(..., "Pet", share=CLASS)
    mass_kg: float | None = fact(
        None,
        "Weight",
        help="Detectors that ignore pets do so up to a weight.",
        kind=Kind.MASS,
        ge=0,
        le=150,
        share=CLASS,
    )
    reaches_m: float = fact(
        0.0,
        "Highest surface it gets onto",
        help="A motion detector may see it up there.",
        kind=Kind.LENGTH,
        ge=0,
        le=4,
        share=CLASS,
    )
    free_in_day: tuple[Id, ...] = ref("site.rooms", (), "Rooms it may enter by day", share=HELPER)
    free_in_night: tuple[Id, ...] = ref("site.rooms", (), "Rooms it may enter at night", share=HELPER)
    free_when_empty: tuple[Id, ...] = ref("site.rooms", (), "Rooms it may enter while nobody is in", share=HELPER)


class Visitor(Part):
    """Somebody who does not live here but comes in."""

    id: Id = identity()
    role: Name = fact(..., "Who (a role, no name)", help="Such as cleaner or neighbour.", share=HELPER)
    door: Ref = ref("site.openings", "", "Door they come in by", share=HELPER)
    often: Name = fact("", "How often", help="Such as weekly. Write no dates.")
    can_unset: bool = fact(False, "Can unset the alarm", share=HELPER)
    user_slot: int | None = fact(
        None, "User number in the control unit", help="Write the number, never the code.", ge=0, le=999
    )
    trained_on: Day = fact("", "Date they were shown how it works", share=HELPER)


class StopwatchWalk(Part):
    """A person's walks by stopwatch, s: from opening an entry/exit door to unset, or back until it is closed."""

    id: Id = identity()
    person: Id = ref("household.people", ..., "Who", share=HELPER)
    door: Id = ref("site.openings", ..., "Door", share=HELPER)
    leaving: bool = fact(False, "Leaving (otherwise coming home)", share=HELPER)
    first_s: float | None = fact(None, "First walk", kind=Kind.TIME, ge=1, le=600, share=HELPER)
    second_s: float | None = fact(None, "Second walk", kind=Kind.TIME, ge=1, le=600, share=HELPER)
    third_s: float | None = fact(None, "Third walk", kind=Kind.TIME, ge=1, le=600, share=HELPER)

    @property
    def seconds(self) -> tuple[float, ...]:
        """The walks that were stopped, in seconds."""
        return tuple(s for s in (self.first_s, self.second_s, self.third_s) if s is not None)


class Deed(Word):
    """One step of a person in a habit."""

    WALK_TO = "walk_to", "walk to"
    WAIT = "wait", "wait"
    OPEN = "open", "open"
    CLOSE = "close", "close"
    SET_FULL = "set_full", "set with nobody in"
    SET_PART = "set_part", "set a part set"
    UNSET = "unset", "unset the alarm"
    FOB_SET = "fob_set", "set the alarm by fob"
    FOB_UNSET = "fob_unset", "unset the alarm by fob"
    LET_OUT = "let_out", "leave while the others stay set"
    WRONG_CODE = "wrong_code", "enter a wrong code"
    INHIBIT = "inhibit", "leave out this time"
    SILENCE = "silence", "silence"
    RESET = "reset", "reset"
    HOLD_UP = "hold_up", "press the hold-up button"
    DISTURB = "disturb", "shake from outside"


class HabitStep(Part):
    """One step of a habit: what, where, and how long it takes (walks may be computed)."""

    id: Id = identity()
    deed: Deed = fact(..., "What they do", share=HELPER)
    place: Ref = ref(PLACES, "", "Where (room, door, device, zone, part set or area)", share=HELPER)
    seconds: float | None = fact(
        None,
        "How long it takes",
        help="Leave blank for a walk along the plan.",
        kind=Kind.TIME,
        ge=0,
        le=86400,
        share=HELPER,
    )


class BeginsIn(Word):
    """The state in which a habit begins."""

    UNSET = "unset", "unset"
    SET_FULL = "set_full", "set (nobody in)"
    PART_SET = "part_set", "a part set"


class Expected(Word):
    """What a habit should lead to."""

    QUIET = "quiet", "no siren and no message"
    WARNING = "warning", "a warning, no siren"
    REFUSED = "refused", "a refusal, or a display of what is open"
    ALARM = "alarm", "the alarm it is meant to give"


class Habit(Part):
    """Something that this household does, as steps; the alarm must treat it as expected."""

    id: Id = identity()
    name: Name = fact(..., "Habit", share=HELPER)
    who: Ref = ref(MOVERS, "", "Who", share=HELPER)
    starts_at: Ref = ref(PLACES, "", "Starts at (room or door)", share=HELPER)
    begins_in: BeginsIn = fact(BeginsIn.SET_FULL, "State of the alarm when it begins", share=HELPER)
    part_set: Ref = ref(
        "control_unit.part_sets", "", "Which part set", help="Only if it begins in a part set.", share=HELPER
    )
    area: Ref = ref("control_unit.areas", "", "Area", help="Only if your alarm has several areas.", share=HELPER)
    season: Ref = ref("control_unit.seasons", "", "Season in which it happens", help="Blank: all year.", share=HELPER)
    times_a_week: float = fact(1, "Times a week", ge=0, le=200, share=HELPER)
    steps: tuple[HabitStep, ...] = fact((), "Steps", share=HELPER, noun="step")
    expected: Expected = fact(Expected.QUIET, "What the alarm should do", share=HELPER)
    note: Note = fact("", "Note", share=Share.OWNER)


class EmptyBand(Word):
    """How often nobody is at home: bands only, never dates."""

    UNKNOWN = "unknown", "not known yet"
    SELDOM = "seldom", "seldom"
    WEEKDAYS = "weekdays", "most weekdays"
    NIGHTS = "nights", "some nights"
    LONG = "long", "weeks at a time"


class Household(Part):
    """Who lives here, who comes, and what they do."""

    people: tuple[Person, ...] = fact((), "People", share=CLASS, noun="person")
    pets: tuple[Pet, ...] = fact((), "Pets", share=CLASS, noun="pet")
    visitors: tuple[Visitor, ...] = fact((), "Visitors", share=HELPER, noun="visitor")
    walks: tuple[StopwatchWalk, ...] = fact((), "Stopwatch walks", share=HELPER, noun="walk")
    habits: tuple[Habit, ...] = fact((), "Habits", noun="habit")
    empty: EmptyBand = fact(EmptyBand.UNKNOWN, "How often nobody is at home", help="Choose a band; never a date.")
    long_winter_absence: bool = fact(False, "Long absence in winter", help="You are then asked for a warning of cold.")
