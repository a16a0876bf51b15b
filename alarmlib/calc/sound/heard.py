"""From each sounder to each pillow: through rooms and doors, closed and open, with what is uncertain."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from heapq import heappop, heappush
from itertools import count
from math import hypot, inf, sqrt
from typing import TYPE_CHECKING

from alarmlib.calc.sound.levels import added, added_unsure_db, air_db_per_km, at_distance, composite_db, partition_db
from alarmlib.model.asked import asked
from alarmlib.model.base import Point
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work
from alarmlib.model.shapes import middle
from alarmlib.model.site import Passage, PassageKind, Yes
from alarmlib.model.sound import Leaf
from alarmlib.model.words import HAZARD_KINDS, DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home

LEAF_DB = {Leaf.NONE: 0.0, Leaf.UNKNOWN: 15.0, Leaf.HOLLOW: 15.0, Leaf.SOLID: 20.0, Leaf.SEALED: 30.0}
OPEN_DB = 0.0
USUAL_TONE_HZ = 3100.0
# Off either way, common practice, no source: 5 dB for a room's furnishing and the sounder, 3 dB for a closed door. How
# the 5 dB divide is our own assumption.
UNSURE_ROOM_DB, UNSURE_SOUNDER_DB, UNSURE_DOOR_DB = 4.0, 3.0, 3.0
METER_UNSURE_DB = 2.0  # a class 2 meter by hand; common practice, no source
NEAREST_M = 0.5  # nearer nothing is gained
_OPEN_WAYS = frozenset({PassageKind.DOORWAY, PassageKind.STAIRS})
_SOUNDERS = frozenset({DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN, DeviceKind.CONTROL_UNIT})


@dataclass(frozen=True)
class SoundWay:
    """How a sounder's sound comes to a place: m along it, the inside doors passed, their loss when closed, dB."""

    metres: float
    doors: tuple[str, ...]
    loss_db: float


@dataclass(frozen=True)
class HeardLevel:
    """The level of one sounder at one pillow, dBA: computed, or the owner's reading when there is one."""

    sounder: str
    room: str
    level_dba: float
    unsure_db: float
    way: SoundWay
    read: bool = False


@asked
def sounders(home: "Home") -> tuple[Device, ...]:
    """What sounds at an alarm and says how loud at which distance: sounders, a unit, smoke and CO alarms.

    Our own reading.
    """
    return tuple(
        d for d in at_work(home, *_SOUNDERS, *HAZARD_KINDS)
        if d.level_dba is not None and d.level_at_m
    )  # fmt: skip


def leaf_db(home: "Home", passage: Passage, shut: bool = True, tone_hz: float | None = None) -> float:
    """Loss of the door in an inside opening, dB: measured, else by its leaf; of a sealed one by the tone's octave.

    Reference: fitted doors in the field 15 to 23 dB (18 Korean flats; a fire research institute 17 dB); 30 dB for
    sealed ones is from memory, by octave Introduction to Acoustics, table 11.4. Elsewhere a laboratory's figures are
    too high: doors leak.
    """
    if passage.kind in _OPEN_WAYS or not shut:
        return OPEN_DB
    told = next((door for door in home.sound.doors if door.passage == passage.id), None)
    if told is None:
        return LEAF_DB[Leaf.UNKNOWN]
    if told.loss_db is not None:
        return told.loss_db
    if told.leaf is Leaf.SEALED and tone_hz is not None:
        return partition_db("solid wooden door", tone_hz)
    return LEAF_DB[told.leaf]


def best_way(
    home: "Home", sounder: Device, room: str, shut: bool = True, opened: frozenset[str] = frozenset()
) -> SoundWay | None:
    """The way by which most sound comes to the middle of a room; None where the plan does not tell.

    `opened` are inside doors that are open though the others are `shut`.
    Walls and floors are taken as silent: what goes through them only adds.
    Reference: label-setting search for ways of least loss and least length, textbook.
    """
    goal = next((each for each in home.site.rooms if each.id == room), None)
    if goal is None or not goal.outline or sounder.at is None or sounder.kind is DeviceKind.OUTSIDE_SIREN:
        return None
    pillow = middle(goal.outline)
    ways = [
        SoundWay(label.metres + _apart(label.at, pillow), label.doors, label.loss_db)
        for label in _labels(home, sounder.room, sounder.at, shut, opened, sounder.tone_hz)
        if label.room == room
    ]
    return min(ways, key=lambda way: way.loss_db - at_distance(0.0, 1.0, max(way.metres, NEAREST_M)), default=None)


@dataclass(frozen=True)
class _Label:
    """Where sound comes into a room, by what loss and what length, m, through which doors."""

    room: str
    at: Point
    loss_db: float
    metres: float
    doors: tuple[str, ...]


@asked
def _labels(
    home: "Home", room: str, at: Point, shut: bool, opened: frozenset[str], tone_hz: float | None
) -> tuple[_Label, ...]:
    """At each side of each inside opening every way that no other beats in both loss and length, least loss first."""
    loss_db = {p.id: leaf_db(home, p, shut and p.id not in opened, tone_hz) for p in home.site.passages}
    return tuple(_spread(home, _Label(room, at, 0.0, 0.0, ()), loss_db))


def _spread(home: "Home", first: _Label, loss_db: Mapping[str, float]) -> Iterator[_Label]:
    opening: dict[str, list[Passage]] = {}
    for passage in home.site.passages:
        if passage.kind is not PassageKind.OUTSIDE and passage.at is not None:
            opening.setdefault(passage.first, []).append(passage)
            opening.setdefault(passage.second, []).append(passage)
    tie = count()
    waiting = [(0.0, 0.0, next(tie), first)]
    shortest: dict[tuple[str, Point], float] = {}
    while waiting:
        _, metres, _, here = heappop(waiting)
        if shortest.get((here.room, here.at), inf) <= metres:
            continue
        shortest[here.room, here.at] = metres
        yield here
        for passage in opening.get(here.room, ()):
            onward = _through(here, passage, loss_db[passage.id])
            heappush(waiting, (onward.loss_db, onward.metres, next(tie), onward))


def _through(here: _Label, passage: Passage, loss_db: float) -> _Label:
    first, second = passage.at or here.at, passage.at_second or passage.at or here.at
    forth = here.room == passage.first
    enters, leaves = (first, second) if forth else (second, first)
    metres = here.metres + _apart(here.at, enters) + (passage.slope_m or 0.0)
    doors = (*here.doors, passage.id) if loss_db else here.doors
    return _Label(passage.second if forth else passage.first, leaves, here.loss_db + loss_db, metres, doors)


def _apart(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def unsure_db(doors: int) -> float:
    """By how much a computed level may be off either way, dB.

    Reference: common practice, no source: 5 dB for a room's furnishing and the sounder, 3 dB for each closed door.
    """
    return sqrt(UNSURE_ROOM_DB**2 + UNSURE_SOUNDER_DB**2 + doors * UNSURE_DOOR_DB**2)


def heard_in(home: "Home", room: str, shut: bool = True, fire: bool = False) -> tuple[HeardLevel, ...]:
    """Every sounder of the unit in one room, loudest first; the owner's readings replace what is computed.

    In a `fire` the household's own alarms sound too: those that sound with the others, or are mounted in the room.

    Reference: point source, textbook: L = L1 - 20 log10(r / r1) - loss of the doors passed.
    """
    return _heard_in(home, room, lambda sounder: _heard(home, sounder, room, shut), fire)


def _heard_in(
    home: "Home", room: str, heard: Callable[[Device], HeardLevel | None], fire: bool
) -> tuple[HeardLevel, ...]:
    those = [d for d in sounders(home) if d.link is not Link.OWN or (fire and _rings_in(d, room))]
    found = [each for sounder in those if (each := heard(sounder))]
    return tuple(sorted(found, key=lambda each: -each.level_dba))


@asked
def left_open(home: "Home") -> frozenset[str]:
    """The inside doors left open at night: as entered for the door itself, else for the rooms on its two sides.

    A door without an entry, or one that an entry of its rooms closes, counts as closed: less sound comes through.
    Reference: the owner's own word.
    """
    by_room = {room.id: room.door_shut_at_night for room in home.site.rooms}
    return frozenset(
        passage.id
        for passage in home.site.passages
        if passage.kind not in _OPEN_WAYS and _stays_open(passage, {by_room[passage.first], by_room[passage.second]})
    )


def _stays_open(passage: Passage, rooms: set[Yes]) -> bool:
    if passage.shut_at_night is not Yes.UNKNOWN:
        return passage.shut_at_night is Yes.NO
    return Yes.NO in rooms and Yes.YES not in rooms


def heard_at_night(home: "Home", room: str) -> tuple[HeardLevel, ...]:
    """Every sounder at a pillow in a fire with inside doors as they are left at night, loudest first.

    Readings with all doors closed don't tell that and are left out.
    By `heard_in`, the doors left open taking nothing away.
    """
    return _heard_in(home, room, partial(_heard_so, home, room, left_open(home)), fire=True)


def _heard_so(home: "Home", room: str, opened: frozenset[str], sounder: Device) -> HeardLevel | None:
    """One sounder with some inside doors open, the others closed, as computed."""
    return _computed(sounder, room, best_way(home, sounder, room, opened=opened))


def _rings_in(alarm: Device, room: str) -> bool:
    return alarm.room == room or (alarm.hazard is not None and alarm.hazard.sounds_with_others is Yes.YES)


def _heard(home: "Home", sounder: Device, room: str, shut: bool) -> HeardLevel | None:
    way = best_way(home, sounder, room, shut)
    reading = own_reading(home, sounder.id, room, shut)
    if reading is not None:
        return HeardLevel(sounder.id, room, reading, METER_UNSURE_DB, way or SoundWay(0.0, (), 0.0), read=True)
    return _computed(sounder, room, way)


def _computed(sounder: Device, room: str, way: SoundWay | None) -> HeardLevel | None:
    if way is None or sounder.level_dba is None:
        return None
    return HeardLevel(sounder.id, room, computed_dba(sounder, way), unsure_db(len(way.doors)), way)


def computed_dba(sounder: Device, way: SoundWay) -> float:
    """A sounder's level at the end of a way, dBA; nearer than half a metre nothing is gained.

    Reference: point source, textbook: L = L1 - 20 log10(r / r1) - loss of the doors passed.
    """
    return at_distance(sounder.level_dba or 0.0, sounder.level_at_m, max(way.metres, NEAREST_M)) - way.loss_db


def own_reading(home: "Home", sounder: str, room: str, shut: bool = True) -> float | None:
    """The owner's own reading of a sounder at a pillow (or, with no room, at the neighbour's), dBA.

    Reference: the owner's meter.
    """
    said = "yes" if shut else "no"
    found = [r.level_dba for r in home.sound.heard if (r.sounder, r.room) == (sounder, room) and r.doors_shut == said]
    return found[-1] if found else None


def unsure_causes(each: HeardLevel) -> dict[str, float]:
    """What makes a level unsure, dB by its cause; of two sounders in a room a cause of one name is the same cause.

    The room's furnishing is common to all that is computed for it, a door to all that passes it, the meter to all
    that it read; each sounder is off by itself.
    The values of `unsure_db` and of a reading; which are common is our own judgement.
    """
    if each.read:
        return {"meter": METER_UNSURE_DB}
    doors = {f"door {door}": UNSURE_DOOR_DB for door in each.way.doors}
    return {"room": UNSURE_ROOM_DB, f"sounder {each.sounder}": UNSURE_SOUNDER_DB, **doors}


def together(found: tuple[HeardLevel, ...]) -> tuple[float, float]:
    """All sounders of a room together and how much that may be off, dBA: the uncertainty of the sum's own parts.

    Reference: energy sum, textbook.
    """
    unsure = added_unsure_db([(each.level_dba, unsure_causes(each)) for each in found])
    return added(each.level_dba for each in found), unsure


def outside_dba(sounder: Device, metres: float) -> float:
    """An outside sounder's level in the open air, dBA; its tone is taken as 3100 Hz where it isn't entered.

    Reference: point source, less ISO 9613-1 absorption at 20 °C and 70 %.
    """
    air = air_db_per_km(sounder.tone_hz or USUAL_TONE_HZ) * metres / 1000
    return at_distance(sounder.level_dba or 0.0, sounder.level_at_m, metres) - air


def behind_glass_db(tone_hz: float | None) -> float:
    """What a brick wall of 8.5 m² with 1.5 m² of single glass, closed, takes away, dB.

    Reference: composite partition, Introduction to Acoustics, table 11.4; the areas are our own assumption.
    """
    hz = tone_hz or USUAL_TONE_HZ
    return composite_db([(8.5, partition_db("4 in brick", hz)), (1.5, partition_db("single glass", hz))])
