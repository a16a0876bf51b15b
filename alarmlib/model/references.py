"""Ids that point to something: each must exist, and each id may stand once in its list."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from alarmlib.model.home import Home

# A name for what is referred to, and (where, ids that are named there).
Named = tuple[str, str, Iterable[str]]


def broken_references(home: "Home") -> Iterator[str]:
    """A sentence for each id that stands twice in its list or points to nothing."""
    known = {name: frozenset(item.id for item in items) for name, items in _lists(home)}
    for name, items in _lists(home):
        yield from _twice(name, [item.id for item in items])
    for run in home.wiring.runs:
        yield from _twice(f"run {run.id}: device", [stop.id for stop in run.stops])
    for habit in home.household.habits:
        yield from _twice(f"habit {habit.id}: step", [step.id for step in habit.steps])
    for part_set in home.unit.part_sets:
        yield from _twice(f"part set {part_set.id}: final door", [door.id for door in part_set.doors])
    for season in home.unit.seasons:
        yield from _twice(f"season {season.id}: zone", [zone.id for zone in season.zones])
    for where, name, ids in _references(home):
        yield from (
            f"{where}: there is no {name} “{i}”; it must be one of the {name}s entered"
            for i in ids
            if i and i not in known[name]
        )


def _twice(name: str, ids: list[str]) -> Iterator[str]:
    if len(set(ids)) < len(ids):
        again = next(i for n, i in enumerate(ids) if i in ids[:n])
        yield f"{name} “{again}” stands twice; each id may stand once"


def _lists(home: "Home") -> list[tuple[str, tuple[Any, ...]]]:
    site, unit, household, messages, log = home.site, home.unit, home.household, home.messages, home.log
    return [
        ("storey", site.storeys),
        ("room", site.rooms),
        ("opening", site.openings),
        ("passage", site.passages),
        ("piece of furniture", site.furniture),
        ("fixture", site.fixtures),
        ("survey point", site.answers),
        ("person", household.people),
        ("pet", household.pets),
        ("visitor", household.visitors),
        ("walk", household.walks),
        ("habit", household.habits),
        ("area", unit.areas),
        ("zone", unit.zones),
        ("part set", unit.part_sets),
        ("season", unit.seasons),
        ("door time", unit.times.doors),
        ("device type", home.device_types),
        ("device", home.devices),
        ("circuit", home.circuits),
        ("message path", messages.paths),
        ("responder", messages.responders),
        ("message", messages.messages),
        ("found item", home.inherited.items),
        ("test", log.tests),
        ("event", log.events),
        ("upkeep line", log.upkeep),
        ("price", home.prices),
        ("box", home.wiring.boxes),
        ("run", home.wiring.runs),
        ("reading", home.sound.heard),
        ("inside door", home.sound.doors),
        ("change price", home.proof.prices),
    ]


def _references(home: "Home") -> Iterator[Named]:
    yield from _site(home)
    yield from _household(home)
    yield from _unit(home)
    yield from _devices_and_logs(home)
    yield from _wiring_and_sound(home)
    yield "proof", "device", home.proof.sure_detectors
    yield "proof", "room", home.proof.heard_first


def _site(home: "Home") -> Iterator[Named]:
    for room in home.site.rooms:
        yield f"room {room.id}", "storey", (room.storey,)
        yield f"room {room.id}", "area", (room.area,)
    for opening in home.site.openings:
        yield f"opening {opening.id}", "room", (opening.room,)
    for passage in home.site.passages:
        yield f"passage {passage.id}", "room", (passage.first, passage.second)
    for piece in home.site.furniture:
        yield f"furniture {piece.id}", "room", (piece.room,)
    for fixture in home.site.fixtures:
        yield f"fixture {fixture.id}", "room", (fixture.room,)


def _household(home: "Home") -> Iterator[Named]:
    household = home.household
    for person in household.people:
        yield f"person {person.id}", "device", (person.fob,)
        yield f"person {person.id}", "room", (person.sleeps_in,)
    for pet in household.pets:
        yield f"pet {pet.id}", "room", (*pet.free_in_day, *pet.free_in_night, *pet.free_when_away)
    for visitor in household.visitors:
        yield f"visitor {visitor.id}", "opening", (visitor.door,)
    for walk in household.walks:
        yield f"walk {walk.id}", "person", (walk.person,)
        yield f"walk {walk.id}", "opening", (walk.door,)
    for habit in household.habits:
        yield f"habit {habit.id}", "part set", (habit.part_set,)
        yield f"habit {habit.id}", "area", (habit.area,)
        yield f"habit {habit.id}", "season", (habit.season,)
    yield from _habit_places(home)


def _habit_places(home: "Home") -> Iterator[Named]:
    """Who does a habit, and where its steps lead, may be of several kinds: any of them will do."""
    site, unit = home.site, home.unit
    who: tuple[Any, ...] = (*home.household.people, *home.household.visitors, *home.household.pets)
    movers = {mover.id for mover in who}
    groups: tuple[tuple[Any, ...], ...] = (
        site.rooms,
        site.openings,
        site.passages,
        home.devices,
        unit.zones,
        unit.part_sets,
        unit.areas,
    )
    places = {p.id for group in groups for p in group}
    for habit in home.household.habits:
        if habit.who and habit.who not in movers:
            yield f"habit {habit.id}", "person", (habit.who,)
        unknown = (step.place for step in habit.steps if step.place and step.place not in places)
        yield f"habit {habit.id}", "room", tuple(unknown)
        if habit.starts_at and habit.starts_at not in places:
            yield f"habit {habit.id}", "room", (habit.starts_at,)


def _unit(home: "Home") -> Iterator[Named]:
    unit = home.unit
    for area in unit.areas:
        yield f"area {area.id}", "area", (area.follows,)
    for zone in unit.zones:
        yield f"zone {zone.id}", "area", zone.areas
        yield f"zone {zone.id}", "circuit", (zone.circuit,)
        yield f"zone {zone.id}", "zone", (zone.partner,)
    for part_set in unit.part_sets:
        yield f"part set {part_set.id}", "area", (part_set.area,)
        yield f"part set {part_set.id}", "zone", (*part_set.left_out, *(door.zone for door in part_set.doors))
    for season in unit.seasons:
        yield f"season {season.id}", "zone", (z.zone for z in season.zones)
        yield f"season {season.id}", "opening", (d.opening for d in season.doors)
    yield "control unit", "season", (unit.season_now,)
    yield "times", "opening", (door.opening for door in unit.times.doors)
    yield "behaviour", "part set", (unit.behaviour.nobody_left_part_set,)


def _devices_and_logs(home: "Home") -> Iterator[Named]:
    for device in home.devices:
        where = f"device {device.id}"
        yield where, "device type", (device.type,)
        yield where, "room", (device.room,)
        yield where, "opening", device.openings
        yield where, "passage", device.passages
        yield where, "zone", (device.zone,)
        yield where, "circuit", (device.circuit,)
        yield where, "device", (device.wire_free.repeater if device.wire_free else "",)
    for path in home.messages.paths:
        yield f"message path {path.id}", "device", path.boxes
    for message in home.messages.messages:
        yield f"message {message.id}", "responder", message.to
        yield f"message {message.id}", "message path", message.paths
    for item in home.inherited.items:
        yield f"found item {item.id}", "room", (item.room,)
        yield f"found item {item.id}", "device", (item.device,)
    for test in home.log.tests:
        yield f"test {test.id}", "device", (test.device,)
        yield f"test {test.id}", "zone", (test.seen_zone,)
        yield f"test {test.id}", "test", (test.retest_of,)
    for event in home.log.events:
        yield f"event {event.id}", "zone", (event.zone,)
    for line in home.log.upkeep:
        yield f"upkeep {line.id}", "device", (line.device,)


def _wiring_and_sound(home: "Home") -> Iterator[Named]:
    for box in home.wiring.boxes:
        yield f"box {box.id}", "message path", box.paths
    for run in home.wiring.runs:
        yield f"run {run.id}", "device", (stop.device for stop in run.stops)
    for door in home.sound.doors:
        yield "sound", "passage", (door.passage,)
    for heard in home.sound.heard:
        yield f"reading {heard.id}", "device", (heard.sounder,)
        yield f"reading {heard.id}", "room", (heard.room,)
