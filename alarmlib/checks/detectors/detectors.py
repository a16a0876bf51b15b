"""Whether each detector can do its work where it is: what disturbs it, pets, magnets, rests."""

from alarmlib.calc.choosing.fits import DISTURBS
from alarmlib.calc.coverage.detection import STEP_M
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.household import Pet
from alarmlib.model.questions import by_id, detectors, present
from alarmlib.model.site import Disturbance, Frame
from alarmlib.model.words import DeviceKind
from alarmlib.units import Kind, show

_DISTURBS = {**DISTURBS, Disturbance.HOT: "near body warmth it sees less far"}
LONG_REST_S = 60.0  # our own line between a pause and being blind for a whole walk


@check
def disturbed_motion(home: Home) -> Said:
    """No motion detector looks at what trips or blinds it."""
    for device in present(home, DeviceKind.MOTION):
        room = rooms(home).get(device.room)
        for disturbance in room.disturbances if room else ():
            yield should(
                device.id,
                f"{said(device.name)} may fail or give false alarms: in {room_name(home, device.room)} "
                f"{_DISTURBS[disturbance]}.",
                "Turn or move it, remove the cause, or use contacts there. Check with its manual.",
                "ts50131_7_surroundings",
            )


@check
def too_fast_for_a_slow_walk(home: Home) -> Said:
    """Each motion detector sees somebody as slow as in the walk by which coverage is worked out: a step each second."""
    for device in present(home, DeviceKind.MOTION):
        if device.slowest_m_s is not None and device.slowest_m_s > STEP_M:
            pace, walk = (show(speed, Kind.SPEED, home.units) for speed in (device.slowest_m_s, STEP_M))
            message = (
                f"{said(device.name)} sees nobody slower than {pace}. Its view is computed for a walk at {walk}, "
                "so whoever walks at that pace may pass unseen."
            )
            remedy = "Look at its manual again. If the figure is right, use another detector, or contacts there."
            yield should(device.id, message, remedy, "ul1641_steps", figure=pace, limit=walk)


@check
def pet_trips_motion(home: Home) -> Said:
    """No pet that is free while nobody is in can trip a motion detector."""
    for device in present(home, DeviceKind.MOTION):
        for pet in home.household.pets:
            if device.room in pet.free_when_empty and (why := _seen_because(device, pet)):
                yield should(
                    device.id,
                    f"{said(device.name)} may be tripped by {said(pet.kind)}, which is free in "
                    f"{room_name(home, device.room)} while nobody is in: {why}.",
                    "Keep the pet out, or use contacts or a detector made for pets. Test it by walking, and "
                    "with the pet.",
                )


def _seen_because(device: Device, pet: Pet) -> str:
    """Why the detector may see the pet; "" where its manual says it does not."""
    if pet.reaches_m > 0:
        return f"it climbs {pet.reaches_m:g} m high, where no detector ignores it"
    if device.ignores_pets_kg is None:
        return "this detector is not known to ignore pets"
    if pet.mass_kg is None:
        return "its weight is not known"
    if pet.mass_kg > device.ignores_pets_kg:
        return f"it weighs {pet.mass_kg:g} kg, more than the {device.ignores_pets_kg:g} kg that this detector ignores"
    return ""


@check
def contact_on_steel(home: Home) -> Said:
    """A contact on steel is made for it."""
    openings = by_id(home.site.openings)
    for device in present(home, DeviceKind.CONTACT):
        if any(openings[o].frame is Frame.STEEL for o in device.openings if o in openings):
            yield should(
                device.id,
                f"{said(device.name)} sits on steel, which about halves the reach of a magnet.",
                "Use a contact made for steel, or a spacer. Check with its manual.",
                "contact_on_steel",
            )


@check
def gap_too_wide(home: Home) -> Said:
    """The gap of each opening is within what its contact bridges."""
    openings = by_id(home.site.openings)
    for device in present(home, DeviceKind.CONTACT):
        for opening in (openings[o] for o in device.openings if o in openings):
            gap, most = opening.gap_mm, device.contact_gap_mm
            if gap is not None and most is not None and gap > most:
                yield must(
                    device.id,
                    f"{said(opening.name)}: its gap is wider than {said(device.name)} bridges.",
                    "Use a contact for a wider gap, or bring the magnet nearer.",
                    "owner",
                    figure=f"{gap:g} mm",
                    limit=f"{most:g} mm",
                    margin=f"{most - gap:g} mm",
                )


@check
def rests_after_a_trip(home: Home) -> Said:
    """Who relies on a detector that sleeps after a trip knows it."""
    for device in detectors(home):
        if device.sleep_s >= LONG_REST_S and device.movement_restarts_sleep:
            yield should(
                device.id,
                f"{said(device.name)} sees nothing for {show(device.sleep_s, Kind.TIME, home.units)} after a trip, "
                "and each movement starts that time again. People who move about before you set the alarm keep it "
                "blind.",
                "Leave the room empty for that long before you rely on it, or choose a shorter sleep time.",
                "owner",
                figure=f"{device.sleep_s:g} s",
            )
        elif device.sleep_s > 0:
            yield note(
                device.id,
                f"{said(device.name)} sleeps for {show(device.sleep_s, Kind.TIME, home.units)} after a trip "
                "and may miss somebody in that time.",
                "Wait for that long between two passes of a walk test.",
                "owner",
                figure=f"{device.sleep_s:g} s",
            )


@check
def no_place(home: Home) -> Said:
    """Every detector has a room."""
    for device in detectors(home):
        if not device.room and not device.openings and not device.passages:
            yield should(device.id, f"{said(device.name)} has no room yet.", "Choose its room.", "owner")


GROUP = CheckGroup(
    "detectors",
    (
        disturbed_motion,
        too_fast_for_a_slow_walk,
        pet_trips_motion,
        contact_on_steel,
        gap_too_wide,
        rests_after_a_trip,
        no_place,
    ),
)
