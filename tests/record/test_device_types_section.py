"""The record says what a manual says once for each type, and of a device only what differs."""

from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Table
from alarmlib.record.context import Context
from alarmlib.record.sections.detectors.devices import devices
from alarmlib.store import copy_for

TYPES = [
    {"id": "corner", "name": "Corner detectors", "kind": "motion", "link": "wireless", "range_m": 12, "tamper": "yes",
     "wireless": {"battery": "lithium", "check_in_s": 1200}},
    {"id": "spare", "name": "Never used", "kind": "contact"},
]  # fmt: skip
DEVICES: list[dict[str, Any]] = [
    {"id": "hall", "name": "Hall detector", "type": "corner", "wireless": {"slot": 1}},
    {"id": "study", "name": "Study detector", "type": "corner", "range_m": 8, "link": "wired",
     "wireless": {"slot": 2, "check_in_s": 600}},
    {"id": "door", "name": "Door contact", "kind": "contact", "tamper": "no", "contact_gap_mm": 20},
]  # fmt: skip


def tables(copy: Share) -> dict[str, Table]:
    home = Home.model_validate({"device_types": TYPES, "devices": DEVICES})
    context = Context(copy_for(home, copy), assess(home, "quick"), copy, "2026-11-25", whole=home)
    blocks = devices.build(context)
    return {block.caption: block for block in blocks if isinstance(block, Table)}


def plain(rows: tuple[tuple[str, ...], ...]) -> list[tuple[str, ...]]:
    return [tuple(cell.replace("\u2068", "").replace("\u2069", "") for cell in row) for row in rows]


def test_a_type_is_told_once_with_the_number_of_its_devices() -> None:
    found = tables(Share.OWNER)
    rows = plain(found["Types of devices"].rows)
    assert rows == [("Corner detectors", "2", "motion detector", "wireless")]
    (sees,) = plain(found["What detectors of a type see, and when they sleep"].rows)
    assert sees[:2] == ("Corner detectors", "12 m")
    (radio,) = plain(found["Wireless types"].rows)
    assert radio[:3] == ("Corner detectors", "lithium battery", "20 min")


def test_a_device_says_its_type_and_what_differs_from_it() -> None:
    found = tables(Share.OWNER)
    where = found["Where each device is"]
    at = where.header.index("Type")
    assert [row[at] for row in plain(where.rows)] == ["Corner detectors", "Corner detectors", ""]
    assert plain(found["Devices that differ from their type, or are of none"].rows) == [
        ("Study detector", "Connection: wired; Detection range: 8 m; Check-in interval: 10 min"),
        ("Door contact", "Widest gap that it works across, mm: 20; Does it report an opened cover?: no"),
    ]


@pytest.mark.parametrize("copy", [Share.HELPER, Share.CLASS])
def test_a_copy_tells_of_no_named_detector_how_far_it_sees(copy: Share) -> None:
    """A helper reads names and no ranges; a class reads ranges and no names."""
    shown = " ".join(" ".join(row) for table in tables(copy).values() for row in table.rows)
    assert ("Hall detector" in shown) is (copy is Share.HELPER)
    assert ("12 m" in shown) is ("8 m" in shown) is (copy is Share.CLASS)
    assert "20 min" in shown
