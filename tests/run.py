"""The other command: makes the environment, gets what the tests need, runs them all and prints one closing line.

    python3 tests/run.py [--whole] [--only STAGE] [-k WORDS] [--coverage] [--refresh-pages] [--lowest] [--each-python]

Standard library only. Exits with 0 only when everything ran and passed: a missing tool, an empty stage and a
skipped test are failures. `ruff check`, `ruff format --check`, `mypy` and the audit count as one check each. The audit
needs public lists of known holes. Where none can be had, as on a computer without internet, the closing lines say so
and nothing is counted: a hole found tomorrow does not make today's work wrong. Asked for alone, it then fails.
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
STAGES = ("ruff", "mypy", "js", "unit", "notebooks", "packaging", "audit", "browser", "outside", "benchmarks")
PYTHONS = ("3.11", "3.12", "3.13")  # those that the workbook promises to run on
NOT_HAD = 3  # how tests/audit.py ends when no list of known holes answers
COVERED = ["--cov=alarmlib", "--cov-report=term:skip-covered"]  # the lines that no test ran, and the whole share
# A module's tests stay with one worker, so that what they share is worked out once; the short modules come last
TOGETHER = ("--dist=loadscope", "--no-loadscope-reorder")
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


NO_AUDIT = ("audit", Count())
AUDIT_NOTE = "Known holes in the installed parts were NOT looked up: no list of them could be had (stage audit)."


def main(words: list[str] | None = None) -> int:
    """Run the stages; 0 when all passed, 1 when any did not, 2 when something is missing."""
    options = arguments(words)
    begun, notes = time.monotonic(), list[str]()
    try:
        start.check_python(sys.version_info[:2])
        python = start.environment(ROOT, extras=("test",), wheels=None)
        if options.refresh_pages:
            steps = ("alarmlib.pages.refresh", "alarmlib.lab.listed_pages")
            return max(subprocess.call([str(python), "-m", step], cwd=ROOT) for step in steps)
        stages = stages_of(options)
        browser = chromium() if set(stages) & set(NEED_CHROMIUM) else ""
        if set(stages) & set(NEED_VERIFIER):
            verifier()
        if "outside" in stages:
            circuits()
        with tempfile.TemporaryDirectory(prefix="alarm-tests-") as scratch:
            surround = surroundings(Path(scratch), browser, options.whole)
            if options.lowest or options.each_python:
                counts, notes = elsewhere(python, options, Path(scratch), surround)
            else:
                counts = [run(stage, python, options, Path(scratch), surround) for stage in stages]
                notes = [AUDIT_NOTE for stage, count in zip(stages, counts, strict=True) if (stage, count) == NO_AUDIT]
    except start.StartProblem as problem:
        print(problem, file=sys.stderr)
        return 2
    print(*notes, sep="\n", end="\n" if notes else "")
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
    parser.add_argument("--lowest", action="store_true", help="only the unit stage, on the oldest allowed parts")
    parser.add_argument("--each-python", action="store_true", help=f"only the unit stage, on {', '.join(PYTHONS)}")
    options = parser.parse_args(words)
    if (options.lowest or options.each_python) and options.only not in (None, "unit"):
        parser.error("--lowest and --each-python run the unit stage")
    return options


def stages_of(options: argparse.Namespace) -> tuple[str, ...]:
    """The stages that were asked for."""
    if options.lowest or options.each_python:
        return ("unit",)
    return (options.only,) if options.only else STAGES


def elsewhere(
    python: Path, options: argparse.Namespace, scratch: Path, surround: dict[str, str]
) -> tuple[list[Count], list[str]]:
    """The unit stage in environments of their own; a Python that is not here is read by mypy, and said."""
    counts, notes = list[Count](), list[str]()
    if options.lowest:
        oldest = other_environment(python, sys.executable, "lowest", ["--resolution", "lowest-direct"])
        counts.append(run("unit", oldest, options, scratch, surround))
    for version in PYTHONS if options.each_python else ():
        found = interpreter(version)
        if found:
            other = other_environment(python, found, version, start.pinned(ROOT))
            counts.append(run("unit", other, options, scratch, surround))
        else:
            code = call([str(python), "-m", "mypy", "--python-version", version], surround)
            counts.append(Count(passed=1) if code == 0 else Count(failed=1))
            notes.append(f"Python {version} is not on this computer: mypy read the code for it, and no test RAN on it.")
    return counts, notes


def interpreter(version: str) -> str | None:
    """A Python of that version: this one, one that the shell finds, or one that pyenv keeps; it must really run."""
    kept = Path(os.environ.get("PYENV_ROOT") or Path.home() / ".pyenv") / "versions"
    names = [sys.executable, shutil.which(f"python{version}"), *sorted(map(str, kept.glob(f"{version}.*/bin/python")))]
    program = f"import sys; sys.exit('%d.%d' % sys.version_info[:2] != '{version}')"
    return next((name for name in filter(None, names) if runs(name, program)), None)


def runs(name: str, program: str) -> bool:
    """Whether that Python is there and the program ends well."""
    try:
        return subprocess.run([name, "-c", program], check=False, capture_output=True).returncode == 0
    except OSError:
        return False


def other_environment(python: Path, base: str, name: str, choosing: list[str]) -> Path:
    """A new environment inside the tests' own, from the Python `base`, its versions chosen as said; its Python."""
    folder = ROOT / start.ENVIRONMENT / "others" / name
    start.say(f"Making an environment in {folder} ...")
    other = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    uv = [str(python), "-m", "uv", "--quiet"]
    made = [*uv, "venv", "--clear", "--python", base, str(folder)]
    filled = [*uv, "pip", "install", "--python", str(other), *choosing, "--editable", f"{ROOT}[test]"]
    for command in (made, filled):
        done = subprocess.run(command, cwd=ROOT, check=False, capture_output=True, text=True)
        if done.returncode:
            raise start.StartProblem(f"The environment {name} could not be made: {start.last_line(done.stderr)}")
    return other


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
    if os.environ.get("PYTHONDONTWRITEBYTECODE"):  # then every worker would compile the whole library again
        own |= {"PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(scratch / "compiled")}
    return {**os.environ, **own, **({"ALARM_WHOLE": "1"} if whole else {})}


def run(stage: str, python: Path, options: argparse.Namespace, scratch: Path, surround: dict[str, str]) -> Count:
    """One stage, its time and how its checks ended."""
    start.say(f"\n=== {stage} ===")
    begun, report = time.monotonic(), scratch / f"{stage}.xml"
    tested = ["-q", "-rfEs", "--durations=10", f"--junitxml={report}", *(["-k", options.k] if options.k else [])]
    tested += COVERED if options.coverage and stage == "unit" else []
    commands = [[str(python), *words, *(tested if "pytest" in words else [])] for words in words_for(stage)]
    codes = [call(command, surround) for command in commands]
    count = read_report(report, codes[0], options.k) if "pytest" in commands[0] else count_codes(stage, codes)
    start.say(f"=== {stage}: {count} in {time.monotonic() - begun:.1f} s ===")
    return count


def count_codes(stage: str, codes: list[int]) -> Count:
    """The checks of a stage without a report; an audit that nobody answered is none."""
    if stage == "audit" and codes == [NOT_HAD]:
        return Count()
    return Count(len(codes) - codes.count(0), codes.count(0))


def words_for(stage: str) -> list[list[str]]:
    """What Python is asked to run for a stage, one after the other; a run of pytest is alone."""
    pages = [str(path) for path in sorted((ROOT / "workbook").rglob("*.ipynb"))]
    workers = ["-n", str(max(2, os.cpu_count() or 2))]
    return {
        "ruff": [["-m", "ruff", "check", "."], ["-m", "ruff", "format", "--check", "."]],
        "mypy": [["-m", "mypy"]],
        "js": [["-m", "pytest", "tests/js"]],
        "unit": [["-m", "pytest", "tests", *workers, *TOGETHER, *(f"--ignore=tests/{name}" for name in APART)]],
        "notebooks": [
            ["-m", "pytest", "-p", "fresh_home", "--nbval", *workers, "--dist=loadscope", "tests/notebooks", *pages]
        ],
        "packaging": [["-m", "pytest", "tests/packaging"]],
        "audit": [["tests/audit.py"]],
        "browser": [["-m", "pytest", "tests/browser", "-n", "2", "--dist=worksteal"]],
        "outside": [["-m", "pytest", "tests/outside", *workers]],
        "benchmarks": [["-m", "pytest", "tests/benchmarks"]],
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
