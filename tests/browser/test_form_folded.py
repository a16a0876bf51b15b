"""What the next result does not need is folded: filled and told all the same, and opened by a link to a field."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

DEVICES = """
from alarmlib.pages.forms import build
build(session, "devices")
"""
SUPPLY = """
from alarmlib.pages.forms import build
build(session, "supply")
"""
ASKING = """
from alarmlib.widgets.view import Drawn, View
link = '<a href="02_detectors.ipynb" data-field="{}">{}</a>'
asked = link.format("devices/front_door_contact/fitted_on", "the day") + link.format("wiring/supply/end_v", "the end")
View(session, "Asks", lambda home: Drawn("Asks", asked + link.format("devices/missing/note", "what is gone")))
"""
PRINTED = "() => getComputedStyle(document.querySelector('.alarm-form .away')).display"


def devices(desk: Any, *cells: str, **more: Any) -> Page:
    desk.lay_out(demo=True)
    page: Page = desk.open(desk.write(DEVICES, *cells), **more)
    return page


def test_a_long_list_begins_as_one_line_and_opens_by_keyboard(desk: Any, grave: Any) -> None:
    """The line, the rows, "More" below a row: each by keys, with its state said; what was opened stays open."""
    page = devices(desk)
    count = len(desk.stored()["devices"])
    expect(page.get_by_text(f"{count} devices", exact=False).first).to_be_visible()
    name = page.get_by_label("Device, device 6", exact=True)
    expect(name).to_be_hidden()
    assert grave(page, ".alarm-form") == []
    show = page.get_by_role("button", name="Show: Devices", exact=True)
    expect(show).to_have_attribute("aria-expanded", "false")
    show.press("Enter")
    hide = page.get_by_role("button", name="Hide: Devices", exact=True)
    expect(hide).to_have_attribute("aria-expanded", "true")
    expect(hide).to_be_focused()
    expect(name).to_have_value("Front door contact")
    price = page.get_by_label("Price, device 6", exact=True)
    expect(price).to_be_hidden()
    more = page.get_by_role("button", name=re.compile("More.*device 6$"))
    more.press("Enter")
    expect(more).to_have_attribute("aria-expanded", "true")
    page.keyboard.press("Tab")  # "Remove", then the first field below the row
    page.keyboard.press("Tab")
    expect(page.get_by_label("State, device 6", exact=True)).to_be_focused()
    assert grave(page, ".alarm-form") == []
    guards = page.get_by_role("group", name="Ways in that it guards, device 6", exact=True)
    told = guards.locator("summary")
    expect(told).to_have_text("Front door")
    expect(guards.get_by_role("checkbox")).to_have_count(0)
    told.press("Enter")
    expect(guards.get_by_role("checkbox")).to_have_count(len(desk.stored()["site"]["openings"]))
    back = guards.get_by_label("Back door", exact=True)
    back.focus()
    page.keyboard.press("Space")
    expect(told).to_have_text("Front door; Back door")
    expect(page.get_by_role("status").first).to_have_text("✓ Saved.")
    assert desk.stored()["devices"][5]["openings"] == ["front_door", "back_door"]
    page.get_by_role("button", name="Undo the last change").press("Enter")
    expect(told).to_have_text("Front door")
    expect(price).to_be_visible()
    page.emulate_media(media="print")
    assert page.evaluate(PRINTED) != "none"
    page.emulate_media(media="screen")
    assert page.evaluate(PRINTED) == "none"


def test_what_is_opened_stays_open_when_the_page_is_run_again(desk: Any, run_all: Any) -> None:
    page = devices(desk, SUPPLY)
    page.get_by_role("button", name="Show: Devices", exact=True).click()
    page.get_by_role("button", name=re.compile("More.*device 6$")).click()
    page.get_by_role("button", name="Help", exact=True).click()  # the bar itself offers it only where Python is late
    run_all(page)
    expect(page.get_by_label("Price, device 6", exact=True)).to_be_visible()
    expect(page.get_by_label("Price, device 7", exact=True)).to_be_hidden()
    expect(page.get_by_role("group", name="Supply and standby battery").locator(".rest")).to_be_hidden()


def test_a_refused_value_opens_what_hides_it(desk: Any) -> None:
    """A value that was refused is in sight, also if its reader folds the list away meanwhile."""
    page = devices(desk)
    page.get_by_role("button", name="Show: Devices", exact=True).click()
    more = page.get_by_role("button", name=re.compile("More.*device 2$"))
    more.click()
    height = page.get_by_label("Height above the floor (m), device 2", exact=True)
    height.fill("30")
    more.focus()
    more.press("Enter")
    expect(page.locator(".alarm-form .error").first).to_be_visible()
    expect(height).to_have_value("30")
    height.fill("2.4")
    height.press("Tab")
    expect(page.locator(".alarm-form .error")).to_have_count(0)
    for _ in range(100):
        if desk.stored()["devices"][1]["height_m"] == 2.4:
            break
        page.wait_for_timeout(100)
    assert desk.stored()["devices"][1]["height_m"] == 2.4


def test_a_link_leads_to_its_field(desk: Any) -> None:
    """On this page what hides it opens, the keyboard is in it; a finding's field is not behind "More"."""
    page = devices(desk, SUPPLY, ASKING)
    end = page.get_by_label("Voltage at which the battery is empty (V)", exact=True)
    page.get_by_role("link", name="the day").focus()
    page.keyboard.press("Enter")
    fitted = page.get_by_label("Fitted on, device 6", exact=True)
    expect(fitted).to_be_focused()
    expect(fitted).to_be_in_viewport()
    page.get_by_role("link", name="the end").click()
    expect(end).to_be_focused()


def test_a_link_to_another_page_leads_to_its_field_there(desk: Any) -> None:
    desk.lay_out(demo=True)
    page = desk.open_whole("06_sounders")
    page.get_by_role("button", name="Show: What sounds, and how loud").click()
    page.locator(".there a").last.click()
    expect(page.get_by_label("Device, device 1", exact=True)).to_be_focused(timeout=60_000)
    page.wait_for_timeout(4500)
    expect(page.get_by_label("Device, device 1", exact=True)).to_be_in_viewport()


def test_a_new_row_is_open_on_a_narrow_screen_too(desk: Any) -> None:
    page = devices(desk, width=390, height=800)
    number = len(desk.stored()["devices"]) + 1
    page.get_by_role("button", name="Show: Devices", exact=True).click()
    page.get_by_role("button", name="Add a device", exact=True).click()
    expect(page.get_by_label(f"Room, device {number}", exact=True)).to_be_visible()
    edges = "const box = document.querySelector('.alarm-form').getBoundingClientRect();"
    page.wait_for_function(f"() => {{ {edges} return box.left >= 0 && box.right <= 390; }}")
