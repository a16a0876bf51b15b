"""The proof kept beside this page's home file, and who is told when it was run again."""

from collections.abc import Callable
from pathlib import Path

from alarmlib.model.home import Home
from alarmlib.pages.opened import home_path
from alarmlib.proof.report.kept import KeptProof
from alarmlib.store.kept_proofs import kept, kept_file

Stamp = tuple[Path, int, int] | None
_last: list[tuple[Home, Stamp, KeptProof]] = []
_views: dict[str, Callable[[], None]] = {}


def kept_here(home: Home) -> KeptProof:
    """The kept proof as it speaks of this home; the same object until home or file move."""
    place = home_path()
    stamp = _stamp(kept_file(place))
    if not _last or _last[-1][0] is not home or _last[-1][1] != stamp:
        _last[:] = [(home, stamp, kept(place, home))]
    return _last[-1][2]


def _stamp(file: Path) -> Stamp:
    try:
        found = file.stat()
    except OSError:
        return None
    return file, found.st_mtime_ns, found.st_size


def watch(name: str, redraw: Callable[[], None]) -> None:
    """Have `redraw` called after each run; what was drawn under that name before is let go."""
    _views[name] = redraw


def tell() -> None:
    """A proof was run: draw again what shows it."""
    for redraw in tuple(_views.values()):
        redraw()
