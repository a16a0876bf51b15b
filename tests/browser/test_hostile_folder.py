"""A folder that somebody sent, full of what might run by itself: opened three times, nothing of it runs."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import nbformat
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from alarmlib.lab import workbook

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2]
expect.set_options(timeout=60_000)

ASKING = {"alarmlib": {"run_on_open": True}}
ASKING |= {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}  # type: ignore[dict-item]
CONFIG = ("jupyter_config", "jupyter_server_config", "jupyter_lab_config", "jupyter_notebook_config")
PROFILE = ("ipython_config", "ipython_kernel_config", "startup/00-start")
BESIDE = (
    "scipy",
    "numpy",
    "alarmlib",
    "shapely",
    "ipykernel",
    "jupyterlab",
    "sitecustomize",
    "usercustomize",
    "started",
)
IN_PAGE = "window.ran = [...(window.ran ?? []), '{0}'];"
ON_ERROR = "<img src='data:,' onerror=\"" + IN_PAGE + '">'
STATE = "application/vnd.jupyter.widget-state+json"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a home's name and traps; each one that runs leaves a file in `ran` beside it."""
    place, ran = tmp_path / "sent", tmp_path / "ran"
    ran.mkdir()

    def trap(path: str, name: str = "") -> None:
        target = place / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(f"import pathlib; pathlib.Path({str(ran / (name or target.stem))!r}).touch()\n")

    for name in CONFIG:
        trap(f".workbook/config/{name}.py")
    for name in PROFILE:
        trap(f".workbook/ipython/profile_default/{name}.py")
    for name in BESIDE:
        trap(f"{name}.py")
    kernel = place / ".workbook" / "data" / "kernels" / "python3" / "kernel.json"
    kernel.parent.mkdir(parents=True)
    touch = f"import pathlib; pathlib.Path({str(ran / 'kernelspec')!r}).touch()"
    kernel.write_text(json.dumps({"argv": [sys.executable, "-c", touch], "display_name": "P", "language": "python"}))
    script = IN_PAGE.format("extension") + "window._JUPYTERLAB.evil={init:()=>{},get:async()=>()=>({default:[]})}"
    extension = place / ".workbook" / "data" / "labextensions" / "evil"
    (extension / "static").mkdir(parents=True)
    (extension / "static" / "entry.js").write_text(script)
    built = {"load": "static/entry.js", "extension": "./extension"}
    (extension / "package.json").write_text(
        json.dumps({"name": "evil", "version": "1.0.0", "jupyterlab": {"extension": True, "_build": built}})
    )
    for name in ("config/custom/custom.js", "data/nbextensions/evil.js"):
        (place / ".workbook" / name).parent.mkdir(parents=True)
        (place / ".workbook" / name).write_text(IN_PAGE.format("custom"))
    _pages(place, ran)
    return place


def _pages(place: Path, ran: Path) -> None:
    """Two notebooks that ask to be drawn: one bare, so that a save finds nothing foreign in it; one full of scripts."""
    code = f"import pathlib; pathlib.Path({str(ran / 'page')!r}).touch()"
    bare = [nbformat.v4.new_markdown_cell("# From a friend"), nbformat.v4.new_code_cell(code)]
    nbformat.write(nbformat.v4.new_notebook(cells=bare, metadata=ASKING), place / "friend.ipynb")
    outputs = [
        nbformat.v4.new_output("display_data", data={"text/html": ON_ERROR.format("html")}),
        nbformat.v4.new_output("display_data", data={"text/html": f"<script>{IN_PAGE.format('script')}</script>"}),
        nbformat.v4.new_output("display_data", data={"application/javascript": IN_PAGE.format("javascript")}),
        nbformat.v4.new_output("display_data", data={"image/svg+xml": f'<svg onload="{IN_PAGE.format("svg")}"/>'}),
    ]
    full = [
        nbformat.v4.new_markdown_cell("# With pictures\n\n" + ON_ERROR.format("markdown")),
        nbformat.v4.new_code_cell(code, outputs=outputs, execution_count=1),
    ]
    form = (
        f"const ran = () => {{ {IN_PAGE.format('widget')} }}; ran(); export default {{ initialize: ran, render: ran }};"
    )
    widget = {"_esm": form, "_css": "", "_anywidget_id": "a", "_model_module": "anywidget", "_model_name": "AnyModel"}
    widget |= {"_view_module": "anywidget", "_view_name": "AnyView", "_model_module_version": "~0.11.*"}
    widget |= {"_view_module_version": "~0.11.*", "layout": "IPY_MODEL_l"}
    layout = {"model_module": "@jupyter-widgets/base", "model_module_version": "2.0.0", "model_name": "LayoutModel"}
    states: dict[str, Any] = {
        "w": {
            "model_module": "anywidget",
            "model_module_version": "~0.11.*",
            "model_name": "AnyModel",
            "state": widget,
        },
        "l": {**layout, "state": {}},
    }
    kept = {STATE: {"version_major": 2, "version_minor": 0, "state": states}}
    nbformat.write(nbformat.v4.new_notebook(cells=full, metadata={**ASKING, "widgets": kept}), place / "full.ipynb")


@contextmanager
def opened(folder: Path) -> Iterator[str]:
    """The address of the workbook, opened by its command in surroundings that name the folder's files too."""
    hidden = folder / ".workbook"
    surround = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "PYTHONSTARTUP": str(folder / "started.py"),
        "JUPYTER_CONFIG_PATH": str(hidden / "config"),
        "JUPYTER_PATH": str(hidden / "data"),
        "IPYTHONDIR": str(hidden / "ipython"),
    }
    words = [sys.executable, "-m", "alarmlib", "open", str(folder), "--no-browser"]
    with subprocess.Popen(words, cwd=folder.parent, env=surround, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        first = server.stdout.readline()
        try:
            assert first.startswith("The workbook is open: "), first
            yield first.split()[-1].replace("localhost", "127.0.0.1")
        finally:
            server.terminate()
            server.wait(30)


def look(window: BrowserContext, address: str, name: str) -> Page:
    """A notebook, opened and looked at until its kernel waits; then saved, as JupyterLab does by itself."""
    base, query = address.split("?")
    page = window.new_page()
    page.goto(f"{base}doc/tree/{name}?{query}")
    expect(page.locator(".alarmlib-still")).to_contain_text("nothing on it runs by itself")
    expect(
        page.get_by_title("Kernel status: Idle").or_(page.get_by_text("Python 3 (ipykernel) | Idle"))
    ).to_be_visible()
    page.wait_for_timeout(500)
    page.keyboard.press("ControlOrMeta+s")
    page.wait_for_timeout(500)
    assert page.evaluate("() => window.ran ?? []") == []
    return page


def test_a_folder_that_somebody_sent_runs_nothing_at_three_openings(
    folder: Path, context: Callable[..., BrowserContext]
) -> None:
    """First, second and third opening, saved each time: no trap runs, in Python or in the page; the own pages do.

    A page that was changed while it was open says so; its button puts the workbook's own back, which draws itself, and
    keeps the changed one aside.
    """
    ran = folder.parent / "ran"
    with opened(folder) as address:
        for _ in ("first", "second"):
            for name in ("friend.ipynb", "full.ipynb"):
                look(context(), address, name).close()
            assert list(ran.iterdir()) == []
    with opened(folder) as address:
        for name in ("friend.ipynb", "full.ipynb"):
            look(context(), address, name).close()
        changed = json.loads((folder / "01_survey.ipynb").read_text(encoding="utf-8"))
        changed["cells"][1]["source"].append(f"\nimport pathlib; pathlib.Path({str(ran / 'changed')!r}).touch()")
        (folder / "01_survey.ipynb").write_text(json.dumps(changed), encoding="utf-8")
        page = look(context(), address, "01_survey.ipynb")
        assert list(ran.iterdir()) == []
        page.get_by_role("button", name="Put the workbook’s page back").click()
        expect(page.locator(".alarm-form").first).to_be_visible()
        expect(page.locator(".alarmlib-still")).to_have_count(0)
        aside = nbformat.read(folder / "01_survey_changed_1.ipynb", as_version=4)
        assert aside.cells[1].source.endswith(".touch()")
        assert workbook.own_text(folder / "01_survey.ipynb") == workbook.own_text(workbook.source() / "01_survey.ipynb")
        assert page.evaluate("() => window.ran ?? []") == []
    assert list(ran.iterdir()) == []
