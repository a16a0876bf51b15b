"""Every benchmark still runs: tiny counts, no judgement of the time."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

RUN = Path(__file__).with_name("run.py")
ROWS = {
    "edit_and_check": 1,
    "quick_findings": 1,
    "moving_device": 2,
    "chance_in_time": 1,
    "zone_assignment": 2,
    "wiring_figures": 3,
    "record_process": 2,
    "starting": 2,
    "headless_pages": 1,
    "page_edit": 2,
    "evening": 1,
    "proof_speed": 4,
    "edit_and_prove": 1,
    "two_movers": 1,
}  # fmt: skip


def test_every_benchmark_is_tried_here() -> None:
    """No module that measures is left out of the runner or of these tests."""
    texts = {path.stem: path.read_text(encoding="utf-8") for path in RUN.parent.glob("*.py")}
    modules = {name for name, text in texts.items() if "\ndef measured(" in text}
    assert modules == set(ROWS)


def test_growth_is_written_and_drawn(tmp_path: Path) -> None:
    """The table has a row for each point, with states and seconds, and the picture its number of states."""
    words = f"import sys; sys.path.insert(0, {str(RUN.parent)!r}); import proof_speed; from pathlib import Path; "
    words += f"proof_speed.write(Path({str(tmp_path)!r}), proof_speed.TINY)"
    subprocess.run([sys.executable, "-c", words], check=True, timeout=120)
    rows = (tmp_path / "growth.csv").read_text(encoding="utf-8").splitlines()[1:]
    picture = (tmp_path / "growth.svg").read_text(encoding="utf-8")
    assert len(rows) == 3
    assert all(float(number) > 0 for row in rows for number in row.split(",")[-3:])
    assert all(f"{int(row.split(',')[-2]):,}" in picture for row in rows)


@pytest.mark.parametrize("name", ROWS)
def test_benchmark_runs(name: str) -> None:
    """Run alone and tiny, it ends well and prints its rows, each with a figure."""
    words = [sys.executable, str(RUN), "--tiny", "--only", name]
    ended = subprocess.run(words, capture_output=True, text=True, encoding="utf-8", timeout=120, check=False)
    assert ended.returncode == 0, ended.stderr
    rows = [line for line in ended.stdout.splitlines() if line.startswith("| ")][1:]
    assert len(rows) == ROWS[name]
    assert all(any(char.isdigit() for char in row.split("|")[2]) for row in rows)


def test_a_search_that_no_page_runs_is_called_so() -> None:
    """The line of the two movers says that the product does not use their search, until a module imports it."""
    ended = subprocess.run(
        [sys.executable, str(RUN), "--tiny", "--only", "two_movers"], capture_output=True, text=True, check=True
    )
    package = Path(__file__).parents[2] / "alarmlib"
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in package.rglob("*.py"))
    imports = (node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ImportFrom))
    used = any(name.name == "saturate" for node in imports for name in node.names)
    (row,) = (line for line in ended.stdout.splitlines() if line.startswith("| two movers"))
    assert ("a search that the product does not use yet" in row) is not used
