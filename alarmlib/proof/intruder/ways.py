"""Whom the intruder run is about: ways in with what trips there, rooms to be guarded, states in which it begins."""

from collections.abc import Iterable
from dataclasses import dataclass

from alarmlib.control.inputs import SET_FULL, Input, SetArea, Way
from alarmlib.control.layout import A, State, Z
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.zone_memory import ALARMED
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.questions import at_work, sleeping_rooms
from alarmlib.model.site import Opening, OpeningKind, Reach, Yes
from alarmlib.model.words import DeviceKind

UNSET = "unset"
_TOO_SMALL = frozenset({OpeningKind.LETTERBOX, OpeningKind.PET_FLAP, OpeningKind.GATE})
_PANES = frozenset(
    {OpeningKind.WINDOW, OpeningKind.SLIDING_WINDOW, OpeningKind.SLIDING_DOOR, OpeningKind.ROOF_LIGHT}
    | {OpeningKind.FANLIGHT, OpeningKind.CELLAR_LIGHT}
)


@dataclass(frozen=True)
class WayIn:
    """An opening somebody may come in by, and the devices that coming in surely trips or may trip."""

    opening: str
    room: str
    must: frozenset[str] = frozenset()
    may: frozenset[str] = frozenset()


def ways_in(home: Home) -> tuple[WayIn, ...]:
    """Every way in that counts, in the order of the survey.

    Left out: letterboxes, pet flaps and gates (no body comes through, or they lead into no room), and what cannot
    be reached without a ladder unless the owner assumes one. A contact surely trips when its opening is opened; who
    comes through the glass may or may not trip it. Shock detectors, and glass-break detectors of the room, may.
    Reference: common practice, no source.
    """
    return tuple(_way(home, opening) for opening in home.site.openings if _counts(home, opening))


def _counts(home: Home, opening: Opening) -> bool:
    reachable = opening.reach is not Reach.NOT or home.proof.brings_ladder
    return reachable and opening.kind not in _TOO_SMALL


def _way(home: Home, opening: Opening) -> WayIn:
    on_it = [device for device in at_work(home) if opening.id in device.openings]
    by_glass = home.proof.breaks_glass and _may_break(opening)
    contacts = frozenset(device.id for device in on_it if device.kind is DeviceKind.CONTACT)
    others = {device.id for device in on_it if device.kind in (DeviceKind.SHOCK, DeviceKind.GLASS_BREAK)}
    if by_glass:
        others |= {d.id for d in at_work(home, DeviceKind.GLASS_BREAK) if d.room == opening.room}
    must, may = (frozenset(), contacts) if by_glass else (contacts, frozenset[str]())
    return WayIn(opening.id, opening.room, must, may | others)


def _may_break(opening: Opening) -> bool:
    return opening.glass is Yes.YES or (opening.glass is Yes.UNKNOWN and opening.kind in _PANES)


def area_of_room(home: Home, room: str) -> str:
    """The area that guards a room: as typed, else the first."""
    first = home.control_unit.areas[0].id if home.control_unit.areas else "house"
    return next((r.area for r in home.site.rooms if r.id == room and r.area), first)


def guarded_rooms(home: Home, area: str) -> frozenset[str]:
    """The rooms of an area that nobody may reach unnoticed."""
    return frozenset(r.id for r in home.site.rooms if r.guarded and area_of_room(home, r.id) == area)


def heard_first_rooms(home: Home, area: str, part: str) -> frozenset[str]:
    """The rooms of an area to be reached only after siren or message: as typed, and in a part set where one sleeps."""
    asleep = sleeping_rooms(home) if part != SET_FULL else frozenset[str]()
    named = asleep | set(home.proof.heard_first)
    return frozenset(room for room in named if area_of_room(home, room) == area)


class CannotBeSet(AlarmProblem):
    """The unit refuses a set that the proof asks for."""


def set_state(setup: Setup, sets: dict[str, str], before: tuple[Input, ...] = ()) -> State:
    """The state in which these areas are set so (`SET_FULL` or a part set), long enough for every delay to be over.

    `before` happens first, while all is unset. Raises CannotBeSet when the unit refuses.
    By `alarmlib.control.machine.step`, run until nothing moves.
    """
    state, _ = step(setup, start_state(setup), before)
    setting = tuple(SetArea(area, part, Way.KEYPAD, outside=True, override=True) for area, part in sets.items())
    state, _ = step(setup, state, setting)
    for _ in range(_longest_s(setup)):
        was, (state, _) = state, step(setup, state)
        if state == was:
            break  # nothing runs any more
    for area in setup.layout.areas:
        wanted = area.set_of[sets[area.id]] if area.id in sets else 0
        if state[area.base + A.SET] != wanted or state[area.base + A.EXIT]:
            raise CannotBeSet(f"The control unit refuses to set {area.id}: {sets.get(area.id, UNSET) or 'away'}.")
    return state


def _longest_s(setup: Setup) -> int:
    zones = (zone.exit_s or 0 for zone in setup.zones)
    parts = (part.exit_s for area in setup.areas for part in area.parts)
    return max([*zones, *parts, *(area.exit_s for area in setup.areas)], default=0) * 2 + 2


def sets_of(setup: Setup, area: str) -> tuple[str, ...]:
    """The names of the sets of an area: away, then its part sets."""
    return next((SET_FULL, *(part.id for part in each.parts)) for each in setup.areas if each.id == area)


def noticed(setup: Setup, state: State) -> bool:
    """Whether the unit has noticed somebody: a delay runs, an alarm sounds, or a message is held.

    Our own definition.
    """
    places = (A.ENTRY, A.SIREN, A.ABORT, A.SENT, A.EXIT_ERROR)
    return any(state[area.base + place] for area in setup.layout.areas for place in places)


def with_spent(setup: Setup, state: State, zones: Iterable[str]) -> State:
    """The state once these zones have reached their limit of alarms and every siren has ended.

    That a message was sent then is put aside: who comes in later is to be noticed for themselves.
    By `alarmlib.control.zone_memory.count_alarm`; a test compares with a unit that is played so far.
    """
    made = list(state)
    for name in zones:
        zone = setup.layout.zone_of[name]
        made[zone.base + Z.COUNT], made[zone.base + Z.MEMORY] = zone.limit, ALARMED
    return tuple(made)
