"""What every benchmark shares: how much to do, a line of the table, and the timing of calls and whole processes."""

import importlib.util
import math
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "workbook" / "demo_home.json"


@dataclass(frozen=True)
class Effort:
    """How often each measurement is repeated; `FULL` is what the figures are quoted from."""

    edits: int
    page_edits: int
    evenings: int
    samplings: int
    random_homes: int
    limit_s: float
    runs: int
    imports: int
    pages: int


FULL = Effort(
    edits=100, page_edits=40, evenings=20_000, samplings=20, random_homes=50, limit_s=10, runs=3, imports=15, pages=99
)
QUICK = Effort(
    edits=100, page_edits=12, evenings=5_000, samplings=5, random_homes=5, limit_s=10, runs=1, imports=5, pages=99
)
TINY = Effort(edits=4, page_edits=3, evenings=50, samplings=1, random_homes=1, limit_s=1, runs=1, imports=1, pages=1)


@dataclass(frozen=True)
class Line:
    """One row of the table, all three as text."""

    what: str
    measured: str
    target: str


@dataclass(frozen=True)
class Process:
    """How one whole process went; `peak_mb` is None where the system does not tell."""

    seconds: float
    peak_mb: float | None


def seconds_of(call: Callable[[], object]) -> float:
    """How long one call takes."""
    begun = time.perf_counter()
    call()
    return time.perf_counter() - begun


def percentile(values: Sequence[float], share: float) -> float:
    """The smallest of the values that at least this share of them does not pass."""
    return sorted(values)[max(0, math.ceil(share * len(values)) - 1)]


def whole_process(words: Sequence[str], allowed: Sequence[int] = (0,), folder: Path = ROOT) -> Process:
    """Run Python with these words from start to end. Raises RuntimeError when it ends badly."""
    begun = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, *words], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    peak_mb = None
    if hasattr(os, "wait4"):
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        peak_mb = used.ru_maxrss / (1e6 if sys.platform == "darwin" else 1e3)
    seconds, code = time.perf_counter() - begun, process.wait()
    if code not in allowed:
        raise RuntimeError(f"{' '.join(words)} ended with {code}")
    return Process(seconds, peak_mb)


def side_by_side(one: Callable[[], float], other: Callable[[], float], runs: int) -> tuple[float, float]:
    """Medians of two timings taken in turn, so that a busy machine slows both alike."""
    pairs = [(one(), other()) for _ in range(runs)]
    return statistics.median(pair[0] for pair in pairs), statistics.median(pair[1] for pair in pairs)


def load() -> str:
    """How busy the machine is, where the system tells."""
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"


def test_module(path: str) -> ModuleType:
    """A test module by its path under tests, for the model or the homes that it holds."""
    spec = importlib.util.spec_from_file_location(Path(path).stem, ROOT / "tests" / path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
