"""The section on fire and gas: the household's own alarms and the control unit's detectors are in separate tables."""

from typing import Any

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Caution, Table, named
from alarmlib.record.context import Context
from alarmlib.record.sections.detectors.hazards import hazards

DEVICES: list[dict[str, Any]] = [
    {"id": "own", "name": "Hall alarm", "kind": "smoke", "room": "hall", "link": "own", "mount": "ceiling",
     "made_on": "2024-03-12", "hazard": {"sense": "photoelectric", "sounds_with_others": "no"}},
    {"id": "unit", "name": "Hall detector", "kind": "smoke", "room": "hall", "link": "wired", "mount": "inside_wall"},
]  # fmt: skip


def _tables(devices: list[dict[str, Any]]) -> dict[str, Table]:
    rooms = [{"id": "hall", "name": "Hall", "storey": "g", "use": "hall"}]
    site = {"storeys": [{"id": "g", "name": "Ground"}], "rooms": rooms}
    home = Home.model_validate({"site": site, "devices": devices})
    blocks = hazards.build(Context(home, Assessment(), Share.OWNER, "2026-11-27"))
    return {block.caption: block for block in blocks if isinstance(block, Table)}


def test_the_two_lists_are_separate() -> None:
    tables = _tables(DEVICES)
    own, unit = tables["The household's own alarms"], tables["Sensors on this system"]
    assert [row[0] for row in own.rows] == [named("Hall alarm")]
    assert [row[0] for row in unit.rows] == [named("Hall detector")]
    assert "ceiling" in own.rows[0]
    assert "inside wall" in unit.rows[0]
    made = tables["How the household's alarms are made"]
    assert made.rows == ((named("Hall alarm"), "photoelectric (optical)", "no"),)


def test_an_empty_list_has_no_table() -> None:
    assert "The household's own alarms" not in _tables(DEVICES[1:])
    assert "Sensors on this system" not in _tables(DEVICES[:1])


def test_cautions_come_before_the_tables() -> None:
    rooms = [{"id": "hall", "name": "Hall", "storey": "g", "use": "hall"}]
    home = Home.model_validate({"site": {"storeys": [{"id": "g", "name": "Ground"}], "rooms": rooms}})
    blocks = hazards.cautioned(Context(home, Assessment(), Share.OWNER, "2026-11-27"))
    first = next(n for n, block in enumerate(blocks) if isinstance(block, Table))
    said = [block.text for block in blocks[:first] if isinstance(block, Caution)]
    assert "come first" in said[0]
    assert any("battery is flat" in text for text in said)
