"""The page about the proof in Chromium: read by everybody, run by keyboard, alive after its kernel was lost."""

import pytest
from playwright.sync_api import expect

from alarmlib.proof.verdicts import Proof
from alarmlib.store import load
from alarmlib.store.kept_proofs import keep

pytestmark = pytest.mark.browser

NAME = "08_proof"
TOO_WIDE = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *, .alarm-page > *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 120))"""
THEME = "window.jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {}'}})"


def test_a_kept_proof_can_be_read_by_everybody(desk, hand_proof: Proof, grave) -> None:
    """Table, story pictures and faults, in light, dark and on a narrow screen, with nothing grave for axe."""
    desk.lay_out(demo=True)
    keep(desk.file, load(desk.file), hand_proof)
    page = desk.open_whole(NAME)
    for text in ("✖ breached", "▲ not settled", "✔ holds", "Story 1, step by step", "The repeater is dead."):
        expect(page.locator(".alarm-page").get_by_text(text).first).to_be_visible()
    expect(page.get_by_role("img", name="Story 1 on the plan: Upstairs")).to_be_visible()
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
