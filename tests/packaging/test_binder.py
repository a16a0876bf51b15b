"""The files for a hosted session: same versions as here, wired by repo2docker, prepared as `open` prepares."""

import json
import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BINDER = ROOT / "binder"


def test_requirements_are_the_projects_own_ranges_held_to_the_pins() -> None:
    """A hosted session gets the versions that the tests ran with: the path of the pins is read from that folder."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = (BINDER / "requirements.txt").read_text(encoding="utf-8").splitlines()
    pins, *ranges = [line for line in lines if not line.startswith("#")]
    assert ranges == project["dependencies"]
    assert pins.startswith("-c ")
    assert (BINDER / pins.removeprefix("-c ")).resolve() == ROOT / "constraints.txt"


def test_runtime_is_the_oldest_python_we_promise() -> None:
    """One Python is named in both places."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    version = (BINDER / "runtime.txt").read_text(encoding="utf-8").strip().removeprefix("python-")
    assert project["requires-python"] == f">={version}"


@pytest.mark.outside
def test_repo2docker_wires_every_file(tmp_path: Path) -> None:
    """repo2docker's own no-build run finds a Python of that version, the requirements, postBuild and start.

    It proves the wiring; no image is built.
    """
    shutil.copytree(BINDER, tmp_path / "binder")
    shutil.copy(ROOT / "constraints.txt", tmp_path)
    command = [sys.executable, "-m", "repo2docker", "--no-build", "--debug", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    words = done.stdout + done.stderr
    assert done.returncode == 0, words
    for part in ("binder/requirements.txt", "binder/postBuild", "binder/start"):
        assert part in words
    assert "Building conda environment for python=3.11" in words


def test_start_prepares_and_hands_over(tmp_path: Path) -> None:
    """`start` lays out the home's folder, sets Jupyter's folders and becomes the program that it was given."""
    told = "import json, os; print(json.dumps([os.getcwd(), os.environ['JUPYTER_DATA_DIR'], os.environ['ALARM_HOME']]))"
    runs = tmp_path / "runs"
    runs.mkdir()
    surround = {**os.environ, "HOME": str(tmp_path), "PYTHONPATH": str(ROOT), "XDG_RUNTIME_DIR": str(runs)}
    command = [sys.executable, str(BINDER / "start"), sys.executable, "-c", told]
    done = subprocess.run(command, capture_output=True, text=True, env=surround, timeout=60, check=False)
    assert done.returncode == 0, done.stderr
    folder = (tmp_path / "my-home").resolve()
    place, data, home = json.loads(done.stdout)
    assert (place, home) == (str(folder), str(folder / "home.json"))
    assert (folder / "00_start.ipynb").is_file()
    assert Path(data).is_relative_to(runs.resolve())
    assert (Path(data) / "kernels" / "python3" / "kernel.json").is_file()


def test_scripts_can_be_run() -> None:
    """Both scripts are marked as programs, as repo2docker's documentation asks."""
    assert all(os.access(BINDER / name, os.X_OK) for name in ("postBuild", "start"))
