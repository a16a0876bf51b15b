"""Long work on a page: its progress is seen, forms go on saving, and the button stops it."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

WORK = """
import time
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
