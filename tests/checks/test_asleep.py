"""A device that sleeps after a trip is judged by the time of day of its tests."""

from collections.abc import Callable
from typing import Any

import pytest
from pydantic import ValidationError

from alarmlib.checks.detectors.asleep import in_time, may_have_slept
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.upkeep import test_walk
from alarmlib.model import Home
from alarmlib.model.log import Test as Entry
from alarmlib.record.sections.upkeep.walk_test import to_retest

DAY = "2026-10-10"
Put = Callable[[Home, dict[str, Any]], Home]


def entry(name: str, at: str, seen: str, device: str = "hall_motion", on: str = DAY) -> dict[str, Any]:
    return {"id": name, "on": on, "at": at, "device": device, "seen": seen}


def logged(house: Home, put: Put, *entries: dict[str, Any], sleeps_s: int = 180, restarts: bool = False) -> Home:
    """The hall's motion detector sleeps 180 s after a trip; the log has these entries."""
    facts = {"sleep_s": sleeps_s, "movement_restarts_sleep": restarts, "state": "fitted"}
    home = put(house, {f"devices.hall_motion.{name}": value for name, value in facts.items()})
    return home.model_copy(
        update={"log": home.log.model_copy(update={"tests": tuple(map(Entry.model_validate, entries))})}
    )


def said(home: Home) -> list[Finding]:
    return [each for each in test_walk.failed.result(home) if isinstance(each, Finding)]


@pytest.mark.parametrize(
    ("passed", "again", "judged"),
    [
        ("14:05:00", "14:05:40", False),  # seen before: nothing shown 40 s after a pass was called failed
        ("14:05:00", "14:07:59", False),
        ("14:05:00", "14:08:00", True),
        ("14:05", "14:08", False),  # without seconds the pass may have been at 14:05:59
        ("14:05", "14:09", True),
        ("14:05:00", "14:08", True),
        ("", "14:09", False),
        ("14:05", "", False),
    ],
)
def test_nothing_shown_is_judged_after_the_sleep_alone(
    house: Home, put: Put, passed: str, again: str, judged: bool
) -> None:
    home = logged(house, put, entry("a", passed, "as_expected"), entry("b", again, "nothing"))
    (found,) = said(home)
    assert may_have_slept(home, home.log.tests[1]) is not judged
    if judged:
        assert (found.verdict, "failed" in found.message) == (Verdict.MUST, True)
    else:
        assert (found.verdict, found.remedy) == (
            Verdict.SHOULD, "Keep out of its view for 3 min, walk again, and write down the time of day.",
        )  # fmt: skip
        assert "not yet judged" in found.message
        assert [test.id for test in to_retest(home.log.tests)] == ["b"]


def test_without_a_pass_before_or_without_sleep_nothing_is_a_failure(house: Home, put: Put) -> None:
    alone = logged(house, put, entry("b", "14:05:40", "nothing"))
    other_day = logged(
        house, put, entry("a", "14:05", "as_expected", on="2026-10-09"), entry("b", "14:05:40", "nothing")
    )
    awake = logged(house, put, entry("a", "14:05:00", "as_expected"), entry("b", "14:05:40", "nothing"), sleeps_s=0)
    for home in (alone, other_day, awake):
        assert [finding.verdict for finding in said(home)] == [Verdict.MUST]


@pytest.mark.parametrize(("restarts", "judged"), [(True, False), (False, True)])
def test_a_pass_without_a_trip_counts_where_movement_restarts_the_sleep(
    house: Home, put: Put, restarts: bool, judged: bool
) -> None:
    """Tripped at 14:00, walked past at 14:02 and at 14:04: asleep at 14:04 only if the second pass restarted it."""
    entries = (
        entry("a", "14:00:00", "as_expected"),
        entry("b", "14:02:00", "nothing"),
        entry("c", "14:04:00", "nothing"),
    )
    home = logged(house, put, *entries, restarts=restarts)
    assert may_have_slept(home, home.log.tests[2]) is not judged


def test_whoever_tests_another_device_in_the_room_trips_its_motion_detector(house: Home, put: Put) -> None:
    door = entry("a", "14:04:00", "as_expected", "front_door_contact")
    home = logged(house, put, door, entry("b", "14:05:00", "nothing"))
    assert [finding.verdict for finding in said(home)] == [Verdict.SHOULD]
    upstairs = logged(house, put, door | {"device": "smoke"}, entry("b", "14:05:00", "nothing"))
    assert [finding.verdict for finding in said(upstairs)] == [Verdict.MUST]


def test_the_last_word_is_the_latest_by_the_clock(house: Home, put: Put) -> None:
    """Entries typed in another order than they were walked in; one without a time follows the one before it."""
    home = logged(house, put, entry("b", "15:00", "as_expected"), entry("a", "14:00", "nothing"))
    assert [test.id for test in in_time(home.log.tests)] == ["a", "b"]
    assert said(home) == []
    mixed = tuple(
        map(Entry.model_validate, [entry("a", "14:00", "nothing"), entry("b", "", "late"), entry("c", "13:00", "late")])
    )
    assert [test.id for test in in_time(mixed)] == ["c", "a", "b"]


@pytest.mark.parametrize("text", ["24:00", "9:05", "14.05", "14:60", "noon", "14:05:60"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    with pytest.raises(ValidationError):
        Entry.model_validate(entry("a", text, "nothing"))
