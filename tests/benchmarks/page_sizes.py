"""How large each page is at first sight, of the blank home and of the demo home: pixels of height, and fields.

    python tests/benchmarks/page_sizes.py [FILE]    writes the table of all pages, separated by tabs

At first sight: opened at 1366 x 768, every cell run, nothing folded open, nothing ticked.
"""

import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from measure import DEMO, ROOT, Effort, Line, test_module
from page_edit import QUIET

from alarmlib.draft.blank import blank_home
from alarmlib.lab.open import prepare
from alarmlib.store import Session

PORT = 8941
WIDTH, SCREEN = 1366, 768
MOST_PIXELS = 4_600
# The page before goes first, else its forms stay beside the new ones, out of sight.
TURN = """async (path) => {
  for (const panel of [...window.jupyterapp.shell.widgets('main')]) panel.dispose();
  await window.jupyterapp.commands.execute('docmanager:open', { path });
}"""
ALL_RAN = """() => {
  const panel = window.jupyterapp?.shell.currentWidget;
  const cells = [...(panel?.content?.model?.cells ?? [])].filter((cell) => cell.type === 'code');
  const idle = panel?.sessionContext.session?.kernel?.status === 'idle';
  return cells.length > 0 && idle && cells.every((cell) => cell.executionCount);
}"""
# A field is what one answer is given in: a box to type in, a list, a tick, a group of buttons of which one is chosen.
SEEN = """() => {
  const panel = window.jupyterapp.shell.currentWidget;
  const cells = [...panel.node.querySelectorAll('.jp-Notebook .jp-Cell')].map((each) => each.getBoundingClientRect());
  const shown = cells.filter((each) => each.height);
  const name = (each) => (each.type === 'radio' ? `radio ${each.name}` : each);
  const inSight = (each) => each.checkVisibility({ checkVisibilityCSS: true }) && each.getClientRects().length > 0;
  const controls = 'input:not([type=hidden], [type=button], [type=submit], [type=file]), select, textarea';
  const all = [...panel.node.querySelectorAll(controls)].filter((each) => !each.closest('.jp-InputArea'));
  const fields = new Set(all.map(name));
  const seen = new Set(all.filter(inSight).map(name));
  return {
    pixels: Math.round(Math.max(...shown.map((r) => r.bottom)) - Math.min(...shown.map((r) => r.top))),
    fields: seen.size,
    folded: fields.size - seen.size,
  };
}"""


@dataclass(frozen=True)
class Size:
    """One page as it is: pixels of height, fields in sight, fields folded away."""

    page: str
    pixels: int
    fields: int
    folded: int


def lines_of_sizes(effort: Effort) -> Iterator[Line]:
    """Screens of height over all pages, the tallest page, and fields, of both homes."""
    for name, home in HOMES.items():
        sizes = tuple(sizes_of(home, effort.pages))
        tallest = max(sizes, key=lambda each: each.pixels)
        over = [each.page for each in sizes if each.pixels > MOST_PIXELS]
        figures = (
            f"{screens(sizes):.1f} screens of height; tallest {tallest.page} with {tallest.pixels:,} px; "
            f"{sum(each.fields for each in sizes):,} fields in sight, {sum(each.folded for each in sizes):,} folded; "
            f"{len(over)} over {MOST_PIXELS:,} px"
        )
        yield Line(f"{len(sizes)} pages of the {name} home at first sight", figures, f"no page over {MOST_PIXELS:,} px")


def screens(sizes: Sequence[Size]) -> float:
    """Screens of height over these pages."""
    return sum(each.pixels for each in sizes) / SCREEN


def lay_out_blank(folder: Path) -> Path:
    """The workbook on a home of which nothing is known."""
    prepare(folder)
    Session.new(folder / "home.json", blank_home())
    return folder


HOMES = {"blank": lay_out_blank, "demo": lambda folder: prepare(folder, DEMO)}


def sizes_of(lay_out: Any, most: int = 99) -> Iterator[Size]:
    """Each page of a workbook laid out so, in the order in which they are read."""
    with tempfile.TemporaryDirectory(prefix="alarm-sizes-") as place, window(lay_out(Path(place) / "home")) as turn:
        for page in sorted(each.stem for each in (ROOT / "workbook").glob("*.ipynb"))[:most]:
            yield size(turn(page), page)


def size(shown: Any, page: str) -> Size:
    """The size of the page that is shown."""
    return Size(page=page, **shown.evaluate(SEEN))


@contextmanager
def window(folder: Path, port: int = PORT) -> Iterator[Any]:
    """What turns to a page of the workbook in that folder, in one window, and waits until all of it is drawn."""
    from playwright.sync_api import sync_playwright

    pictures = test_module("pictures.py")
    with sync_playwright() as driver, pictures.served(folder, port, "--LabApp.expose_app_in_browser=True") as where:
        base, query = where.split("?")
        browser = pictures.chromium(driver)
        shown = browser.new_page(viewport={"width": WIDTH, "height": SCREEN})
        shown.set_default_timeout(pictures.WAIT_MS)

        def turn(page: str) -> Any:
            if shown.url == "about:blank":
                shown.goto(f"{base}doc/tree/{page}.ipynb?{query}")
            else:
                shown.evaluate(TURN, f"{page}.ipynb")
            shown.locator(".alarm-form").first.wait_for()
            shown.wait_for_function(ALL_RAN)
            shown.evaluate(QUIET)
            return shown

        yield turn
        browser.close()


def table() -> Iterator[str]:
    """All pages of both homes, a line each, separated by tabs; the last of each home is the whole."""
    yield "home\tpage\tpixels\tfields in sight\tfields folded"
    for name, home in HOMES.items():
        sizes = list[Size]()
        for each in sizes_of(home):
            sizes.append(each)
            yield f"{name}\t{each.page}\t{each.pixels}\t{each.fields}\t{each.folded}"
        whole = [sum(getattr(each, of) for each in sizes) for of in ("pixels", "fields", "folded")]
        yield "\t".join((name, f"all ({screens(sizes):.1f} screens)", *map(str, whole)))


def main() -> int:
    """Print the table, and write it where a file is named."""
    lines = []
    for line in table():
        lines.append(line)
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
    for file in sys.argv[1:]:
        Path(file).write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
