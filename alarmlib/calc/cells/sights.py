"""Where each motion detector may and must see somebody, and which contacts are on inside doors."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.cells.telling import Telling, nobody
from alarmlib.calc.coverage.areas import Outline, coverage_of, motion_detectors
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.site import PassageKind, Room
from alarmlib.model.words import DeviceKind

if TYPE_CHECKING:
    from alarmlib.model.home import Home


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


def sights_from_home(home: "Home", telling: Telling = nobody) -> tuple[Sight, ...]:
    """Where each motion detector of a home, planned or fitted, may and must see somebody, inside doors closed.

    Where its area can be computed, it may see in the possible one and surely sees four steps any way in the other.
    Else it may see into its room and all that opens to it, and is never sure. One that sleeps after a trip is sure
    by the owner's walk test alone: rests of many detectors at once are too much for a search. What a walk test
    showed sure is so in the whole of a drawn room.
    Reference: common practice, no source, where a detector's area is not known.
    """
    rooms = by_id(home.site.rooms)
    return tuple(_told(home, [d for d in motion_detectors(home) if d.room in rooms], rooms, telling))


def _told(home: "Home", devices: Sequence[Device], rooms: Mapping[str, Room], telling: Telling) -> Iterator[Sight]:
    for number, device in enumerate(devices):
        telling("what each detector sees", number, len(devices), 0)
        yield _sight(home, device, rooms)


def door_contacts(home: "Home") -> dict[str, frozenset[str]]:
    """Contacts at work by the inside passage they guard.

    Reference: the owner's own survey.
    """
    guarding: dict[str, frozenset[str]] = {}
    for device in at_work(home, DeviceKind.CONTACT):
        for passage in device.passages:
            guarding[passage] = guarding.get(passage, frozenset()) | {device.id}
    return guarding


def _sight(home: "Home", device: Device, rooms: Mapping[str, Room]) -> Sight:
    room = rooms[device.room]
    walked = device.id in home.proof.sure_detectors and room.outline
    shown = (room.outline,) if walked else ()
    seen = coverage_of(home, device)
    opening = _opening_to(home, room.id)
    if seen is None:
        return Sight(device.id, opening, room.storey, sure=shown)
    sure = () if device.sleep_s else seen.straight
    return Sight(device.id, opening, room.storey, (*seen.possible_shut, *shown), (*sure, *shown))


def _opening_to(home: "Home", room: str) -> frozenset[str]:
    """The room and all that is joined to it by open doorways, over any number of them."""
    ways = [(p.first, p.second) for p in home.site.passages if p.kind is PassageKind.DOORWAY]
    return joined({room}, ways)


def joined(rooms: Collection[str], ways: Collection[tuple[str, str]]) -> frozenset[str]:
    """All rooms that can be come to from these by the ways, in either direction.

    Reference: reachability in a graph, textbook.
    """
    found, before = frozenset(rooms), frozenset[str]()
    while found != before:
        before = found
        found |= {room for way in ways if found & set(way) for room in way}
    return found
