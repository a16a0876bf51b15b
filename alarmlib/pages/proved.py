"""The proof kept beside this page's home file, as it speaks of the home."""

import threading
from pathlib import Path

from alarmlib.model.home import Home
from alarmlib.pages.opened import home_path
from alarmlib.proof.report.kept import KeptProof
from alarmlib.store.kept_proofs import ReadProof, kept_file, read_kept
from alarmlib.store.watched import Stamp, stamp

_ONE_AT_A_TIME = threading.Lock()  # cells ask on one thread, and views that follow the home on another
_read: list[tuple[Path, Stamp, ReadProof]] = []
_last: list[tuple[Home, ReadProof, KeptProof]] = []


def kept_here(home: Home) -> KeptProof:
    """The kept proof as it speaks of this home; the same object until home or file move."""
    file = kept_file(home_path())
    now = stamp(file)
    with _ONE_AT_A_TIME:
        if not _read or _read[-1][:2] != (file, now):
            _read[:] = [(file, now, read_kept(home_path()))]
        read = _read[-1][2]
        if not _last or _last[-1][0] is not home or _last[-1][1] is not read:
            _last[:] = [(home, read, read.about(home))]
        return _last[-1][2]
