"""The home itself: storeys, rooms, ways in, doors inside, furniture, and what the survey found."""

from pydantic import field_validator

from alarmlib.model.base import Id, Name, Note, Part, Point, Ref, fact, identity, ref
from alarmlib.model.furnishing import CeilingShape, Fixture, Furniture
from alarmlib.model.shapes import crosses_itself
from alarmlib.model.survey import Answer
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class BuildBand(Word):
    """When the home was built; early bands bring lead and asbestos cautions."""

    UNKNOWN = "unknown", "not known"
    BEFORE_1978 = "before_1978", "before 1978"
    BEFORE_2000 = "before_2000", "1978 to 1999"
    LATER = "later", "2000 or later"


class Tenure(Word):
    """Who owns the walls that will be drilled."""

    OWNED = "owned", "owned"
    RENTED = "rented", "rented (the landlord agrees first)"
    SHARED = "shared", "shared (everybody who lives there agrees first)"


class Yes(Word):
    """An answer that may still be open."""

    UNKNOWN = "unknown", "not known yet"
    YES = "yes", "yes"
    NO = "no", "no"


class RoomUse(Word):
    """What a room is for."""

    LIVING = "living", "living room"
    BEDROOM = "bedroom", "bedroom"
    KITCHEN = "kitchen", "kitchen"
    BATH = "bath", "bathroom or toilet"
    HALL = "hall", "hall, landing or corridor"
    STUDY = "study", "study"
    UTILITY = "utility", "utility or laundry"
    STORE = "store", "store or pantry"
    GARAGE = "garage", "garage"
    CELLAR = "cellar", "cellar"
    ATTIC = "attic", "attic"
    WORKSHOP = "workshop", "workshop or shed"
    PORCH = "porch", "porch or conservatory"
    OTHER = "other", "other"


class Disturbance(Word):
    """What may trip or blind a detector in a room."""

    HEATER = "heater", "heater or stove"
    DRAUGHT = "draught", "draught"
    SUN = "sun", "sun on wall or floor"
    FAN = "fan", "fan or air outlet"
    CURTAIN = "curtain", "moving curtain"
    HANGING = "hanging", "something loose that swings"
    FIREPLACE = "fireplace", "fireplace"
    INSECTS = "insects", "insects or vermin"
    HOT = "hot", "can get hotter than 35 °C"


class WaterSource(Word):
    """Where water may come from."""

    WASHER = "washer", "washing machine"
    DISHWASHER = "dishwasher", "dishwasher"
    WATER_HEATER = "water_heater", "water heater"
    SUMP = "sump", "sump"
    FRIDGE_LINE = "fridge_line", "refrigerator line"
    TOILET = "toilet", "toilet or basin"
    GROUND = "ground", "ground water"


class Storey(Part):
    """A floor of the home or of an outbuilding."""

    id: Id = identity()
    name: Name = fact(..., "Storey", share=HELPER)
    level: int = fact(0, "Level", help="0 is the ground floor, -1 a cellar, 1 upstairs.", ge=-5, le=20, share=CLASS)
    height_m: float = fact(
        2.7,
        "Height from floor to floor",
        help="It decides how long the stairs take.",
        kind=Kind.LENGTH,
        ge=1,
        le=10,
        share=CLASS,
    )


class Room(Part):
    """A room: its outline may be left out; then calculations use doors and seconds alone."""

    id: Id = identity()
    name: Name = fact(..., "Room", share=HELPER)
    storey: Id = ref("site.storeys", ..., "Storey", share=CLASS)
    use: RoomUse = fact(
        RoomUse.OTHER, "Used as", help="It decides which detectors and alarms the room needs.", share=CLASS
    )
    outline: tuple[Point, ...] = fact(
        (),
        "Outline",
        help="Its corners in order, or a rectangle such as 4.2 x 3.1 at 0, 0.",
        kind=Kind.LENGTH,
        share=HELPER,
    )
    floor_area_m2: float | None = fact(
        None, "Floor area", help="Only if there is no outline.", kind=Kind.AREA, ge=0.1, le=2000, share=CLASS
    )
    ceiling_m: float | None = fact(None, "Ceiling height", kind=Kind.LENGTH, ge=1, le=12, share=CLASS)
    ceiling: CeilingShape = fact(
        CeilingShape.FLAT, "Shape of the ceiling", help="Smoke gathers at the highest part.", share=CLASS
    )
    open_to_above: bool = fact(
        False, "Open to the storey above", help="For a room two storeys high, or stairs without a door.", share=CLASS
    )
    coldest_c: float | None = fact(
        None,
        "Lowest temperature in the year",
        help="Its detectors must work at this temperature: see their manuals.",
        kind=Kind.TEMPERATURE,
        ge=-60,
        le=60,
        share=HELPER,
    )
    hottest_c: float | None = fact(
        None,
        "Highest temperature under the ceiling",
        help="A heat detector must not trip at it.",
        kind=Kind.TEMPERATURE,
        ge=-40,
        le=120,
        share=HELPER,
    )
    area: Ref = ref("control_unit.areas", "", "Area", help="The area of the alarm that guards it.", share=HELPER)
    guarded: bool = fact(True, "To be guarded")
    sleeps_here: bool = fact(False, "Somebody sleeps here", share=Share.OWNER)
    door_shut_at_night: Yes = fact(
        Yes.UNKNOWN, "Is its door closed at night?", help="A closed door weakens the sound of a siren.", share=HELPER
    )
    valuables_seen: Yes = fact(
        Yes.UNKNOWN, "Can valuables be seen from outside?", help="Answer yes or no. Never write a list."
    )
    disturbances: tuple[Disturbance, ...] = fact(
        (),
        "What may trip or blind a detector",
        help="It rules out detectors that would give false alarms.",
        share=HELPER,
    )
    water_sources: tuple[WaterSource, ...] = fact(
        (), "Sources of water", help="A water detector is asked for near most of them.", share=HELPER
    )
    may_freeze: Yes = fact(Yes.UNKNOWN, "Are there pipes that may freeze?", share=HELPER)
    tub_or_shower: Yes = fact(
        Yes.UNKNOWN, "Is there a tub or shower?", help="A smoke alarm near steam gives false alarms.", share=HELPER
    )
    fuel_appliance: bool = fact(
        False, "Fuel-burning appliance", help="Such as a boiler, stove or fireplace.", share=HELPER
    )
    smoke_alarm: Yes = fact(Yes.UNKNOWN, "Is there a smoke alarm here?")
    smoke_alarm_made: int | None = fact(
        None,
        "Year the smoke alarm was made",
        help="On its back. You are told when it is older than ten years.",
        ge=1980,
        le=2100,
        share=HELPER,
    )
    carbon_monoxide_alarm: Yes = fact(Yes.UNKNOWN, "Is there a CO alarm here?")
    two_ways_out: Yes = fact(
        Yes.UNKNOWN, "Are there two ways out?", help="A window counts if everybody can climb out of it.", share=HELPER
    )
    note: Note = fact("", "Note")

    @field_validator("outline")
    @classmethod
    def _outline_is_simple(cls, outline: tuple[Point, ...]) -> tuple[Point, ...]:
        if outline and len(outline) < 3:
            raise ValueError("an outline needs at least three corners")
        if outline and crosses_itself(outline):
            raise ValueError("the walls of an outline must not cross or touch each other")
        return outline


class OpeningKind(Word):
    """A way into the home from outside."""

    DOOR = "door", "door"
    SLIDING_DOOR = "sliding_door", "sliding door"
    GARAGE_DOOR = "garage_door", "garage door"
    WINDOW = "window", "window"
    SLIDING_WINDOW = "sliding_window", "sliding or sash window"
    ROOF_LIGHT = "roof_light", "roof light"
    ROOF_HATCH = "roof_hatch", "roof hatch"
    CELLAR_LIGHT = "cellar_light", "cellar light or hatch"
    FANLIGHT = "fanlight", "fanlight"
    PET_FLAP = "pet_flap", "pet flap"
    LETTERBOX = "letterbox", "letterbox within reach of a lock"
    GATE = "gate", "gate"


DOORS = frozenset({OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.GARAGE_DOOR, OpeningKind.GATE})


class Reach(Word):
    """From where an opening can be reached."""

    GROUND = "ground", "from the ground"
    FLAT_ROOF = "flat_roof", "from a flat roof or balcony"
    CLIMB = "climb", "by tree, pipe or bin"
    NOT = "not", "not without a ladder"
    UNKNOWN = "unknown", "not known yet"


class Frame(Word):
    """What the frame is made of; steel shortens the reach of a magnet."""

    UNKNOWN = "unknown", "not known yet"
    WOOD = "wood", "wood"
    PLASTIC = "plastic", "plastic"
    ALUMINIUM = "aluminium", "aluminium"
    STEEL = "steel", "steel"


class KeptOpen(Word):
    """When an opening is normally open for air."""

    NEVER = "never", "never"
    DAY = "day", "by day"
    NIGHT = "night", "at night"
    SUMMER = "summer", "day and night in summer"


class RoundResult(Word):
    """What was found on the round."""

    NOT_LOOKED_AT = "not_looked_at", "not looked at yet"
    OK = "ok", "in order"
    NEEDS_WORK = "needs_work", "needs work"
    NOT_HERE = "not_here", "there is none"


class Opening(Part):
    """A way in from outside, with what the survey asks of it."""

    id: Id = identity()
    name: Name = fact(..., "Way in", help="A name of your own, such as “kitchen window”.", share=HELPER)
    room: Id = ref("site.rooms", ..., "Room it leads into", share=CLASS)
    kind: OpeningKind = fact(OpeningKind.WINDOW, "Kind", share=CLASS)
    at: Point | None = fact(None, "Place on the wall", help="Where its middle is on the plan.", kind=Kind.LENGTH)
    width_m: float | None = fact(None, "Width", kind=Kind.LENGTH, ge=0.05, le=10)
    sill_m: float | None = fact(
        None,
        "Height above the ground outside",
        help="From the ground to its lower edge.",
        kind=Kind.LENGTH,
        ge=0,
        le=50,
    )
    reach: Reach = fact(Reach.UNKNOWN, "How it can be reached", help="It decides whether it needs a detector.")
    ledge_width_m: float | None = fact(None, "Width of the roof or ledge below", kind=Kind.LENGTH, ge=0, le=20)
    ledge_below_m: float | None = fact(None, "Height above that roof or ledge", kind=Kind.LENGTH, ge=0, le=50)
    seen_by_others: Yes = fact(Yes.UNKNOWN, "Can it be seen from the street or by a neighbour?")
    entry_exit: bool = fact(
        False, "Used to leave and come home", help="Such a door gets an entry delay and an exit delay.", share=HELPER
    )
    glass: Yes = fact(Yes.UNKNOWN, "Does it have glass that a person could come through?")
    frame: Frame = fact(Frame.UNKNOWN, "Frame", help="A steel frame needs a contact made for steel.")
    gap_mm: float | None = fact(
        None, "Gap between leaf and frame, mm", help="Measure it closed, where the contact goes.", ge=0, le=100
    )
    lock: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "State of the lock")
    latches_in_wind: RoundResult = fact(
        RoundResult.NOT_LOOKED_AT, "State of the latch in wind", help="A leaf that rattles gives false alarms."
    )
    kept_open: KeptOpen = fact(
        KeptOpen.NEVER, "When it is open for air", help="An open window cannot be guarded by a contact meanwhile."
    )
    escape_way: bool = fact(False, "Escape way", share=HELPER)
    opens_without_key: Yes = fact(Yes.UNKNOWN, "Does it open from inside without a key?", help="An escape way must.")
    by_day: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "As found by day")
    by_night: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "As found at night")
    left_bare_because: Note = fact("", "Why it has no detector", help="Leave blank if it gets one.")
    to_do: Note = fact("", "To do")
    note: Note = fact("", "Note")


class PassageKind(Word):
    """How two rooms are joined."""

    DOOR = "door", "door"
    DOORWAY = "doorway", "open doorway"
    STAIRS = "stairs", "stairs"
    HATCH = "hatch", "hatch or ladder"
    OUTSIDE = "outside", "across the yard"


class Passage(Part):
    """A way from one room to another, with the seconds it takes if they were stopped."""

    id: Id = identity()
    first: Id = ref("site.rooms", ..., "From", share=CLASS)
    second: Id = ref("site.rooms", ..., "To", share=CLASS)
    kind: PassageKind = fact(PassageKind.DOOR, "Kind", share=CLASS)
    at: Point | None = fact(None, "Place on the plan", kind=Kind.LENGTH, share=HELPER)
    at_second: Point | None = fact(
        None, "Place on the other storey's plan", help="Where the top of the stairs is.", kind=Kind.LENGTH, share=HELPER
    )
    width_m: float = fact(0.8, "Width", kind=Kind.LENGTH, ge=0.3, le=10, share=CLASS)
    slope_m: float | None = fact(
        None,
        "Length of the stairs along the slope",
        help="Measure it along the handrail.",
        kind=Kind.LENGTH,
        ge=0.5,
        le=30,
        share=CLASS,
    )
    seconds: float | None = fact(
        None,
        "Seconds from the middle of one room to the middle of the other",
        help="By stopwatch. It is used where there is no plan.",
        kind=Kind.TIME,
        ge=0.5,
        le=600,
        share=CLASS,
    )
    shut_at_night: Yes = fact(Yes.UNKNOWN, "Is it closed at night?", share=HELPER)


class Site(Part):
    """The home as surveyed."""

    build_band: BuildBand = fact(
        BuildBand.UNKNOWN, "When it was built", help="Old paint may hold lead, and old walls asbestos.", share=HELPER
    )
    tenure: Tenure = fact(Tenure.OWNED, "Who owns the home", share=HELPER)
    attached_garage: Yes = fact(
        Yes.UNKNOWN,
        "Is a garage joined to the house?",
        help="It decides whether CO alarms are asked for.",
        share=HELPER,
    )
    fuel_appliances: Yes = fact(
        Yes.UNKNOWN,
        "Is there a boiler, stove or fireplace that burns fuel?",
        help="It decides whether CO alarms are asked for.",
        share=HELPER,
    )
    outside_walls_insulated: Yes = fact(
        Yes.UNKNOWN,
        "Are outside walls and ceilings insulated?",
        help="Smoke may not reach a detector on a cold wall.",
        share=HELPER,
    )
    stop_tap: Yes = fact(Yes.UNKNOWN, "Do you know the main water tap, and does it turn?", share=HELPER)
    breaker: Yes = fact(Yes.UNKNOWN, "Do you know where the main switch of the mains is?", share=HELPER)
    storeys: tuple[Storey, ...] = fact((), "Storeys", share=PUBLIC, noun="storey")
    rooms: tuple[Room, ...] = fact((), "Rooms", share=PUBLIC, noun="room")
    openings: tuple[Opening, ...] = fact((), "Ways in", share=PUBLIC, noun="opening")
    passages: tuple[Passage, ...] = fact((), "Inside doorways and stairs", share=PUBLIC, noun="passage")
    furniture: tuple[Furniture, ...] = fact((), "Furniture", share=PUBLIC, noun="piece of furniture")
    fixtures: tuple[Fixture, ...] = fact((), "Cookers, heaters, fans", share=PUBLIC, noun="fixture")
    answers: tuple[Answer, ...] = fact((), "Survey", noun="survey point")
