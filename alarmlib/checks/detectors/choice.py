"""Whether the detectors there suit their places, what they leave uncovered, and which of them add nothing."""

from alarmlib.calc.choosing.device_candidates import LEAST_SHARE
from alarmlib.calc.choosing.device_choice import DeviceChoice, choose
from alarmlib.calc.choosing.fits import Fit, opening_fits, room_fits
from alarmlib.calc.choosing.links import Suits
from alarmlib.calc.figure import Figure
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import room_name, rooms, said
from alarmlib.model import Home
from alarmlib.model.questions import by_id, guards, present
from alarmlib.model.words import DeviceKind


@check
def kind_does_not_fit(home: Home) -> Said:
    """Each detector is of a kind that fits where it is."""
    openings = by_id(home.site.openings)
    for device in present(home):
        for opening in device.openings:
            fits = {fit.kind: fit for fit in opening_fits(home, openings[opening])}
            yield from _not(device.id, device.name, openings[opening].name, fits.get(device.kind))
    for device in present(home, DeviceKind.MOTION):
        if device.room in rooms(home):
            yield from _not(
                device.id, device.name, rooms(home)[device.room].name, room_fits(home, rooms(home)[device.room])
            )


def _not(device: str, name: str, place: str, fit: Fit | None) -> Said:
    if fit is not None and fit.verdict is Suits.NOT:
        reasons = " ".join(fit.reasons)
        yield should(
            device, f"{said(name)} does not suit {said(place)}. {reasons}", "Choose another kind of detector there."
        )


@check
def left_uncovered(home: Home) -> Said:
    """The detectors there cover every way in, its glass and every guarded room, as far as some detector could."""
    found = choose(home)
    for target in sorted(found.uncovered_now - found.missing.left):
        what, _, name = target.partition(":")
        if what == "room":
            yield _unwatched(home, found, name)
        elif what == "opening":
            yield from _way_in(home, found, name)
        elif what == "glass" and f"room:{by_id(home.site.openings)[name].room}" in found.missing.left:
            message = f"{said(by_id(home.site.openings)[name].name)}: nothing there notices that its glass is broken."
            yield note(name, message, "Add a shock or glass-break detector if you want that noticed.", "practice")
    yield Figure(
        key="fewest_detectors",
        value=float(len(found.fewest.chosen)),
        unit="",
        formula="least number of detectors that cover every way in, its glass, and every guarded room, exact",
        inputs=(("to be covered", str(len(found.wanted))), ("candidates", str(len(found.candidates)))),
        sources=("computed", "coverage_assumed"),
        valid_range=f"bound proven: {found.fewest.bound}; {len(found.fewest.left)} can be covered by none of them",
    )


def _unwatched(home: Home, found: DeviceChoice, room: str) -> Finding:
    more = [found.candidate(each) for each in found.missing.chosen]
    count = sum(f"room:{room}" in found.takes_part(each.id) and each.room == room for each in more)
    bare = {target.partition(":")[2] for target in found.uncovered_now if target.startswith("glass:")}
    panes = [said(opening.name) for opening in home.site.openings if opening.room == room and opening.id in bare]
    glass = f", and nothing notices somebody who comes in through the glass of {', '.join(panes)}" if panes else ""
    seen = "is computed to be seen by motion detectors"
    message = f"{room_name(home, room)}: less than {LEAST_SHARE:.0%} of it {seen}{glass}."
    one = "Add one detector there" if count == 1 else f"Add {count} detectors there"
    return note(room, message, f"{one} if you want the room watched inside as well.", "coverage_assumed")


def _way_in(home: Home, found: DeviceChoice, name: str) -> Said:
    """A way in of which nothing tells that somebody comes in: no detector of its own, and its room not watched."""
    opening = by_id(home.site.openings)[name]
    if not guards(home, name) and f"room:{opening.room}" in found.uncovered_now:
        yield should(
            name,
            f"{said(opening.name)}: somebody may come in unnoticed. It has no detector of its own, and less than "
            "half of its room is computed to be seen.",
            "Fit a contact, watch its room, or write down why it needs none.",
            "coverage_assumed",
        )


@check
def adds_nothing(home: Home) -> Said:
    """Each detector covers something that no other covers."""
    devices = by_id(home.whole_devices)
    found = choose(home)
    for name, covered in found.alone.items():
        part = found.takes_part(name)
        if part and not covered and not part & found.uncovered_now:
            device = devices[found.candidate(name).device]
            message = (
                f"{said(device.name)} adds nothing that is counted here: other detectors cover all that it covers."
            )
            yield note(device.id, message, "Keep it if you want two detectors to watch the same place.", "computed")


GROUP = CheckGroup("choice", (kind_does_not_fit, left_uncovered, adds_nothing))
