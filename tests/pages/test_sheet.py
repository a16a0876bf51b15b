"""The sheet that is printed of a page: what was entered, blanks to write on, checks and pictures; no script."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from alarmlib import pages
from alarmlib.draft.test_route import walk_order
from alarmlib.lab import workbook
from alarmlib.model.survey import POINTS
from alarmlib.pages.bar import answer
from alarmlib.pages.opened import open_home
from alarmlib.store import Edit

DEMO = workbook.source() / "demo_home.json"
CALL = re.compile(r'pages\.(form|check|picture)\("(\w+)"\)')


def cells_of(name: str) -> list[list[str]]:
    """The cells of one of the workbook's pages, as the bar tells them."""
    page = json.loads((workbook.source() / f"{name}.ipynb").read_text(encoding="utf-8"))
    return [[cell["cell_type"], "".join(cell["source"])] for cell in page["cells"]]


def sheet_of(name: str) -> tuple[str, list[object]]:
    """The page's sheet once its cells have run; and what the cells show, which lives as long as it is held."""
    cells = cells_of(name)
    shown = [getattr(pages, kind)(word) for _, text in cells for kind, word in CALL.findall(text)]
    told = answer({"kind": "sheet", "title": cells[0][1].splitlines()[0].strip("# "), "cells": cells})
    assert "error" not in told, told
    return told["sheet"], shown


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo home beside the page."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "home.json").write_bytes(DEMO.read_bytes())
    return tmp_path


class Tables(HTMLParser):
    """The cells of each table by its caption."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.rows: dict[str, list[list[str]]] = {}
        self.at, self.caption = "", ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.at = tag
        if tag == "caption":
            self.caption = ""
        if tag == "tr":
            self.rows.setdefault(self.caption, []).append([])
        if tag in {"td", "th"}:
            self.rows[self.caption][-1].append("")

    def handle_data(self, data: str) -> None:
        if self.at == "caption":
            self.caption += data.strip()
        if self.at in {"td", "th"} and self.rows.get(self.caption):
            self.rows[self.caption][-1][-1] += data.strip()


def test_a_sheet_holds_what_was_entered_and_a_line_for_each_blank(demo: Path) -> None:
    """The zones of the demo home by label, a function in words, a list's row by row; what is blank is an empty cell."""
    session = open_home()
    html, shown = sheet_of("03_zones")
    assert shown
    rows = [row for listed in Tables(html).rows.values() for row in listed]
    for zone in session.home.control_unit.zones:
        assert any(row[0] == zone.label or zone.label in row for row in rows), zone.label
    assert "starts the entry delay" in html
    assert ["Shortest time (s)", "5"] in rows
    assert ["House", ""] in rows  # the area whose entry delay it waits for: none
    assert "<h1>Zones</h1>" in html
    assert "This sheet is for the owner alone" in html
    assert "The demo home" in html


def test_a_sheet_holds_nothing_that_runs_or_asks(demo: Path) -> None:
    """What a person typed is text; no script, no button, no address; the browser is told so too."""
    session = open_home()
    session.apply([Edit(("name",), session.home.name, "Hut <script>x()</script>")])
    html, shown = sheet_of("06_sounders")
    assert shown
    assert "Hut &lt;script&gt;x()&lt;/script&gt;" in html
    assert re.findall(r"<(?:script|button|input|iframe|link)|https?://|&lt;(?:div|p|table|button)", html) == []
    assert "default-src 'none'; img-src data:; style-src 'unsafe-inline'" in html
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    assert "<svg" in html


def test_an_empty_list_has_rows_to_write_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page of a blank home: its lists have their headings and empty rows."""
    monkeypatch.chdir(tmp_path)
    html, shown = sheet_of("06_sounders")
    assert shown
    assert '<table class="blank">' in html


def test_a_cell_that_has_not_run_is_left_out(demo: Path) -> None:
    """The page was just opened: its title and headings are there, and no error."""
    cells = [["markdown", "# Zones\n\n## Areas"], ["code", 'pages.form("nothing")']]
    told = answer({"kind": "sheet", "title": "Zones", "cells": cells})
    assert "<h1>Zones</h1>" in told["sheet"]


def test_the_survey_prints_as_its_walk_sheet(demo: Path) -> None:
    """Every point with its boxes, what is answered ticked, then ways in and rooms by storey with room to write."""
    tables = Tables(sheet_of("01_survey")[0]).rows
    home = open_home().home
    assert next(iter(tables)) == "Street and grounds"
    assert list(tables)[-2:] == ["Each way in", "Each room"]
    rows = {row[0]: row[1:] for table in list(tables.values())[:5] for row in table[1:]}
    assert sorted(rows) == sorted(point.text for point in POINTS)
    assert rows["Gates close and lock"] == ["☐", "☒", "☐", "☐", "Fix or lock the gate"]
    assert [row[0] for row in tables["Each room"][1:4]] == ["Store cellar", "Boiler room", "Hall"]
    assert len(tables["Each way in"]) == 1 + len(home.site.openings)


def test_the_walk_test_prints_in_the_order_of_the_walk(demo: Path) -> None:
    tables = Tables(sheet_of("10_test_walk")[0]).rows
    assert list(tables) == ["Walk in this order"]
    rows = tables["Walk in this order"][1:]
    order = walk_order(open_home().home)
    walked = [device.name for device, _ in order.rows] + [device.name for device in order.apart]
    assert [row[3] for row in rows] == walked
    assert [row[1] for row in rows] == [str(number) for number in range(1, len(walked) + 1)]
    assert all(row[0] == "☐" and row[7] == "" for row in rows)
