"""What Jupyter keeps for one home: everything is in the home's own folder, nothing in the reader's."""

from __future__ import annotations

import json
import os
from pathlib import Path

from alarmlib.lab.workbook import FIRST_PAGE

HIDDEN = ".workbook"
IDLE_S = 3600  # a kernel that nobody looks at is ended after this; common practice, no source

_PLACES = {
    "JUPYTER_CONFIG_DIR": "config",
    "JUPYTER_DATA_DIR": "data",
    "JUPYTER_RUNTIME_DIR": "runtime",
    "JUPYTERLAB_SETTINGS_DIR": "settings",
    "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
    "IPYTHONDIR": "ipython",
}


def place(folder: Path, variable: str) -> Path:
    """The folder that this environment variable points to for the home in `folder`."""
    return folder.resolve() / HIDDEN / _PLACES[variable]


def pages_note(folder: Path) -> Path:
    """The file that remembers which pages were laid out in a folder; where it is, the folder is a workbook's."""
    return folder / HIDDEN / "pages.json"


def environment(folder: Path, home: Path | None = None) -> dict[str, str]:
    """This process's environment, with Jupyter's folders inside the pages' and ALARM_HOME the home file."""
    own = {variable: str(place(folder, variable)) for variable in _PLACES}
    return {**os.environ, **own, "ALARM_HOME": str(home or folder.resolve() / "home.json")}


def write_settings(folder: Path) -> None:
    """Make Jupyter's folders for this home and the settings that each JupyterLab in `environment` reads."""
    for variable in _PLACES:
        place(folder, variable).mkdir(parents=True, exist_ok=True)
    config = place(folder, "JUPYTER_CONFIG_DIR")
    _write(config / "jupyter_lab_config.json", {"LabApp": _lab()})
    _write(config / "jupyter_server_config.json", _server(folder))


def _lab() -> dict[str, object]:
    return {
        "app_settings_dir": str(Path(__file__).parent / "settings"),
        "check_for_updates_class": "jupyterlab.handlers.announcements.NeverCheckForUpdate",
        "default_url": f"/doc/tree/{FIRST_PAGE}",
        "extension_manager": "readonly",
        "news_url": None,
    }


def _server(folder: Path) -> dict[str, object]:
    return {
        "ServerApp": {"root_dir": str(folder.resolve())},
        "FileCheckpoints": {"checkpoint_dir": f"{HIDDEN}/checkpoints"},
        "MappingKernelManager": {"cull_idle_timeout": IDLE_S, "cull_connected": False},
    }


def _write(path: Path, settings: dict[str, object]) -> None:
    path.write_text(json.dumps(settings, indent=1) + "\n", encoding="utf-8", newline="\n")
