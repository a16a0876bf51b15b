"""Opening one home's workbook: pages copied and trusted, a server started, the browser on the first page."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
import webbrowser
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from urllib.request import urlopen

from alarmlib.errors import AlarmProblem
from alarmlib.lab import surroundings, workbook
from alarmlib.lab.place import PagesPlace

PATIENCE_S = 60.0  # how long a server may take to answer before we say that it doesn't

Say = Callable[[str], None]


def prepare(folder: Path, home: Path | None = None) -> Path:
    """Lay out a home's folder: trusted pages without outputs, Jupyter's own folders; returns the folder.

    A home file given as `home` is copied to `home.json`, which is never overwritten.
    Raises AlarmProblem when the folder cannot be written, holds another home, or is the shipped pages' own.
    """
    folder = folder.resolve()
    if folder.is_relative_to(workbook.source().resolve()):
        raise AlarmProblem(f"{folder} holds the workbook's own pages. Open your home in another folder.")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _place_home(folder / "home.json", home)
        surroundings.write_settings(folder)
        memory, data_dir = surroundings.pages_note(folder), surroundings.place(folder, "JUPYTER_DATA_DIR")
        pages = workbook.copy_pages(folder, memory, data_dir)
    except OSError as problem:
        raise AlarmProblem(_plain(folder, problem)) from problem
    if not pages:
        raise AlarmProblem(f"No pages were found in {workbook.source()}; install the workbook again.")
    return folder


def serve(place: PagesPlace, port: int, browser: bool, say: Say | None = None) -> int:
    """Prepare the pages' folder, start JupyterLab for it and wait until it ends; returns the process's exit code.

    `port` is the first one tried. A workbook open already is only shown again. `say` gets single lines.
    Raises AlarmProblem as `prepare` does, and when no server comes up.
    """
    folder, say = place.folder.resolve(), say or _print
    if (address := running(folder)) is not None:
        say(f"This workbook is open already: {address}")
        if browser:
            webbrowser.open(address)
        return 0
    prepare(folder)
    if place.apart:
        say(f"Your home stays in {place.home}. Its pages are in {folder}.")
    log = folder / surroundings.HIDDEN / "server.log"
    with log.open("w", encoding="utf-8") as out:
        server = subprocess.Popen(
            command(port, browser),
            cwd=folder,
            env=surroundings.environment(folder, place.home),
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=out,
        )
    return _attend(server, folder, log, say)


def command(port: int, browser: bool) -> list[str]:
    """The server's command line; the rest of its settings are in the home's own folder."""
    words = [sys.executable, "-m", "jupyterlab", f"--ServerApp.port={port}", "--ServerApp.answer_yes=True"]
    if not browser:
        words.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        words.append("--allow-root")
    return words


def running(folder: Path) -> str | None:
    """The address of the server that shows this folder now, or None; notes of dead servers are removed."""
    for note in surroundings.place(folder, "JUPYTER_RUNTIME_DIR").glob("jpserver-*.json"):
        address = _answering(note)
        if address is not None:
            return address
        note.unlink(missing_ok=True)
    return None


def _attend(server: subprocess.Popen[bytes], folder: Path, log: Path, say: Say) -> int:
    before = signal.signal(signal.SIGTERM, _leave)
    try:
        say(f"The workbook is open: {_await(server, folder, log)}")
        say("If no browser shows it, copy that address into one.")
        say("Leave this window open; Ctrl+C ends the workbook.")
        return server.wait()
    except KeyboardInterrupt:
        say("Ending the workbook. What the forms call saved is in the home's folder.")
        return 0
    finally:
        _end(server)
        signal.signal(signal.SIGTERM, before)


def _await(server: subprocess.Popen[bytes], folder: Path, log: Path) -> str:
    notes = surroundings.place(folder, "JUPYTER_RUNTIME_DIR")
    limit = time.monotonic() + PATIENCE_S
    while time.monotonic() < limit and server.poll() is None:
        for note in notes.glob("jpserver-*.json"):
            if (address := _answering(note)) is not None:
                return address
        time.sleep(0.05)
    last = " / ".join(log.read_text(encoding="utf-8", errors="replace").strip().splitlines()[-3:])
    raise AlarmProblem(f"JupyterLab did not start. Its last words, also in {log}: {last or 'none'}")


def _answering(note: Path) -> str | None:
    """The address in a server's note, if a server answers there to that note's token; a stranger doesn't."""
    try:
        told = json.loads(note.read_text(encoding="utf-8"))
        query = f"?token={told['token']}"
        with urlopen(f"{told['url']}api/status{query}", timeout=2):
            return f"{told['url']}{query}"
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _end(server: subprocess.Popen[bytes]) -> None:
    """Let the server end its kernels; after ten seconds it is ended for it."""
    if server.poll() is not None:
        return
    server.terminate()
    try:
        server.wait(10)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


def _leave(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _place_home(target: Path, home: Path | None) -> None:
    if home is None or home.resolve() == target:
        return
    if target.exists():
        if target.read_bytes() != home.read_bytes():
            raise AlarmProblem(f"{target} is another home and is kept; choose another folder for {home}.")
        return
    shutil.copyfile(home, target)
    from alarmlib.store.kept_proofs import take_along

    take_along(home, target)


def _plain(folder: Path, problem: OSError) -> str:
    what = f"{problem.filename or folder} cannot be read or written ({problem.strerror or problem})"
    return f"{what}; choose a folder that you may write to, with space left."


def _print(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()
