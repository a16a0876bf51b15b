"""What an import costs: the calculations load nothing heavy, measured in a fresh Python each."""

import subprocess
import sys

import pytest

HEAVY = ("matplotlib", "pandas", "scipy", "numpy", "shapely", "networkx", "nbconvert", "nbclient", "jupyterlab")
FORMS = ("ipywidgets", "anywidget", "IPython")


def loaded(module: str) -> set[str]:
    """The top names of everything that a fresh Python has loaded after importing the module."""
    program = f"import sys, {module}; print(*{{name.split('.')[0] for name in sys.modules}})"
    return set(
        subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    )


@pytest.mark.parametrize(
    "module", ["alarmlib", "alarmlib.model", "alarmlib.calc", "alarmlib.control", "alarmlib.checks", "alarmlib.store"]
)
def test_the_library_below_the_forms_is_light(module: str) -> None:
    """Neither a form library nor a heavy one is loaded by a calculation, a check or the home file."""
    assert loaded(module) & {*HEAVY, *FORMS} == set()


@pytest.mark.parametrize("module", ["alarmlib.pages", "alarmlib.record", "alarmlib.lab.open", "alarmlib.__main__"])
def test_pages_and_commands_start_light(module: str) -> None:
    """A page's first line and the command line load no heavy library; only a page may load the forms."""
    forms = set() if module == "alarmlib.pages" else set(FORMS)
    assert loaded(module) & {*HEAVY, *forms} == set()


def test_the_measure_sees_a_heavy_library() -> None:
    """The measure itself: a module that does load numpy is caught."""
    assert "numpy" in loaded("scipy")
