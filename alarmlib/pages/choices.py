"""Choices narrower than the list that a field refers to: only some of the devices, only the entry/exit doors."""

from collections.abc import Callable, Sequence

from alarmlib.calc.electrical.fitting_day import steps
from alarmlib.calc.times.seasons import MONTHS
from alarmlib.model.home import Home
from alarmlib.model.naming import choices_of
from alarmlib.model.words import HAZARD_KINDS, DeviceKind, Link
from alarmlib.rules import ALL

SOUNDERS = HAZARD_KINDS | {DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN, DeviceKind.CONTROL_UNIT}
Options = Callable[[Home], Sequence[tuple[str, str]]]


def of(*lists: str) -> Options:
    """Everything in some lists, by path from the home: what a field that refers to them offers by itself."""
    return lambda home: choices_of(home, lists)


def rule_sets(home: Home) -> list[tuple[str, str]]:
    """The rules that may be chosen, and those that the home has."""
    own = home.rules.rule_set
    return [(each.value, each.text) for each, rules in ALL.items() if each is own or not rules.not_offered]


def entry_exit_doors(home: Home) -> list[tuple[str, str]]:
    """The doors used to leave and come home."""
    return [(opening.id, opening.name) for opening in home.site.openings if opening.entry_exit]


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


def motion_detectors(home: Home) -> list[tuple[str, str]]:
    """The motion detectors."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind is DeviceKind.MOTION]


def fobs(home: Home) -> list[tuple[str, str]]:
    """The fobs."""
    return [(device.id, device.name) for device in home.whole_devices if device.kind is DeviceKind.FOB]


def tests(home: Home) -> list[tuple[str, str]]:
    """The lines of the test log."""
    name = dict(choices_of(home, ["devices"]))
    return [(test.id, f"{test.on} {name.get(test.device, test.kind.text)}".strip()) for test in home.log.tests]


def months(_home: Home) -> list[tuple[str, str]]:
    """The months of a year, stored as 1 to 12."""
    return [(str(number), name) for number, name in enumerate(MONTHS, 1)]
