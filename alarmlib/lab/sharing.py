"""A folder that its owner opens to one group of the computer's users, such as a class, and closes again."""

import os
import stat
from collections.abc import Iterator
from pathlib import Path

from alarmlib.errors import AlarmProblem
from alarmlib.lab.place import PagesPlace
from alarmlib.lab.workbook import PICTURES
from alarmlib.store.home_file import replace
from alarmlib.store.kept_proofs import kept_file
from alarmlib.store.modes import GROUP_FOLDER, HIDDEN, SHARED

NOBODY = "-"  # instead of a group: closed again


def share(place: PagesPlace, group: str) -> None:
    """Let a group read and change the workbook in a folder; `-` closes it again. Prepare the folder first.

    Only what is the workbook's own is opened: the folder, its pages, the home with its proof, what is kept beside it.
    Raises AlarmProblem for an unknown group, for a folder of somebody else, and where a system has no such groups.
    """
    hidden = place.folder / HIDDEN
    number = None if group == NOBODY else _number(group)
    try:
        if number is None:
            (hidden / SHARED).unlink(missing_ok=True)
        for each in _own(place):
            _open(each, number)
        if number is not None:
            replace(hidden / SHARED, group.encode())
            _open(hidden / SHARED, number)
    except PermissionError as refusal:
        raise AlarmProblem(
            f"{refusal.filename or place.folder} was not opened to the group {group}. "
            f"Only its owner can do that, who must be in the group."
        ) from None


def _number(group: str) -> int:
    if os.name == "nt":
        raise AlarmProblem("This option is not for Windows. Share the folder in its own properties there.")
    import grp

    try:
        return grp.getgrnam(group).gr_gid
    except KeyError:
        raise AlarmProblem(
            f"This computer has no group {group}. Ask whoever keeps the computer for its name."
        ) from None


def _own(place: PagesPlace) -> Iterator[Path]:
    """What of a folder is the workbook's own; links are left alone."""
    folder = place.folder
    found = [folder, *sorted(folder.glob("*.ipynb")), place.home, kept_file(place.home)]
    for tree in (folder / HIDDEN, folder / PICTURES):
        found += [tree, *sorted(tree.rglob("*"))]
    yield from (each for each in found if each.exists() and not each.is_symlink())


def _open(place: Path, group: int | None) -> None:
    """Give a group what the owner may do with a file or folder; what is new in a folder is the group's too."""
    mode = stat.S_IMODE(place.stat().st_mode)
    if group is None:
        place.chmod(mode & ~0o2070)
        return
    os.chown(place, -1, group)
    place.chmod(mode | GROUP_FOLDER if place.is_dir() else mode | 0o660)
