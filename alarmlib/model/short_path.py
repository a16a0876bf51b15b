"""The short path: at most 25 answers, lists typed one a line, from which a draft of the whole home is made."""

from alarmlib.model.base import Name, Note, Part, fact
from alarmlib.model.site import Yes
from alarmlib.model.unit_facts import Recognises
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
        help="Write one a line, or several with commas. Write the storey last: Bedroom, Bathroom, upstairs.",
        share=HELPER,
    )
    outside_doors: Note = fact(
        "", "Outside doors", help="Write one a line, with its room after a colon: Front door: Hall.", share=HELPER
    )
    home_by: Note = fact(
        "",
        "Which of them do you come home by?",
        help="Write several with commas between them. Each gets an entry delay.",
        share=HELPER,
    )
    windows: Note = fact(
        "",
        "Windows somebody could reach",
        help="Write one a line: Kitchen window: Kitchen. Upstairs say how: Bed window: Bedroom, flat roof.",
        share=HELPER,
    )
    outbuildings: Note = fact(
        "",
        "Buildings apart that the alarm should guard",
        help="Write one a line: Shed. Each gets a door of its own.",
        share=HELPER,
    )
    inner_doors: Note = fact(
        "",
        "Which rooms are joined inside?",
        help="Write a room a line, and where you can go from it: Hall: Kitchen, Living room, Landing.",
        share=HELPER,
    )
    keypad_room: Name = fact("", "In which room is the keypad?", share=HELPER)
    unit_room: Name = fact("", "In which room is the control unit?", share=HELPER)
    bedrooms: Note = fact("", "In which rooms does somebody sleep?", help="Write several with commas between them.")
    people: int | None = fact(None, "How many people live here?", ge=1, le=30, share=CLASS)
    pace: Pace = fact(Pace.ORDINARY, "How does the slowest of them walk?", share=CLASS)
    carries: bool = fact(False, "Somebody comes home with full hands", share=CLASS)
    walk_s: float | None = fact(
        None,
        "Seconds from opening the door until the alarm is unset",
        help="By stopwatch, at the slowest pace. Blank: it is worked out.",
        kind=Kind.TIME,
        ge=1,
        le=600,
        share=HELPER,
    )
    pets: Pets = fact(Pets.NONE, "Pets indoors", share=CLASS)
    pets_at_night: bool = fact(False, "Pets roam at night", share=CLASS)
    recognises: Recognises = fact(
        Recognises.UNKNOWN,
        "What does your control unit show separately?",
        help="In its manual, under zones.",
        share=CLASS,
    )
    zones: int | None = fact(
        None, "How many zones does it have?", help="In its manual, under technical data.", ge=1, le=2000, share=CLASS
    )
    night_set: bool = fact(True, "You want to set the alarm while you sleep", share=HELPER)
    smoke_alarms: Yes = fact(Yes.UNKNOWN, "Are there smoke alarms on every level and at every bedroom?", share=HELPER)
    fuel: Yes = fact(
        Yes.UNKNOWN,
        "Is there a boiler, stove or fireplace, or a garage joined to the house?",
        help="They can give off carbon monoxide.",
        share=HELPER,
    )
    fuel_rooms: Note = fact("", "In which rooms does something burn?", help="Write several with commas between them.")
    answers_siren: Yes = fact(Yes.UNKNOWN, "Would somebody near answer a siren?", share=HELPER)
    wont_wake: Yes = fact(Yes.UNKNOWN, "Is there somebody whom an alarm would not wake?")
    floors: Note = fact("", "Floors of the home", help="Write several with commas between them.", share=HELPER)
    asked: Note = fact("", "Questions that were answered", help="The short path notes them by itself.")
    not_known: Note = fact("", "Questions answered by “I do not know”", help="The short path notes them by itself.")
