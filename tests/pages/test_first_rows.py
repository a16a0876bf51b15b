"""The first row of a table of a blank home: it works, or one sentence says what comes first."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.draft.blank import blank_home
from alarmlib.pages.forms import table
from alarmlib.pages.tables import LISTS
from alarmlib.store import Session


@pytest.fixture
def blank(tmp_path: Path) -> Session:
    return Session.new(tmp_path / "home.json", blank_home())


def add(session: Session, name: str) -> dict[str, Any]:
    """What the page is answered when a row is added."""
    answers: list[dict[str, Any]] = []
    form = table(session, LISTS[name])
    form.send = lambda content, _attached=None: answers.append(content)  # type: ignore[method-assign]
    form._handle_custom_msg({"kind": "add", "client": "here", "seq": 1}, [])
    return answers[0]


def test_a_room_before_any_storey_brings_a_ground_floor(blank: Session) -> None:
    assert add(blank, "rooms")["ok"]
    assert [(each.name, each.level) for each in blank.home.site.storeys] == [("Ground floor", 0)]
    assert add(blank, "rooms")["ok"]
    assert [room.storey for room in blank.home.site.rooms] == [blank.home.site.storeys[0].id] * 2
    blank.undo()
    blank.undo()
    assert (blank.home.site.storeys, blank.home.site.rooms) == ((), ())


@pytest.mark.parametrize(("name", "where"), [("room_facts", "Rooms"), ("opening_facts", "Ways in")])
def test_a_row_comes_and_goes_in_its_own_list(blank: Session, name: str, where: str) -> None:
    """The further facts of a room or way in are asked of those that are there, which are named and not asked again."""
    assert add(blank, name)["error"] == f"{where} are added and removed in “{where}” above."


def test_a_room_takes_the_first_storey_there_is(blank: Session) -> None:
    assert add(blank, "storeys")["ok"]
    assert add(blank, "rooms")["ok"]
    assert len(blank.home.site.storeys) == 1


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("openings", "“Room it leads into” of a new way in"),
        ("passages", "“From” of a new passage"),
        ("furniture", "“Room” of a new piece"),
        ("fixtures", "“Room” of a new fixture"),
    ],
)
def test_a_row_that_must_name_what_is_not_there_says_what_comes_first(blank: Session, name: str, what: str) -> None:
    before = blank.path.read_bytes()
    answer = add(blank, name)
    assert not answer["ok"]
    assert answer["error"] == f"{what} has nothing to choose from yet. Enter that in its own table first."
    assert blank.path.read_bytes() == before
