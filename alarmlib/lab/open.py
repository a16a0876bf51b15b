"""Opening one home's workbook: pages copied, a server started, the browser on the first page."""

from __future__ import annotations

import html
import json
import os
import secrets
import signal
import socket
import subprocess
import sys
import time
import webbrowser
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from urllib.request import urlopen

from alarmlib.errors import AlarmProblem
from alarmlib.lab import isolated, left_off, surroundings, workbook
from alarmlib.lab.place import PagesPlace
from alarmlib.lab.run_place import end_run, new_run, runs
from alarmlib.store.home_file import read_bytes, replace
from alarmlib.store.modes import HIDDEN, OWN_FOLDER, close_all, make_folder, new_file

PATIENCE_S = 60.0  # how long a server may take to answer before we say that it doesn't

Say = Callable[[str], None]
_SHOWN = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Home alarm workbook</title>
<meta name="referrer" content="no-referrer">
<meta http-equiv="refresh" content="0; url={0}"></head>
<body><p><a href="{0}">Open the workbook</a></p></body></html>
"""


def prepare(folder: Path, home: Path | None = None) -> Path:
    """Lay out a home's folder: pages without outputs, and what is kept beside the home closed to others.

    A home file given as `home` is copied to `home.json`, which is never overwritten. Returns the folder.
    Raises AlarmProblem when the folder cannot be written, holds another home, or is the shipped pages' own.
    """
    folder = folder.resolve()
    if folder.is_relative_to(workbook.source().resolve()):
        raise AlarmProblem(f"{folder} holds the workbook's own pages. Open your home in another folder.")
    try:
        folder.mkdir(mode=OWN_FOLDER, parents=True, exist_ok=True)
        _close(folder / HIDDEN)
        _place_home(folder / "home.json", home)
        pages = workbook.copy_pages(folder, surroundings.pages_note(folder))
    except OSError as problem:
        raise AlarmProblem(_plain(folder, problem)) from problem
    if not pages:
        raise AlarmProblem(f"No pages were found in {workbook.source()}; install the workbook again.")
    return folder


def serve(place: PagesPlace, port: int, browser: bool, say: Say | None = None, tools: bool = False) -> int:
    """Prepare the pages' folder, start JupyterLab for it and wait until it ends; returns the process's exit code.

    `port` is the first one tried. A workbook open already is only shown again, at the page that was left. `say` gets
    single lines; `tools` has pages begin with the notebook's tools in sight.
    Raises AlarmProblem as `prepare` does, and when no server comes up.
    """
    folder, say = place.folder.resolve(), say or _print
    if (address := running(folder)) is not None:
        for run in runs(folder):
            surroundings.begin_with(run, tools)
        say(f"This workbook is open already: {address}")
        if browser:
            show(folder, at_page(address, left_off.page_left(folder)))
        return 0
    prepare(folder)
    if place.apart:
        say(f"Your home stays in {place.home}. Its pages are in {folder}.")
    run = new_run(folder)
    try:
        server = _started(run, place, port)
        surroundings.begin_with(run, tools)
        return _attend(server, run, folder, browser, say)
    finally:
        end_run(run)


def _started(run: Path, place: PagesPlace, port: int) -> subprocess.Popen[bytes]:
    """The server, in a folder that holds nothing of the home's; what it says goes to a log that others cannot read."""
    folder = place.folder.resolve()
    surroundings.write_settings(run, folder, secrets.token_hex(24))
    log = _log(folder)
    log.unlink(missing_ok=True)
    with os.fdopen(new_file(log), "wb") as out:
        return subprocess.Popen(
            command(port),
            cwd=run,
            env=surroundings.environment(run, folder, place.home),
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=out,
        )


def command(port: int) -> list[str]:
    """The server's command line; the rest of its settings are in the run's own folder."""
    words = [f"--ServerApp.port={port}", "--ServerApp.answer_yes=True", "--no-browser"]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        words.append("--allow-root")
    return isolated.command("server", *words)


def running(folder: Path) -> str | None:
    """The address of this user's server that shows this folder now, or None; what dead servers left is taken away."""
    for run in runs(folder):
        for note in surroundings.place(run, "JUPYTER_RUNTIME_DIR").glob("jpserver-*.json"):
            if (address := _answering(note)) is not None:
                return address
            if _is_dead(note):
                end_run(run)
    return None


def at_page(address: str, page: str) -> str:
    """The address of a page of a server whose own address, with its key, is given."""
    base, _, query = address.partition("?")
    return f"{base}doc/tree/{page}?{query}"


def show(folder: Path, address: str) -> None:
    """Show the address in the browser, by a file: what is on a command line all users of the computer can read."""
    page = folder / HIDDEN / "show.html"
    page.unlink(missing_ok=True)
    with os.fdopen(new_file(page), "w", encoding="utf-8") as out:
        out.write(_SHOWN.format(html.escape(address)))
    webbrowser.open(page.as_uri())


def _attend(server: subprocess.Popen[bytes], run: Path, folder: Path, browser: bool, say: Say) -> int:
    before = signal.signal(signal.SIGTERM, _leave)
    try:
        address = _await(server, run, _log(folder))
        say(f"The workbook is open: {address}")
        if browser:
            show(folder, address)
        say("If no browser shows it, copy that address into one.")
        say("Leave this window open; Ctrl+C ends the workbook.")
        return server.wait()
    except KeyboardInterrupt:
        say("Ending the workbook. What the forms call saved is in the home's folder.")
        return 0
    finally:
        _end(server)
        (folder / HIDDEN / "show.html").unlink(missing_ok=True)
        signal.signal(signal.SIGTERM, before)


def _await(server: subprocess.Popen[bytes], run: Path, log: Path) -> str:
    notes = surroundings.place(run, "JUPYTER_RUNTIME_DIR")
    limit = time.monotonic() + PATIENCE_S
    while time.monotonic() < limit and server.poll() is None:
        for note in notes.glob("jpserver-*.json"):
            if (address := _answering(note)) is not None:
                return address
        time.sleep(0.05)
    last = " / ".join(log.read_text(encoding="utf-8", errors="replace").strip().splitlines()[-3:])
    raise AlarmProblem(f"JupyterLab did not start. Its last words, also in {log}: {last or 'none'}")


def _log(folder: Path) -> Path:
    return folder / HIDDEN / "server.log"


def _answering(note: Path) -> str | None:
    """The address in a server's note, if a server answers there to that note's token; a stranger doesn't."""
    try:
        told = json.loads(note.read_text(encoding="utf-8"))
        query = f"?token={told['token']}"
        with urlopen(f"{told['url']}api/status{query}", timeout=2):
            return f"{told['url']}{query}"
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _is_dead(note: Path) -> bool:
    """Whether nothing listens where a server's note says; one that is slow to answer is alive, and needs its folder."""
    try:
        with socket.create_connection(("localhost", json.loads(note.read_text(encoding="utf-8"))["port"]), timeout=2):
            return False
    except TimeoutError:
        return False
    except (OSError, ValueError, KeyError, TypeError):
        return True


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


def _close(hidden: Path) -> None:
    """Close what is kept beside the home to other users; a link to elsewhere is refused."""
    if hidden.is_symlink():
        raise AlarmProblem(f"{hidden} is a link that leads out of the folder. Delete it, then open the folder again.")
    make_folder(hidden)
    close_all(hidden)


def _place_home(target: Path, home: Path | None) -> None:
    if home is None or home.resolve() == target:
        return
    if target.exists():
        if target.read_bytes() != home.read_bytes():
            raise AlarmProblem(f"{target} is another home and is kept; choose another folder for {home}.")
        return
    replace(target, read_bytes(home))
    from alarmlib.store.kept_proofs import take_along

    take_along(home, target)


def _plain(folder: Path, problem: OSError) -> str:
    what = f"{problem.filename or folder} cannot be read or written ({problem.strerror or problem})"
    return f"{what}; choose a folder that you may write to, with space left."


def _print(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()
