"""Where each motion detector may and must see somebody, and which contacts stand on inside doors."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.plan import Point
from alarmlib.model.devices import Device, DeviceState
from alarmlib.model.site import PassageKind, Room
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.home import Home

Outline = tuple[Point, ...]
_AT_WORK = (DeviceState.PLANNED, DeviceState.FITTED)


@dataclass(frozen=True)
class Sight:
    """Where one motion detector may and must see somebody.

    `rooms` are those it may see into, used where `possible` is empty. `possible` and `sure` are outlines in
    metres on the plan of `storey`: it may see somebody there, and surely sees whoever walks four steps there.
    """

    device: str
    rooms: frozenset[str]
    storey: str = ""
    possible: tuple[Outline, ...] = ()
    sure: tuple[Outline, ...] = ()


def sights_from_home(home: "Home") -> tuple[Sight, ...]:
    """The motion detectors of a home, planned or fitted: each may see into its room and all that opens to it.

    Sure is the whole of a drawn room where the owner's own test walk showed so, nowhere else.
    Reference: common practice, no source; areas are not computed here.
    """
    rooms = {room.id: room for room in home.site.rooms}
    return tuple(_sight(home, device, rooms) for device in _at_work(home, DeviceKind.MOTION) if device.room in rooms)


def door_contacts(home: "Home") -> dict[str, frozenset[str]]:
    """Contacts at work by the inside passage they guard.

    Reference: the owner's own survey.
    """
    guarding: dict[str, frozenset[str]] = {}
    for device in _at_work(home, DeviceKind.CONTACT):
        for passage in device.passages:
            guarding[passage] = guarding.get(passage, frozenset()) | {device.id}
    return guarding


def _at_work(home: "Home", kind: DeviceKind) -> Iterator[Device]:
    return (device for device in home.devices if device.kind is kind and device.state in _AT_WORK)


def _sight(home: "Home", device: Device, rooms: Mapping[str, Room]) -> Sight:
    room = rooms[device.room]
    trusted = device.id in home.proof.sure_detectors and room.outline
    return Sight(device.id, _opening_to(home, room.id), room.storey, sure=(room.outline,) if trusted else ())


def _opening_to(home: "Home", room: str) -> frozenset[str]:
    """The room and all that is joined to it by open doorways, over any number of them."""
    ways = [(p.first, p.second) for p in home.site.passages if p.kind is PassageKind.DOORWAY]
    return joined({room}, ways)


def joined(rooms: Collection[str], ways: Collection[tuple[str, str]]) -> frozenset[str]:
    """All rooms that can be come to from these by the ways, in either direction.

    Reference: reachability in a graph, computed here.
    """
    found, before = frozenset(rooms), frozenset[str]()
    while found != before:
        before = found
        found |= {room for way in ways if found & set(way) for room in way}
    return found
