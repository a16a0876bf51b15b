"""Seconds until work can begin: importing the library, and the server of a workbook that was opened before."""

import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from measure import DEMO, Effort, Line, side_by_side, whole_process


def measured(effort: Effort) -> Iterator[Line]:
    """Seconds above bare Python, and from the command to the server's answer at the second start."""
    loaded, bare = side_by_side(
        lambda: whole_process(["-c", "import alarmlib"]).seconds,
        lambda: whole_process(["-c", "pass"]).seconds,
        effort.imports,
    )
    yield Line("import alarmlib over bare Python", f"{loaded - bare:.3f} s (bare {bare:.3f} s)", "0.2 s")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "home"
        first_s = until_answer(folder)
        second_s = min(until_answer(folder) for _ in range(effort.runs))
    figures = f"{second_s:.2f} s, best of {effort.runs} (the first start {first_s:.2f} s)"
    yield Line("second start until the server answers", figures, "2.5 s")


def until_answer(folder: Path) -> float:
    """Seconds from the command until the library says that its server answers; then the server is ended."""
    folder.mkdir(exist_ok=True)
    (folder / "home.json").write_bytes(DEMO.read_bytes())
    words = [sys.executable, "-m", "alarmlib", "open", str(folder), "--no-browser"]
    begun = time.perf_counter()
    command = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert command.stdout is not None
    try:
        told = command.stdout.readline()
        if "is open: http" not in told:
            raise RuntimeError(f"The workbook did not open: {told.strip()}")
        return time.perf_counter() - begun
    finally:
        command.terminate()
        command.wait(30)
