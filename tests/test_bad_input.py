"""What the command line is given wrongly, and what stops it: one sentence each, and the exit code that says so."""

import importlib
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from alarmlib.__main__ import main
from alarmlib.errors import AlarmProblem
from alarmlib.lab import open as lab_open
from alarmlib.lab import workbook
from alarmlib.store import load

ROOT = Path(__file__).parents[1]
DEMO = ROOT / "workbook" / "demo_home.json"
SURROUND = os.environ | {"PYTHONPATH": str(ROOT)}
COMMAND = [sys.executable, "-m", "alarmlib"]
COMMANDS: dict[str, list[str]] = {
    "check": ["check"],
    "prove": ["prove"],
    "record": ["record", "--copy", "owner", "--out", "never.html"],
    "open": ["open", "--no-browser"],
}
Said = Callable[[list[str], int], str]


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No server is started, and what is written is written in a folder of the test's own."""
    monkeypatch.chdir(tmp_path)

    def no_server(*_args: Any, **_more: Any) -> None:
        raise AssertionError("a server was started")

    monkeypatch.setattr(lab_open, "subprocess", SimpleNamespace(Popen=no_server, DEVNULL=subprocess.DEVNULL))


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]) -> Said:
    """Runs a command in this process, expects its exit code, and returns the one line it said."""

    def says(words: list[str], code: int) -> str:
        try:
            found = main(words)
        except SystemExit as end:
            found = int(end.code or 0)
        out, err = capsys.readouterr()
        assert (found, out) == (code, ""), err
        assert len(err.strip().splitlines()) == 1, err
        return err.strip()

    return says


@pytest.mark.parametrize("port", ["99999", "-1", "80", "abc", "8888.5"])
def test_a_port_that_is_none(port: str, said: Said, tmp_path: Path) -> None:
    assert said(["open", f"--port={port}", "--no-browser"], 2) == (
        f"{port} is no port. Write a whole number from 1024 to 65535, such as 8888."
    )
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("words", [[], ["nothing"], ["check"], ["record", "h.json"], ["prove", "h.json", "--fixes=x"]])
def test_a_command_line_that_is_not_understood(words: list[str], said: Said) -> None:
    assert "--help" in said(words, 2)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_file_in_a_missing_folder(command: str, said: Said, tmp_path: Path) -> None:
    sentence = said([*COMMANDS[command], str(tmp_path / "none" / "home.json")], 2)
    assert "There is no file home.json" in sentence
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("name", ["loop.json", "loop", "loop/home.json"])
def test_a_link_that_leads_to_itself(command: str, name: str, said: Said, tmp_path: Path) -> None:
    link = tmp_path / name.split("/", maxsplit=1)[0]
    link.symlink_to(link)
    assert "leads back to itself" in said([*COMMANDS[command], str(tmp_path / name)], 2)
    assert [path.name for path in tmp_path.iterdir()] == [link.name]


NOBODY = 65534


@pytest.fixture
def ordinary_folder() -> Iterator[Path]:
    """A folder with a home, seen by somebody who is no administrator: one who is steps down for the test."""
    for needed in ("alarmlib.record.produce", "alarmlib.record.out_file", "alarmlib.lab.open"):
        importlib.import_module(needed)
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    with tempfile.TemporaryDirectory() as name:
        shutil.copy(DEMO, Path(name) / "home.json")
        load(DEMO)  # whoever steps down may not be able to import what that needs
        if administrator:
            os.chown(name, NOBODY, NOBODY)
            os.seteuid(NOBODY)
        try:
            yield Path(name)
        finally:
            Path(name).chmod(0o755)
            if administrator:
                os.seteuid(0)


@pytest.fixture(autouse=True)
def _ctrl_c_is_heard() -> Iterator[None]:
    """A run that was begun in the background ignores the signal, and all that it starts too."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
@pytest.mark.parametrize(
    ("command", "mode"),
    [("check", 0o000), ("prove", 0o000), ("record", 0o000), ("record", 0o555), ("open", 0o000), ("open", 0o555)],
)
def test_a_folder_without_rights(command: str, mode: int, ordinary_folder: Path, said: Said) -> None:
    """One that may not be entered, and one that may not be written."""
    ordinary_folder.chmod(mode)
    home = ordinary_folder if command == "open" else ordinary_folder / "home.json"
    words = [word.replace("never.html", str(ordinary_folder / "never.html")) for word in COMMANDS[command]]
    sentence = said([*words, str(home)], 2)
    assert "may not be written or read" in sentence or "choose a folder that you may write to" in sentence


# --- opening a file ---


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Path, str]]:
    """In place of a server: the folder that it would have shown and the home file it would have worked on."""
    seen: list[tuple[Path, str]] = []

    def started(_command: list[str], env: dict[str, str], **_more: Any) -> str:
        told = json.loads((Path(env["JUPYTER_CONFIG_DIR"]) / "jupyter_server_config.json").read_text(encoding="utf-8"))
        seen.append((Path(told["ServerApp"]["root_dir"]), env["ALARM_HOME"]))
        return "server"

    monkeypatch.setattr(lab_open, "subprocess", SimpleNamespace(Popen=started, DEVNULL=subprocess.DEVNULL))
    monkeypatch.setattr(lab_open, "_attend", lambda *_args: 0)
    return seen


def test_a_home_file_is_opened_itself_with_its_pages_in_a_folder_of_their_own(
    opened: list[tuple[Path, str]], tmp_path: Path
) -> None:
    """Nothing but that folder comes to stand beside it; a second time it is opened again, changed or not."""
    home = tmp_path / "cottage.json"
    shutil.copy(DEMO, home)
    (tmp_path / "home.json").write_text("another's")
    for _ in range(2):
        assert main(["open", str(home), "--no-browser"]) == 0
        home.write_bytes(home.read_bytes() + b"\n")
    assert opened == [(tmp_path / "cottage-workbook", str(home))] * 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cottage-workbook", "cottage.json", "home.json"]
    assert (tmp_path / "home.json").read_text() == "another's"
    assert not (tmp_path / "cottage-workbook" / "home.json").exists()


def test_the_home_file_of_a_workbook_opens_that_workbook(opened: list[tuple[Path, str]], tmp_path: Path) -> None:
    """Even when it cannot be read any more: the first page then offers the last good save."""
    folder = tmp_path / "my-home"
    assert main(["open", str(folder), "--no-browser"]) == 0
    (folder / "home.json").write_text("{")
    assert main(["open", str(folder / "home.json"), "--no-browser"]) == 0
    assert opened == [(folder, str(folder / "home.json"))] * 2


@pytest.mark.parametrize("content", ["{", "", "[]", '{"schema_version": 99}', "Dear neighbour"])
def test_a_file_that_is_no_home_is_refused_before_anything_is_written(content: str, said: Said, tmp_path: Path) -> None:
    letter = tmp_path / "letter.json"
    letter.write_text(content)
    assert "letter.json" in said(["open", str(letter), "--no-browser"], 2)
    assert [path.name for path in tmp_path.iterdir()] == ["letter.json"]


def test_a_folder_of_pages_that_holds_another_home_is_refused(said: Said, tmp_path: Path) -> None:
    """The pages would change that one."""
    shutil.copy(DEMO, tmp_path / "cottage.json")
    (tmp_path / "cottage-workbook").mkdir()
    (tmp_path / "cottage-workbook" / "home.json").write_text("another's")
    assert "another home" in said(["open", str(tmp_path / "cottage.json"), "--no-browser"], 2)
    assert len(list((tmp_path / "cottage-workbook").iterdir())) == 1
    assert workbook.page_files()


# --- what stops it ---


@pytest.mark.skipif(os.name == "nt", reason="Windows sends no such signal to a process itself")
@pytest.mark.parametrize(
    ("command", "inside"),
    [
        ("check", "alarmlib.checks.assess.assess"),
        ("prove", "alarmlib.proof.prove.prove"),
        ("record", "alarmlib.record.produce.made"),
        ("open", "alarmlib.lab.workbook.copy_pages"),
    ],
)
def test_ctrl_c_is_one_sentence_and_130(
    command: str, inside: str, said: Said, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """130 is 128 and the signal's number, 2. Reference: POSIX.1-2017, Shell and Utilities, 2.8.2, for a shell's own."""

    def interrupted(*_args: Any, **_more: Any) -> None:
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(30)

    monkeypatch.setattr(inside, interrupted)
    home = tmp_path if command == "open" else DEMO
    assert said([*COMMANDS[command], str(home)], 130).startswith("Stopped.")
    assert not (tmp_path / "never.html").exists()


@pytest.mark.skipif(os.name == "nt", reason="Windows sends no such signal to another process")
@pytest.mark.parametrize("after", [0.0, 0.1, 0.25, 0.5, 1, 2])
def test_ctrl_c_in_a_proof_of_its_own_process(after: float, tmp_path: Path) -> None:
    """Sent while it imports, reads or searches; it had printed about fifty lines, or named a field that was right."""
    home = tmp_path / "home.json"
    shutil.copy(DEMO, home)
    code = (
        "import os, signal, sys, threading\n"
        "from alarmlib import __main__ as command\n"
        "run = command._run\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # a background job begins with it ignored
        "def interrupted(words):\n"
        f"    threading.Timer({after}, os.kill, (os.getpid(), signal.SIGINT)).start()\n"
        "    return run(words)\n"
        "command._run = interrupted\n"
        "sys.exit(command.main(sys.argv[1:]))\n"
    )
    words = [sys.executable, "-c", code, "prove", str(home)]
    ended = subprocess.run(words, env=SURROUND, capture_output=True, text=True, check=False)
    assert ended.returncode == 130, ended.stderr
    told = [line for line in ended.stderr.splitlines() if not line.endswith(")")]  # how far the search was
    assert told == ["Stopped. Nothing half done was kept."]
    assert [path.name for path in tmp_path.iterdir()] == ["home.json"]


@pytest.mark.skipif(os.name == "nt", reason="Windows sends no such signal to a process itself")
def test_ctrl_c_while_a_file_is_checked_is_no_fault_of_the_file(said: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    """What checks a field had made a wrong value of the signal, and a good home was refused."""

    def interrupted(*_args: Any, **_more: Any) -> None:
        try:
            os.kill(os.getpid(), signal.SIGINT)
            time.sleep(30)
        except KeyboardInterrupt:
            raise AlarmProblem("hall is not allowed here") from None

    monkeypatch.setattr("alarmlib.store.load", interrupted)
    assert said(["check", str(DEMO)], 130).startswith("Stopped.")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("words", [["check", str(DEMO)], ["check", str(DEMO), "--json"], ["schema"], ["sources"]])
def test_an_answer_that_finds_no_room(words: list[str]) -> None:
    """The output goes to a device that is always full."""
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run([*COMMAND, *words], env=SURROUND, stdout=full, stderr=subprocess.PIPE, check=False)
    assert ended.returncode == 2
    assert ended.stderr.decode().strip() == "The answer could not be written: there is no room left on the disk."


def test_a_reader_that_goes_away_is_no_error() -> None:
    """As `head` does."""
    process = subprocess.Popen([*COMMAND, "schema"], env=SURROUND, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    assert process.stderr.read() == b""
    assert process.wait() == 0
