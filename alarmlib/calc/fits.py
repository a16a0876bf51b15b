"""Which kinds of detector fit an opening or a room, wired or wire-free, and why: from the survey's facts alone."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from alarmlib.model.household import Pet
from alarmlib.model.site import Disturbance, Frame, KeptOpen, Opening, OpeningKind, Room, Tenure, Yes
from alarmlib.model.words import DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

ON_FLOOR_M = 0.3  # a pet that reaches no higher stays in the band that a pet-tolerant detector ignores
GAP_USUAL_MM = 20.0  # what a common contact bridges on wood; its own papers win
STEEL_PART = 0.5
HOT_C = 35.0
PANE_LEAST_M = 0.3
NEEDS_CONTACT = "What can be opened needs a contact as well."
TELLS_OPENING = "It tells opening, not glass that is broken and climbed through."
_MOVABLE = frozenset(OpeningKind) - {OpeningKind.LETTERBOX, OpeningKind.PET_FLAP}
_SMALL = frozenset({OpeningKind.LETTERBOX, OpeningKind.PET_FLAP})


class Verdict(StrEnum):
    """Whether a kind fits."""

    FITS = "fits"
    CARE = "with care"
    NOT = "does not fit"


@dataclass(frozen=True)
class Fit:
    """Whether a kind of detector fits an opening or a room, with the reasons, each a sentence."""

    subject: str
    kind: DeviceKind
    verdict: Verdict
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class LinkFit:
    """Whether wired or wire-free suits this home, with the reasons."""

    link: Link
    verdict: Verdict
    reasons: tuple[str, ...] = ()


def opening_fits(home: "Home", opening: Opening) -> tuple[Fit, ...]:
    """Each kind that may guard an opening.

    Reference: UL 1641 15.4.1 for shock and sound on what opens (`ul1641_shock`); the rest common practice, no source.
    """
    room = next(room for room in home.site.rooms if room.id == opening.room)
    return (
        _weighed(opening.id, DeviceKind.CONTACT, _contact(opening)),
        _weighed(opening.id, DeviceKind.SHOCK, _shock(opening)),
        _weighed(opening.id, DeviceKind.GLASS_BREAK, _glass(opening, room)),
    )


def room_fits(home: "Home", room: Room) -> Fit:
    """Whether a motion detector fits a room.

    Reference: CLC/TS 50131-7, influences inside (`ts50131_7_surroundings`), from memory; common practice, no source.
    """
    return _weighed(room.id, DeviceKind.MOTION, [*_disturbed(room), *_pets(home, room)])


Reason = tuple[Verdict, str]


def _weighed(subject: str, kind: DeviceKind, reasons: "list[Reason] | Iterator[Reason]") -> Fit:
    found = list(reasons)
    weight = [Verdict.FITS, Verdict.CARE, Verdict.NOT]
    verdict = max((each for each, _ in found), key=weight.index, default=Verdict.FITS)
    return Fit(subject, kind, verdict, tuple(text for _, text in found))


def _contact(opening: Opening) -> Iterator[Reason]:
    if opening.kind in _SMALL:
        yield Verdict.NOT, "It moves whenever post or a pet comes."
    reach_mm = GAP_USUAL_MM * (STEEL_PART if opening.frame is Frame.STEEL else 1.0)
    if opening.frame is Frame.STEEL:
        yield Verdict.CARE, "Steel halves a magnet's reach: use one made for it, or a spacer."
    if opening.gap_mm is not None and opening.gap_mm > reach_mm:
        yield Verdict.CARE, f"Its gap of {opening.gap_mm:g} mm is more than a common contact bridges here."
    if opening.kept_open is not KeptOpen.NEVER:
        yield Verdict.CARE, "It stands open for air at times: leave it out of that set, or fit a second magnet."
    if opening.kind is OpeningKind.GARAGE_DOOR:
        yield Verdict.CARE, "An overhead door wants a contact made for its play."
    if opening.glass is Yes.YES:
        yield Verdict.FITS, TELLS_OPENING


def _shock(opening: Opening) -> Iterator[Reason]:
    if opening.kind in _MOVABLE:
        yield Verdict.CARE, NEEDS_CONTACT
    if opening.kind is OpeningKind.GARAGE_DOOR:
        yield Verdict.NOT, "Wind shakes an overhead door."
    if opening.kind in _SMALL:
        yield Verdict.NOT, "It is knocked by its own use."


def _glass(opening: Opening, room: Room) -> Iterator[Reason]:
    if opening.glass is Yes.NO:
        yield Verdict.NOT, "There is no glass to come through."
        return
    if opening.glass is Yes.UNKNOWN:
        yield Verdict.CARE, "Whether it has glass a person could come through isn't said."
    if opening.width_m is not None and opening.width_m < PANE_LEAST_M:
        yield Verdict.NOT, "Panes this small are too quiet when they break."
    if opening.kind in _MOVABLE:
        yield Verdict.CARE, NEEDS_CONTACT
    if Disturbance.CURTAIN in room.disturbances:
        yield Verdict.CARE, "Heavy curtains deaden the sound: hang it on their window side."


def _disturbed(room: Room) -> Iterator[Reason]:
    blinds = {
        Disturbance.HEATER: "a heater or stove warms the air it looks through",
        Disturbance.DRAUGHT: "moving air can trip it",
        Disturbance.SUN: "sun on wall or floor can trip it",
        Disturbance.FAN: "a fan or air outlet moves warm air",
        Disturbance.CURTAIN: "a curtain moves in front of it",
        Disturbance.HANGING: "hanging things swing",
        Disturbance.FIREPLACE: "a fire warms the air",
        Disturbance.INSECTS: "insects or vermin walk over it",
    }
    for disturbance in room.disturbances:
        if disturbance in blinds:
            yield Verdict.CARE, f"In this room {blinds[disturbance]}: turn it away."
    if Disturbance.HOT in room.disturbances or (room.hottest_c is not None and room.hottest_c >= HOT_C):
        yield Verdict.CARE, "Near body warmth it sees less far; a kind with a second sense helps."


def _pets(home: "Home", room: Room) -> Iterator[Reason]:
    for pet in home.household.pets:
        if room.id in pet.free_when_away:
            yield _pet(home, pet, room)


def _pet(home: "Home", pet: Pet, room: Room) -> Reason:
    """A pet counts by the highest surface it reaches: its own climb, or furniture it may get onto."""
    tops = [f.height_m for f in home.site.furniture if f.room == room.id and f.height_m <= pet.reaches_m]
    highest_m = max(tops, default=pet.reaches_m)
    if highest_m > ON_FLOOR_M:
        return Verdict.NOT, f"A {pet.kind} gets {highest_m:.2g} m high here, where no detector ignores it."
    return Verdict.CARE, f"A {pet.kind} is free here when nobody is in: use one that ignores its weight, and test it."


def link_fits(home: "Home") -> tuple[LinkFit, ...]:
    """Whether wired and wire-free devices suit this home.

    Reference: the owner's answers and the unit's papers; common practice, no source.
    """
    limits = home.unit.limits
    used = sum(device.link is Link.WIRE_FREE for device in home.devices)
    wired: list[Reason] = []
    free: list[Reason] = [(Verdict.FITS, "No cable, but batteries to change and a signal to test in each place.")]
    if home.site.tenure is not Tenure.OWNED:
        wired.append((Verdict.CARE, f"The home is {home.site.tenure.text}: ask before walls are drilled."))
    if home.circuits:
        wired.append((Verdict.FITS, f"{len(home.circuits)} wired circuits are there already."))
    wired.append((Verdict.FITS, "No batteries to change; the unit can tell a cut cable where it supervises the loop."))
    slots = limits.wire_free_slots
    if slots is not None:
        left = slots - used
        text = f"The unit has room for {left} more wire-free devices." if left > 0 else "The unit has no room for more."
        free.append((Verdict.FITS if left > 0 else Verdict.NOT, text))
    cold = [room.name for room in home.site.rooms if room.coldest_c is not None and room.coldest_c < 0]
    if cold:
        free.append((Verdict.CARE, f"Cold shortens battery life: {', '.join(cold)}."))
    fits = (_weighed("", DeviceKind.CONTACT, reasons) for reasons in (wired, free))
    links = (Link.WIRED, Link.WIRE_FREE)
    return tuple(LinkFit(link, fit.verdict, fit.reasons) for link, fit in zip(links, fits, strict=True))
