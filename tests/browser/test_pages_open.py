"""Pages of the library's list draw themselves when they are opened; a turned page ends its own kernel."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat
import pytest
from playwright.sync_api import BrowserContext, Page, expect

pytestmark = pytest.mark.browser
expect.set_options(timeout=30_000)  # a loaded machine takes its time to start a kernel

ASKING = {"alarmlib": {"run_on_open": True}}
SETUP = "# Setup\nfrom pathlib import Path; import ipywidgets, time; print('drawn', '{name}')"
# A form whose answer takes a second to be saved: a page turned at once must not lose it.
SLOW_FORM = (
    "field = ipywidgets.Text(description='Name')\n"
    "field.observe(lambda change: (time.sleep(1), Path('{name}.txt').write_text(change.new)), 'value')\n"
    "field"
)


@pytest.fixture
def folder(lab: Any, request: pytest.FixtureRequest) -> Path:
    """A folder for this test's pages, below the server's."""
    place: Path = lab.folder / request.node.name.replace("[", "_").replace("]", "")
    place.mkdir()
    return place


def write(lab: Any, path: Path, following: str, metadata: dict[str, Any], listed: bool = True) -> str:
    """A page with a setup cell, a slow form, a link to the following page, much prose; its path on the server."""
    name = path.stem
    hidden = {"jupyter": {"source_hidden": True}, "editable": False, "deletable": False}
    cells = [
        nbformat.v4.new_markdown_cell(f"# Page {name}"),
        nbformat.v4.new_code_cell(SETUP.format(name=name), metadata=hidden),
        nbformat.v4.new_code_cell(SLOW_FORM.format(name=name), metadata=hidden),
        nbformat.v4.new_markdown_cell(f"[Turn the page]({following})"),
        *(nbformat.v4.new_markdown_cell("Prose.\n\n" * 8) for _ in range(8)),
    ]
    page = nbformat.v4.new_notebook(cells=cells, metadata=metadata)
    page.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(page, path)
    if listed:
        lab.list_page(path)
    return path.relative_to(lab.folder).as_posix()


def go(lab: Any, context: Callable[..., BrowserContext], path: str) -> Page:
    """The page in a window of its own."""
    page = context().new_page()
    page.goto(f"{lab.address}/doc/tree/{path}?token={lab.token}")
    return page


def running(lab: Any, folder: Path) -> list[str]:
    """The names of the pages in this folder that have a kernel."""
    paths = [Path(session["path"]) for session in lab.call("GET", "api/sessions")]
    return sorted(path.stem for path in paths if path.parent.name == folder.name)


def test_a_listed_page_draws_itself_and_shows_no_code(
    lab: Any, folder: Path, context: Callable[..., BrowserContext]
) -> None:
    """Nobody presses run: outputs come, bars of folded code and cell buttons don't, the top stays in view."""
    page = go(lab, context, write(lab, folder / "first.ipynb", "second.ipynb", ASKING))
    expect(page.get_by_text("drawn first", exact=True)).to_be_visible()
    expect(page.get_by_label("Name")).to_be_visible()
    for part in (".jp-Placeholder:visible", ".jp-cell-toolbar:visible", ".jp-Dialog", ".Toastify__toast"):
        expect(page.locator(part)).to_have_count(0)
    expect(page.get_by_role("heading", name="Page first")).to_be_in_viewport()


@pytest.mark.parametrize(("asking", "listed"), [(True, False), (False, True), (False, False)])
def test_other_pages_stay_still(
    lab: Any, folder: Path, context: Callable[..., BrowserContext], asking: bool, listed: bool
) -> None:
    """A page that is not in the library's list, or doesn't ask for it, runs nothing although its kernel is ready."""
    path = write(lab, folder / "still.ipynb", "still.ipynb", ASKING if asking else {}, listed)
    page = go(lab, context, path)
    expect(page.get_by_role("heading", name="Page still")).to_be_visible()
    expect(
        page.get_by_title("Kernel status: Idle").or_(page.get_by_text("Python 3 (ipykernel) | Idle"))
    ).to_be_visible()
    page.wait_for_timeout(1500)
    expect(page.locator(".jp-OutputArea-output")).to_have_count(0)
    expect(page.locator(".alarmlib-page, .alarmlib-bar")).to_have_count(0)
    for bar in ("#jp-menu-panel", ".jp-NotebookPanel-toolbar", "#jp-bottom-panel"):  # Jupyter's own are as ever
        expect(page.locator(bar)).to_be_visible()


def test_a_turned_page_saves_and_ends_its_kernel(
    lab: Any, folder: Path, context: Callable[..., BrowserContext]
) -> None:
    """Typed, then the link at once: the slow edit arrives, the next page draws, only its kernel is left."""
    write(lab, folder / "second.ipynb", "first.ipynb", ASKING)
    page = go(lab, context, write(lab, folder / "first.ipynb", "second.ipynb", ASKING))
    for here, there in (("first", "second"), ("second", "first")):
        expect(page.get_by_text(f"drawn {here}", exact=True)).to_be_visible()
        page.get_by_label("Name").fill(f"Ada {here}")
        page.get_by_role("link", name="Turn the page").click()
        expect(page.get_by_text(f"drawn {there}", exact=True)).to_be_visible()
        expect(page.get_by_text(f"drawn {here}", exact=True)).to_have_count(0)
        assert (folder / f"{here}.txt").read_text() == f"Ada {here}"
        assert running(lab, folder) == [there]
        assert page.url.endswith(f"/{there}.ipynb")


def test_a_link_opened_in_a_second_tab_ends_nothing(
    lab: Any, folder: Path, context: Callable[..., BrowserContext]
) -> None:
    """Ctrl and click shows the other page in a tab of its own; this page, and its kernel, stay as they are."""
    write(lab, folder / "second.ipynb", "first.ipynb", ASKING)
    page = go(lab, context, write(lab, folder / "first.ipynb", "second.ipynb", ASKING))
    expect(page.get_by_text("drawn first", exact=True)).to_be_visible()
    with page.context.expect_page() as opened:
        page.get_by_role("link", name="Turn the page").click(modifiers=["ControlOrMeta"])
    expect(opened.value.get_by_text("drawn second", exact=True)).to_be_visible()
    expect(page.get_by_text("drawn first", exact=True)).to_be_visible()
    assert running(lab, folder) == ["first", "second"]


def test_letter_keys_do_not_change_the_page(lab: Any, folder: Path, context: Callable[..., BrowserContext]) -> None:
    """With a cell chosen, the letters that are notebook commands elsewhere leave cells and forms as they are."""
    path = write(lab, folder / "first.ipynb", "second.ipynb", ASKING)
    before = [cell["cell_type"] for cell in json.loads((folder / "first.ipynb").read_text())["cells"]]
    page = go(lab, context, path)
    expect(page.get_by_text("drawn first", exact=True)).to_be_visible()
    page.get_by_role("heading", name="Page first").click()
    for key in ["m", "b", "a", "x", "r", "y", "d", "d", "v", "z", "1", "Shift+M", "Shift+A"]:
        page.keyboard.press(key)
    expect(page.locator(".jp-Notebook .jp-Cell")).to_have_count(len(before))
    expect(page.locator(".jp-CodeCell")).to_have_count(before.count("code"))
    expect(page.get_by_label("Name")).to_be_visible()
    expect(page.locator(".jp-Dialog")).to_have_count(0)
