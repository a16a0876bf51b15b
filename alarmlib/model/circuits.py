"""The detector circuits: how each is wired and ended, and what a meter read at it."""

from alarmlib.model.base import Id, Name, Part, fact, identity
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS


class Ending(Word):
    """How a wired circuit is ended."""

    UNKNOWN = "unknown", "not known yet"
    NONE = "none", "no end resistor"
    SINGLE = "single", "one end-of-line resistor"
    DOUBLE = "double", "two end-of-line resistors"
    OPEN_FIRE = "open_fire", "normally open detectors across the end resistor"


class DetectorFeed(Word):
    """How detectors that are open at rest get their power: a dead wire leaves such a circuit looking quiet."""

    UNKNOWN = "unknown", "not known yet"
    BY_PAIR = "by_pair", "by the circuit's own pair"
    WATCHED = "watched", "by wires of their own, watched by a relay behind the last"
    UNWATCHED = "unwatched", "by wires of their own that nothing watches"


class Circuit(Part):
    """A wired loop from the control unit."""

    id: Id = identity()
    name: Name = fact(..., "Detector circuit", share=HELPER)
    terminals: Name = fact("", "Terminals on the control unit", help="As printed beside them.", share=HELPER)
    ending: Ending = fact(
        Ending.UNKNOWN, "How it ends", help="In the control unit's manual, in the picture of its wiring.", share=CLASS
    )
    end_resistor_ohm: float | None = fact(
        None,
        "End resistor",
        help="In the manual, or by the colours of its rings.",
        kind=Kind.RESISTANCE,
        ge=1,
        le=1_000_000,
        share=CLASS,
    )
    contact_resistor_ohm: float | None = fact(
        None,
        "Resistor across a contact",
        help="In the manual, or by the colours of its rings.",
        kind=Kind.RESISTANCE,
        ge=1,
        le=1_000_000,
        share=CLASS,
    )
    resistor_across_all: bool = fact(
        False,
        "One resistor across all its contacts",
        help="Tick it if one resistor spans a whole row of contacts. Unticked: one across each contact.",
        share=CLASS,
    )
    detectors_fed: DetectorFeed = fact(
        DetectorFeed.UNKNOWN,
        "How its fire or CO detectors are powered",
        help="Only for fire and CO circuits. In the manual, in the picture of their wiring.",
        share=CLASS,
    )
    cable: Name = fact("", "Cable", help="What is printed on the cable, with its size.")
    length_m: float | None = fact(None, "Cable length", kind=Kind.LENGTH, ge=0, le=2000)
    measured_ohm: float | None = fact(
        None,
        "Meter reading, all closed",
        help="With every contact closed and the pair off the control unit.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=10_000_000,
    )
    open_ohm: float | None = fact(
        None,
        "Meter reading, one contact open",
        help="Write 10 MΩ where the meter is over range.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=10_000_000,
    )
    earth_ohm: float | None = fact(
        None,
        "Meter reading, each core to earth",
        help="Write 10 MΩ where the meter is over range.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=10_000_000,
    )
    tamper_loop: bool = fact(False, "Has a tamper circuit, watched also while unset", share=CLASS)
    label: Name = fact("", "Label on the cable", share=HELPER)
