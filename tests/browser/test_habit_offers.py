"""A habit by one press: from the template to what the control unit does with it, and back by one undo."""

from typing import Any

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

OFFERS = """
from alarmlib.pages.forms import build
build(session, "habit_offers")
"""
PLAYED = """
from alarmlib.pages.views import answered
answered(session, "habits")
"""


def test_a_template_is_added_played_and_undone(desk: Any, grave: Any, unfold: Any) -> None:
    """The button goes, the habit's line comes with where it leads; undo brings back the button."""
    desk.lay_out(demo=True)
    before = desk.stored()["household"]["habits"]
    page = desk.open(desk.write(OFFERS, PLAYED))
    offer = page.get_by_role("button", name="Coming home: Garage door", exact=True)
    offer.press("Enter")
    expect(page.get_by_text(f"All {len(before) + 1} habits lead where they should.")).to_be_visible()
    unfold(page)
    row = page.get_by_role("row", name="Grandparent comes home: Garage door")
    expect(row).to_contain_text("Grandparent opens Garage door, walks to Utility room keypad and unsets the alarm")
    expect(row).to_contain_text("Yes, 7 s to spare")
    expect(page.get_by_role("status").first).to_contain_text("is among your habits.")
    expect(offer).to_have_count(0)
    assert [each["id"] for each in desk.stored()["household"]["habits"]][len(before) :] == ["coming_home_garage_door"]
    assert grave(page, ".alarm-form", ".alarm-page") == []
    page.locator(".alarm-form").get_by_role("button", name="Undo the last change").press("Enter")
    expect(row).to_have_count(0)
    expect(page.get_by_text(f"All {len(before)} habits lead where they should.")).to_be_visible()
    expect(offer).to_be_visible()
    assert desk.stored()["household"]["habits"] == before
