"""Every person's timed walks between every entry/exit door and the keypad: what delays are measured by."""

from dataclasses import dataclass, replace
from itertools import product

from alarmlib.calc.plan.floor_plan import Place, place_of_device, plan_from_home
from alarmlib.calc.times.chance import TimedWalk
from alarmlib.calc.walking.walkers import Walker, coming_home, going_out, walker_of
from alarmlib.calc.walking.walks import ASSUMED_IN_ROOM_S, Walk, WalkMap, level_length_m, walk_seconds
from alarmlib.model.home import Home
from alarmlib.model.household import Person
from alarmlib.model.questions import at_work
from alarmlib.model.words import DeviceKind


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


def home_walks(home: Home, known: WalkMap | None = None) -> tuple[HomeWalk, ...]:
    """The walks of everybody who can unset, by every entry/exit door from which a keypad can be reached.

    A keypad that was taken out or is out of use is none: nobody can unset there.
    `known` is a map of this home's plan with its keypads among the places; without one it is made.
    Shortest walks by `alarmlib.calc.walking.walks`; paces by `alarmlib.calc.walking.walkers`.
    """
    keypads = [device for device in at_work(home, DeviceKind.KEYPAD) if device.room]
    doors = [opening for opening in home.site.openings if opening.entry_exit]
    if not (keypads and doors):
        return ()
    plan = plan_from_home(home)
    in_order = sorted(keypads, key=lambda device: device.id)
    places = {device.id: place for device in in_order if (place := place_of_device(device)) is not None}
    walks = known or WalkMap(plan, places.values())
    people = [person for person in home.household.people if person.can_unset]
    ways: dict[tuple[str, Walker], tuple[Place, Walk] | None] = {}  # who walks alike needs one search
    for door, person in product(doors, people):
        walker = walker_of(person)
        if (door.id, walker) not in ways:
            start = plan.place_of_opening(door.id)
            way = walks.nearest(start, places.values(), walker)
            ways[door.id, walker] = way and (way[0], _in_one_room(door.id, (start, way[0]), way[1]))
    return tuple(
        _by(home, person, door.id, next(name for name, place in places.items() if place == way[0]), way[1])
        for door, person in product(doors, people)
        if (way := ways[door.id, walker_of(person)]) is not None
    )


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
