"""Where the pages are in this installation, and how a home's folder gets its own copies of them."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from alarmlib.store.home_file import replace
from alarmlib.store.modes import make_folder

FIRST_PAGE = "00_start.ipynb"
PICTURES = "pictures"


def source() -> Path:
    """The folder of the pages as shipped: inside the installed package, or beside it in a checkout."""
    from importlib.resources import files

    package = Path(str(files("alarmlib")))
    shipped = package / "_workbook"
    return shipped if shipped.is_dir() else package.parent / "workbook"


def page_files() -> list[Path]:
    """The shipped pages, in reading order."""
    return sorted(source().glob("*.ipynb"))


def stripped(page: dict[str, Any]) -> dict[str, Any]:
    """The notebook without anything that a run leaves behind; changed in place and handed back."""
    for cell in page["cells"]:
        for left_behind in ("execution", "trusted"):
            cell["metadata"].pop(left_behind, None)
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    page["metadata"].pop("widgets", None)
    return page


def copy_pages(folder: Path, memory: Path) -> list[Path]:
    """Write pages, without outputs, and pictures into `folder`; a page that its reader changed is kept aside.

    `memory` is the file that remembers, by page, the text that was written last. No library but Python's own is needed.
    """
    known = _remembered(memory)
    targets = [_copy_page(page, folder / page.name, known.get(page.name, "")) for page in page_files()]
    written = {target.name: own_text(target) for target in targets}
    if written != known:
        replace(memory, (json.dumps(written, indent=1, sort_keys=True) + "\n").encode())
    _copy_pictures(folder / PICTURES)
    return targets


def put_back(page: Path, target: Path) -> Path:
    """Write a shipped page in the place of a changed one, which is kept aside under the name that this returns."""
    aside = _free_name(target)
    target.replace(aside)
    _copy_page(page, target, "")
    return aside


def own_text(page: Path) -> str:
    """A hash of the cells' own text, whatever a run has left in them; empty for a page that can't be read."""
    try:
        return own_text_of(json.loads(page.read_text(encoding="utf-8")))
    except (ValueError, KeyError, TypeError):
        return ""


def own_text_of(page: dict[str, Any]) -> str:
    """The same of a notebook's content. The pages' extension reckons it too (`extension/static/remoteEntry.js`)."""
    texts = [(cell["cell_type"], "".join(cell["source"])) for cell in page["cells"]]
    return _digest(json.dumps(texts).encode())


def listed() -> str:
    """The list of the library's own pages, as shipped in `extension/static/pages.json`: by page, its text's hash."""
    return json.dumps({page.name: own_text(page) for page in page_files()}, indent=1, sort_keys=True) + "\n"


def _copy_page(page: Path, target: Path, known: str) -> Path:
    if (target.exists() or target.is_symlink()) and (
        target.is_symlink() or own_text(target) not in (known, own_text(page))
    ):
        target.replace(_free_name(target))
    fresh = stripped(json.loads(page.read_text(encoding="utf-8")))
    text = json.dumps(fresh, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    if not target.exists() or target.read_text(encoding="utf-8") != text:
        replace(target, text.encode())
    return target


def _copy_pictures(target: Path) -> None:
    """Write the pictures that are new; a link to elsewhere is taken away, so that nothing is written there."""
    if target.is_symlink():
        target.unlink()
    for picture in sorted((source() / PICTURES).glob("*.*")):
        make_folder(target)
        there, content = target / picture.name, picture.read_bytes()
        if there.is_symlink() or not there.exists() or there.read_bytes() != content:
            replace(there, content)


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _free_name(target: Path) -> Path:
    number = 1
    while (name := target.with_name(f"{target.stem}_changed_{number}{target.suffix}")).exists() or name.is_symlink():
        number += 1
    return name


def _remembered(memory: Path) -> dict[str, str]:
    """What was written last, by page; versions up to 0.4 kept a second hash beside it."""
    try:
        known = json.loads(memory.read_text(encoding="utf-8"))
        return {name: told if isinstance(told, str) else str(told[0]) for name, told in known.items()}
    except (OSError, ValueError, AttributeError, LookupError, TypeError):
        return {}
