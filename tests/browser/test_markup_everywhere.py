"""Every text that a person can type holds markup that attacks: pages and record show it as text, and nothing runs."""

import contextlib
import os
import re
import sys
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from alarmlib.lab import workbook
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.produce import demo_home, made
from alarmlib.store.fields import part_in

pytestmark = pytest.mark.browser

WHOLE = os.environ.get("ALARM_WHOLE") == "1"
PAGES = [path.stem for path in workbook.page_files()] if WHOLE else ["02_detectors"]
WATCH = "window.ran = []; window.ran_it = (number) => window.ran.push(number);"
SHOWN = """() => document.body.innerText + ' ' + [...document.querySelectorAll('input, textarea, svg text')]
  .map((each) => each.value ?? each.textContent).join(' ')"""


def attack(number: int) -> str:
    """At most 80 characters that run in several ways where they are taken for markup."""
    return f"<img src=//evil.example/ onerror=ran_it({number})><script>ran_it({number})</script>"


def is_free(info: Any) -> bool:
    """Whether a field holds a text of a person's own: a name or a note."""
    return re.search("_of_one_line|readable", str((info.annotation, info.metadata))) is not None


def poisoned(document: Any, model: type[BaseModel], count: list[int]) -> None:
    """Put an attack with a number of its own into each free text of a document."""
    for name, info in model.model_fields.items():
        inner, there = part_in(info.annotation), document.get(name)
        if inner is not None:
            for each in there if isinstance(there, list) else [there] if there else []:
                poisoned(each, inner, count)
        elif is_free(info) and isinstance(there, str | list):
            size = 1 if isinstance(there, str) else len(there)
            texts = [attack(count[0] + n) for n in range(size)]
            count[0] += size
            document[name] = texts[0] if isinstance(there, str) else texts


def test_markup_in_every_field_runs_nowhere(desk, chromium, tmp_path: Path, capsys) -> None:
    """One page and the record (all ten pages in the whole run), of a home with markup in more than 800 fields."""
    document, count = demo_home().model_dump(mode="json"), [1]
    poisoned(document, Home, count)
    home, fields = Home.model_validate(document), count[0] - 1
    assert fields > 800
    desk.lay_out(demo=True)
    desk.file.write_text(home.model_dump_json())
    window, asked, said, shown = desk.context(), [], [], set[str]()
    window.add_init_script(WATCH)
    window.on("request", lambda request: asked.append(request.url))
    window.on("dialog", lambda dialog: said.append(dialog.message))
    for name in PAGES:
        page = desk.open_whole(name, window=window)
        seen = set(re.findall(r"onerror=ran_it\((\d+)\)", page.evaluate(SHOWN)))
        assert seen or name == "08_proof", name
        shown |= seen
        assert page.evaluate("window.ran") == [], name
        assert page.locator("img[src*=evil]").count() == 0, name
        page.close()
    record = tmp_path / "record.html"
    record.write_bytes(made(home, Share.OWNER, "2026-11-25")[1])
    outside = chromium.new_context(offline=True)
    outside.add_init_script(WATCH)
    outside.on("request", lambda request: asked.append(request.url))
    page = outside.new_page()
    page.goto(record.as_uri())
    in_record = set(re.findall(r"onerror=ran_it\((\d+)\)", page.evaluate(SHOWN)))
    assert page.evaluate("[window.ran, document.scripts.length]") == [[], 0]
    outside.close()
    assert len(in_record) > 200
    assert (said, [each for each in asked if "evil" in each]) == ([], [])
    pages = f"{len(PAGES)} pages" if WHOLE else "one page"
    count_said = f"{fields} fields with markup, {pages} and the record: {len(shown | in_record)} seen as text, none ran"
    with capsys.disabled() if WHOLE else contextlib.nullcontext():
        sys.stdout.write(f"\n{count_said}\n")
