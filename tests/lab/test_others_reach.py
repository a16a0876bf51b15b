"""What another user of the same computer gets of an open workbook: nothing. Tried as `nobody` where the test is root.

Modes and the list of processes are looked at by every user who runs this.
"""

import json
import os
import shutil
import stat
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from alarmlib.lab.run_place import runs

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows closes a person's folders itself and has no modes")
ROOT = Path(__file__).parents[2]
NOBODY = 65534
REACH = """
import json, os, sys
from pathlib import Path
seen = []
for top in sys.argv[1:]:
    for folder, folders, files in os.walk(top):
        for name in files:
            try:
                Path(folder, name).read_bytes()
                seen.append(os.path.join(folder, name))
            except OSError:
                pass
print(json.dumps(seen))
"""


@pytest.fixture
def place(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder that all users may enter, as in a class room, with one file that all may read; runs are in it too."""
    folder = Path(tempfile.mkdtemp(prefix="t", dir="/tmp"))
    (folder / "r").mkdir()
    for each in (folder, folder / "r"):
        each.chmod(0o755)
    (folder / "for_all.txt").write_text("hello")
    (folder / "for_all.txt").chmod(0o644)
    (folder / "home").mkdir()
    (folder / "home").chmod(0o755)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(folder / "r"))
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    yield folder
    shutil.rmtree(folder)


@pytest.fixture
def address(place: Path) -> Iterator[str]:
    """The workbook, opened by its command under the usual mask, with a kernel started and a home made."""
    folder = place / "home"
    folder.joinpath("home.json").write_bytes((ROOT / "workbook" / "demo_home.json").read_bytes())
    folder.joinpath("home.json").chmod(0o600)
    words = [sys.executable, "-m", "alarmlib", "open", str(folder), "--no-browser"]
    with subprocess.Popen(words, umask=0o022, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        told = server.stdout.readline()
        try:
            assert told.startswith("The workbook is open: "), told
            yield told.split()[-1]
        finally:
            server.terminate()
            server.wait(30)


def call(address: str, path: str, body: Any = None, token: bool = True) -> Any:
    """A request to the server, with its token or without; the answer's JSON, or the number of a refusal."""
    base, query = address.split("?token=")
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(f"{base}{path}", data=data, headers={"Content-Type": "application/json"})
    if token:
        request.add_header("Authorization", f"token {query}")
    try:
        with urllib.request.urlopen(request, timeout=30) as answer:
            return json.loads(answer.read() or b"null")
    except urllib.error.HTTPError as refusal:
        return refusal.code


def others_may(place: Path) -> list[str]:
    """All below a place that has a bit for the group or for others; links are none."""
    found = [place, *place.rglob("*")]
    return [str(each) for each in found if not each.is_symlink() and stat.S_IMODE(each.lstat().st_mode) & 0o077]


def appears(place: Path) -> bool:
    """Whether something is there within a minute: a kernel binds its sockets when it is up."""
    limit = time.monotonic() + 60
    while not place.exists() and time.monotonic() < limit:
        time.sleep(0.05)
    return place.exists()


def test_another_user_gets_nothing(place: Path, address: str) -> None:
    """Modes, log, list of processes, kernels' sockets, terminals, consoles: each looked at while a page is open."""
    folder, token = place / "home", address.rpartition("=")[2]
    asked = {"path": "00_start.ipynb", "name": "", "type": "notebook", "kernel": {"name": "python3"}}
    kernel = call(address, "api/sessions", asked)["kernel"]["id"]
    (run,) = runs(folder)
    assert appears(run / "runtime" / f"kernel-{kernel}-ipc-1")
    assert call(address, "api/sessions", {**asked, "type": "console"}) == 403
    assert call(address, "api/kernels", {"name": "python3"}) == 403
    assert call(address, "api/terminals", {}) in (403, 404)
    assert call(address, "api/sessions", {**asked, "path": "x.ipynb", "kernel": {"name": "bash"}}) >= 400
    assert call(address, "api/sessions", token=False) == 403
    assert others_may(folder / ".workbook") == []
    assert others_may(folder / "home.json") == []
    assert [each for each in others_may(place / "r") if Path(each).is_dir()] == [str(place / "r")]
    assert others_may(run / "runtime") == others_may(run / "config") == []
    assert token not in (folder / ".workbook" / "server.log").read_text(encoding="utf-8")
    listed = subprocess.run(["ps", "-eww", "-o", "args"], capture_output=True, text=True, check=True).stdout
    assert str(folder) in listed
    assert token not in listed
    if os.geteuid() != 0:
        warnings.warn("Not root: modes were looked at, but nothing was tried as another user.", stacklevel=1)
        return
    words = ["/usr/bin/env", "python3", "-c", REACH, str(place)]
    other = subprocess.run(
        words, user=NOBODY, group=NOBODY, extra_groups=[], capture_output=True, text=True, check=True
    )
    seen = set(json.loads(other.stdout))
    assert str(place / "for_all.txt") in seen
    pictures = {str(each) for each in (folder / "pictures").iterdir()}
    assert seen - pictures == {str(place / "for_all.txt")}


def test_a_run_ends_with_nothing_left(place: Path, address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """While it is open there is one run; the same command again shows the same address and starts nothing."""
    words = [sys.executable, "-m", "alarmlib", "open", str(place / "home"), "--no-browser"]
    again = subprocess.run(words, capture_output=True, text=True, check=True)
    assert again.stdout == f"This workbook is open already: {address}\n"
    assert len(list(runs(place / "home"))) == 1
