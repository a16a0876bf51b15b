"""Wireless facts, batteries, tamper, hold-up buttons, and what is out of use."""

from collections.abc import Iterator
from datetime import date, timedelta

from alarmlib.checks.check import CheckGroup, Said, check, dated_check, must, note, should
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said, zones
from alarmlib.model import Home, questions
from alarmlib.model.devices import Device, Wireless
from alarmlib.model.questions import detectors, of_zones, present
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, Function, Link
from alarmlib.rules import rules_of
from alarmlib.units import rounded

CHECK_IN_S = {1: 240 * 60.0, 2: 120 * 60.0, 3: 100.0, 4: 10.0}  # by grade; EN 50131-5-3, from memory
NIGHT_S = 8 * 3600.0  # our own line: a device lost at bedtime is shown by morning
SOON = timedelta(days=90)
SENSOR_YEARS = 10


def _wireless(home: Home) -> Iterator[tuple[Device, Wireless]]:
    for device in present(home):
        if device.link is Link.WIRELESS and device.wireless is not None:
            yield device, device.wireless


@check
def check_in(home: Home) -> Said:
    """Each wireless device reports often enough for the grade, and is not called missing before it could report."""
    most_s, rule = CHECK_IN_S[home.rules.grade], rules_of(home).fitting.check_in
    for device, facts in _wireless(home):
        every_s, missing_s = facts.check_in_s, facts.missing_after_s
        if every_s is not None and rule and every_s > most_s:
            message = f"{said(device.name)} checks in less often than grade {home.rules.grade} asks."
            numbers = {"figure": f"{every_s:g} s", "limit": f"{most_s:g} s", "margin": f"{most_s - every_s:g} s"}
            yield should(
                device.id, message, "Choose a shorter check-in interval if it offers one.", rule.source, **numbers
            )
        if every_s is not None and missing_s is not None and missing_s < every_s:
            message = f"{said(device.name)} is reported missing before its next check-in is due."
            numbers = {"figure": f"{missing_s:g} s", "limit": f"{every_s:g} s", "margin": f"{missing_s - every_s:g} s"}
            yield must(
                device.id,
                message,
                "Make the time for “Reported missing after” longer than the check-in interval.",
                "owner",
                **numbers,
            )


@check
def missing_too_late(home: Home) -> Said:
    """A device that falls silent is shown within a night."""
    for device, facts in _wireless(home):
        if facts.missing_after_s is not None and facts.missing_after_s > NIGHT_S:
            hours = facts.missing_after_s / 3600
            message = (
                f"{said(device.name)}: if it falls silent, the control unit shows that only after {rounded(hours)} h."
            )
            numbers = {"figure": f"{rounded(hours)} h", "limit": "8 h", "margin": f"{rounded(8 - hours)} h"}
            yield should(
                device.id,
                message,
                "Choose a shorter time for “Reported missing after”, if the control unit lets you.",
                "practice",
                **numbers,
            )


@check
def weak_signal(home: Home) -> Said:
    """Each wireless device is received at least as well as its manual ask."""
    for device, facts in _wireless(home):
        if facts.signal is None or facts.signal_asked is None:
            continue
        margin = facts.signal - facts.signal_asked
        numbers = {"figure": f"{facts.signal:g}", "limit": f"{facts.signal_asked:g}", "margin": f"{margin:g}"}
        if margin < 0:
            message = f"{said(device.name)} has a weaker signal than its manual asks for."
            yield must(device.id, message, "Move it, turn it, or add a repeater.", "owner", **numbers)
        elif margin == 0:
            message = f"{said(device.name)} has just the signal that its manual asks for, with nothing to spare."
            yield should(device.id, message, "Read it again on another day, with all doors closed.", "owner", **numbers)


@dated_check
def battery_due(home: Home, today: date) -> Said:
    """No battery is past the time it lasts."""
    for device, facts in _wireless(home):
        if facts.battery_fitted_on and facts.battery_lasts_years is not None:
            days = timedelta(days=365.25 * facts.battery_lasts_years)
            yield from _battery(device, date.fromisoformat(facts.battery_fitted_on) + days, today)


def _battery(device: Device, due: date, today: date) -> Iterator[Finding]:
    numbers = {"limit": due.isoformat(), "margin": f"{(due - today).days} days"}
    if today > due:
        yield must(device.id, f"The battery of {said(device.name)} is past its time.", "Change it.", "owner", **numbers)
    elif today > due - SOON:
        message = f"The battery of {said(device.name)} is due soon."
        yield should(device.id, message, "Have a new one ready.", "owner", **numbers)


@check
def low_battery_unreported(home: Home) -> Said:
    """Each wireless device says when its battery is low."""
    for device, facts in _wireless(home):
        if facts.reports_low_battery is Yes.NO:
            message = f"{said(device.name)} does not report a low battery."
            yield note(device.id, message, "Write down when its battery was fitted, and change it in time.", "owner")


@check
def tamper_cover(home: Home) -> Said:
    """Detectors report when their cover is opened (from grade 2 in Europe)."""
    able = [d for d in detectors(home) if d.kind is not DeviceKind.KEY_SWITCH]
    bare = [device for device in able if device.tamper is Yes.NO]
    rule = rules_of(home).fitting.tamper_from_grade_2
    if bare and rule and home.rules.grade >= 2:
        count = f"{len(able) - len(bare)} of {len(able)}"
        names = ", ".join(said(device.name) for device in bare[:5]) + (" and more" if len(bare) > 5 else "")
        message = f"These report nothing when their cover is opened: {names}."
        yield should("devices", message, "Choose devices with a tamper contact.", rule.source, figure=count)


@check
def hold_up_button_zone(home: Home) -> Said:
    """A hold-up button is in a hold-up zone that holds nothing else."""
    known, held = zones(home), of_zones(home)
    for device in present(home, DeviceKind.HOLD_UP):
        zone = known.get(device.zone)
        if zone is None:
            continue
        if zone.function not in {Function.HOLD_UP, Function.ALWAYS_MESSAGE, Function.ALWAYS_SIREN}:
            message = f"{said(device.name)} is in zone {said(zone.label)}, which does not listen at all times."
            yield must(device.id, message, "Give its zone the function “hold-up”.", "owner")
        if any(other.kind is not DeviceKind.HOLD_UP for other in held[zone.id]):
            message = f"{said(device.name)} shares zone {said(zone.label)} with something that is not a hold-up button."
            yield should(device.id, message, "Give hold-up buttons a zone of their own.")


@check
def out_of_use(home: Home) -> Said:
    """What is out of use is known each time the alarm is set."""
    for device in questions.out_of_use(home):
        message = f"{said(device.name)} is out of use until it is put back."
        yield should(device.id, message, "Fix it and put it back, or take it out for good.", "owner")
    for zone in home.control_unit.zones:
        if zone.out_of_use:
            message = f"Zone {said(zone.label)} is out of use until it is put back."
            yield should(zone.id, message, "Put it back when its cause is fixed.", "owner")


@dated_check
def sensor_too_old(home: Home, today: date) -> Said:
    """No smoke detector is older than ten years from the day it was made."""
    for device in present(home, DeviceKind.SMOKE):
        if device.made_on and today.year - date.fromisoformat(device.made_on).year > SENSOR_YEARS:
            message = f"{said(device.name)} was made on {device.made_on}, more than {SENSOR_YEARS} years ago."
            yield should(
                device.id,
                message,
                "Replace it: an old sensor may not notice smoke.",
                "smoke_alarm_age",
                limit=f"{SENSOR_YEARS} years",
            )


GROUP = CheckGroup(
    "devices",
    (
        check_in,
        missing_too_late,
        weak_signal,
        battery_due,
        low_battery_unreported,
        tamper_cover,
        hold_up_button_zone,
        out_of_use,
        sensor_too_old,
    ),
)
