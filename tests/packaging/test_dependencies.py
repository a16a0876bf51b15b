"""What is imported is declared, and what is declared is imported or needed by name at run time."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
LIBRARY, TESTS = PROJECT["dependencies"], PROJECT["optional-dependencies"]["test"]

AT_RUN_TIME = {
    "ipykernel": "the kernel in which every page runs",
    "ipywidgets": "its half in JupyterLab draws every form",
    "jupyterlab": "the command `open` starts it as a program",
}
"""Never imported by the library, and needed."""

AT_TEST_TIME = {
    "build": "`python -m build` makes the wheel",
    "hatchling": "builds that wheel without fetching anything",
    "jupyter-repo2docker": "run as a program on `binder/`",
    "mypy": "a stage of `tests/run.py`",
    "nbval": "a plug-in of pytest that runs the pages",
    "pandas": "the empty pages of `tests/benchmarks/headless_pages.py` import it",
    "pip-audit": "`tests/audit.py` asks it for known holes",
    "pytest-cov": "a plug-in of pytest that `--coverage` of `tests/run.py` asks for",
    "pytest-xdist": "a plug-in of pytest that runs tests side by side",
    "ruff": "a stage of `tests/run.py`",
    "scipy-stubs": "what mypy knows of SciPy",
    "uv": "`tests/pins.py` and `--lowest` of `tests/run.py` choose versions with it",
}
"""Never imported by a test, and needed."""


def imported(paths: Iterable[Path]) -> set[str]:
    """The distributions that these modules import, at the top or inside a function, without Python's own and ours."""
    paths = tuple(paths)
    ours = {"alarmlib", "start", *(path.stem for path in paths)}
    found = set[str]()
    for path in paths:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.Import(names=names):
                    found |= {each.name.split(".")[0] for each in names}
                case ast.ImportFrom(module=str(module), level=0):
                    found.add(module.split(".")[0])
    return {_as_distribution(name) for name in found - sys.stdlib_module_names - ours}


def _as_distribution(name: str) -> str:
    return name.lower().replace("_", "-")


def declared(requirements: Iterable[str]) -> set[str]:
    """The names of these requirements."""
    return {_as_distribution(re.split(r"[<>=!~\[; ]", each)[0]) for each in requirements}


LIBRARY_FILES = sorted((ROOT / "alarmlib").rglob("*.py"))
TEST_FILES = sorted((ROOT / "tests").rglob("*.py"))


def test_what_the_library_imports_is_declared() -> None:
    """Nothing is used that only comes along with something else."""
    assert imported(LIBRARY_FILES) - declared(LIBRARY) == set()


def test_what_is_declared_is_used() -> None:
    """Nothing is installed on an owner's machine that nothing there needs."""
    assert declared(LIBRARY) == imported(LIBRARY_FILES) | AT_RUN_TIME.keys()


def test_what_the_tests_import_is_declared() -> None:
    """In the test extra, or among the library's own."""
    assert imported(TEST_FILES) - declared(TESTS) - declared(LIBRARY) == set()


def test_what_the_test_extra_declares_is_used() -> None:
    """And nothing is in both lists."""
    assert declared(TESTS) == (imported(TEST_FILES) - declared(LIBRARY)) | AT_TEST_TIME.keys()


@pytest.mark.parametrize("requirement", LIBRARY)
def test_each_range_has_both_ends(requirement: str) -> None:
    """The oldest version that is known to do, and the next that may break."""
    assert re.fullmatch(r"[a-z0-9-]+>=[0-9.]+,<[0-9.]+", requirement)


def test_the_reader_sees_imports_inside_functions(tmp_path: Path) -> None:
    """The measure itself: an import deep inside is found, Python's own and ours are not."""
    module = tmp_path / "sample.py"
    lines = ("import os, alarmlib.model", "def f():", "    from IPython.display import display", "")
    module.write_text("\n".join(lines), encoding="utf-8")
    assert imported([module]) == {"ipython"}
    assert declared(["numpy>=1.26,<3", "sound_propagation>=0.1", "x [y]; z"]) == {"numpy", "sound-propagation", "x"}
