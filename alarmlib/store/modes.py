"""Who may read what is written beside a home: its owner alone, or also one group that the owner named.

A file that is there keeps the mode and the group that it has; a new one begins closed. On Windows the system closes a
person's own folders, and modes change nothing there.
"""

import contextlib
import os
import stat
from pathlib import Path

HIDDEN = ".workbook"
SHARED = "shared_with_group"  # a file in the hidden folder: the owner opened it to the group of that folder
OWN_FILE, OWN_FOLDER = 0o600, 0o700
GROUP_FILE, GROUP_FOLDER = 0o660, 0o2770


def hidden_of(place: Path) -> Path:
    """The hidden folder that a place is in, or else the one beside it."""
    return next((each for each in (place, *place.parents) if each.name == HIDDEN), place.parent / HIDDEN)


def is_shared(hidden: Path) -> bool:
    """Whether the owner opened this hidden folder to a group, and its own mode says the same."""
    with contextlib.suppress(OSError):
        mode = stat.S_IMODE(hidden.lstat().st_mode)
        return mode & GROUP_FOLDER == GROUP_FOLDER and (hidden / SHARED).is_file()
    return False


def begun_mode(place: Path) -> int:
    """The mode that a new file in this place begins with."""
    return GROUP_FILE if is_shared(hidden_of(place)) else OWN_FILE


def new_file(place: Path) -> int:
    """A handle to a file that is made now and that only its owner can read; use it as an opener's handle."""
    return os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), OWN_FILE)


def take_after(draft: Path, target: Path) -> None:
    """Give a draft the mode, owner and group of the file whose place it takes; else the mode of a new one.

    Where the group cannot be kept, the new group gets nothing.
    """
    try:
        old = target.stat()
    except OSError:
        draft.chmod(begun_mode(target))
        return
    mode = stat.S_IMODE(old.st_mode) & 0o777
    if hasattr(os, "chown") and not _owned_as(draft, old.st_uid, old.st_gid):
        mode &= ~0o070
    draft.chmod(mode)


def _owned_as(draft: Path, owner: int, group: int) -> bool:
    """Give it to that owner and group, or to the group alone; whether it has the group now."""
    for whose in (owner, -1):
        with contextlib.suppress(OSError):
            os.chown(draft, whose, group)
            break
    return draft.stat().st_gid == group


def make_folder(place: Path) -> None:
    """Make a folder of what is kept beside a home, with the ones above it that are missing. Raises OSError.

    One that is there and is the caller's own is closed, unless it was opened to a group.
    """
    if place.name != HIDDEN and place.parent != place and not place.parent.is_dir():
        make_folder(place.parent)
    place.mkdir(mode=OWN_FOLDER, exist_ok=True)
    close_folder(place)


def close_folder(place: Path) -> None:
    """Take from a folder of one's own what others may do, or give it what the group of a shared one has."""
    with contextlib.suppress(OSError):
        mode = stat.S_IMODE(place.lstat().st_mode)
        wanted = mode | GROUP_FOLDER if is_shared(hidden_of(place)) else mode & ~0o077
        if mode != wanted and not place.is_symlink():
            place.chmod(wanted)


def close_all(hidden: Path) -> None:
    """Close a hidden folder and all in it, as far as it is the caller's own; no link is followed."""
    close_folder(hidden)
    for folder, folders, files in os.walk(hidden):
        for name in folders:
            close_folder(Path(folder) / name)
        for name in files:
            place = Path(folder) / name
            with contextlib.suppress(OSError):
                if not place.is_symlink():
                    place.chmod(begun_mode(place))
