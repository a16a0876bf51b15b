"""Every person's timed walks between every entry/exit door and the keypad: what delays are measured by."""

from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from alarmlib.calc.plan.floor_plan import Place, Plan, Point, place_of_device, walked_plan
from alarmlib.calc.times.chance import TimedWalk
from alarmlib.calc.walking.free_floor import FreeFloor
from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import Walker, coming_home, going_out, walker_of
from alarmlib.calc.walking.walks import (
    ASSUMED_IN_ROOM_S,
    Stretch,
    Walk,
    WalkMap,
    level_length_m,
    storeys_drawn,
    stretches,
    walk_seconds,
)
from alarmlib.model.asked import asked
from alarmlib.model.home import Home
from alarmlib.model.household import Person
from alarmlib.model.questions import at_work, present
from alarmlib.model.words import DeviceKind

ANYBODY = Walker(level_speed(50))


@dataclass(frozen=True)
class HomeWalk:
    """One person and one entry/exit door: the way to the nearest keypad and back, and the walks that were stopped.

    `entry` and `exit` are the timed walks; `assumed` names what of the way nobody gave: passages without length or
    seconds, and the entry/exit door where nothing tells how far from it the keypad is in its own room.
    """

    person: str
    door: str
    keypad: str
    entry: TimedWalk
    exit: TimedWalk
    walk_s: float
    stopped_in_s: tuple[float, ...] = ()
    stopped_out_s: tuple[float, ...] = ()
    entries_a_day: float = 1.0
    assumed: tuple[str, ...] = ()


@asked
def home_walks(home: Home) -> tuple[HomeWalk, ...]:
    """The walks of everybody who can unset, by every entry/exit door from which a keypad can be reached.

    A keypad that was taken out or is out of use is none: nobody can unset there.
    Shortest walks by `alarmlib.calc.walking.walks`; paces by `alarmlib.calc.walking.walkers`.
    """
    keypads = _keypads(home)
    doors = [opening for opening in home.site.openings if opening.entry_exit]
    people = [person for person in home.household.people if person.can_unset]
    return tuple(
        _by(home, person, door.id, next(name for name, place in keypads if place == way[0]), way[1])
        for door, person in product(doors, people)
        if (way := _way(home, door.id, walker_of(person))) is not None
    )


@asked
def home_map(home: Home) -> WalkMap:
    """The map of the home for all who walk in it, with where somebody can unset and the control unit as places."""
    plan = walked_plan(home)
    floors = {storey: _floor(home, storey) for storey in storeys_drawn(plan)}
    return WalkMap(plan, (*unset_places(home), *_units(home)), floors=floors, straight=partial(_straight, home))


@asked
def _floor(home: Home, storey: str) -> FreeFloor:
    return FreeFloor(_plan_of(home, storey), storey)


@asked
def _straight(
    home: Home, storey: str, points: tuple[Point, ...], ends: frozenset[Point]
) -> tuple[tuple[int, int, Stretch], ...]:
    return stretches(_floor(home, storey), _plan_of(home, storey), points, ends)


@asked
def _plan_of(home: Home, storey: str) -> Plan:
    """What of the plan is on one storey: a wall moved upstairs changes no walk below."""
    plan = walked_plan(home)
    here = {room.id for room in plan.rooms if room.storey == storey}
    return Plan(
        rooms=tuple(room for room in plan.rooms if room.id in here),
        passages=tuple(each for each in plan.passages if here.issuperset(each.rooms)),
        furniture=tuple(each for each in plan.furniture if each.room in here),
    )


@asked
def unset_places(home: Home) -> tuple[Place, ...]:
    """Where keypads and key switches at work are."""
    points = at_work(home, DeviceKind.KEYPAD, DeviceKind.KEY_SWITCH)
    return tuple(place for device in points if (place := place_of_device(device)) is not None)


@asked
def _units(home: Home) -> tuple[Place, ...]:
    return tuple(each for unit in present(home, DeviceKind.CONTROL_UNIT) if (each := place_of_device(unit)) is not None)


@asked
def walk_from(home: Home, way: str, end: Place) -> Walk | None:
    """The quickest walk of an ordinary adult from a way in to a place of `home_map`; None where there is no way.

    Shortest walks by `alarmlib.calc.walking.walks`.
    """
    walks = home_map(home)
    return walks.walk(walks.plan.place_of_opening(way), end, ANYBODY)


@asked
def _keypads(home: Home) -> tuple[tuple[str, Place], ...]:
    """The keypads at work that are in a room, by id, with their places."""
    in_order = sorted(at_work(home, DeviceKind.KEYPAD), key=lambda device: device.id)
    return tuple((device.id, place) for device in in_order if (place := place_of_device(device)) is not None)


@asked
def _way(home: Home, door: str, walker: Walker) -> tuple[Place, Walk] | None:
    """The way of whoever walks so from an entry/exit door to the keypad nearest to it: where that is, and the walk."""
    walks, places = home_map(home), [place for _, place in _keypads(home)]
    start = walks.plan.place_of_opening(door)
    way = walks.nearest(start, places, walker)
    return way and (way[0], _in_one_room(door, (start, way[0]), way[1]))


def _in_one_room(door: str, ends: tuple[Place, Place], way: Walk) -> Walk:
    """The walk; within a room whose plan doesn't tell it, so many seconds are assumed."""
    if way.length_m or way.stopwatch_s or all(end.at is not None for end in ends):
        return way
    return replace(way, stopwatch_s=ASSUMED_IN_ROOM_S, assumed=(*way.assumed, door))


def _by(home: Home, person: Person, door: str, keypad: str, way: Walk) -> HomeWalk:
    walker = walker_of(person)
    length_m = level_length_m(way, walker)
    stopped = [walk for walk in home.household.walks if (walk.person, walk.door) == (person.id, door)]
    stopped_in_s, stopped_out_s = (
        tuple(s for walk in stopped if walk.leaving is leaving for s in walk.seconds) for leaving in (False, True)
    )
    return HomeWalk(
        person=person.id,
        door=door,
        keypad=keypad,
        entry=coming_home(length_m, len(way.doors), walker, person, stopped_in_s),
        exit=going_out(length_m, len(way.doors), walker, stopped_s=stopped_out_s),
        walk_s=walk_seconds(way, walker),
        stopped_in_s=stopped_in_s,
        stopped_out_s=stopped_out_s,
        entries_a_day=person.entries_a_week / 7,
        assumed=way.assumed,
    )
