"""Writes the list of the library's own pages: only those draw themselves. `python -m alarmlib.lab.listed_pages`."""

import sys
from pathlib import Path

from alarmlib.lab.workbook import listed

PLACE = Path(__file__).parent / "extension" / "static" / "pages.json"


def main() -> int:
    """Write the list after a change of a page, in a checkout; a test compares it with the pages."""
    PLACE.write_text(listed(), encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
