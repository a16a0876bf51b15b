"""What a server or a kernel of the workbook runs first, as a script: `python -I isolated.py server|kernel WORDS`.

With `-I` Python reads no variable of the surroundings, no start-up file of the user, and imports nothing from the
folder it is started in. Only the library's own place is added, for a checkout that is not installed.
Python's documentation tells of the option under "Command line and environment".
"""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

QUIET = ["--ignore-cwd", "--InteractiveShellApp.exec_PYTHONSTARTUP=False"]


def command(part: str, *words: str) -> list[str]:
    """The command line that starts a `server` or a `kernel`."""
    return [sys.executable, "-I", "-X", "utf8", str(Path(__file__).resolve()), part, *words]


def _run(part: str, words: Sequence[str]) -> None:
    library = str(Path(__file__).resolve().parents[2])
    if library not in sys.path:
        sys.path.insert(0, library)
    os.umask(int(os.environ.get("ALARM_UMASK", "077"), 8))
    if part == "server":
        from jupyterlab.labapp import main

        sys.argv = ["jupyter-lab", *words]
        sys.exit(main())  # type: ignore[no-untyped-call]
    from ipykernel.kernelapp import launch_new_instance

    sys.argv = ["ipykernel_launcher", *words, *QUIET]
    launch_new_instance()


if __name__ == "__main__":
    _run(sys.argv[1], sys.argv[2:])
