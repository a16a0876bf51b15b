"""The best arrangement of zones for the functions chosen, beside the one entered; worth the time at full depth only."""

from collections.abc import Iterator

from alarmlib.calc.zoning.arrangement import ZonePlan, plan_zones
from alarmlib.calc.zoning.zone_types import ZoneDevice, unit_limits
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import rooms, said, zones
from alarmlib.model import Home
from alarmlib.model.questions import by_id, detectors
from alarmlib.model.words import Function


@check
def best_arrangement(home: Home) -> Said:
    """As few zones as keep the rooms distinct, with the proven bound, for the devices and functions entered."""
    devices = _devices(home)
    if not devices:
        return
    plan = plan_zones(devices, unit_limits(home))
    yield plan.figure()
    yield from _without_place(home, plan)
    used = len({device.zone for device in detectors(home) if device.zone})
    if plan.not_fitting or used == len(plan.zones):
        return
    message = (
        f"Zones: {used} of your {len(home.control_unit.zones_used)} zones have a detector. The best arrangement "
        f"found for these detectors has {len(plan.zones)} zones."
    )
    remedy = "More zones tell you better what tripped. Fewer zones are easier to read. Page 03 gives the reasons."
    limit = f"{len(plan.zones)} ({plan.quality})"
    yield note("unit", message, remedy, "computed", figure=str(used), limit=limit)


def _without_place(home: Home, plan: ZonePlan) -> Iterator[Finding]:
    devices = by_id(home.whole_devices)
    for item in plan.not_fitting:
        names = ", ".join(said(devices[name].name) for name in item.devices)
        remedy = "Leave out what matters least, or choose a control unit with more room."
        yield should(
            item.devices[0], f"{names}: the control unit has no place for it. {item.reason}", remedy, "computed"
        )


def _devices(home: Home) -> list[ZoneDevice]:
    """The detectors that are in a zone, with its function and the part sets that leave it out."""
    known, places = zones(home), rooms(home)
    floors = {storey.id: storey.name for storey in home.site.storeys}
    found = []
    for device in detectors(home):
        zone = known.get(device.zone)
        if zone is None or zone.function is Function.UNUSED:
            continue
        room = places.get(device.room)
        found.append(
            ZoneDevice(
                id=device.id,
                name=device.name,
                kind=device.kind,
                function=zone.function,
                room=device.room,
                room_name=room.name if room else "",
                floor=floors.get(room.storey, "") if room else "",
                area=" ".join(zone.areas),
                link=device.link,
                left_out=frozenset(s.id for s in home.control_unit.part_sets if zone.id in s.left_out),
                place=device.name,
            )
        )
    return found


GROUP = CheckGroup("zone_plan", (best_arrangement,))
