"""What is heard while the alarm is unset: a chime that a pet rings, a cover opened; two cables on the same screws."""

from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.lookup import room_name, said
from alarmlib.model import Home
from alarmlib.model.circuits import Ending
from alarmlib.model.questions import by_id, of_zones, present
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, Function, Link


@check
def pet_rings_the_chime(home: Home) -> Said:
    """No zone that chimes or warns while unset has a motion detector where a pet is free by day."""
    held = of_zones(home)
    for zone in home.control_unit.zones:
        heard = zone.chime or zone.function is Function.WARN_UNSET
        for device in held.get(zone.id, ()) if heard else ():
            pets = [pet for pet in home.household.pets if device.room in pet.free_in_day]
            if device.kind is DeviceKind.MOTION and pets:
                message = (
                    f"Zone {said(zone.label)} sounds by day, while the alarm is unset, whenever "
                    f"{said(pets[0].kind)} moves in {room_name(home, device.room)}."
                )
                yield note(zone.id, message, "Turn its chime or warning off, or keep the pet out of that room.")


@check
def cover_unheard(home: Home) -> Said:
    """A cover switch of a wired device reports by a loop of its own, or within a circuit of two resistors."""
    circuits = by_id(home.circuits)
    for device in present(home):
        circuit = circuits.get(device.circuit)
        if circuit is None or device.link is not Link.WIRED or device.tamper is not Yes.YES:
            continue
        if not circuit.tamper_loop and circuit.ending in (Ending.NONE, Ending.SINGLE):
            message = (
                f"{said(device.name)} has a switch under its cover, but {said(circuit.name)} has neither a tamper "
                "circuit nor two end resistors. While the alarm is unset, nobody hears that the cover is opened."
            )
            yield note(device.id, message, "Run a tamper circuit beside it, or end it with two resistors.")


@check
def terminals_shared(home: Home) -> Said:
    """Each circuit has terminals of its own, or nobody finds its cable again."""
    seen: dict[str, str] = {}
    for circuit in home.circuits:
        place = " ".join(circuit.terminals.casefold().split())
        if place and place in seen:
            message = f"{said(circuit.name)} and {said(seen[place])} are both entered on terminals {circuit.terminals}."
            yield should(circuit.id, message, "Look at the control unit, and correct the one that is wrong.", "owner")
        seen.setdefault(place, circuit.name)


GROUP = CheckGroup("by_day", (pet_rings_the_chime, cover_unheard, terminals_shared))
