"""Plugin of the page stage: each page runs on its own copy of the proved demo home and sees no other page's edits."""

import os
import shutil
from pathlib import Path

import pytest

from alarmlib.store.kept_proofs import take_along

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
_given: set[Path] = set()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Before a page's first cell, and so before its kernel: lay out the copy and name it in ALARM_HOME."""
    if item.path.suffix != ".ipynb" or item.path in _given:
        return
    _given.add(item.path)
    factory: pytest.TempPathFactory = item.config._tmp_path_factory  # type: ignore[attr-defined]
    home = factory.mktemp(item.path.stem) / "home.json"
    shutil.copyfile(DEMO, home)
    take_along(DEMO, home)
    os.environ["ALARM_HOME"] = str(home)
