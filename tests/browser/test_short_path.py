"""The short path in the real pages, by keyboard and labels alone: from no home at all to the short record."""

from dataclasses import dataclass, field, replace

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

MOST_QUESTIONS = 25
FORM = "The short path"
UNKNOWN = "I do not know"
GROUND, UP = "Ground floor", "Upstairs"
# What is done at each question in its order: options (group, label), a number, or that it is not known.
ANSWERS: list[list[tuple[str, str]] | str] = [
    [("", "Upstairs")],
    [(GROUND, "Hall"), (GROUND, "Kitchen"), (GROUND, "Living room"), (UP, "Landing"), (UP, "Bedroom"),
     (UP, "Bathroom"), (UP, "+ One more bedroom")],
    [("", "Shed")],
    [(GROUND, "Hall"), (GROUND, "Kitchen")],
    [],  # the front door is picked
    [(GROUND, "Kitchen"), (GROUND, "Living room"), (GROUND, "+ One more window, Living room")],
    [(UP, "Bathroom"), (UP, "Bedroom")],
    [],  # where the halls lead is guessed right
    [("", "Hall")],
    UNKNOWN,
    [],  # both bedrooms are picked
    "3",
    [("", "Somebody comes home with full hands")],
    "9",
    [("", "Yes, and they climb on furniture, like a cat")],
    [("", "Yes")],
    [("", "Yes")],
    [("", "Each device")],
    "16",
    [("", "Yes")],
    [("", "No")],
    [("", "No")],
]  # fmt: skip
SHOWN = ["In three sentences", "Sketch of the rooms", "The fixes that matter most", "What to do tomorrow"]
FOLDED = ["Draft zone chart", "Draft times", "Test list", "What the draft assumes"]
TOO_WIDE = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 120))"""


@dataclass
class Hands:
    """A person at the keyboard: every key pressed is counted."""

    page: Page
    keys: dict[str, int] = field(default_factory=lambda: {"moving": 0, "answering": 0, "clicks": 0})

    def go_to(self, target, most: int = 80) -> None:
        """Tab until the control has the focus."""
        for _ in range(most):
            if target.evaluate("(control) => control === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
            self.keys["moving"] += 1
        raise AssertionError("the control cannot be reached by keyboard")

    def write(self, text: str | list[str]) -> None:
        """Type an answer; several lines with Enter between them."""
        for number, line in enumerate([text] if isinstance(text, str) else text):
            if number:
                self.page.keyboard.press("Enter")
            self.page.keyboard.type(line)
            self.keys["answering"] += len(line) + bool(number)

    def press(self, button) -> None:
        """Go to a button and press it."""
        self.go_to(button)
        self.page.keyboard.press("Enter")
        self.keys["answering"] += 1


def tick_cautions(page: Page, hands: Hands) -> None:
    """The tick that opens the short path."""
    hands.go_to(page.get_by_role("group", name="Read this first", exact=True).get_by_role("checkbox"))
    page.keyboard.press("Space")
    hands.keys["answering"] += 1


def heading(form):
    """The heading of the question, or of the answers, that is shown."""
    return form.get_by_role("heading", level=3)


def pick(form, hands: Hands, group: str, label: str) -> None:
    """Pick an option from the keyboard: a box, one of several round ones, or one more of a kind."""
    within = form.get_by_role("group", name=group, exact=True) if group else form.locator(".question")
    if label.startswith("+"):
        return hands.press(within.get_by_role("button", name=label, exact=True))
    option = within.get_by_label(label, exact=True)
    if option.get_attribute("type") == "checkbox":
        hands.go_to(option)
        hands.write(" ")
    else:
        hands.go_to(within.get_by_role("radio").first)
        hands.write(" ")
        for _ in range(8):
            if option.evaluate("(box) => box === document.activeElement && box.checked"):
                break
            hands.page.keyboard.press("ArrowDown")
            hands.keys["moving"] += 1
    expect(within.get_by_label(label, exact=True)).to_be_checked()
    expect(form.get_by_role("status")).to_have_text("✓ Saved.")
    return None


def answer_all(page: Page, hands: Hands) -> int:
    """Every question in its order from the keyboard; each next heading has the focus. Gives how many there were."""
    form = page.get_by_role("group", name=FORM, exact=True)
    for number, answer in enumerate(ANSWERS, 1):
        expect(form.get_by_text(f"Question {number} of ", exact=False)).to_be_visible()
        before = heading(form).inner_text()
        if answer == UNKNOWN:
            hands.press(form.get_by_role("button", name=UNKNOWN, exact=True))
        else:
            for group, label in answer if isinstance(answer, list) else ():
                pick(form, hands, group, label)
            if isinstance(answer, str):
                hands.go_to(form.get_by_label(before, exact=True))
                hands.write(answer)
            hands.press(form.get_by_role("button", name="Next", exact=True))
        expect(heading(form)).not_to_have_text(before)
        expect(heading(form)).to_be_focused()
    return len(ANSWERS)


def assert_draft(page: Page) -> None:
    """The result is read in a minute: sentences, sketch, fixes, parts and tomorrow; the rest is folded under it."""
    region = page.get_by_role("region", name="The draft", exact=True)
    expect(region).to_contain_text("for 8 rooms and 8 ways in.")
    for title in SHOWN:
        expect(region).to_contain_text(title)
    expect(region.get_by_role("img").first).to_be_visible()
    for title in FOLDED:
        expect(region.locator("details:not([open]) > summary", has_text=title)).to_have_count(1)
    chart = region.locator("details", has_text="Draft zone chart").first.text_content() or ""
    for zone in ("Front door", "Back door", "Shed door", "Kitchen window", "Living room window 2", "Bedroom window"):
        assert zone in chart
    assert "starts the entry delay" in chart and "Night" in chart
    assert region.locator("ol li").count() <= 5


def read_offline(chromium, file) -> tuple[list[str], list[str], str]:
    """The record opened from the disk with no network: addresses asked for, complaints, the text on the page."""
    asked: list[str] = []
    complaints: list[str] = []
    window = chromium.new_context(offline=True)
    try:
        window.on("request", lambda request: asked.append(request.url))
        page = window.new_page()
        page.on("console", lambda said: complaints.append(said.text) if said.type in {"error", "warning"} else None)
        page.goto(file.as_uri())
        return asked, complaints, page.locator("body").inner_text()
    finally:
        window.close()


def test_from_nothing_to_a_home(desk, lab, chromium, grave, tmp_path, capsys) -> None:
    """No home file; keys only; at most 25 answers; all checked, one changed; the record opens offline; a home of it."""
    place = replace(desk, folder=lab.folder)
    place.lay_out(demo=False)
    assert not place.file.exists()
    page = place.open_whole("00_start")
    form = page.get_by_role("group", name=FORM, exact=True)
    hands = Hands(page)
    tick_cautions(page, hands)
    expect(form).to_be_visible()
    assert grave(page, ".alarm-form") == []
    assert answer_all(page, hands) <= MOST_QUESTIONS
    expect(heading(form)).to_have_text("Check your answers")
    assert grave(page, ".alarm-form") == []
    assert_draft(page)

    hands.press(form.get_by_role("button", name="Change: How many people live here?", exact=True))
    expect(heading(form)).to_be_focused()
    number = form.get_by_label("How many people live here?", exact=True)
    hands.go_to(number)
    page.keyboard.press("Control+a")
    hands.write("0")
    hands.press(form.get_by_role("button", name="Save this answer", exact=True))
    expect(number).to_be_focused()
    expect(number).to_have_attribute("aria-invalid", "true")
    page.keyboard.press("Control+a")
    hands.write("4")
    page.keyboard.press("Enter")
    expect(heading(form)).to_have_text("Check your answers")
    assert place.stored()["short_path"]["people"] == 4
    page.set_viewport_size({"width": 390, "height": 800})
    assert page.evaluate(TOO_WIDE) == []

    with page.expect_download() as given:
        hands.press(form.get_by_role("button", name="Download the short record", exact=True))
    file = tmp_path / given.value.suggested_filename
    given.value.save_as(file)
    asked, complaints, text = read_offline(chromium, file)
    assert (asked, complaints) == ([file.as_uri()], [])
    for expected in ("Zones", "Parts", "Contact, Kitchen window", "Shed door", "Caution", "Assumptions", "Sources"):
        assert expected in text
    hands.press(form.get_by_role("button", name="Use it as my home", exact=True))
    expect(form.get_by_role("status")).to_contain_text("Added: 8 of its rooms, 8 of its ways in", timeout=60_000)
    assert len(place.stored()["control_unit"]["zones"]) >= 4
    expect(page.get_by_role("region", name="Your tasks", exact=True)).to_contain_text("Made into your home")
    with capsys.disabled():
        keys = ", ".join(f"{number} {name}" for name, number in hands.keys.items())
        print(  # noqa: T201 - the measured count is part of the result
            f"\nShort path: {len(ANSWERS)} answers; keys: {keys}; record {file.stat().st_size / 1000:.0f} kB"
        )


def test_a_restart_goes_on_at_the_same_question(desk, lab, run_all) -> None:
    """The kernel dies: a pick says that it is not saved; a run again is at that question, with the picks before."""
    desk.lay_out(demo=False)
    page = desk.open_whole("00_start")
    hands = Hands(page)
    tick_cautions(page, hands)
    form = page.get_by_role("group", name=FORM, exact=True)
    status = form.get_by_role("status")
    form.get_by_role("button", name="Next", exact=True).press("Enter")
    expect(heading(form)).to_have_text("Which rooms are there?")
    form.get_by_label("Hall", exact=True).check()
    form.get_by_label("Another room", exact=True).fill("Music room")
    form.get_by_label("Another room", exact=True).press("Enter")
    expect(form.get_by_label("Music room", exact=True)).to_be_checked()
    lab.restart((desk.folder / "00_start.ipynb").relative_to(lab.folder).as_posix())
    form.get_by_label("Kitchen", exact=True).check()
    expect(status).to_contain_text("✗ Not saved")
    run_all(page)
    expect(heading(form)).to_have_text("Which rooms are there?", timeout=60_000)
    expect(form.get_by_label("Music room", exact=True)).to_be_checked()
    expect(form.get_by_label("Kitchen", exact=True)).not_to_be_checked()
    assert desk.stored()["short_path"]["rooms"].splitlines() == ["Hall, ground floor", "Music room, ground floor"]
