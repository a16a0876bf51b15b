"""The detectors that are there or could be, and which part of what must be covered each of them covers."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from alarmlib.calc.choosing.fits import opening_fits, room_fits
from alarmlib.calc.choosing.links import Suits
from alarmlib.calc.choosing.needs import Need
from alarmlib.calc.coverage.areas import Outline, coverage_by, coverage_of, eye_of, joined_area
from alarmlib.calc.plan.drawing import facing_middle_deg
from alarmlib.calc.plan.floor_plan import Point
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.site import Opening, OpeningKind, Reach, Room, Yes
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from alarmlib.model.home import Home

LEAST_SHARE = 0.5  # of a room's floor: from here on whoever walks there counts as seen
USUAL_RANGE_M, USUAL_ANGLE_DEG, USUAL_HEIGHT_M = 12.0, 90.0, 2.2
HEARS_M = 6.0  # how far a glass-break detector hears a pane
_NO_BODY = frozenset({OpeningKind.LETTERBOX, OpeningKind.PET_FLAP})
_LEAST_M2 = 1e-3
SeenBy = tuple[str, tuple[Outline, ...]]
"""A motion detector by its candidate's id, with the floor on which it surely sees four steps any way."""


@dataclass(frozen=True)
class Candidate:
    """A detector that is there, or could be: its kind, its room, and what it covers by itself.

    Targets are "opening:ID" (that it is opened), "glass:ID" (that it is broken) and "room:ID" (that somebody walks
    there). `device` is the id of one that is there, else "".
    """

    id: str
    kind: DeviceKind
    room: str
    covers: frozenset[str]
    device: str = ""
    at: Point | None = None
    straight: tuple[Outline, ...] = ()
    storey: str = ""


def guarded_ways(home: "Home") -> tuple[Opening, ...]:
    """The ways in that must be covered: within reach, of a guarded room, large enough, not left bare by choice.

    Reference: the owner's own survey.
    """
    guarded = {room.id for room in home.site.rooms if room.guarded}
    return tuple(
        opening
        for opening in home.site.openings
        if opening.room in guarded
        and opening.reach is not Reach.NOT
        and not opening.left_bare_because
        and opening.kind not in _NO_BODY
    )


def candidates(home: "Home") -> tuple[Candidate, ...]:
    """The detectors at work, and those that could be: at each way in, in the corners of each guarded room.

    Reference: common practice, no source.
    """
    return tuple(candidate for part in (_there, _at_ways, _in_rooms) for candidate in part(home))


def _there(home: "Home") -> Iterator[Candidate]:
    for device in at_work(home):
        covers = frozenset[str]()
        if device.kind is DeviceKind.CONTACT:
            covers = frozenset(f"opening:{opening}" for opening in device.openings)
        elif device.kind in (DeviceKind.SHOCK, DeviceKind.GLASS_BREAK):
            covers = frozenset(f"glass:{opening}" for opening in _heard_by(home, device))
        elif device.kind is DeviceKind.MOTION:
            yield from _motion_there(home, device)
        if covers:
            yield Candidate(f"there_{device.id}", device.kind, device.room, covers, device.id, device.at)


def _heard_by(home: "Home", device: Device) -> tuple[str, ...]:
    """The openings that its owner says it guards; for one of glass breaking without any, the glass it hears."""
    if device.openings or device.kind is DeviceKind.SHOCK:
        return device.openings
    return _panes_near(home, device.room, device.at)


def _panes_near(home: "Home", room: str, at: Point | None) -> tuple[str, ...]:
    panes = (o for o in guarded_ways(home) if o.room == room and o.glass is Yes.YES)
    return tuple(
        o.id for o in panes if o.at is None or at is None or hypot(o.at[0] - at[0], o.at[1] - at[1]) <= HEARS_M
    )


def _motion_there(home: "Home", device: Device) -> Iterator[Candidate]:
    """In an undrawn room it covers its room as assumed; in a drawn one what it is computed to see."""
    seen = coverage_of(home, device)
    drawn = {room.id: bool(room.outline) for room in home.site.rooms}
    if seen is not None or not drawn.get(device.room, True):
        covers = frozenset[str]() if seen else frozenset({f"room:{device.room}"})
        straight, storey = (seen.straight, seen.storey) if seen else ((), "")
        yield Candidate(
            f"there_{device.id}",
            device.kind,
            room=device.room,
            covers=covers,
            device=device.id,
            at=device.at,
            straight=straight,
            storey=storey,
        )


def _at_ways(home: "Home") -> Iterator[Candidate]:
    """A contact at each way in; a shock detector on its glass; a glass-break detector for the panes of a room."""
    heard: dict[str, list[str]] = {}
    for opening in guarded_ways(home):
        fits = {fit.kind: fit.verdict is not Suits.NOT for fit in opening_fits(home, opening)}
        place = (opening.room, opening.at)
        if fits[DeviceKind.CONTACT]:
            yield _at_way(DeviceKind.CONTACT, f"opening:{opening.id}", *place)
        if opening.glass is Yes.YES and fits[DeviceKind.SHOCK]:
            yield _at_way(DeviceKind.SHOCK, f"glass:{opening.id}", *place)
        if opening.glass is Yes.YES and fits[DeviceKind.GLASS_BREAK]:
            heard.setdefault(opening.room, []).append(opening.id)
    rooms = by_id(home.site.rooms)
    for room, panes in heard.items():
        near = set(_panes_near(home, room, _middle(rooms[room].outline))) & set(panes)
        if near:
            covers = frozenset(f"glass:{opening}" for opening in near)
            yield Candidate(f"glass_break_{room}", DeviceKind.GLASS_BREAK, room, covers)


def _at_way(kind: DeviceKind, target: str, room: str, at: Point | None) -> Candidate:
    return Candidate(f"{kind.value}_{target.partition(':')[2]}", kind, room, frozenset({target}), at=at)


def _middle(outline: Outline) -> Point | None:
    if not outline:
        return None
    return sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)


def _in_rooms(home: "Home") -> Iterator[Candidate]:
    """A motion detector in each corner of a drawn room, turned to its middle; anywhere in an undrawn one."""
    usual = usual_motion(home)
    for room in home.site.rooms:
        if not room.guarded or room_fits(home, room).verdict is Suits.NOT:
            continue
        if not room.outline:
            covers = frozenset({f"room:{room.id}"})
            yield Candidate(f"motion_{room.id}", DeviceKind.MOTION, room.id, covers)
        for number, corner in enumerate(room.outline, 1):
            straight = _seen_from(home, usual, room, corner)
            if straight:
                name = f"motion_{room.id}_{number}"
                yield Candidate(
                    name, DeviceKind.MOTION, room.id, frozenset(), at=corner, straight=straight, storey=room.storey
                )


def _seen_from(home: "Home", usual: Device, room: Room, corner: Point) -> tuple[Outline, ...]:
    eye = eye_of(_mounted(usual, room, corner), room)
    return coverage_by(home, eye).straight if eye else ()


def _mounted(usual: Device, room: Room, corner: Point) -> Device:
    facing_deg = facing_middle_deg(corner, room.outline)
    return usual.model_copy(update={"room": room.id, "at": corner, "facing_deg": facing_deg})


def planned_device(home: "Home", candidate: Candidate) -> Device:
    """A candidate as a planned device of the home: the one that is there, or a new one named for its kind and room.

    By `usual_motion` for the facts of a motion detector.
    """
    if candidate.device:
        return next(device for device in home.whole_devices if device.id == candidate.device)
    room = next(room for room in home.site.rooms if room.id == candidate.room)
    name = f"{room.name}: {candidate.kind.text}"[:80]
    facts = {"id": candidate.id[:48], "name": name, "room": room.id}
    if candidate.kind is DeviceKind.MOTION:
        usual = usual_motion(home)
        mounted = _mounted(usual, room, candidate.at) if candidate.at else usual
        return mounted.model_copy(update=facts)
    openings = tuple(sorted(target.partition(":")[2] for target in candidate.covers if not target.startswith("room:")))
    return Device(**facts, kind=candidate.kind, openings=openings, at=candidate.at)


def usual_motion(home: "Home") -> Device:
    """A motion detector as the owner's own mostly are; what none of them says is as common practice has it.

    Reference: the owner's manual; 12 m, 90°, 2.2 m high are common practice, no source.
    """
    facts: dict[str, float] = {"range_m": USUAL_RANGE_M, "angle_deg": USUAL_ANGLE_DEG, "height_m": USUAL_HEIGHT_M}
    own = Counter(
        (d.range_m, d.angle_deg, d.straight_range_m, d.looks_down_deg)
        for d in at_work(home, DeviceKind.MOTION)
        if d.range_m and d.angle_deg
    )
    for values, _ in own.most_common(1):
        names = ("range_m", "angle_deg", "straight_range_m", "looks_down_deg")
        facts.update({name: value for name, value in zip(names, values, strict=True) if value is not None})
    return Device(id="usual", name="usual", kind=DeviceKind.MOTION, **facts)


def needs(home: "Home", from_these: tuple[Candidate, ...], least_share: float = LEAST_SHARE) -> tuple[Need, ...]:
    """What must be covered, with the candidates that cover each part of it.

    A way in is covered by a contact: a shock or glass-break detector alone does not tell that it is opened. Its glass
    is covered by one of those, or where whoever climbs in is seen walking. A room is covered when at least
    `least_share` of its floor is surely seen, by one motion detector or by several together.
    Reference: UL 1641 15.4.1 (`ul1641_shock`), 15.3.1 (`ul1641_steps`); the share is our own line.
    """
    able: dict[str, set[str]] = {}
    for candidate in from_these:
        for target in candidate.covers:
            able.setdefault(target, set()).add(candidate.id)
    walked = {room.id: _walked(home, room, from_these, able, least_share) for room in home.site.rooms if room.guarded}
    found = []
    for opening in guarded_ways(home):
        found.append(Need(f"opening:{opening.id}", 1, ((1, frozenset(able.get(f"opening:{opening.id}", ()))),)))
        if opening.glass is Yes.YES:
            room = walked[opening.room]
            heard = (room.least, frozenset(able.get(f"glass:{opening.id}", ())))
            found.append(Need(f"glass:{opening.id}", room.least, (*room.parts, heard)))
    return (*found, *walked.values())


def _walked(
    home: "Home", room: Room, from_these: tuple[Candidate, ...], able: Mapping[str, set[str]], least_share: float
) -> Need:
    target = f"room:{room.id}"
    if not room.outline:
        return Need(target, 1, ((1, frozenset(able.get(target, ()))),))
    pieces = tuple(f.outline for f in home.site.furniture if f.room == room.id and f.outline)
    seen = tuple((c.id, c.straight) for c in from_these if c.straight and c.storey == room.storey)
    area_m2, parts = _floor_parts(home, room.outline, pieces, seen)
    return Need(target, least_share * area_m2, parts)


@asked
def _floor_parts(
    _home: "Home", outline: Outline, pieces: tuple[Outline, ...], seen: tuple[SeenBy, ...]
) -> tuple[float, tuple[tuple[float, frozenset[str]], ...]]:
    """The free floor, m², and the parts into which the areas seen cut it, by who sees each of them."""
    floor = joined_area([outline]).difference(joined_area(pieces))
    parts: list[tuple[BaseGeometry, frozenset[str]]] = [(floor, frozenset())]
    for name, outlines in seen:
        area = joined_area(outlines).intersection(floor)
        if area.area > _LEAST_M2:
            cut = [(part.intersection(area), by | {name}) for part, by in parts]
            cut += [(part.difference(area), by) for part, by in parts]
            parts = [(part, by) for part, by in cut if part.area > _LEAST_M2]
    return float(floor.area), tuple((float(part.area), by) for part, by in parts if by)
