"""The sheets to take along on the survey and the walk test: a line a point in the order of the walk, with boxes."""

from collections.abc import Collection, Iterator
from typing import cast

from alarmlib.draft.survey_round import DARK, survey_places, told
from alarmlib.draft.test_route import walk_order
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.questions import by_id
from alarmlib.model.survey import Answer, Found
from alarmlib.pages.assessed import facts_of
from alarmlib.record.blocks import Block, Table, Text, named
from alarmlib.record.sections.upkeep.walk_test import do_this, wait_first

TO_TICK, TICKED, NONE = "☐", "☒", "–"
SURVEY, WALK_TEST = ("form", "round"), ("check", "test_plan")
"""The cells by which the pages are known that have such a sheet."""
_CHOICES = (Found.OK, Found.NEEDS_WORK, Found.NOT_HERE)
_POINT = ("Point", "Fine", "Needs work", "Not here", "In the dark", "What to do")
_WAY = ("Way in", "Room", "Locks well", "Works by day", "Works in the dark", "What to do")
_ROOM = ("Room", "What could trip a detector", "Smoke alarm made in", "Two ways out", "What to do")
_TEST = ("Done", "No.", "Room", "Device", "Do this", "Should show", "Wait first", "What you saw, and when")


def walk_blocks(home: Home, calls: Collection[tuple[str, str]]) -> tuple[Block, ...]:
    """What is on the walk sheet of the page with these cells; nothing where the page has none."""
    if SURVEY in calls:
        return tuple(_survey(home))
    return tuple(_walk_test(home)) if WALK_TEST in calls else ()


def _survey(home: Home) -> Iterator[Block]:
    """Round the house, then each way in and each room, storey by storey."""
    yield Text(("Walk from the street to the house, round it, then inside; once by day, once in the dark.",))
    for place in survey_places(home):
        yield Table(place.heading.text, _POINT, tuple(map(_point, place.answers)))
    yield from _rooms_and_ways(home)


def _point(answer: Answer) -> tuple[str, ...]:
    """A point with its boxes; what is answered already is ticked."""
    boxes = (TICKED if answer.found is choice else TO_TICK for choice in _CHOICES)
    dark = TO_TICK if answer.heading in DARK else NONE
    return named(told(answer)), *boxes, dark, named(answer.to_do) if answer.to_do else ""


def _rooms_and_ways(home: Home) -> Iterator[Block]:
    level = {storey.id: storey.level for storey in home.site.storeys}
    rooms = sorted(home.site.rooms, key=lambda room: level.get(room.storey, 0))
    place_of = {room.id: number for number, room in enumerate(rooms)}
    names = {room.id: named(room.name) for room in rooms}
    ways = sorted(home.site.openings, key=lambda opening: place_of.get(opening.room, len(rooms)))
    boxes = (TO_TICK,) * 3
    ways_in = tuple((named(each.name), names.get(each.room, ""), *boxes, "") for each in ways)
    yield from [Table("Each way in", _WAY, ways_in)] if ways_in else []
    inside = tuple((names[room.id], "", "", TO_TICK, "") for room in rooms)
    yield from [Table("Each room", _ROOM, inside)] if inside else []


def _walk_test(home: Home) -> Iterator[Block]:
    """The devices in the order of the walk; last those that no way leads to."""
    with facts_of(home) as facts:
        order = walk_order(cast("Home", facts))
    rooms, zones = by_id(home.site.rooms), by_id(home.control_unit.zones)

    def row(number: int, device: Device, wait_s: float) -> tuple[str, ...]:
        room = named(rooms[device.room].name) if device.room in rooms else ""
        zone = named(zones[device.zone].label) if device.zone in zones else NONE
        wait = wait_first(device, wait_s) or NONE
        return TO_TICK, str(number), room, named(device.name), do_this(device), zone, wait, ""

    yield Text(("Put the control unit in its test mode. Write what you see, not what you expect.",))
    walked = (*order.rows, *((device, 0.0) for device in order.apart))
    rows = tuple(row(number, device, wait_s) for number, (device, wait_s) in enumerate(walked, 1))
    if rows:
        yield Table("Walk in this order", _TEST, rows)
