"""No id is printed in a record: everything is called by its name, also in what changed and in who points to what."""

import random
import re
from typing import Any

import pytest
from pydantic import BaseModel

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.naming import names_of
from alarmlib.model.words import Share
from alarmlib.record.blocks import Lines, Picture, Record, Table
from alarmlib.record.compare import differences
from alarmlib.record.plain import plain_blocks
from alarmlib.record.produce import FINISHED, demo_home, record_of
from alarmlib.record.record import build

_NO_REFERENCES = frozenset({"id", "cautions_read", "done"})  # an element's own id, and ticks


def told(record: Record) -> str:
    """All that a record says."""
    return "\n".join(f"{section.title}\n{plain_blocks(section.blocks)}" for section in record.sections)


def ids_in(value: Any) -> set[str]:
    """The ids of all parts, those that could be told from a plain word."""
    if isinstance(value, BaseModel):
        found = {value.id} if isinstance(getattr(value, "id", None), str) else set()
        return found.union(*(ids_in(getattr(value, name)) for name in type(value).model_fields))
    if isinstance(value, tuple):
        return set[str]().union(*map(ids_in, value))
    return set()


def printed(text: str, *homes: Home) -> set[str]:
    """The ids of the homes that are words of a text, and anything else written like an id."""
    ids = {each for home in homes for each in ids_in(home) if "_" in each}
    return {word for word in re.findall(r"\w+", text) if word in ids or re.fullmatch(r"[a-z0-9]+(_[a-z0-9]+)+", word)}


@pytest.mark.parametrize("copy", list(Share))
def test_a_record_of_the_demo_home_prints_no_id(copy: Share, demo: Home, demo_records: dict[Share, Record]) -> None:
    """Among others “Earlier test that it repeats” names the device and the day of the test it repeats."""
    assert not printed(told(demo_records[copy]), demo)


def test_the_finished_demo_home_prints_no_id_and_asks_for_nothing(finished_record: Record) -> None:
    """The record that the first command writes; what it says of open findings is that there are none."""
    text = told(finished_record)
    assert not printed(text, demo_home(FINISHED))
    assert "Nothing to fix was found in what you entered." in text


def test_a_retest_names_what_it_repeats(demo_records: dict[Share, Record]) -> None:
    """The cell says device and day, as a person would look for the line."""
    log = next(section for section in demo_records[Share.OWNER].sections if section.id == "test_log")
    repeats = "Earlier test that it repeats"
    tests = next(block for block in log.blocks if isinstance(block, Table) and repeats in block.header)
    cells = {row[tests.header.index(repeats)].strip("\u2068\u2069") for row in tests.rows} - {"", "–"}
    assert cells
    assert all(re.fullmatch(r".+, \d{4}-\d\d-\d\d", cell) for cell in cells), cells


def test_everything_has_a_name(demo: Home, home: Home) -> None:
    """Nothing that can be pointed to is called by its id or by nothing."""
    for each in (demo, home):
        for (kind, key), name in names_of(each).items():
            assert name, (kind, key)
            assert "_" not in name


@pytest.mark.parametrize("seed", range(6))
def test_what_changed_prints_no_id(seed: int, demo: Home) -> None:
    """Whatever is taken out, put in or pointed elsewhere, both sides are told by name."""
    before, after = (_thinned(demo, random.Random(f"{seed} {side}")) for side in "ab")
    lines = "\n".join(f"{c.where} | {c.before} | {c.after}" for c in differences(before, after))
    assert len(lines.splitlines()) > 20
    assert not printed(lines, before, after)


def _thinned(home: Home, draw: random.Random) -> Home:
    """The home with parts of its lists left out and some pointers turned elsewhere."""
    rooms = [room.id for room in home.site.rooms]
    devices = tuple(
        device.model_copy(update={"room": draw.choice(rooms), "zone": draw.choice(home.control_unit.zones).id})
        for device in home.whole_devices
    )
    kept = {name: tuple(each for each in getattr(home.household, name) if draw.random() < 0.8) for name in
            ("walks", "habits", "pets")}  # fmt: skip
    log = home.log.model_copy(update={"tests": home.log.tests[draw.randrange(20) :]})
    messages = home.messages.model_copy(update={"messages": home.messages.messages[draw.randrange(4) :]})
    household = home.household.model_copy(update=kept)
    changed = {"devices": devices, "household": household, "log": log, "messages": messages}
    return home.model_copy(update=changed | {"cautions_read": home.cautions_read[draw.randrange(5) :]})


def test_no_two_tables_have_one_name(demo_records: dict[Share, Record], facts: dict[str, Any]) -> None:
    """A table is found by its name: also where two storeys, or two groups of calculations, are called alike."""
    for storey in facts["site"]["storeys"]:
        storey["name"] = "Floor"
    for room in facts["site"]["rooms"]:
        room.setdefault("outline", [[0, 0], [4, 0], [4, 4], [0, 4]])
    alike = record_of(Home.model_validate(facts), Share.OWNER, "2026-11-25")
    for record in (*demo_records.values(), alike, build(Assessment(), Home(), Share.OWNER, "2026-11-25")):
        names = [
            block.table.caption if isinstance(block, Picture) else block.caption
            for section in record.sections
            for block in section.blocks
            if isinstance(block, Table | Picture | Lines)
        ]
        assert len(names) == len(set(names)), sorted(name for name in names if names.count(name) > 1)
