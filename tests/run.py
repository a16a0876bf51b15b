"""The other command: makes the environment, gets what the tests need, runs them all and prints one closing line.

    python3 tests/run.py [--whole] [--only STAGE] [-k WORDS] [--coverage] [--refresh-pages]

Standard library only. Exits with 0 only when everything ran and passed: a missing tool, an empty stage and a
skipped test are failures. `ruff check`, `ruff format --check` and `mypy` count as one check each.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "workbook"))

import start  # noqa: E402 - it lies beside the pages

LIMIT_S = 40 * 60.0  # a stage that takes longer is stuck
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
PDF_READERS = ("pdfinfo", "pdftotext")
VERIFIER = ("spin", "gcc", "libc6-dev")  # Debian's packages: SPIN, and what compiles the verifiers that it writes
CIRCUITS = "ngspice"  # Debian's package: solves circuits
# Test folders that are stages of their own
APART = ("browser", "packaging", "notebooks", "outside", "benchmarks", "js")
STAGES = ("ruff", "mypy", "js", "unit", "notebooks", "packaging", "browser", "outside", "benchmarks")
COVERED = ["--cov=alarmlib", "--cov-report=term:skip-covered"]  # the lines that no test ran, and the whole share
NEED_CHROMIUM = ("packaging", "browser")
NEED_VERIFIER = ("outside", "benchmarks")


class Count(NamedTuple):
    """How many checks ended how."""

    failed: int = 0
    passed: int = 0
    skipped: int = 0

    def __str__(self) -> str:
        told = [f"{number} {word}" for word, number in self._asdict().items() if number]
        return ", ".join(told) or "nothing ran"


def main(words: list[str] | None = None) -> int:
    """Run the stages; 0 when all passed, 1 when any did not, 2 when something is missing."""
    options = arguments(words)
    begun = time.monotonic()
    try:
        start.check_python(sys.version_info[:2])
        python = start.environment(ROOT, extras=("test",), wheels=None)
        if options.refresh_pages:
            return subprocess.call([str(python), "-m", "alarmlib.pages.refresh"], cwd=ROOT)
        stages = (options.only,) if options.only else STAGES
        browser = chromium() if set(stages) & set(NEED_CHROMIUM) else ""
        if set(stages) & set(NEED_VERIFIER):
            verifier()
        if "outside" in stages:
            circuits()
        with tempfile.TemporaryDirectory(prefix="alarm-tests-") as scratch:
            surround = surroundings(Path(scratch), browser, options.whole)
            counts = [run(stage, python, options, Path(scratch), surround) for stage in stages]
    except start.StartProblem as problem:
        print(problem, file=sys.stderr)
        return 2
    total = Count(*(sum(column) for column in zip(*counts, strict=True)))
    if total.skipped:
        print("A skipped test is a test that did not run: this counts as a failure.")
    print(f"{total} in {time.monotonic() - begun:.2f}s", flush=True)
    return 0 if total.passed and not total.failed and not total.skipped else 1


def arguments(words: list[str] | None) -> argparse.Namespace:
    """The options as given."""
    parser = argparse.ArgumentParser(prog="run.py", description="Run every test of the workbook.")
    parser.add_argument("--whole", action="store_true", help="run the full counts instead of the fixed samples")
    parser.add_argument("--only", choices=STAGES, metavar="STAGE", help=f"one stage of: {', '.join(STAGES)}")
    parser.add_argument("-k", default="", metavar="WORDS", help="only tests whose names match, as pytest reads it")
    parser.add_argument("--coverage", action="store_true", help="print how much of the library the unit stage runs")
    parser.add_argument("--refresh-pages", action="store_true", help="rewrite the outputs stored in the pages")
    return parser.parse_args(words)


def chromium() -> str:
    """The browser's path; Debian's packages are installed when it, or what reads its PDFs, is missing and we may."""
    found = os.environ.get("ALARM_CHROMIUM") or first_on_path()
    readers = all(map(shutil.which, PDF_READERS))
    if not (found and readers):
        install(*(() if found else ("chromium", "fonts-dejavu-core")), *(() if readers else ("poppler-utils",)))
    found = found or first_on_path()
    if not found:
        raise start.StartProblem(
            "The browser tests need Chromium. On Debian: sudo apt install chromium;"
            " elsewhere install it and name its program in ALARM_CHROMIUM."
        )
    if not all(map(shutil.which, PDF_READERS)):
        raise start.StartProblem("The print tests need pdfinfo and pdftotext. Debian: sudo apt install poppler-utils.")
    return found


def verifier() -> None:
    """SPIN and a compiler; Debian's packages are installed when they are missing and we may."""
    if not verifies():
        install(*VERIFIER)
    if not verifies():
        raise start.StartProblem(f"The outside tests need SPIN and gcc. Debian: sudo apt install {' '.join(VERIFIER)}.")


def circuits() -> None:
    """ngspice; Debian's package is installed when it is missing and we may."""
    if not shutil.which(CIRCUITS):
        install(CIRCUITS)
    if not shutil.which(CIRCUITS):
        raise start.StartProblem(f"The outside tests need {CIRCUITS}. Debian: sudo apt install {CIRCUITS}.")


def verifies() -> bool:
    """Whether SPIN is there, and gcc with the headers of C."""
    if not (shutil.which("spin") and shutil.which("gcc")):
        return False
    words = ["gcc", "-fsyntax-only", "-x", "c", "-"]
    return subprocess.run(words, input=b"#include <stdio.h>\n", capture_output=True, check=False).returncode == 0


def install(*packages: str) -> None:
    """Debian's packages, when this is Debian and we are its administrator; what is missing is listed afterwards."""
    if not (hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get")):
        return
    start.say(f"Getting {', '.join(packages)} for the tests ...")
    surround = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for words in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", *packages]):
        subprocess.run(["apt-get", *words], env=surround, stdout=subprocess.DEVNULL, check=False)


def first_on_path() -> str | None:
    """The first Chromium that the shell would find."""
    return next(filter(None, map(shutil.which, CHROMIUM_NAMES)), None)


def surroundings(scratch: Path, browser: str, whole: bool) -> dict[str, str]:
    """The environment of the tests: Jupyter's folders in the scratch folder, so that nobody's own are touched."""
    kept = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")
    own = {name: str(scratch / name.lower()) for name in kept}
    plugin = os.pathsep.join(filter(None, [str(ROOT / "tests" / "notebooks"), os.environ.get("PYTHONPATH")]))
    own |= {"PYTHONPATH": plugin, "ALARM_CHROMIUM": browser, "PYTHONUTF8": "1"}
    own |= {"COVERAGE_FILE": str(scratch / "coverage")}  # written with --coverage only
    return {**os.environ, **own, **({"ALARM_WHOLE": "1"} if whole else {})}


def run(stage: str, python: Path, options: argparse.Namespace, scratch: Path, surround: dict[str, str]) -> Count:
    """One stage, its time and how its checks ended."""
    start.say(f"\n=== {stage} ===")
    begun, report = time.monotonic(), scratch / f"{stage}.xml"
    tested = ["-q", "-rfEs", "--durations=10", f"--junitxml={report}", *(["-k", options.k] if options.k else [])]
    tested += COVERED if options.coverage and stage == "unit" else []
    commands = [[str(python), "-m", *words, *(tested if "pytest" in words else [])] for words in words_for(stage)]
    codes = [call(command, surround) for command in commands]
    passed = codes.count(0)
    count = read_report(report, codes[0], options.k) if "pytest" in commands[0] else Count(len(codes) - passed, passed)
    start.say(f"=== {stage}: {count} in {time.monotonic() - begun:.1f} s ===")
    return count


def words_for(stage: str) -> list[list[str]]:
    """What Python is asked to run for a stage, one after the other; a run of pytest is alone."""
    pages = [str(path) for path in sorted((ROOT / "workbook").rglob("*.ipynb"))]
    workers = ["-n", str(max(2, os.cpu_count() or 2))]
    return {
        "ruff": [["ruff", "check", "."], ["ruff", "format", "--check", "."]],
        "mypy": [["mypy"]],
        "js": [["pytest", "tests/js"]],
        "unit": [["pytest", "tests", *workers, *(f"--ignore=tests/{name}" for name in APART)]],
        "notebooks": [
            ["pytest", "-p", "fresh_home", "--nbval", *workers, "--dist=loadscope", "tests/notebooks", *pages]
        ],
        "packaging": [["pytest", "tests/packaging"]],
        "browser": [["pytest", "tests/browser", "-n", "2", "--dist=loadfile"]],
        "outside": [["pytest", "tests/outside", *workers]],
        "benchmarks": [["pytest", "tests/benchmarks"]],
    }[stage]


def call(command: list[str], surround: dict[str, str]) -> int:
    """Run a command in the project's folder; one that is stuck is ended and has failed."""
    try:
        return subprocess.run(command, cwd=ROOT, env=surround, timeout=LIMIT_S, check=False).returncode
    except subprocess.TimeoutExpired:
        start.say(f"Ended after {LIMIT_S:.0f} s without a result.")
        return 1


def read_report(report: Path, code: int, names: str) -> Count:
    """The counts of a pytest run; one that broke, or ran nothing without being asked to, has failed."""
    if code == 5 and names:
        return Count()
    try:
        suites = list(ElementTree.parse(report).iter("testsuite"))
    except (OSError, ElementTree.ParseError):
        return Count(failed=1)
    total, failures, errors, skipped = (
        sum(int(suite.get(word, "0")) for suite in suites) for word in ("tests", "failures", "errors", "skipped")
    )
    failed = failures + errors
    return Count(max(failed, int(code != 0)), max(0, total - failed - skipped), skipped)


if __name__ == "__main__":
    sys.exit(main())
