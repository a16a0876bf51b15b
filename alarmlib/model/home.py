"""The whole home: one value, one file."""

from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any, Concatenate, Literal, ParamSpec, Self, TypeVar

from pydantic import model_validator

from alarmlib.model.accepted import Accepted
from alarmlib.model.base import Id, Name, Note, Part, fact
from alarmlib.model.circuits import Circuit
from alarmlib.model.control_unit import ControlUnit
from alarmlib.model.device_types import whole_devices
from alarmlib.model.devices import Device, DeviceEntry, DeviceType
from alarmlib.model.hazards import HazardChoices
from alarmlib.model.household import Household
from alarmlib.model.log import Inherited, Log
from alarmlib.model.messages import Messages
from alarmlib.model.misfits import Misfit, led_back, repeated
from alarmlib.model.proof import ProofChoices
from alarmlib.model.references import broken_references
from alarmlib.model.shapes import ON_WALL_M, off_wall_m
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import Site
from alarmlib.model.sound import SoundFacts
from alarmlib.model.typed import typed_texts
from alarmlib.model.wiring import Wiring
from alarmlib.model.words import DeviceKind, RuleSet, Share, StartPoint, UnitSystem
from alarmlib.units import Kind

SCHEMA_VERSION = 2
P = ParamSpec("P")
T = TypeVar("T")
HELPER, CLASS, PUBLIC = Share.HELPER, Share.CLASS, Share.PUBLIC


class Rules(Part):
    """Whose limits hold here; the local code and licensed practice win over all of them."""

    rule_set: RuleSet = fact(
        RuleSet.US,
        "Country whose rules are checked",
        help="It decides which published limits count, and which words you read.",
        share=PUBLIC,
    )
    grade: int = fact(
        2,
        "Grade aimed at (EN 50131)",
        help="Your insurer may ask for one. Homes are usually 1 or 2.",
        ge=1,
        le=4,
        share=CLASS,
    )
    siren_limit_s: float | None = fact(
        None,
        "Longest siren time that your city or council allows",
        help="Ask your city or council. The siren time is checked against it.",
        kind=Kind.TIME,
        ge=10,
        le=7200,
        share=HELPER,
    )
    siren_limit_hour_s: float | None = fact(
        None,
        "Longest siren time in any hour",
        help="Ask your city or council. Blank: no limit is known.",
        kind=Kind.TIME,
        ge=10,
        le=3600,
        share=HELPER,
    )
    permit_asked: bool = fact(
        False,
        "You asked whether you need a permit",
        help="Some cities want a permit for an alarm that is heard outside.",
        share=HELPER,
    )


class Price(Part):
    """What one device of a kind costs the owner."""

    id: Id = fact(..., "Id", share=PUBLIC)
    kind: DeviceKind = fact(..., "Kind", share=CLASS)
    price: float = fact(..., "Price", kind=Kind.MONEY, ge=0, le=100000, share=Share.OWNER)


class Answers(dict[tuple[Callable[..., Any], tuple[Any, ...]], Any]):
    """What was worked out from one home; a copy, and a home sent elsewhere, begin with none."""

    __hash__ = None

    def __eq__(self, other: object) -> bool:
        return self is other

    def __reduce__(self) -> tuple[type[Self], tuple[()]]:
        return type(self), ()


class Home(Part):
    """A home, from the survey to the log of years."""

    schema_version: Literal[2] = fact(SCHEMA_VERSION, "Schema version", share=PUBLIC)
    name: Name = fact("My home", "Nickname of the home", help="Do not write your address.", share=HELPER)
    units: UnitSystem = fact(UnitSystem.METRIC, "Units", share=PUBLIC)
    start_point: StartPoint = fact(StartPoint.NOTHING, "What you start from", share=CLASS)
    rules: Rules = fact(Rules(), "Rules", share=PUBLIC)
    cautions_read: tuple[Id, ...] = fact((), "Cautions ticked", share=PUBLIC)
    cleared_texts: tuple[Name, ...] = fact(
        (), "Texts that are no secrets", help="The file keeps only a fingerprint of each."
    )
    short_path: ShortPath = fact(ShortPath(), "Short path")
    site: Site = fact(Site(), "The home", share=PUBLIC)
    household: Household = fact(Household(), "Household", share=CLASS)
    control_unit: ControlUnit = fact(ControlUnit(), "Control unit", share=CLASS)
    device_types: tuple[DeviceType, ...] = fact((), "Types of devices", share=CLASS, noun="device type")
    devices: tuple[DeviceEntry, ...] = fact((), "Devices", share=CLASS, noun="device")
    circuits: tuple[Circuit, ...] = fact((), "Detector circuits", share=CLASS, noun="circuit")
    wiring: Wiring = fact(Wiring(), "Wiring and power", share=CLASS)
    sound: SoundFacts = fact(SoundFacts(), "Sound", share=CLASS)
    hazards: HazardChoices = fact(HazardChoices(), "Smoke, heat and CO rules", share=PUBLIC)
    messages: Messages = fact(Messages(), "Messages", share=HELPER)
    proof: ProofChoices = fact(ProofChoices(), "Proof")
    inherited: Inherited = fact(Inherited(), "Inherited kit")
    log: Log = fact(Log(), "Logs", share=HELPER)
    accepted: tuple[Accepted, ...] = fact((), "Accepted risks", noun="accepted risk")
    prices: tuple[Price, ...] = fact((), "Prices", share=HELPER, noun="price")
    note: Note = fact("", "Note")

    @cached_property
    def whole_devices(self) -> tuple[Device, ...]:
        """Every device with all its facts, its own and its type's: what everything that works something out reads."""
        return whole_devices(self.devices, {each.id: each for each in self.device_types})

    @cached_property
    def typed_texts(self) -> frozenset[str]:
        """Every text that its owner typed."""
        return typed_texts(self)

    @cached_property
    def answers(self) -> Answers:
        """What `ask` has kept."""
        return Answers()

    def ask(self, query: Callable[Concatenate[Any, P], T], *args: P.args, **named: P.kwargs) -> T:
        """What the query says of this home, kept with it; `facts.Facts` keep it from one home to the next.

        A query is a pure function of a home and of what it is asked about, given by position.
        """
        if named:
            raise TypeError("a query is asked by position")
        asked = (query, args)
        if asked not in self.answers:
            self.answers[asked] = query(self, *args, **named)
        found: T = self.answers[asked]
        return found

    def __copy__(self) -> Self:
        """A copy that works everything out again: it may get other parts."""
        copied = super().__copy__()
        for name in ("whole_devices", "typed_texts", "answers"):
            copied.__dict__.pop(name, None)
        return copied

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        for misfit in self._misfits():
            raise misfit
        return self

    def _misfits(self) -> Iterator[Misfit]:
        zones = self.control_unit.zones
        yield from broken_references(self)
        yield from repeated(
            "the zone number", ((("control_unit", "zones", z.id, "place"), z.place) for z in zones if z.place)
        )
        yield from led_back(self.control_unit.areas, self.devices, self.log.tests)
        yield from _off_walls(self.site)


def _off_walls(site: Site) -> Iterator[Misfit]:
    outlines = {room.id: room.outline for room in site.rooms}
    for opening in site.openings:
        outline = outlines.get(opening.room, ())
        if opening.at is None or not outline:
            continue
        off = off_wall_m(opening.at, outline)
        if off > ON_WALL_M:
            yield Misfit(
                ("site", "openings", opening.id, "at"),
                "",
                f"way in “{opening.name or opening.id}” is {off:.2f} m off the walls of its room; "
                f"at most {ON_WALL_M} m is allowed",
            )
