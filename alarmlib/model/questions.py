"""What is asked of a home, in one place: what is there, what is at work, what guards, where people sleep.

Three questions about a device differ in the states that they count:

| Asked | Planned | Fitted | Out of use | Taken out | For |
|---|---|---|---|---|---|
| `present` | yes | yes | yes | no | its own facts, place, zone, wires, wireless place, battery, name |
| `at_work` | yes | yes | no | no | what guards, hears, warns, sounds, unsets, is walked to or tested |
| `fitted` | no | yes | no | no | what can be tested today |

One out of use is put back some day: what is wrong with it is still told, but nothing is guarded by it meanwhile.
Each question is a function of the parts of the home that its docstring names. It is asked: what reads contacts alone
is not worked out again because a siren moved.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Protocol, TypeVar

from alarmlib.model.asked import asked
from alarmlib.model.devices import Device, DeviceState
from alarmlib.model.words import DETECTORS, DeviceKind, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home


class HasId(Protocol):
    """Anything that its id distinguishes from others of its list."""

    @property
    def id(self) -> str:
        """The id, different from those of others in its list."""


Thing = TypeVar("Thing", bound=HasId)
OPENING_GUARDS = frozenset({DeviceKind.CONTACT, DeviceKind.GLASS_BREAK, DeviceKind.SHOCK})
_AT_WORK = frozenset({DeviceState.PLANNED, DeviceState.FITTED})


def is_present(device: Device) -> bool:
    """Whether a device is the home's: planned, fitted or out of use, not taken out."""
    return device.state is not DeviceState.REMOVED


def is_at_work(device: Device) -> bool:
    """Whether a device does its work in the home as planned: planned or fitted, not out of use, not taken out."""
    return device.state in _AT_WORK


@asked
def present(home: "Home", *kinds: DeviceKind) -> tuple[Device, ...]:
    """The devices of the home, of these kinds or of all: planned, fitted or out of use (`whole_devices`)."""
    return tuple(each for each in home.whole_devices if is_present(each) and (not kinds or each.kind in kinds))


@asked
def at_work(home: "Home", *kinds: DeviceKind) -> tuple[Device, ...]:
    """The devices that do their work, of these kinds or of all: planned or fitted (`whole_devices`)."""
    return tuple(each for each in home.whole_devices if is_at_work(each) and (not kinds or each.kind in kinds))


@asked
def device_of(home: "Home", name: str) -> Device | None:
    """The device of that id, whatever its state; None where there is none (`whole_devices`)."""
    return next((device for device in home.whole_devices if device.id == name), None)


@asked
def wired(home: "Home") -> tuple[Device, ...]:
    """The devices of the home that are wired, those out of use as well (`whole_devices`)."""
    return tuple(device for device in present(home) if device.link is Link.WIRED)


@asked
def wireless(home: "Home") -> tuple[Device, ...]:
    """The devices of the home that are wireless, those out of use as well (`whole_devices`)."""
    return tuple(device for device in present(home) if device.link is Link.WIRELESS)


@asked
def planned(home: "Home") -> tuple[Device, ...]:
    """The devices that are still to be fitted (`whole_devices`)."""
    return tuple(device for device in home.whole_devices if device.state is DeviceState.PLANNED)


@asked
def fitted(home: "Home") -> tuple[Device, ...]:
    """The devices that are mounted and do their work: what can be tested today (`whole_devices`)."""
    return tuple(device for device in home.whole_devices if device.state is DeviceState.FITTED)


@asked
def out_of_use(home: "Home") -> tuple[Device, ...]:
    """The devices that are out of use until they are put back (`whole_devices`)."""
    return tuple(device for device in home.whole_devices if device.state is DeviceState.OUT_OF_USE)


@asked
def detectors(home: "Home") -> tuple[Device, ...]:
    """The detectors of the home that are joined to the control unit, those out of use as well (`whole_devices`)."""
    return tuple(device for device in present(home) if _joined_detector(device))


@asked
def detectors_at_work(home: "Home") -> tuple[Device, ...]:
    """The detectors that the control unit hears (`whole_devices`)."""
    return tuple(device for device in at_work(home) if _joined_detector(device))


@asked
def on_opening(home: "Home", opening: str) -> tuple[Device, ...]:
    """The detectors fitted to an opening, those out of use as well (`whole_devices`)."""
    return tuple(device for device in detectors(home) if _on(device, opening))


@asked
def guards(home: "Home", opening: str) -> tuple[Device, ...]:
    """The detectors at work that tell of somebody at this opening (`whole_devices`)."""
    return tuple(device for device in detectors_at_work(home) if _on(device, opening))


@asked
def of_zones(home: "Home") -> dict[str, tuple[Device, ...]]:
    """The devices of each zone that has any, those out of use as well (`whole_devices`)."""
    return _by_zone(present(home))


@asked
def at_work_of_zones(home: "Home") -> dict[str, tuple[Device, ...]]:
    """The devices at work of each zone that has any (`whole_devices`)."""
    return _by_zone(at_work(home))


@asked
def unset_rooms(home: "Home") -> frozenset[str]:
    """The rooms where a keypad or key switch is at work (`whole_devices`)."""
    return frozenset(device.room for device in at_work(home, DeviceKind.KEYPAD, DeviceKind.KEY_SWITCH) if device.room)


@asked
def sleeping_rooms(home: "Home") -> frozenset[str]:
    """The rooms where somebody sleeps, as entered for the person or for the room (`household.people`, `site.rooms`)."""
    beds = {person.sleeps_in for person in home.household.people if person.sleeps_in}
    return frozenset(beds | {room.id for room in home.site.rooms if room.sleeps_here})


def by_id(items: Iterable[Thing]) -> dict[str, Thing]:
    """The elements of any list by their id."""
    return {item.id: item for item in items}


def _joined_detector(device: Device) -> bool:
    return device.kind in DETECTORS and device.link is not Link.OWN


def _on(device: Device, opening: str) -> bool:
    return opening in device.openings and device.kind in OPENING_GUARDS


def _by_zone(devices: Iterable[Device]) -> dict[str, tuple[Device, ...]]:
    found: dict[str, tuple[Device, ...]] = {}
    for device in devices:
        if device.zone:
            found[device.zone] = (*found.get(device.zone, ()), device)
    return found
