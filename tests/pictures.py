"""Pictures for the README, taken from the real pages on the demo home: `python tests/pictures.py`.

Writes `start.png`, `survey_plan.png`, `coverage.png`, `wiring.png`, `proof_story.png` and `record.png` into
`workbook/pictures`, each below 200 kB. Needs Chromium.
"""

import os
import secrets
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from alarmlib.errors import AlarmProblem  # noqa: E402
from alarmlib.lab import surroundings  # noqa: E402
from alarmlib.lab.open import PATIENCE_S, command, prepare, running  # noqa: E402
from alarmlib.lab.run_place import end_run, new_run  # noqa: E402
from alarmlib.model.words import Share  # noqa: E402
from alarmlib.record.produce import demo_home, made  # noqa: E402

PICTURES = ROOT / "workbook" / "pictures"
DEMO = ROOT / "workbook" / "demo_home.json"
MOST_BYTES = 200_000
SIZE = {"width": 1000, "height": 760}
WAIT_MS = 120_000.0
RECORD_DAY = date(2026, 11, 25)


def main() -> int:
    """Take all pictures; 0 when each was written and is small enough."""
    with tempfile.TemporaryDirectory(prefix="alarm-pictures-") as scratch, sync_playwright() as driver:
        folder = prepare(Path(scratch) / "home", DEMO)
        browser = chromium(driver)
        record(browser, Path(scratch) / "record.html")
        with served(folder, 8899) as where:
            pages(browser, where)
        browser.close()
    sizes = {path.name: path.stat().st_size for path in sorted(PICTURES.glob("*.png"))}
    sys.stdout.writelines(f"{name}: {size / 1000:.0f} kB\n" for name, size in sizes.items())
    return int(len(sizes) < 6 or max(sizes.values()) > MOST_BYTES)


def chromium(driver: Playwright) -> Browser:
    """The browser of this machine."""
    place = os.environ.get("ALARM_CHROMIUM") or shutil.which("chromium") or ""
    return driver.chromium.launch(executable_path=place or None, args=["--no-sandbox"])


@contextmanager
def served(folder: Path, port: int, *words: str) -> Iterator[str]:
    """The address of a server for the workbook laid out in that folder; it is ended afterwards."""
    run = new_run(folder)
    surroundings.write_settings(run, folder, secrets.token_hex(16))
    surround = surroundings.environment(run, folder)
    with (folder.parent / "server.log").open("w") as log:
        server = subprocess.Popen([*command(port), *words], cwd=run, env=surround, stdout=log, stderr=log)
    try:
        yield address(folder)
    finally:
        server.terminate()
        server.wait(120)  # a busy machine ends its kernels one by one
        end_run(run)


def address(folder: Path) -> str:
    """Where the workbook's server answers. Raises AlarmProblem when it doesn't."""
    limit = time.monotonic() + PATIENCE_S
    while time.monotonic() < limit:
        if found := running(folder):
            return found
        time.sleep(0.2)
    raise AlarmProblem("JupyterLab did not start.")


def pages(browser: Browser, where: str) -> None:
    """The start page as it opens, the plan on the survey page, the proof page with the plan of how the home fails."""
    base, query = where.split("?")
    page = browser.new_page(viewport=SIZE)
    opened(page, f"{base}doc/tree/00_start.ipynb?{query}")
    page.screenshot(path=PICTURES / "start.png")
    opened(page, f"{base}doc/tree/01_survey.ipynb?{query}")
    unfold(page)
    plan = page.locator(".alarm-page figure").filter(has_text="Plan: Ground").first
    plan.screenshot(path=PICTURES / "survey_plan.png")
    opened(page, f"{base}doc/tree/02_detectors.ipynb?{query}")
    page.set_viewport_size({"width": 1000, "height": 1300})
    drawn = page.locator("svg.plan")
    drawn.scroll_into_view_if_needed()
    drawn.screenshot(path=PICTURES / "coverage.png")
    page.set_viewport_size({"width": SIZE["width"], "height": SIZE["height"]})
    opened(page, f"{base}doc/tree/05_wiring_power.ipynb?{query}")
    unfold(page)
    course = page.locator("figure").filter(has_text="How the battery empties without mains").first
    course.scroll_into_view_if_needed()
    course.screenshot(path=PICTURES / "wiring.png")
    opened(page, f"{base}doc/tree/08_proof.ipynb?{query}")
    unfold(page)
    counterexample = page.locator("figure").filter(has_text="on the plan").first
    counterexample.scroll_into_view_if_needed()
    counterexample.screenshot(path=PICTURES / "proof_story.png")


def unfold(page: Page) -> None:
    """Opens what the page's checks and pictures fold."""
    page.evaluate("document.querySelectorAll('.alarm-page details').forEach((each) => { each.open = true; })")


def opened(page: Page, where: str) -> None:
    """Go to a page of the workbook and wait until its last form and its pictures are drawn."""
    page.goto(where)
    page.locator(".alarm-form").first.wait_for(timeout=WAIT_MS)
    done = "Boolean([...document.querySelectorAll('.jp-CodeCell')].at(-1)?.querySelector('.jp-OutputArea-output'))"
    page.wait_for_function(done, timeout=WAIT_MS)


def record(browser: Browser, file: Path) -> None:
    """The top of the demo home's record."""
    file.write_bytes(made(demo_home(), Share.OWNER, RECORD_DAY.isoformat())[1])
    page = browser.new_page(viewport=SIZE)
    page.goto(file.as_uri())
    page.screenshot(path=PICTURES / "record.png")
    page.close()


if __name__ == "__main__":
    sys.exit(main())
