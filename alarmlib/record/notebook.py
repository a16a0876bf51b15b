"""A record as a notebook: one cell a section, one HTML output a block, no code and no time."""

from collections.abc import Sequence
from typing import Any

from alarmlib import __version__
from alarmlib.record.blocks import Record, SectionText
from alarmlib.record.markup import block_html, plain

METADATA_KEY = "alarm_record"


def to_notebook(record: Record) -> Any:
    """The record as an `nbformat` 4.5 notebook node; equal records give equal nodes.

    The nodes are made plainly: `nbformat.v4` would check each one by itself, which takes longer than all the rest.
    """
    from nbformat import from_dict

    about = {name: getattr(record, name) for name in ("title", "home", "copy", "date", "version")}
    contents = [[section.id, section.title] for section in record.sections]
    metadata = {METADATA_KEY: about | {"contents": contents}, "language_info": {"name": "python"}}
    cells = [_cell(section) for section in record.sections]
    return from_dict({"nbformat": 4, "nbformat_minor": 5, "metadata": metadata, "cells": cells})


def page_notebook(title: str, home: str, date: str, parts: Sequence[tuple[str, str, Sequence[str]]]) -> Any:
    """A page of the workbook as such a notebook, for its owner: each part its id, its heading and blocks as HTML."""
    from nbformat import from_dict

    about = {"title": title, "home": home, "copy": "the owner", "date": date, "version": __version__, "sheet": True}
    metadata = {METADATA_KEY: about, "language_info": {"name": "python"}}
    cells = [_html_cell(key, [_heading(key, heading), *blocks], False) for key, heading, blocks in parts]
    return from_dict({"nbformat": 4, "nbformat_minor": 5, "metadata": metadata, "cells": cells})


def _cell(section: SectionText) -> dict[str, Any]:
    blocks = [block_html(block, f"{section.id}-{index}") for index, block in enumerate(section.blocks)]
    return _html_cell(section.id, [_heading(section.id, section.title), *blocks], section.paper)


def _heading(key: str, title: str) -> str:
    return f'<h2 id="{key}">{plain(title)}</h2>' if title else ""


def _html_cell(key: str, written: Sequence[str], paper: bool) -> dict[str, Any]:
    return {
        "cell_type": "code",
        "id": key[:64],
        "metadata": {METADATA_KEY: {"paper": paper}},
        "source": "",
        "execution_count": None,
        "outputs": [_output(html) for html in written if html],
    }


def _output(html: str) -> dict[str, Any]:
    return {"output_type": "display_data", "data": {"text/html": html}, "metadata": {}}
