"""A step that can hurt opens by the tick of its cautions, by mouse and by keyboard, and stays open afterwards."""

import pytest
from playwright.sync_api import Page, expect

from alarmlib.checks.cautions import before

pytestmark = pytest.mark.browser
TICK = "I have read this"


def form(page: Page, name: str):
    return page.get_by_role("group", name=name, exact=True)


def test_the_first_tick_opens_the_short_path(desk, grave) -> None:
    """A blank home: “Go on” in the first screen leads to the tick; it opens the short path for good."""
    desk.lay_out(demo=False)
    page = desk.open_whole("00_start", width=1366, height=768)
    first = form(page, "Read this first")
    for advice in before("short_path"):
        expect(first).to_contain_text(advice.text)
    expect(first.get_by_role("checkbox")).to_have_count(1)
    expect(form(page, "The short path")).to_have_count(0)
    closed = page.get_by_text("This form opens when you tick “I have read this” in “Read this first” above.")
    expect(closed).to_be_visible()
    tasks = page.get_by_role("region", name="Your tasks", exact=True)
    expect(tasks).to_contain_text("Three ways to begin")
    go_on = tasks.get_by_role("button", name="Go on: Three cautions", exact=True)
    box = go_on.bounding_box()
    assert box and box["y"] + box["height"] < 768
    go_on.press("Enter")
    expect(first.get_by_label(TICK, exact=True)).to_be_focused()
    page.keyboard.press("Space")
    expect(tasks).to_contain_text("Next: The short path")
    expect(form(page, "The short path")).to_be_visible()
    expect(closed).to_have_count(0)
    assert set(desk.stored()["cautions_read"]) == {advice.id for advice in before("short_path")}
    assert grave(page, ".alarm-form", ".alarm-page", ".alarm-fold") == []
    page.close()
    again = desk.open_whole("00_start")
    expect(form(again, "The short path")).to_be_visible()
    expect(form(again, "Read this first").get_by_label(TICK, exact=True)).to_be_checked()


def test_a_step_opens_by_its_own_tick(desk) -> None:
    """Page 01: the caution about heights is directly above the closed table of ways in; its tick opens that table."""
    desk.lay_out(demo=False)
    page = desk.open_whole("01_survey", width=1366, height=768)
    caution = form(page, "Before you look at the ways in")
    expect(caution).to_contain_text("Do not climb")
    expect(form(page, "Ways in")).to_have_count(0)
    caution.get_by_label(TICK, exact=True).check()
    table = form(page, "Ways in")
    expect(table).to_be_visible()
    above, below = caution.bounding_box(), table.bounding_box()
    assert above and below and 0 <= below["y"] - above["y"] - above["height"] < 60
    caution.get_by_label(TICK, exact=True).uncheck()
    expect(table).to_have_count(0)
