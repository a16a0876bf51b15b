"""Findings on the choice of detectors, each from one fact, and what the record and the page's cell say of it."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.assess import assess
from alarmlib.checks.detectors.choice import GROUP
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import answer
from alarmlib.record.blocks import Table, Text
from alarmlib.record.context import Context
from alarmlib.record.produce import demo_home
from alarmlib.record.sections import LONG
from alarmlib.record.sections.detectors.choice import choice
from alarmlib.store.sharing import copy_for

Put = Callable[[Home, dict[str, Any]], Home]
BY_ID = {check.id: check for check in GROUP.checks}
_CAT = {"id": "cat", "kind": "cat", "reaches_m": 1.2, "free_when_empty": ["living"]}
_SECOND = {"id": "second", "name": "second", "kind": "contact", "room": "living", "openings": ["living_window"]}
_PRICES = [{"id": k, "kind": k, "price": p} for k, p in (("contact", 15), ("motion", 40))]


def said(check: str, home: Home) -> list[Finding]:
    """What one check says, figures left out."""
    return [each for each in BY_ID[f"choice.{check}"].result(home) if isinstance(each, Finding)]


@pytest.mark.parametrize(
    ("check", "fine", "bad", "subject", "verdict"),
    [
        ("kind_does_not_fit", {"household.pets.+": _CAT | {"free_when_empty": []}},
         {"household.pets.cat.free_when_empty": ["living"]}, "living_motion", "should"),
        ("kind_does_not_fit", {}, {"site.openings.kitchen_window.kind": "letterbox"},
         "kitchen_window_contact", "should"),
        ("kind_does_not_fit", {"devices.living_window_contact.kind": "glass_break"},
         {"site.openings.living_window.glass": "no"}, "living_window_contact", "should"),
        ("left_uncovered", {}, {"devices.living_motion": None}, "living", "note"),
        ("left_uncovered", {}, {"devices.kitchen_window_contact": None}, "kitchen_window", "should"),
        ("adds_nothing", {}, {"devices.+": _SECOND}, "second", "note"),
    ],
)  # fmt: skip
def test_one_fact_decides(
    house: Home, put: Put, check: str, fine: dict[str, Any], bad: dict[str, Any], subject: str, verdict: str
) -> None:
    """The check draws no such finding on the one home, and draws it with that verdict on the other."""
    home = put(house, fine)
    assert subject not in {finding.subject for finding in said(check, home)}
    found = {finding.subject: finding for finding in said(check, put(home, bad))}
    assert found[subject].verdict.value == verdict
    assert found[subject].message
    assert found[subject].remedy


def test_a_way_in_of_a_watched_room_is_not_said_to_be_covered_by_nothing(house: Home, put: Put) -> None:
    """Without its contact the living room's window is told by the motion detector behind it."""
    home = put(house, {"devices.living_window_contact": None})
    assert "living_window" not in {finding.subject for finding in said("left_uncovered", home)}


def test_glass_that_nothing_hears_is_named(house: Home, put: Put) -> None:
    """With its room while that can be watched; by itself where a climbing pet shuts motion out."""
    glazed = put(house, {"site.openings.kitchen_window.glass": "yes"})
    notes = {finding.subject: finding.message for finding in said("left_uncovered", glazed)}
    assert "glass of “kitchen_window”" in notes["kitchen"]
    assert "kitchen_window" not in notes
    cat = put(glazed, {"household.pets.+": _CAT | {"free_when_empty": ["kitchen"]}})
    notes = {finding.subject: finding.message for finding in said("left_uncovered", cat)}
    assert "“kitchen_window”: nothing there notices that its glass is broken" in notes["kitchen_window"]
    shock = {"id": "shock", "name": "shock", "kind": "shock", "room": "kitchen", "openings": ["kitchen_window"]}
    assert "kitchen_window" not in {f.subject for f in said("left_uncovered", put(cat, {"devices.+": shock}))}


def test_no_sentence_says_that_an_uncounted_device_adds_nothing(house: Home, put: Put) -> None:
    """A contact on an inside door and one that is taken out are outside of what is counted."""
    inner = {"id": "inner", "name": "inner", "kind": "contact", "room": "living", "passages": ["hall_living"]}
    gone = _SECOND | {"state": "removed"}
    assert said("adds_nothing", put(house, {"devices.+": inner})) == []
    assert said("adds_nothing", put(house, {"devices.+": gone})) == []


def test_what_can_be_covered_by_nothing_is_not_asked_for(house: Home, put: Put) -> None:
    """Where a climbing pet rules out motion detectors, none is asked for; the figure counts what is left uncovered."""
    cat = _CAT | {"free_when_empty": ["kitchen"]}
    home = put(house, {"household.pets.+": cat})
    assert "kitchen" in {finding.subject for finding in said("left_uncovered", house)}
    assert "kitchen" not in {finding.subject for finding in said("left_uncovered", home)}
    (figure,) = (each for each in BY_ID["choice.left_uncovered"].result(home) if isinstance(each, Figure))
    assert "1 can be covered by none" in figure.valid_range


def test_our_own_lines_are_never_a_must(house: Home, put: Put) -> None:
    """All of it is our own line or common practice: never a must."""
    bare = put(house, {"devices.kitchen_window_contact": None, "devices.living_motion": None})
    for home in (house, bare, demo_home()):
        assert all(finding.verdict is not Verdict.MUST for check in BY_ID for finding in said(check[7:], home))


def test_the_choice_is_looked_at_only_when_asked_for(house: Home) -> None:
    """A quick assessment does not run it, a full one does."""
    assert not set(BY_ID) & set(assess(house).results)
    assert set(BY_ID) <= set(assess(house, "full").results)


def blocks(home: Home, copy: Share) -> dict[str, Table]:
    """The tables of the record's section by caption, as one circle of readers gets them."""
    built = choice.build(Context(copy_for(home, copy), Assessment(), copy, "2026-11-25"))
    return {block.caption: block for block in built if isinstance(block, Table)}


def test_the_record_names_the_sets_with_their_bound(house: Home, put: Put) -> None:
    """Three contacts, six rooms: nine detectors; four rooms are missing beside what is there, at 40 each."""
    priced = put(house, {"prices": _PRICES})
    rows = {row[0]: row[1:] for row in blocks(priced, Share.OWNER)["Choices that cover all of it"].rows}
    assert rows == {
        "Fewest, from nothing": ("9", "9 detectors", "9 detectors"),
        "Cheapest, from nothing": ("9", "285", "285"),
        "Cheapest, beside those there": ("4", "160", "160"),
    }


def test_a_price_that_is_missing_is_named(house: Home) -> None:
    """Without prices there is no cheapest set, and the owner reads which kinds have none."""
    built = choice.build(Context(house, Assessment(), Share.OWNER, "2026-11-25"))
    told = " ".join(text for block in built if isinstance(block, Text) for text in block.paragraphs)
    assert "No price is entered for: contact on a door or window, motion detector." in told
    rows = [row[0] for row in blocks(house, Share.OWNER)["Choices that cover all of it"].rows]
    assert rows == ["Fewest, from nothing", "Fewest, beside those there"]


def test_no_price_is_in_a_helpers_copy(house: Home, put: Put) -> None:
    """A helper reads what is missing and how many parts there are, but no amount."""
    priced = put(house, {"prices": [each | {"price": 77.25} for each in _PRICES]})
    owner, helper = (blocks(priced, copy) for copy in (Share.OWNER, Share.HELPER))
    assert "Cost" in owner["Parts by kind"].header
    assert helper["Parts by kind"].header == ("Kind", "Number")
    assert not any("77.25" in cell or "77" in cell for table in helper.values() for row in table.rows for cell in row)
    assert helper["What is missing beside the detectors there"].rows


def test_the_section_comes_after_what_is_there_and_what_it_sees() -> None:
    """For the owner alone, as it names what is missing, and where it is looked for."""
    ids = [section.id for section in LONG]
    assert ids.index("devices") < ids.index("coverage") < ids.index("choice") < ids.index("zones")
    assert choice.level is Share.OWNER


def test_the_cell_prints_the_section() -> None:
    """What the page's check cell prints is the record's section."""
    told = answer(demo_home(), "choice")
    assert "Choices that cover all of it" in told
    assert "Wired or wireless, room by room" in told
