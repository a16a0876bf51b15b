"""Where motion detectors are mounted, what is in front of them, and whether ways in called out of reach are."""

from collections.abc import Iterator

from alarmlib.calc.coverage.areas import Eye, eye_of, motion_detectors
from alarmlib.calc.coverage.device_places import MOST_HEIGHT_M, in_view, to_wall_m, usual_heights_m
from alarmlib.calc.plan.accessible import Height, reachable
from alarmlib.calc.plan.floor_plan import plan_from_home, spots_of_openings
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.furnishing import FixtureKind
from alarmlib.model.hazards import Mount
from alarmlib.model.questions import at_work, by_id, guards
from alarmlib.model.site import Opening, OpeningKind, Reach, Room, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.units import rounded

NEAR_M = 1.5  # our own line: warm or moving air this near reaches a detector wherever it looks
TO_WALL_M = 1.0  # our own line: a detector whose middle beam ends nearer looks at its own wall
_FAR_M = 1000.0  # higher than anybody reaches
_WARM = {
    FixtureKind.HEATER: "warms the air",
    FixtureKind.FUEL_APPLIANCE: "warms the air",
    FixtureKind.AIR_OUTLET: "blows warm or cold air",
    FixtureKind.CEILING_FAN: "moves the air",
}
_NOT_WAYS_IN = frozenset({OpeningKind.GATE, OpeningKind.LETTERBOX})


def _eyes(home: Home) -> Iterator[tuple[Device, Eye, Room]]:
    """The motion detectors at work of which place and view are known, with their rooms."""
    known = rooms(home)
    for device in motion_detectors(home):
        room = known.get(device.room)
        eye = eye_of(device, room) if room else None
        if eye and room:
            yield device, eye, room


@check
def unusual_height(home: Home) -> Said:
    """Every motion detector on a wall is as high as such detectors are made for."""
    known = rooms(home)
    for device in motion_detectors(home):
        height_m, room = device.height_m, known.get(device.room)
        if height_m is None or device.mount is Mount.CEILING or device.angle_deg == 360:
            continue
        least_m, most_m = usual_heights_m(room.ceiling_m if room else None)
        if not least_m <= height_m <= most_m:
            low = height_m < least_m
            yield should(
                device.id,
                f"{said(device.name)} is mounted {'lower' if low else 'higher'} than most motion detectors "
                "are made for.",
                f"Mount it at {least_m:g} to {MOST_HEIGHT_M:g} m, unless its manual says otherwise.",
                "practice",
                figure=f"{height_m:g} m",
                limit=f"{least_m if low else most_m:g} m",
                margin=f"{rounded(height_m - least_m if low else most_m - height_m)} m",
            )


@check
def warm_air_in_view(home: Home) -> Said:
    """No motion detector looks at, or is mounted beside, what warms or moves the air."""
    for device, eye, room in _eyes(home):
        for fixture in home.site.fixtures:
            if fixture.room != room.id or fixture.at is None or fixture.kind not in _WARM:
                continue
            found = in_view(eye, room.outline, fixture.at, fixture.radius_m)
            if found.seen or found.distance_m < NEAR_M:
                where = "in its view" if found.seen else "beside it"
                yield should(
                    device.id,
                    f"{said(device.name)} may give false alarms: {said(fixture.name)} is "
                    f"{rounded(found.distance_m, 2)} m away, {where}, and {_WARM[fixture.kind]}.",
                    "Turn or move the detector. Check with its manual.",
                    "ts50131_7_surroundings",
                    figure=f"{rounded(found.distance_m, 2)} m",
                )


@check
def window_in_view(home: Home) -> Said:
    """Who relies on a motion detector that looks at glass knows it."""
    for device, eye, room in _eyes(home):
        seen = [
            said(opening.name)
            for opening in home.site.openings
            if opening.room == room.id
            and opening.glass is Yes.YES
            and opening.at is not None
            and in_view(eye, room.outline, opening.at).seen
        ]
        if seen:
            yield note(
                device.id,
                f"{said(device.name)} looks at {', '.join(seen)}: sun, headlights or a warm pane can trip it.",
                "Turn it so that it looks along or away from the glass, if the room allows. Check with its manual.",
                "ts50131_7_surroundings",
            )


@check
def faces_a_wall(home: Home) -> Said:
    """No motion detector is turned into its own wall or one just before it."""
    for device, eye, room in _eyes(home):
        ahead_m = round(to_wall_m(eye, room.outline), 2)
        if ahead_m < TO_WALL_M:
            yield should(
                device.id,
                f"{said(device.name)} faces a wall {ahead_m:g} m ahead.",
                "Turn it into the room, or correct its direction: degrees counter-clockwise from the right of the "
                "plan.",
                "computed",
                figure=f"{ahead_m:g} m",
                limit=f"{TO_WALL_M:g} m",
                margin=f"{rounded(ahead_m - TO_WALL_M, 2)} m",
            )


@check
def called_out_of_reach(home: Home) -> Said:
    """What is called out of reach is so by its height, the roofs below it and the openings beside it."""
    openings = by_id(home.site.openings)
    ways_in = [opening for opening in home.site.openings if opening.kind not in _NOT_WAYS_IN]
    spots = spots_of_openings(plan_from_home(home))
    for reach in reachable([_height(opening) for opening in ways_in], spots):
        opening = openings[reach.opening]
        if opening.reach is Reach.NOT:
            yield _within_reach(home, opening, reach.why, openings.get(reach.passed_on_from))


def _height(opening: Opening) -> Height:
    """What is drawn or measured; the owner's word decides where there is no height."""
    below, width = opening.ledge_below_m, opening.ledge_width_m
    ledges = () if below is None or width is None else ((below, width),)
    if opening.reach in {Reach.GROUND, Reach.FLAT_ROOF, Reach.CLIMB}:
        return Height(opening.id, 0.0)
    if opening.reach is Reach.NOT and opening.sill_m is None:
        return Height(opening.id, _FAR_M, ledges)
    return Height(opening.id, opening.sill_m, ledges)


def _within_reach(home: Home, opening: Opening, why: str, beside: Opening | None) -> Finding:
    if beside is not None:
        why = why.replace("an opening within reach", f"{said(beside.name)}, which is within reach")
    message = f"{said(opening.name)} is entered as out of reach, yet it is {why}: somebody may climb to it."
    covered = bool(opening.left_bare_because or guards(home, opening.id))
    covered = covered or any(device.room == opening.room for device in at_work(home, DeviceKind.MOTION))
    say = note if covered else should
    remedy = "Look at it from outside, and count it as within reach if in doubt."
    return say(opening.id, message, remedy, "ul1641_reach")


GROUP = CheckGroup("placement", (unusual_height, warm_air_in_view, window_in_view, faces_a_wall, called_out_of_reach))
