"""The walk test: its order with what to do at each device; its log, and what has to be tested again."""

from collections.abc import Iterator, Sequence

from alarmlib.calc.walking.walk_route import walk_figure
from alarmlib.checks.detectors.asleep import may_have_slept
from alarmlib.checks.upkeep.test_walk import never_tested
from alarmlib.draft.test_route import walk_order
from alarmlib.model.devices import Device
from alarmlib.model.log import Seen, Test
from alarmlib.model.words import DETECTORS, DeviceKind, Share
from alarmlib.record.blocks import Block, Bullets, FigureBlock, Lines, Subheading, Table, Text, named
from alarmlib.record.context import Context
from alarmlib.record.rows import part_table
from alarmlib.record.section import section
from alarmlib.units import Kind, show

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
    DeviceKind.POWER_SUPPLY: "Take the mains away for the time that its battery should last",
    DeviceKind.CONTROL_UNIT: "Look for faults; open its cover to test the tamper",
    DeviceKind.REPEATER: "Take it out of its socket: the control unit should report it missing",
    DeviceKind.CAMERA: "Look whether its picture shows what it should",
}  # fmt: skip

_INTRO = (
    "Put the control unit in its test mode. One clean crossing shows little; three are better.",
    "Write what you see, not what you expect. Where a device sleeps after a trip, write the time of day too.",
)
_HEADER = ("No.", "Device", "Room", "Do this", "Should show", "Wait first", "Seen", "Date and time")


@section("test_plan", "Walk test", level=Share.OWNER, needs=("devices",), paper=True)
def test_plan(context: Context) -> Iterator[Block]:
    """The walk in the shortest order found, with the waits that make it fair."""
    order = walk_order(context.asked)
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


_COLUMNS = ("device", "on", "at", "by", "kind", "expected", "seen", "seen_zone", "cause", "action", "retest_of")


@section("test_log", "Test log", level=Share.OWNER, needs=("log.tests",))
def test_log(context: Context) -> Iterator[Block]:
    """What was tested, and what is still to be tested again."""
    log = context.home.log
    again = to_retest(log.tests)
    yield Subheading("To be tested again")
    yield (
        Bullets(tuple(_line(context, test, may_have_slept(context.home, test)) for test in again))
        if again
        else Text(("Nothing is open.",))
    )
    yield part_table(context, "Tests", log.tests, _COLUMNS, keep=2)
    untested = never_tested(context.home)
    if untested:
        yield Subheading("Fitted and never tested")
        yield Bullets(tuple(context.name("device", device.id) for device in untested))
    if log.upkeep:
        yield part_table(context, "Upkeep so far", log.upkeep, ("on", "done", "device"), keep=2)


def to_retest(tests: Sequence[Test]) -> tuple[Test, ...]:
    """Tests that did not go as expected and that no later test of them put right."""
    repaired = {test.retest_of for test in tests if test.retest_of and test.seen is Seen.AS_EXPECTED}
    wrong = (Seen.OTHER_ZONE, Seen.NOTHING, Seen.LATE, Seen.OTHER)
    return tuple(test for test in tests if test.seen in wrong and not _repaired(test, tests, repaired))


def _repaired(test: Test, tests: Sequence[Test], repaired: set[str]) -> bool:
    """Whether the test, or any retest that followed on it, was put right."""
    line, reached = [test.id], {test.id}
    while line:
        here = line.pop()
        if here in repaired:
            return True
        line += [later.id for later in tests if later.retest_of == here and later.id not in reached]
        reached.update(line)
    return False


def _line(context: Context, test: Test, asleep: bool) -> str:
    if asleep:
        return f"{context.name('device', test.device)}: not yet judged, since it may have slept after the pass before"
    cause = f"; cause found: {named(test.cause)}" if test.cause else ""
    return f"{context.name('device', test.device) or 'Test'}: showed {test.seen.text}{cause}"
