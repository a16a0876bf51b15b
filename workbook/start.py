"""The one command: makes the environment, writes the demo home's record and opens the workbook.

    python3 workbook/start.py [--folder FOLDER] [--port N] [--no-browser] [--notebook-tools] [--headless]
                              [--offline WHEELS]

Standard library only, and written so that an old Python can read it far enough to be told that it is too old.
"""

from __future__ import annotations

import argparse
import errno
import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import BinaryIO

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parents[1]
ENVIRONMENT = ".venv"
MARK = "alarm-workbook.json"  # inside the environment: what was installed, and for which project file
LOG = "alarm-workbook.log"  # inside the environment: what the installer said
PINS = "constraints.txt"  # beside the project file: the one version of each part that the tests ran with
EVERY_S = 15.0  # how often a long step says that it is still at it

# What an installer's words mean for the person: any of these words in its log, and the sentence for it.
MEANINGS = (
    (("No space left", "os error 28", "Errno 28"), "The disk is full. Free about 1 GB and start again."),
    (
        ("Permission denied", "Read-only file system", "Errno 13", "Errno 30"),
        "The folder {root} cannot be written. Copy the project to a folder of your own and start again.",
    ),
    (
        (
            "No matching distribution",
            "Could not find a version",
            "No solution found",
            "ConnectionError",
            "Failed to establish",
            "name resolution",
            "getaddrinfo",
            "dns error",
            "error sending request",
            "timed out",
            "ProxyError",
            "SSLError",
        ),
        "The parts could not be fetched. Is this computer online? Without internet use --offline WHEELS.",
    ),
)
MISSING_WHEEL = "A part is missing in the folder of wheels {wheels}. Collect them again with: {collect}"


class StartProblem(Exception):  # noqa: N818
    """Something that the person must know, as one plain sentence."""


def main(words: list[str] | None = None) -> int:
    """Run the command; 0 when all went well, 2 with one sentence when something is missing."""
    options = arguments(words)
    try:
        check_python(sys.version_info[:2])
        python = environment(ROOT, extras=(), wheels=options.offline)
        record = demo_record(python, options.folder)
        say(f"The demo home's finished record: {record}")
        if options.headless:
            return 0
        return open_workbook(python, options)
    except StartProblem as problem:
        print(problem, file=sys.stderr)
    except OSError as problem:
        print(disk_sentence(problem), file=sys.stderr)
    except KeyboardInterrupt:
        print("Stopped. Start again at any time; what is done stays done.", file=sys.stderr)
    return 2


def arguments(words: list[str] | None) -> argparse.Namespace:
    """The options as given, paths made whole; argparse ends the program with 2 on a wrong one."""
    parser = argparse.ArgumentParser(prog="start.py", description="Open the home alarm workbook.")
    parser.add_argument("--folder", type=Path, default=ROOT / "my-home", help="where your home is kept (my-home)")
    parser.add_argument("--port", type=port, default=8888, help="the first port to try (8888)")
    parser.add_argument("--no-browser", action="store_true", help="only print the address")
    parser.add_argument("--notebook-tools", action="store_true", help="begin with Jupyter's own menus in sight")
    parser.add_argument("--headless", action="store_true", help="stop after the demo record is written")
    parser.add_argument("--offline", type=Path, metavar="WHEELS", help="take all parts from this folder")
    options = parser.parse_args(words)
    options.folder = options.folder.expanduser().resolve()
    return options


def port(word: str) -> int:
    """A port number that a person may use."""
    if not word.isdigit() or not 1024 <= int(word) <= 65535:
        raise argparse.ArgumentTypeError(f"{word} is no port; give a number from 1024 to 65535")
    return int(word)


def check_python(version: tuple[int, ...]) -> None:
    """Refuse a Python that is too old, in words."""
    if tuple(version) < OLDEST:
        found, needed = ".".join(map(str, version)), ".".join(map(str, OLDEST))
        raise StartProblem(f"This is Python {found}; the workbook needs {needed} or newer. Install it and start again.")


def environment(root: Path, extras: tuple[str, ...], wheels: Path | None) -> Path:
    """The Python of the project's own environment, made or brought up to date only when something moved."""
    if not (root / "pyproject.toml").is_file():
        raise StartProblem(
            "start.py works in the project's folder; an installed one opens with: python -m alarmlib open"
        )
    if wheels is not None and not any(wheels.glob("*.whl")):
        raise StartProblem(
            f"There are no wheels in {wheels}. Collect them where there is internet with: {collect(root)}"
        )
    folder = root / ENVIRONMENT
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    installed, with_extras = read_mark(folder)
    wanted = sorted({*extras, *with_extras})
    if python.exists() and installed == fingerprint(root) and wanted == with_extras:
        return python
    if not works(python):
        make_venv(folder)
    install(root, python, wanted, wheels)
    mark = {"fingerprint": fingerprint(root), "extras": wanted}
    (folder / MARK).write_text(json.dumps(mark), encoding="utf-8")
    return python


def fingerprint(root: Path) -> str:
    """A hash of all that an installed environment depends on: project file, pins, page-drawing extension, Python."""
    extension = sorted((root / "alarmlib" / "lab" / "extension").rglob("*"))
    files = [root / "pyproject.toml", root / PINS, root / ENVIRONMENT / "pyvenv.cfg", *extension]
    return digest(str(root).encode(), *(path.read_bytes() for path in files if path.is_file()))


def digest(*parts: bytes) -> str:
    """One hash of several byte strings in order."""
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def read_mark(folder: Path) -> tuple[str, list[str]]:
    """The fingerprint and the extras of what was installed last; empty when that is not known."""
    try:
        mark = json.loads((folder / MARK).read_text(encoding="utf-8"))
        return str(mark["fingerprint"]), sorted(map(str, mark["extras"]))
    except (OSError, ValueError, KeyError, TypeError):
        return "", []


def works(python: Path) -> bool:
    """Whether that Python runs and is new enough."""
    program = f"import sys; sys.exit(sys.version_info[:2] < {OLDEST})"
    try:
        return subprocess.run([str(python), "-c", program], check=False, capture_output=True).returncode == 0
    except OSError:
        return False


def make_venv(folder: Path) -> None:
    """Make an empty environment, with uv when it is there, else with Python's own venv."""
    say(f"Making the workbook's own environment in {folder} ...")
    uv = shutil.which("uv")
    made = [uv, "venv", "--quiet", "--seed", "--clear", "--python", sys.executable] if uv else None
    command = [*(made or [sys.executable, "-m", "venv", "--clear"]), str(folder)]
    done = subprocess.run(command, check=False, capture_output=True, text=True)
    if done.returncode == 0:
        return
    words = done.stdout + done.stderr
    if "ensurepip" in words or "No module named venv" in words:
        raise StartProblem(
            "This Python comes without venv or ensurepip. On Debian and Ubuntu: sudo apt install python3-venv;"
            " elsewhere install Python from its own download. Then start again."
        )
    raise StartProblem(meaning(words, folder.parent, None) or f"No environment could be made: {last_line(words)}")


def install(root: Path, python: Path, extras: list[str], wheels: Path | None) -> None:
    """Install the project, editable, with its parts; a failure is told in words and the log is kept."""
    say("Getting the parts of the workbook: about 600 MB, some minutes on a home line, only the first time ...")
    what = ["--editable", f"{root}[{','.join(extras)}]" if extras else str(root)]
    where = ["--no-index", "--find-links", str(wheels.resolve())] if wheels else []
    uv = shutil.which("uv")
    tool = [uv, "pip", "install", "--python", str(python)] if uv else [str(python), "-m", "pip", "install"]
    log = root / ENVIRONMENT / LOG
    with log.open("wb") as out:
        code = patiently([*tool, *pinned(root), *where, *what], out)
    if code:
        words = log.read_text(encoding="utf-8", errors="replace")
        sentence = meaning(words, root, wheels) or f"The parts could not be installed: {last_line(words)}"
        raise StartProblem(f"{sentence} (The installer's own words: {log})")


def pinned(root: Path) -> list[str]:
    """The words that hold an installer to the pins; none in a project without them, where the ranges alone count."""
    return ["--constraint", str(root / PINS)] if (root / PINS).is_file() else []


def patiently(command: list[str], out: BinaryIO) -> int:
    """Run a long command into a log, and say now and then that it is still at work."""
    begun = told = time.monotonic()
    process = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT)
    while process.poll() is None:
        time.sleep(0.1)
        if time.monotonic() - told > EVERY_S:
            told = time.monotonic()
            say(f"  still at it, {told - begun:.0f} s ...")
    return process.returncode


def meaning(words: str, root: Path, wheels: Path | None) -> str:
    """What an installer's log means for the person, or nothing when it says nothing that we know."""
    for signs, sentence in MEANINGS:
        if any(sign in words for sign in signs):
            told = MISSING_WHEEL if wheels and sentence == MEANINGS[-1][1] else sentence
            return told.format(root=root, wheels=wheels, collect=collect(root))
    return ""


def collect(root: Path) -> str:
    """The command that fills a folder of wheels for --offline, on a computer of the same kind with internet."""
    held = f' --constraint "{root / PINS}"' if pinned(root) else ""
    return f'python3 -m pip wheel --wheel-dir WHEELS{held} "{root}" "hatchling<2" editables'


def last_line(words: str) -> str:
    """The last line that a program printed."""
    lines = [line for line in words.splitlines() if line.strip()]
    return lines[-1].strip() if lines else "it said nothing"


def demo_record(python: Path, folder: Path) -> Path:
    """The finished demo home's record in `folder`, written again when the demo home or the library moved."""
    record, mark = folder / "demo-record.html", folder / ".workbook" / "demo-record.txt"
    demo = ROOT / "workbook" / "demo_home_finished.json"  # as it is today; demo_home.json is its first plan
    proof = demo.with_suffix(".proof.json")  # the record tells it; worked out by `alarmlib.pages.refresh`
    library = sorted(path for path in (ROOT / "alarmlib").rglob("*") if path.suffix not in (".pyc", ""))
    wanted = digest(*(path.read_bytes() for path in (demo, proof, *library) if path.is_file()))
    if record.is_file() and mark.is_file() and mark.read_text(encoding="utf-8") == wanted:
        return record
    say("Writing the demo home's finished record ...")
    for place in (folder, mark.parent):
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
    words = ["-P", "-m", "alarmlib", "record", str(demo), "--out", str(record), "--copy", "owner"]
    done = subprocess.run([str(python), *words], check=False, capture_output=True, text=True)
    if done.returncode not in (0, 1) or not record.is_file():
        raise StartProblem(f"The demo home's record could not be written: {last_line(done.stderr)}")
    mark.write_text(wanted, encoding="utf-8")
    return record


def open_workbook(python: Path, options: argparse.Namespace) -> int:
    """Hand over to the library, which copies the pages into the folder and starts the server."""
    say("Opening the workbook ...")
    words = ["-P", "-m", "alarmlib", "open", str(options.folder), "--port", str(options.port)]
    switches = (("--no-browser", options.no_browser), ("--notebook-tools", options.notebook_tools))
    command = [str(python), *words, *(name for name, wanted in switches if wanted)]
    if os.name != "nt":
        os.execv(command[0], command)
    return subprocess.call(command)


def disk_sentence(problem: OSError) -> str:
    """A failed read or write, in words."""
    place = problem.filename or ROOT
    if problem.errno == errno.ENOSPC:
        return f"The disk is full: {place} could not be written. Free about 1 GB and start again."
    reason = problem.strerror or str(problem)
    return f"{place} cannot be read or written ({reason}). Use a folder of your own, or name one with --folder."


def say(line: str) -> None:
    """One line of progress, at once."""
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main())
