"""Wireless devices: cells that end sooner than thought, and holes that a flat one leaves unannounced."""

from alarmlib.calc.electrical.radio import FlatBatteryHole, battery_life_figures, holes, spare, years_of
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import rooms, said
from alarmlib.model import Home
from alarmlib.model.questions import by_id, device_of, wireless
from alarmlib.model.site import Yes
from alarmlib.units import rounded

LONG_S = 4 * 3600.0  # our own line: half a night


@check
def unannounced_hole(home: Home) -> Said:
    """A flat battery that opens a hole is announced before or soon after."""
    for hole in holes(home):
        found = _hole(home, hole)
        if found:
            yield found


def _hole(home: Home, hole: FlatBatteryHole) -> Finding | None:
    openings, known = by_id(home.site.openings), rooms(home)
    bare = [openings[each].name for each in hole.openings if each in openings]
    what = ", ".join(map(said, (*bare, *(known[each].name for each in hole.rooms if each in known))))
    its_device = device_of(home, hole.device)
    device = said(its_device.name if its_device else "")
    if hole.warned is Yes.YES and hole.announced_s is not None and hole.announced_s <= LONG_S:
        return None
    if hole.announced_s is None and hole.warned is not Yes.YES:
        message = f"{device}: if its battery goes flat, {what} is unguarded, and nothing is known to announce that."
        return should(
            hole.device,
            message,
            "Find out after how long the control unit reports it missing. Change its battery by a fixed date.",
            "owner",
        )
    if hole.announced_s is not None and hole.announced_s > LONG_S:
        hours = hole.announced_s / 3600
        message = (
            f"{device}: if it falls silent, {what} is unguarded for up to {rounded(hours)} h before that is announced."
        )
        return note(
            hole.device,
            message,
            "Enter a shorter time for “Reported missing after”, if the control unit lets you.",
            "owner",
        )
    return None


@check
def cell_ends_sooner(home: Home) -> Said:
    """By its own currents a cell lasts as long as its manual says."""
    for device in wireless(home):
        lasts, facts = years_of(home, device), device.wireless
        if lasts is None or facts is None or lasts[1] != "computed" or facts.battery_lasts_years is None:
            continue
        if lasts[0] < 0.8 * facts.battery_lasts_years:
            numbers = {"figure": f"{rounded(lasts[0], 2)} years", "limit": f"{facts.battery_lasts_years:g} years"}
            message = (
                f"{said(device.name)}: its battery is computed to last less long than its manual says, from its "
                "currents, reports and trips."
            )
            yield should(device.id, message, "Change it after the shorter time.", "computed", **numbers)


@check
def signal_unread(home: Home) -> Said:
    """The signal of every wireless device was read in its place."""
    bare = [
        said(d.name) for d in wireless(home)
        if d.room and (d.wireless is None or spare(d.wireless) is None)
    ]  # fmt: skip
    if bare:
        message = (
            "Signal: you have not entered it, or the least that the manual asks for, for "
            f"{', '.join(bare[:8])}{' ...' if bare[8:] else ''}."
        )
        yield note(
            "devices",
            message,
            "Read it where each device is mounted, with all doors closed, on the control unit's own scale.",
            "owner",
        )


@check
def worked_out(home: Home) -> Said:
    """How long each cell lasts by its currents, to follow."""
    yield from battery_life_figures(home)


GROUP = CheckGroup("radio", (unannounced_hole, cell_ends_sooner, signal_unread, worked_out))
