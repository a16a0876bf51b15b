"""Bulk entry: rows added, removed, brought back and pasted, all or nothing."""

from typing import Any

import pytest

from alarmlib.model.site import Room
from alarmlib.store import Session
from alarmlib.widgets.spec import TableSpec, fields_of, numbered
from alarmlib.widgets.table import MOST_PASTED, TableForm


def table(session: Session, **more: Any) -> TableForm:
    columns = fields_of(Room, ["name", "storey", "ceiling_m", "guarded"], options={"storey": storeys})
    blank = {"name": "", "storey": "ground"}
    spec = TableSpec("Rooms", ("site", "rooms"), columns, "Add", numbered("room"), lambda _home: blank, **more)
    return TableForm(session, spec, raising=True)


def storeys(home: Any) -> list[tuple[str, str]]:
    return [(each.id, each.name) for each in home.site.storeys]


def names(session: Session) -> list[str]:
    return [room.name for room in Session.open(session.path).home.site.rooms]


def test_edit__of_a_cell(session, ask) -> None:
    assert ask(table(session), "edit", id="hall/ceiling_m", text="2.6", seen="2.4")["ok"]
    assert session.home.site.rooms[0].ceiling_m == 2.6


def test_add_remove_undo(session, ask) -> None:
    made = table(session)
    added = ask(made, "add")
    assert (added["row"], made.rows) == ("room_1", ["hall", "study", "room_1"])
    assert ask(made, "remove", row="study")["say"].startswith("Row 2 is removed")
    assert names(session) == ["Hall", ""]
    assert ask(made, "undo")["ok"]
    assert made.rows == ["hall", "study", "room_1"]


def test_remove__a_row_that_is_gone(session, ask) -> None:
    assert ask(table(session), "remove", row="attic")["error"] == "That row is gone already."


def test_edit__of_a_row_removed_elsewhere_is_told(session, ask) -> None:
    made = table(session)
    ask(table(Session.open(session.path)), "remove", row="study")
    answer = ask(made, "edit", id="study/name", text="Den", seen="Study")
    assert "was removed on another page" in answer["error"]
    assert made.rows == ["hall"]


def test_paste__fills_and_adds(session, ask) -> None:
    made = table(session)
    answer = ask(made, "paste", row="study", column=0, text="Den\tGround\t2,4\tno\nBath\tground\t\tyes\n")
    assert answer["say"] == "Pasted 2 lines; 1 of them is a new row."
    rooms = session.home.site.rooms
    assert [(room.name, room.ceiling_m, room.guarded) for room in rooms[1:]] == [
        ("Den", 2.4, False),
        ("Bath", None, True),
    ]


@pytest.mark.parametrize(
    ("column", "text", "said"),
    [
        (2, "2.5\tyes\n99\tno", "Line 2, Ceiling height (m): “99” is not allowed here"),
        (1, "Roof", "Line 1, Floor: “Roof” is not allowed here; choose one of: Ground. Nothing was pasted."),
        (3, "yes\tno", "Line 1 has 2 cells, but only 1 columns follow"),
        (0, "x\n" * (MOST_PASTED + 1), "too many for one paste"),
    ],
)
def test_paste__all_or_nothing(session, ask, column: int, text: str, said: str) -> None:
    before = session.path.read_bytes()
    answer = ask(table(session), "paste", row="hall", column=column, text=text)
    assert said in answer["error"]
    assert session.path.read_bytes() == before


def test_paste__a_cell_as_shown_keeps_its_digits(session, ask) -> None:
    exact = session.home.model_dump(mode="json")
    exact["site"]["rooms"][0]["ceiling_m"] = 7 / 3
    session.replace(type(session.home).model_validate(exact))
    assert ask(table(session), "paste", row="hall", column=2, text="2.333\tno")["ok"]
    assert (session.home.site.rooms[0].ceiling_m, session.home.site.rooms[0].guarded) == (7 / 3, False)


def test_keep__shows_only_chosen_rows(session) -> None:
    assert table(session, keep=lambda room: room.use == "study").rows == ["study"]
