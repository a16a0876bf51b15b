"""The workbook alone: one bar over a page, none of Jupyter's, and the ways from page to page."""

from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.browser

JUPYTERS = "#jp-top-panel, #jp-menu-panel, #jp-bottom-panel, .jp-SideBar, .jp-NotebookPanel-toolbar, .jp-Collapser, "
JUPYTERS += ".jp-InputPrompt, .jp-OutputPrompt, .jp-Placeholder, .jp-cell-toolbar"
BUTTONS = ("Undo", "Next", "Help", "Print")  # of a first page, which has no way back
AT = "() => { const at = document.activeElement; return `${at.tagName} ${at.textContent || at.name || ''}`.trim(); }"
CELLS = "() => window.jupyterapp.shell.currentWidget.content.model.cells.length"
DIRTY = "() => window.jupyterapp.status.isDirty"
ASKS = """() => {
  const leave = new Event('beforeunload', { cancelable: true });
  window.dispatchEvent(leave);
  return leave.defaultPrevented;
}"""
SETUP = "from alarmlib import pages\npages.setup()"
TALL = """
from IPython.display import HTML, display
for n in range(3):
    display(HTML(f'<p style="height: 700px">Part {n}</p>'))
"""


def bar(page: Page) -> Locator:
    """The bar of the page in view."""
    return page.locator(".alarmlib-bar:visible")


def press(page: Page, name: str) -> None:
    """One of the bar's buttons."""
    bar(page).get_by_role("button", name=name, exact=True).click()


def two_pages(desk: Any) -> Page:
    """The first of two pages with a form each, drawn."""
    desk.write(SETUP, TALL, "FORM", name="2_second.ipynb")
    page: Page = desk.open(desk.write(SETUP, "FORM", TALL, name="1_first.ipynb"))
    expect(bar(page).locator(".saved")).to_have_text("Saved")
    return page


def test_nothing_of_jupyters_is_in_sight_or_in_the_way(desk, field) -> None:
    """No bar, mark or file name; the first Tab skips or comes to the bar; no key, click or menu changes a cell."""
    page = two_pages(desk)
    expect(page.locator(JUPYTERS).locator("visible=true")).to_have_count(0)
    expect(bar(page)).to_have_attribute("aria-label", "1_first, page 1 of 2")
    assert page.title() == "1_first · Home alarm workbook"
    assert not page.evaluate(DIRTY)
    stops = []
    for _ in range(6):
        page.keyboard.press("Tab")
        stops.append(page.evaluate(AT))
    assert stops == [*(f"BUTTON {name}" for name in ("Skip to the first question", *BUTTONS)), "INPUT"]
    bar(page).get_by_role("button", name="Skip to the first question").press("Enter")
    expect(field(page, "Room")).to_be_focused()

    cells = page.evaluate(CELLS)
    page.get_by_text("Part 0").dblclick()
    keys = "Shift+Enter Alt+Enter Control+Enter Escape Enter b d d Control+Shift+C Control+B"
    for key in keys.split():
        page.keyboard.press(key)
    page.get_by_text("Part 0").click(button="right")
    page.wait_for_timeout(300)
    expect(page.locator(".lm-Menu, .lm-CommandPalette, .jp-Dialog").locator("visible=true")).to_have_count(0)
    expect(page.locator(JUPYTERS).locator("visible=true")).to_have_count(0)
    assert page.evaluate(CELLS) == cells
    assert not page.evaluate(DIRTY)


def test_pages_are_turned_by_the_bar_and_by_the_browser(desk, field) -> None:
    """Next, Back, the browser's Back and Forward: what was typed is saved, one kernel is left, the place is kept."""
    page = two_pages(desk)
    expect(bar(page).get_by_role("button", name="Back")).to_be_disabled()
    field(page, "Note").fill("typed and left at once")
    press(page, "Next")
    expect(bar(page)).to_contain_text("page 2 of 2")
    expect(bar(page).get_by_role("button", name="Next")).to_be_disabled()
    assert desk.hall["note"] == "typed and left at once"
    assert page.url.endswith("/2_second.ipynb")
    expect(bar(page).locator(".saved")).to_have_text("Saved")
    field(page, "Note").scroll_into_view_if_needed()
    page.wait_for_timeout(400)

    page.go_back()
    expect(bar(page)).to_contain_text("page 1 of 2")
    expect(field(page, "Note")).to_have_value("typed and left at once")
    expect(bar(page).locator(".saved")).to_have_text("Saved")
    assert [each["path"].rsplit("/", 1)[-1] for each in desk.lab.call("GET", "api/sessions")] == ["1_first.ipynb"]
    page.go_forward()
    expect(bar(page)).to_contain_text("page 2 of 2")
    expect(field(page, "Note")).to_be_in_viewport()
    expect(page.get_by_text("Part 0")).not_to_be_in_viewport()
    press(page, "Back")
    expect(bar(page)).to_contain_text("page 1 of 2")
    assert page.url.endswith("/1_first.ipynb")


def test_the_bar_tells_what_is_saved_and_undoes(desk, field) -> None:
    """An edit, one that is refused, and the undo of the first; then there is nothing left to undo."""
    page = two_pages(desk)
    saved = bar(page).locator(".saved")
    field(page, "Ceiling height (m)").fill("2.6")
    field(page, "Ceiling height (m)").press("Tab")
    expect(saved).to_have_text("Saved")
    assert desk.hall["ceiling_m"] == 2.6
    expect(page.locator("#alarm-announcer")).to_have_text("✓ Saved.")
    expect(page.locator(".alarm-form [role=status]")).to_have_attribute("aria-live", "off")  # one line reads it out
    field(page, "Floor area (m²)").fill("none")
    field(page, "Floor area (m²)").press("Tab")
    expect(saved).to_have_text("Not saved: look at the marked field")
    assert page.evaluate(ASKS)  # what is not saved would be lost with the window
    field(page, "Floor area (m²)").fill("")
    field(page, "Floor area (m²)").press("Tab")
    expect(saved).to_have_text("Saved")
    assert not page.evaluate(ASKS)
    press(page, "Undo")
    said = bar(page).locator(".said")
    expect(said).to_have_text("Undone. “Rooms, Hall, Ceiling height” is again: 2.4 m.")
    expect(page.locator("#alarm-announcer")).to_have_text("Undone. “Rooms, Hall, Ceiling height” is again: 2.4 m.")
    expect(field(page, "Ceiling height (m)")).to_have_value("2.4")
    assert desk.hall["ceiling_m"] == 2.4
    press(page, "Undo")
    expect(said).to_have_text("✗ There is no earlier change to undo.")
    press(page, "Close")
    expect(said).to_be_hidden()
    desk.lab.restart(desk.folder.name + "/1_first.ipynb")
    expect(saved).to_have_text("Python has stopped")
    press(page, "Run this page again")
    expect(saved).to_have_text("Saved")


def test_help_the_notebooks_tools_and_the_sheet(desk, field, grave) -> None:
    """Help is a dialog that Escape closes; its switch brings Jupyter's bars, and takes them; Print opens a sheet."""
    page = two_pages(desk)
    press(page, "Help")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text(str(desk.file))
    assert grave(page, ".alarmlib-help") == []
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(bar(page).get_by_role("button", name="Help")).to_be_focused()
    for shown in (True, False):
        bar(page).get_by_role("button", name="Help").press("Enter")
        dialog.get_by_role("switch").press("Space")
        page.keyboard.press("Escape")
        expect(page.locator("#jp-menu-panel")).to_be_visible(visible=shown)
        expect(page.locator(".jp-NotebookPanel-toolbar")).to_be_visible(visible=shown)
        assert page.evaluate("localStorage.getItem('alarmlib:notebook-tools')") == ("shown" if shown else "hidden")
    with page.context.expect_page() as opened:
        press(page, "Print")
    sheet = opened.value
    expect(sheet.get_by_role("heading", name="1_first", level=1)).to_be_visible()
    expect(sheet.get_by_text("for the owner alone")).to_be_visible()
    assert grave(sheet) == []


def test_the_bar_for_everybody(desk, grave) -> None:
    """axe finds nothing grave, light and dark; narrow, enlarged four times and in forced colours all is in reach."""
    page = two_pages(desk)
    press(page, "Undo")
    for theme in ("Dark", "Light"):
        page.evaluate(f"window.jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {theme}'}})")
        page.wait_for_function(f"document.body.dataset.jpThemeLight === '{str(theme == 'Light').lower()}'")
        assert grave(page, ".alarmlib-bar") == []
    press(page, "Close")
    page.emulate_media(forced_colors="active")
    for width, height, most in ((390, 800, 140), (320, 256, 80)):
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_timeout(300)
        buttons = bar(page).get_by_role("button", disabled=False)
        for button in buttons.all():
            box = button.bounding_box()
            assert box
            if button.inner_text() != "Skip to the first question":
                assert box["x"] >= 0
                assert box["x"] + box["width"] <= width
                assert box["height"] >= 24  # WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels at least
        tall = bar(page).bounding_box()
        assert tall
        assert tall["height"] <= most
    page.emulate_media(forced_colors="none")
