"""The walk test: every device, what to do, what the unit should show, and room to write."""

from collections.abc import Iterator

from alarmlib.calc.walking.walk_route import walk_figure
from alarmlib.draft.test_route import walk_order
from alarmlib.model.devices import Device
from alarmlib.model.words import DETECTORS, DeviceKind, Share
from alarmlib.record.blocks import Block, FigureBlock, Lines, Table, Text
from alarmlib.record.context import Context
from alarmlib.units import Kind, show

ID = "test_plan"
TITLE = "Walk test"
NEEDS = ("devices",)
LEVEL = Share.OWNER
PAPER = True

_DO = {
    DeviceKind.CONTACT: "Open it a hand's width, then close it",
    DeviceKind.MOTION: "Do not move, then walk four steps across its view, one a second",
    DeviceKind.GLASS_BREAK: "Use the tester that its manual names",
    DeviceKind.SHOCK: "Knock on the frame as its manual says",
    DeviceKind.SMOKE: "Press its test button; never a flame",
    DeviceKind.HEAT: "Test as its manual says; never use a flame",
    DeviceKind.CARBON_MONOXIDE: "Press its test button",
    DeviceKind.WATER: "Bridge its contacts with a damp cloth",
    DeviceKind.LOW_TEMPERATURE: "Cool it as its manual says",
    DeviceKind.HOLD_UP: "Press as in need, after telling whoever gets the message",
    DeviceKind.KEY_SWITCH: "Turn it: set, then unset",
    DeviceKind.KEYPAD: "Set and unset from it",
    DeviceKind.FOB: "Set and unset with it, inside and at the door",
    DeviceKind.INSIDE_SOUNDER: "Sound it with ears protected; listen in each bedroom with doors closed",
    DeviceKind.OUTSIDE_SIREN: "Sound it, ears protected; stop the time",
    DeviceKind.COMMUNICATOR: "Send a test message by each path",
    DeviceKind.POWER_SUPPLY: "Take mains away for the time its battery should last",
    DeviceKind.CONTROL_UNIT: "Look for faults; open its cover to test the tamper",
    DeviceKind.REPEATER: "Take it out of its socket: the unit should miss it",
    DeviceKind.CAMERA: "Look whether its picture shows what it should",
}  # fmt: skip


_INTRO = (
    "Put the unit in its test mode. One clean crossing shows little; three are better.",
    "Write what you see, not what you expect. Where a device sleeps after a trip, write the time of day too.",
)
_HEADER = ("No.", "Device", "Room", "Do this", "Should show", "Wait first", "Seen", "Date and time")


def build(context: Context) -> tuple[Block, ...]:
    """The walk in the shortest order found, with the waits that make it fair."""
    return tuple(_blocks(context))


def _blocks(context: Context) -> Iterator[Block]:
    order = walk_order(context.home)
    yield Text(_INTRO)
    if order.walk is None:
        yield Text(("No keypad in a room gives the walk a beginning, so it goes storey by storey, room by room.",))
    else:
        yield FigureBlock("The walk takes", walk_figure(order.walk))
    rows = [_row(context, number, device, wait_s) for number, (device, wait_s) in enumerate(order.rows, 1)]
    yield Table("Walk in this order", _HEADER, tuple(rows), frozenset({0}))
    if order.apart:
        rows = [_row(context, number, device, 0.0) for number, device in enumerate(order.apart, len(rows) + 1)]
        yield Table("Test these apart: no way on the plan leads to them", _HEADER, tuple(rows), frozenset({0}))
    yield Lines("Times by stopwatch", ("What", "Should be", "First", "Second", "Third"), 5)


def _row(context: Context, number: int, device: Device, wait_s: float) -> tuple[str, ...]:
    name, where = context.name("device", device.id), context.name("room", device.room)
    return str(number), name, where, do_this(device), should_show(context, device), wait_first(device, wait_s), "", ""


def do_this(device: Device) -> str:
    """What to do to test a device."""
    return _DO.get(device.kind, "")


def should_show(context: Context, device: Device) -> str:
    """The zone that the unit should show."""
    return context.name("zone", device.zone) if device.zone else "no zone" if device.kind in DETECTORS else ""


def wait_first(device: Device, wait_s: float) -> str:
    """How long to wait in this order, and what sleep makes it so; "" where there is nothing to wait for."""
    wait = show(round(wait_s), Kind.TIME, "metric") if wait_s >= 0.5 else ""
    rest = f"sleeps {show(device.sleep_s, Kind.TIME, 'metric')} after a trip" if device.sleep_s else ""
    return "; ".join(filter(None, (wait, rest)))
