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
    FREE = "free", "nothing: it is on the floor or a shelf"


class SmokeSense(Word):
    """How a smoke device senses."""

    UNKNOWN = "unknown", "not known yet"
    IONISATION = "ionisation", "ionisation"
    PHOTOELECTRIC = "photoelectric", "photoelectric (optical)"
    BOTH = "both", "ionisation and photoelectric"


class HazardTypeFacts(Part):
    """What the manual of a smoke, heat or carbon monoxide device says."""

    sense: SmokeSense = fact(
        SmokeSense.UNKNOWN, "How it senses smoke", help="On its back or in its manual.", share=CLASS
    )
    hush: Yes = fact(
        Yes.UNKNOWN,
        "Does it have a hush button?",
        help="In its manual: a button that silences it for some minutes. It matters near a cooker.",
        share=CLASS,
    )
    resists_cooking: Yes = fact(
        Yes.UNKNOWN,
        "Is it listed to resist cooking fumes?",
        help="On its label: UL 217, 8th edition, or UL 268, 7th edition.",
        share=CLASS,
    )
    rating_c: float | None = fact(
        None,
        "Temperature at which a heat detector trips",
        help="On its label or in its manual.",
        kind=Kind.TEMPERATURE,
        ge=30,
        le=200,
        share=CLASS,
    )
    listed_spacing_m: float | None = fact(
        None,
        "Listed spacing of a heat detector",
        help="In its manual, under spacing.",
        kind=Kind.LENGTH,
        ge=1,
        le=30,
        share=CLASS,
    )


class HazardPlace(Part):
    """How a smoke, heat or carbon monoxide device is fitted; by a tape measure."""

    sounds_with_others: Yes = fact(
        Yes.UNKNOWN,
        "Does it sound when any other does?",
        help="Alarms linked by wire or radio do. Press the test button of another one to find out.",
        share=HELPER,
    )
    fault_contact: Yes = fact(
        Yes.UNKNOWN,
        "Is its fault contact wired in series?",
        help=("In its wiring diagram, mostly of wired CO detectors. It opens when the sensor fails or is worn out."),
        share=CLASS,
    )
    from_wall_m: float | None = fact(
        None,
        "Distance to the nearest wall",
        help="From the edge of the device.",
        kind=Kind.LENGTH,
        ge=0,
        le=20,
        share=HELPER,
    )
    below_ceiling_m: float | None = fact(
        None,
        "Distance from the ceiling to its top",
        help="0 for a device on the ceiling.",
        kind=Kind.LENGTH,
        ge=0,
        le=10,
        share=HELPER,
    )
    from_peak_m: float | None = fact(
        None,
        "Distance across to the highest line of the ceiling",
        help="For peaked or sloping ceilings.",
        kind=Kind.LENGTH,
        ge=0,
        le=20,
        share=HELPER,
    )
    below_peak_m: float | None = fact(
        None,
        "Distance down from the highest line of the ceiling",
        help="For peaked or sloping ceilings.",
        kind=Kind.LENGTH,
        ge=0,
        le=10,
        share=HELPER,
    )
    in_air_stream: Yes = fact(
        Yes.UNKNOWN, "Does air from an outlet blow at it?", help="Moving air keeps smoke away from it.", share=HELPER
    )


class HazardFacts(HazardPlace, HazardTypeFacts):
    """How a smoke, heat or carbon monoxide device is made and fitted; from its manual and a tape measure."""


class HazardChoices(Part):
    """Which rules decide on smoke, heat and carbon monoxide here; ask the authority."""

    edition: Edition = fact(
        Edition.FROM_2016,
        "Edition of NFPA 72",
        help="For the United States. Ask your fire authority which one it uses.",
        share=PUBLIC,
    )
    category: Category = fact(
        Category.LD2, "Category of BS 5839-6", help="For Britain. It decides which rooms need an alarm.", share=PUBLIC
    )
    permit_work: bool = fact(
        False,
        "New home, or work that needs a permit",
        help="The rules ask for more then than in an old home.",
        share=CLASS,
    )
    carbon_monoxide_within_m: float | None = fact(
        None,
        "Longest distance from a bedroom to a CO alarm",
        help="If your state or city names one, such as 15 ft. Blank: it names none.",
        kind=Kind.LENGTH,
        ge=1,
        le=30,
        share=CLASS,
    )
    carbon_monoxide_in_bedrooms: bool = fact(
        False, "A CO alarm is required in every bedroom", help="Tick it if your state or city asks for it.", share=CLASS
    )
