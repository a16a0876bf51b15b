"""What every page of the workbook must look like, so that nobody meets code, stale output or a dead link."""

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest

WORKBOOK = Path(__file__).parents[2] / "workbook"
PAGES = sorted(WORKBOOK.rglob("*.ipynb"))
TAGS = {"setup", "form", "check", "picture"}
WITHOUT_OUTPUT = {"setup", "form", "picture"}
LINK = re.compile(r"\]\(([^)#\s]+)")
# Headings of a page, outside fenced text; only the first cell may hold one of the first level.
HEADING = re.compile(r"^# ", re.MULTILINE)

each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)


def cells(page: Path, kind: str) -> list[Any]:
    """The page's cells of one kind, in order."""
    return [cell for cell in json.loads(page.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == kind]


def text(cell: Any) -> str:
    """The source of a cell."""
    return "".join(cell["source"])


def code_lines(cell: Any) -> list[str]:
    """The lines of a code cell that do something: neither empty nor a comment."""
    return [line for line in text(cell).splitlines() if line.strip() and not line.lstrip().startswith("#")]


def tag(cell: Any) -> str:
    """The one tag of ours that a code cell carries."""
    return next(iter(cell["metadata"].get("tags", [""])), "")


def test_there_are_pages() -> None:
    """The first page and the last page are there: without pages the tests below would check nothing."""
    names = {page.name for page in PAGES}
    assert {"00_start.ipynb", "11_record.ipynb"} <= names


@each_page
def test_one_title_in_the_first_cell(page: Path) -> None:
    """A page begins with Markdown that holds its only heading of the first level."""
    document = json.loads(page.read_text(encoding="utf-8"))
    assert document["cells"][0]["cell_type"] == "markdown"
    headings = [len(HEADING.findall(text(cell))) for cell in cells(page, "markdown")]
    assert headings[0] == 1
    assert sum(headings) == 1


@each_page
def test_code_cells_are_one_plain_line(page: Path) -> None:
    """No definition, loop or branch; each cell but setup is one call that its tag names, of one plain word."""
    forbidden = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Lambda, ast.For, ast.While, ast.If, ast.Try)
    for cell in cells(page, "code"):
        found = [type(node).__name__ for node in ast.walk(ast.parse(text(cell))) if isinstance(node, forbidden)]
        assert found == [], text(cell)
        if tag(cell) != "setup":
            (line,) = code_lines(cell)
            assert re.fullmatch(rf'pages\.{tag(cell)}\("\w+"\)', line), line


@each_page
def test_code_cells_carry_one_known_tag(page: Path) -> None:
    """Every code cell says what it is, spelled right; the first one sets the page up and is the only one that does."""
    tags = [cell["metadata"].get("tags", []) for cell in cells(page, "code")]
    assert all(len(each) == 1 and each[0] in TAGS for each in tags), tags
    assert [each[0] for each in tags].count("setup") == 1
    assert tags[0] == ["setup"]


@each_page
def test_forms_and_pictures_are_stored_without_output(page: Path) -> None:
    """What each run draws again is not committed; the text of a check is, so that it is compared."""
    for cell in cells(page, "code"):
        if tag(cell) in WITHOUT_OUTPUT:
            assert cell["outputs"] == [], text(cell)
            assert cell["execution_count"] is None, text(cell)
        else:
            assert cell["outputs"], f"{text(cell)}: its stored text is missing"


@each_page
def test_stored_text_has_neither_time_nor_place(page: Path) -> None:
    """A check's output is plain text without a path of somebody's computer or an address in memory."""
    for cell in cells(page, "code"):
        for output in cell["outputs"]:
            assert output["output_type"] in ("stream", "execute_result", "display_data"), text(cell)
            told = json.dumps(output)
            assert not re.search(r"0x[0-9a-f]{6,}|/home/|/tmp/|/root/|C:\\\\|\d\d:\d\d:\d\d", told), told


@each_page
def test_page_is_ready_for_its_reader(page: Path) -> None:
    """Cells are locked against slips, code is folded away, nothing of a run is left in the page."""
    document = json.loads(page.read_text(encoding="utf-8"))
    for cell in document["cells"]:
        assert cell["metadata"].get("editable") is False, text(cell)
        assert cell["metadata"].get("deletable") is False, text(cell)
        assert not {"execution", "trusted", "collapsed"} & set(cell["metadata"]), text(cell)
        if cell["cell_type"] == "code":
            assert cell["metadata"].get("jupyter") == {"source_hidden": True}, text(cell)
    assert document["metadata"]["alarmlib"] == {"run_on_open": True}
    assert document["metadata"]["kernelspec"]["name"] == "python3"
    assert "widgets" not in document["metadata"]


@each_page
def test_cautions_come_before_what_they_are_about(page: Path) -> None:
    """Where cautions are a cell of their own, nothing but words is between them and their step."""
    called = [line for cell in cells(page, "code") for line in code_lines(cell)]
    apart = {"10_test_walk": ('pages.form("walk_test_cautions")', 'pages.check("test_plan")')}
    if page.stem == "00_start":
        first_cells = ['pages.form("tasks")', 'pages.check("next")', 'pages.form("cautions")']
        assert called[2:5] == first_cells  # before any form that asks
    if page.stem in apart:
        first, then = apart[page.stem]
        assert called.index(first) + 1 == called.index(then)


@each_page
def test_links_lead_somewhere(page: Path) -> None:
    """A link to another page or a picture finds it beside this page."""
    missing = [
        link
        for cell in cells(page, "markdown")
        for link in LINK.findall(text(cell))
        if not link.startswith(("http://", "https://", "mailto:")) and not (page.parent / link).is_file()
    ]
    assert missing == []


@each_page
def test_no_check_or_picture_is_on_a_page_twice(page: Path) -> None:
    """Of two views of one title only the newest follows the home, so each name is called once."""
    called = [text(cell) for cell in cells(page, "code") if tag(cell) in ("check", "picture")]
    assert len(called) == len(set(called))
