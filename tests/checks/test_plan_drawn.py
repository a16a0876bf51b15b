"""A plan that cannot be right draws a finding in the owner's names; one that can draws none."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.calc.plan.plan_problems import home_plan_problems
from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.home.plan_drawn import cannot_be_right
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

Put = Callable[[Home, dict[str, Any]], Home]
HALL, LIVING = [[0, 0], [3, 0], [3, 4], [0, 4]], [[3, 0], [8, 0], [8, 4], [3, 4]]
STAIRS = {"site.passages.hall_landing.kind": "stairs"}
DRAWN = STAIRS | {"site.rooms.hall.outline": HALL, "site.rooms.living.outline": LIVING}


def test_the_demo_home_is_drawn_well() -> None:
    """Twenty rooms on three storeys and a workshop, and nothing to say."""
    assert cannot_be_right.result(demo_home()) == ()


@pytest.mark.parametrize(
    ("edits", "subject", "message"),
    [
        ({"site.rooms.living.outline": [[2, 0], [8, 0], [8, 4], [2, 4]]}, "living",
         "The rooms “hall” and “living” overlap by 4 m²."),
        ({"site.openings.living_window.at": [3, 2]}, "living_window",
         "The way in “living_window” leads into “hall”, not outside: enter it as an inside doorway."),
        ({"site.openings.living_window.at": [8, 4], "site.openings.living_window.width_m": 1.2}, "living_window",
         "The way in “living_window” lies over a corner of “living”, on two walls: give it a place on one of them."),
        ({"devices.keypad.at": [3.4, 1]}, "keypad",
         "The device “keypad” lies in “living”, but is entered as being in the room “hall”."),
        ({"devices.keypad.at": [1, -2]}, "keypad",
         "The device “keypad” lies outside every drawn room; its room is “hall”."),
    ],
)  # fmt: skip
def test_each_kind_of_problem_is_a_finding(
    house: Home, put: Put, edits: dict[str, Any], subject: str, message: str
) -> None:
    """Sound as drawn, then one fact is moved."""
    sound = put(house, DRAWN)
    assert cannot_be_right.result(sound) == ()
    (finding,) = cannot_be_right.result(put(sound, edits))
    assert isinstance(finding, Finding)
    assert (finding.subject, finding.verdict, finding.message) == (subject, Verdict.SHOULD, message)


def test_the_finding_is_part_of_every_quick_assessment(house: Home, put: Put) -> None:
    """As many findings as the plan has problems, none when it has none."""
    bad = put(house, DRAWN | {"devices.keypad.at": [3.4, 1], "devices.unit.at": [-2, 1]})
    found = [f for f in assess(bad).findings if f.id == "plan_drawn.cannot_be_right"]
    assert len(found) == len(home_plan_problems(bad)) == 2
    assert not [f for f in assess(put(house, DRAWN)).findings if f.id == "plan_drawn.cannot_be_right"]
