"""The plan drawn with the mouse and by keyboard, refused drawings kept, the paper under it never saved."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from alarmlib.store import Session

EDITOR = """
from alarmlib.widgets.plan_editor import PlanEditor
PlanEditor(session, coverage=True)
"""
PICTURES = os.environ.get("ALARM_PICTURES", "")  # a folder: then the drawings are kept there to be looked at


def picture(page: Page, name: str) -> None:
    if PICTURES:
        page.locator(".alarm-form").first.screenshot(path=str(Path(PICTURES) / f"{name}.png"))


def blank(desk: Any) -> Page:
    """A blank home with two storeys, and the editor on it."""
    home = {"site": {"storeys": [{"id": "ground", "name": "Ground"}, {"id": "up", "name": "Upstairs", "level": 1}]}}
    from alarmlib.model import Home

    Session.new(desk.file, Home.model_validate(home))
    return desk.open(desk.write(EDITOR))


class Hand:
    """The mouse over the plan, in metres."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.plan: Locator = page.locator("svg.plan")

    def spot(self, x: float, y: float) -> tuple[float, float]:
        """The pixel of a place, by what the drawing says it shows."""
        self.plan.scroll_into_view_if_needed()
        box = self.plan.bounding_box()
        assert box
        left, high, wide, tall = map(float, (self.plan.get_attribute("viewBox") or "").split())
        return box["x"] + (x - left) / wide * box["width"], box["y"] + (-y - high) / tall * box["height"]

    def click(self, x: float, y: float) -> None:
        self.page.mouse.click(*self.spot(x, y))

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.page.mouse.move(*self.spot(*start))
        self.page.mouse.down()
        self.page.mouse.move(*self.spot((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
        self.page.mouse.move(*self.spot(*end))
        self.page.mouse.up()

    def tool(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()


def wait(page: Page, part: str) -> None:
    expect(page.locator(".alarm-form [role=status]").first).to_contain_text(part)


def test_home_is_drawn_with_the_mouse(desk: Any) -> None:
    page = blank(desk)
    hand = Hand(page)
    hand.tool("Room")
    hand.drag((0.03, 0.02), (4.98, 4.04))
    wait(page, "A room is drawn")
    hand.drag((5.1, -0.05), (8.0, 4.0))
    expect(page.locator(".plan .room")).to_have_count(2)
    hand.tool("Way in")
    page.get_by_label("Kind", exact=True).select_option("door")
    hand.click(2.5, 0.1)
    wait(page, "A way in is placed")
    hand.tool("Inside door")
    hand.click(5.05, 2.0)
    wait(page, "Door placed")
    hand.tool("Furniture")
    hand.drag((1.0, 2.5), (2.0, 3.0))
    wait(page, "furniture is drawn")
    hand.tool("Device")
    hand.click(0.1, 3.9)
    wait(page, "A device is placed")
    hand.tool("Stairs")
    hand.click(7.0, 3.0)
    wait(page, "The stairs begin here")
    page.get_by_label("Storey", exact=True).select_option("up")
    wait(page, "Upstairs is shown")
    hand.tool("Room")
    hand.drag((0.0, 0.0), (8.0, 4.0))
    expect(page.locator(".plan .room")).to_have_count(1)
    hand.tool("Stairs")
    hand.click(7.0, 3.0)
    wait(page, "The stairs are placed")
    site, device = desk.stored()["site"], desk.stored()["devices"][0]
    outlines = [room["outline"] for room in site["rooms"]]
    assert outlines[0] == [[0, 0], [5, 0], [5, 4], [0, 4]]
    assert outlines[1] == [[5, 0], [8, 0], [8, 4], [5, 4]]
    assert site["openings"][0]["at"] == [2.5, 0]
    assert site["openings"][0]["room"] == "room_1"
    door, stairs = site["passages"]
    assert ({door["first"], door["second"]}, door["at"]) == ({"room_1", "room_2"}, [5, 2])
    assert (stairs["first"], stairs["second"], stairs["kind"]) == ("room_2", "room_3", "stairs")
    assert site["furniture"][0]["outline"] == [[1, 2.5], [2, 2.5], [2, 3], [1, 3]]
    assert (device["at"], device["room"], device["facing_deg"]) == ([0, 4], "room_1", pytest.approx(321.3, abs=0.1))


def test_home_is_drawn_by_keyboard(desk: Any) -> None:
    """No pointer: the tools by Tab and Enter, one room by the cross, the rest by numbers."""
    page = blank(desk)
    tools = page.get_by_role("group", name="Tools")
    tools.get_by_role("button", name="Room", exact=True).press("Enter")
    plan = page.locator("svg.plan")
    plan.focus()
    for key in ("ArrowLeft", "ArrowDown"):
        for _ in range(5):
            plan.press(f"Control+{key}")
    plan.press("ArrowRight")
    plan.press("ArrowLeft")
    wait(page, "At 0, -1")
    plan.press("Control+ArrowUp")
    plan.press("Enter")
    for _ in range(4):
        plan.press("Control+ArrowRight")
    for _ in range(3):
        plan.press("Control+ArrowUp")
    plan.press("Enter")
    wait(page, "A room is drawn")
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    text.fill("3 x 3 at 4, 0")
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(2)
    tools.get_by_role("button", name="Device", exact=True).press("Enter")
    place = page.get_by_label("Place", exact=True)
    place.fill("0, 3")
    place.press("Enter")
    wait(page, "A device is placed")
    tools.get_by_role("button", name="Choose and move", exact=True).press("Enter")
    plan.focus()
    plan.press("PageDown")
    expect(page.locator(".plan .thing.chosen")).to_have_count(1)
    things = page.get_by_label("Chosen thing")
    things.select_option(index=3)
    expect(page.locator(".plan .device.chosen")).to_have_count(1)
    facing = desk.stored()["devices"][0]["facing_deg"]
    page.locator(".plan .device").press("Comma")
    wait(page, "Faces")
    page.locator(".plan .device").press("ArrowRight")
    wait(page, "Moved")
    page.get_by_label("Range (m)", exact=True).fill("9")
    page.get_by_label("Height above the floor (m)", exact=True).fill("2.2")
    angle = page.get_by_label("Angle of view, degrees", exact=True)
    angle.fill("90")
    angle.press("Enter")
    expect(page.locator(".plan .area.sure").first).to_be_attached()
    site, device = desk.stored()["site"], desk.stored()["devices"][0]
    assert [room["outline"] for room in site["rooms"]] == [
        [[0, 0], [4, 0], [4, 3], [0, 3]],
        [[4, 0], [7, 0], [7, 3], [4, 3]],
    ]
    assert (device["at"], device["range_m"]) == ([0.1, 3], 9)
    assert device["facing_deg"] == pytest.approx((facing + 5) % 360)
    picture(page, "by_keyboard")


def test_refused_drawing_stays_drawn_and_what_is_wrong_is_shown(desk: Any) -> None:
    page = blank(desk)
    hand = Hand(page)
    hand.tool("Room by corners")
    for x, y in ((0, 0), (4, 4), (4, 0), (0, 4)):
        hand.click(x, y)
    hand.click(0, 0)
    expect(page.get_by_role("alert")).to_contain_text("must not cross")
    expect(page.locator(".plan .draft .stroke")).to_be_attached()
    assert desk.stored()["site"]["rooms"] == []
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    expect(text).to_have_value("0, 0; 4, 4; 4, 0; 0, 4")
    text.fill("0, 0; 4, 0; 4, 4; 0, 4")
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(1)
    text.fill("3 x 3 at 3, 1")
    text.press("Enter")
    expect(page.locator(".problems")).to_contain_text("overlap")
    expect(page.locator(".plan .room.wrong")).to_have_count(1)
    hand.tool("Device")
    place = page.get_by_label("Place", exact=True)
    place.fill("9, 9")
    place.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("No room is drawn there")
    picture(page, "wrong")


def test_a_drawing_outlives_its_kernel(desk: Any, run_all: Callable[[Page], None]) -> None:
    """Python is gone while a room is drawn: that is said, and after a re-run the drawing is there to be drawn again."""
    page = blank(desk)
    hand = Hand(page)
    hand.tool("Room")
    desk.lab.restart("/".join((desk.folder.name, "page.ipynb")))
    hand.drag((0, 0), (4, 3))
    wait(page, "A drawing is kept here")
    run_all(page)
    wait(page, "This drawing was not saved")
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    expect(text).not_to_have_value("")
    expect(page.locator(".plan .draft .stroke")).to_be_attached()
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(1)
    assert desk.stored()["site"]["rooms"][0]["outline"]


def test_refused_rectangle_stays_and_a_turn_is_saved(desk: Any) -> None:
    page = blank(desk)
    hand = Hand(page)
    hand.tool("Furniture")
    hand.drag((1, 1), (2, 2))
    expect(page.get_by_role("alert")).to_contain_text("No room is drawn there")
    page.mouse.move(*hand.spot(5, 5))
    expect(page.locator(".plan .draft .stroke")).to_be_attached()
    hand.tool("Room")
    hand.drag((0, 0), (4, 3))
    wait(page, "A room is drawn")
    expect(page.get_by_role("alert")).to_have_text("")
    hand.tool("Device")
    hand.click(0.05, 0.05)
    wait(page, "A device is placed")
    hand.tool("Choose and move")
    expect(page.locator(".plan [data-turn]")).to_be_attached()
    page.locator(".plan [data-turn]").scroll_into_view_if_needed()
    knob = page.locator(".plan [data-turn]").bounding_box()
    assert knob
    page.mouse.move(knob["x"] + knob["width"] / 2, knob["y"] + knob["height"] / 2)
    page.mouse.down()
    page.mouse.move(*hand.spot(0, 2))
    page.mouse.up()
    wait(page, "Faces")
    assert desk.stored()["devices"][0]["facing_deg"] == pytest.approx(90, abs=3)


def test_looks(desk: Any, grave: Callable[..., list[tuple[str, str]]]) -> None:
    """The demo home: axe, a narrow window, the dark theme, letters that would be commands, the paper not saved."""
    desk.lay_out(demo=True)
    page = desk.open(desk.write("session = session_for(file)", EDITOR))
    expect(page.locator(".plan .device").first).to_be_attached()
    assert grave(page, ".alarm-form") == []
    picture(page, "coverage")
    page.locator("svg.plan").focus()
    for letter in "mbxdra":
        page.keyboard.press(letter)
    expect(page.locator("svg.plan")).to_be_visible()
    before = desk.file.read_bytes()
    page.get_by_text("Tracing paper").click()
    dot = b"<svg xmlns='http://www.w3.org/2000/svg' width='40' height='30'><rect width='40' height='30'/></svg>"
    page.get_by_label("Picture", exact=True).set_input_files(
        {"name": "x.svg", "mimeType": "image/svg+xml", "buffer": dot}
    )
    expect(page.locator(".plan image")).to_be_attached()
    assert desk.file.read_bytes() == before
    page.set_viewport_size({"width": 390, "height": 800})
    edges = "const box = document.querySelector(part).getBoundingClientRect();"
    within = f"part => {{ {edges} return box.left >= 0 && box.right <= 390; }}"
    for part in ("svg.plan", ".alarm-form .tools", ".alarm-form .tracing", ".alarm-form"):
        page.wait_for_function(within, arg=part)
    picture(page, "narrow")
    page.emulate_media(color_scheme="dark")
    picture(page, "dark")
