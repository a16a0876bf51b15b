"""Keypads moved along the walk from the door that people come in by: how far, and where to; drawn homes only."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from alarmlib.calc.plan.floor_plan import place_of_device, plan_from_home
from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import Walker
from alarmlib.calc.walking.walks import Leg, WalkMap
from alarmlib.control.habit_walks import within
from alarmlib.control.habit_words import names_of
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.household import Deed, Habit
from alarmlib.model.proof import ChangeKind
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.words import DeviceKind
from alarmlib.proof.repairs.changes import EditWay, RepairChange, RepairEdit
from alarmlib.proof.repairs.habit_changes import to_keypad
from alarmlib.proof.repairs.prices import Prices
from alarmlib.units import Kind, show

STEP_M = 2.0  # moved in steps of at least this, our own choice
MOST_STEPS = 5
_ADULT = Walker(level_speed(50))
Point = tuple[float, float]


def keypad_moves(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """Each keypad of a drawn room at which people who come in unset, moved towards their door, the nearest move first.

    The habits walk to the new place along the plan; seconds that were typed for the old one are dropped.
    Shortest walks by `alarmlib.calc.walking.walks`; the steps are our own.
    """
    keypads = by_id(device for device in at_work(home, DeviceKind.KEYPAD) if device.at)
    ends = dict.fromkeys(_ends(home, keypads))
    if not ends:
        return
    plan = plan_from_home(home)
    places = {name: place for name, device in keypads.items() if (place := place_of_device(device)) is not None}
    walks = WalkMap(plan, places.values())
    for door, keypad in ends:
        walk = walks.walk(plan.place_of_opening(door), places[keypad], _ADULT)
        if walk is not None and walk.legs and not walk.assumed:
            before_m = walk.length_m - _length_m(walk.legs[-1].points)
            yield from _along(home, prices, (door, keypads[keypad]), walk.legs[-1], before_m)


def _ends(home: Home, keypads: dict[str, Device]) -> Iterator[tuple[str, str]]:
    """The doors that habits come in by, each with the keypad that they unset at."""
    doors = {opening.id for opening in home.site.openings if opening.at}
    rooms = {name: device.room for name, device in keypads.items()}
    for habit in home.household.habits:
        step = to_keypad(habit, rooms)
        if step is not None and step.place in keypads and habit.starts_at in doors:
            yield habit.starts_at, step.place


def _along(home: Home, prices: Prices, ends: tuple[str, Device], leg: Leg, before_m: float) -> Iterator[RepairChange]:
    """The keypad moved back along the last leg of the walk, in steps."""
    length_m = _length_m(leg.points)
    step_m = max(STEP_M, length_m / (MOST_STEPS + 1))
    back = leg.points[::-1]
    for number in range(1, MOST_STEPS + 1):
        moved_m = number * step_m
        room, at = _room_at(home, leg.storey, back, moved_m)
        if moved_m < length_m - STEP_M / 2 and room:
            yield _moved(home, prices, ends, (room, at), (moved_m, before_m + length_m - moved_m))


def _moved(
    home: Home, prices: Prices, ends: tuple[str, Device], to: tuple[str, Point], lengths_m: tuple[float, float]
) -> RepairChange:
    (door, device), (room, at) = ends, to
    moved, left = (show(round(length_m, 1), Kind.LENGTH, home.units) for length_m in lengths_m)
    names = names_of(home)
    users = {habit.id: tuple(_typed(habit, device.id)) for habit in home.household.habits if _uses(habit, device.id)}
    edits = [RepairEdit(("devices", device.id, "room"), room), RepairEdit(("devices", device.id, "at"), list(at))]
    edits += [
        RepairEdit(("household", "habits", habit, "steps", step, "seconds"), None)
        for habit, steps in users.items()
        for step in steps
    ]
    price, assumed = prices.of(ChangeKind.MOVE)
    return RepairChange(
        f"moved/{device.id}/{door}/{lengths_m[0]:.1f}",
        EditWay.MOVED,
        sentence=f"Move {device.name} {moved} towards {names[door]}: to {names[room]}, {left} of walk from that door. "
        "Time the walks to it again.",
        price=price,
        edits=tuple(edits),
        about=frozenset(users),
        slots=frozenset({f"moved/{device.id}", *(f"habit/{each}" for each in users)}),
        assumed=assumed,
        because="it is reached sooner after the door opens",
    )


def _uses(habit: Habit, keypad: str) -> bool:
    return keypad in (habit.starts_at, *(step.place for step in habit.steps))


def _typed(habit: Habit, keypad: str) -> Iterator[str]:
    """The walks to and from the keypad whose seconds were typed."""
    at_place = habit.starts_at
    for step in habit.steps:
        if step.deed is Deed.WALK_TO:
            if keypad in (at_place, step.place) and step.seconds is not None:
                yield step.id
            at_place = step.place


def _room_at(home: Home, storey: str, back: tuple[Point, ...], along_m: float) -> tuple[str, Point]:
    """The drawn room and the point so many metres along a line; "" when no room is there."""
    x, y = _point(back, along_m)
    rooms = (r for r in home.site.rooms if r.storey == storey and r.outline and within((x, y), r.outline))
    return next((room.id for room in rooms), ""), (round(x, 2), round(y, 2))


def _point(line: tuple[Point, ...], along_m: float) -> Point:
    for (ax, ay), (bx, by) in pairwise(line):
        piece_m = hypot(bx - ax, by - ay)
        if along_m <= piece_m and piece_m:
            share = along_m / piece_m
            return ax + share * (bx - ax), ay + share * (by - ay)
        along_m -= piece_m
    return line[-1]


def _length_m(line: tuple[Point, ...]) -> float:
    return sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(line))
