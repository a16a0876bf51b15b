"""What decides how loud a sounder is at a pillow and at the neighbour's."""

from alarmlib.model.base import Id, Part, Ref, fact, identity, ref
from alarmlib.model.site import Yes
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class Leaf(Word):
    """What is in the opening between two rooms."""

    UNKNOWN = "unknown", "not known yet"
    NONE = "none", "nothing, or always open"
    HOLLOW = "hollow", "hollow door"
    SOLID = "solid", "solid door"
    SEALED = "sealed", "heavy door with seals"


class Door(Part):
    """One inside door as sound meets it."""

    passage: Id = ref("site.passages", ..., "Inside door", share=CLASS)
    leaf: Leaf = fact(
        Leaf.UNKNOWN, "Kind of door", help="A solid door weakens sound more than a hollow one.", share=CLASS
    )
    loss_db: float | None = fact(
        None,
        "Loss through the closed door",
        help="Read the level outside it and inside it; write the difference. Blank: as usual for its kind.",
        kind=Kind.LEVEL,
        ge=0,
        le=60,
        share=CLASS,
    )

    @property
    def id(self) -> str:
        """The passage: each may be listed once, so it names the row."""
        return self.passage


class Heard(Part):
    """The owner's own reading of one sounder in one place."""

    id: Id = identity()
    sounder: Id = ref("devices", ..., "Sounder", share=HELPER)
    room: Ref = ref("site.rooms", "", "Room of the pillow", help="Blank: read at the neighbour's.", share=HELPER)
    doors_shut: Yes = fact(Yes.YES, "Were the doors closed?", share=HELPER)
    level_dba: float = fact(60, "Sound level that you read", kind=Kind.LEVEL, ge=20, le=140, share=CLASS)


class SoundFacts(Part):
    """Quiet and loudest of the home, the neighbour, and what is asked there."""

    ambient_dba: float = fact(
        35, "Usual level in a bedroom at night", help="35 in most homes.", kind=Kind.LEVEL, ge=15, le=90, share=CLASS
    )
    loudest_dba: float | None = fact(
        None,
        "Loudest sound there that lasts a minute",
        help="Such as a fan, an air conditioner or a radio.",
        kind=Kind.LEVEL,
        ge=15,
        le=110,
        share=CLASS,
    )
    neighbour_m: float | None = fact(
        None, "Distance from the outside siren to the neighbour's window", kind=Kind.LENGTH, ge=1, le=1000, share=HELPER
    )
    neighbour_dba: float | None = fact(
        None, "Usual level outside at the neighbour's", kind=Kind.LEVEL, ge=15, le=90, share=HELPER
    )
    limit_dba: float | None = fact(
        None,
        "Loudest siren allowed at the boundary",
        help="Ask your city or council. Blank: no limit is known.",
        kind=Kind.LEVEL,
        ge=20,
        le=130,
        share=HELPER,
    )
    boundary_m: float | None = fact(
        None, "Distance from the outside siren to the boundary", kind=Kind.LENGTH, ge=0.5, le=1000
    )
    doors: tuple[Door, ...] = fact((), "Inside doors", share=CLASS, noun="inside door")
    heard: tuple[Heard, ...] = fact((), "Readings of your own", noun="reading")
