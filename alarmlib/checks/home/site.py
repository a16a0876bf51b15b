"""The ways in, the escape ways, and where the control unit is."""

from collections.abc import Iterator

from alarmlib.calc.plan.accessible import Height, reachable
from alarmlib.calc.plan.floor_plan import plan_from_home, spots_of_openings
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should, weigh
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import entry_exit_doors, idle, room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.questions import at_work, guards, on_opening, present
from alarmlib.model.site import Opening, OpeningKind, Reach, RoundResult, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of

_REACHED = frozenset({Reach.GROUND, Reach.FLAT_ROOF, Reach.CLIMB})
_NOT_WAYS_IN = frozenset({OpeningKind.GATE, OpeningKind.LETTERBOX})


def within_reach(home: Home) -> dict[str, str]:
    """Each opening within reach, and why.

    Reference: UL 1641 18.1 and 18.2 (distances seen, angle rule not); the owner's own word for the rest.
    """
    openings = [opening for opening in home.site.openings if opening.kind not in _NOT_WAYS_IN]
    found = reachable(
        [_height(opening) for opening in openings if opening.reach is not Reach.NOT or opening.sill_m is not None],
        spots_of_openings(plan_from_home(home)),
    )
    told = {opening.id: opening.reach.text for opening in openings if opening.reach in _REACHED}
    return {reach.opening: told.get(reach.opening, reach.why) for reach in found}


def _height(opening: Opening) -> Height:
    if opening.reach in _REACHED:
        return Height(opening.id, 0.0)
    below, width = opening.ledge_below_m, opening.ledge_width_m
    ledges = () if below is None or width is None else ((below, width),)
    return Height(opening.id, opening.sill_m, ledges)


@check
def way_in_without_detector(home: Home) -> Said:
    """Every way in within reach of a guarded room has a detector at work, or a reason why not."""
    guarded = {room.id for room in home.site.rooms if room.guarded}
    reach = within_reach(home)
    for opening in home.site.openings:
        if opening.id in reach and opening.room in guarded and not guards(home, opening.id):
            yield _bare(home, opening, reach[opening.id])


def _bare(home: Home, opening: Opening, why: str) -> Finding:
    more = idle(on_opening(home, opening.id))
    more += " Nobody sees it from the street or from next door." if opening.seen_by_others is Yes.NO else ""
    what = f"{said(opening.name)} can be reached ({why}) and has no detector"
    if opening.left_bare_because:
        return note(opening.id, f"{what}, as you decided.{more}", "Look at the reason again each year.", "owner")
    inside = at_work(home, DeviceKind.MOTION, DeviceKind.GLASS_BREAK, DeviceKind.SHOCK)
    if any(device.room == opening.room for device in inside):
        return note(
            opening.id,
            f"{what} of its own; somebody who comes in there is noticed only inside "
            f"{room_name(home, opening.room)}.{more}",
            "Add a contact or glass-break detector if you want the break-in itself noticed.",
            "ul1641_cover",
        )
    remedy = (
        "Fit a contact or glass-break detector, watch the room with a motion detector, or write down why it needs none."
    )
    message = f"{what}, nor has its room: whoever comes in there is noticed late or not at all.{more}"
    return should(opening.id, message, remedy, "ul1641_cover")


@check
def no_entry_exit_door(home: Home) -> Said:
    """Somebody comes home by at least one door."""
    if home.site.openings and not entry_exit_doors(home):
        remedy = "Mark each door by which you leave and come home."
        yield should(
            "site",
            "Entry/exit doors: you have marked no door as one that you come home by, so none gets a delay.",
            remedy,
            "owner",
        )


@check
def locked_in(home: Home) -> Said:
    """Every escape way opens from inside without a key."""
    for opening in home.site.openings:
        if opening.escape_way and opening.opens_without_key is Yes.NO:
            yield must(
                opening.id,
                f"{said(opening.name)} is an escape way but needs a key from inside.",
                "Change the lock or bars so that everybody can open it at once.",
                "caution_escape_locks",
            )


@check
def loose_latch(home: Home) -> Said:
    """Nothing that wind can move sits on a contact."""
    for opening in home.site.openings:
        if opening.latches_in_wind is RoundResult.NEEDS_WORK and on_opening(home, opening.id):
            yield should(
                opening.id,
                f"{said(opening.name)} does not stay latched in wind, so its detector may give false alarms.",
                "Fix the latch before you fit the detector.",
            )


@check
def unit_outside_the_guarded_area(home: Home) -> Said:
    """The control unit is where the alarm notices somebody who goes to it."""
    for unit in present(home, DeviceKind.CONTROL_UNIT):
        if unit.room and not _guarded_room(home, unit.room):
            rule = rules_of(home).fitting.unit_place
            yield weigh(
                rule.binds,
                unit.id,
                f"The control unit is in {room_name(home, unit.room)}, where no detector notices anybody.",
                "Guard that room, or mount the control unit in a guarded one.",
                rule.source,
            )


def _guarded_room(home: Home, room: str) -> bool:
    known = rooms(home).get(room)
    if known is None or not known.guarded:
        return False
    if any(device.room == room for device in at_work(home, DeviceKind.MOTION)):
        return True
    ways_in = [opening for opening in home.site.openings if opening.room == room]
    return all(guards(home, opening.id) for opening in ways_in)


@check
def unit_at_the_entry(home: Home) -> Said:
    """The control unit is not where the entry delay runs."""
    doors = {door.room: door for door in entry_exit_doors(home)}
    for unit in present(home, DeviceKind.CONTROL_UNIT):
        if unit.room in doors:
            yield should(
                unit.id,
                f"The control unit is in {room_name(home, unit.room)}, where people come in; "
                "an intruder reaches it while the entry delay runs.",
                "Mount it in another guarded room, and leave only the keypad at the door.",
                "asnzs2201_unit_place",
            )


@check
def shock_without_contact(home: Home) -> Said:
    """A shock detector on something that opens has a contact beside it."""
    for device in present(home, DeviceKind.SHOCK):
        for opening in _without_contact(home, device):
            yield should(
                device.id,
                f"{said(opening.name)}: {said(device.name)} notices blows, but not that it is opened quietly.",
                "If it can be opened, fit a contact as well.",
                "ul1641_shock",
            )


def _without_contact(home: Home, device: Device) -> Iterator[Opening]:
    for opening in home.site.openings:
        kinds = {guard.kind for guard in guards(home, opening.id)}
        if opening.id in device.openings and DeviceKind.CONTACT not in kinds:
            yield opening


GROUP = CheckGroup(
    "site",
    (
        way_in_without_detector,
        no_entry_exit_door,
        locked_in,
        loose_latch,
        unit_outside_the_guarded_area,
        unit_at_the_entry,
        shock_without_contact,
    ),
)
