"""Pictures of one edit, before and after: a finding, a picture, and the progress in another window.

`ALARM_PICTURES=FOLDER python tests/edit_pictures.py` writes `finding_before.png` to `progress_after.png` there.
Needs Chromium.
"""

import os
import sys
import tempfile
from pathlib import Path

from pictures import DEMO, WAIT_MS, chromium, opened, served
from playwright.sync_api import Locator, Page, expect, sync_playwright

from alarmlib.lab.open import prepare

SIZE = {"width": 1366, "height": 768}
DEVICE = "Living room motion detector"
SOON_MS = 60_000.0  # on a busy machine


def main() -> int:
    """Take all six; 0 when each is there."""
    folder = Path(os.environ["ALARM_PICTURES"])
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="alarm-edit-") as scratch, sync_playwright() as driver:
        browser = chromium(driver)
        with served(prepare(Path(scratch) / "home", DEMO), 8897) as where:
            base, query = where.split("?")
            page, start = (browser.new_context(viewport=SIZE).new_page() for _ in range(2))
            for each, name in ((page, "02_detectors"), (start, "00_start")):
                each.set_default_timeout(WAIT_MS)
                opened(each, f"{base}doc/tree/{name}.ipynb?{query}")
            taken(page, start, folder)
        browser.close()
    written = sorted(path.name for path in folder.glob("*.png"))
    sys.stdout.write("\n".join([*written, ""]))
    return int(len(written) < 6)


def taken(page: Page, start: Page, folder: Path) -> None:
    """A detector is put out of use: its finding, its area on the plan, and the count on the start page change."""
    parts = {
        "finding": (page, region(page, "Findings about detectors")),
        "picture": (page, region(page, "Picture: What the motion detectors see")),
        "progress": (start, region(start, "Your tasks")),
    }
    for name, (whose, part) in parts.items():
        picture(whose, shown(name, part), folder / f"{name}_before.png")
    texts = [part.inner_text() for _, part in parts.values()]
    table = page.locator("fieldset.alarm-form").filter(has=page.get_by_text("Devices", exact=True)).first
    row = next(
        n for n, each in enumerate(table.get_by_label("Device, device").all(), 1) if each.input_value() == DEVICE
    )
    table.get_by_role("button", name=f"Device {row}", exact=True).click()
    table.get_by_label(f"State, device {row}", exact=True).select_option("out_of_use")
    for (name, (whose, part)), text in zip(parts.items(), texts, strict=True):
        expect(part).not_to_have_text(text, timeout=SOON_MS, use_inner_text=True)
        picture(whose, shown(name, part), folder / f"{name}_after.png")


def shown(name: str, part: Locator) -> Locator:
    """What of the part comes to the top of the window: of the pictures the one with the detector in it."""
    return part.locator("figure").filter(has_text="Ground").first if name == "picture" else part


def region(page: Page, title: str) -> Locator:
    """The part of the page with that title."""
    return page.get_by_role("region", name=title, exact=True)


def picture(page: Page, part: Locator, file: Path) -> None:
    """The window with that part at its top."""
    part.evaluate("part => part.scrollIntoView({ block: 'start' })")
    page.screenshot(path=file)


if __name__ == "__main__":
    sys.exit(main())
