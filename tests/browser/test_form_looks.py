"""Forms on a narrow window, in the dark, and for people who hear the page."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

OVERFLOW = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 80))"""


def assert_no_serious(page: Page) -> None:
    """axe on the forms only: JupyterLab's own shell has faults that are not ours."""
    found = Axe().run(page, context=".alarm-form").response["violations"]
    grave = [(each["id"], each["nodes"][0]["html"]) for each in found if each["impact"] in {"serious", "critical"}]
    assert grave == []


def make_wrong(page: Page) -> None:
    """A form with an error and a warning on it."""
    form = page.get_by_role("group", name="Hall")
    form.get_by_label("Ceiling height (m)", exact=True).fill("25")
    form.get_by_label("Note", exact=True).fill("the code is 1234")
    form.get_by_label("Note", exact=True).blur()
    expect(form.get_by_role("group", name="Warning for Note")).to_be_visible()


def theme(page: Page, name: str) -> None:
    """Choose one of JupyterLab's themes."""
    page.evaluate(f"window.jupyterapp.commands.execute('apputils:change-theme', {{theme: '{name}'}})")


def test_labels_and_axe_light_and_dark(desk, tmp_path) -> None:
    """Form and table with an error and a warning: nothing serious for axe, in the light and the dark theme."""
    page = desk.open(desk.write("FORM", "TABLE"))
    make_wrong(page)
    assert_no_serious(page)
    page.screenshot(path=tmp_path / "light.png")
    theme(page, "JupyterLab Dark")
    page.wait_for_function("document.body.dataset.jpThemeLight === 'false'")
    page.wait_for_timeout(500)
    try:
        page.screenshot(path=tmp_path / "dark.png")
        assert_no_serious(page)
        ink, paper = page.locator(".alarm-form").first.evaluate(
            "(form) => [getComputedStyle(form).color, getComputedStyle(form).backgroundColor]"
        )
        assert (ink, paper) == ("rgb(227, 235, 228)", "rgb(20, 32, 27)")  # the dark look of record/template/look.css
    finally:
        theme(page, "JupyterLab Light")
        page.wait_for_timeout(800)


LIMITS = """
from alarmlib.model.control_unit import UnitLimits
names = ["recognises", "zones", "circuits", "wireless_slots", "keypads"]
Form(session, FormSpec("Limits", (("", fields_of(UnitLimits, names, ("control_unit", "limits"))),)))
"""
ROOM_FOR_TEXT = """(select) => {
  const style = getComputedStyle(select), pen = document.createElement('canvas').getContext('2d');
  pen.font = style.font;
  const widest = Math.max(...[...select.options].map((each) => pen.measureText(each.text).width));
  return select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 16 - widest; // its arrow
}"""


def test_a_long_choice_fits_its_box(desk) -> None:
    """At 1366 by 768 “each wireless device and each wired circuit” was cut off in its box."""
    page = desk.open(desk.write(LIMITS), width=1366, height=768)
    assert page.locator(".alarm-form select").first.evaluate(ROOM_FOR_TEXT) >= 0


def test_a_narrow_window_cuts_nothing_off(desk, tmp_path) -> None:
    """At 390 pixels nothing of form or table reaches past the right edge, and every input can be reached."""
    page = desk.open(desk.write("FORM", "TABLE"), width=390, height=800)
    make_wrong(page)
    assert page.evaluate(OVERFLOW) == []
    for cell in page.get_by_role("group", name="Rooms").locator("input, select").all():
        cell.scroll_into_view_if_needed()
        box = cell.bounding_box()
        assert box is not None and box["x"] >= 0 and box["x"] + box["width"] <= 390
    page.get_by_role("group", name="Rooms").screenshot(path=tmp_path / "narrow_table.png")
    page.get_by_role("group", name="Hall").screenshot(path=tmp_path / "narrow_form.png")
