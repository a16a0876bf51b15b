"""The plan drawn with the mouse and by keyboard, refused drawings kept, the image under it never saved."""

import os
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from math import dist
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import Locator, Page, expect

from alarmlib.calc.plan.drawing import DEVICE_SNAP_M
from alarmlib.model import Home
from alarmlib.record.produce import demo_home
from alarmlib.rules import say_of
from alarmlib.store import Session, load

STOREY = re.compile("^(Floor|Storey) ?$")  # the word of the home's country
PICTURES = os.environ.get("ALARM_PICTURES", "")  # a folder: then the drawings are kept there to be looked at


def picture(page: Page, name: str, part: str = ".alarm-form") -> None:
    if PICTURES:
        page.locator(part).first.screenshot(path=str(Path(PICTURES) / f"{name}.png"))


def blank(desk: Any) -> Page:
    """A blank home with two storeys, and the editor on it."""
    home = {"site": {"storeys": [{"id": "ground", "name": "Ground"}, {"id": "up", "name": "Upstairs", "level": 1}]}}
    from alarmlib.model import Home

    Session.new(desk.file, Home.model_validate(home))
    return desk.open(desk.write("PLAN"))


def wait(page: Page, part: str) -> None:
    expect(page.locator(".alarm-form [role=status]").first).to_contain_text(part)


class Keys:
    """The keyboard alone: a tool by its button, a kind by its letters, places by the cross or by numbers."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.plan: Locator = page.locator("svg.plan")

    def letters(self, label: str | re.Pattern[str], text: str) -> None:
        box = self.page.get_by_label(label, exact=True)
        if box.evaluate("box => box.selectedOptions[0]?.text") != text:
            box.focus()
            self.page.keyboard.type(text)
        self.page.wait_for_function(
            "([box, text]) => box.selectedOptions[0].text === text", arg=[box.element_handle(), text]
        )

    def storey(self, name: str) -> None:
        shown = self.page.get_by_label(STOREY).evaluate("box => box.selectedOptions[0]?.text") == name
        self.letters(STOREY, name)
        if not shown:
            wait(self.page, f"{name} is shown")

    def tool(self, name: str) -> None:
        self.page.get_by_role("group", name="Tools").get_by_role("button", name=name, exact=True).press("Enter")

    def typed(self, text: str) -> None:
        box = self.page.locator(".typed input")
        box.fill(text)
        box.press("Enter")
        expect(box).to_have_value("")

    def go(self, x: float, y: float) -> None:
        """The cross walked to a place: whole metres, tenths, hundredths."""
        self.plan.press("ArrowRight")
        told = self.page.locator(".alarm-form [role=status]").first
        expect(told).to_contain_text("At ")
        here = [float(part) for part in told.inner_text().partition("At ")[2].strip(" .").split(", ")]
        for far, more, less in ((x - here[0], "Right", "Left"), (y - here[1], "Up", "Down")):
            hundredths = round(abs(far) * 100)
            for number, held in (
                (hundredths // 100, "Control+"),
                (hundredths % 100 // 10, ""),
                (hundredths % 10, "Shift+"),
            ):
                for _ in range(number):
                    self.plan.press(f"{held}Arrow{more if far > 0 else less}")
        wait(self.page, f"At {x:g}, {y:g}")

    def crossed(self, *points: tuple[float, float]) -> None:
        self.plan.focus()
        for point in points:
            self.go(*point)
            self.plan.press("Enter")


class Stroke(NamedTuple):
    """One object to draw: the tool, the kind chosen, its points, and the shape of it that the plan counts."""

    tool: str
    kind: str
    points: tuple[tuple[float, float], ...]
    shape: str
    room: str = ""


def strokes(demo: Home, storey: str) -> Iterator[Stroke]:
    """How the demo home's storey is drawn; what leads across the yard has its place in the table alone."""
    here = {room.id for room in demo.site.rooms if room.storey == storey}
    for room in (room for room in demo.site.rooms if room.id in here):
        box = len(room.outline) == 4
        points = (room.outline[0], room.outline[2]) if box else room.outline
        yield Stroke("Room" if box else "Room by corners", "", points, "room")
    for opening in (opening for opening in demo.site.openings if opening.room in here):
        yield Stroke("Way in", opening.kind.text, (opening.at,), "opening")
    for passage in (p for p in demo.site.passages if p.kind in ("door", "doorway") and p.first in here):
        yield Stroke("Inside doorway", passage.kind.text, (passage.at,), "passage")
    for piece in (piece for piece in demo.site.furniture if piece.room in here):
        yield Stroke("Furniture", "", (piece.outline[0], piece.outline[2]), "furniture")
    for fixture in (fixture for fixture in demo.site.fixtures if fixture.room in here):
        yield Stroke("Fixture", fixture.kind.text, (fixture.at,), "fixture")
    for device in (device for device in demo.whole_devices if device.at and device.room in here):
        yield Stroke("Device", device.kind.text, (device.at,), "device", device.room)


def towards(demo: Home, room: str, at: tuple[float, float]) -> tuple[float, float]:
    """5 cm into the room that a device is in: on a wall between two rooms a pixel decides which of them is meant."""
    outline = next(each.outline for each in demo.site.rooms if each.id == room)
    middle = [sum(corner[axis] for corner in outline) / len(outline) for axis in (0, 1)]
    far = dist(at, middle) or 1.0
    return at[0] + 0.05 * (middle[0] - at[0]) / far, at[1] + 0.05 * (middle[1] - at[1]) / far


def blank_storeys(desk: Any, demo: Home) -> Page:
    """A home with the demo home's storeys and nothing else, and the editor on it."""
    Session.new(desk.file, Home.model_validate({"site": {"storeys": [s.model_dump() for s in demo.site.storeys]}}))
    return desk.open(desk.write("PLAN"), height=1100)


def compare(demo: Home, drawn: Home, off_m: float) -> None:
    """Every room, way in, door, stairs, piece, fixture and device is where the demo home has it."""
    corners = {(room.storey, frozenset(room.outline)): room.id for room in demo.site.rooms}
    found = {room.id: (room.storey, frozenset(room.outline)) for room in drawn.site.rooms}
    assert set(found.values()) == set(corners)
    same = {new: corners[outline] for new, outline in found.items()}
    ways = [p for p in demo.site.passages if p.kind != "outside"]
    told = {(frozenset((same[p.first], same[p.second])), p.kind.value, p.at) for p in drawn.site.passages}
    assert told == {(frozenset((p.first, p.second)), p.kind.value, p.at) for p in ways}
    assert [(same[o.room], o.kind, o.at) for o in drawn.site.openings] == by_storey(demo, demo.site.openings)
    pieces = [(same[piece.room], set(piece.outline)) for piece in drawn.site.furniture]
    assert sorted(pieces, key=str) == sorted([(p.room, set(p.outline)) for p in demo.site.furniture], key=str)
    assert [(same[f.room], f.kind, f.at) for f in drawn.site.fixtures] == by_storey(demo, demo.site.fixtures)
    devices = by_storey(demo, [device for device in demo.whole_devices if device.at])
    assert [(same[d.room], d.kind) for d in drawn.whole_devices] == [each[:2] for each in devices]
    assert max(dist(d.at or (99, 99), each[2]) for d, each in zip(drawn.devices, devices, strict=True)) <= off_m


def by_storey(demo: Home, things: Iterable[Any]) -> list[tuple[str, Any, Any]]:
    order = [storey.id for storey in demo.site.storeys]
    ranked = sorted(things, key=lambda each: order.index(demo_storey(demo, each.room)))
    return [(each.room, each.kind, each.at) for each in ranked]


def demo_storey(demo: Home, room: str) -> str:
    return next(each.storey for each in demo.site.rooms if each.id == room)


def stairs_of(demo: Home) -> Iterator[tuple[str, Any, str, Any]]:
    for way in demo.site.passages:
        if way.kind == "stairs":
            yield demo_storey(demo, way.first), way.at, demo_storey(demo, way.second), way.at_second


def test_the_demo_home_is_drawn_with_the_mouse(desk: Any, hand_on: Any) -> None:
    demo = demo_home()
    page = blank_storeys(desk, demo)
    hand, names = hand_on(page), {storey.id: storey.name for storey in demo.site.storeys}
    for storey in demo.site.storeys:
        page.get_by_label(STOREY).select_option(storey.id)
        wait(page, f"{storey.name} is shown")
        hand.show_within(30, 14)
        tool, counts = "", Counter[str]()
        for stroke in strokes(demo, storey.id):
            if stroke.tool != tool:
                hand.tool(tool := stroke.tool)
            if stroke.kind:
                page.get_by_label("Kind", exact=True).select_option(label=say_of(Home())(stroke.kind))
            if stroke.tool in ("Room", "Furniture"):
                hand.drag(*stroke.points)
            else:
                for point in (*stroke.points, *stroke.points[:1]) if len(stroke.points) > 1 else stroke.points:
                    hand.click(*(towards(demo, stroke.room, point) if stroke.room else point))
            counts[stroke.shape] += 1
            expect(page.locator(f'.plan [data-thing^="{stroke.shape}:"]')).to_have_count(counts[stroke.shape])
        page.get_by_role("button", name=re.compile("^Whole (floor|storey)$")).press("Enter")
        picture(page, f"mouse_{storey.id}", "svg.plan")
    hand.tool("Stairs")
    for low, foot, high, top in stairs_of(demo):
        for storey, at, said in ((low, foot, "The stairs begin here"), (high, top, "The stairs are placed")):
            page.get_by_label(STOREY).select_option(storey)
            wait(page, f"{names[storey]} is shown")
            hand.click(*at)
            wait(page, said)
    compare(demo, Home.model_validate(desk.stored()), off_m=DEVICE_SNAP_M)


def test_the_demo_home_is_drawn_by_keyboard(desk: Any) -> None:
    """No pointer: the first of each tool on a storey by the cross, the others by numbers."""
    demo = demo_home()
    page = blank_storeys(desk, demo)
    keys, names = Keys(page), {storey.id: storey.name for storey in demo.site.storeys}
    for storey in demo.site.storeys:
        keys.storey(storey.name)
        tool, counts = "", Counter[str]()
        for stroke in strokes(demo, storey.id):
            first = stroke.tool != tool
            if first:
                keys.tool(tool := stroke.tool)
            if stroke.kind:
                keys.letters("Kind", say_of(Home())(stroke.kind))
            if first and stroke.tool != "Device":
                keys.crossed(*stroke.points)
                if stroke.tool == "Room by corners":
                    keys.plan.press("Enter")  # a corner set twice is the last
            else:
                box = stroke.tool in ("Room", "Furniture")
                keys.typed("; ".join(f"{x:g}, {y:g}" for x, y in (boxed(stroke.points) if box else stroke.points)))
            counts[stroke.shape] += 1
            expect(page.locator(f'.plan [data-thing^="{stroke.shape}:"]')).to_have_count(counts[stroke.shape])
        page.get_by_role("button", name=re.compile("^Whole (floor|storey)$")).press("Enter")
        picture(page, f"keyboard_{storey.id}", "svg.plan")
    keys.tool("Stairs")
    for low, foot, high, top in stairs_of(demo):
        for storey, at, said in ((low, foot, "The stairs begin here"), (high, top, "The stairs are placed")):
            keys.storey(names[storey])
            keys.crossed(at)
            wait(page, said)
    compare(demo, Home.model_validate(desk.stored()), off_m=1e-9)
    keys.tool("Choose and move")
    keys.storey(names["ground"])
    turned = next(device for device in demo.whole_devices if device.id == "kitchen_motion")
    facing = chosen_by_keys(page, desk, turned.at)
    turned_by_number(page, desk, turned.at, facing)


def turned_by_number(page: Page, desk: Any, at: Any, facing: float) -> None:
    """The direction typed under the plan turns the chosen device."""
    direction = page.locator(".panel").get_by_label("Faces")
    assert float(direction.input_value()) == pytest.approx(facing, abs=0.1)
    direction.fill(f"{round((facing + 35) % 360)}")
    direction.press("Tab")
    for _ in range(100):
        now = next(each["facing_deg"] for each in desk.stored()["devices"] if each["at"] == list(at))
        if now != facing:
            break
        page.wait_for_timeout(100)
    assert now == round((facing + 35) % 360)


def boxed(points: Any) -> Any:
    (left, low), (right, high) = points
    return (left, low), (right, low), (right, high), (left, high)


def chosen_by_keys(page: Page, desk: Any, at: Any) -> float:
    """Choose the device at a place by Page Up and Page Down alone; gives where it faces."""
    device = next(each for each in desk.stored()["devices"] if each["at"] == list(at))
    page.locator("svg.plan").focus()
    chosen = page.locator(f'.plan .chosen[data-thing="device:{device["id"]}"]')
    for _ in range(120):
        if chosen.count():
            return float(device["facing_deg"])
        page.keyboard.press("PageUp")
        page.wait_for_timeout(60)
    raise AssertionError("the device was never chosen")


def test_refused_drawing_stays_drawn_and_what_is_wrong_is_shown(desk: Any, hand_on: Any) -> None:
    page = blank(desk)
    hand = hand_on(page)
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


def test_a_quick_hand_loses_nothing(desk: Any, hand_on: Any) -> None:
    """Clicks before Python has answered are drawn in order, each of its kind; a double click is one."""
    page = blank(desk)
    hand = hand_on(page)
    hand.tool("Room")
    hand.drag((0, 0), (4, 3))
    hand.drag((4, 0), (8, 3))
    hand.tool("Device")
    kind = page.get_by_label("Kind", exact=True)
    places = [(x + 0.5, 1.5) for x in range(8)]
    spots = [hand.spot(*place) for place in places]
    kinds = [("inside sounder", "keypad")[n % 2] for n in range(8)]
    for spot, label in zip(spots, kinds, strict=True):
        kind.select_option(label=label)
        page.mouse.dblclick(*spot)
    expect(page.locator(".plan .device")).to_have_count(8)
    expect(page.locator(".plan .room")).to_have_count(2)
    found = [(device.kind.text, (device.at or (99, 99))[0]) for device in load(desk.file).whole_devices]
    assert [kind for kind, _ in found] == kinds
    assert [x for _, x in found] == pytest.approx([x for x, _ in places], abs=DEVICE_SNAP_M)


def test_what_is_typed_while_a_drawing_is_on_its_way_stays(desk: Any, hand_on: Any) -> None:
    """The answer to one drawing empties the box of that drawing's text, never of the next one's."""
    page = blank(desk)
    hand_on(page).tool("Room")
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    text.evaluate(
        """box => {
          box.value = "4 x 3 at 0, 0";
          box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
          box.value = "4 x 3 at 4, 0";
        }"""
    )
    expect(page.locator(".plan .room")).to_have_count(1)
    page.wait_for_timeout(500)
    expect(text).to_have_value("4 x 3 at 4, 0")
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(2)
    expect(text).to_have_value("")


def test_a_drawing_outlives_its_kernel(desk: Any, run_all: Callable[[Page], None], hand_on: Any) -> None:
    """Python is gone while a room is drawn: the page says so; after a re-run the drawing can be taken up again."""
    page = blank(desk)
    hand = hand_on(page)
    hand.tool("Room")
    desk.lab.restart("/".join((desk.folder.name, "page.ipynb")))
    hand.drag((0, 0), (4, 3))
    hand.drag((4, 0), (7, 3))
    wait(page, "A drawing is kept here")
    run_all(page)
    wait(page, "This drawing was not saved")
    text = page.get_by_label("Corners, or a rectangle", exact=True)
    expect(text).not_to_have_value("")
    expect(page.locator(".plan .draft .stroke")).to_be_attached()
    first = text.input_value()
    hand.drag((0, 4), (4, 6))  # what is drawn meanwhile takes no unsaved drawing's place
    expect(page.locator(".plan .room")).to_have_count(1)
    expect(text).to_have_value(first)
    hand.tool("Furniture")
    expect(text).to_have_value("")
    hand.tool("Room")
    expect(text).to_have_value(first)
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(2)
    assert desk.stored()["site"]["rooms"][1]["outline"]
    expect(text).not_to_have_value(first)
    wait(page, "This drawing was not saved")
    text.press("Enter")
    expect(page.locator(".plan .room")).to_have_count(3)
    expect(text).to_have_value("")


def test_refused_rectangle_stays_and_a_turn_is_saved(desk: Any, hand_on: Any) -> None:
    page = blank(desk)
    hand = hand_on(page)
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
    wait(page, "The device is placed")
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
    facing = desk.stored()["devices"][0]["facing_deg"]
    assert facing == pytest.approx(90, abs=3)
    no_key_turns_it(page, desk, facing)


def no_key_turns_it(page: Page, desk: Any, facing: float) -> None:
    """Keys on the plan leave the direction of the chosen device; choosing away and back is answered last."""
    plan, chosen = page.locator("svg.plan"), page.locator('.plan .chosen[data-thing^="device:"]')
    expect(chosen).to_have_count(1)
    for key in ("Comma", "Period", "BracketLeft", "BracketRight", "r"):
        plan.press(key)
        plan.press("PageDown")
        expect(chosen).to_have_count(0)
        plan.press("PageUp")
        expect(chosen).to_have_count(1)
        assert desk.stored()["devices"][0]["facing_deg"] == facing, key


def test_looks(desk: Any, grave: Callable[..., list[tuple[str, str]]]) -> None:
    """The demo home: axe, a narrow window, the dark theme, letters that would be commands, the image not saved."""
    desk.lay_out(demo=True)
    page = desk.open(desk.write("session = session_for(file)", "PLAN"))
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
