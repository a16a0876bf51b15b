"""What a page says is never older than what was entered: here, in another window, and to somebody who listens."""

import re

import pytest
from playwright.sync_api import Page, expect

from alarmlib.store import Edit, Session

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


def test_a_finding_appears_and_goes_without_running_the_page(desk, unfold) -> None:
    """An entry delay that the rules do not allow: the finding is there at once, undone it is gone; one line says so."""
    desk.lay_out(demo=True)
    page = desk.open_whole("04_times")
    unfold(page)
    times = view(page, TIMES)
    expect(times).not_to_contain_text(TOO_LONG)
    entry_delay(page, "600")
    expect(times).to_contain_text(TOO_LONG)
    expect(page.locator("#alarm-announcer")).to_have_text(re.compile(rf"^Changed: .*{TIMES}|^Changed: .* more parts"))
    expect(page.locator("#alarm-announcer")).to_have_attribute("role", "status")
    page.get_by_role("button", name="Undo").first.click()
    expect(times).not_to_contain_text(TOO_LONG)


def test_another_window_follows_without_focus(desk, unfold) -> None:
    """The start page, open beside it in a window of its own, tells what is open as soon as it changes elsewhere."""
    desk.lay_out(demo=True)
    start = desk.open_whole("00_start")
    tasks = view(start, "Your tasks")
    expect(tasks).to_contain_text(re.compile(r"0 findings that you must fix"))
    tasks.get_by_role("link", name="Times", exact=True).click(trial=True)  # nothing of the notebook lies over it
    page = desk.open_whole("04_times")
    unfold(page)
    entry_delay(page, "600")
    expect(tasks).to_contain_text(re.compile(r"[1-9]\d* findings? that you must fix"), timeout=5_000)


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


def test_a_part_set_added_elsewhere_has_its_doors_at_once(desk, unfold) -> None:
    """Its table appears under the others; the cursor stays in the box where it was."""
    desk.lay_out(demo=True)
    page = desk.open_whole("03_zones")
    unfold(page)
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


THREE = """
from alarmlib.store.watched import watch
from alarmlib.widgets.view import Drawn, View

def drawn(home):
    told = home.site.rooms[0].ceiling_m
    rows = "".join(f"<tr><th>Room {n}</th><td>{told if n == 3 else n}</td></tr>" for n in range(40))
    return Drawn("", f"<ul><li>Hall is {told} m high.</li><li>The study is as it was.</li></ul>"
        f"<figure><svg viewBox='0 0 9 9' width='90' height='90'><title>Plan</title><rect width='{told}' height='2'/>"
        f"<text y='8' font-size='2'>hall</text></svg></figure>"
        f"<details><summary>All rooms</summary><div class='scrolled' style='max-height: 8em; overflow: auto'>"
        f"<table><tbody>{rows}</tbody></table></div></details>")

watch({session.path: session.refresh})
View(session, "Ceiling", drawn)
"""
KEPT = """part => ({
  chosen: String(getSelection()), scrolled: part.querySelector('.scrolled').scrollTop,
  open: part.querySelector('details').open, focused: document.activeElement === part.querySelector('summary'),
  same: [...part.querySelectorAll('li, svg, text, tr')].filter((each) => each.mine).length,
})"""


def test_what_its_reader_did_to_a_finding_a_picture_and_a_table_stays(desk) -> None:
    """Text that is chosen, a fold that is open, how far a table is scrolled, the keyboard: only what differs is new."""
    page = desk.open(desk.write("FORM", THREE))
    part = view(page, "Ceiling")
    part.locator("summary").press("Enter")
    part.evaluate(
        """part => {
          part.querySelectorAll('li, svg, text, tr').forEach((each) => { each.mine = true; });
          part.querySelector('.scrolled').scrollTop = 120;
          getSelection().selectAllChildren(part.querySelectorAll('li')[1]);
          part.querySelector('summary').focus();
        }"""
    )
    before = part.evaluate(KEPT)
    other = Session.open(desk.file)
    other.apply([Edit(("site", "rooms", "hall", "ceiling_m"), 2.4, 2.6)])
    expect(part.get_by_text("Hall is 2.6 m high.")).to_be_visible()
    expect(part.locator("rect")).to_have_attribute("width", "2.6")
    expect(part.locator("td").nth(3)).to_have_text("2.6")
    assert part.evaluate(KEPT) == before
    assert before == {"chosen": "The study is as it was.", "scrolled": 120, "open": True, "focused": True, "same": 44}


def test_a_form_hears_however_long_its_script_takes(desk) -> None:
    """The widgets' library gives a script two seconds; on a busy computer forms were deaf from then on."""
    page = desk.open(desk.write("FORM"))
    limit = (
        "() => new Promise(tell => { const each = AbortSignal.timeout(1); setTimeout(() => tell(each.aborted), 300); })"
    )
    assert page.evaluate(limit) is False


def test_a_row_stays_while_somebody_is_in_it(desk) -> None:
    """A study becomes a hall by the keyboard: its row of the table of studies goes once the keyboard has left it."""
    table = (
        'columns = fields_of(Room, ["name", "use"])\n'
        'TableForm(session, TableSpec("Studies", ("site", "rooms"), columns, keep=lambda room: room.use != "hall"))'
    )
    page = desk.open(desk.write(table))
    kind = page.get_by_label("Used as, row 1", exact=True)
    kind.focus()
    kind.select_option("hall")
    expect(page.get_by_text("This is no longer in this list. It goes when you leave it.")).to_be_visible()
    expect(page.get_by_label("Used as, row that goes", exact=True)).to_be_focused()
    page.get_by_label("Room, row 1", exact=True).focus()
    expect(page.get_by_label(re.compile("^Used as, row"))).to_have_count(1)
