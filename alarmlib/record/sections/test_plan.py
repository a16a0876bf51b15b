"""The test walk: every device, what to do, what the unit should show, and room to write."""

from alarmlib.model.devices import NOT_THERE, Device
from alarmlib.model.words import DETECTORS, DeviceKind, Share
from alarmlib.record.blocks import Block, Caution, Lines, Table, Text
from alarmlib.record.context import Context
from alarmlib.units import Kind, show

ID = "test_plan"
TITLE = "Test walk"
NEEDS = ("devices",)
LEVEL = Share.OWNER
PAPER = True

_DO = {
    DeviceKind.CONTACT: "Open it a hand's width, then shut it",
    DeviceKind.MOTION: "Stand still, then walk four steps across its view, one a second",
    DeviceKind.GLASS_BREAK: "Use the tester its papers name",
    DeviceKind.SHOCK: "Knock on the frame as its papers say",
    DeviceKind.SMOKE: "Press its test button; never a flame",
    DeviceKind.HEAT: "Test as its papers say; never a flame",
    DeviceKind.CARBON_MONOXIDE: "Press its test button",
    DeviceKind.WATER: "Bridge its contacts with a damp cloth",
    DeviceKind.COLD: "Cool it as its papers say",
    DeviceKind.PANIC_BUTTON: "Press as in need, after telling whoever gets the message",
    DeviceKind.KEY_SWITCH: "Turn it: set, then unset",
    DeviceKind.KEYPAD: "Set and unset from it",
    DeviceKind.FOB: "Set and unset with it, inside and at the door",
    DeviceKind.INSIDE_SOUNDER: "Sound it, ears protected; listen in each bedroom, doors shut",
    DeviceKind.OUTSIDE_SOUNDER: "Sound it, ears protected; stop the time",
    DeviceKind.MESSAGE_SENDER: "Send a test message by each path",
    DeviceKind.POWER_SUPPLY: "Take mains away for the time its battery should last",
    DeviceKind.CONTROL_UNIT: "Look for troubles; open its cover for the tamper",
    DeviceKind.REPEATER: "Take it out of its socket: the unit should miss it",
    DeviceKind.CAMERA: "Look whether its picture shows what it should",
}  # fmt: skip


def build(context: Context) -> tuple[Block, ...]:
    """The walk storey by storey and room by room, with the waits that make it fair."""
    rows = tuple(_row(context, device) for device in in_walking_order(context))
    header = ("Device", "Room", "Do this", "Should show", "Wait first", "Seen", "Date")
    return (
        Caution("Tell the household, the neighbours and whoever gets messages before you start.", "caution_test_calls"),
        Text(
            (
                (
                    "Put the unit in its test mode. One clean crossing proves little; three are better. Write what you "
                    "see, not what you expect."
                ),
            )
        ),
        Table("Walk in this order", header, rows),
        Lines("Times by stopwatch", ("What", "Should be", "First", "Second", "Third"), 5),
    )


def in_walking_order(context: Context) -> tuple[Device, ...]:
    """Devices in service: storey by storey from below, room by room as entered, those without a room last."""
    site = context.home.site
    level = {storey.id: storey.level for storey in site.storeys}
    order = {room.id: (0, level.get(room.storey, 0), place) for place, room in enumerate(site.rooms)}
    walked = [d for d in context.home.devices if d.state not in NOT_THERE]
    return tuple(sorted(walked, key=lambda device: order.get(device.room, (1, 0, 0))))


def _row(context: Context, device: Device) -> tuple[str, ...]:
    expected = context.name("zone", device.zone) if device.zone else "no zone" if device.kind in DETECTORS else ""
    wait_s = max(device.quiet_time_s, device.warm_up_s)
    waits = show(wait_s, Kind.TIME, "metric") if wait_s else ""
    where = context.name("room", device.room)
    return (context.name("device", device.id), where, _DO.get(device.kind, ""), expected, waits, "", "")
