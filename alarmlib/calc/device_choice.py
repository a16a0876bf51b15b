"""Which detectors cover what must be covered: candidates from the survey and the plan, the best set, what each adds."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from alarmlib.calc.cover import Cover, alone_covered, least_cover, most_covered
from alarmlib.calc.coverage import (
    AT_WORK,
    LOOKS_DOWN_DEG,
    STRAIGHT_PART,
    Coverage,
    Eye,
    Outline,
    coverage,
    coverage_of,
    joined_area,
)
from alarmlib.calc.drawing import facing_middle_deg
from alarmlib.calc.fits import Verdict, opening_fits, room_fits
from alarmlib.calc.plan import Plan, Point, plan_from_home
from alarmlib.calc.view_lines import inside
from alarmlib.model.devices import Device
from alarmlib.model.site import Opening, OpeningKind, Reach, Room
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.home import Home

LEAST_SHARE = 0.5  # of a room's floor: from here on the room counts as watched
USUAL_RANGE_M, USUAL_ANGLE_DEG, USUAL_HEIGHT_M = 12.0, 90.0, 2.2
_NO_BODY = frozenset({OpeningKind.LETTERBOX, OpeningKind.PET_FLAP})
_GUARDS = frozenset({DeviceKind.CONTACT, DeviceKind.SHOCK, DeviceKind.GLASS_BREAK})


@dataclass(frozen=True)
class Candidate:
    """A detector that is there, or could be: its kind, where, and what it covers ("opening:ID", "room:ID").

    `device` is the id of one that is there, else "". `place` says in words where it would hang.
    """

    id: str
    kind: DeviceKind
    room: str
    covers: frozenset[str]
    device: str = ""
    at: Point | None = None


@dataclass(frozen=True)
class Choice:
    """The best sets from nothing, what is missing to what is there, and what each device adds."""

    wanted: frozenset[str]
    candidates: tuple[Candidate, ...]
    fewest: Cover
    cheapest: Cover | None
    missing: Cover
    uncovered_now: frozenset[str]
    most_by_count: tuple[tuple[int, int], ...]
    alone: Mapping[str, frozenset[str]]
    unpriced: tuple[DeviceKind, ...]

    def candidate(self, name: str) -> Candidate:
        """The candidate of that id."""
        return next(each for each in self.candidates if each.id == name)


def wanted_of(home: "Home") -> frozenset[str]:
    """What must be covered: ways in within reach of guarded rooms that aren't left bare by choice; guarded rooms.

    Reference: the owner's own survey.
    """
    guarded = {room.id for room in home.site.rooms if room.guarded}
    ways = {f"opening:{o.id}" for o in home.site.openings if o.room in guarded and _must_be_guarded(o)}
    return frozenset(ways | {f"room:{room}" for room in guarded})


def _must_be_guarded(opening: Opening) -> bool:
    return opening.reach is not Reach.NOT and not opening.left_bare_because and opening.kind not in _NO_BODY


def choose(home: "Home") -> Choice:
    """The choice of detectors for a home. Raises AlarmProblem when no proven set is found in time.

    A contact covers its way in; a motion detector the rooms of which it surely sees at least half, and no way in.
    Reference: set cover, exact (`alarmlib.calc.cover`); coverage as computed by `alarmlib.calc.coverage`.
    """
    wanted, candidates = wanted_of(home), tuple(_candidates(home))
    covers = {each.id: each.covers & wanted for each in candidates}
    covers = {name: covered for name, covered in covers.items() if covered}
    kinds = {each.id: each.kind for each in candidates}
    prices = {price.kind: round(100 * price.price) for price in home.prices}
    unpriced = tuple(sorted({kinds[name] for name in covers} - prices.keys()))
    fewest = least_cover(covers, dict.fromkeys(covers, 1), wanted)
    cheapest = None if unpriced else least_cover(covers, {name: prices[kinds[name]] for name in covers}, wanted)
    there = [each.id for each in candidates if each.device and each.id in covers]
    met = frozenset[str]().union(*(covers[name] for name in there))
    new = {name: covered for name, covered in covers.items() if name not in there}
    missing = least_cover(new, {name: prices.get(kinds[name], 1) for name in new}, wanted - met)
    return Choice(
        wanted=wanted,
        candidates=candidates,
        fewest=fewest,
        cheapest=cheapest,
        missing=missing,
        uncovered_now=wanted - met,
        most_by_count=tuple((k, most_covered(covers, wanted, k)[0]) for k in range(1, len(fewest.chosen) + 1)),
        alone=alone_covered(covers, there, wanted),
        unpriced=unpriced,
    )


def parts_list(home: "Home", kinds: Iterable[DeviceKind]) -> tuple[tuple[DeviceKind, int, float | None], ...]:
    """How many of each kind, and what they cost together by the owner's prices; None where a price is missing.

    Reference: the owner's own prices.
    """
    prices = {price.kind: price.price for price in home.prices}
    counted = sorted(Counter(kinds).items())
    return tuple((kind, count, count * prices[kind] if kind in prices else None) for kind, count in counted)


def _candidates(home: "Home") -> Iterator[Candidate]:
    for device in home.devices:
        if device.state in AT_WORK and device.kind in _GUARDS and device.openings:
            covers = frozenset(f"opening:{opening}" for opening in device.openings)
            yield Candidate(f"there_{device.id}", device.kind, device.room, covers, device.id, device.at)
        elif device.state in AT_WORK and device.kind is DeviceKind.MOTION and device.room:
            yield _motion_there(home, device)
    for opening in home.site.openings:
        contact = opening_fits(home, opening)[0]
        if contact.verdict is not Verdict.NOT:
            covers = frozenset({f"opening:{opening.id}"})
            yield Candidate(f"contact_{opening.id}", DeviceKind.CONTACT, opening.room, covers, at=opening.at)
    for room in home.site.rooms:
        if room.guarded and room_fits(home, room).verdict is not Verdict.NOT:
            yield from _motion_in(home, room)


def _motion_there(home: "Home", device: Device) -> Candidate:
    seen = coverage_of(home, device)
    rooms = frozenset({device.room}) if seen is None else _watched(plan_from_home(home), seen)
    return Candidate(
        f"there_{device.id}", device.kind, device.room, frozenset(f"room:{r}" for r in rooms), device.id, device.at
    )


def _motion_in(home: "Home", room: Room) -> Iterator[Candidate]:
    """A motion detector in each corner of a drawn room, turned to its middle; anywhere in an undrawn one."""
    if not room.outline:
        yield Candidate(f"motion_{room.id}", DeviceKind.MOTION, room.id, frozenset({f"room:{room.id}"}))
        return
    plan = plan_from_home(home)
    for number, corner in enumerate(room.outline, 1):
        rooms = _watched(plan, coverage(plan, _eye(home, room, corner)))
        if rooms:
            covers = frozenset(f"room:{each}" for each in rooms)
            yield Candidate(f"motion_{room.id}_{number}", DeviceKind.MOTION, room.id, covers, at=corner)


def _eye(home: "Home", room: Room, corner: Point) -> Eye:
    """A usual motion detector in a corner: as the owner's own, else as common practice has it."""
    from math import radians, tan

    own = next((d for d in home.devices if d.kind is DeviceKind.MOTION and d.range_m and d.angle_deg), None)
    range_m = own.range_m if own and own.range_m else USUAL_RANGE_M
    height_m = own.height_m if own and own.height_m else USUAL_HEIGHT_M
    down_deg = own.looks_down_deg if own and own.looks_down_deg else LOOKS_DOWN_DEG
    hot = room.hottest_c is not None and room.hottest_c > 30
    part = 0.5 if hot else 1.0
    straight_m = own.straight_range_m if own and own.straight_range_m else STRAIGHT_PART * range_m
    return Eye(
        device="",
        room=room.id,
        storey=room.storey,
        at=inside(corner, room.outline),
        height_m=height_m,
        facing_deg=facing_middle_deg(corner, room.outline),
        angle_deg=own.angle_deg if own and own.angle_deg else USUAL_ANGLE_DEG,
        range_m=range_m,
        sure_m=part * range_m,
        straight_m=part * straight_m,
        blind_m=0.0 if down_deg >= 90 else height_m / tan(radians(down_deg)),
    )


def _watched(plan: Plan, seen: Coverage) -> frozenset[str]:
    """The rooms of which at least half the floor is surely seen."""
    if not seen.straight:
        return frozenset()
    return _watched_rooms(tuple((r.id, r.outline) for r in plan.rooms if r.storey == seen.storey and r.outline), seen)


@lru_cache(maxsize=1024)
def _watched_rooms(rooms: tuple[tuple[str, Outline], ...], seen: Coverage) -> frozenset[str]:
    area = joined_area(seen.straight)
    floors = {room: joined_area([outline]) for room, outline in rooms}
    shares = {room: floor.intersection(area).area / floor.area for room, floor in floors.items()}
    return frozenset(room for room, share in shares.items() if share >= LEAST_SHARE)
