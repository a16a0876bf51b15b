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
        None,
        "Check-in interval",
        help="How often it reports that it is there. In its manual, under check-in or supervision.",
        kind=Kind.TIME,
        ge=1,
        le=172800,
        share=CLASS,
    )
    missing_after_s: float | None = fact(
        None,
        "Reported missing after",
        help="In the control unit's manual, under supervision. Until then nobody is told that it is silent.",
        kind=Kind.TIME,
        ge=1,
        le=604800,
        share=CLASS,
    )
    battery: BatteryKind = fact(
        BatteryKind.UNKNOWN, "Battery", help="On the battery, or in the device's manual.", share=CLASS
    )
    battery_lasts_years: float | None = fact(
        None,
        "Battery life, years",
        help="In its manual. It decides when you are reminded to change the battery.",
        ge=0.1,
        le=20,
        share=CLASS,
    )
    reports_low_battery: Yes = fact(
        Yes.UNKNOWN, "Does it report a low battery?", help="In its manual, under battery.", share=CLASS
    )
    battery_mah: float | None = fact(
        None,
        "Battery capacity, mAh",
        help="On the battery, or in its data sheet. Without it no battery life is computed.",
        ge=10,
        le=50000,
        share=CLASS,
    )
    rests_at_ua: float | None = fact(
        None,
        "Quiet current, µA",
        help="What it draws while nothing happens. In its manual, under technical data.",
        ge=0,
        le=10000,
        share=CLASS,
    )
    report_mas: float | None = fact(
        None,
        "Charge that one message takes, mA·s",
        help="In its manual: the current while it sends, times the seconds that this takes.",
        ge=0,
        le=10000,
        share=CLASS,
    )
    signal_asked: float | None = fact(
        None,
        "Least signal that it needs",
        help="In its manual, on the scale that the control unit shows.",
        ge=-150,
        le=1000,
        share=CLASS,
    )


class WirelessPlace(Part):
    """What is a wireless device's own: its place in the unit, its reading, its battery's day."""

    slot: int | None = fact(
        None,
        "Wireless number in the control unit",
        help="The number that the control unit gave it when you added it.",
        ge=0,
        le=999,
        share=HELPER,
    )
    battery_fitted_on: Day = fact(
        "", "Battery fitted on", help="It decides when you are reminded to change the battery.", share=HELPER
    )
    signal: float | None = fact(
        None,
        "Signal reading where it is mounted",
        help="Read it from the control unit, on its own scale, with doors closed.",
        ge=-150,
        le=1000,
        share=HELPER,
    )
    repeater: Ref = ref(
        "devices",
        "",
        "Repeater that passes on its messages",
        help="Blank: the control unit hears it without one.",
        share=HELPER,
    )
    trips_a_day: float | None = fact(
        None,
        "Trips a day",
        help="Count them for a day. Many trips shorten the life of its battery.",
        ge=0,
        le=10000,
        share=CLASS,
    )


class Wireless(WirelessFacts, WirelessPlace):
    """Every fact that only a wireless device has."""


class TypeFacts(Part):
    """What the manual of a device says, the same for every device of its type."""

    kind: DeviceKind = fact(..., "Kind", share=CLASS)
    link: Link = fact(
        Link.WIRED, "Connection", help="Wired, wireless, or without a connection to the control unit.", share=CLASS
    )
    range_m: float | None = fact(
        None,
        "Detection range",
        help="In its manual, under detection range. Without it nobody can compute what it sees.",
        kind=Kind.LENGTH,
        ge=0.1,
        le=100,
        share=CLASS,
    )
    angle_deg: float | None = fact(
        None,
        "Angle of view, degrees",
        help="In its manual, beside the picture of its detection area.",
        ge=1,
        le=360,
        share=CLASS,
    )
    straight_range_m: float | None = fact(
        None,
        "Range for somebody walking straight at it",
        help="In its manual; detectors notice this least well. Blank: half its range.",
        kind=Kind.LENGTH,
        ge=0.1,
        le=100,
        share=CLASS,
    )
    looks_down_deg: float | None = fact(
        None,
        "Steepest view down, degrees",
        help="In the side view in its manual; 90 is straight down. Blank: 45. It is blind below that.",
        ge=1,
        le=90,
        share=CLASS,
    )
    slowest_m_s: float | None = fact(
        None,
        "Slowest walk that it notices",
        help="In its manual, under detection speed.",
        kind=Kind.SPEED,
        ge=0.01,
        le=5,
        share=CLASS,
    )
    ignores_pets_kg: float | None = fact(
        None,
        "Largest pet on the floor that it ignores",
        help="In its manual, under pets. It does not hold for a pet that climbs.",
        kind=Kind.MASS,
        ge=0,
        le=100,
        share=CLASS,
    )
    sleep_s: float = fact(
        0,
        "Sleep time after a trip",
        help="In its manual, under battery saving. A battery detector may see nothing meanwhile.",
        kind=Kind.TIME,
        ge=0,
        le=3600,
        share=CLASS,
    )
    movement_restarts_sleep: bool = fact(
        False, "Movement starts the sleep time again", help="In its manual, beside the sleep time.", share=CLASS
    )
    warm_up_s: float = fact(
        0,
        "Warm-up time",
        help="In its manual. It may see nothing for so long after its power comes on.",
        kind=Kind.TIME,
        ge=0,
        le=3600,
        share=CLASS,
    )
    tamper: Yes = fact(Yes.UNKNOWN, "Does it report an opened cover?", help="In its manual, under tamper.", share=CLASS)
    contact_gap_mm: float | None = fact(
        None,
        "Widest gap that it works across, mm",
        help="In the contact's manual: the distance from magnet to contact.",
        ge=0,
        le=100,
        share=CLASS,
    )
    quiet_current_a: float | None = fact(
        None,
        "Current when quiet",
        help="In its manual, under technical data. It decides how long the standby battery lasts.",
        kind=Kind.CURRENT,
        ge=0,
        le=10,
        share=CLASS,
    )
    alarm_current_a: float | None = fact(
        None,
        "Current in alarm",
        help="In its manual, under technical data. It decides how long the standby battery lasts.",
        kind=Kind.CURRENT,
        ge=0,
        le=20,
        share=CLASS,
    )
    least_v: float | None = fact(
        None,
        "Lowest voltage that it works at",
        help=(
            "In its manual, under supply voltage. A device far along a cable gets fewer volts than the supply gives."
        ),
        kind=Kind.VOLTAGE,
        ge=1,
        le=60,
        share=CLASS,
    )
    level_dba: float | None = fact(
        None,
        "Sound level",
        help="In its manual, under sound level or output.",
        kind=Kind.LEVEL,
        ge=30,
        le=140,
        share=CLASS,
    )
    level_at_m: float | None = fact(
        None,
        "Distance of that sound level",
        help="In its manual beside the level, such as 1 m or 3 m. A level without its distance means nothing.",
        kind=Kind.LENGTH,
        ge=0.1,
        le=100,
        share=CLASS,
    )
    tone_hz: float | None = fact(
        None,
        "Main tone, Hz",
        help="In its manual. Most sirens have 3100, low ones 520. Low tones may wake more people: still test it.",
        ge=100,
        le=8000,
        share=CLASS,
    )
    has_hold_up: bool = fact(False, "Has a hold-up button", share=CLASS)
    standby: Yes = fact(
        Yes.UNKNOWN,
        "Does it go on without mains?",
        help="In its manual, under power supply or standby battery.",
        share=CLASS,
    )


class PlaceFacts(Part):
    """What is a device's own: where it is, what it guards, what it is joined to, its days."""

    id: Id = identity()
    name: Name = fact(..., "Device", share=HELPER)
    type: Ref = ref(
        "device_types",
        "",
        "Type",
        help="Choose it from the table of types, which has what the manual says.",
        share=CLASS,
    )
    state: DeviceState = fact(DeviceState.PLANNED, "State", share=HELPER)
    room: Ref = ref("site.rooms", "", "Room", help="Blank for a device that is carried, such as a fob.")
    openings: tuple[Id, ...] = ref(
        "site.openings", (), "Ways in that it guards", help="A way in that no device guards is told as a gap."
    )
    passages: tuple[Id, ...] = ref("site.passages", (), "Inside doorways that it guards")
    at: Point | None = fact(None, "Place on the plan", kind=Kind.LENGTH)
    height_m: float | None = fact(
        None,
        "Height above the floor",
        help="It decides what the detector sees, and which ladder you need.",
        kind=Kind.LENGTH,
        ge=0,
        le=20,
    )
    mount: Mount = fact(Mount.UNKNOWN, "Fixed to")
    facing_deg: float | None = fact(
        None,
        "Direction that it faces, degrees",
        help="0 is to the right on the plan, 90 is up, 180 is to the left.",
        ge=-360,
        le=360,
    )
    zone: Ref = ref("control_unit.zones", "", "Zone", share=HELPER)
    circuit: Ref = ref("circuits", "", "Detector circuit", share=HELPER)
    made_on: Day = fact("", "Made on", help="On its back. Smoke, heat and CO alarms wear out.", share=HELPER)
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
        help="Untick it when you have entered what the manual says.",
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
                raise ValueError("choose its type, or say what kind it is")
            return self

    DeviceEntry = differing("DeviceEntry", _Entry, TypeFacts)
