"""What the bar over a page asks Python: the last change taken back, whichever page made it."""

from pathlib import Path

import pytest

from alarmlib.model import Home
from alarmlib.pages.bar import answer, undone
from alarmlib.record.compare import FieldChange
from alarmlib.store import Edit, Session


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """Another page's session of the home beside this one."""
    monkeypatch.chdir(tmp_path)
    hall = {"id": "hall", "name": "Hall", "storey": "g", "ceiling_m": 2.4}
    site = {"storeys": [{"id": "g", "name": "Ground"}], "rooms": [hall]}
    return Session.new(tmp_path / "home.json", Home.model_validate({"name": "Mine", "site": site}))


def test_undo_says_what_it_undid_until_nothing_is_left(session: Session) -> None:
    """Both changes are taken back in turn, each in a sentence; then one sentence refuses."""
    path = ("site", "rooms", "hall", "ceiling_m")
    session.apply([Edit(("name",), "Mine", "Ours")])
    session.apply([Edit(path, 2.4, 2.7)])
    assert answer({"kind": "undo"}) == {"say": "Undone. “Rooms, Hall, Ceiling height” is again: 2.4 m."}
    assert session.refresh().site.rooms[0].ceiling_m == 2.4
    assert answer({"kind": "undo"}) == {"say": "Undone. “Nickname of the home” is again: Mine."}
    assert answer({"kind": "undo"}) == {"error": "There is no earlier change to undo."}
    assert session.refresh().name == "Mine"


def test_what_cannot_be_done_is_one_sentence(session: Session) -> None:
    """A home file that cannot be read, and a question that nobody knows."""
    session.path.write_text("{", encoding="utf-8")
    assert "home.json" in answer({"kind": "undo"})["error"]
    assert answer({"kind": "dance"})["error"].startswith("Something went wrong inside: KeyError")


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        ("–", "added", "Undone. “Rooms, Hall” is back."),
        ("was here", "taken out", "Undone. “Rooms, Hall” is taken out again."),
        ("2.4 m", "–", "Undone. “Rooms, Hall” is blank again."),
        ("in another order", "in a new order", "Undone. “Rooms, Hall” is in its earlier order."),
    ],
)
def test_each_kind_of_change_is_told(before: str, after: str, told: str) -> None:
    change = FieldChange("The home, Rooms, Hall", before, after)
    assert undone((change,)) == told
    assert undone((change, change, change)) == f"{told} 2 more fields went back with it."
    assert undone(()) == "The last change is undone."
