"""What is in rooms: furniture that blocks walks and views, and fixtures that disturb or feed a detector."""

from pydantic import field_validator

from alarmlib.model.base import Id, Name, Part, Point, fact, identity, ref
from alarmlib.model.shapes import crosses_itself
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS


class CeilingShape(Word):
    """How a ceiling runs; smoke gathers at its highest part."""

    FLAT = "flat", "flat"
    PEAKED = "peaked", "peaked (two slopes)"
    SLOPING = "sloping", "sloping one way, steeper than 1 in 8"
    TRAY = "tray", "raised in the middle (tray)"
    UNKNOWN = "unknown", "not known yet"


class Furniture(Part):
    """Something that blocks a walk or a detector's view."""

    id: Id = identity()
    name: Name = fact(..., "Furniture", share=HELPER)
    room: Id = ref("site.rooms", ..., "Room", share=CLASS)
    outline: tuple[Point, ...] = fact((), "Outline", kind=Kind.LENGTH, share=HELPER)
    height_m: float = fact(0.9, "Height", kind=Kind.LENGTH, ge=0.05, le=5, share=HELPER)

    @field_validator("outline")
    @classmethod
    def _outline_is_simple(cls, outline: tuple[Point, ...]) -> tuple[Point, ...]:
        if outline and (len(outline) < 3 or crosses_itself(outline)):
            raise ValueError("an outline needs three corners and walls that do not cross")
        return outline


class FixtureKind(Word):
    """What is fixed in a room and matters for where a detector may go."""

    COOKER = "cooker", "cooker or fixed cooking appliance"
    HEATER = "heater", "heater or radiator"
    FUEL_APPLIANCE = "fuel_appliance", "fuel-burning appliance"
    AIR_OUTLET = "air_outlet", "air outlet or supply register"
    CEILING_FAN = "ceiling_fan", "ceiling fan"
    LIGHT = "light", "light fitting"


class Fixture(Part):
    """A fixed object that gives off heat, fumes or moving air."""

    id: Id = identity()
    name: Name = fact(..., "Fixture", share=HELPER)
    room: Id = ref("site.rooms", ..., "Room", share=CLASS)
    kind: FixtureKind = fact(FixtureKind.COOKER, "Kind", share=CLASS)
    at: Point | None = fact(None, "Place on the plan", kind=Kind.LENGTH, share=HELPER)
    radius_m: float = fact(
        0,
        "How far it reaches out",
        help="The length of a fan's blade. 0 if it has no size.",
        kind=Kind.LENGTH,
        ge=0,
        le=5,
        share=HELPER,
    )
