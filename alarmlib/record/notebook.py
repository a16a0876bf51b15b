"""A record as a notebook: one cell a section, one HTML output a block, no code and no time."""

from typing import Any

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


def _cell(section: SectionText) -> dict[str, Any]:
    written = [f'<h2 id="{section.id}">{plain(section.title)}</h2>']
    written += [block_html(block, f"{section.id}-{index}") for index, block in enumerate(section.blocks)]
    return {
        "cell_type": "code",
        "id": section.id[:64],
        "metadata": {METADATA_KEY: {"paper": section.paper}},
        "source": "",
        "execution_count": None,
        "outputs": [_output(html) for html in written],
    }


def _output(html: str) -> dict[str, Any]:
    return {"output_type": "display_data", "data": {"text/html": html}, "metadata": {}}
