"""The page that was open last in a folder: the workbook opens there the next time."""

from pathlib import Path

from alarmlib.lab.workbook import FIRST_PAGE, page_files
from alarmlib.store.home_file import replace
from alarmlib.store.modes import HIDDEN

_NOTE = "left_off.txt"


def page_left(folder: Path) -> str:
    """The page's file name; the first page where none was open yet, or where what is noted is none of the pages."""
    try:
        noted = (folder / HIDDEN / _NOTE).read_text(encoding="utf-8").strip()
    except (OSError, ValueError):
        return FIRST_PAGE
    return noted if _is_page(noted) else FIRST_PAGE


def keep(folder: Path, name: str) -> bool:
    """Note that this page is open now; False, and nothing is noted, for what is none of the pages."""
    if not _is_page(name) or (folder / HIDDEN).is_symlink():
        return False
    replace(folder / HIDDEN / _NOTE, name.encode())
    return True


def _is_page(name: str) -> bool:
    return any(page.name == name for page in page_files())
