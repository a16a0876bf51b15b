"""One JupyterLab for all browser tests, in folders of its own, and Chromium that must never ask anybody else."""

import json
import os
import secrets
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass
from http import HTTPStatus
from pathlib import Path
from typing import Any

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Locator, Page, Playwright, expect, sync_playwright

sys.path.insert(0, str(Path(__file__).parent))

from one_window import HEIGHT, LAID_OUT, WIDTH, OneWindow, local

from alarmlib.draft.blank import blank_home
from alarmlib.lab import surroundings, workbook
from alarmlib.lab.open import command, prepare
from alarmlib.lab.run_place import end_run, new_run
from alarmlib.store import Session

expect.set_options(timeout=30_000)  # a loaded machine takes its time to start a kernel

SESSION = """
from pathlib import Path
from alarmlib.model import Home
from alarmlib.model.site import Opening, Room
from alarmlib.store import Session, session_for
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, DownloadSpec, FormSpec, TableSpec, UploadSpec, fields_of, numbered
from alarmlib.widgets.table import TableForm
file = Path("home.json")
hall = {"id": "hall", "name": "Hall", "storey": "ground", "ceiling_m": 2.4, "note": "blue door"}
study = {"id": "study", "name": "Study", "storey": "ground", "use": "study"}
site = {"storeys": [{"id": "ground", "name": "Ground"}], "rooms": [hall, study]}
if not file.exists():
    Session.new(file, Home.model_validate({"site": site}))
session = session_for(file)
"""
FORM = """
names = ["name", "ceiling_m", "floor_area_m2", "use", "guarded", "disturbances", "smoke_alarm_made", "note"]
fields = fields_of(Room, names, ("site", "rooms", "hall"))
Form(session, FormSpec("Hall", (("", fields),)))
"""
TABLE = """
storeys = lambda home: [(each.id, each.name) for each in home.site.storeys]
columns = fields_of(Room, ["name", "storey", "ceiling_m", "guarded"], options={"storey": storeys})
more = lambda home: {"name": "", "storey": "ground"}
TableForm(session, TableSpec("Rooms", ("site", "rooms"), columns, "Add a room", numbered("room"), more))
"""
PLAN = """
from alarmlib.widgets.plan_editor import PlanEditor
PlanEditor(session, coverage=True)
"""
ALL_RAN = """() => {
  const panel = window.jupyterapp?.shell.currentWidget;
  const cells = [...(panel?.content?.model?.cells ?? [])].filter((cell) => cell.type === 'code');
  const failed = cells.some((cell) => cell.outputs.toJSON().some((output) => output.output_type === 'error'));
  const idle = panel?.sessionContext.session?.kernel?.status === 'idle';
  return failed || (cells.length > 0 && idle && cells.every((cell) => cell.executionCount));
}"""
FAILED = pytest.StashKey[bool]()
CHROMIUM = os.environ.get("ALARM_CHROMIUM") or "/usr/bin/chromium"
QUIET = [
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-default-apps",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
]


@dataclass(frozen=True)
class Lab:
    """A running server: where it answers, its token, the folder it shows."""

    address: str
    token: str
    folder: Path
    run: Path

    def list_page(self, page: Path) -> None:
        """Take a page of a test into the list of the library's own pages, as this server has it."""
        place = surroundings.own_pages(self.run)
        listed = json.loads(place.read_text(encoding="utf-8"))
        name = page.relative_to(self.folder).as_posix()
        place.write_text(json.dumps(listed | {name: workbook.own_text(page)}), encoding="utf-8")

    def call(self, method: str, path: str) -> Any:
        """A request to the server's own interface; the answer as JSON, None when it is empty."""
        request = urllib.request.Request(
            f"{self.address}/{path}", method=method, data=b"" if method == "POST" else None
        )
        request.add_header("Authorization", f"token {self.token}")
        with urllib.request.urlopen(request, timeout=30) as answer:
            body = answer.read()
        return json.loads(body) if body else None

    def end_sessions(self) -> None:
        """Every kernel ended; a page that is put away may have ended its own just now."""
        for session in self.call("GET", "api/sessions"):
            try:
                self.call("DELETE", f"api/sessions/{session['id']}")
            except urllib.error.HTTPError as problem:
                if problem.code != HTTPStatus.NOT_FOUND:
                    raise

    def kernel(self, name: str) -> str:
        """The id of the kernel that runs this notebook."""
        return next(each["kernel"]["id"] for each in self.call("GET", "api/sessions") if each["path"] == name)

    def restart(self, name: str) -> None:
        """Give the notebook a fresh kernel under its open forms, as a crash does."""
        self.call("POST", f"api/kernels/{self.kernel(name)}/restart")


@pytest.fixture(scope="session")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """JupyterLab on a free port with a random token; every Jupyter folder is a temporary one."""
    folder = tmp_path_factory.mktemp("lab")
    run, token = new_run(folder), secrets.token_hex(16)
    surroundings.write_settings(run, folder, token)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = ["--ServerApp.port_retries=0", "--LabApp.expose_app_in_browser=True"]
    with (folder / "server.log").open("w") as log:
        server = subprocess.Popen(
            [*command(port), *words], cwd=run, env=surroundings.environment(run, folder), stdout=log, stderr=log
        )
    found = Lab(f"http://127.0.0.1:{port}", token, folder, run)
    try:
        _await(found, server)
        yield found
    finally:
        server.terminate()
        server.wait(20)
        end_run(run)


def _await(lab: Lab, server: "subprocess.Popen[bytes]") -> None:
    limit = time.monotonic() + 60
    while time.monotonic() < limit and server.poll() is None:
        try:
            lab.call("GET", "api/status")
            return
        except OSError:
            time.sleep(0.1)
    raise AssertionError((lab.folder / "server.log").read_text())


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver of the browser."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    """Debian's Chromium, kept from asking anybody on its own account."""
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
    yield browser
    browser.close()


@pytest.fixture
def context(chromium: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """A maker of browser contexts; the test fails if any page in them asked an address off this machine."""
    made: list[BrowserContext] = []
    elsewhere: list[str] = []

    def make(width: int = WIDTH, height: int = HEIGHT, **more: Any) -> BrowserContext:
        new = chromium.new_context(viewport={"width": width, "height": height}, **more)
        new.set_default_timeout(20_000)
        new.on("request", lambda request: None if local(request.url) else elsewhere.append(request.url))
        made.append(new)
        return new

    yield make
    for each in made:
        each.close()
    assert elsewhere == []


@dataclass
class Desk:
    """A home file and notebooks about it, opened in Chromium."""

    lab: Lab
    folder: Path
    context: Callable[..., BrowserContext]
    one: OneWindow

    @property
    def file(self) -> Path:
        """The home file of this test."""
        return self.folder / "home.json"

    def stored(self) -> Any:
        """What the home file holds now."""
        return json.loads(self.file.read_text(encoding="utf-8"))

    @property
    def hall(self) -> Any:
        """The hall as the home file holds it now."""
        return self.stored()["site"]["rooms"][0]

    def write(self, *cells: str, name: str = "page.ipynb") -> str:
        """A listed page that draws itself when it is opened: the session, then these cells; gives its path.

        The words FORM, TABLE and PLAN stand for the form, the table and the plan of these tests.
        """
        page = nbformat.v4.new_notebook(metadata={"alarmlib": {"run_on_open": True}})
        page.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
        texts = [SESSION, *({"FORM": FORM, "TABLE": TABLE, "PLAN": PLAN}.get(cell, cell) for cell in cells)]
        page.cells = [nbformat.v4.new_code_cell(text) for text in texts]
        for cell in page.cells:
            cell.metadata |= {"editable": False, "deletable": False, "jupyter": {"source_hidden": True}}
        target = self.folder / name
        nbformat.write(page, target)
        self.lab.list_page(target)
        return target.relative_to(self.lab.folder).as_posix()

    def lay_out(self, demo: bool) -> None:
        """The workbook's own pages in this folder: on the demo home, or on a blank one."""
        prepare(self.folder, workbook.source() / "demo_home.json" if demo else None)
        if not demo and self.folder != self.lab.folder:  # there the page itself makes the home, as after `open`
            Session.new(self.file, blank_home())

    def open_whole(self, name: str, **more: Any) -> Page:
        """One of the workbook's own pages, once every cell of it has run or one has failed."""
        page = self.open((self.folder / f"{name}.ipynb").relative_to(self.lab.folder).as_posix(), **more)
        page.wait_for_function(ALL_RAN, timeout=60_000)
        return page

    def open(self, path: str, window: BrowserContext | None = None, **more: Any) -> Page:
        """The page, once its first form is there.

        It is turned to in the one window of these tests; a further page of a test, and one whose screen has more to
        it than a size, comes into a fresh window, or beside those of the window that is given.
        """
        if window is None and not self.one.taken and set(more) <= {"width", "height"}:
            page = self.one.turn(path, **more)
            page.locator(".alarm-form").first.wait_for(timeout=60_000)
            page.wait_for_function(ALL_RAN, timeout=60_000)
            page.evaluate(LAID_OUT)
            return page
        page = (window or self.context(**more)).new_page()
        page.goto(f"{self.lab.address}/doc/tree/{path}?token={self.lab.token}")
        page.locator(".alarm-form").first.wait_for(timeout=60_000)
        return page


@pytest.fixture(scope="session")
def one_window(chromium: Browser, lab: Lab) -> OneWindow:
    """The window that each test turns its page in; it goes with the browser."""
    return OneWindow(chromium, lab.address, lab.token)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Note which tests failed: their window is not used again."""
    report = yield
    item.stash[FAILED] = item.stash.get(FAILED, False) or report.failed
    return report


@pytest.fixture
def desk(
    lab: Lab, context: Callable[..., BrowserContext], one_window: OneWindow, request: pytest.FixtureRequest
) -> Iterator[Desk]:
    """A desk with a folder of its own; its kernels are ended after the test."""
    folder = lab.folder / request.node.name.replace("[", "_").replace("]", "")
    folder.mkdir()
    yield Desk(lab, folder, context, one_window)
    asked = list(one_window.elsewhere)
    one_window.tidy(failed=request.node.stash.get(FAILED, False))
    lab.end_sessions()
    assert asked == []


ALL_SHOWN = """() => window.jupyterapp.shell.currentWidget.content.widgets.every((cell) => cell.model.type !== 'code' ||
  cell.model.outputs.toJSON().every((output) => !('application/vnd.jupyter.widget-view+json' in (output.data ?? {})) ||
    cell.node.querySelector('fieldset, section, .alarm-gate, .alarm-rows')))"""
UNFOLD = """() => {
  const closed = ':is(.alarm-form, .alarm-fold) button.fold[aria-expanded="false"]';
  const folded = () => [...document.querySelectorAll(closed)]
    .filter((button) => button.getClientRects().length);
  for (let turn = 0; turn < 4 && folded().length; turn += 1) for (const button of folded()) button.click();
  for (const part of document.querySelectorAll('.alarm-page details')) part.open = true;
}"""


@pytest.fixture
def unfold() -> Callable[[Page], None]:
    """Open every fold of the page by its button, once all is there: "Show", "More", what a view folds."""

    def open_all(page: Page) -> None:
        page.wait_for_function(ALL_SHOWN)
        page.evaluate(UNFOLD)

    return open_all


class Hand:
    """The mouse over the plan, in metres."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.plan: Locator = page.locator("svg.plan")

    def spot(self, x: float, y: float) -> tuple[float, float]:
        """The pixel of a place; reckoned here, not asked of the page: the frame is fitted whole into the box's middle.

        Reference: SVG 2, 8.6 "The preserveAspectRatio attribute", whose default is "xMidYMid meet".
        """
        left, high, wide, tall = self.frame
        box = self.box
        middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        scale = self.pixels_a_metre
        return middle[0] + (x - left - wide / 2) * scale, middle[1] + (-y - high - tall / 2) * scale

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """The drawing's own frame, metres: left, minus the highest, width, height."""
        left, high, wide, tall = map(float, (self.plan.get_attribute("viewBox") or "").split())
        return left, high, wide, tall

    @property
    def box(self) -> Any:
        """The drawing's box on the screen, pixels."""
        self.plan.scroll_into_view_if_needed()
        box = self.plan.bounding_box()
        assert box
        return box

    @property
    def pixels_a_metre(self) -> float:
        """The scale: the frame is as large as the box inside its border of one pixel allows."""
        _, _, wide, tall = self.frame
        border = 2 * float(self.page.evaluate("() => document.documentElement.currentCSSZoom ?? 1"))
        box = self.box
        return min((box["width"] - border) / wide, (box["height"] - border) / tall)

    def click(self, x: float, y: float) -> None:
        """Point at a place."""
        self.page.mouse.click(*self.spot(x, y))

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Press at one place, let go at another."""
        self.page.mouse.move(*self.spot(*start))
        self.page.mouse.down()
        self.page.mouse.move(*self.spot((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
        self.page.mouse.move(*self.spot(*end))
        self.page.mouse.up()

    def tool(self, name: str) -> None:
        """Choose a tool by its button."""
        self.page.get_by_role("button", name=name, exact=True).click()

    def show_within(self, x: float, y: float) -> None:
        """Zoom out until the plan shows everything from -1, -1 to there."""
        for _ in range(12):
            left, high, wide, tall = map(float, (self.plan.get_attribute("viewBox") or "").split())
            if left < -1 and left + wide > x and -high > y and -high - tall < -1:
                return
            self.tool("Smaller")
        raise AssertionError("the plan never showed all")


@pytest.fixture
def hand_on() -> Callable[[Page], Hand]:
    """The mouse over the page's plan."""
    return Hand


@pytest.fixture
def run_all() -> Callable[[Page], None]:
    """Run every cell of the open page by the bar's button, as a person does after a restart."""

    def run(page: Page) -> None:
        page.get_by_role("button", name="Run this page again", exact=True).click()

    return run


@pytest.fixture
def status() -> Callable[[Page], Locator]:
    """The line of the page's first form that says what is saved."""

    def find(page: Page) -> Locator:
        return page.locator(".alarm-form [role=status]").first

    return find


@pytest.fixture
def field() -> Callable[..., Locator]:
    """The control of a form on the page by its label, exactly."""

    def find(page: Page, label: str) -> Locator:
        return page.locator(".alarm-form").get_by_label(label, exact=True)

    return find


@pytest.fixture
def grave() -> Callable[..., list[tuple[str, str]]]:
    """What axe finds grave in some parts, else in the page; the faults of JupyterLab's own shell are not ours."""

    def find(page: Page, *parts: str) -> list[tuple[str, str]]:
        present = [[part] for part in parts if page.locator(part).count()]
        assert present or not parts
        found = Axe().run(page, context={"include": present} if present else None).response["violations"]
        bad = [each for each in found if each["impact"] in {"serious", "critical"}]
        return [(each["id"], node["html"][:200]) for each in bad for node in each["nodes"]]

    return find
