"""Long work on a page: its progress is seen, forms go on saving, and the button stops it."""

import os
import signal

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

WORK = """
import os, time
from pathlib import Path
Path("kernel.txt").write_text(str(os.getpid()))
from alarmlib.widgets.work import start_in_worker
start_in_worker(time.sleep, (300,), title="Proof")
"""


def test_the_button_stops_work_and_forms_save_meanwhile(desk, field, status) -> None:
    """While a process works, an edit is still saved; the button ends the work within a moment."""
    page = desk.open(desk.write("FORM", WORK))
    stop = page.get_by_role("button", name="Stop: Proof")
    expect(stop).to_be_visible(timeout=20_000)
    field(page, "Note").fill("saved while a process works")
    field(page, "Note").blur()
    expect(status(page)).to_have_text("✓ Saved.")
    assert desk.hall["note"] == "saved while a process works"
    stop.click()
    expect(page.get_by_text("Proof: Stopped; nothing was changed.")).to_be_visible()
    expect(stop).to_be_hidden()


def test_work_whose_kernel_was_lost_says_so(desk, run_all) -> None:
    """Killed under running work: the line says so; once the page has run again, the work can be started."""
    page = desk.open(desk.write("FORM", WORK))
    expect(page.get_by_role("button", name="Stop: Proof")).to_be_visible()
    os.kill(int((desk.folder / "kernel.txt").read_text()), signal.SIGKILL)
    expect(page.get_by_text("Proof: Python does not answer.")).to_be_visible()
    expect(page.get_by_role("button", name="Stop: Proof")).to_be_hidden()
    page.get_by_role("dialog").get_by_role("button", name="Ok").press("Enter")
    run_all(page)
    expect(page.get_by_role("button", name="Stop: Proof")).to_be_visible()


OFFER = """
offered = Form(session, FormSpec("Offers", ()), Extras(actions=(ActionSpec("Search", lambda: grow()),)))
def grow():
    second = ActionSpec("Take it", lambda: "It is taken.")
    offered.offer(Extras(actions=(ActionSpec("Search", grow), second)))
    return "Searched."
offered
"""


def test_buttons_that_are_offered_later_appear_and_work(desk) -> None:
    """A form is built again with other buttons: they can be pressed, and the focus stays in the form."""
    page = desk.open(desk.write(OFFER))
    page.get_by_role("button", name="Search", exact=True).press("Enter")
    take = page.get_by_role("button", name="Take it", exact=True)
    expect(take).to_be_visible()
    expect(page.get_by_role("button", name="Search", exact=True)).to_be_focused()
    take.press("Enter")
    expect(page.locator(".alarm-form [role=status]").first).to_have_text("It is taken.")
