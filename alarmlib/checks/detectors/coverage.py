"""What the motion detectors see, as computed from walls, doors and furniture, and what they leave out."""

from alarmlib.calc.coverage.areas import SLIVER_M, coverages, joined_area, lacking, motion_detectors
from alarmlib.calc.coverage.watched import RoomSeen, best_seen, rooms_seen, seen_on_the_way
from alarmlib.calc.figure import Figure
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.questions import at_work, by_id, guards
from alarmlib.model.site import Reach
from alarmlib.model.words import DeviceKind
from alarmlib.units import rounded

LEAST_SHARE = 0.5  # our own line between a watched room and a room with a watched corner
LARGE_M2 = 1.0  # our own line: a blind spot in which somebody can walk about
LEAST_M2 = 0.1  # our own line: less floor than two feet cover is nothing
_SOURCE = "coverage_assumed"


@check
def facts_lacking(home: Home) -> Said:
    """What each motion detector sees can be computed."""
    devices = by_id(motion_detectors(home))
    for device, labels in lacking(home).items():
        message = (
            f"{said(devices[device].name)}: what it sees cannot be computed. You have not entered: {', '.join(labels)}."
        )
        yield note(device, message, "Look in its manual and at the plan.", "owner")


@check
def sees_nothing(home: Home) -> Said:
    """Every motion detector surely sees something of its own room."""
    devices = by_id(motion_detectors(home))
    for seen in coverages(home):
        own_room = joined_area([rooms(home)[seen.room].outline])
        if joined_area(seen.straight).intersection(own_room).area < LEAST_M2:
            message = (
                f"{said(devices[seen.device].name)} is computed to see nothing of its own room, from where it is "
                "mounted and the way it faces."
            )
            yield should(seen.device, message, "Turn it, move it, or look at what is in front of it.", _SOURCE)


@check
def room_seen_in_part(home: Home) -> Said:
    """A guarded room that relies on motion detectors is seen for the most part."""
    watched = {device.room for device in at_work(home, DeviceKind.MOTION)}
    for seen in rooms_seen(home):
        if seen.room in watched:
            yield _share(seen)
        if rooms(home)[seen.room].guarded and seen.room in watched and seen.share < LEAST_SHARE:
            name = room_name(home, seen.room)
            message = f"{name}: only {seen.share:.0%} of it is computed to be seen whichever way somebody walks."
            if seen.strips_share >= 0.005:
                message += (
                    f" Here unseen strips under {SLIVER_M:g} m count as seen; without them it is "
                    f"{seen.share - seen.strips_share:.0%}."
                )
            numbers = {"figure": f"{seen.share:.0%}", "limit": f"{LEAST_SHARE:.0%}"}
            numbers["margin"] = f"{100 * (seen.share - LEAST_SHARE):.0f} %"
            yield should(seen.room, message, "Move or turn the detector, or add one.", _SOURCE, **numbers)


@check
def blind_spots(home: Home) -> Said:
    """Where somebody can walk about unseen in a guarded room that a motion detector watches."""
    watched = {device.room for device in at_work(home, DeviceKind.MOTION)}
    for seen in rooms_seen(home):
        if rooms(home)[seen.room].guarded and seen.room in watched:
            for spot in seen.blind:
                if spot.area_m2 >= LARGE_M2:
                    x, y = spot.middle
                    room, size = room_name(home, seen.room), rounded(spot.area_m2)
                    message = f"{room} has a blind spot of {size} m² around {x:g}, {y:g} m on the plan."
                    yield note(seen.room, message, "Keep this place in mind, or move the detector.", _SOURCE)


@check
def way_in_by_motion_alone(home: Home) -> Said:
    """Whoever comes in by a way without a detector of its own is surely seen on the way to each guarded room."""
    bare = [o for o in home.site.openings if o.reach is not Reach.NOT and o.at is not None and not guards(home, o.id)]
    goals = [room.id for room in home.site.rooms if room.guarded and room.outline]
    best = best_seen(seen_on_the_way(home, goals, [opening.id for opening in bare]))
    for opening in bare:
        unseen = [room for room in goals if best.get((opening.id, room)) and best[opening.id, room].verdict != "surely"]
        if unseen:
            yield _unseen(home, opening.id, opening.name, unseen)


def _unseen(home: Home, opening: str, name: str, unseen: list[str]) -> Finding:
    names = ", ".join(room_name(home, room) for room in unseen[:3])
    more = f" and {len(unseen) - 3} more" if len(unseen) > 3 else ""
    message = (
        f"{said(name)}: whoever comes in there and walks to {names}{more} is not computed to be seen by a "
        "motion detector."
    )
    return should(opening, message, "Fit a detector on this way in, or in a room on the way.", _SOURCE)


def _share(seen: RoomSeen) -> Figure:
    without = f"{100 * (seen.share - seen.strips_share):.1f} %, {100 * seen.strips_share:.1f} points less"
    return Figure(
        key=f"room_share.{seen.room}",
        value=round(100 * seen.share, 1),
        unit="%",
        formula="floor computed to be seen by four steps any way / floor of the room, furniture left out",
        inputs=(
            ("computed to be seen", f"{rounded(seen.straight_m2)} m²"),
            ("floor", f"{rounded(seen.area_m2)} m²"),
            (f"of it unseen strips under {SLIVER_M:g} m, counted as seen", f"{rounded(seen.strips_m2, 2)} m²"),
            ("without these strips", without),
        ),
        sources=(_SOURCE, "ul1641_steps"),
        valid_range="as drawn, inside doors closed, furniture as entered",
    )


GROUP = CheckGroup("coverage", (facts_lacking, sees_nothing, room_seen_in_part, blind_spots, way_in_by_motion_alone))
