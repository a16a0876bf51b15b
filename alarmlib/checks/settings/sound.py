"""Whether a sounder wakes who sleeps, is heard next door, keeps the council's limit, and spares the ears beside it."""

from collections.abc import Iterator

from alarmlib.calc.sound.heard import (
    METER_UNSURE_DB,
    best_way,
    computed_dba,
    heard_at_night,
    heard_in,
    left_open,
    outside_dba,
    own_reading,
    sounders,
    together,
)
from alarmlib.calc.sound.levels import MOST_DBA, at_distance, bearable_s, pillow_target_dba
from alarmlib.calc.sound.sound_figures import beside_figures, pillow_figures
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.checks.people.people import may_not_wake
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.messages import PathKind
from alarmlib.model.questions import by_id, present, sleeping_rooms
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of

NEXT_DOOR_UNSURE_DB = 5.0
HEARD_OVER_DB = 10.0  # over the usual noise, to be noticed; common practice, no source
QUIET_STREET_DBA = 45.0  # where nobody measured; our own assumption
FAR_OFF_DB = 10.0  # about twice what a computed level is unsure by


def target_dba(home: Home) -> float:
    """What is asked at a pillow under the chosen rules, dBA."""
    pillow = rules_of(home).pillow
    if pillow.over_noise:
        return pillow_target_dba(home.sound.ambient_dba, home.sound.loudest_dba)
    return pillow.level.value


def target_source(home: Home) -> str:
    """By whom that is asked."""
    return rules_of(home).pillow.level.source


@check
def at_the_pillow(home: Home) -> Said:
    """With doors closed enough sound comes to every pillow; within what is uncertain it is to be measured."""
    if not sounders(home):
        return
    target = target_dba(home)
    for room in sorted(sleeping_rooms(home) & rooms(home).keys()):
        fire, unit = heard_in(home, room, fire=True), heard_in(home, room)
        if not fire:
            message = (
                f"{room_name(home, room)}: how loud a sounder is there cannot be computed, because the places are "
                "not drawn."
            )
            yield note(room, message, "Measure it at the pillow, with the doors closed.", target_source(home))
            continue
        level, unsure = together(fire)
        yield from pillow_figures(home, room, fire, unit)
        yield from _judged(home, room, level, unsure, target)
        if unit and level - unsure >= target:
            yield from _burglary(home, room, together(unit), target)


def _burglary(home: Home, room: str, heard: tuple[float, float], target: float) -> Iterator[Finding]:
    """In a burglary the household's own alarms keep still."""
    level, unsure = heard
    if level - unsure < target:
        within = "comes near" if level + unsure >= target else "stays below"
        message = (
            f"{room_name(home, room)}: in a fire, the household's own alarms are computed to reach the level asked "
            f"for at the pillow. In a burglary, what the control unit sounds {within} "
            f"it.{''.join(_not_woken(home, room))}"
        )
        numbers = {"figure": f"{level:.0f} ± {unsure:.0f} dB(A)", "limit": f"{target:.0f} dB(A)"}
        yield note(
            room,
            message,
            "Try it with the doors closed. Mount a sounder nearer if it does not wake whoever sleeps there.",
            "practice",
            **numbers,
        )


def _not_woken(home: Home, room: str) -> Iterator[str]:
    """No level says that somebody wakes who hears badly or sleeps deeply."""
    for person in home.household.people:
        if person.sleeps_in == room and (why := may_not_wake(person)):
            yield f" {said(person.role)} {why}: a level alone does not say that they wake."


def _judged(home: Home, room: str, level: float, unsure: float, target: float) -> Iterator[Finding]:
    numbers = {
        "figure": f"{level:.0f} ± {unsure:.0f} dB(A)",
        "limit": f"{target:.0f} dB(A)",
        "margin": f"{level - target:.0f} dB",
    }
    name, source = room_name(home, room), target_source(home)
    if level + unsure < target:
        message = (
            f"{name}: with the doors closed, no sounder is computed to be loud enough at the "
            f"pillow.{_at_night(home, room)}"
        )
        yield should(room, message, "Mount a sounder or a linked alarm in the room.", source, **numbers)
    elif level - unsure < target:
        message = f"{name}: the sounder is so near the level asked for at the pillow that only a meter can tell."
        yield should(room, message, "Measure it with the doors closed.", source, **numbers)
    if level - unsure > MOST_DBA:
        message = f"{name}: the sounders are computed to be over {MOST_DBA:g} dB(A) at the pillow, which can hurt ears."
        yield should(room, message, "Choose a quieter one, or mount it further away.", "nfpa72_loudest", **numbers)


def _at_night(home: Home, room: str) -> str:
    """What the doors left open at night make of it; "" where none is."""
    found = heard_at_night(home, room) if left_open(home) else ()
    if not found:
        return ""
    return f" With the doors that you leave open at night it is about {together(found)[0]:.0f} dB(A)."


@check
def level_without_distance(home: Home) -> Said:
    """A level says at which distance it was measured, and every sounder says its level."""
    for device in present(home):
        if device.level_dba is not None and device.level_at_m is None:
            message = f"{said(device.name)}: you entered a sound level without its distance, so it is not used."
            yield should(device.id, message, "Look in its manual for the distance, often 1 m, 3 m or 10 ft.", "owner")
    for device in present(home, DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN):
        if device.level_dba is None:
            message = f"{said(device.name)}: you have not entered how loud it is."
            yield note(device.id, message, "Look in its manual for the level and its distance.", "owner")


@check
def ears_beside_it(home: Home) -> Said:
    """How long ears bear the loudest sounder from arm's length; nobody tests it longer unprotected."""
    inside = [d for d in sounders(home) if d.kind is DeviceKind.INSIDE_SOUNDER]
    if inside:
        loudest = max(inside, key=lambda d: at_distance(d.level_dba or 0.0, d.level_at_m, 1.0))
        level = at_distance(loudest.level_dba or 0.0, loudest.level_at_m, 1.0)
        safe = bearable_s(level)
        told = f"{safe / 60:.0f} min" if safe >= 120 else f"{safe:.0f} s"
        message = f"{said(loudest.name)}: one metre away, ears tolerate it for {told} a day."
        remedy = "Protect your ears when you test it, and sound it in short bursts."
        yield note(loudest.id, message, remedy, "niosh_noise", figure=f"{level:.0f} dB(A)")


@check
def readings_differ(home: Home) -> Said:
    """A reading of the owner's own lies near what was computed."""
    devices = by_id(present(home))
    for reading in home.sound.heard:
        sounder = devices.get(reading.sounder)
        way = best_way(home, sounder, reading.room, reading.doors_shut == "yes") if sounder and reading.room else None
        if sounder is None or way is None or sounder.level_dba is None or sounder.level_at_m is None:
            continue
        computed = computed_dba(sounder, way)
        if abs(computed - reading.level_dba) > FAR_OFF_DB:
            numbers = {"figure": f"{reading.level_dba:.0f} dB(A)", "limit": f"{computed:.0f} dB(A) computed"}
            message = (
                f"Your reading of {said(sounder.name)} in {room_name(home, reading.room)} is far "
                "from the calculated level."
            )
            yield note(
                reading.id,
                message,
                "Measure again. Check the doors, the places on the plan and the level that you entered.",
                "owner",
                **numbers,
            )


@check
def next_door(home: Home) -> Said:
    """The outside sounder is heard next door where somebody there is to act, and keeps the council's limit."""
    for sounder in present(home, DeviceKind.OUTSIDE_SIREN):
        yield from _boundary(home, sounder)
        level, unsure = _at_neighbour(home, sounder)
        wanted = (home.sound.neighbour_dba or QUIET_STREET_DBA) + HEARD_OVER_DB
        by_ear = any(path.kind is PathKind.SIREN for path in home.messages.paths)
        if level is not None and by_ear and level - unsure < wanted:
            numbers = {"figure": f"{level:.0f} ± {unsure:.0f} dB(A)", "limit": f"{wanted:.0f} dB(A)"}
            within = level + unsure >= wanted
            message = f"{said(sounder.name)} may not be heard at the neighbour's over the usual noise."
            remedy = (
                "Measure it there."
                if within
                else ("Choose a louder one, mount it nearer to them, or tell them another way.")
            )
            yield should(sounder.id, message, remedy, "point_source", **numbers)


def _at_neighbour(home: Home, sounder: Device) -> tuple[float | None, float]:
    read = own_reading(home, sounder.id, "")
    if read is not None:
        return read, METER_UNSURE_DB
    if sounder.level_dba is None or not sounder.level_at_m or home.sound.neighbour_m is None:
        return None, 0.0
    return outside_dba(sounder, home.sound.neighbour_m), NEXT_DOOR_UNSURE_DB


def _boundary(home: Home, sounder: Device) -> Iterator[Finding]:
    limit, metres = home.sound.limit_dba, home.sound.boundary_m
    if limit is None or metres is None or sounder.level_dba is None or not sounder.level_at_m:
        return
    level = outside_dba(sounder, metres)
    numbers = {"figure": f"{level:.0f} dB(A)", "limit": f"{limit:.0f} dB(A)", "margin": f"{limit - level:.0f} dB"}
    if level > limit + NEXT_DOOR_UNSURE_DB:
        message = f"{said(sounder.name)} is louder at the boundary than the limit that you entered."
        yield must(
            sounder.id,
            message,
            "Use a quieter one, or mount it further away. Ask your city or council.",
            "owner",
            **numbers,
        )
    elif level > limit - NEXT_DOOR_UNSURE_DB:
        message = f"{said(sounder.name)} is near the limit at the boundary."
        yield should(sounder.id, message, "Measure it there.", "owner", **numbers)


@check
def worked_out(home: Home) -> Said:
    """What is worked out beside sounders and next door, to follow."""
    yield from beside_figures(home)


GROUP = CheckGroup(
    "sound", (at_the_pillow, level_without_distance, ears_beside_it, readings_differ, next_door, worked_out)
)
