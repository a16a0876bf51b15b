"""Where the pages are in this installation, and how a home's folder gets its own copies of them."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

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


def copy_pages(folder: Path, memory: Path, data_dir: Path) -> list[Path]:
    """Write pages, without outputs, and pictures into `folder`; a page that its reader changed is kept aside.

    `memory` is the file that remembers, by page, what was written and trusted last. New pages are
    signed for the Jupyter data folder; pages of which nothing is new cost no library but Python's own.
    """
    known = _remembered(memory)
    pages = page_files()
    targets = [_copy_page(page, folder, known.get(page.name, [""])[0]) for page in pages]
    written = {target.name: [_own_text(target), _digest(target.read_bytes())] for target in targets}
    if written != known or not (data_dir / "nbsignatures.db").exists():
        trust(targets, data_dir)
        memory.write_text(json.dumps(written, indent=1, sort_keys=True) + "\n", encoding="utf-8", newline="\n")
    if (pictures := source() / PICTURES).is_dir():
        shutil.copytree(pictures, folder / PICTURES, dirs_exist_ok=True)
    return targets


def trust(pages: Iterable[Path], data_dir: Path) -> None:
    """Sign the pages in that Jupyter data folder, so that a server using it shows and runs them."""
    import nbformat
    from nbformat.sign import NotebookNotary

    with NotebookNotary(data_dir=str(data_dir)) as notary:
        for page in pages:
            notary.sign(nbformat.read(page, as_version=4))


def _copy_page(page: Path, folder: Path, known: str) -> Path:
    target = folder / page.name
    if target.exists() and _own_text(target) not in (known, _own_text(page)):
        target.replace(_free_name(target))
    fresh = stripped(json.loads(page.read_text(encoding="utf-8")))
    text = json.dumps(fresh, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    if not target.exists() or target.read_text(encoding="utf-8") != text:
        target.write_text(text, encoding="utf-8", newline="\n")
    return target


def _own_text(page: Path) -> str:
    """A hash of the cells' own text, whatever a run has left in them; empty for a page that can't be read."""
    try:
        cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
        texts = [(cell["cell_type"], "".join(cell["source"])) for cell in cells]
    except (ValueError, KeyError, TypeError):
        return ""
    return _digest(json.dumps(texts).encode())


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _free_name(target: Path) -> Path:
    number = 1
    while (name := target.with_name(f"{target.stem}_changed_{number}{target.suffix}")).exists():
        number += 1
    return name


def _remembered(memory: Path) -> dict[str, list[str]]:
    try:
        known = json.loads(memory.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return known if isinstance(known, dict) else {}
