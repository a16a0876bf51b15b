"""Whether each glass-break detector can hear the panes it is there for.

Whether an opening that its owner says it guards has glass, and enough of it, is for `checks.detectors.choice` to say.
"""

from collections.abc import Iterator
from math import hypot

from alarmlib.calc.coverage.device_places import in_sight
from alarmlib.calc.coverage.view_lines import inside
from alarmlib.checks.check import CheckGroup, Said, check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.questions import present
from alarmlib.model.site import Disturbance, Opening, Yes
from alarmlib.model.words import DeviceKind
from alarmlib.units import rounded

SURELY_M, MOST_M = 6.0, 8.0
PANE_LEAST_M = 0.3
_SOURCE = "glass_break_reach"
_MANUAL = "Check with its manual."


@check
def panes_heard(home: Home) -> Said:
    """Each pane is in the detector's room, in its sight, within its range, and large enough."""
    for device in present(home, DeviceKind.GLASS_BREAK):
        for opening in _panes(home, device):
            yield from _pane(home, device, opening)


@check
def nothing_to_hear(home: Home) -> Said:
    """A glass-break detector has glass to listen to."""
    for device in present(home, DeviceKind.GLASS_BREAK):
        if device.room in rooms(home) and not _panes(home, device):
            message = (
                f"{said(device.name)} guards nothing that you named, and {room_name(home, device.room)} has no glass."
            )
            yield should(device.id, message, "Enter which panes it listens to, or mount it elsewhere.", "owner")


@check
def behind_curtains(home: Home) -> Said:
    """No heavy curtain is between a glass-break detector and its panes."""
    for device in present(home, DeviceKind.GLASS_BREAK):
        room = rooms(home).get(device.room)
        if room and Disturbance.CURTAIN in room.disturbances:
            message = f"Curtains in {said(room.name)} may keep the sound of breaking glass from {said(device.name)}."
            yield should(device.id, message, f"Mount the detector on the window side of them. {_MANUAL}", _SOURCE)


def _panes(home: Home, device: Device) -> tuple[Opening, ...]:
    """The openings that its owner says it guards; where there are none, the glass of its room."""
    named = tuple(opening for opening in home.site.openings if opening.id in device.openings)
    return named or tuple(o for o in home.site.openings if o.room == device.room and o.glass is Yes.YES)


def _pane(home: Home, device: Device, opening: Opening) -> Iterator[Finding]:
    name, pane = said(device.name), said(opening.name)
    if device.room and opening.room != device.room:
        where = room_name(home, opening.room)
        message = f"{pane} is in {where}, and {name} is not: walls keep the sound of glass from it."
        yield should(device.id, message, f"Mount one in each room with glass. {_MANUAL}", _SOURCE)
        return
    if not device.openings and opening.width_m is not None and opening.width_m < PANE_LEAST_M:
        yield should(
            device.id,
            f"{pane} is a small pane, and {name} may not hear it break.",
            f"Guard it with a contact or a shock detector. {_MANUAL}",
            _SOURCE,
            figure=f"{opening.width_m:g} m",
            limit=f"{PANE_LEAST_M:g} m",
            margin=f"{rounded(opening.width_m - PANE_LEAST_M, 2)} m",
        )
    yield from _distance(home, device, opening)


def _distance(home: Home, device: Device, opening: Opening) -> Iterator[Finding]:
    """How far the pane is on the plan, and whether a corner of the room is between."""
    room = rooms(home).get(device.room)
    if device.at is None or opening.at is None or room is None or not room.outline:
        return
    name, pane = said(device.name), said(opening.name)
    apart_m = hypot(device.at[0] - opening.at[0], device.at[1] - opening.at[1])
    most_m = MOST_M if device.range_m is None else device.range_m
    numbers = {
        "figure": f"{rounded(apart_m)} m",
        "limit": f"{most_m:g} m",
        "margin": f"{rounded(most_m - apart_m, 2)} m",
    }
    if apart_m > most_m:
        message = f"{pane} is too far from {name}, which may not hear its glass break."
        if device.range_m is not None:
            yield must(
                device.id, message, "Mount the detector nearer, or guard the pane another way.", "owner", **numbers
            )
        else:
            yield should(device.id, message, f"Mount the detector nearer. {_MANUAL}", _SOURCE, **numbers)
    elif device.range_m is None and apart_m > SURELY_M:
        message = f"{pane} is so far from {name} that some glass-break detectors would not hear it break."
        yield note(device.id, message, f"Enter the detector's range. {_MANUAL}", _SOURCE, **numbers)
    if not in_sight(inside(device.at, room.outline), inside(opening.at, room.outline), room.outline):
        message = f"{name} does not see {pane}: a corner of the room is in the way and may keep the sound off."
        yield should(device.id, message, f"Mount it where it sees the glass. {_MANUAL}", _SOURCE)


GROUP = CheckGroup("glass", (panes_heard, nothing_to_hear, behind_curtains))
