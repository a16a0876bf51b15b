"""Long work on a page: progress is seen, and the button stops it while the cell still runs."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

WORK = """
import time
from alarmlib.errors import AlarmProblem
from alarmlib.widgets.work import run_in_worker
try:
    run_in_worker(time.sleep, (300,), title="Proof")
except AlarmProblem as problem:
    print(problem)
"""


def test_the_button_stops_work_and_forms_save_meanwhile(desk, field, status) -> None:
    """While a cell works, an edit is still saved; the button ends the work within a moment."""
    page = desk.open(desk.write("FORM", WORK))
    stop = page.get_by_role("button", name="Stop: Proof")
    expect(stop).to_be_visible(timeout=20_000)
    field(page, "Note").fill("saved while Python works")
    field(page, "Note").blur()
    expect(status(page)).to_have_text("✓ Saved.")
    assert desk.hall["note"] == "saved while Python works"
    stop.click()
    expect(page.get_by_text("Proof: stopped; nothing was changed.")).to_be_visible()
    expect(stop).to_be_hidden()
