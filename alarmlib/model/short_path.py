"""The short path: at most 25 answers, lists typed one a line, from which a draft of the whole home is made."""

from alarmlib.model.base import Name, Note, Part, fact
from alarmlib.model.control_unit import Recognises
from alarmlib.model.site import Yes
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS


class Pace(Word):
    """How the slowest person who comes home walks."""

    BRISK = "brisk", "briskly"
    ORDINARY = "ordinary", "at an ordinary pace"
    SLOW = "slow", "slowly"
    VERY_SLOW = "very_slow", "very slowly or with a stick"


class Pets(Word):
    """What animals move about indoors."""

    NONE = "none", "none"
    FLOOR = "floor", "stay on the floor"
    CLIMB = "climb", "climb on furniture"


class ShortPath(Part):
    """The answers of the short path; a blank is an assumption named in the draft."""

    rooms: Note = fact(
        "",
        "Rooms",
        help="One a line, or several with commas. Write the storey last: Bedroom, Bathroom, upstairs.",
        share=HELPER,
    )
    outside_doors: Note = fact(
        "", "Outside doors", help="One a line, with the room after a colon: Front door: Hall.", share=HELPER
    )
    home_by: Name = fact("", "Which of them do you come home by?", help="Separate several with commas.", share=HELPER)
    windows: Note = fact(
        "",
        "Windows somebody could reach",
        help="One a line: Kitchen window: Kitchen. Upstairs write how: Bed window: Bedroom, flat roof.",
        share=HELPER,
    )
    inner_doors: Note = fact(
        "", "Which door leads where", help="One a line: Hall: Kitchen, Living room, Landing.", share=HELPER
    )
    keypad_room: Name = fact("", "In which room is the keypad?", share=HELPER)
    unit_room: Name = fact("", "In which room is the control unit?", share=HELPER)
    bedrooms: Name = fact("", "In which rooms does somebody sleep?", help="Separate with commas.")
    people: int | None = fact(None, "How many people live here?", ge=1, le=30, share=CLASS)
    pace: Pace = fact(Pace.ORDINARY, "How does the slowest of them walk?", share=CLASS)
    carries: bool = fact(False, "Somebody comes home with full hands", share=CLASS)
    walk_s: float | None = fact(
        None,
        "Seconds from opening that door until the alarm is off",
        help="By stopwatch, at the slowest pace.",
        kind=Kind.TIME,
        ge=1,
        le=600,
        share=HELPER,
    )
    pets: Pets = fact(Pets.NONE, "Pets indoors", share=CLASS)
    pets_at_night: bool = fact(False, "Pets roam at night", share=CLASS)
    recognises: Recognises = fact(Recognises.UNKNOWN, "What does your control unit recognise?", share=CLASS)
    zones: int | None = fact(None, "How many zones does it have?", ge=1, le=2000, share=CLASS)
    night_set: bool = fact(True, "You want to set it while asleep", share=HELPER)
    smoke_alarms: Yes = fact(Yes.UNKNOWN, "Smoke alarms on every level and at every bedroom", share=HELPER)
    fuel: Yes = fact(Yes.UNKNOWN, "Boiler, stove or fireplace, or a garage joined to the house", share=HELPER)
    answers_siren: Yes = fact(Yes.UNKNOWN, "Somebody near would answer a siren", share=HELPER)
