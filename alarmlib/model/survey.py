"""The survey's rounds: what is looked at under each heading, and what was found and left."""

from dataclasses import dataclass

from alarmlib.model.base import Id, Note, Part, fact, identity
from alarmlib.model.words import Share, Word


class Heading(Word):
    """The eight headings of the survey, in the order of the walk."""

    CARD = "card", "The house card"
    GROUNDS = "grounds", "Street and grounds"
    OPENINGS = "openings", "Each way in"
    ROOMS = "rooms", "Each room"
    PEOPLE = "people", "People, pets and visitors"
    HAZARDS = "hazards", "Fire, gas, water and frost"
    OUTBUILDINGS = "outbuildings", "Outbuildings and services"
    ABSENCE = "absence", "When nobody is there"
    NEIGHBOURS = "neighbours", "Neighbours and who comes"


class Found(Word):
    """What was found at a point of the survey."""

    NOT_LOOKED_AT = "not_looked_at", "not looked at yet"
    OK = "ok", "in order"
    NEEDS_WORK = "needs_work", "needs work"
    NOT_HERE = "not_here", "there is none"


class Answer(Part):
    """One point of the survey: as found, as left, by day and in the dark, and what is to be done."""

    id: Id = identity()
    heading: Heading = fact(..., "Heading", share=Share.HELPER)
    point: Note = fact("", "Point", share=Share.HELPER)
    found: Found = fact(Found.NOT_LOOKED_AT, "As found", share=Share.HELPER)
    in_the_dark: Found = fact(Found.NOT_LOOKED_AT, "In the dark", share=Share.HELPER)
    left: Found = fact(Found.NOT_LOOKED_AT, "As left", share=Share.HELPER)
    to_do: Note = fact("", "To do", share=Share.OWNER)


@dataclass(frozen=True)
class SurveyPoint:
    """A point that every survey asks: its id, heading, sentence and what is to be done if it needs work."""

    id: str
    heading: Heading
    text: str
    to_do: str


_G, _H, _O = Heading.GROUNDS, Heading.HAZARDS, Heading.OUTBUILDINGS
_A, _N = Heading.ABSENCE, Heading.NEIGHBOURS

# The points merge published crime-prevention and fire-service home surveys (users note, section 1.2), in our own words.
POINTS = (
    SurveyPoint("number_seen", _G, "The house number can be read from the street", "Fit a number that shows at night"),
    SurveyPoint("hedges", _G, "Hedges leave doors, windows and gates in view", "Cut back what hides a way in"),
    SurveyPoint("hiding_places", _G, "Nobody can wait unseen beside a door", "Clear or light the hiding place"),
    SurveyPoint("lighting", _G, "Doors and paths are lit", "Add a light"),
    SurveyPoint("gates", _G, "Gates close and lock", "Fix or lock the gate"),
    SurveyPoint("boundary", _G, "The boundary is clear and whole", "Fix the fence"),
    SurveyPoint("loose_things", _G, "No bikes, bins or ladders help a climber", "Move or chain them"),
    SurveyPoint("ladders", _G, "Ladders and tools are locked away", "Lock ladders and tools away"),
    SurveyPoint("compared", _G, "The home looks no easier than its neighbours", "Start with what shows most"),
    SurveyPoint("smoke_bedrooms", _H, "A smoke alarm in every room where somebody sleeps", "Fit listed smoke alarms"),
    SurveyPoint("smoke_outside", _H, "A smoke alarm outside each sleeping area", "Fit a listed smoke alarm"),
    SurveyPoint("smoke_levels", _H, "A smoke alarm on every level, cellar too", "Fit a listed smoke alarm"),
    SurveyPoint("smoke_linked", _H, "When one smoke alarm sounds, all sound", "Choose alarms that are linked"),
    SurveyPoint("smoke_age", _H, "No smoke alarm is older than ten years", "Replace the old ones"),
    SurveyPoint("co_alarms", _H, "CO alarms outside the sleeping areas and on each level", "Fit listed CO alarms"),
    SurveyPoint("everybody_wakes", _H, "You tried who wakes, and agreed who helps the others", "Try it; add a shaker"),
    SurveyPoint("escape_plan", _H, "Two ways out of each room, a meeting place, practised", "Draw and practise it"),
    SurveyPoint("no_keyed_exits", _H, "No escape way is closed by a key or fixed bars", "Change the lock or bars"),
    SurveyPoint("extinguisher", _H, "A fire extinguisher is at hand and in date", "Get or renew it"),
    SurveyPoint("hoses", _H, "Hoses and valves were looked at this half year", "Look at hoses and valves"),
    SurveyPoint("frost_places", _H, "No pipe runs where it may freeze", "Lag it, heat it or add a sensor"),
    SurveyPoint("out_locked", _O, "Sheds, garage and workshop lock well", "Fit a lock"),
    SurveyPoint(
        "garage_pass_door", _O, "The door from garage to house is as strong as the front door", "Strengthen it"
    ),
    SurveyPoint("garage_overhead", _O, "The overhead door is locked, not only driven", "Lock it when away"),
    SurveyPoint("meter_box", _O, "Meter box and outside tap are closed", "Lock the box, close the tap"),
    SurveyPoint("oil_tank", _O, "Oil or gas tank is out of reach", "Lock or screen it"),
    SurveyPoint("looks_lived_in", _A, "Post, bins and lawn are seen to", "Ask a neighbour"),
    SurveyPoint("timer_lights", _A, "Lights come on while away", "Fit a timer"),
    SurveyPoint("heat_water_away", _A, "Heating and water are set for winter", "Drain or heat; agree who looks in"),
    SurveyPoint("siren_away", _A, "Somebody can silence the siren while you are away", "Ask a key-holder"),
    SurveyPoint("earshot", _N, "A neighbour within earshot will answer a siren", "Ask a neighbour"),
    SurveyPoint("key_holder", _N, "A key-holder who is not you can come and unset the alarm", "Ask and train one"),
    SurveyPoint("permit", _N, "You asked whether you need a permit", "Ask your city or council"),
    SurveyPoint("siren_limit", _N, "The local limit for a siren is known", "Ask your city or council"),
)
