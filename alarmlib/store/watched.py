"""Files that another window may write: somebody is told within a second."""

import threading
from collections.abc import Callable, Mapping
from pathlib import Path

PERIOD_S = 0.3
Stamp = tuple[int, int] | None
"""When a file was last written, in ns, and its size; None where there is none."""


def stamp(file: Path) -> Stamp:
    """The stamp of a file as it is now."""
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


def watch(told: Mapping[Path, Callable[[], None]], period_s: float = PERIOD_S) -> threading.Event:
    """Call `told[file]()` soon after that file was written, from a thread of its own; set the event to end it.

    The file is looked at every `period_s` seconds: that needs no library, works on a drive of a network, and costs
    some microseconds.
    """
    end = threading.Event()
    seen = {file: stamp(file) for file in told}

    def look() -> None:
        while not end.wait(period_s):
            for file, tell in told.items():
                now = stamp(file)
                if now != seen[file]:
                    seen[file] = now
                    tell()

    threading.Thread(target=look, name="watched files", daemon=True).start()
    return end
