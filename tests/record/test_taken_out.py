"""What was taken out is in the inventory with its state, and nowhere else; what is out of use is told of as it is."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.progress import Task, progress
from alarmlib.record.blocks import Picture, Table
from alarmlib.record.context import Context
from alarmlib.record.sections import LONG

Put = Callable[[Home, dict[str, Any]], Home]
SECTIONS = {section.id: section for section in LONG}
SIGNAL = {"devices.hall_motion.wireless.signal": 9, "devices.hall_motion.wireless.signal_asked": 5}


def told(home: Home, section: str) -> str:
    """All that a section's tables and pictures say, as text."""
    blocks = SECTIONS[section].build(Context(home, Assessment(), Share.OWNER, "2026-11-27"))
    return " ".join(repr(block) for block in blocks if isinstance(block, Table | Picture))


@pytest.mark.parametrize(
    ("section", "device", "name"),
    [
        ("plan", "hall_motion", "Hall detector"),
        ("radio", "hall_motion", "Hall detector"),
        ("zones", "hall_motion", "Hall detector"),
        ("hazards", "smoke", "Landing smoke detector"),
    ],
)
def test_named_until_it_is_taken_out(home: Home, put: Put, section: str, device: str, name: str) -> None:
    """The plan, the signals, the zone chart and what warns of fire name what is there, out of use as well."""
    states = ("fitted", "out_of_use", "removed")
    found = [name in told(put(home, SIGNAL | {f"devices.{device}.state": state}), section) for state in states]
    assert found == [True, True, False]


def test_the_inventory_names_it_with_its_state(home: Home, put: Put) -> None:
    """Who looks for it finds that it was taken out."""
    assert "taken out" in told(put(home, {"devices.hall_motion.state": "removed"}), "devices")


def test_parts_by_kind_counts_what_is_there(home: Home, put: Put) -> None:
    """The parts that are there or planned, by kind."""
    counted = []
    for state in ("fitted", "out_of_use", "removed"):
        changed = put(home, {"devices.hall_motion.state": state})
        blocks = SECTIONS["choice"].build(Context(changed, Assessment(), Share.OWNER, "2026-11-27"))
        (parts,) = (block for block in blocks if isinstance(block, Table) and block.caption == "Parts by kind")
        counted.append([row[1] for row in parts.rows if row[0] == "motion detector"])
    assert counted == [["1"], ["1"], []]


def _page(home: Home, page: str) -> Task:
    return next(state for state in progress(home, Assessment()) if state.page == page)


@pytest.mark.parametrize(
    ("state", "devices", "bare", "left"), [("fitted", 6, 2, 5), ("out_of_use", 6, 3, 4), ("removed", 5, 3, 4)]
)
def test_progress_counts_as_the_checks_do(home: Home, put: Put, state: str, devices: int, bare: int, left: int) -> None:
    """One out of use is a device of the home, guards no way in, and is not walked to in the test."""
    counted = _page(put(home, {"devices.front_contact.state": state}), "02_detectors")
    assert counted.done == f"{devices} devices"
    assert counted.left.startswith(f"{bare} ways in without a detector of their own")
    untested = _page(put(home, {"devices.keypad.state": state}), "10_test_walk")
    assert untested.left.startswith(f"{left} devices to test")


def test_an_alarm_that_works_alone_needs_no_zone(home: Home, put: Put) -> None:
    """The check of zones never asked for one; the progress line counted each such alarm as a detector without."""
    alone = {"id": "alone", "name": "Alarm", "kind": "smoke", "link": "own", "room": "bedroom"}
    assert "without a zone" not in _page(put(home, {"devices.+": alone}), "03_zones").left
    wired = alone | {"id": "wired", "link": "wired"}
    assert _page(put(home, {"devices.+": wired}), "03_zones").left.startswith("1 detector without a zone")
