"""Where a record may be written: a free name or an earlier record; never over a home or what is kept for one."""

import os
from pathlib import Path

from alarmlib.errors import AlarmProblem
from alarmlib.store.home_file import LARGEST_BYTES, real_place
from alarmlib.store.kept_proofs import MARK
from alarmlib.store.modes import HIDDEN

_FIRST_LINE = b"<!DOCTYPE html>"
_POLICY = b'<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; img-src data:;'
_OF_A_HOME = b'"schema_version"'


def place_for_record(out: Path, home: Path, previous: Path | None = None, replace: bool = False) -> Path:
    """The place that `out` names, its links followed, where a record may be written; nothing is written yet.

    `replace` says that the owner wants a file replaced that is no record; homes, kept proofs and kept saves stay
    even then. Raises AlarmProblem with the reason.
    """
    place = real_place(out)
    try:
        reason = _reason(place, out, home, previous, replace)
    except OSError as error:
        reason = f"{out} cannot be looked at ({(error.strerror or str(error)).lower()})"
    if reason:
        raise AlarmProblem(f"{reason}. No record was written. Name another file, such as record.html.")
    return place


def is_record(content: bytes) -> bool:
    """Whether these first bytes of a file are those of a record, of this workbook or an earlier one."""
    return content.startswith(_FIRST_LINE) and _POLICY in content[:1000]


def _reason(place: Path, out: Path, home: Path, previous: Path | None, replace: bool) -> str:
    """Why no record may be written there; "" when it may."""
    reason = _reason_by_name(place, out)
    if reason or not place.exists():
        return reason
    if place.samefile(home):
        return f"{out.name} is the home itself"
    if previous is not None and place.samefile(previous):
        return f"{out.name} is the home that you compare with"
    return _reason_by_content(place, out.name, replace)


def _reason_by_name(place: Path, out: Path) -> str:
    reason = ""
    if not place.parent.is_dir():
        reason = f"There is no folder {out.parent}"
    elif HIDDEN in place.parts:
        reason = f"{out.name} would be in a folder that belongs to the workbook"
    elif place.name.endswith(MARK):
        reason = f"{out.name} is the name of a kept proof"
    elif place.is_dir():
        reason = f"{out.name} is a folder"
    elif place.exists() and not place.is_file():
        reason = f"{out.name} is no ordinary file"
    elif not os.access(place.parent, os.W_OK, effective_ids=os.access in os.supports_effective_ids):
        reason = f"The folder {out.parent} may not be written or read here"
    return reason


def _reason_by_content(place: Path, name: str, replace: bool) -> str:
    with place.open("rb") as file:
        content = file.read(LARGEST_BYTES)
    if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{") and _OF_A_HOME in content:
        return f"{name} holds a home"
    if content and not replace and not is_record(content):
        return f"{name} is no record, so it is left as it is unless you add --replace"
    return ""
