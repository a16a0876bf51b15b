"""Everything that is fitted: detectors, keypads, fobs, sounders, repeaters, boxes; wired or wireless.

What a manual says is entered once, in a `DeviceType`. A `DeviceEntry` is what the home file holds of one device: its
type, its place, and what differs from its type. A `Device` is one device with every fact: `Home.whole_devices` puts
them together, and everything that works something out reads those.
"""

from typing import TYPE_CHECKING, Self

from pydantic import model_validator

from alarmlib.model.base import Day, Id, Name, Note, Part, Point, Ref, fact, identity, ref
from alarmlib.model.differences import differing
from alarmlib.model.hazards import HazardFacts, HazardPlace, HazardTypeFacts, Mount
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, Link, Share, Word
from alarmlib.units import Kind

HELPER, CLASS = Share.HELPER, Share.CLASS


class DeviceState(Word):
    """How far a device has come."""

    PLANNED = "planned", "planned"
    FITTED = "fitted", "fitted"
    OUT_OF_USE = "out_of_use", "out of use until put back"
    REMOVED = "removed", "taken out"


class BatteryKind(Word):
    """What a wireless device runs on."""

    UNKNOWN = "unknown", "not known yet"
    LITHIUM = "lithium", "lithium battery"
    ALKALINE = "alkaline", "alkaline battery"
    COIN = "coin", "coin battery"
    RECHARGEABLE = "rechargeable", "rechargeable"
    MAINS = "mains", "mains with standby battery"


class WirelessFacts(Part):
    """What the manual of a wireless device says of its radio and its battery."""

    check_in_s: float | None = fact(
        None, "Check-in interval", help="From its manual.", kind=Kind.TIME, ge=1, le=172800, share=CLASS
    )
    missing_after_s: float | None = fact(None, "Is called missing after", kind=Kind.TIME, ge=1, le=604800, share=CLASS)
    battery: BatteryKind = fact(BatteryKind.UNKNOWN, "Battery", share=CLASS)
    battery_lasts_years: float | None = fact(None, "Battery lasts, years", ge=0.1, le=20, share=CLASS)
    reports_low_battery: Yes = fact(Yes.UNKNOWN, "Reports a low battery", share=CLASS)
    battery_mah: float | None = fact(None, "Battery capacity, mAh", ge=10, le=50000, share=CLASS)
    rests_at_ua: float | None = fact(None, "Quiet current, µA", ge=0, le=10000, share=CLASS)
    report_mas: float | None = fact(
        None, "Charge of one message, mA·s", help="Current times seconds, from its manual.", ge=0, le=10000, share=CLASS
    )
    signal_asked: float | None = fact(None, "Least signal that its manual asks for", ge=-150, le=1000, share=CLASS)


class WirelessPlace(Part):
    """What is a wireless device's own: its place in the unit, its reading, its battery's day."""

    slot: int | None = fact(None, "Wireless place in the unit", ge=0, le=999, share=HELPER)
    battery_fitted_on: Day = fact("", "Battery fitted on", share=HELPER)
    signal: float | None = fact(
        None,
        "Signal reading where it is mounted",
        help="On the control unit's own scale, with doors closed.",
        ge=-150,
        le=1000,
        share=HELPER,
    )
    repeater: Ref = ref("devices", "", "Heard through the repeater", share=HELPER)
    trips_a_day: float | None = fact(None, "Trips a day", ge=0, le=10000, share=CLASS)


class Wireless(WirelessFacts, WirelessPlace):
    """Every fact that only a wireless device has."""


class TypeFacts(Part):
    """What the manual of a device says, the same for every device of its type."""

    kind: DeviceKind = fact(..., "Kind", share=CLASS)
    link: Link = fact(Link.WIRED, "Joined by", share=CLASS)
    range_m: float | None = fact(None, "Range", kind=Kind.LENGTH, ge=0.1, le=100, share=CLASS)
    angle_deg: float | None = fact(None, "Angle of view, degrees", ge=1, le=360, share=CLASS)
    straight_range_m: float | None = fact(
        None,
        "Range for somebody walking straight at it",
        help="Blank: half its range.",
        kind=Kind.LENGTH,
        ge=0.1,
        le=100,
        share=CLASS,
    )
    looks_down_deg: float | None = fact(
        None,
        "Looks down at most, degrees",
        help="Its steepest beam, 90 is straight down. Blank: 45; nearer than that it is blind.",
        ge=1,
        le=90,
        share=CLASS,
    )
    slowest_m_s: float | None = fact(None, "Slowest pace it sees", kind=Kind.SPEED, ge=0.01, le=5, share=CLASS)
    ignores_pets_kg: float | None = fact(
        None, "Ignores pets on the floor up to", kind=Kind.MASS, ge=0, le=100, share=CLASS
    )
    sleep_s: float = fact(
        0,
        "Sleeps after a trip",
        help="A battery detector may see nothing meanwhile.",
        kind=Kind.TIME,
        ge=0,
        le=3600,
        share=CLASS,
    )
    movement_restarts_sleep: bool = fact(False, "Movement starts the sleep time again", share=CLASS)
    warm_up_s: float = fact(0, "Warms up", kind=Kind.TIME, ge=0, le=3600, share=CLASS)
    tamper: Yes = fact(Yes.UNKNOWN, "Reports when its cover is opened", share=CLASS)
    contact_gap_mm: float | None = fact(None, "Works up to a gap of, mm", ge=0, le=100, share=CLASS)
    quiet_current_a: float | None = fact(None, "Current when quiet", kind=Kind.CURRENT, ge=0, le=10, share=CLASS)
    alarm_current_a: float | None = fact(None, "Current in alarm", kind=Kind.CURRENT, ge=0, le=20, share=CLASS)
    least_v: float | None = fact(
        None,
        "Works down to",
        help="From its manual. Devices far along a cable get fewer volts than the supply gives.",
        kind=Kind.VOLTAGE,
        ge=1,
        le=60,
        share=CLASS,
    )
    level_dba: float | None = fact(None, "Sound level", kind=Kind.LEVEL, ge=30, le=140, share=CLASS)
    level_at_m: float | None = fact(
        None,
        "Measured at",
        help="A level without its distance means nothing.",
        kind=Kind.LENGTH,
        ge=0.1,
        le=100,
        share=CLASS,
    )
    tone_hz: float | None = fact(
        None,
        "Main tone, Hz",
        help="Most sirens 3100; low ones 520. Low tones may wake more people: still test it.",
        ge=100,
        le=8000,
        share=CLASS,
    )
    has_hold_up: bool = fact(False, "Has a hold-up button", share=CLASS)
    standby: Yes = fact(Yes.UNKNOWN, "Goes on without mains", share=CLASS)


class PlaceFacts(Part):
    """What is a device's own: where it is, what it guards, what it is joined to, its days."""

    id: Id = identity()
    name: Name = fact(..., "Device", share=HELPER)
    type: Ref = ref("device_types", "", "Type", help="Its type carries what the manual says.", share=CLASS)
    state: DeviceState = fact(DeviceState.PLANNED, "State", share=HELPER)
    room: Ref = ref("site.rooms", "", "Room", help="Blank for something carried.")
    openings: tuple[Id, ...] = ref("site.openings", (), "Guards the openings")
    passages: tuple[Id, ...] = ref("site.passages", (), "Guards the inside doors")
    at: Point | None = fact(None, "Place on the plan", kind=Kind.LENGTH)
    height_m: float | None = fact(None, "Height above the floor", kind=Kind.LENGTH, ge=0, le=20)
    mount: Mount = fact(Mount.UNKNOWN, "Fixed to")
    facing_deg: float | None = fact(None, "Faces, degrees from the plan's right", ge=-360, le=360)
    zone: Ref = ref("control_unit.zones", "", "Zone", share=HELPER)
    circuit: Ref = ref("circuits", "", "Circuit", share=HELPER)
    made_on: Day = fact("", "Made on", share=HELPER)
    fitted_on: Day = fact("", "Fitted on", share=HELPER)
    price: float | None = fact(None, "Price", kind=Kind.MONEY, ge=0, le=100000)
    note: Note = fact("", "Note")


class TypeName(Part):
    """What a type is called."""

    id: Id = identity()
    name: Name = fact(..., "Type", help="A name of your own, such as “hall detectors”.", share=HELPER)
    assumed: bool = fact(
        False,
        "Its values are assumed, not from a manual",
        help="Untick this when you have entered what the manual says.",
        share=CLASS,
    )


class DeviceType(TypeFacts, TypeName):
    """Devices that are alike: what their manual says, once."""

    wireless: WirelessFacts | None = fact(None, "Wireless facts", share=CLASS)
    hazard: HazardTypeFacts | None = fact(None, "Smoke, heat and CO facts", share=CLASS)


class Device(TypeFacts, PlaceFacts):
    """One device that is fitted, carried or kept, with every fact: its own and its type's."""

    wireless: Wireless | None = fact(None, "Wireless facts", share=CLASS)
    hazard: HazardFacts | None = fact(None, "Smoke, heat and CO facts", share=CLASS)


if TYPE_CHECKING:
    # What an entry differs by is read in `Device` alone: to the type checker an entry has no such fields.
    class WirelessEntry(WirelessPlace):
        """What the home file holds of a device's radio and battery."""

    class HazardEntry(HazardPlace):
        """What the home file holds of a smoke, heat or carbon monoxide device."""

    class DeviceEntry(PlaceFacts):
        """What the home file holds of one device: its type, its place, and what differs from its type."""

        wireless: WirelessEntry | None = None
        hazard: HazardEntry | None = None

else:
    WirelessEntry = differing("WirelessEntry", WirelessPlace, WirelessFacts)
    HazardEntry = differing("HazardEntry", HazardPlace, HazardTypeFacts)

    class _Entry(PlaceFacts):
        """What the home file holds of one device: its type, its place, and what differs from its type."""

        wireless: WirelessEntry | None = fact(None, "Wireless facts", share=CLASS)
        hazard: HazardEntry | None = fact(None, "Smoke, heat and CO facts", share=CLASS)

        @model_validator(mode="after")
        def _of_a_kind(self) -> Self:
            if not self.type and self.kind is None:
                raise ValueError("choose its type, or say of which kind it is")
            return self

    DeviceEntry = differing("DeviceEntry", _Entry, TypeFacts)


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
    name: Name = fact(..., "Circuit", share=HELPER)
    terminals: Name = fact("", "Terminals on the unit", share=HELPER)
    ending: Ending = fact(Ending.UNKNOWN, "Ended by", share=CLASS)
    end_resistor_ohm: float | None = fact(None, "End resistor", kind=Kind.RESISTANCE, ge=1, le=1_000_000, share=CLASS)
    contact_resistor_ohm: float | None = fact(
        None, "Resistor across a contact", kind=Kind.RESISTANCE, ge=1, le=1_000_000, share=CLASS
    )
    resistor_across_all: bool = fact(
        False,
        "One resistor across all its contacts",
        help="Several contacts in one row, one resistor across the whole row. Blank: one across each contact.",
        share=CLASS,
    )
    detectors_fed: DetectorFeed = fact(
        DetectorFeed.UNKNOWN,
        "Fire or CO detectors on it are powered",
        help="Fire and CO circuits only.",
        share=CLASS,
    )
    cable: Name = fact("", "Cable")
    length_m: float | None = fact(None, "Cable length", kind=Kind.LENGTH, ge=0, le=2000)
    measured_ohm: float | None = fact(None, "Meter reading, all closed", kind=Kind.RESISTANCE, ge=0, le=10_000_000)
    open_ohm: float | None = fact(
        None,
        "Meter reads with a contact open",
        help="Over range: 10 MΩ.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=10_000_000,
    )
    earth_ohm: float | None = fact(
        None,
        "Meter reads to earth",
        help="Over range: 10 MΩ.",
        kind=Kind.RESISTANCE,
        ge=0,
        le=10_000_000,
    )
    tamper_loop: bool = fact(False, "Runs a tamper loop", share=CLASS)
    label: Name = fact("", "Label on the cable", share=HELPER)
