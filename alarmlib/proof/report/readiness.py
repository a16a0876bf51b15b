"""What is missing before a home can be proved, in plain sentences."""

from collections.abc import Iterator

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.questions import at_work
from alarmlib.model.site import PassageKind
from alarmlib.model.words import DETECTORS, DeviceKind, Function, Link

_UNSETS = frozenset({DeviceKind.KEYPAD, DeviceKind.KEY_SWITCH, DeviceKind.FOB})


class NotReady(AlarmProblem):
    """A home that cannot be proved yet; `missing` holds a sentence for each fact that it lacks."""

    def __init__(self, missing: tuple[str, ...]) -> None:
        super().__init__(f"This home cannot be proved yet. {' '.join(missing)}")
        self.missing = missing


def unready(home: Home) -> tuple[str, ...]:
    """A sentence for each fact that must be entered before the home can be proved; empty when it is ready."""
    return (*_ways_in(home), *_zones(home), *_detectors(home), *_setting(home), *_names(home))


def _ways_in(home: Home) -> Iterator[str]:
    """Every guarded room can be walked to from outside, or the proof would hold of it for no reason."""
    if not home.site.rooms:
        yield "No room is entered."
        return
    if not home.site.openings:
        yield "No way in is entered."
        return
    reached = _reached(home)
    for room in home.site.rooms:
        if room.guarded and room.id not in reached:
            yield (
                f"No way leads into the room {_said(room.name)}: enter its door, or say that it is not to be guarded."
            )


def _reached(home: Home) -> set[str]:
    """The rooms that ways in lead to, and all that are joined to these by doors and stairs inside."""
    joined: dict[str, set[str]] = {room.id: set() for room in home.site.rooms}
    for passage in home.site.passages:
        if passage.kind is not PassageKind.OUTSIDE:
            joined[passage.first].add(passage.second)
            joined[passage.second].add(passage.first)
    reached: set[str] = set()
    waiting = [opening.room for opening in home.site.openings]
    while waiting:
        room = waiting.pop()
        if room not in reached:
            reached.add(room)
            waiting += joined[room]
    return reached


def _zones(home: Home) -> Iterator[str]:
    if not home.control_unit.zones:
        yield "No zone is entered."
    for zone in home.control_unit.zones:
        if zone.function is Function.UNUSED and any(device.zone == zone.id for device in at_work(home)):
            yield f"The zone {_said(zone.label)} has devices but no function."


def _detectors(home: Home) -> Iterator[str]:
    found = [device for device in at_work(home) if device.kind in DETECTORS and device.link is not Link.OWN]
    if not found:
        yield "No detector is entered."
    for device in found:
        if not device.zone:
            yield f"The detector {_said(device.name)} belongs to no zone."
        if device.kind is DeviceKind.MOTION and not device.room:
            yield f"The motion detector {_said(device.name)} is in no room."
        if device.kind is DeviceKind.CONTACT and not (device.openings or device.passages or device.room):
            yield f"The contact {_said(device.name)} guards no way in and no inside door."


def _setting(home: Home) -> Iterator[str]:
    if not any(device.kind in _UNSETS for device in at_work(home)):
        yield "There is no keypad, key switch or fob to set and unset the alarm with."
    for keypad in at_work(home):
        if keypad.kind is DeviceKind.KEYPAD and not keypad.room:
            yield f"The keypad {_said(keypad.name)} is in no room."
    if not any(opening.entry_exit for opening in home.site.openings):
        yield "No way in is marked as an entry/exit door, by which people leave and come home."


def _names(home: Home) -> Iterator[str]:
    """Whatever a sentence of the proof must name has a name."""
    lists = {
        "room": [(room.id, room.name) for room in home.site.rooms],
        "way in": [(opening.id, opening.name) for opening in home.site.openings],
        "zone": [(zone.id, zone.label) for zone in home.control_unit.zones],
        "part set": [(part_set.id, part_set.name) for part_set in home.control_unit.part_sets],
        "area": [(area.id, area.name) for area in home.control_unit.areas],
        "device": [(device.id, device.name) for device in at_work(home)],
        "habit": [(habit.id, habit.name) for habit in home.household.habits],
    }
    for what, named in lists.items():
        blank = sum(not name.strip() for _, name in named)
        if blank:
            many = "ways in" if what == "way in" else f"{what}s"
            yield f"One {what} has no name." if blank == 1 else f"{blank} of the {many} have no name."


def _said(name: str) -> str:
    return f"“{' '.join(name.split())}”"
