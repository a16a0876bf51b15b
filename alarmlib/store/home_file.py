"""The home file on disk: read whole or refused, replaced whole or left alone, one writer at a time."""

import contextlib
import errno
import os
import secrets
import time
from collections.abc import Iterator
from pathlib import Path

from filelock import FileLock, Timeout

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store.document import parsed

LARGEST_BYTES = 20_000_000
PATIENCE_S = 2.0
_POLL_S = 0.002  # often, so that a writer in a hurry cannot keep another one out
HIDDEN = ".workbook"


def load(path: Path | str) -> Home:
    """The home in a file, brought up from an older version; the file itself is left alone. Raises AlarmProblem."""
    file = Path(path)
    return parsed(read_bytes(file), file.name)


def read_bytes(path: Path) -> bytes:
    """The content of a home file of reasonable size. Raises AlarmProblem."""
    try:
        if path.is_dir():
            raise AlarmProblem(f"{path.name} is a folder; a home is one file, such as home.json.")
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise AlarmProblem(
                f"{path.name} has {size / 1e6:.0f} MB, so it was not read; "
                f"a home file has {LARGEST_BYTES / 1e6:.0f} MB at most."
            )
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise AlarmProblem(f"There is no file {path.name} in {path.parent}.") from None
    except OSError as error:
        raise AlarmProblem(f"{path.name} cannot be read: {_reason(error)}.") from None


def real_place(path: Path | str) -> Path:
    """The file that a path leads to, whole and with its links followed. Raises AlarmProblem for links in a ring."""
    place = Path(path)
    try:
        return place.resolve(strict=True)
    except FileNotFoundError:
        return place.resolve()
    except (OSError, RuntimeError) as error:  # a ring of links is a RuntimeError up to Python 3.12
        number = error.errno if isinstance(error, OSError) else errno.ELOOP
        if number == errno.ELOOP:
            raise AlarmProblem(f"{place} is a link that leads back to itself. Name the file itself.") from None
        return place.absolute()


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Alone with the home file, among all processes that ask; waits two seconds at most. Raises AlarmProblem."""
    try:
        hidden = path.parent / HIDDEN
        hidden.mkdir(exist_ok=True)
        lock = FileLock(hidden / f"{path.name}.lock", timeout=PATIENCE_S)
        lock.acquire(poll_interval=_POLL_S)
    except Timeout:
        raise AlarmProblem(f"Another program holds {path.name}; nothing was changed. Try again.") from None
    except OSError as error:
        raise _unsaved(path, error) from None
    try:
        yield
    finally:
        lock.release()


def replace(path: Path, content: bytes) -> None:
    """Put the content in the file's place in one step, on disk when this returns. Raises AlarmProblem.

    A crash at any moment leaves the old file or the new one. Call it under `locked`.
    """
    _sweep(path)
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}.tmp")
    try:
        _write(draft, content)
        _rename(draft, path)
    except OSError as error:
        raise _unsaved(path, error) from None
    finally:
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)
    _canonical(path.parent)


def _write(path: Path, content: bytes) -> None:
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _rename(draft: Path, path: Path) -> None:
    """Replace; on Windows a virus scanner may hold the file for a moment, so try again for two seconds."""
    end = time.monotonic() + PATIENCE_S
    while True:
        try:
            os.replace(draft, path)  # noqa: PTH105
            return
        except PermissionError:
            if time.monotonic() > end:
                raise
            time.sleep(0.05)


def _canonical(folder: Path) -> None:
    """Have the folder's own entry on disk too, where the system can."""
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _sweep(path: Path) -> None:
    """Take away drafts that a killed process left."""
    for left in path.parent.glob(f".{path.name}.????????.tmp"):
        with contextlib.suppress(OSError):
            left.unlink()


def _unsaved(path: Path, error: OSError) -> AlarmProblem:
    return AlarmProblem(f"{path.name} was not saved and is as it was: {_reason(error)}.")


def _reason(error: OSError) -> str:
    """Why, in words."""
    match error.errno:
        case errno.ENOSPC | errno.EDQUOT:
            return "there is no room left on the disk"
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return "its folder or the file may not be written or read here"
        case errno.ENOENT | errno.ENOTDIR:
            return "its folder is not there"
        case _:
            return (error.strerror or type(error).__name__).lower()
