"""What the hand points at on the plan is what the home file gets: at every size, under Escape, through every list."""

import re
from collections.abc import Callable
from math import floor
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import Locator, Page, expect

from alarmlib.model import Home
from alarmlib.store import Session

STOREYS = [{"id": "ground", "name": "Ground"}, {"id": "up", "name": "Upstairs", "level": 1}]
GRID_M = 0.1
STOREY = re.compile("^(Floor|Storey) ?$")  # the word of the home's country


class Screen(NamedTuple):
    """A window, the pixels of the device in one of the page, and the page's own zoom."""

    width: int
    height: int
    device: float = 1
    zoom: float = 1


SCREENS = {
    "1366x768": Screen(1366, 768),
    "1920x1080": Screen(1920, 1080),
    "390x844": Screen(390, 844),
    "1366x768 at 150 %": Screen(911, 512, device=1.5),  # what a browser makes of its zoom: fewer, larger pixels
    "zoomed by the page": Screen(1920, 1080, zoom=1.5),
}


def drawn_on(desk: Any, site: dict[str, Any], **more: Any) -> Page:
    """The editor on a home with this site."""
    Session.new(desk.file, Home.model_validate({"site": site}))
    page: Page = desk.open(desk.write("PLAN"), **more)
    return page


def said(page: Page) -> Locator:
    return page.locator(".alarm-form [role=status]").first


def tool(page: Page, name: str) -> Locator:
    return page.get_by_role("group", name="Tools").get_by_role("button", name=name, exact=True)


def middle_of(part: Locator) -> tuple[float, float]:
    box = part.bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def edges(page: Page, room: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom pixel of a room's outline as drawn now, without the width of its line."""
    found = page.evaluate(
        """room => {
          const outline = document.querySelector(`.plan [data-thing="room:${room}"] .outline`);
          const { x, y, width, height } = outline.getBBox();
          const spot = (x, y) => new DOMPoint(x, y).matrixTransform(outline.getScreenCTM());
          const [one, other] = [spot(x, y), spot(x + width, y + height)];
          return [one.x, one.y, other.x, other.y];
        }""",
        room,
    )
    return tuple(found)


def corners_in_sight(hand: Any) -> tuple[tuple[float, float], tuple[float, float]]:
    """Two opposite grid points near the edges of all that the drawing's box shows."""
    left, high, wide, tall = hand.frame
    box, scale = hand.box, hand.pixels_a_metre
    middle = left + wide / 2, -high - tall / 2
    half = 0.9 * box["width"] / scale / 2, 0.8 * box["height"] / scale / 2
    grid = [floor(each / GRID_M) * GRID_M for each in half]
    places = [[round(middle[n] + sign * grid[n], 1) for n in (0, 1)] for sign in (-1, 1)]
    return tuple(places[0]), tuple(places[1])  # type: ignore[return-value]


@pytest.mark.parametrize("screen", SCREENS.values(), ids=SCREENS)
def test_what_is_pointed_at_is_what_is_stored(desk: Any, hand_on: Any, screen: Screen) -> None:
    pixels = {} if screen.device == 1 else {"device_scale_factor": screen.device}
    page = drawn_on(desk, {"storeys": STOREYS}, width=screen.width, height=screen.height, **pixels)
    page.evaluate(f"document.documentElement.style.zoom = {screen.zoom}")
    hand = hand_on(page)
    for n, storey in enumerate(("ground", "up")):
        page.get_by_label(STOREY).select_option(storey)
        if n:
            expect(said(page)).to_contain_text("is shown")
        tool(page, "Room").click()
        start, end = corners_in_sight(hand)
        spots = [hand.spot(*start), hand.spot(*end)]
        for spot in spots:  # where the cross under the hand is drawn, before anything snaps
            page.mouse.move(*spot)
            assert middle_of(page.locator(".plan .draft .cross")) == pytest.approx(spot, abs=1)
        hand.drag(start, end)
        expect(page.locator(".plan .room")).to_have_count(1)
        left, top, right, bottom = edges(page, f"room_{n + 1}")
        assert (left, bottom) == pytest.approx(spots[0], abs=1)
        assert (right, top) == pytest.approx(spots[1], abs=1)
        room = desk.stored()["site"]["rooms"][n]
        assert room["storey"] == storey
        pixel_m = 1 / hand.pixels_a_metre
        assert room["outline"][0] == pytest.approx(start, abs=min(pixel_m, 1e-6))
        assert room["outline"][2] == pytest.approx(end, abs=min(pixel_m, 1e-6))


@pytest.mark.parametrize("width", [1366, 390])
def test_choosing_a_tool_leaves_the_canvas_where_it_was(
    desk: Any, hand_on: Any, grave: Callable[..., Any], width: int
) -> None:
    rooms = [{"id": "hall", "name": "Hall", "storey": "ground"}, {"id": "den", "name": "Den", "storey": "ground"}]
    page = drawn_on(desk, {"storeys": STOREYS, "rooms": rooms}, width=width, height=768)
    hand = hand_on(page)
    before = hand.box
    names = page.get_by_role("group", name="Tools").locator("button[aria-pressed]").all_inner_texts()
    assert len(names) == 9
    for name in names:
        tool(page, name).click()
        expect(tool(page, name)).to_have_attribute("aria-pressed", "true")
        assert page.locator(".typed").is_visible() == (name != "Choose and move")
        assert hand.plan.bounding_box() == before
    tool(page, "Device").click()
    hand.click(1, 1)
    expect(page.get_by_role("alert")).to_contain_text("No room is drawn there")
    assert hand.plan.bounding_box() == before
    tool(page, "Room").click()
    hand.drag((0, 0), (4, 3))
    expect(page.locator(".plan .room")).to_have_count(1)
    assert hand.plan.bounding_box() == before
    expect(page.get_by_label("Which one", exact=True)).to_be_visible()
    assert grave(page, ".alarm-form") == []
    page.evaluate("window.jupyterapp.commands.execute('apputils:change-theme', { theme: 'JupyterLab Dark' })")
    page.wait_for_function("document.body.dataset.jpThemeLight === 'false'")
    page.wait_for_timeout(1000)  # the theme's colours come with its style sheet
    assert grave(page, ".alarm-form") == []


def test_a_drag_shows_its_measures_and_escape_draws_nothing(desk: Any, hand_on: Any) -> None:
    page = drawn_on(desk, {"storeys": STOREYS})
    hand, measured = hand_on(page), page.locator(".plan .measured")
    tool(page, "Room").click()
    before = said(page).inner_text()
    for end, size in (((2, 2), "2 m by 2 m"), ((4.2, 3.1), "4.2 m by 3.1 m")):
        press(hand, (0, 0), end)
        expect(measured).to_have_text(size)
        assert page.locator(".plan .over").get_attribute("aria-hidden") == "true"
        assert said(page).inner_text() == before  # read aloud at the end alone
        page.keyboard.press("Escape")
        expect(said(page)).to_have_text("Nothing was changed.")
        page.mouse.up()
        expect(measured).to_have_count(0)
        before = said(page).inner_text()
    expect(tool(page, "Room")).to_have_attribute("aria-pressed", "true")
    press(hand, (0, 0), (4.2, 3.1))
    page.mouse.up()
    expect(said(page)).to_contain_text("A room is drawn, 4.2 m by 3.1 m.")
    expect(measured).to_have_count(0)
    assert [len(room["outline"]) for room in desk.stored()["site"]["rooms"]] == [4]


def press(hand: Any, start: tuple[float, float], end: tuple[float, float]) -> None:
    """A drag that has not let go yet."""
    hand.page.mouse.move(*hand.spot(*start))
    hand.page.mouse.down()
    hand.page.mouse.move(*hand.spot((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
    hand.page.mouse.move(*hand.spot(*end))


def two_rooms(**more: Any) -> dict[str, Any]:
    rooms = [
        {"id": "hall", "name": "Hall", "storey": "ground", "outline": [[0, 0], [4, 0], [4, 3], [0, 3]]},
        {"id": "den", "name": "Den", "storey": "ground", "outline": [[4, 0], [8, 0], [8, 3], [4, 3]]},
    ]
    return {"storeys": STOREYS, "rooms": rooms, **more}


def test_escape_while_a_room_or_its_corner_is_dragged_moves_nothing(desk: Any, hand_on: Any) -> None:
    page = drawn_on(desk, two_rooms())
    hand, before = hand_on(page), desk.file.read_bytes()
    hall = page.locator('.plan [data-thing="room:hall"]')
    hand.click(2, 1)
    expect(hall).to_have_attribute("aria-pressed", "true")
    for start in ((2, 1), (0, 0)):
        press(hand, start, (start[0] - 0.5, start[1] - 0.5))
        if start == (0, 0):
            expect(page.locator(".plan .measured")).to_have_text("4.5 m by 3.5 m")
        page.keyboard.press("Escape")
        page.mouse.up()
        expect(said(page)).to_have_text("Nothing was changed.")
        expect(hall).not_to_have_attribute("transform", "")
        expect(page.locator(".plan .draft .stroke, .plan .measured")).to_have_count(0)
    tool(page, "Undo").focus()
    assert desk.file.read_bytes() == before


def test_rooms_of_the_tables_are_offered_before_a_new_one(desk: Any, hand_on: Any) -> None:
    rooms = [{"id": "hall", "name": "Hall", "storey": "ground"}, {"id": "den", "name": "Den", "storey": "ground"}]
    page = drawn_on(desk, {"storeys": STOREYS, "rooms": rooms})
    hand, which = hand_on(page), page.get_by_label("Which one", exact=True)
    tool(page, "Room").click()
    assert which.locator("option").all_inner_texts() == ["Hall", "Den", "a new one"]
    expect(which).to_have_value("hall")
    expect(said(page)).to_contain_text("This places Hall.")
    hand.drag((0, 0), (4, 3))
    hand.drag((4, 0), (8, 3))  # at once: the next room of the tables is taken, not the first one twice
    expect(page.locator(".plan .room")).to_have_count(2)
    expect(which).to_be_hidden()
    hand.drag((0, 3), (4, 6))
    expect(page.locator(".plan .room")).to_have_count(3)
    stored = [(room["name"], room["outline"][0]) for room in desk.stored()["site"]["rooms"]]
    assert stored == [("Hall", [0, 0]), ("Den", [4, 0]), ("Room 3", [0, 3])]


def test_a_new_one_stays_chosen_until_the_tool_changes(desk: Any, hand_on: Any) -> None:
    way = {"id": "window", "name": "Old window", "room": "hall", "kind": "window"}
    page = drawn_on(desk, two_rooms(openings=[way]))
    hand = hand_on(page)
    which, kind = page.get_by_label("Which one", exact=True), page.get_by_label("Kind", exact=True)
    tool(page, "Way in").click()
    expect(which).to_have_value("window")
    expect(kind).to_be_hidden()  # the tables say it already
    which.select_option(label="a new one")
    expect(kind).to_be_visible()
    hand.click(1, 0)
    hand.click(3, 0)
    expect(page.locator(".plan .opening")).to_have_count(2)
    expect(which).to_have_value("")
    tool(page, "Way in").click()
    expect(which).to_have_value("window")
    hand.click(2, 0)
    expect(said(page)).to_contain_text("Old window is on the plan.")
    assert [opening["at"] for opening in desk.stored()["site"]["openings"]] == [[2, 0], [1, 0], [3, 0]]


def test_looking_through_the_lists_changes_nothing(desk: Any) -> None:
    """Arrows in the list of objects choose; they once moved the hall 0.3 m, since the plan took the focus."""
    desk.lay_out(demo=True)
    page = desk.open(desk.write("session = session_for(file)", "PLAN"))
    before = desk.file.read_bytes()
    things, storeys = page.get_by_label("Chosen part", exact=True), page.get_by_label(STOREY)
    for one in (things, storeys):
        values = one.locator("option").evaluate_all("options => options.map((option) => option.value)")
        one.focus()
        page.keyboard.press("Home")
        for value in values[1:]:
            page.keyboard.press("ArrowDown")
            expect(one).to_have_value(value)
            expect(one).to_be_focused()
            if one is things:
                expect(page.locator(".plan .chosen")).to_have_attribute("data-thing", value)
        for _ in values:
            page.keyboard.press("ArrowUp")
        expect(one).to_have_value(values[0])
        expect(one).to_be_focused()
    expect(said(page)).to_contain_text("is shown")
    assert desk.file.read_bytes() == before


def test_a_blank_home_has_a_frame_and_a_drag_becomes_a_room_of_its_size(desk: Any, hand_on: Any) -> None:
    """No storey, nothing drawn: a drag of 300 by 100 pixels once became 3.7 m by 6.6 m that nobody saw."""
    page = drawn_on(desk, {}, width=1366, height=768)
    hand = hand_on(page)
    assert hand.frame == (-1, -8, 12, 9)
    tool(page, "Room").click()
    left, top = hand.spot(0, 6)
    page.mouse.move(left, top)
    page.mouse.down()
    page.mouse.move(left + 150, top + 60)
    page.mouse.move(left + 300, top + 100)
    page.mouse.up()
    expect(said(page)).to_contain_text("Its floor is “Ground floor”.")
    (room,) = desk.stored()["site"]["rooms"]
    (x, y), (wide, tall) = room["outline"][0], room["outline"][2]
    scale = hand.pixels_a_metre
    assert ((wide - x) * scale, (tall - y) * scale) == pytest.approx((300, 100), abs=GRID_M / 2 * scale + 1)
    shown = edges(page, "room_1")
    assert (shown[2] - shown[0], shown[3] - shown[1]) == pytest.approx(((wide - x) * scale, (tall - y) * scale), abs=1)
    assert within(shown, hand.box)
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    text.fill("4 x 3 at 40, 0")  # far off: it comes into sight
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(2)
    assert within(edges(page, "room_2"), hand.box)


def within(shown: tuple[float, float, float, float], box: Any) -> bool:
    left, top, right, bottom = shown
    across = box["x"] < left < right < box["x"] + box["width"]
    return bool(across and box["y"] < top < bottom < box["y"] + box["height"])


def test_delete_removes_what_the_mouse_chose_and_each_act_is_announced_once(desk: Any, hand_on: Any) -> None:
    page = drawn_on(desk, two_rooms())
    hand, hall = hand_on(page), page.locator('.plan [data-thing="room:hall"]')
    hand.drag((6, 1), (6, 3))
    expect(said(page)).to_have_text("Moved.")
    hall.press("PageDown")
    said(page).evaluate(
        """line => {
          window.told = [];
          new MutationObserver(() => window.told.push(line.textContent)).observe(line, { childList: true });
        }"""
    )
    hand.click(2, 1)
    expect(hall).to_have_attribute("aria-pressed", "true")
    tool(page, "Way in").click()
    tool(page, "Choose and move").click()
    hand.click(2, 1)  # what is chosen already
    hand.page.wait_for_timeout(300)
    assert "Moved." not in page.evaluate("window.told")
    page.keyboard.press("Delete")
    expect(page.get_by_text("Remove Hall?")).to_be_visible()
    expect(page.get_by_role("button", name="No, leave it")).to_be_focused()
    page.keyboard.press("Enter")
    assert [room["id"] for room in desk.stored()["site"]["rooms"]] == ["hall", "den"]
    page.keyboard.press("Delete")
    page.get_by_role("button", name="Yes, remove it").press("Enter")
    expect(said(page)).to_have_text("Removed.")
    assert [room["id"] for room in desk.stored()["site"]["rooms"]] == ["den"]


def test_the_measures_of_what_was_drawn_are_at_hand(desk: Any, hand_on: Any, grave: Callable[..., Any]) -> None:
    page = drawn_on(desk, {"storeys": STOREYS})
    hand = hand_on(page)
    tool(page, "Room").click()
    hand.drag((0, 0), (4, 3))
    name = page.locator(".panel").get_by_label("Room", exact=True)
    expect(name).to_have_value("Room 1")
    name.fill("Kitchen")
    name.press("Enter")
    expect(page.locator(".panel legend")).to_have_text("Kitchen")
    assert grave(page, ".alarm-form") == []


COVERED = """() => {
  const boxes = (part) => [...document.querySelectorAll(`.plan ${part}`)].map((each) => {
    const { x, y, width, height } = each.getBBox();  // without the halo around letters
    return { name: each.closest('.thing').textContent, left: x, top: y, right: x + width, bottom: y + height };
  });
  const laps = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
  const names = boxes('.room .words');
  const others = [...names, ...boxes('.badge')];
  const covered = names.flatMap((one) => others.map((other) => [one, other]));
  const bad = covered.filter(([one, other]) => one !== other && laps(one, other));
  return bad.map(([one, other]) => `${one.name}: ${other.name}`);
}"""


def test_no_mark_covers_the_name_of_a_room(desk: Any) -> None:
    desk.lay_out(demo=True)
    page = desk.open(desk.write("session = session_for(file)", "PLAN"), width=1366, height=768)
    for storey in Session.open(desk.file).home.site.storeys:
        page.get_by_label(STOREY).select_option(storey.id)
        expect(said(page)).to_contain_text(f"{storey.name} is shown")
        rooms = sum(room.storey == storey.id for room in Session.open(desk.file).home.site.rooms)
        expect(page.locator(".plan .room .words")).to_have_count(rooms)
        assert page.evaluate(COVERED) == []
