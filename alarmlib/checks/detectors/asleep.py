"""Whether a device that showed nothing at a test may still have slept after the pass before."""

from collections.abc import Iterator
from itertools import takewhile

from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.log import Seen, Test
from alarmlib.model.questions import device_of
from alarmlib.model.words import DeviceKind

_MINUTE_S = 60  # a time of day without seconds may be so much later


def in_time(tests: tuple[Test, ...]) -> tuple[Test, ...]:
    """The tests from first to last: by day, then by time of day, one without a time after the one before it in the log.

    Our own reading of a log.
    """
    latest: dict[str, str] = {}
    keys = []
    for place, test in enumerate(tests):
        latest[test.on] = test.at or latest.get(test.on, "")
        keys.append((test.on, latest[test.on], place))
    return tuple(tests[place] for _, _, place in sorted(keys))


def may_have_slept(home: Home, test: Test) -> bool:
    """Whether a test that showed nothing came within the device's sleep time after a pass of the same day.

    A pass is a test of that device that tripped it, or any test of it where movement restarts its sleep; for a motion
    detector a test of any device in its room too. Where a time of day is missing it may have slept.
    Reference: the sleep time of the device's own manual.
    """
    device = device_of(home, test.device)
    if device is None or test.seen is not Seen.NOTHING or not device.sleep_s:
        return False
    return any(_least_between_s(before, test) < device.sleep_s for before in _passes(home, device, test))


def _passes(home: Home, device: Device, test: Test) -> Iterator[Test]:
    """The tests of the same day before this one by which the device was tripped, or kept asleep."""
    rooms = {each.id: each.room for each in home.whole_devices}
    for before in takewhile(lambda each: each.id != test.id, in_time(home.log.tests)):
        if before.on != test.on or not test.on or before.seen is Seen.NOT_TESTED:
            continue
        own = before.device == device.id and (before.seen is not Seen.NOTHING or device.movement_restarts_sleep)
        beside = (
            before.device != device.id
            and device.kind is DeviceKind.MOTION
            and bool(device.room)
            and rooms.get(before.device) == device.room
        )
        if own or beside:
            yield before


def _least_between_s(before: Test, after: Test) -> float:
    """The fewest seconds that may lie between two tests of one day; 0 where a time is missing."""
    if not before.at or not after.at:
        return 0.0
    slack_s = 0 if before.at.count(":") == 2 else _MINUTE_S
    return max(0.0, _seconds(after.at) - _seconds(before.at) - slack_s)


def _seconds(clock: str) -> int:
    """Seconds after midnight of a time as 14:05 or 14:05:30."""
    hours, minutes, seconds = (*map(int, clock.split(":")), 0)[:3]
    return 3600 * hours + 60 * minutes + seconds
