"""What a page says is never older than what was entered: here, in another window, and to somebody who listens."""

import re

import pytest
from playwright.sync_api import Page, expect

from alarmlib.store import Session

pytestmark = pytest.mark.browser

TIMES = "Findings about times"
TOO_LONG = "is longer than your rules allow"


def view(page: Page, title: str):
    """The part of a page with that title."""
    return page.get_by_role("region", name=title, exact=True)


def entry_delay(page: Page, seconds: str) -> None:
    """The ordinary entry delay is typed and the field left, as anybody does it."""
    box = page.get_by_label(re.compile("^Entry delay")).first
    box.fill(seconds)
    box.press("Tab")


def test_a_finding_appears_and_goes_without_running_the_page(desk) -> None:
    """An entry delay that the rules do not allow: the finding is there at once, undone it is gone; one line says so."""
    desk.lay_out(demo=True)
    page = desk.open_whole("04_times")
    times = view(page, TIMES)
    expect(times).not_to_contain_text(TOO_LONG)
    entry_delay(page, "600")
    expect(times).to_contain_text(TOO_LONG)
    expect(page.locator("#alarm-announcer")).to_have_text(re.compile(rf"^Changed: .*{TIMES}|^Changed: .* more parts"))
    expect(page.locator("#alarm-announcer")).to_have_attribute("role", "status")
    page.get_by_role("button", name="Undo").first.click()
    expect(times).not_to_contain_text(TOO_LONG)


def test_another_window_follows_without_focus(desk) -> None:
    """The start page, open beside it in a window of its own, tells what is open as soon as it changes elsewhere."""
    desk.lay_out(demo=True)
    start = desk.open_whole("00_start")
    progress = view(start, "Picture: Progress")
    expect(progress).to_contain_text(re.compile(r"0 findings that you must fix"))
    progress.get_by_role("link", name="Times").click(trial=True)  # nothing of the notebook lies over it
    page = desk.open_whole("04_times")
    entry_delay(page, "600")
    expect(progress).to_contain_text(re.compile(r"[1-9]\d* findings? that you must fix"), timeout=5_000)


def test_what_is_unfolded_stays_unfolded_and_the_keyboard_stays_where_it_was(desk) -> None:
    """A part that is drawn again keeps what its reader opened, and the focus."""
    page = desk.open(
        desk.write(
            "FORM",
            "from alarmlib.widgets.view import Drawn, View\n"
            "def drawn(home):\n"
            "    told = home.site.rooms[0].ceiling_m\n"
            "    return Drawn('', f'<details><summary>More</summary><p>{told} m</p></details>')\n"
            "View(session, 'Ceiling', drawn)",
        )
    )
    part = view(page, "Ceiling")
    part.locator("summary").press("Enter")
    expect(part.get_by_text("2.4 m")).to_be_visible()
    page.get_by_label("Ceiling height (m)", exact=True).fill("2.6")
    page.get_by_label("Ceiling height (m)", exact=True).press("Enter")
    part.locator("summary").focus()
    expect(part.get_by_text("2.6 m")).to_be_visible()
    expect(part.locator("summary")).to_be_focused()


def test_a_part_set_added_elsewhere_has_its_doors_at_once(desk) -> None:
    """Its table appears under the others; the cursor stays in the box where it was."""
    desk.lay_out(demo=True)
    page = desk.open_whole("03_zones")
    times = page.locator(".alarm-form input[type=text]").first
    times.scroll_into_view_if_needed()
    times.focus()
    held = times.evaluate("box => { box.dataset.mine = 'yes'; return document.activeElement === box; }")
    assert held
    doors = page.locator(".alarm-rows .alarm-form")
    before = page.locator(".alarm-rows").filter(has_text="Night").locator(".alarm-form").count()
    assert before == 4
    other = Session.open(desk.file)
    sets = other.home.control_unit.part_sets
    new = sets[0].model_copy(update={"id": "long_weekend", "name": "Long weekend"})
    unit = other.home.control_unit.model_copy(update={"part_sets": (*sets, new)})
    other.replace(other.home.model_copy(update={"control_unit": unit}))
    expect(doors.filter(has_text="Long weekend")).to_be_visible()
    expect(page.locator("[data-mine=yes]")).to_be_focused()
