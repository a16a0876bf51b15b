"""The workbook's own pages in Chromium: they draw themselves, say nothing is wrong, and can be read by everybody."""

from contextlib import suppress
from typing import Any

import pytest
from playwright.sync_api import TimeoutError as TimeOut
from playwright.sync_api import expect

from alarmlib.lab import workbook

pytestmark = pytest.mark.browser

NAMES = [path.stem for path in workbook.page_files()]
WRONG = ("Traceback", "Something went wrong", "Error displaying widget", "Loading widget...", "[object Object]")
CELLS = """() => {
  const panel = window.jupyterapp.shell.currentWidget;
  return panel.content.widgets.filter((cell) => cell.model.type === 'code').map((cell) => ({
    source: cell.model.sharedModel.getSource(),
    outputs: cell.model.outputs.toJSON(),
    forms: [...cell.node.querySelectorAll('.alarm-gate, .alarm-rows, .alarm-form, section.alarm-page')]
      .filter((form) => form.getClientRects().length && !form.parentElement.closest('.alarm-gate, .alarm-rows')).length,
  }));
}"""
VIEW = "application/vnd.jupyter.widget-view+json"
DRAWS = f"(output) => '{VIEW}' in (output.data ?? {{}})"
LOW = ["02_detectors", "03_zones", "05_wiring_power", "06_sounders", "08_proof", "11_record"]
MOST_HIGH = 4600  # pixels at first sight
HEIGHT = """() => Math.max(
  ...[...document.querySelectorAll('.jp-WindowedPanel-outer, .jp-Notebook')].map((each) => each.scrollHeight))"""
OURS = [".alarm-form", ".alarm-page"]
TOO_WIDE = """() => [...document.querySelectorAll('.alarm-form, .alarm-form *')]
  .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1)
  .map((e) => e.outerHTML.slice(0, 120))"""


def test_all_pages_are_here() -> None:
    """The pages tried below are the pages that ship."""
    assert NAMES == [
        "00_start",
        "01_survey",
        "02_detectors",
        "03_zones",
        "04_times",
        "05_wiring_power",
        "06_sounders",
        "08_proof",
        "10_test_walk",
        "11_record",
    ]


@pytest.mark.parametrize("demo", [True, False], ids=["demo", "blank"])
@pytest.mark.parametrize("name", NAMES)
def test_a_page_draws_itself_without_a_complaint(desk, name: str, demo: bool) -> None:
    """Opened and left alone: each cell has run, its forms are on the screen, and nothing says that it failed."""
    desk.lay_out(demo)
    errors: list[str] = []
    window = desk.context()
    window.on("weberror", lambda problem: errors.append(str(problem.error)))
    page = desk.open_whole(name, window=window)
    with suppress(TimeOut):  # the script of the last cell may still be on its way; what is missing is named below
        page.wait_for_function(f"() => ({CELLS})().every((cell) => cell.forms === cell.outputs.filter({DRAWS}).length)")
    cells: list[dict[str, Any]] = page.evaluate(CELLS)
    assert len(cells) >= 5
    for cell in cells:
        source, outputs = cell["source"], cell["outputs"]
        assert outputs, f"{source} shows nothing"
        assert [each for each in outputs if each["output_type"] == "error" or each.get("name") == "stderr"] == [], (
            source
        )
        views = sum(VIEW in each.get("data", {}) for each in outputs)
        assert cell["forms"] == views, source
        assert views or "pages.form" not in source or not demo, f"{source} shows no form"
    page.set_viewport_size({"width": 1366, "height": 768})
    if name in LOW:
        assert page.evaluate(HEIGHT) <= MOST_HIGH
    text = page.locator(".jp-Notebook").inner_text()
    assert [word for word in WRONG if word in text] == []
    assert errors == []
    stored = desk.stored()
    assert bool(stored["site"]["rooms"]) is demo


@pytest.mark.parametrize("name", ["00_start", "03_zones"])
def test_pages_for_everybody(desk, grave, unfold, name: str) -> None:
    """axe finds nothing grave in the light and in the dark theme; at 390 pixels no form scrolls sideways."""
    desk.lay_out(demo=True)
    page = desk.open_whole(name)
    assert grave(page, *OURS) == []
    unfold(page)
    assert grave(page, *OURS) == []
    change = "window.jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {}'}})"
    page.evaluate(change.format("Dark"))
    try:
        page.wait_for_function("document.body.dataset.jpThemeLight === 'false'")
        paper = "getComputedStyle(document.querySelector('.alarm-form')).backgroundColor.match(/\\d+/g)[0] < 60"
        page.wait_for_function(paper)
        assert grave(page, *OURS) == []
    finally:
        page.evaluate(change.format("Light"))
        page.wait_for_function("document.body.dataset.jpThemeLight === 'true'")
    page.set_viewport_size({"width": 390, "height": 800})
    expect(page.locator(".alarm-form").first).to_be_visible()
    assert page.evaluate(TOO_WIDE) == []


def test_the_record_for_everybody(desk, grave, chromium, tmp_path) -> None:
    """The demo's record, handed over by its page: no request, nothing grave for axe in either scheme, not too wide."""
    desk.lay_out(demo=True)
    page = desk.open_whole("11_record")
    with page.expect_download(timeout=120_000) as given:
        page.get_by_role("button", name="Download the copy for the owner only", exact=True).press("Enter")
    file = tmp_path / "record.html"
    given.value.save_as(file)
    assert file.stat().st_size < 500_000
    asked: list[str] = []
    window = chromium.new_context(offline=True, viewport={"width": 390, "height": 800})
    try:
        window.on("request", lambda request: asked.append(request.url))
        record = window.new_page()
        record.goto(file.as_uri())
        assert record.evaluate("document.documentElement.scrollWidth") <= 390
        record.set_viewport_size({"width": 1000, "height": 900})
        for scheme in ("light", "dark"):
            record.emulate_media(color_scheme=scheme)
            assert grave(record) == []
        assert asked == [file.as_uri()]
    finally:
        window.close()
