"""Going back to an earlier save on the start page: the question in place, the sentence, and the way back."""

from datetime import UTC, datetime
from itertools import count

import pytest
from playwright.sync_api import expect

from alarmlib.store import Edit, Session

pytestmark = pytest.mark.browser


def test_going_back_is_asked_first_and_undone_by_undo(desk, status) -> None:
    """No leaves the home alone, Yes puts the save in place and says so; Undo on the same page brings back what was."""
    desk.lay_out(demo=False)
    minutes = count(1)
    session = Session.open(desk.file, lambda: datetime(2026, 11, 2, 12, next(minutes), tzinfo=UTC))
    for name in ("Cottage", "Villa"):
        session.apply([Edit(("name",), session.home.name, name)])
    cottage = session.saves()[-2]
    page = desk.open_whole("00_start")
    for name in ("The list of earlier saves", "New home, demo home, download and upload", "Name, units and rules"):
        page.get_by_role("button", name=name, exact=True).press("Enter")
    expect(page.get_by_role("region", name="The kept saves")).to_contain_text(cottage.when)
    form = page.locator(".alarm-form").filter(has_text="Each change is kept as a save.")
    button = form.get_by_role("button", name=f"Go back to {cottage.called}")
    button.click()
    no = form.get_by_role("button", name="No, leave it")
    expect(no).to_be_focused()
    no.click()
    expect(button).to_be_focused()
    assert desk.stored()["name"] == "Villa"
    button.click()
    form.get_by_role("button", name="Yes, do it").click()
    expect(form.locator("[role=status]")).to_contain_text(f"Your home is again as in {cottage.called}.")
    assert desk.stored()["name"] == "Cottage"
    expect(page.get_by_role("region", name="The kept saves")).to_contain_text("Villa")
    page.get_by_role("button", name="Undo the last change").click()
    expect(page.get_by_label("Nickname of the home", exact=True)).to_have_value("Villa")
    assert desk.stored()["name"] == "Villa"
