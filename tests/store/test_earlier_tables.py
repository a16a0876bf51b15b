"""Tables that version 0.4 wrote as CSV (of its demo home, by its own code) are read: old headers, old values."""

import gzip
from pathlib import Path

import pytest

from alarmlib.model import Home
from alarmlib.model.words import DeviceKind, Function
from alarmlib.store.document import parsed
from alarmlib.store.tables import CsvTable, preview

EARLIER = Path(__file__).parent / "earlier"
OLD = (CsvTable.OPENINGS, CsvTable.DEVICES, CsvTable.ZONES, CsvTable.TESTS)


@pytest.fixture(scope="module")
def upgraded_home() -> Home:
    """The demo home of 0.4, brought up."""
    return parsed(gzip.decompress((EARLIER / "home_of_0_4.json.gz").read_bytes()), "home.json")


def old_table(table: CsvTable) -> bytes:
    return (EARLIER / f"{table.value}_of_0_4.csv").read_bytes()


@pytest.mark.parametrize("table", OLD)
def test_an_old_table_is_read__and_says_what_the_home_holds(upgraded_home: Home, table: CsvTable) -> None:
    """Each header is known, each cell is read, and none differs from the home brought up from the same file."""
    found = preview(old_table(table), table, upgraded_home)
    assert (found.problems, found.added, found.changed) == ((), (), ())
    assert len(found.unchanged) > 10


def test_an_old_table_fills_a_home_that_lacks_its_rows(upgraded_home: Home) -> None:
    """Taken out of the home, the tests come back from the old table, each as it was."""
    bare = upgraded_home.model_copy(update={"log": upgraded_home.log.model_copy(update={"tests": ()})})
    found = preview(old_table(CsvTable.TESTS), CsvTable.TESTS, bare)
    assert found.problems == ()
    assert found.added == tuple(test.id for test in upgraded_home.log.tests)


@pytest.mark.parametrize(
    ("said", "function"),
    [
        ("final door (starts the entry delay)", Function.ENTRY_EXIT),
        ("Final door", Function.ENTRY_EXIT),
        ("interior_delayed", Function.ENTRY_EXIT),
        ("interior", Function.AT_ONCE),
        ("day", Function.WARN_UNSET),
        ("always, silent message", Function.ALWAYS_MESSAGE),
        ("panic", Function.HOLD_UP),
    ],
)
def test_an_old_function_is_read_by_its_text_and_its_value(upgraded_home: Home, said: str, function: Function) -> None:
    name = next(zone.id for zone in upgraded_home.control_unit.zones if zone.function is not function)
    found = preview(f'Id,Function\n{name},"{said}"\n', CsvTable.ZONES, upgraded_home)
    assert found.problems == () and found.changed == (name,)
    assert [edit.after for edit in found.edits] == [function.value]


def test_an_old_kind_of_device_is_read(upgraded_home: Home) -> None:
    name = next(d.id for d in upgraded_home.whole_devices if d.kind is DeviceKind.CAMERA or d.kind is DeviceKind.FOB)
    found = preview(f"Id,Kind,Joined by\n{name},message sender,wire-free\n", CsvTable.DEVICES, upgraded_home)
    assert found.problems == () and found.changed == (name,)


def test_what_was_never_a_word_is_still_refused(upgraded_home: Home) -> None:
    name = upgraded_home.control_unit.zones[0].id
    found = preview(f"Id,Function\n{name},entrance\n", CsvTable.ZONES, upgraded_home)
    assert "choose one of" in found.problems[0]
