"""What decides on smoke, heat and carbon monoxide: the rules chosen, and how each such device is fitted."""

from alarmlib.model.base import Part, fact
from alarmlib.model.site import Yes
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class Edition(Word):
    """Which edition of NFPA 72 the authority uses; the local code and the device's own manual win."""

    BEFORE_2010 = "before_2010", "before 2010"
    FROM_2010 = "from_2010", "2010 to 2013"
    FROM_2016 = "from_2016", "2016 or later"


class Category(Word):
    """How much of a dwelling BS 5839-6 has covered."""

    LD3 = "ld3", "LD3: escape routes"
    LD2 = "ld2", "LD2: escape routes and rooms of high risk"
    LD1 = "ld1", "LD1: every room but bath, shower and toilet"


class Mount(Word):
    """What a device is fixed to."""

    UNKNOWN = "unknown", "not known yet"
    CEILING = "ceiling", "ceiling"
    INSIDE_WALL = "inside_wall", "inside wall"
    OUTSIDE_WALL = "outside_wall", "outside wall"
    FREE = "free", "is on the floor or on a shelf"


class SmokeSense(Word):
    """How a smoke device senses."""

    UNKNOWN = "unknown", "not known yet"
    IONISATION = "ionisation", "ionisation"
    PHOTOELECTRIC = "photoelectric", "photoelectric (optical)"
    BOTH = "both", "ionisation and photoelectric"


class HazardTypeFacts(Part):
    """What the manual of a smoke, heat or carbon monoxide device says."""

    sense: SmokeSense = fact(SmokeSense.UNKNOWN, "Senses smoke by", share=CLASS)
    hush: Yes = fact(Yes.UNKNOWN, "Can be hushed", share=CLASS)
    resists_cooking: Yes = fact(
        Yes.UNKNOWN, "Listed to resist cooking fumes", help="UL 217 8th edition, or UL 268 7th.", share=CLASS
    )
    rating_c: float | None = fact(None, "Heat detector: trips at", kind=Kind.TEMPERATURE, ge=30, le=200, share=CLASS)
    listed_spacing_m: float | None = fact(
        None, "Heat detector: listed spacing", kind=Kind.LENGTH, ge=1, le=30, share=CLASS
    )


class HazardPlace(Part):
    """How a smoke, heat or carbon monoxide device is fitted; by a tape measure."""

    sounds_with_others: Yes = fact(
        Yes.UNKNOWN, "Sounds when any other does", help="Linked by wire or radio.", share=HELPER
    )
    fault_contact: Yes = fact(
        Yes.UNKNOWN,
        "Its fault contact is in series with the circuit",
        help="It opens when the sensor fails or is worn out. Wired CO detectors mostly.",
        share=CLASS,
    )
    from_wall_m: float | None = fact(
        None, "To the nearest wall", help="Of the edge of the device.", kind=Kind.LENGTH, ge=0, le=20, share=HELPER
    )
    below_ceiling_m: float | None = fact(
        None, "Its top below the ceiling", help="0 on the ceiling.", kind=Kind.LENGTH, ge=0, le=10, share=HELPER
    )
    from_peak_m: float | None = fact(
        None, "Across to the ceiling's highest line", kind=Kind.LENGTH, ge=0, le=20, share=HELPER
    )
    below_peak_m: float | None = fact(
        None, "Down from the ceiling's highest line", kind=Kind.LENGTH, ge=0, le=10, share=HELPER
    )
    in_air_stream: Yes = fact(Yes.UNKNOWN, "In the stream of an air outlet", share=HELPER)


class HazardFacts(HazardPlace, HazardTypeFacts):
    """How a smoke, heat or carbon monoxide device is made and fitted; from its manual and a tape measure."""


class HazardChoices(Part):
    """Which rules decide on smoke, heat and carbon monoxide here; ask the authority."""

    edition: Edition = fact(Edition.FROM_2016, "Edition of NFPA 72", help="United States.", share=PUBLIC)
    category: Category = fact(Category.LD2, "Category of BS 5839-6", help="Britain.", share=PUBLIC)
    permit_work: bool = fact(
        False, "New home, or work that needs a permit", help="Then more is asked for than in an old home.", share=CLASS
    )
    carbon_monoxide_within_m: float | None = fact(
        None,
        "CO alarm within this of every bedroom",
        help="Where your state or city names a distance, such as 15 ft.",
        kind=Kind.LENGTH,
        ge=1,
        le=30,
        share=CLASS,
    )
    carbon_monoxide_in_bedrooms: bool = fact(
        False, "CO alarm wanted in every bedroom", help="Where your city asks for it.", share=CLASS
    )
