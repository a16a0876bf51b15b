"""The survey's tick sheet: answered by arrow keys, a note where something needs work, a place done in one act."""

from typing import Any

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

SHEET = """
from alarmlib.pages.forms import build
build(session, "round")
"""


def found(desk: Any) -> dict[str, Any]:
    return {each["id"]: each for each in desk.stored()["site"]["answers"]}


def test_the_round_by_keyboard(desk: Any, grave: Any) -> None:
    """From the first line by Tab and arrows to a place that is done, with one note, on a screen and on a phone."""
    desk.lay_out(demo=False)
    page = desk.open(desk.write(SHEET), width=390, height=800)
    status = page.locator(".alarm-form [role=status]").last
    line = page.get_by_role("radiogroup", name="Hedges leave doors, windows and gates in view")
    fine, work = (line.get_by_role("radio", name=name, exact=True) for name in ("Fine", "Needs work"))
    expect(page.get_by_text("0 of 22 looked at")).to_be_visible()
    expect(page.get_by_role("radio", name="Needs work")).to_have_count(9)  # the other places are one line each
    fine.focus()
    page.keyboard.press("Space")
    expect(page.get_by_text("1 of 22 looked at")).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(work).to_be_checked()
    note = page.get_by_label("What to do: Hedges leave doors, windows and gates in view", exact=True)
    expect(note).to_be_visible()
    expect(page.locator(".alarm-form").get_by_role("textbox")).to_have_count(1)  # no other line has a note
    page.keyboard.press("Tab")
    expect(note).to_be_focused()
    page.keyboard.type("Cut the laurel")
    page.keyboard.press("Tab")
    expect(status).to_have_text("✓ Saved.")
    assert (found(desk)["hedges"]["found"], found(desk)["hedges"]["to_do"]) == ("needs_work", "Cut the laurel")
    page.get_by_role("button", name="The rest is fine: Street and grounds").press("Enter")
    expect(status).to_contain_text("8 points are marked as fine.")
    expect(page.get_by_text("✓ 9 of 9 looked at")).to_be_visible()
    expect(page.get_by_text("9 of 22 looked at")).to_be_visible()
    assert grave(page, ".alarm-form") == []
    page.get_by_role("button", name="Undo the last change").press("Enter")
    expect(page.get_by_text("1 of 22 looked at")).to_be_visible()
    expect(work).to_be_checked()
    assert {each["found"] for each in found(desk).values()} == {"needs_work", "not_looked_at"}
    buttons = page.locator(".alarm-form").get_by_role("button").all()
    low = [box.bounding_box()["height"] for box in (*line.locator("label").all(), *buttons) if box.is_visible()]
    assert min(low) >= 44  # WCAG 2.2, 2.5.5 Target Size (Enhanced): 44 CSS pixels
