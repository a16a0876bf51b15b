"""In the browser, on page 02 of the demo home with all its forms: from a commit to the changed finding on the screen.

Beside it a bare round trip of the same kernel, asked of the page in turn with the edits: the machine slows both.
"""

import json
import random
import re
import socket
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any

from measure import DEMO, Effort, Line, percentile, test_module

from alarmlib.lab.open import prepare

AIM_MS = 300
VIEW = "Findings about detectors"
DEVICE = "Living room motion detector"  # the demo home's findings name it
COMMITS = ("Tab", "Enter", "choice")
PLACES = ("Sofa", "Door", "Lamp")
BEGUN, DRAWN = "key pressed", "drawn"
PARTS = ("heard", "checked", "saved", "acknowledged", "begun", "worked out")
"""When the kernel had each behind it, in this order: the question heard, the home checked, the file saved, the answer
sent, the view begun, its findings worked out and sent."""
SAID = {
    "heard": "sent to the kernel",
    "checked": "checked whole",
    "saved": "saved",
    "acknowledged": "acknowledged",
    "begun": "other things first",
    "worked out": "facts, view and what differs",
    DRAWN: "sent to the page and drawn",
}
# Milliseconds of the clock at the key, or the choice, and once the finding that says the new words has been drawn.
CLOCK = """([title, words, there]) => {
  const part = [...document.querySelectorAll('section.alarm-page')].find((each) => each.ariaLabel === title);
  const now = () => performance.timeOrigin + performance.now();
  window.drawn = new Promise((resolve) => {
    let begun = 0;
    const begin = ({ type, key }) => {
      if (type === 'change' || key === 'Tab' || key === 'Enter') begun ||= now();
    };
    const look = new MutationObserver(() => {
      if (begun && part.textContent.includes(words) === there) {
        look.disconnect();
        requestAnimationFrame(() => setTimeout(() => resolve([begun, now()])));
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
RUN = """async (code) => {
  const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
  const asked = kernel.requestExecute({ code, store_history: false });
  let said = '';
  asked.onIOPub = ({ header, content }) => { if (header.msg_type === 'stream') said += content.text; };
  await asked.done;
  return said;
}"""
UNFOLD = """() => {
  const folded = () => [...document.querySelectorAll('.alarm-form button[aria-expanded="false"]')]
    .filter((button) => button.getClientRects().length);
  for (let turn = 0; turn < 4 && folded().length; turn += 1) for (const button of folded()) button.click();
}"""
QUIET = """() => new Promise((resolve) => {
  let timer = setTimeout(resolve, 400);
  new MutationObserver(() => { clearTimeout(timer); timer = setTimeout(resolve, 400); })
    .observe(document.querySelector('.jp-Notebook'), { subtree: true, childList: true, characterData: true });
})"""
# In the kernel: the clock at each of PARTS, looked at from outside the functions, which stay as they are.
WATCHED = f"""
import json, time
from alarmlib.store import session as _session
from alarmlib.widgets.engine import Engine as _Engine
from alarmlib.widgets.view import View as _View
_stamps = {{}}
def _stamp(owner, name, after, before=None, wanted=lambda *_: True):
    function = getattr(owner, name)
    def watched(*given, **named):
        if before and wanted(*given):
            _stamps.setdefault(before, time.time() * 1e3)
        found = function(*given, **named)
        if after and wanted(*given):
            _stamps.setdefault(after, time.time() * 1e3)
        return found
    setattr(owner, name, watched)
_asks = lambda _form, content, *_: content.get("kind") == "edit"
_stamp(_Engine, "_handle_custom_msg", None, "heard", _asks)
_stamp(_session, "validated", "checked")
_stamp(_session.Session, "_save", "saved")
_stamp(_Engine, "_respond", "acknowledged", None, _asks)
_stamp(_View, "redraw", "worked out", "begun", lambda view, *_: view.name == {VIEW!r})
"""
TOLD = "print(json.dumps(_stamps)); _stamps.clear()"


def measured(effort: Effort) -> Iterator[Line]:
    """Milliseconds of each edit and of each bare round trip, in turn."""
    for kept_open, whole in (("the list of devices and one row open", False), ("every form and row open", True)):
        with page() as shown:
            edits, bare = timings(shown, effort.page_edits, whole)
        what = f"page 02 in the browser, {kept_open}: commit to the changed finding drawn, {len(edits)} edits"
        yield Line(what, "; ".join(figures_of(edits, bare)), f"{AIM_MS} ms, 95 of 100")


def figures_of(edits: Sequence[Mapping[str, float]], bare: Sequence[float]) -> Iterator[str]:
    """Milliseconds of the edits, of each way to commit them, of their parts, and of bare round trips beside them."""
    taken = [each[DRAWN] - each[BEGUN] for each in edits]
    yield f"95 of 100 within {percentile(taken, 0.95):.0f} ms"
    yield f"median {percentile(taken, 0.5):.0f} ms"
    for n, commit in enumerate(COMMITS):
        yield f"{commit}: median {percentile(taken[n :: len(COMMITS)], 0.5):.0f} ms"
    yield f"of it {', '.join(parts_of(edits))}"
    middle = percentile(bare, 0.5)
    yield f"{percentile(taken, 0.5) / middle:.1f} bare round trips of the same kernel ({middle:.0f} ms)"


def parts_of(edits: Sequence[Mapping[str, float]]) -> Iterator[str]:
    """Each part of an edit's way, with the median of its milliseconds."""
    for before, after in pairwise((BEGUN, *PARTS, DRAWN)):
        spent = [each[after] - each[before] for each in edits]
        yield f"{SAID[after]} {percentile(spent, 0.5):.0f} ms"


def timings(shown: Any, edits: int, whole: bool) -> tuple[list[dict[str, float]], list[float]]:
    """When each part of each edit was done, ms of the clock, and of bare round trips how long each took.

    The edits are committed by Tab, Enter and a choice in turn; the words that are typed are drawn by a fixed seed.
    `whole`: every form and row of the page is open, not only what a reader opens for these edits.
    """
    drawn = random.Random(2)
    table = (
        shown.locator("fieldset.alarm-form").filter(has=shown.locator("legend", has_text=re.compile("^Devices$"))).first
    )
    if whole:
        shown.evaluate(UNFOLD)
    else:
        table.get_by_role("button", name="Show: Devices", exact=True).click()
    names = table.get_by_label("Device, device").all()
    row = next(n for n, name in enumerate(names, 1) if name.input_value() == DEVICE)
    if not whole:
        table.get_by_role("button", name=re.compile(f"More.*device {row}$")).click()
    name, state = (table.get_by_label(f"{caption}, device {row}", exact=True) for caption in ("Device", "State"))
    shown.evaluate(RUN, WATCHED)
    taken, bare, kept = [], [], state.input_value()
    for number in range(max(edits, len(COMMITS))):
        commit, words = COMMITS[number % len(COMMITS)], f"{drawn.choice(PLACES)} detector {number}"
        shown.evaluate(QUIET)
        bare.append(float(shown.evaluate(BARE)))
        shown.evaluate(RUN, TOLD)
        if commit == "choice":
            said = name.input_value()
            shown.evaluate(CLOCK, [VIEW, f"“{said}” is out of use", True])
            state.select_option("out_of_use")
        else:
            shown.evaluate(CLOCK, [VIEW, words, True])
            name.fill(words)
            name.press(commit)
        begun, ended = shown.evaluate("() => window.drawn")
        taken.append({BEGUN: begun, **json.loads(shown.evaluate(RUN, TOLD)), DRAWN: ended})
        if commit == "choice":
            state.select_option(kept)
    return taken, bare


def free_port() -> int:
    """A port on which nothing answers."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@contextmanager
def page() -> Iterator[Any]:
    """Page 02 of the demo home as its reader sees it, each cell of it run."""
    from playwright.sync_api import sync_playwright

    pictures = test_module("pictures.py")
    with tempfile.TemporaryDirectory(prefix="alarm-edits-") as place, sync_playwright() as driver:
        folder = prepare(Path(place) / "home", DEMO)
        with pictures.served(folder, free_port(), "--LabApp.expose_app_in_browser=True") as where:
            base, query = where.split("?")
            browser = pictures.chromium(driver)
            shown = browser.new_page(viewport={"width": 1366, "height": 768})
            shown.set_default_timeout(pictures.WAIT_MS)
            pictures.opened(shown, f"{base}doc/tree/02_detectors.ipynb?{query}")
            yield shown
            browser.close()
