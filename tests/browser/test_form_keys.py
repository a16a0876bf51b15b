"""Keys belong to the form: no letter becomes a notebook command, and no key is needed that a keyboard lacks."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

COMMANDS = ["m", "b", "x", "a", "r", "y", "c", "v", "z", "j", "k", "l", "1", "0", "0", "d", "d", "Shift+M", "Shift+A"]
OTHERS = ["Escape", "Enter", "ArrowDown", "ArrowUp", "Delete", "Backspace", "Space", "Shift+Enter", "Control+Enter"]
CONTROLS = ["Room", "Note", "Ceiling height (m)", "Used as", "To be guarded", "draught"]
DATE = """
from alarmlib.model.log import Test
if not session.home.log.tests:
    from alarmlib.store import Edit
    session.apply([Edit(("log", "tests", "first"), None, {"id": "first"})])
day = fields_of(Test, ["on"], ("log", "tests", "first"))
Form(session, FormSpec("Day", (("", day),)), Extras(actions=(ActionSpec("Do it", lambda: "Done it."),)))
"""


def cells(page) -> list[str]:
    """Kind of every cell of the notebook, in order."""
    return page.evaluate(
        "Array.from(window.jupyterapp.shell.currentWidget.content.model.cells).map((cell) => cell.type)"
    )


def test_letters_in_every_kind_of_control(desk, field) -> None:
    """Each command letter in each control leaves all cells as they are, the form on the page and the focus there."""
    page = desk.open(desk.write("FORM", DATE))
    before = cells(page)
    page.locator(".choices > summary").press("Enter")
    controls = [field(page, label) for label in [*CONTROLS, "Date"]]
    controls += [page.get_by_role("button", name="Do it")]
    for control in controls:
        for key in COMMANDS + OTHERS:
            control.focus()
            control.press(key)
            expect(control).to_be_focused()
    assert cells(page) == before == ["code"] * 3
    expect(page.locator(".alarm-form")).to_have_count(2)
    expect(page.locator(".jp-Dialog")).to_have_count(0)


def test_command_s_does_nothing_and_editing_keys_edit(desk, field) -> None:
    """Everything is saved, so Ctrl+S reaches nobody; Ctrl+A, Ctrl+X and Ctrl+V work on the text and not on cells."""
    page = desk.open(desk.write("FORM"))
    note = field(page, "Note")
    before = (desk.folder / "page.ipynb").read_bytes()
    page.evaluate("window.addEventListener('keydown', (event) => { window.stopped = event.defaultPrevented; })")
    note.press("Control+s")
    assert page.evaluate("window.stopped") is None  # it ended at the page's own listener, which keeps the browser's too
    assert (desk.folder / "page.ipynb").read_bytes() == before
    expect(note).to_be_focused()
    note.press("Control+a")
    note.press("Control+x")
    expect(note).to_have_value("")
    note.press("Control+v")
    note.press("Control+v")
    expect(note).to_have_value("blue doorblue door")
    assert cells(page) == ["code", "code"]


def test_keyboard_only(desk, field, status) -> None:
    """Tab visits every control in the order of the page and leaves at the end; all can be filled on the way."""
    page = desk.open(desk.write("FORM"))
    stops = ["Room", "Ceiling height (m)", "Floor area (m²)", "Used as", "To be guarded", "FOLDED", "heater or stove"]
    folded = page.locator(".choices > summary")
    field(page, stops[0]).focus()
    for label in stops:
        expect(folded if label == "FOLDED" else field(page, label)).to_be_focused()
        if label == "FOLDED":
            page.keyboard.press("Enter")
        if label == "Ceiling height (m)":
            page.keyboard.type("2,5 m")
        if label == "Used as":
            page.keyboard.type("hall")
        if label in {"To be guarded", "heater or stove"}:
            page.keyboard.press("Space")
        page.keyboard.press("Tab")
    for _ in range(8):
        page.keyboard.press("Tab")
    expect(field(page, "Year the smoke alarm was made")).to_be_focused()
    page.keyboard.press("Tab")
    expect(field(page, "Note")).to_be_focused()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('.alarm-form') === null")
    expect(status(page)).to_have_text("✓ Saved.")
    hall = desk.hall
    assert (hall["ceiling_m"], hall["use"], hall["guarded"], hall["disturbances"]) == (2.5, "hall", False, ["heater"])


@pytest.mark.parametrize(
    ("label", "before", "typed"),
    [("Room", "Hall", " of mirrors"), ("Note", "blue door", " with a bell"), ("Ceiling height (m)", "2.4", "7")],
)
def test_undo_inside_a_text_field_is_the_fields_own(desk, field, label: str, before: str, typed: str) -> None:
    """Ctrl+Z takes back what is half typed, and what was saved meanwhile; Ctrl+Shift+Z brings it again.

    How many letters one press takes is the browser's business; a press for each is always enough.
    """
    page = desk.open(desk.write("FORM"))
    control, cells_before = field(page, label), cells(page)
    control.focus()
    control.press("End")
    page.keyboard.type(typed)
    expect(control).to_have_value(before + typed)
    for pause_ms in (0, 1500):  # half typed; saved while the focus stayed
        page.wait_for_timeout(pause_ms)
        for keys, wanted in (("Control+z", before), ("Control+Shift+z", before + typed)):
            for _ in typed:
                page.keyboard.press(keys)
            expect(control).to_have_value(wanted)
        expect(control).to_be_focused()
    assert cells(page) == cells_before
