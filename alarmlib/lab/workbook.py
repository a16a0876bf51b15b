"""Where the pages stand in this installation, and how a home's folder gets its own copies of them."""

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


def stripped(page: Any) -> Any:
    """The notebook without anything that a run leaves behind; changed in place and handed back."""
    for cell in page.cells:
        cell.metadata.pop("execution", None)
        cell.metadata.pop("trusted", None)
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    page.metadata.pop("widgets", None)
    return page


def copy_pages(folder: Path, memory: Path) -> list[Path]:
    """Write pages, without outputs, and pictures into `folder`; a page that its reader changed is kept aside.

    `memory` is the file that remembers, by page, the fingerprint of what was written last.
    """
    known: dict[str, str] = _remembered(memory)
    targets = [_copy_page(page, folder, known) for page in page_files()]
    memory.write_text(json.dumps(known, indent=1, sort_keys=True) + "\n", encoding="utf-8", newline="\n")
    pictures = source() / PICTURES
    if pictures.is_dir():
        shutil.copytree(pictures, folder / PICTURES, dirs_exist_ok=True)
    return targets


def trust(pages: Iterable[Path], data_dir: Path) -> None:
    """Sign the pages in that Jupyter data folder, so that a server using it shows and runs them."""
    import nbformat
    from nbformat.sign import NotebookNotary

    with NotebookNotary(data_dir=str(data_dir)) as notary:
        for page in pages:
            notary.sign(nbformat.read(page, as_version=4))


def _copy_page(page: Path, folder: Path, known: dict[str, str]) -> Path:
    import nbformat

    target = folder / page.name
    fresh = stripped(nbformat.read(page, as_version=4))
    if target.exists() and _fingerprint(target) not in (known.get(page.name), _fingerprint(page)):
        target.replace(_free_name(target))
    text = nbformat.writes(fresh) + "\n"
    if not target.exists() or target.read_text(encoding="utf-8") != text:
        target.write_text(text, encoding="utf-8", newline="\n")
    known[page.name] = _fingerprint(target)
    return target


def _fingerprint(page: Path) -> str:
    """A hash of the cells' own text, whatever a run has left in them; empty for a page that can't be read."""
    try:
        cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
        texts = [(cell["cell_type"], "".join(cell["source"])) for cell in cells]
    except (ValueError, KeyError, TypeError):
        return ""
    return hashlib.sha256(json.dumps(texts).encode()).hexdigest()


def _free_name(target: Path) -> Path:
    number = 1
    while (name := target.with_name(f"{target.stem}_changed_{number}{target.suffix}")).exists():
        number += 1
    return name


def _remembered(memory: Path) -> dict[str, str]:
    try:
        known = json.loads(memory.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return known if isinstance(known, dict) else {}
