"""One file, no script, no address, the same bytes by every road."""

import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any

import nbformat
import pytest
from traitlets.config import Config

from alarmlib.checks.finding import Assessment
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Record
from alarmlib.record.exporter import RecordExporter, css_text
from alarmlib.record.notebook import to_notebook
from alarmlib.record.record import build, render

DATE = "2026-11-25"
INJECTED = """<script>document.title="PWN"</script><img src=x onerror="document.title='PWN'"><style>p{}</style>
<a href="https://example.org">out</a><a href="javascript:alert(1)">js</a><iframe src="//example.org"></iframe>
<p onclick="x()" style="background:url(//example.org)">text</p><svg><use href="//example.org/a.svg"/></svg>
<svg><rect fill="url(https://example.org/x)" width="3"></rect></svg><form action="/x"><button>b</button></form>"""


def exported(html: str, sanitized: bool = True) -> str:
    """The record of a notebook into which somebody put that HTML."""
    output = nbformat.v4.new_output("display_data", {"text/html": html})
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(outputs=[output])])
    config = Config() if sanitized else Config({"RecordExporter": {"preprocessors": []}})
    text, _ = RecordExporter(config=config).from_notebook_node(notebook)
    return str(text)


@pytest.fixture
def written(home: Home, assessment: Assessment) -> str:
    """The lived-in home's record as HTML."""
    return render(build(assessment, home, Share.OWNER, DATE))


def test_what_somebody_put_into_the_notebook_is_shown_as_text() -> None:
    """No script, handler, style, frame, form, or address of somebody else's gets through as markup."""
    text = exported(INJECTED)
    body = text[text.index("<body>") :]
    tags = set(re.findall(r"<([a-z0-9]+)", body))
    assert not tags & {"script", "img", "iframe", "style", "form", "button", "use", "object", "embed", "link"}
    attributes = re.findall(r"<[a-z][^<>]*>", body)
    assert not [tag for tag in attributes if re.search(r"\son\w+=|style=|javascript:|example\.org", tag)]


def test_without_the_sanitizer_the_content_policy_still_holds() -> None:
    """The second wall does not depend on the first: the policy is in the page before anything else can act."""
    text = exported(INJECTED, sanitized=False)
    assert "<script>document.title" in text
    policy = """content="default-src 'none'; img-src data:; style-src 'unsafe-inline'\""""
    assert 0 < text.index(policy) < text.index("<title>")


def test_the_allow_list_leaves_our_own_writing_alone(written: str, home: Home, assessment: Assessment) -> None:
    """Nothing that a block writes is lost or shown as text."""
    notebook = to_notebook(build(assessment, home, Share.OWNER, DATE))
    ours = "".join(output.data["text/html"] for cell in notebook.cells for output in cell.outputs)
    for tag in ("<table", "<th scope=", "<svg", "<title id", "<pattern", "tabindex=", "<polygon", "viewBox"):
        assert ours.count(tag) > 0
        assert written.count(tag) == ours.count(tag), tag
    assert "&lt;" not in written


def test_no_address_anywhere(written: str) -> None:
    """Nothing in the file could be fetched: no source, no link but to its own headings."""
    assert not re.findall(r"(?:src|action|xlink:href)=", written)
    assert set(re.findall(r'href="(.)', written)) == {"#"}
    assert "http" not in re.sub(r"http-equiv", "", written)
    assert "@import" not in written
    assert set(re.findall(r"url\((.)", written)) <= {"#"}


def test_every_link_has_its_heading(written: str) -> None:
    """The contents lead somewhere, and no id is used twice."""
    ids = re.findall(r'\sid="([^"]+)"', written)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', written)) <= set(ids)
    assert set(re.findall(r"url\(#([^)]+)\)", written)) <= set(ids)
    assert {one for many in re.findall(r'aria-labelledby="([^"]+)"', written) for one in many.split()} <= set(ids)


def test_headings_go_down_by_one(written: str) -> None:
    """One h1, and no level is left out on the way down."""
    levels = [int(level) for level in re.findall(r"<h([1-6])", written)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_language_and_main(written: str) -> None:
    """The page says its language and where its matter is."""
    assert '<html lang="en">' in written
    assert written.count("<main>") == 1


def test_same_bytes_by_every_road(tmp_path: Path, demo: Home, demo_records: dict[Share, Record]) -> None:
    """`render`, `python -m alarmlib record` and `jupyter nbconvert --to alarm_record` write the same file."""
    record = demo_records[Share.HELPER]
    expected = render(record).encode()
    notebook, page = tmp_path / "any_name.ipynb", tmp_path / "record.html"
    nbformat.write(to_notebook(record), notebook)
    (tmp_path / "home.json").write_text(demo.model_dump_json(), encoding="utf-8")
    surround = os.environ | {f"JUPYTER_{part}_DIR": str(tmp_path / part) for part in ("CONFIG", "DATA", "RUNTIME")}
    convert = [sys.executable, "-m", "nbconvert", "--to", "alarm_record", str(notebook)]
    subprocess.run(convert, check=True, capture_output=True, env=surround)
    assert notebook.with_suffix(".html").read_bytes() == expected
    command = [sys.executable, "-m", "alarmlib", "record", str(tmp_path / "home.json"), "--copy", "helper"]
    subprocess.run([*command, "--date", DATE, "--out", str(page)], check=False, capture_output=True, env=surround)
    assert page.read_bytes() == expected


ONCE = f"""
import sys
from itertools import pairwise
from alarmlib.model.words import Share
from alarmlib.record.produce import demo_home, made
sys.stdout.buffer.write(made(demo_home(), Share.OWNER, "{DATE}")[1])
"""


def test_two_processes_write_the_same_bytes() -> None:
    """Neither the order of sets nor the time of day is in the file."""
    written = [
        subprocess.run(
            [sys.executable, "-c", ONCE], check=True, capture_output=True, env=os.environ | {"PYTHONHASHSEED": n}
        )
        for n in ("1", "2")
    ]
    assert written[0].stdout == written[1].stdout
    assert written[0].stdout.startswith(b"<!DOCTYPE html>")


def test_the_demo_homes_keep_to_their_size(demo_records: dict[Share, Record], finished_record: Record) -> None:
    """The record of a big home is under 500 kB, as first planned and finished."""
    assert all(len(render(record).encode()) < 500_000 for record in (demo_records[Share.OWNER], finished_record))


def test_a_name_cannot_leave_the_style_sheet(facts: dict[str, Any], assessment: Assessment) -> None:
    """A title in the print header can neither end its string nor the style element."""
    assert css_text('a"; } </style><script>') == "a  stylescript"
    record = build(assessment, Home.model_validate(facts | {"name": '"}</style><script>x</script>'}), Share.OWNER, DATE)
    head = render(record).split("<body>")[0]
    assert head.count("</style>") == 1
    assert "<script" not in head
