"""Where Jupyter keeps its own while a workbook is open: a folder of the user's, made for one run and then taken away.

It is never in the home's folder: whatever somebody else put there, no server and no kernel reads it. Its path is short,
so that kernels can be spoken to by sockets in it.
"""

import hashlib
import os
import shutil
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path

from alarmlib.errors import AlarmProblem

SOCKET_PATH_MOST = (
    103  # macOS takes 103 bytes, Linux 107; Reference: `sun_path` in macOS's and Linux's unix(4), unix(7)
)
_LONG = 40  # macOS's folder for such files is longer, too long for a socket's path
_SOCKET = "/runtime/kernel-00000000-0000-0000-0000-000000000000-ipc-1"


def new_run(folder: Path) -> Path:
    """A new folder for one run of the workbook in `folder`, which only this user can enter. Raises AlarmProblem."""
    _of_folder(folder).mkdir(mode=0o700, exist_ok=True)
    return Path(tempfile.mkdtemp(dir=_of_folder(folder), prefix="")).resolve()


def runs(folder: Path) -> Iterator[Path]:
    """The folders of this user's runs of the workbook in `folder`, those of dead ones too. Raises AlarmProblem."""
    yield from sorted(_of_folder(folder).glob("*/"))


def end_run(run: Path) -> None:
    """Take away what a run kept."""
    shutil.rmtree(run, ignore_errors=True)


def sockets_fit(run: Path) -> bool:
    """Whether kernels of this run can be spoken to by a socket in it, which no other user reaches."""
    return os.name != "nt" and len(os.fsencode(f"{run}{_SOCKET}")) <= SOCKET_PATH_MOST


def _of_folder(folder: Path) -> Path:
    return _own_root() / hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:8]


def _own_root() -> Path:
    """The folder of all this user's runs; one that somebody else made, or may enter, is refused."""
    if not hasattr(os, "getuid"):
        root = Path(tempfile.gettempdir()) / "alarm-workbook"  # on Windows each user has a folder for such files
        root.mkdir(exist_ok=True)
        return root
    root = _base() / f"alarm-{os.getuid()}"
    root.mkdir(mode=0o700, exist_ok=True)
    found = root.lstat()
    if not stat.S_ISDIR(found.st_mode) or found.st_uid != os.getuid() or stat.S_IMODE(found.st_mode) & 0o077:
        raise AlarmProblem(
            f"{root} must be a folder that you alone may enter, and it is not. "
            f"Delete it or ask who made it, then try again."
        )
    return root


def _base() -> Path:
    given = Path(os.environ.get("XDG_RUNTIME_DIR", ""))
    if given.is_absolute() and given.is_dir() and given.stat().st_uid == os.getuid():
        return given
    usual, short = Path(tempfile.gettempdir()), Path("/tmp")
    return short if len(str(usual)) > _LONG and short.is_dir() else usual
