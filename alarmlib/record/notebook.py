"""A record as a notebook: one cell a section, one HTML output a block, no code and no time."""

from typing import Any

from alarmlib.record.blocks import Record, Section
from alarmlib.record.markup import block_html, plain

METADATA_KEY = "alarm_record"


def to_notebook(record: Record) -> Any:
    """The record as an `nbformat` 4.5 notebook node; equal records give equal nodes."""
    from nbformat.v4 import new_notebook

    about = {name: getattr(record, name) for name in ("title", "home", "copy", "date", "version")}
    contents = [[section.id, section.title] for section in record.sections]
    return new_notebook(
        metadata={METADATA_KEY: about | {"contents": contents}, "language_info": {"name": "python"}},
        cells=[_cell(section) for section in record.sections],
    )


def _cell(section: Section) -> Any:
    from nbformat.v4 import new_code_cell

    written = [f'<h2 id="{section.id}">{plain(section.title)}</h2>']
    written += [block_html(block, f"{section.id}-{index}") for index, block in enumerate(section.blocks)]
    return new_code_cell(
        id=section.id[:64],
        metadata={METADATA_KEY: {"paper": section.paper}},
        outputs=[_output(html) for html in written],
    )


def _output(html: str) -> Any:
    from nbformat.v4 import new_output

    return new_output("display_data", {"text/html": html})
