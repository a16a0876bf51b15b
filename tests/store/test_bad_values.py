"""Values that no home can have: refused when the file is read, in a sentence that names the field."""

import json
import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model import Home
from alarmlib.model.entered import _UNSEEN
from alarmlib.store import Edit, Session, load
from alarmlib.store.tables import CsvTable, preview
from alarmlib.widgets.engine import sentence

Refused = Callable[[str], str]


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    """The sentence with which a text is refused as a home file."""

    def refuses(text: str) -> str:
        file = tmp_path / "home.json"
        file.write_text(text, encoding="utf-8")
        with pytest.raises(AlarmProblem) as caught:
            load(file)
        sentence = str(caught.value)
        assert "\n" not in sentence
        assert len(sentence) < 400
        return sentence

    return refuses


def there_at(document: Any, place: tuple[str | int, ...]) -> list[Any]:
    """The list at a place of a document; an empty one where nothing is there yet."""
    for step in place:
        document = document.get(step, []) if isinstance(document, dict) else document[step]
    found: list[Any] = document
    return found


def put_at(document: Any, place: tuple[str | int, ...], value: Any) -> None:
    """Put a value at a place of a document."""
    for step in place[:-1]:
        document = document[step]
    document[place[-1]] = value


@pytest.mark.parametrize("day", ["2026-02-30", "2025-02-29", "2026-06-31", "0000-01-01", "9999-12-31", "2999-01-01"])
@pytest.mark.parametrize(
    "place",
    [
        ("devices", 1, "wireless", "battery_fitted_on"),
        ("devices", 0, "made_on"),
        ("devices", 0, "fitted_on"),
        ("log", "tests", 0, "on"),
        ("household", "people", 0, "trained_on"),
    ],
)
def test_a_day_that_no_calendar_has(
    day: str, place: tuple[str | int, ...], document: dict[str, Any], refused: Refused
) -> None:
    put_at(document, place, day)
    sentence = refused(json.dumps(document))
    assert f"{place[-1]} in home.json: “{day}” is not allowed here" in sentence
    assert "such as 2026-03-01" in sentence


@pytest.mark.parametrize("day", ["", "2024-02-29", "1900-01-01", "2199-12-31"])
def test_a_day_of_the_calendar_is_taken(day: str, document: dict[str, Any], tmp_path: Path) -> None:
    """2024 had a 29 February."""
    document["devices"][0]["fitted_on"] = day
    (tmp_path / "home.json").write_text(json.dumps(document))
    assert load(tmp_path / "home.json").devices[0].fitted_on == day


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity"])
def test_a_number_that_is_none_is_named_with_its_field(number: str, document: dict[str, Any], refused: Refused) -> None:
    text = json.dumps(document).replace("2.5019", number)
    assert f"site.rooms.hall.ceiling_m in home.json: “{number}”" in refused(text)


def test_a_field_given_twice_is_named(document: dict[str, Any], refused: Refused) -> None:
    text = json.dumps(document).replace('"ceiling_m": 2.5019', '"ceiling_m": 2.5, "ceiling_m": 2.4')
    assert refused(text) == "home.json gives the field “ceiling_m” twice in one place. Keep one of the two."


def test_a_field_that_is_missing_is_named(document: dict[str, Any], refused: Refused) -> None:
    del document["site"]["rooms"][0]["storey"]
    sentence = refused(json.dumps(document))
    assert sentence == "site.rooms.hall.storey in home.json: nothing is written here; this field is needed."


def test_a_long_id_is_cut(document: dict[str, Any], refused: Refused) -> None:
    document["site"]["rooms"][0] |= {"id": "x" * 4_000_000, "ceiling_m": "high"}
    assert "site.rooms.xxx" in refused(json.dumps(document))
    document["site"]["rooms"][0] = {"id": "hall", "name": "Hall", "storey": "ground", "y" * 4_000_000: 1}
    assert "yyy" in refused(json.dumps(document))


def test_a_long_reference_is_cut(document: dict[str, Any], refused: Refused) -> None:
    document["site"]["openings"][0]["room"] = "x" * 4_000_000
    assert "site.openings.front_door.room" in refused(json.dumps(document))


# --- texts ---

TURNING = [chr(sign) for sign in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))]
"""The explicit directional signs of Unicode Standard Annex 9."""
UNREADABLE = ["\x00", "\x07", "\x1b", "\x7f", "\x85", *TURNING]


@pytest.mark.parametrize("field", ["name", "note"])
@pytest.mark.parametrize("sign", UNREADABLE, ids=lambda sign: f"U+{ord(sign):04X}")
def test_a_text_that_reads_otherwise_than_it_is_stored(
    field: str, sign: str, document: dict[str, Any], refused: Refused
) -> None:
    document["site"]["rooms"][0][field] = f"Ha{sign}ll"
    shown = " " if sign.isspace() else "\ufffd"
    assert refused(json.dumps(document)) == (
        f"site.rooms.hall.{field} in home.json: “Ha{shown}ll” is not allowed here; "
        "write it without control characters, and without signs that turn the direction of text."
    )


@pytest.mark.outside
def test_just_the_control_and_turning_signs_of_unicode_are_refused() -> None:
    """By the data of Unicode that Python brings: its general category Cc, and the bidirectional classes that turn."""
    turning = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    wanted = {
        sign
        for sign in map(chr, (*range(0xD800), *range(0xE000, 0x110000)))
        if unicodedata.category(sign) == "Cc" or unicodedata.bidirectional(sign) in turning
    } - set("\t\n\r")
    assert wanted == set(_UNSEEN.findall("".join(map(chr, (*range(0xD800), *range(0xE000, 0x110000))))))


@pytest.mark.parametrize("sign", ["\t", "\n", "\r", "\u2028"])
def test_a_name_is_of_one_line_and_a_note_need_not_be(
    sign: str, document: dict[str, Any], refused: Refused, tmp_path: Path
) -> None:
    room = document["site"]["rooms"][0]
    room["note"] = f"Ha{sign}ll"
    (tmp_path / "good.json").write_text(json.dumps(document))
    assert load(tmp_path / "good.json").site.rooms[0].note == f"Ha{sign}ll"
    room["name"] = f"Ha{sign}ll"
    assert "write it on one line, without tabs" in refused(json.dumps(document))


@pytest.mark.parametrize("name", ["مدخل", "שלום", "Zoë’s café", "👩‍👩‍👧 room", "हिन्दी", "می‌خواهم"])
def test_names_of_every_script_are_taken(name: str, document: dict[str, Any], tmp_path: Path) -> None:
    """Also those that join or part letters by signs that are not seen."""
    document["site"]["rooms"][0]["name"] = name
    (tmp_path / "home.json").write_text(json.dumps(document))
    assert load(tmp_path / "home.json").site.rooms[0].name == name


# --- numbers ---


@pytest.mark.parametrize(
    ("place", "value", "sentence"),
    [
        (("site", "openings", 0, "width_m"), True, "“true” is not allowed here; write a number; 0.05 m to 10 m is"),
        (("site", "openings", 0, "width_m"), "0.9", "“0.9” is not allowed here; write a number without quotes; 0.05 m"),
        (("site", "openings", 0, "at"), [True, 1], "“true” is not allowed here; write a number"),
        (("site", "storeys", 0, "level"), True, "“true” is not allowed here; write a whole number; -5 to 20 is"),
        (
            ("site", "storeys", 0, "level"),
            "1",
            "“1” is not allowed here; write a whole number without quotes; -5 to 20",
        ),
        (("devices", 0, "range_m"), True, "“true” is not allowed here; write a number; 0.1 m to 100 m is allowed"),
        (("devices", 1, "wireless", "slot"), False, "“false” is not allowed here; write a whole number; 0 to 999 is"),
        (("household", "people", 0, "entries_a_week"), "7", "“7” is not allowed here; write a number without quotes"),
    ],
)
def test_a_number_is_read_from_a_number_only(
    place: tuple[str | int, ...], value: Any, sentence: str, document: dict[str, Any], refused: Refused
) -> None:
    put_at(document, place, value)
    assert sentence in refused(json.dumps(document))


def test_a_whole_number_with_a_point_is_taken(document: dict[str, Any], tmp_path: Path) -> None:
    """Some programs write 1.0 for 1."""
    document["site"]["storeys"][0]["level"] = 1.0
    (tmp_path / "home.json").write_text(json.dumps(document))
    assert load(tmp_path / "home.json").site.storeys[0].level == 1


# --- what leads back to itself ---


def repeater(name: str, by: str) -> dict[str, Any]:
    return {"id": name, "name": name, "kind": "repeater", "link": "wireless", "wireless": {"repeater": by}}


def retest(name: str, of: str) -> dict[str, Any]:
    return {"id": name, "retest_of": of}


OWN_AREA = "an area cannot wait for its own entry delay; choose another area, or leave it blank."
IN_A_RING = "messages would go round in a ring and never arrive; choose another repeater, or leave it blank."
OWN_TEST = "a test cannot repeat itself, nor one that repeats it; choose an earlier test, or leave it blank."
LED_BACK = [
    (("control_unit", "areas"), [{"id": "annexe", "name": "Annexe", "follows": "annexe"}],
     "control_unit.areas.annexe.follows", "annexe", OWN_AREA),
    (("devices",), [repeater("one", "one")], "devices.one.wireless.repeater", "one", IN_A_RING),
    (("devices",), [repeater("one", "two"), repeater("two", "three"), repeater("three", "two")],
     "devices.two.wireless.repeater", "three", IN_A_RING),
    (("log", "tests"), [retest("a", "a")], "log.tests.a.retest_of", "a", OWN_TEST),
    (("log", "tests"), [retest("a", "b"), retest("b", "a")], "log.tests.a.retest_of", "b", OWN_TEST),
]  # fmt: skip


@pytest.mark.parametrize(("place", "more", "path", "value", "why"), LED_BACK)
def test_what_leads_back_to_itself(
    place: tuple[str, ...], more: list[Any], path: str, value: str, why: str, document: dict[str, Any], refused: Refused
) -> None:
    put_at(document, place, [*there_at(document, place), *more])
    assert refused(json.dumps(document)) == f"{path} in home.json: “{value}” is not allowed here; {why}"


def test_chains_that_end_and_areas_that_follow_each_other_are_taken(document: dict[str, Any], tmp_path: Path) -> None:
    """Two areas may each be the way into the other."""
    document["devices"] += [repeater("one", "two"), repeater("two", "")]
    document["log"]["tests"] += [retest("a", "t1"), retest("b", "a"), retest("c", "a")]
    document["control_unit"]["areas"] = [
        {"id": "left", "name": "Left", "follows": "right"}, {"id": "right", "name": "Right", "follows": "left"},
    ]  # fmt: skip
    (tmp_path / "home.json").write_text(json.dumps(document))
    home = load(tmp_path / "home.json")
    assert [test.retest_of for test in home.log.tests] == ["", "t1", "a", "a"]
    assert assess(home, "quick")


@pytest.mark.parametrize("missing", ["", "attic"])
def test_a_reference_that_leads_nowhere(missing: str, document: dict[str, Any], refused: Refused) -> None:
    document["site"]["rooms"][0]["storey"] = missing
    sentence = refused(json.dumps(document))
    assert sentence.startswith("site.rooms.hall.storey in home.json: ")
    wanted = "there is no storey “attic”; it must be" if missing else "nothing is written here; choose"
    assert f"{wanted} one of the storeys entered." in sentence


# --- the same sentence wherever it comes in ---


@pytest.mark.parametrize(("place", "more", "path", "value", "why"), LED_BACK)
def test_an_edit_is_refused_in_the_same_words_and_changes_nothing(
    place: tuple[str, ...], more: list[Any], path: str, value: str, why: str, session: Session
) -> None:
    before = session.path.read_bytes()
    with pytest.raises(FieldProblem) as caught:
        session.apply([Edit((*place, each["id"]), None, each) for each in more])
    assert sentence(caught.value) == f"“{value}” is not allowed here; {why}"
    assert session.path.read_bytes() == before


NOT_HERE = "is not allowed here; "
REPEATER = "Wireless facts: Repeater that passes on its messages"
BY_ROW = [
    (CsvTable.TESTS, "Id,Earlier test that it repeats\nt1,\nt2,t2\n",
     f"Row 3, Earlier test that it repeats: “t2” {NOT_HERE}{OWN_TEST}"),
    (CsvTable.DEVICES, f"Id,Device,Kind,{REPEATER}\none,One,repeater,two\ntwo,Two,repeater,one\n",
     f"Row 2, {REPEATER}: “two” {NOT_HERE}{IN_A_RING}"),
    (CsvTable.OPENINGS, "Id,Way in\nfront_door,Fr\u202eont\n",
     f"Row 2, Way in: “Fr\ufffdont” {NOT_HERE}write it without control characters, and without signs that turn"),
    (CsvTable.OPENINGS, 'Id,Way in\nfront_door,"Front\ndoor"\n',
     f"Row 2, Way in: “Front door” {NOT_HERE}write it on one line, without tabs."),
    (CsvTable.DEVICES, "Id,Fitted on\nd_front,2999-01-01\n",
     f"Row 2, Fitted on: “2999-01-01” {NOT_HERE}write a day of the calendar from 1900 to 2199, such as 2026-03-01"),
    (CsvTable.OPENINGS, "Id,Width [m]\nfront_door,true\n",
     f"Row 2, Width [m]: “true” {NOT_HERE}write a length such as"),
    (CsvTable.ZONES, "Id,Label,Zone number in the control unit\nz_new,NEW,2\n",
     f"Row 2, Zone number in the control unit: “2” {NOT_HERE}the zone number “2” is there twice"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "text", "told"), BY_ROW)
def test_a_table_is_refused_in_the_same_words_by_row(table: CsvTable, text: str, told: str, home: Home) -> None:
    found = preview(text, table, home)
    assert len(found.problems) == 1
    assert found.problems[0].startswith(told)
    assert found.edits == ()
