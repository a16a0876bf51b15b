"""Each section, from nothing, from a small home and from the demo home; each copy."""

import csv
import io
import re
from dataclasses import replace
from typing import Any

import pytest

from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.draft.test_route import walk_order
from alarmlib.errors import FieldProblem
from alarmlib.model import Home
from alarmlib.model.control_unit import Zone
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.record.blocks import Bullets, Findings, Picture, Record, Table
from alarmlib.record.context import Context
from alarmlib.record.produce import record_of
from alarmlib.record.record import build, file_name, render
from alarmlib.record.season_words import door_times
from alarmlib.record.section import Section
from alarmlib.record.sections import LONG, SHORT
from alarmlib.record.sections.front.findings import MOST, gaps, to_do, worst
from alarmlib.record.sections.settings.settings import settings
from alarmlib.record.sections.settings.zones import in_unit_order, zones
from alarmlib.record.sections.upkeep import walk_test
from alarmlib.record.walk_list import walk_csv
from alarmlib.store.sharing import copy_for

DATE = "2026-11-25"
BLANK = Assessment()
EVERY = tuple(dict.fromkeys(LONG + SHORT))
SECTIONS = pytest.mark.parametrize("section", EVERY, ids=lambda section: section.id)


def text_of(record: Record) -> str:
    """What can be read in a record, without tags."""
    return re.sub(r"<[^>]+>", " ", render(record).split("<body>")[1])


@SECTIONS
def test_a_section_says_what_it_is(section: Section) -> None:
    """Each has an id, a title, what it needs and for whom it is."""
    assert re.fullmatch(r"[a-z][a-z0-9_]*", section.id)
    assert section.title[0].isupper()
    assert isinstance(section.level, Share)
    assert all(isinstance(need, str) for need in section.needs)


@SECTIONS
def test_a_section_is_written_for_a_lived_in_home(section: Section, home: Home, assessment: Assessment) -> None:
    """Every section has something to say about a home in which everything was entered."""
    assert section.build(Context(home, assessment, Share.OWNER, DATE))


@SECTIONS
def test_a_section_is_written_for_the_demo_home(section: Section, demo: Home) -> None:
    """Every section can be written for the demo home."""
    assert section.build(Context(demo, BLANK, Share.OWNER, DATE))


@pytest.mark.parametrize("short", [False, True])
def test_a_blank_home_has_a_record(short: bool) -> None:
    """From nothing a record is made, and it names what it could not say yet."""
    record = build(BLANK, Home(), Share.OWNER, DATE, short=short)
    told = [section.title for section in record.sections]
    waiting = next(section for section in record.sections if section.id == "waiting")
    assert "Cautions" in told
    assert any(isinstance(block, Bullets) and "Zone chart" in block.items for block in waiting.blocks)
    assert len(render(record)) > 1000


def test_section_ids_are_unique() -> None:
    """No two sections of a record share an anchor."""
    for sections in (LONG, SHORT):
        assert len({section.id for section in sections}) == len(sections)


@pytest.mark.parametrize("copy", list(Share))
def test_a_copy_says_for_whom_it_is(copy: Share, demo_records: dict[Share, Record]) -> None:
    """The circle of readers is named at the top, and in the name of the file."""
    record = demo_records[copy]
    words = {"owner": "the owner", "helper": "a helper", "class": "a class", "public": "anybody"}
    assert f"<dd>{words[copy]}</dd>" in render(record)
    assert file_name(record) == f"record_{copy}_{DATE}.html"


def test_wider_circles_see_fewer_sections(demo_records: dict[Share, Record]) -> None:
    """Whatever a wider circle sees, a narrower one sees too; what is open is for the owner alone."""
    seen = [{s.id for s in demo_records[copy].sections} - {"waiting"} for copy in Share]
    assert seen[0] >= seen[1] > seen[2] > seen[3]
    assert {"messages", "zones", "settings", "handover"} <= seen[1]
    assert not {"findings", "plan", "coverage", "cables", "to_do", "test_log", "sound"} & seen[1]
    assert not {"findings", "messages", "plan", "zones", "test_log", "contacts", "settings"} & seen[2]


def test_a_class_copy_names_nothing(facts: dict[str, Any]) -> None:
    """Neither room, door, device, nor the home's own name is in a copy for a class or anybody."""
    home = Home.model_validate(facts)
    for copy in (Share.CLASS, Share.PUBLIC):
        told = text_of(record_of(home, copy, DATE))
        for name in (
            "Brook Cottage",
            "Living room window",
            "Front door",
            "Landing smoke",
            "grandparent",
            "strike plate",
        ):
            assert name not in told


def test_a_helper_does_not_read_who_sleeps_where(facts: dict[str, Any]) -> None:
    """Sleeping places, absence and the owner's own notes are for the owner only."""
    home = Home.model_validate(facts)
    helper, owner = (text_of(record_of(home, copy, DATE)) for copy in (Share.HELPER, Share.OWNER))
    for words in ("and who may not wake", "When nobody is at home", "new strike plate", "balloon"):
        assert words in owner
        assert words not in helper


@pytest.mark.parametrize("copy", list(Share))
def test_a_column_that_a_copy_may_not_show_is_not_shown_as_no(copy: Share, demo_records: dict[Share, Record]) -> None:
    """A hidden fact is left out with its heading, not printed as its default."""
    told = text_of(demo_records[copy])
    assert ("Somebody sleeps here" in told) <= (copy is Share.OWNER)
    assert ("Ways in that it guards" in told) == (copy is Share.OWNER)


def test_a_wrong_date_is_one_sentence() -> None:
    """A date that is none is refused before anything is written."""
    for wrong in ("25.11.2026", "2026-13-01", "", "20261125"):
        with pytest.raises(FieldProblem, match="write a day as 2026-11-25"):
            build(BLANK, Home(), Share.OWNER, wrong)


def test_retests_are_followed_to_their_end(home: Home) -> None:
    """A fault that a later retest put right is closed; one that nobody tried again is open."""
    assert [test.id for test in walk_test.to_retest(home.log.tests)] == ["t3"]


def test_a_retest_of_a_retest_closes_the_first() -> None:
    """Nothing, then too late, then as expected: the first is closed by the last."""
    chain = [
        {"id": "a", "seen": "nothing"},
        {"id": "b", "seen": "late", "retest_of": "a"},
        {"id": "c", "seen": "as_expected", "retest_of": "b"},
        {"id": "d", "seen": "late"},
        {"id": "e", "seen": "nothing", "retest_of": "d"},
    ]
    home = Home.model_validate({"log": {"tests": chain}})
    assert [test.id for test in walk_test.to_retest(home.log.tests)] == ["d", "e"]


def test_places_without_a_number_keep_the_order_they_were_entered_in() -> None:
    """Seen before: places of words alone came in the order of the alphabet, which no unit keeps."""
    places = ["Hall two", "", "module 2 zone 10", "Cellar one", "12", "module 2 zone 9", "3"]
    entered = tuple(Zone(id=f"z{n}", label=f"Z{n}", place=place) for n, place in enumerate(places))
    ordered = [zone.place for zone in in_unit_order(entered)]
    assert ordered == ["3", "12", "module 2 zone 9", "module 2 zone 10", "Hall two", "", "Cellar one"]


def test_settings_follow_the_places_of_the_unit(home: Home) -> None:
    """Place 2 comes before place 10; a zone without a place comes last."""
    assert [zone.place for zone in in_unit_order(home.control_unit.zones)] == ["2", "3", "10"]
    table = next(
        b for b in settings.build(Context(home, BLANK, Share.OWNER, DATE)) if "order" in getattr(b, "caption", "")
    )
    assert isinstance(table, Table)
    assert [row[0].strip("\u2068\u2069") for row in table.rows] == ["2", "3", "10"]


def test_a_door_without_times_of_its_own_has_the_units(home: Home) -> None:
    """The kitchen door has its own entry delay and the unit's exit delay; the front door has the unit's."""
    assert door_times(home.control_unit.times, "back") == (25, 55)
    assert door_times(home.control_unit.times, "front") == (35, 55)


def test_the_matrix_says_who_listens(home: Home) -> None:
    """Set with nobody in, the hall waits for the entry delay; by night it is left out and the front door is at once."""
    picture = zones.build(Context(home, BLANK, Share.OWNER, DATE))[-1]
    assert isinstance(picture, Picture)
    plain = [tuple(cell.strip("\u2068\u2069") for cell in row) for row in picture.table.rows]
    assert plain == [
        ("Front door", "listens, with delay", "listens"),
        ("Hall", "listens, with delay", "left out"),
        ("Smoke", "always on", "always on"),
    ]


def test_the_to_do_list_builds_itself(home: Home) -> None:
    """What the round found, what locks an escape way, what the survey asks, what nobody looked at."""
    lines = to_do.build(Context(home, BLANK, Share.OWNER, DATE))[0].items  # type: ignore[union-attr]
    assert len(lines) == 4
    assert "new strike plate" in lines[0]
    assert "does not open from inside without a key" in lines[1]
    assert lines[2].startswith("Street and grounds: Add a light")
    assert "the 2 ways in" in lines[3]


def test_the_walk_has_one_order(home: Home) -> None:
    """From the keypad past each device that a way leads to, in the order of `walk_order`; the others apart."""
    order = walk_order(home)
    walked = [device.id for device, _ in order.rows]
    assert walked[0] == "keypad"
    assert sorted([*walked, *(device.id for device in order.apart)]) == sorted(
        device.id for device in home.whole_devices if device.state.value not in ("removed", "out_of_use")
    )
    tables = [b for b in walk_test.test_plan.build(Context(home, BLANK, Share.OWNER, DATE)) if isinstance(b, Table)]
    assert [row[0] for table in tables for row in table.rows] == [str(n + 1) for n in range(len(home.whole_devices))]


def test_the_demo_walk_is_the_shortest_on_page_record_and_list(demo: Home) -> None:
    """Seen before: two orders on page 10, the one of the record not the shortest. Proved shortest here."""
    order = walk_order(demo)
    assert order.walk is not None
    assert order.walk.tour.gap == 0
    names = [device.name for device, _ in order.rows] + [device.name for device in order.apart]
    blocks = walk_test.test_plan.build(Context(demo, BLANK, Share.OWNER, DATE))
    told = [row[1].strip("\u2068\u2069") for block in blocks if isinstance(block, Table) for row in block.rows]
    listed = [row["Device"] for row in csv.DictReader(io.StringIO(walk_csv(demo), newline=""))]
    page = re.findall(r"No\.: \d+\. Device: (.*?)\. Room", answer(demo, "test_plan"))
    assert told == names
    assert listed == names
    assert page == names[: len(page)]
    assert len(page) >= len(order.rows)


def test_the_gaps_are_the_heaviest(home: Home, assessment: Assessment) -> None:
    """Only what must or should be fixed, the heaviest first, five at most, each cause once."""
    turned = replace(assessment, findings=assessment.findings[::-1])
    shown = gaps.build(Context(home, turned, Share.OWNER, DATE))[1]
    assert isinstance(shown, Findings)
    assert [finding.id for finding in shown.findings] == ["f1", "f2"]
    many = tuple(replace(assessment.findings[0], id=f"f{n}") for n in range(9)) + assessment.findings * 2
    assert len(worst(many)) == MOST
    assert len(worst(assessment.findings * 4)) == 2  # the same causes again


def test_a_gap_names_what_else_its_cause_touches(home: Home) -> None:
    """One line for one cause: the others by name, or how many where they have none."""
    alike = [Finding("detectors.x", device, Verdict.SHOULD, f"“{device}” is warm.") for device in ("keypad", "smoke")]
    proof = [Finding("proof.breached", "night", Verdict.SHOULD, f"Breached: {n}.") for n in range(3)]
    found = gaps.build(Context(home, Assessment(findings=(*alike, *proof)), Share.OWNER, DATE))[1]
    assert isinstance(found, Findings)
    told = [finding.message.replace("\u2068", "").replace("\u2069", "") for finding in found.findings]
    assert told == [
        "Breached: 0. 2 more properties are breached.",
        "“keypad” is warm. The same concerns “Landing smoke detector”.",
    ]


def test_figures_show_formula_numbers_result_and_source(home: Home, assessment: Assessment) -> None:
    """A calculation can be followed by whoever reads the record."""
    told = text_of(build(assessment, home, Share.OWNER, DATE))
    for words in ("slowest walk × 1.5, up to the next 5 s", "walk 1 = 22 s", "35 s", "about one evening in 50"):
        assert words in told


def test_what_was_skipped_is_named(home: Home, assessment: Assessment) -> None:
    """Every missing fact is among the assumptions."""
    assert "How fast does the grandparent walk?" in text_of(build(assessment, home, Share.OWNER, DATE))


def test_every_hidden_field_of_a_copy_is_blank_here_too(demo: Home) -> None:
    """The record of a helper's copy is the same whether or not the home was redacted before."""
    redacted = build(BLANK, copy_for(demo, Share.HELPER), Share.HELPER, DATE)
    assert [section.id for section in redacted.sections] == [
        s.id for s in build(BLANK, demo, Share.HELPER, DATE).sections
    ]
