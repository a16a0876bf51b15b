"""What the test log proves: every fitted device tested, every failure retested, none overdue."""

from datetime import date, timedelta

from alarmlib.checks.check import CheckGroup, Said, check, dated_check, must, note, ok, should
from alarmlib.checks.detectors.asleep import in_time, may_have_slept
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said, zones
from alarmlib.model import Home
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.log import Seen, Test
from alarmlib.model.questions import by_id, device_of, fitted
from alarmlib.units import Kind, show

YEAR = timedelta(days=366)


def never_tested(home: Home) -> tuple[Device, ...]:
    """What is fitted and has no test in the log that was carried out."""
    return tuple(device for device in fitted(home) if last_test(home, device.id) is None)


@asked
def last_test(home: Home, device: str) -> Test | None:
    """The last test of a device that was carried out: by date, time of day, then by its place in the log.

    A test from before the day it was fitted was of another device, or of this one elsewhere, and does not count.
    """
    since = _fitted_on(home, device)
    done = [test for test in _carried_out(home).get(device, ()) if not test.on or test.on >= since]
    return done[-1] if done else None


@asked
def _carried_out(home: Home) -> dict[str, tuple[Test, ...]]:
    """The tests of each device that were carried out, first to last."""
    found: dict[str, tuple[Test, ...]] = {}
    for test in in_time(home.log.tests):
        if test.seen is not Seen.NOT_TESTED:
            found[test.device] = (*found.get(test.device, ()), test)
    return found


def _fitted_on(home: Home, device: str) -> str:
    """The day it was fitted, "" where none is entered."""
    found = device_of(home, device)
    return found.fitted_on if found else ""


@check
def not_tested(home: Home) -> Said:
    """Every device that is fitted has been tested; there is no sampling."""
    there, untested = fitted(home), never_tested(home)
    for device in untested:
        message = f"{said(device.name)} is fitted but was never tested."
        if _carried_out(home).get(device.id):
            message = f"{said(device.name)} was fitted on {device.fitted_on}, after its last test."
        yield should(device.id, message, "Test it as page 10 says, and write down what you see.",
                     "nfpa731_test")  # fmt: skip
    asleep = any((last := last_test(home, device.id)) and may_have_slept(home, last) for device in there)
    if there and not untested and not asleep:
        yield ok("devices", "Every fitted device has been tested.", "nfpa731_test", figure=f"{len(there)}")


@check
def failed(home: Home) -> Said:
    """No device failed its last test."""
    for device in fitted(home):
        test = last_test(home, device.id)
        if test is not None and may_have_slept(home, test):
            yield _not_yet_judged(device)
        elif test is not None and test.seen is not Seen.AS_EXPECTED:
            message = f"{said(device.name)} failed its last test: the control unit showed {test.seen.text}."
            yield must(device.id, message, "Find the cause, fix it, and test again.", "owner")


def _not_yet_judged(device: Device) -> Finding:
    rest = show(device.sleep_s, Kind.TIME, "metric")
    message = f"{said(device.name)} is not yet judged: it showed nothing, but it may have slept after the pass before."
    remedy = f"Keep out of its view for {rest}, walk again, and write down the time of day."
    return should(device.id, message, remedy, "owner", figure="nothing shown", limit=f"sleeps {rest}")


@check
def shown_in_another_zone(home: Home) -> Said:
    """The zone that the unit showed is the one the device is in."""
    known = zones(home)
    for device in fitted(home):
        test = last_test(home, device.id)
        if test and test.seen_zone in known and device.zone and test.seen_zone != device.zone:
            shown = said(known[test.seen_zone].label)
            message = f"{said(device.name)} showed as zone {shown} at its last test, not as the zone planned for it."
            yield must(device.id, message, "Correct the wiring or the plan, and test again.", "owner")


@dated_check
def overdue(home: Home, today: date) -> Said:
    """Every fitted device was tested within a year."""
    for device in fitted(home):
        test = last_test(home, device.id)
        if test is None or not test.on:
            continue
        age = today - date.fromisoformat(test.on)
        if age > YEAR:
            message = f"{said(device.name)} was last tested more than a year ago."
            numbers = {"figure": f"{age.days} days", "limit": "a year"}
            yield should(device.id, message, "Test it again.", "upkeep_ts50131_7", **numbers)


@check
def cause_not_found(home: Home) -> Said:
    """Each failure has its cause and what was done written down."""
    tests = by_id(home.log.tests)
    for test in tests.values():
        if test.seen in {Seen.AS_EXPECTED, Seen.NOT_TESTED} or may_have_slept(home, test):
            continue
        if not (test.cause and test.action):
            message = "Test log: a failed test has no cause or no repair written down."
            yield note(test.id, message, "Write down what it was. Whoever looks for the next fault needs it.", "owner")


GROUP = CheckGroup("test_walk", (not_tested, failed, shown_in_another_zone, overdue, cause_not_found))
