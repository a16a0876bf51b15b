"""The home asked as a check asks: which zones, doors and rooms belong together."""

from collections.abc import Iterable

from alarmlib.calc.cells.sights import joined
from alarmlib.model import Home
from alarmlib.model.control_unit import PartSet, Times, Zone
from alarmlib.model.devices import Device
from alarmlib.model.questions import by_id, is_at_work, sleeping_rooms
from alarmlib.model.site import Opening, PassageKind, Room, RoomUse
from alarmlib.model.words import Function


def said(name: str) -> str:
    """A name as the owner typed it, set apart in a sentence."""
    return f"“{' '.join(name.split())}”"


def rooms(home: Home) -> dict[str, Room]:
    """The rooms by id."""
    return by_id(home.site.rooms)


def idle(devices: Iterable[Device]) -> str:
    """A sentence on those of these devices that are out of use; "" where none is."""
    names = [said(device.name) for device in devices if not is_at_work(device)]
    return f" {' and '.join(names)} {'is' if len(names) == 1 else 'are'} out of use." if names else ""


def room_name(home: Home, room: str) -> str:
    """The room's name, set apart; "the room" when it is not known."""
    found = rooms(home).get(room)
    return said(found.name) if found else "the room"


def entry_exit_doors(home: Home) -> tuple[Opening, ...]:
    """The openings used to leave and come home."""
    return tuple(opening for opening in home.site.openings if opening.entry_exit)


def zones(home: Home) -> dict[str, Zone]:
    """The zones by id."""
    return by_id(home.control_unit.zones)


def listening(home: Home, part_set: PartSet) -> tuple[Zone, ...]:
    """The zones that this part set does not leave out, in its area."""
    return tuple(
        zone
        for zone in home.control_unit.zones
        if zone.id not in part_set.left_out
        and not zone.out_of_use
        and zone.function is not Function.UNUSED
        and (not part_set.area or not zone.areas or part_set.area in zone.areas)
    )


def bedrooms(home: Home) -> frozenset[str]:
    """The rooms where somebody sleeps, and those kept for a guest: the rules on alarms ask for both."""
    used_so = {r.id for r in home.site.rooms if r.use is RoomUse.BEDROOM}
    return frozenset(sleeping_rooms(home) & rooms(home).keys() | used_so)


def detached(home: Home) -> frozenset[str]:
    """The rooms of buildings of their own: reached over open ground alone, and nobody sleeps there."""
    ways = [(p.first, p.second) for p in home.site.passages if p.kind is not PassageKind.OUTSIDE]
    across = {room for p in home.site.passages if p.kind is PassageKind.OUTSIDE for room in (p.first, p.second)}
    beds = bedrooms(home)
    return frozenset().union(*(group for room in across if not beds & (group := joined({room}, ways))))


def entry_s(times: Times, opening: str) -> float | None:
    """The entry delay of an entry/exit door: its own, else the unit's."""
    own = next((door.entry_s for door in times.doors if door.opening == opening), None)
    return times.entry_s if own is None else own


def exit_s(times: Times, opening: str) -> float | None:
    """The exit delay of an entry/exit door: its own, else the unit's."""
    own = next((door.exit_s for door in times.doors if door.opening == opening), None)
    return times.exit_s if own is None else own
