"""Every change that a fix may be made of, in a fixed order, each with its price."""

from collections.abc import Iterator
from typing import Any

from alarmlib.calc.zoning.passed import is_entry_exit_door
from alarmlib.model.devices import Device
from alarmlib.model.home import Home
from alarmlib.model.plain_types import own_type
from alarmlib.model.proof import ChangeKind
from alarmlib.model.questions import at_work
from alarmlib.model.site import DOORS, Opening, OpeningKind
from alarmlib.model.words import BURGLARY, DeviceKind, Function, Link
from alarmlib.proof.intruder.ways import area_of_room, ways_in
from alarmlib.proof.repairs.changes import EditWay, RepairChange, RepairEdit
from alarmlib.proof.repairs.delay_changes import delay_changes
from alarmlib.proof.repairs.habit_changes import habit_changes
from alarmlib.proof.repairs.keypad_moves import keypad_moves
from alarmlib.proof.repairs.prices import Prices
from alarmlib.proof.repairs.rest_changes import rest_changes

_AT_EDGE = (Function.AT_ONCE, Function.ENTRY_EXIT, Function.ENTRY_ROUTE, Function.WARN_UNSET)
_BECAUSE_OF = {
    Function.AT_ONCE: "no delay runs before the siren",
    Function.WARN_UNSET: "no delay runs before the siren",
    Function.ENTRY_ROUTE: "it waits for somebody who comes in by an entry/exit door",
    Function.ENTRY_EXIT: "whoever meets it first has time to unset",
}
_INSIDE = (Function.ENTRY_ROUTE, Function.ENTRY_EXIT, Function.AT_ONCE)


def candidates(home: Home) -> tuple[RepairChange, ...]:
    """Every change that is tried, those first that are taken first among equally dear ones.

    Our own list.
    """
    prices = Prices(home)
    return (
        *_contacts(home, prices),
        *_motions(home, prices),
        *_part_sets(home, prices),
        *_functions(home, prices),
        *rest_changes(home, prices),
        *keypad_moves(home, prices),
        *habit_changes(home, prices),
        *delay_changes(home, prices),
    )


def _offered(home: Home, *wanted: Function) -> tuple[Function, ...]:
    offered = home.control_unit.limits.functions
    return tuple(function for function in wanted if not offered or function in offered)


def _contacts(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A contact with a zone of its own on each way in that has none."""
    have = {opening for device in at_work(home, DeviceKind.CONTACT) for opening in device.openings}
    reached = {way.opening for way in ways_in(home)} - have
    for opening in home.site.openings:
        first = Function.ENTRY_EXIT if opening.entry_exit else Function.AT_ONCE
        functions = _offered(home, first, Function.AT_ONCE, Function.WARN_UNSET)
        if opening.id in reached and functions:
            yield _contact(home, prices, opening, functions[0])


def _contact(home: Home, prices: Prices, opening: Opening, function: Function) -> RepairChange:
    name = prices.unused(f"{opening.id[:36]}_contact")
    device = {
        "id": name,
        "name": f"Contact, {opening.name}"[:80],
        **_kind_or_type(home, DeviceKind.CONTACT),
        "room": opening.room,
        "openings": [opening.id],
        "zone": name,
    }
    price, assumed = prices.of_device(DeviceKind.CONTACT)
    return RepairChange(
        f"contact/{opening.id}",
        EditWay.CONTACT,
        sentence=f"Fit a contact{_of_type(home, DeviceKind.CONTACT)} on {opening.name}, zone {function.text}.",
        price=price,
        edits=_with_zone(home, device, opening.name, function),
        about=frozenset({opening.id}),
        slots=frozenset({f"contact/{opening.id}"}),
        assumed=assumed,
        because="nothing tells the control unit when it is opened",
    )


def _kind_or_type(home: Home, kind: DeviceKind) -> dict[str, str]:
    """What a new wired device of that kind says it is: of the home's own type, where there is one."""
    its_type = own_type(home, kind, Link.WIRED)
    return {"kind": kind.value} if its_type is None else {"type": its_type.id}


def _of_type(home: Home, kind: DeviceKind) -> str:
    its_type = own_type(home, kind, Link.WIRED)
    return "" if its_type is None else f" of the type “{its_type.name}”"


def _with_zone(home: Home, device: dict[str, Any], label: str, function: Function) -> tuple[RepairEdit, ...]:
    """A device and the zone of its own."""
    letters = home.control_unit.limits.label_length or 80
    taken = {zone.label for zone in home.control_unit.zones}
    names = (label[:letters], *(f"{label[: letters - len(end)]}{end}" for end in (f" {n}" for n in range(2, 100))))
    free = next(name for name in names if name not in taken)
    areas = [area_of_room(home, device["room"])] if home.control_unit.areas else []
    zone = {"id": device["zone"], "label": free, "function": function.value, "areas": areas}
    return RepairEdit(("control_unit", "zones"), zone, "add"), RepairEdit(("devices",), device, "add")


def _motions(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A motion detector in each drawn room that has none taken as sure."""
    sure = {device.room for device in at_work(home) if device.id in home.proof.sure_detectors}
    functions = _offered(home, Function.AT_ONCE)
    price, assumed = prices.of_device(DeviceKind.MOTION)
    for room in home.site.rooms if functions else ():
        if not room.outline or room.id in sure:
            continue
        name = prices.unused(f"{room.id[:36]}_motion")
        device = {
            "id": name,
            "name": f"Motion detector, {room.name}"[:80],
            **_kind_or_type(home, DeviceKind.MOTION),
            "room": room.id,
            "zone": name,
        }
        edits = (
            *_with_zone(home, device, f"{room.name} motion", functions[0]),
            RepairEdit(("proof", "sure_detectors"), name, "add"),
        )
        yield RepairChange(
            f"motion/{room.id}",
            EditWay.MOTION,
            sentence=(
                f"Fit a motion detector{_of_type(home, DeviceKind.MOTION)} in {room.name}, zone {functions[0].text}."
            ),
            price=price,
            edits=edits,
            about=frozenset({room.id}),
            slots=frozenset({f"motion/{room.id}"}),
            assumed=assumed,
            if_seen=device["name"],
            because="it is meant to see whoever crosses the room",
        )


def _functions(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """Each burglary function that suits the devices of a zone, in place of its own."""
    price, assumed = prices.of(ChangeKind.FUNCTION)
    doors = {opening.id for opening in home.site.openings if _is_door(opening)}
    for zone in home.control_unit.zones:
        devices = [device for device in at_work(home) if device.zone == zone.id]
        if zone.function not in BURGLARY or not devices:
            continue
        for function in _offered(home, *_suits(devices, doors)):
            if function is not zone.function:
                yield RepairChange(
                    f"function/{zone.id}/{function.value}",
                    EditWay.FUNCTION,
                    sentence=(
                        f"Give the zone {zone.label} the function “{function.text}” in place of “{zone.function.text}”."
                    ),
                    price=price,
                    edits=(RepairEdit(("control_unit", "zones", zone.id, "function"), function.value),),
                    about=frozenset({zone.id}),
                    slots=frozenset({f"function/{zone.id}"}),
                    assumed=assumed,
                    because=_BECAUSE_OF.get(function, ""),
                )


def _is_door(opening: Opening) -> bool:
    return opening.kind in DOORS and opening.kind is not OpeningKind.GATE


def _suits(devices: list[Device], doors: set[str]) -> tuple[Function, ...]:
    if any(device.kind is DeviceKind.MOTION or device.passages for device in devices):
        return _INSIDE
    on_door = any(doors & set(device.openings) for device in devices)
    return tuple(function for function in _AT_EDGE if on_door or function is not Function.ENTRY_EXIT)


def _part_sets(home: Home, prices: Prices) -> Iterator[RepairChange]:
    """A zone put back into a part set or left out of it; an entry/exit door at once or delayed."""
    price, assumed = prices.of(ChangeKind.PART_SET)
    for part in home.control_unit.part_sets:
        area = part.area or (home.control_unit.areas[0].id if home.control_unit.areas else "")
        delayed = {door.zone: door.delayed for door in part.doors}
        place = ("control_unit", "part_sets", part.id)
        for zone in home.control_unit.zones:
            if zone.function not in BURGLARY or (zone.areas and area not in zone.areas):
                continue
            out = zone.id in part.left_out
            said = "Put the zone {} back into the part set {}." if out else "Leave the zone {} out of the part set {}."
            why = "it listens again while this set is on" if out else "nobody trips it while this set is on"
            found = [
                (
                    EditWay.PUT_BACK if out else EditWay.LEAVE_OUT,
                    said,
                    RepairEdit((*place, "left_out"), zone.id, "drop" if out else "add"),
                    why,
                )
            ]
            if is_entry_exit_door(zone, home.whole_devices) and not out:
                found.append(_door(place, zone.id, delayed))
            for way, text, edit, why in found:
                name = f"{way.value}/{part.id}/{zone.id}"
                yield RepairChange(
                    name,
                    way,
                    sentence=text.format(zone.label, part.name),
                    price=price,
                    edits=(edit,),
                    about=frozenset({zone.id}),
                    slots=frozenset({f"part/{part.id}/{zone.id}"}),
                    part=part.id,
                    assumed=assumed,
                    because=why,
                )


def _door(place: tuple[str, ...], zone: str, delayed: dict[str, bool]) -> tuple[EditWay, str, RepairEdit, str]:
    was = delayed.get(zone, True)
    text = (
        "Take the delay of the entry/exit door {} out of the part set {}: it alarms at once there."
        if was
        else ("Give the entry/exit door {} its delay in the part set {}.")
    )
    why = "no delay runs there before the siren" if was else "whoever comes in by it has time to unset"
    if zone in delayed:
        return EditWay.DOOR, text, RepairEdit((*place, "doors", zone, "delayed"), not was), why
    return EditWay.DOOR, text, RepairEdit((*place, "doors"), {"zone": zone, "delayed": False}, "add"), why
