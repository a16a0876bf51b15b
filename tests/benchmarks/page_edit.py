"""In the browser, on page 02 of the demo home with all its forms: from a commit to the changed finding on the screen.

Beside it a bare round trip of the same kernel, asked of the page in turn with the edits: the machine slows both.
"""

import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from measure import DEMO, Effort, Line, percentile, test_module

from alarmlib.lab.open import prepare

PORT = 8933
AIM_MS = 300
VIEW = "Findings about detectors"
DEVICE = "Living room motion detector"  # the demo home's findings name it
COMMITS = ("Tab", "Enter", "choice")
# Milliseconds from the key, or the choice, until the finding that says the new words has been drawn.
CLOCK = """([title, words, there]) => {
  const part = [...document.querySelectorAll('section.alarm-page')].find((each) => each.ariaLabel === title);
  window.drawn = new Promise((resolve) => {
    let begun = 0;
    const begin = ({ type, key }) => {
      if (type === 'change' || key === 'Tab' || key === 'Enter') begun ||= performance.now();
    };
    const look = new MutationObserver(() => {
      if (begun && part.textContent.includes(words) === there) {
        look.disconnect();
        requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - begun)));
      }
    });
    look.observe(part, { subtree: true, childList: true, characterData: true });
    for (const kind of ['keydown', 'change']) document.addEventListener(kind, begin, { capture: true });
  });
}"""
BARE = """async () => {
  const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
  const begun = performance.now();
  await kernel.requestExecute({ code: '1', store_history: false }).done;
  return performance.now() - begun;
}"""
QUIET = """() => new Promise((resolve) => {
  let timer = setTimeout(resolve, 700);
  new MutationObserver(() => { clearTimeout(timer); timer = setTimeout(resolve, 700); })
    .observe(document.querySelector('.jp-Notebook'), { subtree: true, childList: true, characterData: true });
})"""


def measured(effort: Effort) -> Iterator[Line]:
    """Milliseconds of each edit and of each bare round trip, in turn."""
    with page() as shown:
        taken, bare = timings(shown, effort.edits)
    figures = [f"95 of 100 within {percentile(taken, 0.95):.0f} ms", f"median {percentile(taken, 0.5):.0f} ms"]
    figures += [
        f"{commit}: median {percentile(taken[n :: len(COMMITS)], 0.5):.0f} ms" for n, commit in enumerate(COMMITS)
    ]
    middle = percentile(bare, 0.5)
    figures.append(f"{percentile(taken, 0.5) / middle:.1f} bare round trips of the same kernel ({middle:.0f} ms)")
    what = f"page 02 in the browser, all forms open: commit to the changed finding drawn, {len(taken)} edits"
    yield Line(what, "; ".join(figures), f"{AIM_MS} ms, 95 of 100")


def timings(shown: Any, edits: int) -> tuple[list[float], list[float]]:
    """Milliseconds of the edits, which are committed by Tab, Enter and a choice in turn, and of bare round trips."""
    table = (
        shown.locator("fieldset.alarm-form").filter(has=shown.locator("legend", has_text=re.compile("^Devices$"))).first
    )
    names = table.get_by_label("Device, device").all()
    row = next(n for n, name in enumerate(names, 1) if name.input_value() == DEVICE)
    name, state = (table.get_by_label(f"{caption}, device {row}", exact=True) for caption in ("Device", "State"))
    table.get_by_role("button", name=f"Device {row}", exact=True).click()
    taken, bare, kept = [], [], state.input_value()
    for number in range(max(edits, len(COMMITS))):
        commit, words = COMMITS[number % len(COMMITS)], f"Detector number {number}"
        shown.evaluate(QUIET)
        bare.append(float(shown.evaluate(BARE)))
        if commit == "choice":
            said = name.input_value()
            shown.evaluate(CLOCK, [VIEW, f"“{said}” is out of use", True])
            state.select_option("out_of_use")
            taken.append(float(shown.evaluate("() => window.drawn")))
            state.select_option(kept)
        else:
            shown.evaluate(CLOCK, [VIEW, words, True])
            name.fill(words)
            name.press(commit)
            taken.append(float(shown.evaluate("() => window.drawn")))
    return taken, bare


@contextmanager
def page() -> Iterator[Any]:
    """Page 02 of the demo home as its reader sees it, each cell of it run."""
    from playwright.sync_api import sync_playwright

    pictures = test_module("pictures.py")
    with tempfile.TemporaryDirectory(prefix="alarm-edits-") as place, sync_playwright() as driver:
        folder = prepare(Path(place) / "home", DEMO)
        with pictures.served(folder, PORT, "--LabApp.expose_app_in_browser=True") as where:
            base, query = where.split("?")
            browser = pictures.chromium(driver)
            shown = browser.new_page(viewport={"width": 1366, "height": 768})
            shown.set_default_timeout(pictures.WAIT_MS)
            pictures.opened(shown, f"{base}doc/tree/02_detectors.ipynb?{query}")
            yield shown
            browser.close()
