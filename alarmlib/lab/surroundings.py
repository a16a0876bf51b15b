"""What Jupyter is told for one run of a workbook: its folders, its settings, who may do what; all from the library."""

from __future__ import annotations

import json
import os
import shutil
import sys
from pathlib import Path

from alarmlib.lab import isolated
from alarmlib.lab.left_off import page_left
from alarmlib.lab.run_place import sockets_fit
from alarmlib.store.modes import HIDDEN, close_all, is_shared

IDLE_S = 3600  # a kernel that nobody looks at is ended after this; common practice, no source
EXTENSION = "alarmlib-run-on-open"
_HERE = Path(__file__).parent
_LOOK = _HERE.parent / "record" / "template" / "look.css"  # the bar is there before the first form brings it along
_FOREIGN = ("JUPYTER", "IPYTHON", "PYTHON")  # variables that would bring settings or code from elsewhere
_FILE = "connection_file"
_CONNECTION = f"{{{_FILE}}}"  # where Jupyter puts the path of the file by which a kernel is spoken to

_PLACES = {
    "JUPYTER_CONFIG_DIR": "config",
    "JUPYTER_DATA_DIR": "data",
    "JUPYTER_RUNTIME_DIR": "runtime",
    "JUPYTERLAB_SETTINGS_DIR": "settings",
    "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
    "IPYTHONDIR": "ipython",
}


def place(run: Path, variable: str) -> Path:
    """The folder that this variable points to in one run."""
    return run / _PLACES[variable]


def pages_note(folder: Path) -> Path:
    """The file that remembers which pages were laid out in a folder; where it is, the folder is a workbook's."""
    return folder / HIDDEN / "pages.json"


def own_variables(run: Path, folder: Path, home: Path | None = None) -> dict[str, str]:
    """What is set for the processes of one run: Jupyter's folders in it, and ALARM_HOME the home file.

    In an environment of its own, Jupyter would take kernels, extensions and settings from there first.
    """
    own = {variable: str(place(run, variable)) for variable in _PLACES}
    umask = "007" if is_shared(folder / HIDDEN) else "077"
    own["JUPYTER_PREFER_ENV_PATH"] = "0"
    return {**own, "ALARM_HOME": str(home or folder.resolve() / "home.json"), "ALARM_UMASK": umask}


def environment(run: Path, folder: Path, home: Path | None = None) -> dict[str, str]:
    """This process's environment for a server of one run: nobody else's settings for Jupyter or Python are in it."""
    kept = {name: value for name, value in os.environ.items() if not name.upper().startswith(_FOREIGN)}
    return {**kept, **own_variables(run, folder, home)}


def write_settings(run: Path, folder: Path, token: str | None = None) -> None:
    """Fill the folders of one run: settings, the one kind of kernel, the extension. `token` is the server's key."""
    for variable in _PLACES:
        place(run, variable).mkdir(mode=0o700, exist_ok=True)
    config, data = place(run, "JUPYTER_CONFIG_DIR"), place(run, "JUPYTER_DATA_DIR")
    shutil.copytree(_HERE / "extension", data / "labextensions" / EXTENSION)
    shutil.copyfile(_LOOK, own_pages(run).with_name(_LOOK.name))
    begin_with(run, tools=False)
    _write(data / "kernels" / "python3" / "kernel.json", _kernel())
    _write(config / "jupyter_lab_config.json", {"LabApp": _lab(page_left(folder))})
    _write(config / "jupyter_server_config.json", _server(run, folder, token))
    close_all(run)


def own_pages(run: Path) -> Path:
    """The list of the library's own pages that the server and the pages' extension of one run read."""
    return place(run, "JUPYTER_DATA_DIR") / "labextensions" / EXTENSION / "static" / "pages.json"


def begin_with(run: Path, tools: bool) -> None:
    """Say whether pages that are opened in one run begin with the notebook's tools in sight."""
    _write(own_pages(run).with_name("begin.json"), {"tools": tools})


def _lab(page: str) -> dict[str, object]:
    return {
        "app_settings_dir": str(_HERE / "settings"),
        "check_for_updates_class": "jupyterlab.handlers.announcements.NeverCheckForUpdate",
        "default_url": f"/doc/tree/{page}",
        "extension_manager": "readonly",
        "news_url": None,
    }


def _server(run: Path, folder: Path, token: str | None) -> dict[str, object]:
    """Settings of the server; a token that is told here is printed in no log."""
    told: dict[str, object] = {
        "ServerApp": {
            "root_dir": str(folder.resolve()),
            "authorizer_class": "alarmlib.lab.served.authority.PagesOnly",
            "contents_manager_class": "alarmlib.lab.served.contents.PageContents",
            "jpserver_extensions": {
                "jupyterlab": True,
                "alarmlib.lab.served": True,
                "jupyter_lsp": False,
                "jupyter_server_terminals": False,
                "notebook_shim": False,
            },
            "terminals_enabled": False,
        },
        "FileCheckpoints": {"checkpoint_dir": f"{HIDDEN}/checkpoints"},
        "PageContents": {"own_pages": str(own_pages(run))},
        "KernelSpecManager": {"allowed_kernelspecs": ["python3"], "ensure_native_kernel": False},
        "KernelManager": {"transport": "ipc" if sockets_fit(run) else "tcp"},
        "MappingKernelManager": {"cull_idle_timeout": IDLE_S, "cull_connected": False},
    }
    return told if token is None else {**told, "IdentityProvider": {"token": token}}


def _kernel() -> dict[str, object]:
    """The installed kernel as it describes itself, started alone; what it lets others debug is left out."""
    shipped = Path(sys.prefix) / "share" / "jupyter" / "kernels" / "python3" / "kernel.json"
    try:
        told = json.loads(shipped.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        told = {"display_name": "Python 3 (ipykernel)", "language": "python"}
    return {**told, "argv": isolated.command("kernel", "-f", _CONNECTION), "metadata": {"debugger": False}}


def _write(path: Path, settings: dict[str, object]) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    path.write_text(json.dumps(settings, indent=1) + "\n", encoding="utf-8", newline="\n")
    path.chmod(0o600)
