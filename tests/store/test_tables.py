"""Tables travel as CSV: what comes out goes in unchanged; what is wrong is told row by row, and nothing is taken in."""

import csv
import io
import sys
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.words import UnitSystem
from alarmlib.store import FieldClash, Session
from alarmlib.store.columns import as_written, harmless
from alarmlib.store.edits import Edit, with_edits
from alarmlib.store.tables import MOST_ROWS, CsvTable, apply, preview, to_csv

OPENINGS = "Id,Way in,Room it leads into,Kind,Width [m],Used to leave and come home\n"


def rows_of(text: str, delimiter: str = ",") -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def in_us(home: Home) -> Home:
    return home.model_copy(update={"units": UnitSystem.US})


# --- out ---


def test_the_header_names_label_and_unit_of_the_homes_system(home: Home) -> None:
    assert "Width [m]" in rows_of(to_csv(home, CsvTable.OPENINGS))[0]
    assert "Width [ft]" in rows_of(to_csv(in_us(home), CsvTable.OPENINGS))[0]
    assert rows_of(to_csv(home, CsvTable.OPENINGS))[1][:2] == ["front_door", "Front door"]


def test_rows_end_as_rfc_4180_asks(home: Home) -> None:
    assert to_csv(home, CsvTable.ZONES).count("\r\n") == 3


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "'=1", "'", "=cmd|' /C calc'!A0"]
)
def test_no_text_is_run_by_a_spreadsheet(document: dict[str, Any], text: str) -> None:
    """It is written behind an apostrophe in the file, and comes back unchanged."""
    document["site"]["openings"][0]["note"] = text
    home = Home.model_validate(document)
    out = to_csv(home, CsvTable.OPENINGS)
    cell = rows_of(out)[1][rows_of(out)[0].index("Note")]
    assert cell[0] == "'"
    assert as_written(cell) == text
    emptied = Home.model_validate(document | {"site": document["site"] | {"openings": []}})
    assert preview(out, CsvTable.OPENINGS, emptied).edits[0].after["note"] == text


def test_negative_numbers_are_left_as_numbers(document: dict[str, Any]) -> None:
    document["devices"][1]["wireless"]["signal"] = -71
    out = rows_of(to_csv(Home.model_validate(document), CsvTable.DEVICES))
    assert out[2][out[0].index("Wireless facts: Signal reading where it is mounted")] == "-71"


@given(text=st.text(max_size=20))
def test_harmless_text_is_read_back_unchanged(text: str) -> None:
    assert as_written(harmless(text)) == text


@given(text=st.text(max_size=20))
def test_what_people_type_without_an_apostrophe_is_read_as_it_is(text: str) -> None:
    assert as_written(text) == text or text.startswith("'")


# --- in ---


@pytest.mark.parametrize("table", CsvTable)
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_table_that_went_out_changes_nothing_when_it_comes_in(
    home: Home, table: CsvTable, delimiter: str, units: str
) -> None:
    a_type = {"id": "eyes", "name": "Hall detectors", "kind": "motion", "range_m": 7.5, "wireless": {"check_in_s": 90}}
    home = Home.model_validate(home.model_dump() | {"units": units, "device_types": [a_type]})
    found = preview(to_csv(home, table, delimiter), table, home)
    assert (found.problems, found.added, found.changed, found.edits) == ((), (), (), ())
    assert len(found.unchanged) in {1, 2}


def test_rows_are_added_and_changed_and_the_others_stay(session: Session) -> None:
    """One save for the whole table; a new row without an id gets one made of its name."""
    text = OPENINGS + ",Back door,Kitchen,door,0.8,yes\nfront_door,Front door,hall,door,0.95,yes\n"
    found = preview(text, CsvTable.OPENINGS, session.home)
    assert (found.added, found.changed, found.problems) == (("back_door",), ("front_door",), ())
    saves = len(session.saves())
    home = apply(session, found)
    assert len(session.saves()) == saves + 1
    assert [(o.id, o.width_m, o.entry_exit) for o in home.site.openings] == [
        ("front_door", 0.95, True), ("kitchen_window", None, False), ("back_door", 0.8, True),
    ]  # fmt: skip
    assert home.site.openings[2].room == "kitchen"


@pytest.mark.parametrize(
    ("header", "cell", "metres"),
    [
        ("Width [m]", "0.9", 0.9),
        ("Width [m]", '"0,9"', 0.9),
        ("Width [ft]", "3", 0.9144),
        ("Width [m]", '"3 ft 2 1/2 in"', 0.9779),
        ("Width", "90 cm", 0.9),
        ("width [M]", "0.9", 0.9),
    ],
)
def test_both_unit_systems_are_read(home: Home, header: str, cell: str, metres: float) -> None:
    """A bare number is in the unit of its header, whatever the home's own units are; a cell may bring its unit."""
    found = preview(f"Id,{header}\nkitchen_window,{cell}\n", CsvTable.OPENINGS, home)
    assert found.problems == ()
    assert [edit.after for edit in found.edits] == [metres]


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_semicolons_and_decimal_commas(home: Home, mark: str, end: str) -> None:
    """As spreadsheets of half of Europe write it; with and without a byte order mark; thousands apart by points."""
    text = f"{mark}Id;Width [m];Note{end}kitchen_window;1,234;sticks, a bit{end}front_door;0,95;{end}"
    found = preview(text.encode(), CsvTable.OPENINGS, home)
    assert found.problems == ()
    assert [edit.after for edit in found.edits] == [1.234, "sticks, a bit", 0.95]


def test_tabs_quoted_line_ends_and_blank_rows(home: Home) -> None:
    text = 'Id\tNote\n\nkitchen_window\t"two\nlines; and ""quotes"""\n\t\n'
    found = preview(text, CsvTable.OPENINGS, home)
    assert [edit.after for edit in found.edits] == ['two\nlines; and "quotes"']


def test_a_comma_with_two_meanings_is_asked_about(home: Home) -> None:
    found = preview('Id,Width [m]\nkitchen_window,"1,234"\n', CsvTable.OPENINGS, home)
    assert found.problems == (
        "Row 2, Width [m]: “1,234” is not allowed here; write 1234 or 1.234, as this comma can be read in two ways.",
    )


def test_every_problem_is_named_by_its_row_and_nothing_is_taken_in(session: Session) -> None:
    text = OPENINGS + (
        "front_door,Front door,hall,door,wide,yes\n"
        "kitchen_window,Kitchen window,kitchen,porthole,0.9,maybe\n"
        ",,kitchen,door,0.9,yes\n"
        "front_door,Again,hall,door,0.9,yes\n"
        "side,Side door,hall,door,99,yes\n"
        "Bad Id,Side,hall,door,0.9,yes\n"
    )
    found = preview(text, CsvTable.OPENINGS, session.home)
    starts = [problem.split(":")[0] for problem in found.problems]
    assert starts == [
        "Row 2, Width [m]", "Row 3, Kind", "Row 3, Used to leave and come home", "Row 4, Way in",
        "Row 5, Id", "Row 6, Width [m]", "Row 7, Id",
    ]  # fmt: skip
    before = session.path.read_bytes()
    with pytest.raises(AlarmProblem, match="Nothing was read in: Row 2"):
        apply(session, found)
    assert session.path.read_bytes() == before


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "Row 1 must hold the headers"),
        ("a,b\n1,2\n", "Row 1 must hold the headers of the table of openings, such as Id, Way in"),
        ("Id,Colour\nx,y\n", "Row 1 has a header that is not in the table of openings, or is there twice: “Colour”"),
        ("Id,Width [m],Width [ft]\n", "or is there twice: “Width [ft]”"),
        (b"Id,Way in\nx,\xff\n", "Byte 13 of the table is not UTF-8"),
        ('Id,Way in\nx,"never closed\n', "cannot be read"),
        ("Id,Way in\nfront_door,Front door,more\n", "Row 2: it has 3 cells, but there are 2 headers"),
        ("Id,Room it leads into\nfront_door,attic\n", "Row 2, Room it leads into: “attic” is not allowed here"),
        ("x" * 6_000_000, "larger than 5 MB"),
        ("Id,Way in\nfront_door," + "x" * 200_000 + "\n", "cannot be read"),
        ("Id,Way in\nfront_door," + "x" * 10_000 + "\n", "Row 2, Way in: “xxx"),
    ],
)
def test_a_table_that_cannot_be_read_is_refused_in_a_sentence(home: Home, content: str | bytes, words: str) -> None:
    found = preview(content, CsvTable.OPENINGS, home)
    assert len(found.problems) == 1
    assert words in found.problems[0]
    assert len(found.problems[0]) < 400
    assert found.edits == ()


def test_a_change_made_elsewhere_after_the_preview_is_asked_about(session: Session) -> None:
    found = preview("Id,Width [m]\nfront_door,0.95\n", CsvTable.OPENINGS, session.home)
    session.apply([Edit(("site", "openings", "front_door", "width_m"), 0.9, 0.92)])
    with pytest.raises(FieldClash):
        apply(session, found)
    assert session.home.site.openings[0].width_m == 0.92


def test_zones_devices_and_tests_are_read_too(session: Session) -> None:
    """Words by what people read, ids by names, parts of a part, dates."""
    zones = "Id,Label,Function,Chimes while unset\nz_back,BACK DOOR,starts the entry delay,yes\n"
    devices = (
        "Id,Device,Kind,Connection,Ways in that it guards,Zone,Wireless facts: Battery\n"
        "d_back,Back contact,contact on a door or window,wireless,Front door; kitchen_window,BACK DOOR,coin battery\n"
    )
    tests = "Date,Device,What the control unit showed\n2026-03-02,Hall motion,another zone\n"
    for table, text in ((CsvTable.ZONES, zones), (CsvTable.DEVICES, devices), (CsvTable.TESTS, tests)):
        found = preview(text, table, session.home)
        assert found.problems == ()
        apply(session, found)
    home = session.home
    assert (home.control_unit.zones[2].function, home.control_unit.zones[2].chime) == ("entry_exit", True)
    assert home.devices[2].openings == ("front_door", "kitchen_window")
    assert (home.devices[2].zone, home.devices[2].wireless.battery) == ("z_back", "coin")  # type: ignore[union-attr]
    assert (home.log.tests[1].device, home.log.tests[1].seen) == ("d_hall", "other_zone")


TURNING = "".join(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
TEXTS = st.text(
    st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"], exclude_characters=TURNING), max_size=20
)  # of one line
NOTES = st.text(
    st.characters(exclude_categories=["Cs", "Cc"], include_characters="\t\n\r", exclude_characters=TURNING), max_size=20
)
WIDTHS = st.none() | st.floats(0.05, 10)
OPENING = st.fixed_dictionaries({
    "name": TEXTS.filter(str.strip), "width_m": WIDTHS, "note": NOTES, "entry_exit": st.booleans(),
    "kind": st.sampled_from(["door", "window", "pet_flap"]),
    "at": st.none() | st.tuples(st.floats(-1000, 1000), st.floats(-1000, 1000)),
})  # fmt: skip


@given(
    openings=st.lists(OPENING, max_size=4),
    units=st.sampled_from(["metric", "us"]),
    mark=st.sampled_from([",", ";", "\t"]),
)
def test_any_openings_go_out_and_come_in_again(openings: list[dict[str, Any]], units: str, mark: str) -> None:
    """Onto an empty list: every text exactly, every number to nine decimals of the column's unit."""
    site = {"storeys": [{"id": "g", "name": "G"}], "rooms": [{"id": "hall", "name": "Hall", "storey": "g"}]}
    named = [each | {"id": f"o{n}", "room": "hall"} for n, each in enumerate(openings)]
    base = {"schema_version": 2, "units": units}
    home = Home.model_validate(base | {"site": site | {"openings": named}})
    found = preview(
        to_csv(home, CsvTable.OPENINGS, mark), CsvTable.OPENINGS, Home.model_validate(base | {"site": site})
    )
    assert found.problems == ()
    for edit, opening in zip(found.edits, home.site.openings, strict=True):
        got = type(opening).model_validate(edit.after)
        assert got.model_dump(exclude={"width_m", "at"}) == opening.model_dump(exclude={"width_m", "at"})
        assert got.width_m == pytest.approx(opening.width_m, abs=1e-9)
        assert (got.at is None) == (opening.at is None)
        assert got.at is None or got.at == pytest.approx(opening.at, abs=2e-9)


@given(content=st.text(max_size=120) | st.text(max_size=80).map(lambda text: f"{OPENINGS}{text}"))
def test_any_table_is_read_or_refused_in_sentences(content: str) -> None:
    home = Home.model_validate({"schema_version": 2, "site": {"openings": []}})
    found = preview(content, CsvTable.OPENINGS, home)
    assert all(problem.endswith(".") for problem in found.problems)


# --- large tables ---


def calls_for(rows: int, row: str, home: Home) -> int:
    """How many times Python is called, and goes on with a generator, to look at a table of so many such rows."""
    text = "Id,Way in,Room it leads into,Kind,Width [m],Note\n" + "".join(row.format(n) for n in range(rows))
    count = 0

    def called(_frame: Any, event: str, _what: Any) -> None:
        nonlocal count
        count += event in {"call", "c_call"}

    before = sys.getprofile()
    sys.setprofile(called)
    try:
        found = preview(text, CsvTable.OPENINGS, home)
    finally:
        sys.setprofile(before)
    assert len(found.added or found.problems) == rows
    return count


@pytest.mark.parametrize(
    "row",
    [
        ",Window {0},Kitchen,window,0.9,\n",
        ",Window,Kitchen,window,0.9,\n",
        "w{0},Window,Kitchen,window,0.9,{0}\n",
        ",Window {0},Kitchen,window,{0}.x,\n",
    ],
)
def test_twice_the_rows_is_twice_the_work(row: str, home: Home) -> None:
    """Rows with names of their own, with one name, with ids, with a mistake in each. It had been four times as much."""
    few = calls_for(100, row, home)  # also loads what is loaded once
    few = calls_for(100, row, home)
    many = calls_for(400, row, home)
    assert many < 4.5 * few


def test_a_table_of_too_many_rows_is_refused_by_its_number(home: Home) -> None:
    most = preview("Id,Note\n" + "front_door,\n" * MOST_ROWS, CsvTable.OPENINGS, home)
    assert "each id may be in the table only once" in most.problems[0]
    found = preview("Id,Note\n" + "front_door,\n" * (MOST_ROWS + 1), CsvTable.OPENINGS, home)
    assert found.problems == (
        "The table has 10001 rows, so it was not read; 10000 at most. Divide it into several tables.",
    )


def test_edits_go_in_one_after_the_other(home: Home) -> None:
    """Added, changed, renamed, taken out, added again: each edit meets what the one before left."""
    document = home.model_dump(mode="json")
    rooms = ("site", "rooms")
    den = {"id": "den", "name": "Den", "storey": "ground"}
    after = with_edits(document, [
        Edit((*rooms, "den"), None, den), Edit((*rooms, "den", "name"), "Den", "Study"),
        Edit((*rooms, "hall"), document["site"]["rooms"][0], None), Edit((*rooms, "den", "id"), "den", "study"),
        Edit((*rooms, "study", "note"), None, "red"), Edit((*rooms, "kitchen", "note"), "", "blue"),
        Edit((*rooms, "den"), None, den), Edit((*rooms, "study"), {"id": "study"}, None),
    ])  # fmt: skip
    assert [(room["id"], room["name"], room.get("note")) for room in after["site"]["rooms"]] == [
        ("kitchen", "Kitchen", "blue"), ("den", "Den", None),
    ]  # fmt: skip
    assert document == home.model_dump(mode="json")
    gone = Edit((*rooms, "hall"), document["site"]["rooms"][0], None)
    with pytest.raises(FieldClash):
        with_edits(document, [gone, Edit((*rooms, "hall", "note"), "", "x")])
