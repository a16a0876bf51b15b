"""The page about the proof in Chromium: read by everybody, run by keyboard, alive after its kernel was lost."""

import pytest
from playwright.sync_api import expect

from alarmlib.model import Home
from alarmlib.proof.report.verdicts import Proof
from alarmlib.store import load, text_of
from alarmlib.store.kept_proofs import keep, kept, kept_file

pytestmark = pytest.mark.browser

NAME = "08_proof"
TOO_WIDE = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *, .alarm-page > *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 120))"""
THEME = "window.jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {}'}})"


def test_a_kept_proof_can_be_read_by_everybody(desk, hand_proof: Proof, grave, unfold) -> None:
    """Table, pictures of how it fails and faults, in light, dark and on a narrow screen, with nothing grave for axe."""
    desk.lay_out(demo=True)
    keep(desk.file, load(desk.file), hand_proof)
    page = desk.open_whole(NAME)
    unfold(page)
    for text in ("✖ breached", "▲ not settled", "✔ holds", "Case 1, step by step", "The repeater is dead."):
        expect(page.locator(".alarm-page").get_by_text(text).first).to_be_visible()
    expect(page.get_by_role("img", name="Case 1 on the plan: Upstairs")).to_be_visible()
    counterexample = page.locator(".alarm-page summary").filter(has_text="Case 1").first
    for visible in (False, True):
        counterexample.press("Enter")
        expect(page.get_by_text("Case 1, step by step")).to_be_visible(visible=visible)
    assert grave(page, ".alarm-form", ".alarm-page") == []
    page.evaluate(THEME.format("Dark"))
    try:
        page.wait_for_function("document.body.dataset.jpThemeLight === 'false'")
        page.wait_for_timeout(500)
        assert grave(page, ".alarm-form", ".alarm-page") == []
    finally:
        page.evaluate(THEME.format("Light"))
        page.wait_for_function("document.body.dataset.jpThemeLight === 'true'")
    page.set_viewport_size({"width": 390, "height": 800})
    expect(page.locator(".alarm-form").first).to_be_visible()
    assert page.evaluate(TOO_WIDE) == []


def missed_window(document):
    """The demo home without the contact of the study's window, through which somebody comes in unnoticed.

    Its habits are left out too: their pairs take most of the time.
    """
    (contact,) = [device for device in document["devices"] if device["id"] == "study_contact"]
    contact["state"] = "removed"
    document["household"]["habits"] = []
    return document


def test_by_keyboard__an_assumption_the_run_and_how_it_fails(desk, unfold) -> None:
    """Nothing but keys: a tick, the run, then the table, how it fails and its picture; kept beside the home file."""
    desk.lay_out(demo=True)
    home = Home.model_validate(missed_window(desk.stored()))
    desk.file.write_bytes(text_of(home))
    page = desk.open_whole(NAME)
    unfold(page)
    expect(
        page.locator(".alarm-page").get_by_text("OUT OF DATE").or_(page.get_by_text("never run")).first
    ).to_be_visible()
    ladder = page.get_by_label("May bring a ladder", exact=True)
    ladder.focus()
    page.keyboard.press("Space")
    expect(page.locator(".alarm-form [role=status]").first).to_have_text("✓ Saved.")
    page.get_by_role("button", name="Run the proof", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("properties held for your home as it was then.")).to_be_visible(timeout=300_000)
    assert desk.stored()["proof"]["brings_ladder"] is True
    unfold(page)
    expect(page.get_by_role("cell", name="✖ breached").first).to_be_visible()
    expect(page.get_by_role("cell", name="Study window").first).to_be_visible()
    expect(page.get_by_role("img", name="Case 1 over time")).to_be_visible()
    found = kept(desk.file, load(desk.file))
    assert found.fresh
    assert found.proof is not None
    assert not found.proof.holds


def test_a_run_can_be_stopped(desk) -> None:
    """Stopped, it says so, keeps nothing, and can be started once more."""
    desk.lay_out(demo=True)
    kept_file(desk.file).unlink(missing_ok=True)
    page = desk.open_whole(NAME)
    for _ in range(2):
        page.get_by_role("button", name="Run the proof", exact=True).press("Enter")
        page.get_by_role("button", name="Stop: The proof", exact=True).press("Enter")
        expect(page.get_by_text("The proof: Stopped; nothing was changed.")).to_be_visible()
    assert not kept_file(desk.file).exists()
