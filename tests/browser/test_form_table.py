"""Bulk entry by table: typed, added, removed, brought back and pasted by keyboard alone."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


def test_table_by_keyboard(desk, status) -> None:
    """Add a row, fill it, remove it, undo, paste from a spreadsheet: focus stays where the person works."""
    page = desk.open(desk.write("TABLE"))
    table = page.get_by_role("group", name="Rooms")
    table.get_by_role("button", name="Add a room").press("Enter")
    name = table.get_by_label("Room, row 3", exact=True)
    expect(name).to_be_focused()
    page.keyboard.type("Kitchen")
    page.keyboard.press("Tab")
    expect(status(page)).to_have_text("✓ Saved.")
    assert [room["name"] for room in desk.stored()["site"]["rooms"]] == ["Hall", "Study", "Kitchen"]

    table.get_by_role("button", name="Remove row 2").press("Enter")
    expect(table.get_by_role("button", name="Remove row 2")).to_be_focused()
    expect(table.get_by_label("Room, row 2", exact=True)).to_have_value("Kitchen")
    assert [room["name"] for room in desk.stored()["site"]["rooms"]] == ["Hall", "Kitchen"]
    table.get_by_role("button", name="Undo the last change").press("Enter")
    expect(table.get_by_label("Room, row 2", exact=True)).to_have_value("Study")
    assert [room["name"] for room in desk.stored()["site"]["rooms"]] == ["Hall", "Study", "Kitchen"]

    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    copied = "Den\tGround\t2,4\tno\nBath\tground\t2.3 m\tyes\r\n"
    page.evaluate("(text) => navigator.clipboard.writeText(text)", copied)
    table.get_by_label("Room, row 3", exact=True).press("Control+v")
    expect(status(page)).to_have_text("Pasted 2 lines; 1 of them is a new row.")
    rooms = desk.stored()["site"]["rooms"]
    assert [(room["name"], room["ceiling_m"], room["guarded"]) for room in rooms[2:]] == [
        ("Den", 2.4, False),
        ("Bath", 2.3, True),
    ]
    expect(table.get_by_label("Ceiling height (m), row 4", exact=True)).to_have_value("2.3")

    page.evaluate("(text) => navigator.clipboard.writeText(text)", "Loft\tGround\t99\n")
    table.get_by_label("Room, row 1", exact=True).press("Control+v")
    expect(status(page)).to_contain_text("Line 1, Ceiling height (m): “99” is not allowed here")
    assert desk.stored()["site"]["rooms"] == rooms
