"""Words by country: the demo home's record, pages and commands under either, and what its owner typed, untouched."""

import json
from pathlib import Path

import pytest
from by_country import DAY, demo, strangers
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.household import HabitStep
from alarmlib.model.site import Room
from alarmlib.model.words import RuleSet, Share
from alarmlib.pages.answers import ANSWERS, GROUPS, answer
from alarmlib.record.plain import plain_blocks
from alarmlib.record.record import build
from alarmlib.rules import ALL, rules_of, say_of
from alarmlib.rules.pairs import AMERICAN, BRITISH
from alarmlib.rules.words import Words, in_words_of
from alarmlib.store import Edit, Session
from alarmlib.store.tables import CsvTable, preview, to_csv
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import FormSpec, TableSpec, fields_of
from alarmlib.widgets.table import TableForm


@pytest.mark.parametrize("rules", ["us", "britain"])
def test_the_record_of_the_demo_home_keeps_to_the_words_of_its_country(rules: str) -> None:
    """Every section, table, finding and heading of the owner's copy."""
    home = demo(rules)
    record = build(assess(home), home, Share.OWNER, DAY)
    text = "\n".join(f"{each.title}\n{plain_blocks(each.blocks)}" for each in record.sections)
    assert len(text) > 50_000
    assert strangers(text, rules_of(home).words, home.typed_texts) == []


@pytest.mark.parametrize("rules", ["us", "britain"])
def test_check_cells_keep_to_the_words_of_the_country(rules: str) -> None:
    """The text of each check cell of the pages."""
    home = demo(rules)
    for name in (*GROUPS, *ANSWERS):
        assert strangers(answer(home, name), rules_of(home).words, home.typed_texts) == [], name


def test_a_planted_word_is_found_and_a_typed_one_is_not() -> None:
    """The reader of the tests above sees a stranger, and leaves out what the owner typed."""
    home = demo("us", name="The mains fault")
    assert len(strangers("Lost mains, The mains fault", AMERICAN, home.typed_texts)) == 1
    assert strangers("the panic button", BRITISH)


def test_a_british_text_is_put_in_american_words() -> None:
    """Each pair of the words, inflected, with its capitals; a time that is set stays one."""
    said = {
        "Set the alarm as you leave.": "Arm the alarm as you leave.",
        "It is set (nobody in), part set or unset.": "It is armed (nobody in), part armed or disarmed.",
        "While set, a fault is shown.": "While armed, a trouble is shown.",
        "You can unset it while the mains is off.": "You can disarm it while house power is off.",
        "Hold-up button: 24-hour.": "Panic button: 24-hour.",
        "Earth fault on the upper storey, 2 metres away": "Ground fault on the upper floor, 2 meters away",
        "Front door's entry delay cannot be set on your unit.": "Front door's entry delay cannot be set on your unit.",
        "It may set off the siren. Set 30 s.": "It may set off the siren. Set 30 s.",
        "a set of detectors, set_full": "a set of detectors, set_full",
    }
    assert {text: in_words_of(text, AMERICAN) for text in said} == said


def test_british_words_leave_a_british_text_alone() -> None:
    """A British reader gets a text as it is written."""
    for text in ("It is set (nobody in).", "Unset it when a fault is shown.", "left out this time", "Hold-up button"):
        assert in_words_of(text, BRITISH) == text
    assert in_words_of("The alarm was disarmed.", BRITISH) == "The alarm was unset."


PIECES = st.sampled_from(sorted({*AMERICAN.said, *BRITISH.said, "Kitchen", "Anna's", "2nd", "(old)", "é"}))


@given(st.lists(PIECES, min_size=1, max_size=5).map(" ".join), PIECES, PIECES, st.sampled_from([AMERICAN, BRITISH]))
def test_what_the_owner_typed_comes_through_as_it_is(typed: str, before: str, after: str, words: Words) -> None:
    """Quoted as names are, or the whole of a cell, whatever is around it."""
    told = in_words_of(f"{before} “{typed}” {after}", words, frozenset({typed}))
    assert f"“{typed}”" in told
    assert in_words_of(typed, words, frozenset({typed})) == typed


def test_a_typed_name_in_a_sentence_is_kept_and_the_words_around_it_are_not() -> None:
    """A name that holds a word of ours, unquoted too."""
    home = demo("us", name="The storey above the mains")
    assert say_of(home)("The storey above the mains: its mains") == "The storey above the mains: its house power"


@pytest.mark.parametrize("table", CsvTable)
def test_a_list_is_read_in_the_words_of_either_country(table: CsvTable) -> None:
    """What was given out under American rules is taken in under British ones, and the other way round."""
    for written, read in (("us", "britain"), ("britain", "us")):
        assert preview(to_csv(demo(written), table), table, demo(read)).problems == ()


def test_every_country_says_its_words() -> None:
    """The United States say their own; Britain and Europe the words of the texts; a new country one of the two."""
    assert ALL[RuleSet.US].words is AMERICAN
    assert ALL[RuleSet.EUROPE].words is ALL[RuleSet.BRITAIN].words is BRITISH
    assert all(rules.words in (AMERICAN, BRITISH) for rules in ALL.values())


def test_a_form_shows_the_words_of_the_country_and_reads_either(tmp_path: Path) -> None:
    """Labels and choices under American rules; an answer in either word is the same one; other rules, other words."""
    session = Session.new(
        tmp_path / "home.json", Home.model_validate({"site": {"storeys": [{"id": "g", "name": "G"}]}})
    )
    rooms = TableForm(
        session, TableSpec("Rooms", ("site", "rooms"), fields_of(Room, ["name", "storey", "open_to_above"]))
    )
    told = " ".join(f"{each['caption']} {each['help']}" for each in rooms.structure["table"]["columns"])
    assert strangers(told, AMERICAN) == []
    assert "Floor" in told
    step = fields_of(HabitStep, ["deed"])[0]
    shown = [name for _, name in step.choices]
    assert any(in_words_of(name, AMERICAN) != name for name in shown)
    form = Form(session, FormSpec("Deed", (("", (step,)),)))
    for value, name in step.choices:
        assert form._read(step, in_words_of(name, AMERICAN), None) == form._read(step, name, None) == value
    session.apply([Edit(("rules", "rule_set"), RuleSet.US, RuleSet.BRITAIN)])
    assert "Storey" in json.dumps(rooms.structure)
