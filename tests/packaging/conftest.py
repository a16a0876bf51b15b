"""The two commands as modules, read from where they are."""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]


def _load(name: str, path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def start() -> ModuleType:
    """workbook/start.py."""
    return _load("start", ROOT / "workbook" / "start.py")


@pytest.fixture(scope="session")
def runner(start: ModuleType) -> ModuleType:
    """tests/run.py."""
    return _load("tests_run", ROOT / "tests" / "run.py")


@pytest.fixture(scope="session")
def audit() -> ModuleType:
    """tests/audit.py."""
    return _load("tests_audit", ROOT / "tests" / "audit.py")
