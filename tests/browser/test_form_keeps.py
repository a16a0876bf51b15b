"""Nothing typed into a form is lost, and "saved" is never said too early."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.browser

SESSION = """
from pathlib import Path
from alarmlib.model.home import Home
from alarmlib.store import Session
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import FormSpec, fields_of
from alarmlib.model.site import Room
file = Path("home.json")
rooms = [{"id": "hall", "name": "Hall", "storey": "ground", "ceiling_m": 2.4, "note": "blue door"}]
blank = Home.model_validate({"site": {"storeys": [{"id": "ground", "name": "Ground"}], "rooms": rooms}})
session = Session.open(file) if file.exists() else Session.new(file, blank)
"""
FORM = """
names = ["name", "ceiling_m", "floor_area_m2", "use", "guarded", "disturbances", "note"]
Form(session, FormSpec("Hall", (("", fields_of(Room, names, ("site", "rooms", "hall"))),)))
"""
CEILING = "Ceiling height (m)"
Find = Callable[[Page, str], Locator]


def status(page: Page) -> Locator:
    return page.locator(".alarm-form [role=status]").first


def hall(desk) -> dict:
    return desk.stored()["site"]["rooms"][0]


def test_an_edit_is_saved_and_said_so(desk, field: Find) -> None:
    """Type, leave the field, read the file: the value stands there and only then does the form say saved."""
    page = desk.open(desk.write("a.ipynb", SESSION, FORM))
    field(page, CEILING).fill("2,55")
    field(page, CEILING).press("Tab")
    expect(status(page)).to_have_text("✓ Saved.")
    assert hall(desk)["ceiling_m"] == 2.55
    page.screenshot(path="/tmp/shots/form.png")
