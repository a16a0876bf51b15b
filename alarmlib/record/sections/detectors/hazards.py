"""Fire, carbon monoxide, water and frost: what each room has, and when alarms grow too old."""

from collections.abc import Iterator

from alarmlib.model.devices import Device
from alarmlib.model.hazards import HazardFacts
from alarmlib.model.questions import present
from alarmlib.model.site import Room
from alarmlib.model.words import DeviceKind, Link, Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import part_table
from alarmlib.record.section import section
from alarmlib.sources import cite

SENSORS = frozenset(
    {DeviceKind.SMOKE, DeviceKind.HEAT, DeviceKind.CARBON_MONOXIDE, DeviceKind.WATER, DeviceKind.LOW_TEMPERATURE}
)
_TWO_LISTS = (
    "There are two lists: the household's own alarms that hear each other, and the detectors on the control unit. "
    "Each is judged by itself. The second never fills a gap in the first."
)
SMOKE_ALARM_YEARS = 10  # source "smoke_alarm_age"
_ROOM = (
    "name",
    "storey",
    "use",
    "smoke_alarm",
    "carbon_monoxide_alarm",
    "fuel_appliance",
    "water_sources",
    "may_freeze",
)


@section("hazards", "Fire, carbon monoxide, water and frost", level=Share.HELPER, needs=("site.rooms",))
def hazards(context: Context) -> Iterator[Block]:
    """Rooms, sensors and ages; the listed alarms come first."""
    home = context.home
    if context.sees(Share.OWNER):
        yield part_table(context, "What each room has", home.site.rooms, _ROOM, keep=3)
    dated = [room for room in home.site.rooms if room.smoke_alarm_made]
    if dated:
        rows = tuple(_age(context, room) for room in dated)
        yield Table("Smoke alarms by age", ("Room", "Made in", "Replace in"), rows, frozenset({1, 2}))
        yield Text((f"That is ten years from the year it was made. {cite('smoke_alarm_age')}",))
    own = [device for device in present(home, *SENSORS) if device.link is Link.OWN]
    if own:
        yield Text((_TWO_LISTS,))
        shown = ("name", "kind", "room", "mount", "made_on")
        yield part_table(context, "The household's own alarms", own, shown, keep=4)
        told = [(device, device.hazard) for device in own if device.hazard] if context.sees(Share.OWNER) else []
        rows = tuple(_linked(context, device, facts) for device, facts in told)
        header = ("Alarm", "How it senses smoke", "Sounds with the others")
        if rows:
            yield Table("How the household's alarms are made", header, rows)
    sensors = [device for device in present(home, *SENSORS) if device.link is not Link.OWN]
    if sensors:
        columns = ("name", "kind", "room", "zone", "mount", "made_on")
        yield part_table(context, "Sensors on this system", sensors, columns, keep=4)


def _linked(context: Context, device: Device, facts: HazardFacts) -> tuple[str, str, str]:
    sense = facts.sense.text if device.kind is DeviceKind.SMOKE else ""
    return context.name("device", device.id), sense, facts.sounds_with_others.text


def _age(context: Context, room: Room) -> tuple[str, str, str]:
    made = room.smoke_alarm_made or 0
    return context.name("room", room.id), str(made), str(made + SMOKE_ALARM_YEARS)
