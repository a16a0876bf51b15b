"""Circuits' cable, supply, battery and the boxes on the message path: the inputs of wiring and power."""

from typing import Annotated

from pydantic import StringConstraints, field_validator

from alarmlib.model.base import Day, Id, Name, Part, fact, identity, ref
from alarmlib.model.conductor_sizes import SIZES_SAID, size_in
from alarmlib.model.words import Share, Word
from alarmlib.units import Kind

SizeText = Annotated[str, StringConstraints(pattern=r"^[0-9./]{1,8}( AWG| mm²)?$", max_length=16)]
HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class Metal(Word):
    """What a conductor is made of."""

    COPPER = "copper", "copper"
    COATED = "coated", "tinned copper"
    COPPER_CLAD = "copper_clad", "copper-clad aluminium"
    UNKNOWN = "unknown", "not known yet"


class StandbyRule(Word):
    """By which rule the standby battery is sized."""

    UNKNOWN = "unknown", "not chosen yet"
    EN_LOW = "en_low", "EN 50131, grades 1 and 2"
    EN_HIGH = "en_high", "EN 50131, grades 3 and 4"
    EN_HIGH_TOLD = "en_high_told", "EN 50131, grades 3 and 4, if lost mains is reported"
    BURGLARY_US = "burglary_us", "US household burglary alarm"
    FIRE_US = "fire_us", "US household fire alarm"
    PREMISES_US = "premises_us", "US protected premises, fire"
    PREMISES_BRITAIN = "premises_britain", "BS 5839-1"
    OWN = "own", "hours of your own"


class RuleEdition(Word):
    """Which edition of a standby rule holds here."""

    CURRENT = "current", "as it is now"
    EARLIER = "earlier", "as it was earlier"


class Supply(Part):
    """The supply and its standby battery."""

    nominal_v: float = fact(
        12,
        "Supply voltage",
        help="On the power supply, or in the control unit's manual.",
        kind=Kind.VOLTAGE,
        ge=3,
        le=60,
        share=CLASS,
    )
    end_v: float = fact(
        10.5,
        "Voltage at which the battery is empty",
        help="In the control unit's manual. Cables are computed at this voltage.",
        kind=Kind.VOLTAGE,
        ge=2,
        le=60,
        share=CLASS,
    )
    standby_battery_ah: float | None = fact(
        None, "Rated capacity of the battery", help="On the battery.", kind=Kind.CHARGE, ge=0.1, le=400, share=CLASS
    )
    rated_over_h: float | None = fact(
        None,
        "Hours of that rating",
        help="On the battery, or in its data sheet. It is 20 h for most.",
        kind=Kind.DURATION_H,
        ge=1,
        le=100,
        share=CLASS,
    )
    second_ah: float | None = fact(
        None,
        "Capacity at a faster rate",
        help="In the battery's data sheet. It shows what a larger current does.",
        kind=Kind.CHARGE,
        ge=0.1,
        le=400,
        share=CLASS,
    )
    second_over_h: float | None = fact(
        None,
        "Hours of the faster rate",
        help="In the battery's data sheet.",
        kind=Kind.DURATION_H,
        ge=0.05,
        le=50,
        share=CLASS,
    )
    peukert: float = fact(
        1.15,
        "How much a large current shortens its time",
        help=("An exponent, in the battery's data sheet: 1.05 to 1.15 for AGM. A faster rate above is used instead."),
        ge=1,
        le=1.6,
        share=CLASS,
    )
    coldest_c: float | None = fact(
        None,
        "Lowest temperature where the battery is",
        help="A cold battery gives less.",
        kind=Kind.TEMPERATURE,
        ge=-30,
        le=50,
        share=CLASS,
    )
    fitted_on: Day = fact("", "Battery fitted on", share=HELPER)
    lasts_years: float | None = fact(
        None,
        "Battery life, years",
        help="In its data sheet. It decides when you are reminded to change it.",
        ge=0.5,
        le=20,
        share=CLASS,
    )
    charger_a: float | None = fact(
        None,
        "Charging current",
        help="In the control unit's manual, under technical data.",
        kind=Kind.CURRENT,
        ge=0.01,
        le=50,
        share=CLASS,
    )
    most_a: float | None = fact(
        None,
        "Most current that the supply gives",
        help="In its manual, under technical data.",
        kind=Kind.CURRENT,
        ge=0.05,
        le=50,
        share=CLASS,
    )
    rule: StandbyRule = fact(
        StandbyRule.UNKNOWN,
        "Standby rule",
        help="It decides how long the battery must last. Your insurer or city may name one.",
        share=PUBLIC,
    )
    edition: RuleEdition = fact(RuleEdition.CURRENT, "Edition of the rule", share=PUBLIC)
    quiet_h: float | None = fact(
        None,
        "Your own hours without mains",
        help="Used if the rule is hours of your own.",
        kind=Kind.DURATION_H,
        ge=0,
        le=240,
        share=CLASS,
    )
    alarm_s: float | None = fact(
        None,
        "Your own time in alarm",
        help="Used if the rule is hours of your own.",
        kind=Kind.TIME,
        ge=0,
        le=36000,
        share=CLASS,
    )


class FedBy(Word):
    """What keeps a box going when the mains is lost."""

    UNKNOWN = "unknown", "not known yet"
    MAINS = "mains", "the mains alone"
    STANDBY_BATTERY = "standby_battery", "the alarm's battery"
    OWN_BATTERY = "own_battery", "a battery of its own"


class Box(Part):
    """A box that is no part of the alarm but on a message's way: router, fibre box, hub, switch."""

    id: Id = identity()
    name: Name = fact(..., "Box", share=HELPER)
    draws_w: float | None = fact(
        None, "Power that it draws, W", help="On its label, or on its plug-in power supply.", ge=0, le=500, share=CLASS
    )
    fed_by: FedBy = fact(FedBy.UNKNOWN, "What feeds it in a power cut", share=CLASS)
    own_battery_wh: float | None = fact(
        None, "Capacity of its own battery, Wh", help="On its label or in its manual.", ge=0, le=20000, share=CLASS
    )
    paths: tuple[Id, ...] = ref("messages.paths", (), "Message paths through it", share=HELPER)


class Stop(Part):
    """What a shared cable feeds, in order from the supply."""

    device: Id = ref("devices", ..., "Device", share=HELPER)
    metres: float = fact(0, "Cable from the device before", kind=Kind.LENGTH, ge=0, le=2000, share=HELPER)

    @property
    def id(self) -> str:
        """The device: each may be listed once, so it names the row."""
        return self.device


class PowerRun(Part):
    """One pair of conductors that feeds devices one after another."""

    id: Id = identity()
    name: Name = fact(..., "Cable run", help="A name of your own.", share=HELPER)
    size: SizeText = fact("0.22 mm²", "Conductor", help=f"Its size: {SIZES_SAID}.", share=CLASS)
    metal: Metal = fact(
        Metal.UNKNOWN, "Metal of the conductor", help="Scratch it: white inside is aluminium.", share=CLASS
    )
    ohm_per_km: float | None = fact(
        None,
        "Resistance of one core, Ω/km",
        help="In the cable's data sheet. Blank: computed from its size.",
        ge=0.1,
        le=2000,
        share=CLASS,
    )
    pairs: int = fact(1, "Cores joined in parallel, each way", help="1 for most cables.", ge=1, le=8, share=CLASS)
    warmest_c: float = fact(
        30,
        "Highest temperature along the cable",
        help="Warm copper resists more.",
        kind=Kind.TEMPERATURE,
        ge=-30,
        le=90,
        share=CLASS,
    )
    stops: tuple[Stop, ...] = fact((), "Feeds, in order", share=HELPER, noun="device")

    @field_validator("size", mode="before")
    @classmethod
    def _known_size(cls, value: object) -> object:
        """A size in any usual spelling, kept in one; anything else is refused."""
        if not isinstance(value, str):
            return value
        size = size_in(value)
        if size is None:
            raise ValueError(f"it must be a size such as {SIZES_SAID}")
        return size.text


class LoopInput(Part):
    """How the unit reads a wired loop: its pull-up and the shares of its voltage between the states."""

    pull_up_ohm: float | None = fact(
        None,
        "Resistor inside the control unit",
        help="In its manual, under detector circuits or inputs: the resistor that feeds a detector circuit.",
        kind=Kind.RESISTANCE,
        ge=10,
        le=1e6,
        share=CLASS,
    )
    loop_v: float = fact(
        12,
        "Voltage at that resistor",
        help="In its manual, beside that resistor.",
        kind=Kind.VOLTAGE,
        ge=1,
        le=60,
        share=CLASS,
    )
    short_below: float | None = fact(
        None,
        "Reads as short below this part of it",
        help="In its manual, as a part of that voltage: 6 V of 12 V is 0.5.",
        ge=0,
        le=1,
        share=CLASS,
    )
    trip_above: float | None = fact(
        None,
        "Reads as trip above this part of it",
        help="In its manual, as a part of that voltage.",
        ge=0,
        le=1,
        share=CLASS,
    )
    cut_above: float | None = fact(
        None,
        "Reads as cut or tamper above this part of it",
        help="In its manual, as a part of that voltage.",
        ge=0,
        le=1,
        share=CLASS,
    )
    tolerance: float = fact(
        1,
        "Tolerance of the resistors, %",
        help="The last ring on each resistor: brown is 1, gold is 5.",
        ge=0,
        le=20,
        share=CLASS,
    )
    leak_ohm: float | None = fact(
        None,
        "Lowest leakage resistance to allow for",
        help="Damp joints let some current through. Blank: none is allowed for.",
        kind=Kind.RESISTANCE,
        ge=100,
        le=1e7,
    )


class Wiring(Part):
    """All of it; every part may be left out."""

    supply: Supply = fact(Supply(), "Supply", share=CLASS)
    loop: LoopInput = fact(LoopInput(), "How the control unit reads its detector circuits", share=CLASS)
    boxes: tuple[Box, ...] = fact((), "Boxes on the message path", share=HELPER, noun="box")
    runs: tuple[PowerRun, ...] = fact((), "Cable that feeds devices", noun="run")
    done: tuple[Name, ...] = fact((), "Steps of the fitting day done")
