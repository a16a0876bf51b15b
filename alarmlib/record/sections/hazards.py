"""Fire, carbon monoxide, water and frost: what each room has, and when alarms grow too old."""

from collections.abc import Iterator

from alarmlib.model.site import Room
from alarmlib.model.words import DeviceKind, Share
from alarmlib.record.blocks import Block, Caution, Table, Text
from alarmlib.record.context import Context
from alarmlib.record.rows import part_table
from alarmlib.sources import cite

ID = "hazards"
TITLE = "Fire, carbon monoxide, water and frost"
NEEDS = ("site.rooms",)
LEVEL = Share.HELPER

SENSORS = frozenset({DeviceKind.SMOKE, DeviceKind.HEAT, DeviceKind.CARBON_MONOXIDE, DeviceKind.WATER, DeviceKind.COLD})
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


def build(context: Context) -> tuple[Block, ...]:
    """Rooms, sensors and ages; the listed alarms come first."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    home = context.home
    yield Caution(
        "Listed smoke and CO alarms are the required set; detectors on this system only add to them.",
        "household_fire_72",
    )
    yield part_table(context, "What each room has", home.site.rooms, _ROOM, keep=3)
    dated = [room for room in home.site.rooms if room.smoke_alarm_made]
    if dated:
        rows = tuple(_age(context, room) for room in dated)
        yield Table("Smoke alarms by age", ("Room", "Made in", "Replace in"), rows, frozenset({1, 2}))
        yield Text((f"Ten years from the year it was made. {cite('smoke_alarm_age')}",))
    sensors = [device for device in home.devices if device.kind in SENSORS]
    if sensors:
        yield part_table(
            context, "Sensors on this system", sensors, ("name", "kind", "room", "zone", "made_on"), keep=4
        )


def _age(context: Context, room: Room) -> tuple[str, str, str]:
    made = room.smoke_alarm_made or 0
    return context.name("room", room.id), str(made), str(made + SMOKE_ALARM_YEARS)
