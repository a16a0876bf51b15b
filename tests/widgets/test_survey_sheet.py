"""The survey's tick sheet: its points are there by themselves, an answer is one save, a place is done in one act."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.questions import by_id
from alarmlib.model.survey import POINTS, Answer, Found, Heading
from alarmlib.pages.answers import answer
from alarmlib.pages.forms import build
from alarmlib.store import Edit, Session
from alarmlib.widgets.survey_sheet import SurveySheet

Ask = Callable[..., dict[str, Any]]


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """A home file that holds no point of the survey."""
    return Session.new(tmp_path / "home.json", Home())


def found(session: Session) -> dict[str, Answer]:
    return by_id(session.home.site.answers)


def answered(session: Session, **facts: Found) -> None:
    """One point of the hazards as it is in the home."""
    hoses = Answer(id="hoses", heading=Heading.HAZARDS, **facts)
    site = session.home.site.model_copy(update={"answers": (hoses,)})
    session.replace(session.home.model_copy(update={"site": site}))


def test_every_point_is_there_without_a_button(session: Session) -> None:
    """Before, a home file without the points showed five empty tables until a button on another page was pressed."""
    sheets = [build(session, name) for name in ("round", "hazards")]
    shown = [point["key"] for sheet in sheets for place in sheet.structure["places"] for point in place["points"]]
    assert sorted(shown) == sorted(point.id for point in POINTS)
    assert [sheet.counts["found"]["all"] for sheet in sheets] == [[0, 22], [0, 12]]
    assert session.home.site.answers == ()


def test_the_first_answer_brings_its_point_in_one_save(session: Session, ask: Ask) -> None:
    sheet = build(session, "round")
    assert ask(sheet, "edit", id="gates/found", text="needs_work", seen="")["ok"]
    assert found(session)["gates"].found is Found.NEEDS_WORK
    assert found(session)["gates"].heading is Heading.GROUNDS
    assert sheet.counts["found"]["grounds"] == [1, 9]
    assert ask(sheet, "edit", id="gates/to_do", text="Oil the lock", seen="")["ok"]
    assert found(session)["gates"].to_do == "Oil the lock"
    session.undo()
    session.undo()
    assert session.home.site.answers == ()
    assert sheet.values["gates/found"] == ""


def test_a_place_is_fine_in_one_act_that_is_undone_in_one(session: Session, ask: Ask) -> None:
    """What somebody answered already stays as it is."""
    sheet = build(session, "round")
    ask(sheet, "edit", id="gates/found", text="not_here", seen="")
    said = ask(sheet, "fine", heading="grounds", round="found")
    assert said["say"].startswith("8 points are marked as fine.")
    there = [each.found for each in session.home.site.answers]
    assert (there.count(Found.OK), there.count(Found.NOT_HERE)) == (8, 1)
    assert sheet.counts["found"]["grounds"] == [9, 9]
    ask(sheet, "undo")
    assert list(found(session)) == ["gates"]


def test_the_dark_round_leads_out_of_doors_only(session: Session, ask: Ask) -> None:
    sheet = build(session, "round")
    assert set(sheet.counts["in_the_dark"]) == {"grounds", "outbuildings", "all"}
    ask(sheet, "edit", id="lighting/in_the_dark", text="needs_work", seen="")
    ask(sheet, "edit", id="lighting/found", text="ok", seen="not_looked_at")
    assert sheet.asides == {"lighting/found": "in the dark this needs work."}
    assert "in_the_dark" not in build(session, "hazards").counts


@pytest.mark.parametrize(
    ("before", "chosen", "listed"),
    [
        ({"found": Found.OK, "left": Found.OK}, "needs_work", True),
        ({"found": Found.NEEDS_WORK, "in_the_dark": Found.NEEDS_WORK}, "ok", False),
        ({"found": Found.NEEDS_WORK, "in_the_dark": Found.NEEDS_WORK}, "not_here", False),
    ],
)
def test_an_answer_decides_what_the_to_do_list_says(
    session: Session, ask: Ask, before: dict[str, Found], chosen: str, listed: bool
) -> None:
    """What was put right once and needs work again is listed; what is fine now is not kept by a night."""
    answered(session, **before)
    sheet = build(session, "hazards")
    assert ask(sheet, "edit", id="hoses/found", text=chosen, seen=sheet.values["hoses/found"])["ok"]
    assert ("Look at hoses" in answer(session.home, "to_do")) is listed


def test_what_is_put_right_is_off_the_list_and_stays_told(session: Session, ask: Ask) -> None:
    answered(session, found=Found.NEEDS_WORK)
    sheet = build(session, "hazards")
    assert "Look at hoses" in answer(session.home, "to_do")
    assert ask(sheet, "edit", id="hoses/left", text="ok", seen="not_looked_at")["ok"]
    assert "Look at hoses" not in answer(session.home, "to_do")
    assert found(session)["hoses"].found is Found.NEEDS_WORK


def test_an_own_point_is_added_written_and_taken_away(session: Session, ask: Ask) -> None:
    sheet = build(session, "round")
    row = ask(sheet, "add", heading="outbuildings")["row"]
    assert ask(sheet, "edit", id=f"{row}/point", text="The hen house closes", seen="")["ok"]
    assert found(session)[row].point == "The hen house closes"
    assert sheet.counts["found"]["outbuildings"] == [0, 6]
    assert ask(sheet, "remove", row=row)["ok"]
    assert ask(sheet, "remove", row=row)["error"] == "That point is gone already."
    assert ask(sheet, "edit", id=f"{row}/point", text="Late", seen="")["ok"] is False


def test_two_windows_are_told_of_each_other(session: Session, ask: Ask) -> None:
    """An answer that another window changed meanwhile is not written over."""
    answered(session, found=Found.OK)
    sheet: SurveySheet = build(session, "hazards")
    Session.open(session.path).apply([Edit(("site", "answers", "hoses", "found"), "ok", "not_here")])
    refused = ask(sheet, "edit", id="hoses/found", text="needs_work", seen="ok")
    assert refused["clash"]["theirs"] == "not_here"
    assert found(session)["hoses"].found is Found.NOT_HERE
