"""Going back to a kept save: the list, its buttons, the way back, and saves that are old, newer or broken."""

import gzip
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.home import SCHEMA_VERSION
from alarmlib.pages.saves import FEW, SavesForm
from alarmlib.store import Edit, Save, Session, load

OLD = Path(__file__).parents[1] / "store" / "earlier" / "home_of_0_4.json.gz"


class Clock:
    """A clock that goes on by a minute at each look."""

    def __init__(self) -> None:
        self.at = datetime(2026, 11, 2, 12, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.at += timedelta(minutes=1)
        return self.at


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """A home whose name was changed three times, a minute or more apart."""
    made = Session.new(tmp_path / "home.json", Home(), Clock())
    for name in ("One", "Two", "Three"):
        rename(made, name)
    return made


def rename(session: Session, name: str) -> None:
    session.apply([Edit(("name",), session.home.name, name)])


def press(shown: SavesForm, save: Save) -> dict[str, Any]:
    """What the page is answered when the button of a save was pressed and the question answered with yes."""
    labels = [each["label"] for each in shown.form.structure["actions"]]
    answers: list[dict[str, Any]] = []
    shown.form.send = lambda content, _attached=None: answers.append(content)  # type: ignore[method-assign]
    at = labels.index(f"Go back to {save.called}")
    shown.form._handle_custom_msg({"kind": "action", "n": at, "client": "here", "seq": 1}, [])
    return answers[0]


def written_over(session: Session, save: Save, content: bytes) -> None:
    (session.kept.folder / save.id).write_bytes(content)


def test_each_earlier_save_has_a_button_that_asks_first(session: Session) -> None:
    shown = SavesForm(session)
    actions = shown.form.structure["actions"]
    earlier = session.saves()[-2::-1]
    assert [each["label"] for each in actions] == [f"Go back to {save.called}" for save in earlier]
    assert all("Undo brings it back" in each["confirm"] for each in actions)


def test_going_back__the_home_of_then_is_here_and_undo_brings_back_what_was(session: Session) -> None:
    shown = SavesForm(session)
    one = session.saves()[1]
    answer = press(shown, one)
    assert answer["ok"] and answer["say"] == (
        f"Your home is again as in {one.called}. Undo brings back what you had before."
    )
    assert load(session.path).name == session.home.name == "One"
    assert session.undo().name == "Three"


def test_what_nobody_saved_yet_is_kept_before_going_back(session: Session) -> None:
    """A file changed by hand is in no save: going back keeps it first, and a later going back finds it."""
    document = json.loads(session.path.read_bytes())
    session.path.write_text(json.dumps(document | {"name": "By hand"}), encoding="utf-8")
    shown = SavesForm(session)
    session.refresh()
    shown.list.redraw()
    press(shown, session.saves()[1])
    assert session.home.name == "One"
    by_hand = next(save for save in session.saves() if session.kept.home(save).name == "By hand")
    shown.list.redraw()
    press(shown, by_hand)
    assert session.home.name == "By hand"


def test_the_list_says_when_and_what_changed(session: Session) -> None:
    html = SavesForm(session).list.html
    one, two = session.saves()[1:3]
    assert html.index(two.when) < html.index(one.when)
    assert "Two, before One." in html and "One, before My home." in html
    assert session.saves()[-1].when not in html


def test_a_change_elsewhere_adds_its_save_and_button(session: Session) -> None:
    shown = SavesForm(session)
    three = session.saves()[-1]
    rename(session, "Four")
    shown.list.redraw()
    assert three.when in shown.list.html
    press(shown, three)
    assert session.home.name == "Three"


def test_many_saves__the_newest_are_listed_and_a_button_lists_all(session: Session) -> None:
    for number in range(FEW):
        rename(session, f"More {number}")
    shown = SavesForm(session)
    assert len(shown.form.structure["actions"]) == FEW + 1
    assert shown.show_all() == "All kept saves are listed."
    assert len(shown.form.structure["actions"]) == len(session.saves()) - 1 > FEW
    press(shown, session.saves()[0])
    assert session.home.name == "My home"


def test_a_save_of_an_older_workbook_is_brought_up_and_says_so(session: Session) -> None:
    one = session.saves()[1]
    written_over(session, one, gzip.decompress(OLD.read_bytes()))
    shown = SavesForm(session)
    assert "An older workbook made it." in shown.list.html
    answer = press(shown, one)
    assert answer["ok"] and "An older workbook made that save; it was brought up to this one." in answer["say"]
    assert session.home.name == "The demo home" and len(session.home.device_types) > 5
    assert session.undo().name == "Three"


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b'{"schema_version"', "is not valid JSON at line 1"),
        (b"", "it is empty"),
        (json.dumps({"schema_version": SCHEMA_VERSION + 1}).encode(), "newer workbook"),
        (json.dumps({"schema_version": SCHEMA_VERSION, "units": "furlongs"}).encode(), "furlongs"),
    ],
)
def test_a_save_that_cannot_be_read_says_so_and_changes_nothing(session: Session, content: bytes, why: str) -> None:
    one, before = session.saves()[1], session.path.read_bytes()
    written_over(session, one, content)
    shown = SavesForm(session)
    assert "It cannot be read." in shown.list.html
    answer = press(shown, one)
    assert not answer["ok"]
    assert why in answer["error"] and f"he save of {one.when}" in answer["error"]
    assert answer["error"].endswith("Nothing was changed.") and one.id not in answer["error"]
    assert session.path.read_bytes() == before


def test_a_save_that_is_gone_says_so(session: Session) -> None:
    shown, one = SavesForm(session), session.saves()[1]
    session.kept.drop(one)
    answer = press(shown, one)
    assert not answer["ok"] and "any longer. Nothing was changed." in answer["error"]
    assert session.home.name == "Three"


def test_going_back_to_what_is_there_says_that_nothing_changed(session: Session) -> None:
    session.undo()
    shown = SavesForm(session)
    two = session.saves()[2]
    assert "already. Nothing was changed." in press(shown, two)["say"]


def test_a_home_that_nobody_changed_has_no_save_to_go_back_to(tmp_path: Path) -> None:
    shown = SavesForm(Session.new(tmp_path / "home.json", Home()))
    assert "No earlier save is kept yet." in shown.list.html
    assert shown.form.structure["actions"] == []
