"""No text names a page that is not there, and a link's words are those of the page it leads to."""

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.answers import ANSWERS, GROUPS, answer
from alarmlib.pages.tables import LISTS, SHEETS
from alarmlib.record.context import Context
from alarmlib.record.plain import plain_blocks
from alarmlib.record.produce import demo_home
from alarmlib.record.sections import LONG, SHORT

ROOT = Path(__file__).parents[2]
PAGES = {page.stem: page for page in sorted((ROOT / "workbook").glob("*.ipynb"))}
NUMBERS = {stem[:2] for stem in PAGES}
NUMBERED = re.compile(r"\b[Pp]ages?\s+\[?(\d{1,2})\b\]?(?:(?:,| and| or| to)\s+\[?(\d{2})\b)?")
STEM = re.compile(r"(?<![\w/])(\d{2}_[a-z][a-z_]*)(?:\.ipynb)")
WHOLE_STEM = re.compile(r"\d{2}_[a-z][a-z_]*")
LINK = re.compile(r"\[([^\]]*)\]\(([^)#\s]+)\)")


def cells(page: Path, kind: str) -> list[str]:
    found = json.loads(page.read_text(encoding="utf-8"))["cells"]
    return ["".join(cell["source"]) for cell in found if cell["cell_type"] == kind]


def title(page: Path) -> str:
    """What its one h1 says."""
    return next(line for text in cells(page, "markdown") for line in text.splitlines() if line.startswith("# "))[2:]


def literals(module: Path) -> Iterator[str]:
    """Every text in a module, the pieces of f-strings among them."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def lost(text: str) -> list[str]:
    """The page numbers and page files that a text names and that are not there."""
    numbers = [number for found in NUMBERED.finditer(text) for number in found.groups() if number]
    stems = STEM.findall(text) + ([text] if WHOLE_STEM.fullmatch(text) else [])
    return [n for n in numbers if n.zfill(2) not in NUMBERS] + [stem for stem in stems if stem not in PAGES]


def test_a_page_that_is_not_there_is_found() -> None:
    """The scan itself: numbers with and without a link, files, and what is none of them."""
    assert lost("The settings of page 09 are entered") == ["09"]
    assert lost("read on page [77](77_other.ipynb), pages 05 and 07") == ["77", "07", "77_other"]
    assert lost("see page 05; 12 pages; the page about zones; of pages 05 and 06") == []


@pytest.mark.parametrize("module", sorted((ROOT / "alarmlib").rglob("*.py")), ids=lambda path: path.stem)
def test_no_module_names_a_page_that_is_not_there(module: Path) -> None:
    assert [name for text in literals(module) for name in lost(text)] == []


@pytest.mark.parametrize("script", sorted((ROOT / "alarmlib").rglob("*.js")), ids=lambda path: path.stem)
def test_no_script_names_a_page_that_is_not_there(script: Path) -> None:
    assert lost(script.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("stem", PAGES)
def test_a_page_links_to_what_is_there(stem: str) -> None:
    """Each link leads to a file beside the page; a page is called by its number or its own title."""
    for text in cells(PAGES[stem], "markdown"):
        assert lost(text) == []
        for words, target in LINK.findall(text):
            if target.startswith(("http://", "https://")):
                continue
            file = PAGES[stem].parent / target
            assert file.exists(), target
            if file.suffix == ".ipynb":
                name = words.partition(": ")[2] or words
                assert name in (file.stem[:2], title(file), title(file).lower(), "Start", "Proof"), (words, target)


def test_what_is_asked_for_elsewhere_is_asked_there() -> None:
    """Pairs found in the walls are entered on the page that page 05 sends you to (seen before: page 01)."""
    (text,) = (text for text in cells(PAGES["05_wiring_power"], "markdown") if "pairs found in the walls" in text)
    ((_, target),) = LINK.findall(text)
    assert 'pages.form("found")' in "\n".join(cells(ROOT / "workbook" / target, "code"))


@pytest.mark.parametrize("paper", ["README.md", "DEVELOPERS.md"])
def test_no_document_names_a_page_that_is_not_there(paper: str) -> None:
    assert lost((ROOT / paper).read_text(encoding="utf-8")) == []


@pytest.fixture(scope="module")
def demo() -> Home:
    return demo_home()


def test_no_answer_and_no_record_names_a_page_that_is_not_there(demo: Home) -> None:
    """What the pages' checks print and what the records say, on the demo home and on a blank one."""
    for home in (demo, Home()):
        context = Context(home, assess(home), Share.OWNER, "2026-11-25")
        told = [plain_blocks(section.build(context)) for section in dict.fromkeys(LONG + SHORT)]
        told += [answer(home, name) for name in (*ANSWERS, *GROUPS)]
        assert [name for text in told for name in lost(text)] == []


def test_no_form_names_a_page_that_is_not_there() -> None:
    for declared in (*SHEETS.values(), *LISTS.values()):
        assert lost(str(declared)) == []
