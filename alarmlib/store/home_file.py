"""The home file on disk: read whole or refused, replaced whole or left alone, one writer at a time."""

import contextlib
import errno
import itertools
import logging
import os
import re
import secrets
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from filelock import FileLock, Timeout

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.store.document import parsed
from alarmlib.store.modes import HIDDEN, begun_mode, make_folder, new_file, take_after

LARGEST_BYTES = 20_000_000
PATIENCE_S = 2.0  # after so long a sentence says that somebody waits; on Windows, how long a scanner may hold a file
QUEUE_S = 30.0  # how long a writer queues for its turn
_POLL_S = 0.002  # often, so that a writer in a hurry cannot keep another one out
_log = logging.getLogger(__name__)


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
        raise AlarmProblem(f"{path.name} cannot be read: {reason_of(error)}.") from None


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
    """Alone with the home file, among all processes that ask; queues for 30 s at most. Raises AlarmProblem."""
    try:
        hidden = path.parent / HIDDEN
        make_folder(hidden)
        mode = begun_mode(path)
        lock, holder = FileLock(hidden / f"{path.name}.lock", mode=mode), hidden / f"{path.name}.holder"
        _queue(FileLock(hidden / f"{path.name}.next.lock", mode=mode), lock, holder)
    except OSError as error:  # with Timeout, which is one
        raise _unsaved(path, error) from None
    try:
        with contextlib.suppress(OSError):
            _say_who(holder, mode)
        yield
    finally:
        with contextlib.suppress(OSError):
            holder.unlink()
        lock.release()


def _queue(turn: FileLock, lock: FileLock, holder: Path) -> None:
    """Wait for the lock; who comes back for it in a hurry waits for the turn behind whoever waits already.

    One that waits long says so, and one that waits in vain says who holds the file.
    """
    name = holder.name.removesuffix(".holder")
    for patience, last in ((PATIENCE_S, False), (QUEUE_S, True)):
        try:
            with turn.acquire(timeout=patience, poll_interval=_POLL_S):
                lock.acquire(timeout=patience, poll_interval=_POLL_S)
            return
        except Timeout:
            by = _held_by(holder)
        if not last:
            _log.warning("Waiting: %s wants to save %s. It is held by %s.", _who(), name, by)
    raise AlarmProblem(
        f"{name} was not saved and nothing was changed. It is held by {by}. "
        f"Let that finish or close it, then try again."
    )


def _say_who(holder: Path, mode: int) -> None:
    """Leave a note of who has the lock; of a killed holder's note a link would be taken away, never followed."""
    holder.unlink(missing_ok=True)
    with os.fdopen(new_file(holder), "w", encoding="utf-8") as note:
        note.write(_who())
    holder.chmod(mode)


def _who() -> str:
    """This process, as somebody who waits for it may read it."""
    what = "a page of the workbook" if Path(sys.argv[0]).stem == "ipykernel_launcher" else "a program"
    return f"{what} (process {os.getpid()})"


def _held_by(holder: Path) -> str:
    """Who holds the file, as that process said."""
    try:
        return holder.read_text(encoding="utf-8")[:80] or "another program"
    except (OSError, ValueError):
        return "another program"


def replace(path: Path, content: bytes) -> None:
    """Put the content in the file's place in one step, on disk when this returns. Raises AlarmProblem.

    The file keeps its mode, owner and group; a new one begins closed to others. A crash at any moment leaves the old
    file or the new one. Call it under `locked`.
    """
    sweep(path.parent, re.escape(path.name))
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}.tmp")
    try:
        _write(draft, content)
        take_after(draft, path)
        _rename(draft, path)
    except OSError as error:
        raise _unsaved(path, error) from None
    finally:
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)
    _canonical(path.parent)


def keep_aside(path: Path) -> Path:
    """Copy a broken file, of whatever size, to a name that nobody has yet; returns it. Raises AlarmProblem."""
    names = (f"{path.name}.broken{'' if number == 1 else f'-{number}'}" for number in itertools.count(1))
    aside = next(place for place in map(path.with_name, names) if not place.exists())
    try:
        replace(aside, path.read_bytes())
    except OSError as error:
        raise _unsaved(path, error) from None
    return aside


def _write(path: Path, content: bytes) -> None:
    with os.fdopen(new_file(path), "wb") as file:
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


def sweep(folder: Path, names: str = ".+") -> None:
    """Take away drafts that killed processes left of files whose names match; call it under `locked`."""
    draft = re.compile(rf"\.{names}\.[0-9a-f]{{8}}\.tmp")
    with contextlib.suppress(OSError):
        for left in folder.iterdir():
            if draft.fullmatch(left.name):
                with contextlib.suppress(OSError):
                    left.unlink()


def _unsaved(path: Path, error: OSError) -> AlarmProblem:
    return AlarmProblem(f"{path.name} was not saved and is as it was: {reason_of(error)}.")


def reason_of(error: OSError) -> str:
    """Why, in words."""
    match error.errno:
        case errno.ENOSPC | errno.EDQUOT:
            return "there is no room left on the disk"
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return "its folder or the file may not be written or read here"
        case errno.ENOENT | errno.ENOTDIR:
            return "its folder is not there"
        case errno.ELOOP:
            return "a link on the way to it leads back to itself"
        case _:
            return (error.strerror or type(error).__name__).lower()
