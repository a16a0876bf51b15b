"""The short path as single questions: which are asked after which answers, in their order."""

from collections.abc import Callable
from dataclasses import dataclass

from alarmlib.draft.lines import commas, label_of
from alarmlib.draft.offers import (
    OptionGroup,
    apart_offers,
    choice_of,
    floor_offers,
    home_by_offers,
    joined_offers,
    need_offers,
    one_room,
    rest_offers,
    room_offers,
    several_rooms,
    way_offers,
    yes_or_no,
)
from alarmlib.draft.picks import Picks
from alarmlib.model.home import Home
from alarmlib.model.short_path import Pets, ShortPath
from alarmlib.model.site import RoomUse, Yes
from alarmlib.model.unit_facts import Recognises

CHECK = "check"
_PICK = "Pick one answer."


@dataclass(frozen=True)
class ShortQuestion:
    """One question: its kind (many, one or number), the fields it writes, and what it offers for these picks.

    `least` is the answer when nothing is picked where something must be; `unsure` allows “I do not know”.
    """

    id: str
    title: str
    kind: str
    fields: tuple[str, ...]
    help: str = ""
    groups: Callable[[Picks], tuple[OptionGroup, ...]] = lambda _picks: ()
    applies: Callable[[Picks], bool] = lambda _picks: True
    unsure: bool = False
    least: str = ""
    none: str = "None"


def asked_now(home: Home) -> tuple[ShortQuestion, ...]:
    """The questions that follow from the answers so far, in their order."""
    picks = Picks(home)
    return tuple(question for question in QUESTIONS if question.applies(picks))


def is_answered(home: Home, question: ShortQuestion) -> bool:
    """Whether it was answered; where no answer is noted, by the texts that were typed before answers were noted."""
    answers, blank = home.short_path, ShortPath()
    noted = {*commas(answers.asked), *commas(answers.not_known)}
    if noted:
        return question.id in noted
    if question.id == "floors" and answers.rooms.strip():
        return True
    return any(getattr(answers, field) != getattr(blank, field) for field in question.fields)


def begins_at(home: Home) -> str:
    """The question to go on with: the first one open, or the page to check them once all are answered or used."""
    if home.site.rooms and home.short_path.rooms.strip():
        return CHECK
    return next((each.id for each in asked_now(home) if not is_answered(home, each)), CHECK)


def is_unknown(home: Home, question: ShortQuestion) -> bool:
    """Whether the answer is that nobody knows."""
    return question.id in commas(home.short_path.not_known)


QUESTIONS = (
    ShortQuestion(
        "floors", "Which floors does your home have?", "many", ("floors",), groups=floor_offers, least="Pick a floor."
    ),
    ShortQuestion(
        "rooms",
        "Which rooms are there?",
        "many",
        ("rooms",),
        help="Halls and landings count as rooms.",
        groups=room_offers,
        least="Pick at least one room.",
    ),
    ShortQuestion(
        "outbuildings",
        "Which buildings apart should the alarm guard too?",
        "many",
        ("outbuildings",),
        help="A garage that you can walk into from the house is a room.",
        groups=apart_offers,
    ),
    ShortQuestion(
        "outside_doors",
        "Which rooms have a door to the outside?",
        "many",
        ("outside_doors",),
        help="A balcony door counts.",
        groups=way_offers("outside_doors", "door"),
        least="Pick at least one room.",
    ),
    ShortQuestion(
        "home_by",
        "Which doors do you come home by?",
        "many",
        ("home_by",),
        help="Each gets time to walk to the keypad.",
        groups=home_by_offers,
        least="Pick at least one door.",
    ),
    ShortQuestion(
        "windows",
        "In which rooms could somebody reach a window from the ground?",
        "many",
        ("windows",),
        help="Count each window that opens or could be broken.",
        groups=way_offers("windows", "window", False),
    ),
    ShortQuestion(
        "upper_windows",
        "Which windows higher up could somebody reach?",
        "many",
        (),
        help="From a flat roof, a balcony, a tree or a pipe.",
        groups=way_offers("windows", "window", True),
        applies=lambda picks: any(picks.is_upper(floor) for floor in picks.floors),
    ),
    ShortQuestion(
        "joined",
        "Where do the halls lead?",
        "many",
        ("inner_doors",),
        help="Take away what is not so. Stairs count.",
        groups=joined_offers,
        applies=lambda picks: len(picks.rooms) > 1,
        unsure=True,
    ),
    ShortQuestion(
        "rest",
        "How do you get into these rooms?",
        "many",
        (),
        help="Pick nothing where you only get in from outside.",
        groups=rest_offers,
        applies=lambda picks: bool(rest_offers(picks)) and "joined" not in commas(picks.answers.not_known),
        none="From outside only",
    ),
    ShortQuestion(
        "keypad_room",
        label_of("keypad_room"),
        "one",
        ("keypad_room",),
        help="It is where you set and unset the alarm.",
        groups=one_room("keypad_room"),
        unsure=True,
    ),
    ShortQuestion(
        "unit_room",
        label_of("unit_room"),
        "one",
        ("unit_room",),
        help="It is the box with the standby battery.",
        groups=one_room("unit_room"),
        unsure=True,
    ),
    ShortQuestion(
        "bedrooms", label_of("bedrooms"), "many", ("bedrooms",), groups=several_rooms("bedrooms", RoomUse.BEDROOM)
    ),
    ShortQuestion(
        "people", label_of("people"), "number", ("people",), help="Write a whole number, like 3.", unsure=True
    ),
    ShortQuestion(
        "needs",
        "What is true for somebody who lives here?",
        "many",
        (),
        help="It decides how long the delays are and how an alarm must sound.",
        groups=need_offers,
        none="None of these",
    ),
    ShortQuestion(
        "walk_s",
        label_of("walk_s"),
        "number",
        ("walk_s",),
        help="Use a stopwatch, at the slowest pace. It is worked out if you have not measured it.",
        unsure=True,
    ),
    ShortQuestion(
        "pets",
        "Do pets move about indoors?",
        "one",
        ("pets",),
        help="A pet may trip a motion detector.",
        groups=choice_of(
            "pets",
            (
                ("none", "No"),
                ("floor", "Yes, and they stay on the floor"),
                ("climb", "Yes, and they climb on furniture, like a cat"),
            ),
        ),
        least=_PICK,
    ),
    ShortQuestion(
        "pets_at_night",
        "Do the pets roam at night?",
        "one",
        ("pets_at_night",),
        groups=yes_or_no("pets_at_night"),
        applies=lambda picks: picks.answers.pets is not Pets.NONE,
        least=_PICK,
    ),
    ShortQuestion(
        "night_set",
        "Do you want to set the alarm while you sleep?",
        "one",
        ("night_set",),
        groups=yes_or_no("night_set"),
        least=_PICK,
    ),
    ShortQuestion(
        "recognises",
        label_of("recognises"),
        "one",
        ("recognises",),
        help="The manual says it under zones.",
        groups=choice_of(
            "recognises",
            tuple(
                (each.value, f"{each.text[:1].upper()}{each.text[1:]}")
                for each in Recognises
                if each is not Recognises.UNKNOWN
            ),
        ),
        unsure=True,
    ),
    ShortQuestion(
        "zones",
        "How many zones does your control unit have?",
        "number",
        ("zones",),
        help="The manual says it under technical data.",
        unsure=True,
    ),
    ShortQuestion(
        "smoke_alarms",
        label_of("smoke_alarms"),
        "one",
        ("smoke_alarms",),
        groups=yes_or_no("smoke_alarms"),
        unsure=True,
    ),
    ShortQuestion(
        "fuel",
        label_of("fuel"),
        "one",
        ("fuel",),
        help="They can give off carbon monoxide.",
        groups=yes_or_no("fuel"),
        unsure=True,
    ),
    ShortQuestion(
        "fuel_rooms",
        "In which rooms is a boiler, stove or fireplace?",
        "many",
        ("fuel_rooms",),
        groups=several_rooms("fuel_rooms"),
        applies=lambda picks: picks.answers.fuel is Yes.YES,
    ),
    ShortQuestion(
        "answers_siren",
        label_of("answers_siren"),
        "one",
        ("answers_siren",),
        help="Ask them first.",
        groups=yes_or_no("answers_siren"),
        unsure=True,
    ),
)
"""Every question in its order; at most 25."""
