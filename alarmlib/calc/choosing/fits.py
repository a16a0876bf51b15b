"""Which kinds of detector fit an opening or a room, wired or wireless, and why: from the survey's facts alone."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from alarmlib.calc.choosing.links import FitReason, Suits, link_reasons, worst
from alarmlib.model.furnishing import FixtureKind
from alarmlib.model.household import Pet
from alarmlib.model.questions import by_id, present
from alarmlib.model.site import Disturbance, Frame, KeptOpen, Opening, OpeningKind, Reach, Room, RoundResult, Yes
from alarmlib.model.words import DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

ON_FLOOR_M = 0.3  # a pet that gets no higher stays in the band that a pet-tolerant detector ignores
GAP_USUAL_MM = 20.0  # what a common contact bridges on wood; its own manual wins
STEEL_PART = 0.5
HOT_C = 30.0  # as coverage has it: from here on, near the warmth of skin, range falls
PANE_LEAST_M = 0.3
NEEDS_CONTACT = "What can be opened needs a contact as well."
TELLS_OPENING = "It notices opening, but not somebody who breaks the glass and climbs through."
_SMALL = frozenset({OpeningKind.LETTERBOX, OpeningKind.PET_FLAP})
_MOVABLE = frozenset(OpeningKind) - _SMALL
DISTURBS = {
    Disturbance.HEATER: "a heater or stove warms the air it looks through",
    Disturbance.DRAUGHT: "moving air can trip it",
    Disturbance.SUN: "sun on wall or floor can trip it",
    Disturbance.FAN: "a fan or air outlet moves warm air",
    Disturbance.CURTAIN: "a curtain moves in front of it",
    Disturbance.HANGING: "something loose swings",
    Disturbance.FIREPLACE: "a fire warms the air",
    Disturbance.INSECTS: "insects or vermin walk over it",
}
_FIXTURES = {
    FixtureKind.HEATER: Disturbance.HEATER,
    FixtureKind.FUEL_APPLIANCE: Disturbance.HEATER,
    FixtureKind.AIR_OUTLET: Disturbance.FAN,
    FixtureKind.CEILING_FAN: Disturbance.FAN,
}


@dataclass(frozen=True)
class Fit:
    """Whether a kind of detector fits an opening or a room, with the reasons, each a sentence, and their sources.

    `link` is None where it does not matter whether it is wired.
    """

    subject: str
    kind: DeviceKind
    verdict: Suits
    reasons: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    link: Link | None = None


@dataclass(frozen=True)
class LinkFit:
    """Whether wired or wireless suits this home or one of its rooms, with the reasons."""

    link: Link
    verdict: Suits
    reasons: tuple[str, ...] = ()


def fits(home: "Home") -> tuple[Fit, ...]:
    """Each kind at each opening and in each room, wired and wireless, with the reasons of both.

    By `opening_fits`, `room_fits`, `link_fits`.
    """
    rooms = by_id(home.site.rooms)
    told = [(each, rooms[o.room]) for o in home.site.openings for each in opening_fits(home, o)]
    told += [(room_fits(home, room), room) for room in home.site.rooms]
    return tuple(_joined(each, link) for each, room in told for link in link_fits(home, room))


def _joined(fit: Fit, link: LinkFit) -> Fit:
    verdict = worst((fit.verdict, link.verdict))
    return replace(fit, verdict=verdict, reasons=(*fit.reasons, *link.reasons), link=link.link)


def opening_fits(home: "Home", opening: Opening) -> tuple[Fit, ...]:
    """Whether a contact, a shock and a glass-break detector may guard an opening, in this order.

    Reference: UL 1641 15.4.1 for shock and sound on what opens (`ul1641_shock`); steel halves a magnet's reach
    (`contact_on_steel`, from memory); the rest common practice, no source.
    """
    room = next(room for room in home.site.rooms if room.id == opening.room)
    return (
        _weighed(opening.id, DeviceKind.CONTACT, _contact(home, opening)),
        _weighed(opening.id, DeviceKind.SHOCK, _shock(opening)),
        _weighed(opening.id, DeviceKind.GLASS_BREAK, _glass(opening, room)),
    )


def room_fits(home: "Home", room: Room) -> Fit:
    """Whether a motion detector fits a room.

    Reference: CLC/TS 50131-7, influences inside (`ts50131_7_surroundings`), from memory; common practice, no source.
    """
    return _weighed(room.id, DeviceKind.MOTION, [*_disturbed(home, room), *_pets(home, room)])


def link_fits(home: "Home", room: Room | None = None) -> tuple[LinkFit, ...]:
    """Whether wired and wireless devices suit this home, or one of its rooms.

    By `alarmlib.calc.choosing.links`.
    """
    found = ((link, link_reasons(home, link, room)) for link in (Link.WIRED, Link.WIRELESS))
    return tuple(
        LinkFit(link, worst(verdict for verdict, _ in reasons), tuple(text for _, text in reasons))
        for link, reasons in found
    )


def _weighed(subject: str, kind: DeviceKind, reasons: Iterable[tuple[FitReason, str]]) -> Fit:
    found = list(reasons)
    verdict = worst(verdict for (verdict, _), _ in found)
    sources = tuple(dict.fromkeys(source for _, source in found))
    return Fit(subject, kind, verdict, tuple(text for (_, text), _ in found), sources)


Sourced = Iterator[tuple[FitReason, str]]
"""Reasons, each with the key of its source."""


def _contact(home: "Home", opening: Opening) -> Sourced:
    if opening.kind in _SMALL:
        yield (Suits.NOT, "It moves whenever post or a pet comes through."), "practice"
    if opening.frame is Frame.STEEL:
        yield (
            (Suits.CARE, "Steel halves a magnet's reach: use a contact made for steel, or a spacer."),
            "contact_on_steel",
        )
    bridges_mm, source = _bridged_mm(home)
    if opening.gap_mm is not None and opening.gap_mm > bridges_mm * _steel_part(opening):
        text = f"Its gap of {opening.gap_mm:g} mm is more than {source[1]}."
        yield (Suits.CARE, text), source[0]
    if opening.kept_open is not KeptOpen.NEVER:
        text = "It is open for air at times: leave it out of that part set, or fit a second magnet."
        yield (Suits.CARE, text), "practice"
    if opening.latches_in_wind is RoundResult.NEEDS_WORK:
        yield (Suits.CARE, "It does not stay latched in wind: fix that first."), "practice"
    if opening.kind is OpeningKind.GARAGE_DOOR:
        yield (Suits.CARE, "An overhead door needs a contact that allows for its play."), "practice"
    if opening.reach is Reach.NOT:
        yield (Suits.FITS, "Nobody reaches it without a ladder, so it may need no detector."), "ul1641_reach"
    if opening.glass is Yes.YES:
        yield (Suits.FITS, TELLS_OPENING), "practice"


def _steel_part(opening: Opening) -> float:
    return STEEL_PART if opening.frame is Frame.STEEL else 1.0


def _bridged_mm(home: "Home") -> tuple[float, tuple[str, str]]:
    """The gap that a contact bridges on wood: the widest of the owner's own, else a usual one; where that is from."""
    own = [device.contact_gap_mm for device in present(home, DeviceKind.CONTACT) if device.contact_gap_mm is not None]
    if own:
        return max(own), ("owner", "your contacts bridge")
    return GAP_USUAL_MM, ("practice", "a common contact bridges")


def _shock(opening: Opening) -> Sourced:
    if opening.kind in _MOVABLE:
        yield (Suits.CARE, NEEDS_CONTACT), "ul1641_shock"
    if opening.kind is OpeningKind.GARAGE_DOOR:
        yield (Suits.NOT, "Wind shakes an overhead door."), "practice"
    if opening.kind in _SMALL:
        yield (Suits.NOT, "Its own use knocks it."), "practice"


def _glass(opening: Opening, room: Room) -> Sourced:
    if opening.glass is Yes.NO:
        yield (Suits.NOT, "There is no glass to come through."), "owner"
        return
    if opening.glass is Yes.UNKNOWN:
        yield (Suits.CARE, "You have not entered whether it has glass that a person could come through."), "owner"
    if opening.width_m is not None and opening.width_m < PANE_LEAST_M:
        yield (Suits.NOT, "Panes this small are too quiet when they break."), "practice"
    if opening.kind in _MOVABLE:
        yield (Suits.CARE, NEEDS_CONTACT), "ul1641_shock"
    if Disturbance.CURTAIN in room.disturbances:
        yield (Suits.CARE, "Heavy curtains dampen the sound: mount it on their window side."), "practice"


def _disturbed(home: "Home", room: Room) -> Sourced:
    fixed = {fixture.kind for fixture in home.site.fixtures if fixture.room == room.id}
    found = {*room.disturbances, *(disturbance for kind, disturbance in _FIXTURES.items() if kind in fixed)}
    for disturbance, text in DISTURBS.items():
        if disturbance in found:
            yield (Suits.CARE, f"In this room {text}: turn the detector away."), "ts50131_7_surroundings"
    if Disturbance.HOT in found or (room.hottest_c is not None and room.hottest_c > HOT_C):
        text = "In a room near body warmth it sees less far; a detector with a second sense helps."
        yield (Suits.CARE, text), "ts50131_7_surroundings"


def _pets(home: "Home", room: Room) -> Sourced:
    for pet in home.household.pets:
        if room.id in pet.free_when_empty:
            yield _pet(pet), "practice"


def _pet(pet: Pet) -> FitReason:
    """A pet counts by the highest surface it reaches: above the floor no detector ignores it."""
    name = f"“{pet.kind}”"
    if pet.reaches_m > ON_FLOOR_M:
        return Suits.NOT, f"{name} climbs {pet.reaches_m:g} m high while nobody is in, where no detector ignores it."
    weight = "its weight (not entered)" if pet.mass_kg is None else f"{pet.mass_kg:g} kg on the floor"
    return (
        Suits.CARE,
        f"{name} is free here while nobody is in: use a detector that ignores {weight}, and test it with the pet.",
    )
