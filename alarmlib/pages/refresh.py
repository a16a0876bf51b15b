"""Rewrite what is stored of the demo homes: their proofs, and the outputs of the pages' check cells.

The pages' outputs are of the home as first planned: it has something to say on each page.
All other cells stay bare. `python -m alarmlib.pages.refresh`, in a checkout; nobody edits what is stored by hand.
"""

import os
import shutil
import sys
import tempfile
from pathlib import Path
from typing import Any

from alarmlib.proof.report.verdicts import Proof
from alarmlib.record.produce import DEMO, FINISHED, demo_home, workbook_folder
from alarmlib.store.kept_proofs import content_of, kept, kept_file, take_along


def prove_demo(name: str = DEMO) -> Proof:
    """Prove a demo home and keep the result beside it, unless what is kept says the same."""
    from alarmlib.proof.prove import prove

    place, home = workbook_folder() / name, demo_home(name)
    proof = prove(home, "single")
    before = kept(place, home)
    if not (before.fresh and before.proof == proof):
        kept_file(place).write_bytes(content_of(home, proof))  # a file of the checkout: no lock is left beside it
    return proof


def refreshed(page: Path) -> Any:
    """The page with the outputs of its check cells as the demo home gives them."""
    import nbformat
    from nbclient import NotebookClient

    notebook = nbformat.read(page, as_version=4)
    with tempfile.TemporaryDirectory() as folder:
        shutil.copyfile(workbook_folder() / DEMO, Path(folder) / "home.json")
        take_along(workbook_folder() / DEMO, Path(folder) / "home.json")
        os.environ["ALARM_HOME"] = str(Path(folder) / "home.json")
        NotebookClient(notebook, kernel_name="python3", resources={"metadata": {"path": folder}}).execute()
    for number, cell in enumerate(notebook.cells, 1):
        cell.metadata.pop("execution", None)
        if cell.cell_type == "code" and "check" in cell.metadata.get("tags", []):
            cell.execution_count = number
            for output in cell.outputs:
                if output.output_type == "execute_result":
                    output.execution_count = number
                output.get("data", {}).pop("application/vnd.jupyter.widget-view+json", None)
        elif cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    notebook.metadata.pop("widgets", None)
    return notebook


def main() -> int:
    """Refresh the kept proofs and every page in the workbook folder of this checkout."""
    import nbformat

    for name in (DEMO, FINISHED):
        prove_demo(name)
    for page in sorted(workbook_folder().glob("*.ipynb")):
        text = nbformat.writes(refreshed(page))
        page.write_text(text + "\n", encoding="utf-8", newline="\n")
        sys.stderr.write(f"{page.name}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
