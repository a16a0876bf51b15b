"""What a folded form says: rows, what lacks something, what is entered, and the fields behind "More"."""

from dataclasses import replace

import pytest

from alarmlib.model.site import Room
from alarmlib.pages.declaring import folded
from alarmlib.store import Session
from alarmlib.widgets.folding import is_entered, is_missing, plural, said_of_rows
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import FormSpec, TableSpec, fields_of
from alarmlib.widgets.table import TableForm

FIELDS = fields_of(Room, ["name", "ceiling_m", "use", "guarded"])


def rooms(session: Session, essential: str = "name ceiling_m", **more: object) -> TableForm:
    columns = folded(FIELDS, essential, "")
    spec = TableSpec("Rooms", ("site", "rooms"), columns, row_word="room", more="It helps.", summed=True)
    spec = replace(spec, blank=lambda _home: {"name": "", "storey": "ground"})
    return TableForm(session, replace(spec, **more), raising=True)


@pytest.mark.parametrize(
    ("word", "said"),
    [("way in", "ways in"), ("box", "boxes"), ("entry/exit door", "entry/exit doors"), ("reply", "replies")],
)
def test_several_rows_are_called_so(word: str, said: str) -> None:
    assert (plural(word, 1), plural(word, 2)) == (word, said)


def test_a_list_says_what_it_lacks() -> None:
    """Three names at most; a list in which nothing is waited for judges nothing."""
    assert said_of_rows("way in", 13, []) == "13 ways in, nothing missing."
    assert said_of_rows("device", 2, ["Hall", ""]) == (
        "2 devices. Something is missing in 2: “Hall”, one without a name."
    )
    assert said_of_rows("device", 9, ["A", "B", "C", "D", "E"]).endswith("“A”, “B”, “C” and 2 more.")
    assert said_of_rows("point", 9, None) == "9 points."
    assert said_of_rows("point", 0, []) == "No point is listed yet."


def test_only_what_is_waited_for_is_missing() -> None:
    """A blank of a field behind "More" is not missing, nor is what begins with a value entered."""
    name, ceiling, use, _ = folded(FIELDS, "name ceiling_m", "name")
    assert not is_missing(name, "")
    assert is_missing(ceiling, None)
    assert not is_missing(use, None)
    assert use.more
    assert not is_entered(use, use.default)
    with pytest.raises(ValueError, match="no such field: nam"):
        folded(FIELDS, "nam", "")


def test_a_list_that_lacks_nothing_begins_folded(session, ask) -> None:
    """It says so in its line, live; a long one begins folded though it lacks something."""
    made = rooms(session)
    assert made.folding["line"] == "2 rooms. Something is missing in 1: “Study”."
    assert not made.folding["folded"]
    assert ask(made, "edit", id="study/ceiling_m", text="2.4", seen="")["ok"]
    assert made.folding["filled"] == {"hall": 0, "study": 1}
    assert (made.folding["line"], made.folding["folded"]) == ("2 rooms, nothing missing.", True)
    assert ask(made, "paste", row="study", column=0, text="\n".join("ABCDEFGHI"))["ok"]
    assert made.folding["line"].startswith("10 rooms. Something is missing in 8: “B”")
    assert made.folding["folded"]


def test_a_list_of_another_page_takes_and_loses_no_rows(session, ask) -> None:
    made = rooms(session, "ceiling_m", listed_on=("01_survey", "“Rooms” on page 01"))
    assert made.folding["names"] == {"hall": "Hall", "study": "Study"}
    pasted = {"row": "study", "column": 0, "text": "2\n3"}
    for kind, more in (("add", {}), ("remove", {"row": "hall"}), ("paste", pasted)):
        assert ask(made, kind, **more)["error"] == "Rooms are added and removed in “Rooms” on page 01."
    assert len(session.home.site.rooms) == 2


def test_a_form_that_lacks_nothing_begins_folded(session, ask) -> None:
    fields = folded(fields_of(Room, ["name", "ceiling_m", "use"], ("site", "rooms", "study")), "name ceiling_m", "")
    made = Form(session, FormSpec("Study", (("", fields),), summed=True), raising=True)
    assert made.folding == {"line": "", "folded": False, "filled": {"": 1}}
    assert ask(made, "edit", id="site/rooms/study/ceiling_m", text="2.4", seen="")["ok"]
    assert made.folding["line"] == "Nothing is missing. 3 values are entered."
    assert made.folding["folded"]
