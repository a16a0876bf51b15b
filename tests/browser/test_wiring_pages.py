"""Pages 05 and 06 in Chromium: read by everybody, filled by keyboard, a bad home's findings drawn."""

import os
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

WIRING, SOUND = "05_wiring_power", "06_sounders"
PICTURES = os.environ.get("ALARM_PICTURES", "")  # a folder: then the pages are kept there to be looked at
TOO_WIDE = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *, .alarm-page > *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 120))"""
THEME = "window.jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {}'}})"


def pictures(page: Page, name: str) -> None:
    """Every picture and form of the page, one after the other."""
    if not PICTURES:
        return
    page.set_viewport_size({"width": 1100, "height": 3000})
    for number, part in enumerate(page.locator(".alarm-page, .alarm-form").all()):
        part.screenshot(path=str(Path(PICTURES) / f"{name}_{number:02d}.png"))


@pytest.mark.parametrize("name", [WIRING, SOUND])
def test_it_can_be_read_by_everybody(desk: Any, grave: Any, unfold: Any, name: str) -> None:
    """Forms and pictures of the demo home, in light, dark and on a narrow screen, nothing grave for axe."""
    desk.lay_out(demo=True)
    page = desk.open_whole(name)
    assert grave(page, ".alarm-form", ".alarm-page") == []
    unfold(page)
    title = {WIRING: "What the unit reads", SOUND: "At the pillows, doors closed"}[name]
    expect(page.get_by_role("img", name=title)).to_be_attached()
    assert grave(page, ".alarm-form", ".alarm-page") == []
    pictures(page, name)
    page.evaluate(THEME.format("Dark"))
    try:
        page.wait_for_function("document.body.dataset.jpThemeLight === 'false'")
        page.wait_for_timeout(500)
        assert grave(page, ".alarm-form", ".alarm-page") == []
        pictures(page, f"dark_{name}")
    finally:
        page.evaluate(THEME.format("Light"))
        page.wait_for_function("document.body.dataset.jpThemeLight === 'true'")
    page.set_viewport_size({"width": 390, "height": 800})
    expect(page.locator(".alarm-form").first).to_be_visible()
    assert page.evaluate(TOO_WIDE) == []


def test_filled_by_keyboard_and_judged(desk: Any, unfold: Any) -> None:
    """A battery without a rate, a conductor that is none, a level without its distance, a step ticked: all by keys."""
    desk.lay_out(demo=True)
    page = desk.open_whole(WIRING)
    unfold(page)
    supply = page.get_by_role("group", name="Supply and standby battery")
    battery = supply.get_by_label("Rated capacity of the battery (Ah)", exact=True)
    for text in ("-3", "0", "lots"):
        battery.fill(text)
        battery.press("Enter")
        expect(supply).to_contain_text("Not saved.")
    battery.fill("1.2")
    battery.press("Enter")
    rate = supply.get_by_label("Hours of that rating (h)", exact=True)
    rate.fill("")
    rate.press("Enter")
    expect(supply).to_contain_text("Saved, but: enter over how many hours it is rated")
    rate.fill("20")
    rate.press("Enter")
    runs = page.get_by_role("group", name="Cable that feeds devices")
    size = runs.get_by_label("Conductor").first
    size.fill("red")
    size.press("Enter")
    expect(runs).to_contain_text("it must be a size such as 22 AWG")
    size.fill("24awg")
    size.press("Tab")
    expect(size).to_have_value("24 AWG")
    day = page.get_by_role("group", name="The day of fitting")
    step = day.get_by_role("checkbox", name="The battery is joined last: fuse in its lead, red to red.")
    step.focus()
    step.press("Space")
    expect(day.get_by_role("status").first).to_contain_text("aved")
    page.wait_for_timeout(600)
    stored = desk.stored()["wiring"]
    assert (stored["supply"]["standby_battery_ah"], stored["supply"]["rated_over_h"]) == (1.2, 20)
    assert stored["runs"][0]["size"] == "24 AWG"
    assert "battery" not in stored["done"]
    said = page.get_by_role("listitem").filter(has_text="The standby battery is smaller than the chosen rule asks")
    expect(said.first).to_contain_text("▲ should")  # the European hours are known from memory alone
    expect(page.get_by_text("Next: The battery is joined last").first).to_be_attached()
