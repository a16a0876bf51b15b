"""The record opened as people open it: from a file, offline; read by axe; attacked; printed."""

import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page
from traitlets.config import Config

from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.exporter import RecordExporter
from alarmlib.record.produce import demo_home, made

DATE = "2026-11-25"
ATTACK = """<script>document.title="PWN"</script><img src="https://example.org/x.png" onerror="document.title='PWN'">
<svg><script>document.title="PWN"</script></svg><iframe srcdoc="<script>top.document.title='PWN'</script>"></iframe>"""
Opener = Callable[..., tuple[Page, list[str]]]

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def demo_record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo home's record as a file, with a name in it that attacks and one that runs right to left."""
    home = demo_home()
    rooms = list(home.site.rooms)
    rooms[0] = rooms[0].model_copy(update={"name": '<script>document.title="PWN"</script>Hall'})
    rooms[1] = rooms[1].model_copy(update={"name": "غرفة الجلوس"})
    site = home.site.model_copy(update={"rooms": tuple(rooms)})
    file = tmp_path_factory.mktemp("record") / "record.html"
    file.write_bytes(
        made(Home.model_validate(home.model_copy(update={"site": site}).model_dump()), Share.OWNER, DATE)[1]
    )
    return file


@pytest.fixture
def offline(chromium: Browser) -> Iterator[Opener]:
    """Opens a file with the network off; gives the page and every request it made."""
    contexts: list[BrowserContext] = []

    def open_file(file: Path, **more: Any) -> tuple[Page, list[str]]:
        context = chromium.new_context(offline=True, **more)
        contexts.append(context)
        page, requests = context.new_page(), list[str]()
        page.on("request", lambda request: requests.append(request.url))
        page.goto(file.as_uri())
        return page, requests

    yield open_file
    for context in contexts:
        context.close()


def test_opened_from_a_file_it_asks_for_nothing(offline: Opener, demo_record: Path) -> None:
    """One request: the file itself. The name that attacks is shown as text, and the title stays ours."""
    page, requests = offline(demo_record)
    assert requests == [demo_record.as_uri()]
    assert page.title() == "Home alarm record"
    assert page.get_by_text('<script>document.title="PWN"</script>Hall').count() > 0
    assert page.evaluate("document.scripts.length") == 0


@pytest.mark.parametrize(("scheme", "width"), [("light", 1000), ("dark", 390)])
def test_axe_finds_nothing_serious(offline: Opener, demo_record: Path, scheme: str, width: int) -> None:
    """No serious and no critical violation, light and wide, dark and narrow."""
    page, _ = offline(demo_record, color_scheme=scheme, viewport={"width": width, "height": 900}, bypass_csp=True)
    found = Axe().run(page).response["violations"]
    assert [(v["id"], v["nodes"][0]["html"]) for v in found if v["impact"] in ("serious", "critical")] == []


def test_at_390_pixels_only_tables_scroll(offline: Opener, demo_record: Path) -> None:
    """The page itself never scrolls sideways; wide tables do, inside regions that the keyboard reaches."""
    page, _ = offline(demo_record, viewport={"width": 390, "height": 844})
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    scrolling = page.locator(".scroll").filter(has=page.locator("table:not(.slim)")).first
    assert scrolling.get_attribute("tabindex") == "0"
    scrolling.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("element => element.scrollLeft > 0", arg=scrolling.element_handle())


def test_pictures_are_found_by_role_and_name(offline: Opener, demo_record: Path) -> None:
    """A screen reader meets each drawing as an image with a title, and its table right behind."""
    page, _ = offline(demo_record)
    assert page.get_by_role("img", name="Who is listening").count() == 1
    assert page.get_by_role("img", name="Plan:").count() >= 2
    assert page.get_by_role("table", name="Which zone listens when").count() == 1


def poisoned(tmp_path: Path, sanitized: bool, policy: bool) -> Path:
    """A record whose notebook carries markup that attacks, with either wall taken down."""
    output = nbformat.v4.new_output("display_data", {"text/html": ATTACK})
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(outputs=[output])], metadata={"alarm_record": {"title": "Ours"}}
    )
    config = Config() if sanitized else Config({"RecordExporter": {"preprocessors": []}})
    html, _ = RecordExporter(config=config).from_notebook_node(notebook)
    if not policy:
        assert html.count("Content-Security-Policy") == 1
        html = html.replace("Content-Security-Policy", "X-None")
    file = tmp_path / "poisoned.html"
    file.write_text(html, encoding="utf-8")
    return file


@pytest.mark.parametrize(("sanitized", "policy"), [(True, True), (True, False), (False, True)])
def test_either_wall_alone_holds(offline: Opener, tmp_path: Path, sanitized: bool, policy: bool) -> None:
    """With only the allow-list, or only the content policy, no script runs and nothing is fetched."""
    file = poisoned(tmp_path, sanitized, policy)
    page, _ = offline(file)
    refused: list[str | None] = []
    page.on("requestfailed", lambda request: refused.append(request.failure))
    requests: list[str] = []
    page.on("request", lambda request: requests.append(request.url))
    page.goto(file.as_uri(), wait_until="load")
    assert page.title() == "Ours"
    assert len(requests) - 1 == refused.count("csp") == (0 if sanitized else 1)


def test_the_attack_is_a_real_one(offline: Opener, tmp_path: Path) -> None:
    """With both walls down the same page is taken over: the two tests above can fail."""
    page, _ = offline(poisoned(tmp_path, sanitized=False, policy=False))
    page.wait_for_function("document.title === 'PWN'")


@pytest.mark.parametrize(("paper", "width_pt"), [("A4", 595), ("Letter", 612)])
def test_it_prints_on_both_paper_sizes(
    offline: Opener, demo_record: Path, tmp_path: Path, paper: str, width_pt: int
) -> None:
    """The sheet is the one asked for, no line runs off it, and the header tells copy and date on each page."""
    page, _ = offline(demo_record)
    file = tmp_path / f"{paper}.pdf"
    page.pdf(path=file, format=paper, tagged=True, prefer_css_page_size=True)
    told = pdf_tool("pdfinfo", str(file))
    assert f"Page size:       {width_pt}" in told
    pages = int(told.split("Pages:")[1].split()[0])
    text = pdf_tool("pdftotext", "-layout", str(file), "-").split("\f")[:pages]
    assert all("the owner, 2026-11-25" in sheet for sheet in text)
    assert all(f"{number} / {pages}" in sheet for number, sheet in enumerate(text, 1))
    boxes = pdf_tool("pdftotext", "-bbox", str(file), "-")
    rights = [float(piece.split('"')[0]) for piece in boxes.split('xMax="')[1:]]
    assert max(rights) < width_pt - 20
    folded = [re.sub(r"\W", "", row)[:30] for row in page.locator("details li").all_text_contents()]
    printed = re.sub(r"\W", "", "".join(text))
    assert len(folded) > 30
    assert [row for row in folded if row not in printed] == []  # what is folded on the screen is on paper


def pdf_tool(*command: str) -> str:
    """What a tool of poppler prints; without poppler the test fails and says so."""
    assert shutil.which(command[0]), "install poppler-utils: the printed record is read with it"
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout
