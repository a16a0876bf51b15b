"""Smoke alarms: whether the household's own list covers bedrooms, the ways outside them, and every level."""

from alarmlib.calc.hazards.hazard_places import (
    open_groups,
    sleeping_areas,
)
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.hazards.alarm_lists import (
    AUTHORITY,
    SHELTER,
    Lists,
    any_in,
    carbon_monoxide_lists,
    gap,
    household,
    no_way_out,
    on_unit,
    smoke_lists,
)
from alarmlib.checks.lookup import bedrooms, room_name, said
from alarmlib.model import Home
from alarmlib.model.questions import sleeping_rooms
from alarmlib.model.site import PassageKind, RoomUse, Storey, Yes
from alarmlib.model.words import HAZARD_KINDS, DeviceKind
from alarmlib.rules import rules_of


@check
def in_every_bedroom(home: Home) -> Said:
    """Every bedroom, a guest's included, has a smoke alarm of the household's own list."""
    lists = smoke_lists(home)
    source = rules_of(home).fire.bedrooms.source
    for bed in sorted(bedrooms(home)):
        who = "where somebody sleeps" if bed in sleeping_rooms(home) else "a bedroom"
        message = f"{room_name(home, bed)} is {who}, but no household smoke alarm is known there."
        found = gap(home, lists, bed, any_in([bed]), message, source)
        if found:
            yield found


@check
def outside_sleeping_areas(home: Home) -> Said:
    """Outside each separate sleeping area is a smoke alarm."""
    plan, lists = plan_from_home(home), smoke_lists(home)
    for outside, beds in sleeping_areas(plan, bedrooms(home), no_way_out(home)):
        names = ", ".join(room_name(home, bed) for bed in sorted(beds))
        message = f"{names}: no household smoke alarm is known outside, near the door."
        found = gap(home, lists, min(outside), any_in(outside), message)
        if found:
            yield found


@check
def on_every_level(home: Home) -> Said:
    """Every level has a smoke alarm; attics, porches, garages and workshops alone don't count as one."""
    lists = smoke_lists(home)
    for storey in home.site.storeys:
        inside = _level(home, storey)
        if inside:
            message = f"{said(storey.name)}: no household smoke alarm is known on this level."
            found = gap(home, lists, storey.id, any_in(inside), message)
            if found:
                yield found


def _level(home: Home, storey: Storey) -> frozenset[str]:
    return frozenset(r.id for r in home.site.rooms if r.storey == storey.id and r.use not in SHELTER)


@check
def on_both_sides_of_a_door(home: Home) -> Said:
    """Where a door parts the bedrooms' hall from a living area beside it, an alarm is on each side."""
    rule = rules_of(home).fire.both_sides_of_a_door
    if rule is None:
        return
    plan, lists, beds = plan_from_home(home), smoke_lists(home), bedrooms(home)
    living = {room.id for room in home.site.rooms if room.use is RoomUse.LIVING} - beds
    doors = [set(passage.rooms) for passage in plan.passages if passage.kind is PassageKind.DOOR]
    for outside, _ in sleeping_areas(plan, beds, no_way_out(home)):
        for group in open_groups(plan, [room for room in sorted(living) if room not in outside], beds):
            if any(door & outside and door & group for door in doors):
                name = room_name(home, min(group & living))
                message = (
                    f"{name}: a door separates it from the hall of the bedrooms, and there is no smoke alarm on "
                    "its side."
                )
                found = gap(home, lists, min(group), any_in(group), message, rule.source)
                if found:
                    yield found


@check
def open_to_above(home: Home) -> Said:
    """A room that is open to the storey above: the upper alarm may count for the lower level."""
    for room in home.site.rooms:
        if room.open_to_above:
            message = f"{said(room.name)} is open to the storey above: the upper alarm may count for both levels."
            yield note(room.id, message, f"{AUTHORITY.capitalize()}.", "nfpa72_great_room")


@check
def level_without_bedrooms(home: Home) -> Said:
    """On a level without bedrooms the alarm is in the living room, near the stairs up, or both."""
    beds, alarms = bedrooms(home), smoke_lists(home).required
    stairs = {room for p in home.site.passages if p.kind is PassageKind.STAIRS for room in (p.first, p.second)}
    for storey in home.site.storeys:
        inside = _level(home, storey)
        here = {alarm.room for alarm in alarms if alarm.room in inside}
        living = {r.id for r in home.site.rooms if r.id in inside and r.use is RoomUse.LIVING}
        if here and not inside & beds and not here & (living | stairs):
            message = f"{said(storey.name)} has no bedrooms, and no smoke alarm in a living room or by the stairs."
            yield note(storey.id, message, "Consider moving one there, or adding one.", "nfpa_tips")


@check
def all_sound_together(home: Home) -> Said:
    """If one of the household's alarms sounds, all of them sound."""
    alarms = household(home, DeviceKind.SMOKE, DeviceKind.HEAT)
    for alarm in alarms if len(alarms) > 1 else ():
        linked = alarm.hazard.sounds_with_others if alarm.hazard else Yes.UNKNOWN
        if linked is Yes.NO:
            message = (
                f"{said(alarm.name)} does not sound together with the other alarms, so you may not hear it in time."
            )
            remedy = f"Link it by wire or radio; {AUTHORITY}."
            yield should(alarm.id, message, remedy, _linking(home))
    unknown = [a.name for a in alarms if (a.hazard.sounds_with_others if a.hazard else Yes.UNKNOWN) is Yes.UNKNOWN]
    if unknown and len(alarms) > 1:
        message = (
            "Household alarms: it is not known whether these sound together with the others: "
            f"{', '.join(map(said, unknown))}."
        )
        yield note("site", message, "Press the button of one, and listen at the others.", "nfpa_tips")


def _linking(home: Home) -> str:
    if linked := rules_of(home).fire.linked:
        return linked.source
    return "interconnect_new" if home.hazards.permit_work else "nfpa_tips"


@check
def unit_alone(home: Home) -> Said:
    """Who has no household alarm at all relies on the control unit's detectors alone."""
    smoke = smoke_lists(home)
    if smoke.unit and not (smoke.household or smoke.alone):
        yield should(
            "site",
            "Smoke: only detectors on the control unit watch for it; no household smoke alarm is known.",
            "American rules let such detectors cover a home, or alarms, but not half of each. "
            f"{AUTHORITY.capitalize()}. Fit listed alarms unless it agrees.",
            "nfpa72_either_list",
        )


@check
def places_unknown(home: Home) -> Said:
    """Every alarm that was found has its place in the list of devices, and on the plan where there is one."""
    drawn = {room.id for room in home.site.rooms if room.outline}
    known = {device.id for device in home.whole_devices}
    surveyed = {alarm.room for lists in _both(home) for alarm in lists.household if alarm.id not in known}
    bare = [room for room in home.site.rooms if room.id in surveyed]
    if bare and drawn:
        names = ", ".join(said(room.name) for room in bare)
        message = f"{names}: your survey has a smoke or CO alarm there, but its kind and place are not entered."
        remedy = "Enter each as a device that works alone, so that its place can be checked."
        yield note("site", message, remedy, "owner")
    mounted = (*household(home, *HAZARD_KINDS), *on_unit(home, *HAZARD_KINDS))
    unplaced = [device.name for device in mounted if device.at is None and device.room in drawn]
    if unplaced:
        message = (
            "Places: you have not entered where in their rooms these are mounted, so distances are not checked: "
            f"{', '.join(map(said, unplaced))}."
        )
        yield note("site", message, "Put them on the plan.", "owner")


def _both(home: Home) -> tuple[Lists, Lists]:
    return smoke_lists(home), carbon_monoxide_lists(home)


GROUP = CheckGroup(
    "household_alarms",
    (
        in_every_bedroom,
        outside_sleeping_areas,
        on_every_level,
        on_both_sides_of_a_door,
        open_to_above,
        level_without_bedrooms,
        all_sound_together,
        unit_alone,
        places_unknown,
    ),
)
