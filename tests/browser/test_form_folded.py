"""Long lists of choices and long lists of rows begin folded; what is in them is found, filled and told all the same."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

DEVICES = """
from alarmlib.pages.forms import build
build(session, "devices")
"""


def devices(desk: Any, **more: Any) -> Page:
    desk.lay_out(demo=True)
    return desk.open(desk.write(DEVICES), **more)


def test_rows_begin_folded_and_are_unfolded_by_keyboard(desk: Any, grave: Any) -> None:
    """A row shows its name; unfolded by keys it is filled, and a choice among many is ticked behind its names."""
    page = devices(desk)
    name = page.get_by_label("Device, device 6", exact=True)
    room = page.get_by_label("Room, device 6", exact=True)
    expect(name).to_have_value("Front door contact")
    expect(room).to_be_hidden()
    assert grave(page, ".alarm-form") == []
    unfold = page.get_by_role("button", name="Device 6", exact=True)
    expect(unfold).to_have_attribute("aria-expanded", "false")
    unfold.press("Enter")
    expect(unfold).to_have_attribute("aria-expanded", "true")
    expect(room).to_be_visible()
    guards = page.get_by_role("group", name="Ways in that it guards, device 6", exact=True)
    told = guards.locator("summary")
    expect(told).to_have_text("Front door")
    expect(told).to_have_attribute("aria-label", "Ways in that it guards: Front door")
    expect(guards.get_by_role("checkbox")).to_have_count(0)
    told.press("Enter")
    expect(guards.get_by_role("checkbox")).to_have_count(len(desk.stored()["site"]["openings"]))
    assert grave(page, ".alarm-form") == []
    back = guards.get_by_label("Back door", exact=True)
    back.focus()
    page.keyboard.press("Space")
    expect(told).to_have_text("Front door; Back door")
    expect(page.get_by_role("status").first).to_have_text("✓ Saved.")
    assert desk.stored()["devices"][5]["openings"] == ["front_door", "back_door"]
    page.get_by_role("button", name="Undo the last change").press("Enter")
    expect(told).to_have_text("Front door")
    expect(back).not_to_be_checked()


def test_a_refused_value_shows_itself_in_a_folded_row(desk: Any) -> None:
    """All rows unfold and fold at once; what is wrong in a folded one stays in sight."""
    page = devices(desk)
    page.get_by_role("button", name="Unfold all", exact=True).click()
    height = page.get_by_label("Height above the floor (m), device 2", exact=True)
    height.fill("30")
    height.press("Tab")
    told = page.get_by_role("row", name="Device 2", exact=False).locator(".error").first
    expect(told).to_be_visible()
    page.get_by_role("button", name="Fold all", exact=True).click()
    expect(page.get_by_label("Room, device 2", exact=True)).to_be_hidden()
    expect(told).to_be_visible()
    expect(height).to_have_value("30")
    height.fill("2.4")
    height.press("Tab")
    expect(height).to_be_hidden()
    for _ in range(100):  # the row folds when it is right, which may be before Python has saved it
        if desk.stored()["devices"][1]["height_m"] == 2.4:
            break
        page.wait_for_timeout(100)
    assert desk.stored()["devices"][1]["height_m"] == 2.4


def test_a_new_row_is_open_on_a_narrow_screen_too(desk: Any) -> None:
    page = devices(desk, width=390, height=800)
    number = len(desk.stored()["devices"]) + 1
    page.get_by_role("button", name="Add a device", exact=True).click()
    expect(page.get_by_label(f"Room, device {number}", exact=True)).to_be_visible()
    edges = "const box = document.querySelector('.alarm-form').getBoundingClientRect();"
    page.wait_for_function(f"() => {{ {edges} return box.left >= 0 && box.right <= 390; }}")
