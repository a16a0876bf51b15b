"""All pages run without a browser on the demo home, against as many empty pages that import pandas."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from measure import DEMO, ROOT, Effort, Line, seconds_of

from alarmlib.store.kept_proofs import take_along


def measured(effort: Effort) -> Iterator[Line]:
    """Total seconds of both, taken page by page in turn; the slowest page by name."""
    import nbformat

    pages = sorted((ROOT / "workbook").glob("*.ipynb"))[: effort.pages]
    empty = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("import pandas")])
    taken: dict[str, float] = {}
    empty_s = 0.0
    for page in pages:
        taken[page.stem] = seconds_of(lambda page=page: execute(nbformat.read(page, as_version=4)))
        empty_s += seconds_of(lambda: execute(empty))
    slowest = max(taken, key=lambda name: taken[name])
    figures = (
        f"{sum(taken.values()) / empty_s:.2f} times ({sum(taken.values()):.1f} s against {empty_s:.1f} s; "
        f"slowest {slowest} {taken[slowest]:.1f} s)"
    )
    yield Line(f"{len(pages)} pages headless, against as many empty ones that import pandas", figures, "2 times")


def execute(notebook: Any) -> None:
    """Run a page in a folder of its own that holds the demo home. Raises CellExecutionError."""
    from nbclient import NotebookClient

    with tempfile.TemporaryDirectory() as folder:
        shutil.copyfile(DEMO, Path(folder) / "home.json")
        take_along(DEMO, Path(folder) / "home.json")
        NotebookClient(notebook, kernel_name="python3", resources={"metadata": {"path": folder}}).execute()
