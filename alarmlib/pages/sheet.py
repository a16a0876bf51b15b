"""The sheet of a page: all that is on it, as one plain document to print on paper.

The notebook's own window prints only a screenful. What was entered comes from the page's forms as they are, so that a
new kind of form is on the sheet by itself; a blank is a line to write on. Checks and pictures are what the page shows.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from alarmlib.model.home import Home
from alarmlib.pages.answers import section_blocks
from alarmlib.pages.on_page import shown_as
from alarmlib.pages.shown import Sentence
from alarmlib.pages.walk_sheets import walk_blocks
from alarmlib.record.blocks import Block, Lines, Subheading, Table, Text
from alarmlib.record.markup import block_html
from alarmlib.record.notebook import page_notebook
from alarmlib.record.record import written
from alarmlib.record.wording import Say, reworded
from alarmlib.rules import say_of
from alarmlib.widgets.engine import Engine
from alarmlib.widgets.plan_editor import PlanEditor
from alarmlib.widgets.view import View

MOST_COLUMNS = 6  # beside the first, which leads each part of a wide table
ROWS_TO_WRITE = 4  # of a list that is still empty
NOTE = "This sheet is for the owner alone: it holds what a helper's copy of the record leaves out."
TO_TICK = "☐"
_CALL = re.compile(r"pages\.(form|check|picture)\(\"(\w+)\"\)")
_BUTTON = re.compile(r"<button\b.*?</button>", re.DOTALL)
_HEADING = re.compile(r"^## +(.+)$", re.MULTILINE)

PageCell = tuple[str, str]
"""A cell of the page: whether it is `markdown` or `code`, and its text."""


def sheet(title: str, cells: Sequence[PageCell], home: Home, date: str) -> str:
    """The sheet as one HTML file without scripts; `date` is the day as it is written on it."""
    parts = [("sheet", "", [_html("note", (Text((NOTE,)),), say_of(home))])]
    calls = {found for kind, text in cells if kind == "code" for found in _CALL.findall(text)}
    if walk := walk_blocks(home, calls):
        return written(page_notebook(title, home.name, date, [("walk", "", [_html("walk", walk, say_of(home))])]))
    for number, (kind, text) in enumerate(cells):
        if kind == "markdown":
            parts += [(f"part-{number}-{at}", heading, []) for at, heading in enumerate(_HEADING.findall(text))]
        for call in _CALL.findall(text):
            parts[-1][2].extend(_told(shown_as(*call), home, f"cell-{number}", ("picture", "plan") in calls))
    filled = [part for part in parts if part[2]]
    return written(page_notebook(title, home.name, date, filled))


def _told(shown: Any, home: Home, key: str, has_plan: bool) -> Iterator[str]:
    """What a cell shows, as HTML; forms within others one after the other."""
    if isinstance(shown, View):
        yield _html(key, (Subheading(shown.title.removeprefix("Picture: ")),), str) + _BUTTON.sub("", shown.html)
    elif isinstance(shown, PlanEditor):
        yield "" if has_plan else _html(key, section_blocks(home, "plan"), say_of(home))
    elif isinstance(shown, Engine):
        yield _html(key, form_blocks(shown), str)
    elif isinstance(shown, Sentence):
        yield _html(key, (Text((repr(shown),)),), str)
    else:
        inner: Iterable[Any] = getattr(shown, "children", ()) or getattr(shown, "forms", ())
        for number, each in enumerate(inner):
            yield from _told(each, home, f"{key}-{number}", has_plan)


def _html(key: str, blocks: Iterable[Block], say: Say) -> str:
    """Blocks in their country's words, none of them folded: paper does not unfold."""
    return "".join(block_html(reworded(block, say), f"{key}-{number}") for number, block in enumerate(blocks))


def form_blocks(form: Engine) -> Iterator[Block]:
    """What is entered in a form; nothing of one that only has buttons."""
    told = form.structure
    fields = [field for group in told.get("groups") or () for field in group["fields"]]
    if not fields and not told.get("table"):
        return
    if told.get("intro", "").startswith("⚠"):
        yield Text(tuple(told["intro"].splitlines()))
    for group in told.get("groups") or ():
        rows = tuple((field["caption"], _entered(form, field, field["id"])) for field in group["fields"])
        yield Table(group["legend"] or told["title"], ("Question", "Answer"), rows)
    if told.get("table"):
        yield from _list_blocks(form, told["title"], told["table"]["columns"])


def _list_blocks(form: Engine, title: str, columns: Sequence[Mapping[str, Any]]) -> Iterator[Block]:
    """A list as tables of a few columns each, so that all fit on the paper."""
    first, rest = columns[0], columns[1:]
    for at in range(0, max(len(rest), 1), MOST_COLUMNS):
        chosen = (first, *rest[at : at + MOST_COLUMNS])
        caption = title if at == 0 else f"{title}, continued"
        header = tuple(column["caption"] for column in chosen)
        rows = tuple(tuple(_entered(form, column, f"{row}/{column['id']}") for column in chosen) for row in form.rows)
        yield Table(caption, header, rows) if rows else Lines(caption, header, ROWS_TO_WRITE)


def _entered(form: Engine, field: Mapping[str, Any], key: str) -> str:
    """A field's value as a person reads it; "" where it is blank."""
    text = form.values.get(key, "")
    if field["control"] == "tick":
        return text or TO_TICK
    if field["control"] in {"choice", "multi"}:
        names = dict(form.options.get(field["id"], ()))
        return ", ".join(names.get(part, part) for part in text.split(",")) if text else ""
    return text or str(form.inherited.get(key, ""))
