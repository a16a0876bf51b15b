"""Choices that follow the home: its rooms, doors, zones and so on, by id and name."""

from collections.abc import Callable, Sequence

from alarmlib.calc.electrical.fitting_day import steps
from alarmlib.calc.times.seasons import MONTHS
from alarmlib.model.home import Home
from alarmlib.model.words import HAZARD_KINDS, DeviceKind, Link

SOUNDERS = HAZARD_KINDS | {DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SOUNDER, DeviceKind.CONTROL_UNIT}
Options = Callable[[Home], Sequence[tuple[str, str]]]


def storeys(home: Home) -> list[tuple[str, str]]:
    """The storeys of the home."""
    return [(storey.id, storey.name) for storey in home.site.storeys]


def rooms(home: Home) -> list[tuple[str, str]]:
    """The rooms of the home."""
    return [(room.id, room.name) for room in home.site.rooms]


def openings(home: Home) -> list[tuple[str, str]]:
    """The ways in."""
    return [(opening.id, opening.name) for opening in home.site.openings]


def final_doors(home: Home) -> list[tuple[str, str]]:
    """The doors used to leave and come home."""
    return [(opening.id, opening.name) for opening in home.site.openings if opening.final_door]


def passages(home: Home) -> list[tuple[str, str]]:
    """The doors and stairs inside, by the rooms they join."""
    name = dict(rooms(home))
    return [(p.id, f"{name[p.first]} – {name[p.second]}") for p in home.site.passages]


def areas(home: Home) -> list[tuple[str, str]]:
    """The areas of the alarm."""
    return [(area.id, area.name) for area in home.unit.areas]


def zones(home: Home) -> list[tuple[str, str]]:
    """The zones."""
    return [(zone.id, zone.label) for zone in home.unit.zones]


def circuits(home: Home) -> list[tuple[str, str]]:
    """The wired circuits."""
    return [(circuit.id, circuit.name) for circuit in home.circuits]


def fitting_steps(home: Home) -> list[tuple[str, str]]:
    """The steps of the fitting day in their order."""
    return [(step.id, step.text) for step in steps(home)]


def fed_devices(home: Home) -> list[tuple[str, str]]:
    """The wired devices."""
    return [(device.id, device.name) for device in home.whole_devices if device.link is Link.WIRED]


def sounders(home: Home) -> list[tuple[str, str]]:
    """What sounds."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind in SOUNDERS]


def repeaters(home: Home) -> list[tuple[str, str]]:
    """The repeaters."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind is DeviceKind.REPEATER]


def devices(home: Home) -> list[tuple[str, str]]:
    """All devices."""
    return [(device.id, device.name) for device in home.whole_devices]


def motion_detectors(home: Home) -> list[tuple[str, str]]:
    """The motion detectors."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind is DeviceKind.MOTION]


def fobs(home: Home) -> list[tuple[str, str]]:
    """The fobs."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind is DeviceKind.FOB]


def people(home: Home) -> list[tuple[str, str]]:
    """Who lives here, by role."""
    return [(person.id, person.role) for person in home.household.people]


def part_sets(home: Home) -> list[tuple[str, str]]:
    """The part sets."""
    return [(part_set.id, part_set.name) for part_set in home.unit.part_sets]


def paths(home: Home) -> list[tuple[str, str]]:
    """The ways a message takes."""
    return [(path.id, path.name) for path in home.messages.paths]


def responders(home: Home) -> list[tuple[str, str]]:
    """Who is told."""
    return [(responder.id, responder.role) for responder in home.messages.responders]


def tests(home: Home) -> list[tuple[str, str]]:
    """The lines of the test log."""
    name = dict(devices(home))
    return [(test.id, f"{test.on} {name.get(test.device, test.kind.text)}".strip()) for test in home.log.tests]


def movers(home: Home) -> list[tuple[str, str]]:
    """Whoever moves about: people, visitors, pets."""
    household = home.household
    visitors = [(visitor.id, visitor.role) for visitor in household.visitors]
    return [*people(home), *visitors, *((pet.id, pet.kind) for pet in household.pets)]


def places(home: Home) -> list[tuple[str, str]]:
    """Wherever a step of a habit may be: rooms, ways in, inside doors, devices, zones, part sets, areas."""
    lists = (rooms, openings, passages, devices, zones, part_sets, areas)
    return list({key: text for each in lists for key, text in each(home)}.items())


def months(_home: Home) -> list[tuple[str, str]]:
    """The months of a year, stored as 1 to 12."""
    return [(str(number), name) for number, name in enumerate(MONTHS, 1)]


def seasons(home: Home) -> list[tuple[str, str]]:
    """The seasonal sets."""
    return [(season.id, season.name) for season in home.unit.seasons]
