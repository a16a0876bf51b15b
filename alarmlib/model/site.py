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
    height_m: float = fact(2.7, "Floor to floor", help="Used for stairs.", kind=Kind.LENGTH, ge=1, le=10, share=CLASS)


class Room(Part):
    """A room: its outline may be left out; then calculations use doors and seconds alone."""

    id: Id = identity()
    name: Name = fact(..., "Room", share=HELPER)
    storey: Id = ref("site.storeys", ..., "Storey", share=CLASS)
    use: RoomUse = fact(RoomUse.OTHER, "Used as", share=CLASS)
    outline: tuple[Point, ...] = fact(
        (), "Outline", help="Corners in order, or a rectangle.", kind=Kind.LENGTH, share=HELPER
    )
    floor_area_m2: float | None = fact(
        None, "Floor area", help="Only if there is no outline.", kind=Kind.AREA, ge=0.1, le=2000, share=CLASS
    )
    ceiling_m: float | None = fact(None, "Ceiling height", kind=Kind.LENGTH, ge=1, le=12, share=CLASS)
    ceiling: CeilingShape = fact(CeilingShape.FLAT, "Shape of the ceiling", share=CLASS)
    open_to_above: bool = fact(
        False, "Open to the storey above", help="A great room, or stairs without a door.", share=CLASS
    )
    coldest_c: float | None = fact(None, "Coldest it gets", kind=Kind.TEMPERATURE, ge=-60, le=60, share=HELPER)
    hottest_c: float | None = fact(
        None, "Hottest it gets under the ceiling", kind=Kind.TEMPERATURE, ge=-40, le=120, share=HELPER
    )
    area: Ref = ref("control_unit.areas", "", "Area", help="Which area of the alarm guards it.", share=HELPER)
    guarded: bool = fact(True, "To be guarded")
    sleeps_here: bool = fact(False, "Somebody sleeps here", share=Share.OWNER)
    door_shut_at_night: Yes = fact(Yes.UNKNOWN, "Door closed at night", share=HELPER)
    valuables_seen: Yes = fact(Yes.UNKNOWN, "Valuables can be seen from outside", help="Yes or no only; never a list.")
    disturbances: tuple[Disturbance, ...] = fact(
        (), "May trip or blind a detector", help="Rules out detectors that would give false alarms.", share=HELPER
    )
    water_sources: tuple[WaterSource, ...] = fact((), "Water sources", share=HELPER)
    may_freeze: Yes = fact(Yes.UNKNOWN, "Pipes that may freeze", share=HELPER)
    tub_or_shower: Yes = fact(Yes.UNKNOWN, "Tub or shower", help="Steam keeps smoke alarms away.", share=HELPER)
    fuel_appliance: bool = fact(False, "Fuel-burning appliance", share=HELPER)
    smoke_alarm: Yes = fact(Yes.UNKNOWN, "Smoke alarm here")
    smoke_alarm_made: int | None = fact(
        None, "Smoke alarm made in", help="The year on its back.", ge=1980, le=2100, share=HELPER
    )
    carbon_monoxide_alarm: Yes = fact(Yes.UNKNOWN, "CO alarm here")
    two_ways_out: Yes = fact(Yes.UNKNOWN, "Two ways out", share=HELPER)
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
    name: Name = fact(..., "Opening", share=HELPER)
    room: Id = ref("site.rooms", ..., "Opens into", share=CLASS)
    kind: OpeningKind = fact(OpeningKind.WINDOW, "Kind", share=CLASS)
    at: Point | None = fact(None, "Place on the wall", help="Metres on the plan.", kind=Kind.LENGTH)
    width_m: float | None = fact(None, "Width", kind=Kind.LENGTH, ge=0.05, le=10)
    sill_m: float | None = fact(None, "Height above the ground outside", kind=Kind.LENGTH, ge=0, le=50)
    reach: Reach = fact(Reach.UNKNOWN, "Can be reached", help="Decides whether it needs a detector.")
    ledge_width_m: float | None = fact(None, "Width of the roof or ledge below", kind=Kind.LENGTH, ge=0, le=20)
    ledge_below_m: float | None = fact(None, "Height above that roof or ledge", kind=Kind.LENGTH, ge=0, le=50)
    seen_by_others: Yes = fact(Yes.UNKNOWN, "Seen from street or neighbour")
    entry_exit: bool = fact(False, "Used to leave and come home", help="It gets a delay.", share=HELPER)
    glass: Yes = fact(Yes.UNKNOWN, "Has glass a person could come through")
    frame: Frame = fact(Frame.UNKNOWN, "Frame", help="Steel needs a contact made for it.")
    gap_mm: float | None = fact(None, "Gap between leaf and frame, mm", ge=0, le=100)
    lock: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "Locks well")
    latches_in_wind: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "Stays latched in wind")
    kept_open: KeptOpen = fact(KeptOpen.NEVER, "Open for air at times")
    escape_way: bool = fact(False, "Escape way", share=HELPER)
    opens_without_key: Yes = fact(Yes.UNKNOWN, "Opens from inside without a key")
    by_day: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "Looked at by day")
    by_night: RoundResult = fact(RoundResult.NOT_LOOKED_AT, "Looked at by night")
    left_bare_because: Note = fact("", "No detector, because", help="Leave blank if it gets one.")
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
        None, "Place on the other storey's plan", help="Top of the stairs.", kind=Kind.LENGTH, share=HELPER
    )
    width_m: float = fact(0.8, "Width", kind=Kind.LENGTH, ge=0.3, le=10, share=CLASS)
    slope_m: float | None = fact(
        None, "Length of the stairs along the slope", kind=Kind.LENGTH, ge=0.5, le=30, share=CLASS
    )
    seconds: float | None = fact(
        None,
        "Seconds from the middle of one room to the middle of the other",
        help="By stopwatch; used where there is no plan.",
        kind=Kind.TIME,
        ge=0.5,
        le=600,
        share=CLASS,
    )
    shut_at_night: Yes = fact(Yes.UNKNOWN, "Closed at night", share=HELPER)


class Site(Part):
    """The home as surveyed."""

    build_band: BuildBand = fact(BuildBand.UNKNOWN, "Built", help="Brings lead and asbestos cautions.", share=HELPER)
    tenure: Tenure = fact(Tenure.OWNED, "The home is", share=HELPER)
    attached_garage: Yes = fact(Yes.UNKNOWN, "Attached garage", help="Decides on CO alarms.", share=HELPER)
    fuel_appliances: Yes = fact(
        Yes.UNKNOWN, "Fuel-burning appliance", help="Boiler, stove, fireplace: decides on CO alarms.", share=HELPER
    )
    outside_walls_insulated: Yes = fact(
        Yes.UNKNOWN, "Outside walls and ceilings are insulated", help="Cold walls keep smoke away.", share=HELPER
    )
    stop_tap: Yes = fact(Yes.UNKNOWN, "Main water tap is known and turns", share=HELPER)
    breaker: Yes = fact(Yes.UNKNOWN, "Main switch of the mains is known", share=HELPER)
    storeys: tuple[Storey, ...] = fact((), "Storeys", share=PUBLIC, noun="storey")
    rooms: tuple[Room, ...] = fact((), "Rooms", share=PUBLIC, noun="room")
    openings: tuple[Opening, ...] = fact((), "Ways in", share=PUBLIC, noun="opening")
    passages: tuple[Passage, ...] = fact((), "Doors and stairs inside", share=PUBLIC, noun="passage")
    furniture: tuple[Furniture, ...] = fact((), "Furniture", share=PUBLIC, noun="piece of furniture")
    fixtures: tuple[Fixture, ...] = fact((), "Cookers, heaters, fans", share=PUBLIC, noun="fixture")
    answers: tuple[Answer, ...] = fact((), "Survey", noun="survey point")
