"""Nothing typed into a form is lost, and "saved" is never said too early."""

import json
import re
from hashlib import sha256

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

CEILING = "Ceiling height (m)"
SAVED = "✓ Saved."
LATE = re.compile("^✗ Not saved yet: Python is busy or stopped")
SLOW = """
import time
class Slow(Session):
    def apply(self, edits):
        time.sleep(3.2)
        return super().apply(edits)
session = Slow.open(file)
"""


def look(page) -> None:
    """What a browser does when its window comes to the front."""
    page.evaluate("window.dispatchEvent(new Event('focus'))")


def test_an_edit_is_saved_and_said_so(desk, field, status) -> None:
    """Type, leave the field, read the file: the value is there and only then does the form say saved."""
    page = desk.open(desk.write("FORM"))
    field(page, CEILING).fill("2,55")
    field(page, CEILING).press("Tab")
    expect(status(page)).to_have_text(SAVED)
    assert desk.hall["ceiling_m"] == 2.55
    expect(field(page, CEILING)).to_have_value("2.55")


def test_half_typed_text_is_kept(desk, field, status) -> None:
    """Text is in the file a moment after the last key, with the cursor still in the field."""
    page = desk.open(desk.write("FORM"))
    field(page, "Note").press_sequentially("half a sent", delay=5)
    expect(status(page)).to_have_text(SAVED)
    assert "half a sent" in desk.hall["note"]
    expect(field(page, "Note")).to_be_focused()


def test_a_wrong_number_stays_and_changes_nothing(desk, field, status) -> None:
    """No complaint while typing; after leaving, the sentence is beside the field, and the text stays."""
    page = desk.open(desk.write("FORM"))
    ceiling = field(page, CEILING)
    ceiling.fill("25")
    page.wait_for_timeout(800)
    expect(ceiling).not_to_have_attribute("aria-invalid", "true")
    ceiling.press("Tab")
    expect(ceiling).to_have_attribute("aria-invalid", "true")
    expect(status(page)).to_contain_text(f"✗ Not saved: {CEILING}")
    notes = page.locator(f"#{(ceiling.get_attribute('aria-describedby') or '').split()[-1]}")
    expect(notes).to_have_text("✗ Not saved. “25” is not allowed here; 1 m to 12 m is allowed.")
    expect(ceiling).to_have_value("25")
    assert desk.hall["ceiling_m"] == 2.4
    ceiling.fill("2.5")
    ceiling.press("Enter")
    expect(status(page)).to_have_text(SAVED)
    expect(notes).to_be_empty()


def test_dead_kernel(desk, field, status, run_all, lab) -> None:
    """With the kernel gone the form says so; after a run again, and after a reload, what was typed is saved."""
    path = desk.write("FORM")
    page = desk.open(path)
    lab.restart(path)
    field(page, CEILING).fill("2.7")
    field(page, CEILING).press("Tab")
    expect(status(page)).to_have_text(LATE)
    assert desk.hall["ceiling_m"] == 2.4
    run_all(page)
    expect(status(page)).to_have_text(SAVED)
    expect(field(page, CEILING)).to_have_value("2.7")
    assert desk.hall["ceiling_m"] == 2.7
    lab.restart(path)
    field(page, "Note").fill("typed before the page was loaded again")
    expect(status(page)).to_have_text(LATE)
    page.reload()
    expect(status(page)).to_have_text(SAVED)
    assert desk.hall["note"] == "typed before the page was loaded again"


LIMITS = """
from alarmlib.model.unit_facts import UnitLimits
Form(session, FormSpec("Limits", (("", fields_of(UnitLimits, ["wireless_slots"], ("control_unit", "limits"))),)))
"""


def test_text_typed_in_a_page_of_version_0_4_is_saved_at_the_fields_new_name(desk, field, status) -> None:
    """What the tab had kept under the old name of the field is in its box after the update, and is saved."""
    page = desk.open(desk.write(LIMITS))
    key = f"alarm:{sha256(str(desk.file.resolve()).encode()).hexdigest()[:12]}:Limits"
    kept = json.dumps({"unit/limits/wire_free_slots": {"text": "12", "seen": "", "sent": None}})
    page.evaluate("([key, kept]) => sessionStorage.setItem(key, kept)", [key, kept])
    page.reload()
    expect(status(page)).to_have_text(SAVED)
    expect(field(page, "Wireless devices it can hold")).to_have_value("12")
    assert desk.stored()["control_unit"]["limits"]["wireless_slots"] == 12
    assert "wire_free" not in (page.evaluate("(key) => sessionStorage.getItem(key)", key) or "")


def test_late_answer(desk, field, status) -> None:
    """An answer to an older edit never goes over newer text; "saved" waits for the newest."""
    page = desk.open(desk.write(SLOW, "FORM"))
    note = field(page, "Note")
    note.fill("first")
    page.wait_for_timeout(600)
    assert status(page).text_content() == ""
    note.fill("first and second")
    expect(status(page)).to_have_text(LATE)
    page.wait_for_timeout(1200)
    expect(note).to_have_value("first and second")
    assert desk.hall["note"] == "first"
    assert status(page).text_content() != SAVED
    expect(status(page)).to_have_text(SAVED)
    assert desk.hall["note"] == "first and second"
    expect(note).to_be_focused()


def test_second_tab_on_the_same_page(desk, field, status) -> None:
    """Two tabs share a kernel: each keeps saving, each sees the other's value, nothing is asked."""
    path = desk.write("FORM")
    first = desk.open(path)
    second = desk.open(path, first.context)
    field(second, CEILING).fill("2.6")
    field(second, CEILING).press("Tab")
    expect(status(second)).to_have_text(SAVED)
    look(first)
    expect(field(first, CEILING)).to_have_value("2.6")
    field(first, "Note").fill("red door")
    field(first, "Note").press("Tab")
    expect(status(first)).to_have_text(SAVED)
    look(second)
    expect(field(second, "Note")).to_have_value("red door")
    assert (desk.hall["ceiling_m"], desk.hall["note"]) == (2.6, "red door")


def test_two_kernels_in_turn_and_the_same_field(desk, field, status) -> None:
    """Fields edited in turn in two kernels: nothing asked. The same field: both values, two buttons.

    What another kernel saved appears when the window is looked at, except in the field with the cursor.
    """
    one = desk.open(desk.write("FORM", name="one.ipynb"))
    two = desk.open(desk.write("FORM", name="two.ipynb"), one.context)
    for page, label, text in [(two, "Note", "red door"), (one, "Floor area (m²)", "7"), (one, CEILING, "2.6")]:
        field(page, label).fill(text)
        field(page, label).press("Tab")
        expect(status(page)).to_have_text(SAVED)
    hall = desk.hall
    assert (hall["ceiling_m"], hall["note"], hall["floor_area_m2"]) == (2.6, "red door", 7)

    field(two, CEILING).fill("2.8")
    field(two, CEILING).press("Tab")
    asked = two.get_by_role("group", name=f"Two values for {CEILING}")
    expect(asked).to_contain_text("Theirs: 2.6 Yours: 2.8")
    expect(status(two)).to_contain_text("✗ Not saved")
    assert desk.hall["ceiling_m"] == 2.6
    asked.get_by_role("button", name="Keep mine").click()
    expect(status(two)).to_have_text(SAVED)
    assert desk.hall["ceiling_m"] == 2.8

    field(one, "Note").focus()
    field(two, "Note").fill("green door")
    field(two, "Used as").select_option("study")
    expect(status(two)).to_have_text(SAVED)
    look(one)
    expect(field(one, "Used as")).to_have_value("study")
    expect(field(one, "Note")).to_have_value("red door")
    field(one, "Note").blur()
    expect(field(one, "Note")).to_have_value("green door")

    field(two, CEILING).fill("2.9")
    field(two, CEILING).press("Tab")
    expect(status(two)).to_have_text(SAVED)
    field(one, CEILING).fill("3")
    field(one, CEILING).press("Tab")
    one.get_by_role("button", name="Take theirs").click()
    expect(field(one, CEILING)).to_have_value("2.9")
    expect(field(one, CEILING)).to_be_focused()
    assert desk.hall["ceiling_m"] == 2.9


def test_two_forms_on_one_page(desk, field, status) -> None:
    """A value changed in one form shows in the other at once."""
    other = 'Form(session, FormSpec("Other", (("", fields_of(Room, ["name"], ("site", "rooms", "hall"))),)))'
    page = desk.open(desk.write("FORM", other))
    first, second = page.get_by_role("group", name="Hall"), page.get_by_role("group", name="Other")
    second.get_by_label("Room", exact=True).fill("Front hall")
    second.get_by_label("Room", exact=True).press("Tab")
    expect(first.get_by_label("Room", exact=True)).to_have_value("Front hall")
    assert desk.hall["name"] == "Front hall"


def test_buttons_files_and_errors(desk, field, status, tmp_path) -> None:
    """A question before a reset, a file each way, a plain sentence over the size cap, an error that is shown."""
    extras = """
got = []
def take(name, content):
    got.append(content)
    return f"{name}: {len(content)} bytes read."
small = UploadSpec("Upload a home", take, most_bytes=1000)
give = DownloadSpec("Download the home", lambda: ("home.json", file.read_bytes()))
buttons = (ActionSpec("Divide", lambda: 1 / 0), ActionSpec("Reset", lambda: "All is blank.", "Really reset?"))
name = fields_of(Room, ["name"], ("site", "rooms", "hall"))
Form(session, FormSpec("Files", (("", name),)), Extras(actions=buttons, downloads=(give,), upload=small))
"""
    page = desk.open(desk.write(extras))
    page.get_by_role("button", name="Reset").click()
    expect(page.get_by_role("button", name="No, leave it")).to_be_focused()
    page.get_by_role("button", name="Yes, do it").click()
    expect(status(page)).to_have_text("All is blank.")
    page.get_by_role("button", name="Divide").click()
    expect(status(page)).to_contain_text("ZeroDivisionError")
    with page.expect_download() as given:
        page.get_by_role("button", name="Download the home").click()
    assert given.value.suggested_filename == "home.json"
    assert json.loads(given.value.path().read_text()) == desk.stored()
    for size, said in [(10, "x.json: 10 bytes read."), (2000, "is larger than 0.001 MB")]:
        (tmp_path / "x.json").write_bytes(b"x" * size)
        page.get_by_label("Upload a home", exact=True).set_input_files(tmp_path / "x.json")
        expect(status(page)).to_contain_text(said)


def test_a_text_like_a_secret(desk, field, status) -> None:
    """A warned text is saved, with two buttons: one removes it, the other notes that it isn't a secret."""
    page = desk.open(desk.write("FORM"))
    warning = page.get_by_role("group", name="Warning for Note")
    field(page, "Note").fill("code 1234")
    field(page, "Note").blur()
    expect(warning).to_contain_text("This looks like a code")
    assert desk.hall["note"] == "code 1234"
    warning.get_by_role("button", name="Remove it").click()
    expect(field(page, "Note")).to_have_value("")
    expect(page.locator(".alarm-form[data-unsaved]")).to_have_count(0)
    expect(warning).to_have_count(0)
    assert desk.hall["note"] == ""
    field(page, "Note").fill("part 1234")
    field(page, "Note").blur()
    warning.get_by_role("button", name="It isn’t one").click()
    expect(warning).to_have_count(0)
    assert len(desk.stored()["cleared_texts"]) == 1
