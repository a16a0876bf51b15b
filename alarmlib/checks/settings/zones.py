"""What is in each zone: how many and which detectors, under which function and label."""

from collections import Counter

from alarmlib.calc.zoning.arrangement import MOST_CONTACTS
from alarmlib.calc.zoning.functions import substitute
from alarmlib.calc.zoning.passed import passed_leaving
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should, weigh
from alarmlib.checks.finding import Finding
from alarmlib.checks.home.ways import route_rooms
from alarmlib.checks.lookup import entry_exit_doors, idle, said, zones
from alarmlib.model import Home
from alarmlib.model.control_unit import Zone
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work_of_zones, by_id, detectors, is_at_work, of_zones, on_opening
from alarmlib.model.words import BURGLARY, LIFE_SAFETY, PLAIN_CONTACTS, DeviceKind, Function, Link
from alarmlib.rules import rules_of

_LIFE_KINDS = {
    DeviceKind.SMOKE: Function.FIRE,
    DeviceKind.HEAT: Function.FIRE,
    DeviceKind.CARBON_MONOXIDE: Function.CARBON_MONOXIDE,
}
_DELAYED = frozenset({Function.ENTRY_EXIT, Function.ENTRY_ROUTE})
_MANUAL = "Check with your control unit's manual."


@check
def device_without_zone(home: Home) -> Said:
    """Every joined detector is in a zone, once there are zones."""
    for device in detectors(home) if home.control_unit.zones else ():
        if not device.zone:
            yield should(
                device.id,
                f"{said(device.name)} is in no zone, so the control unit does not listen to it.",
                "Give it a zone, or take it out.",
                "owner",
            )


@check
def zone_without_device(home: Home) -> Said:
    """Every zone in use has a device at work."""
    held, working = of_zones(home), at_work_of_zones(home)
    for zone in home.control_unit.zones:
        if zone.function is Function.UNUSED or zone.id in working:
            continue
        if zone.id in held:
            message = f"Zone {said(zone.label)} is in use, but all in it is out of use: {_names(held[zone.id])}."
            yield should(zone.id, message, "Put it back, or give the zone the function “unused”.", "owner")
        else:
            remedy = "Put a device in it, or give it the function “unused”."
            yield should(zone.id, f"Zone {said(zone.label)} is in use but has no device.", remedy, "owner")


@check
def zone_unused_with_device(home: Home) -> Said:
    """No zone with a device is set to unused."""
    for zone in home.control_unit.zones:
        if zone.function is Function.UNUSED and (devices := of_zones(home).get(zone.id)):
            names = ", ".join(said(device.name) for device in devices)
            remedy = "Choose a function for the zone."
            yield must(
                zone.id,
                f"Zone {said(zone.label)} has the function “unused”, so the control unit does not listen to {names}.",
                remedy,
                "owner",
            )


@check
def function_not_offered(home: Home) -> Said:
    """Every function in use is one that the unit offers."""
    offered = home.control_unit.limits.functions
    for zone in home.control_unit.zones:
        if offered and zone.function not in {*offered, Function.UNUSED}:
            rule = substitute(zone.function, offered, passed_leaving(zone, home.whole_devices))
            nearest = (
                f"The nearest is “{rule.given.text}”: {rule.lost}."
                if rule.given
                else (f"Your control unit offers nothing near it: {rule.lost}.")
            )
            yield must(
                zone.id,
                f"Zone {said(zone.label)} has the function “{zone.function.text}”, which your control unit "
                "does not offer.",
                nearest,
                "owner",
            )


@check
def too_many_contacts(home: Home) -> Said:
    """At most ten plain contacts share one zone."""
    for zone, devices in _held(home):
        count = sum(device.kind in PLAIN_CONTACTS for device in devices)
        if count > MOST_CONTACTS:
            yield weigh(
                rules_of(home).fitting.contacts_in_a_zone.binds,
                zone.id,
                f"{count} contacts share zone {said(zone.label)}; nobody can tell which of them tripped.",
                "Spread them over two zones.",
                "ts50131_7_indication",
                figure=str(count),
                limit=str(MOST_CONTACTS),
                margin=str(MOST_CONTACTS - count),
            )


@check
def detectors_sharing(home: Home) -> Said:
    """Each detector that decides for itself has its own zone."""
    for zone, devices in _held(home):
        deciding = [d for d in devices if d.kind not in PLAIN_CONTACTS and d in detectors(home)]
        if len(deciding) > 1 or (deciding and len(devices) > len(deciding)):
            yield should(
                zone.id,
                f"{_names(devices)} share zone {said(zone.label)}; a trip does not tell which of them it was.",
                "Give each detector that decides for itself a zone of its own, if the control unit has room.",
                "ts50131_7_indication",
            )


@check
def wired_with_wireless(home: Home) -> Said:
    """Wired and wireless devices do not share a zone unawares."""
    for zone, devices in _held(home):
        links = {device.link for device in devices}
        if {Link.WIRED, Link.WIRELESS} <= links:
            yield note(
                zone.id,
                f"Zone {said(zone.label)} holds wired and wireless devices.",
                "Check that your control unit can do that.",
            )


@check
def life_safety_apart(home: Home) -> Said:
    """Fire and carbon monoxide are in zones of their own, under their own function."""
    offered = home.control_unit.limits.functions
    for zone, devices in _held(home):
        wanted = {_LIFE_KINDS.get(device.kind) for device in devices}
        if wanted == {None}:
            if zone.function in LIFE_SAFETY:
                yield _burglary_in_fire_zone(zone, devices)
        elif len(wanted) > 1:
            yield _shared(zone, devices)
        elif zone.function not in wanted:
            yield _wrong_function(zone, next(iter(wanted - {None})) or Function.FIRE, offered)


def _burglary_in_fire_zone(zone: Zone, devices: tuple[Device, ...]) -> Finding:
    message = (
        f"Zone {said(zone.label)} is a {zone.function.text} zone, but it holds {_names(devices)}, which detects "
        "something else. A trip would send everybody out of the house."
    )
    return should(zone.id, message, f"Move that device to a zone of its own kind. {_MANUAL}", "life_safety_zones")


def _shared(zone: Zone, devices: tuple[Device, ...]) -> Finding:
    message = (
        f"{_names(devices)} share zone {said(zone.label)}: the alarm does not tell fire or gas from anything else, "
        "and a fault of one may silence the others."
    )
    return should(zone.id, message, f"Give fire and carbon monoxide zones of their own. {_MANUAL}", "ul1023_fire_side")


def _wrong_function(zone: Zone, wanted: Function, offered: tuple[Function, ...]) -> Finding:
    rule = substitute(wanted, offered or None)
    label = f"Zone {said(zone.label)}"
    if rule.given is zone.function:
        message = f"{label} is used in place of “{wanted.text}”, which your control unit lacks: {rule.lost}."
        return should(zone.id, message, "Keep listed alarms that work alone as well.", "owner")
    better = rule.given.text if rule.given else "one of its own"
    remedy = f"Set it to “{better}”."
    if zone.function in BURGLARY:
        message = (
            f"{label} has a {wanted.text} detector but the function “{zone.function.text}”: "
            "while the alarm is unset, its siren stays silent."
        )
        return must(zone.id, message, remedy, "owner")
    message = f"{label} has a {wanted.text} detector but the function “{zone.function.text}”."
    return should(zone.id, message, f"{remedy} {_MANUAL}", "life_safety_zones")


@check
def life_safety_held_back(home: Home) -> Said:
    """Nothing delays, silences or takes out a fire or gas zone."""
    for zone in home.control_unit.zones:
        if zone.function in LIFE_SAFETY:
            label = f"Zone {said(zone.label)} ({zone.function.text})"
            for wrong, what, remedy in (
                (zone.out_of_use, "is out of use: nobody is warned until you put it back", "Put it back."),
                (zone.silent, "is set to sound no siren, so it wakes nobody", "Let it sound the siren."),
                (bool(zone.confirmed_by), "waits for a second zone, so the warning comes late", "Let it alarm alone."),
            ):
                if wrong:
                    yield should(zone.id, f"{label} {what}.", f"{remedy} {_MANUAL}", "life_safety_zones")


@check
def delay_off_the_route(home: Home) -> Said:
    """Only entry/exit doors, and what must be passed on the way to the keypad, wait."""
    doors = {door.id for door in entry_exit_doors(home)}
    route = route_rooms(home)
    source = rules_of(home).fitting.delayed.source
    for zone, devices in _held(home):
        if zone.function not in _DELAYED or not route:
            continue
        for device in devices:
            if not doors & set(device.openings) and not _on_route(home, device, route):
                yield should(
                    device.id,
                    f"{said(device.name)} waits for the entry delay ({zone.function.text}), but nobody has to pass "
                    "it to reach the keypad. An intruder there gains that delay.",
                    "Move it to a zone that alarms at once.",
                    source,
                )


def _on_route(home: Home, device: Device, route: frozenset[str]) -> bool:
    passages = by_id(home.site.passages)
    ends = {end for name in device.passages if name in passages for end in _ends(passages[name])}
    if device.openings:
        return False
    return ends <= route if ends else device.room in route


def _ends(passage: object) -> tuple[str, str]:
    return getattr(passage, "first", ""), getattr(passage, "second", "")


@check
def entry_exit_door_at_once(home: Home) -> Said:
    """The contact of a door that people come home by starts the entry delay."""
    known = zones(home)
    for door in entry_exit_doors(home):
        for device in on_opening(home, door.id):
            zone = known.get(device.zone)
            if zone and device.kind is DeviceKind.CONTACT and zone.function is Function.AT_ONCE:
                yield must(
                    device.id,
                    f"You come home by {said(door.name)}, but its zone {said(zone.label)} alarms at once.",
                    "Give the zone the function “starts the entry delay”.",
                    "owner",
                )


@check
def entry_exit_door_without_contact(home: Home) -> Said:
    """Every entry/exit door has a contact at work that starts its delay."""
    for door in entry_exit_doors(home):
        contacts = tuple(device for device in on_opening(home, door.id) if device.kind is DeviceKind.CONTACT)
        if not home.whole_devices or any(map(is_at_work, contacts)):
            continue
        if contacts:
            message = f"{said(door.name)} is an entry/exit door, but nothing starts its entry delay.{idle(contacts)}"
            yield should(door.id, message, "Put it back, or fit another contact.")
        else:
            message = f"{said(door.name)} is an entry/exit door without a contact, so nothing starts its entry delay."
            yield should(door.id, message, "Fit a contact.")


@check
def labels(home: Home) -> Said:
    """Labels fit the unit, differ, and are not blank."""
    most = home.control_unit.limits.label_length
    times = Counter(zone.label.casefold().strip() for zone in home.control_unit.zones)
    for zone in home.control_unit.zones:
        label = zone.label.strip()
        if most is not None and len(label) > most:
            numbers = {"figure": str(len(label)), "limit": str(most), "margin": str(most - len(label))}
            yield must(
                zone.id, f"Label {said(label)} is too long for your control unit.", "Shorten it.", "owner", **numbers
            )
        if not label:
            yield should(zone.id, "One zone has no label.", "Name it as you would say it on the telephone.", "owner")
        elif times[label.casefold()] > 1:
            yield should(
                zone.id,
                f"Label {said(label)} belongs to more than one zone.",
                "Give each zone a label of its own.",
                "owner",
            )


@check
def zone_without_area(home: Home) -> Said:
    """Where there are several areas, each zone says which it belongs to."""
    for zone in home.control_unit.zones if len(home.control_unit.areas) > 1 else ():
        if not zone.areas and zone.function is not Function.UNUSED:
            message = f"Zone {said(zone.label)} belongs to no area, so it is not clear when it is set."
            yield should(zone.id, message, "Choose its area.", "owner")


@check
def on_another_circuit(home: Home) -> Said:
    """A wired device is on the circuit of its zone."""
    known = zones(home)
    for device in detectors(home):
        zone = known.get(device.zone)
        if zone and zone.circuit and device.circuit and zone.circuit != device.circuit:
            message = (
                f"{said(device.name)} is wired to one detector circuit, and its zone {said(zone.label)} to another."
            )
            yield must(device.id, message, "Correct the detector circuit of the device or of the zone.", "owner")


def _held(home: Home) -> list[tuple[Zone, tuple[Device, ...]]]:
    """Each zone that has devices, with them."""
    held = of_zones(home)
    return [(zone, held[zone.id]) for zone in home.control_unit.zones if zone.id in held]


def _names(devices: tuple[Device, ...]) -> str:
    return ", ".join(said(device.name) for device in devices)


GROUP = CheckGroup(
    "zones",
    (
        device_without_zone,
        zone_without_device,
        zone_unused_with_device,
        function_not_offered,
        too_many_contacts,
        detectors_sharing,
        wired_with_wireless,
        life_safety_apart,
        life_safety_held_back,
        delay_off_the_route,
        entry_exit_door_at_once,
        entry_exit_door_without_contact,
        labels,
        zone_without_area,
        on_another_circuit,
    ),
)
