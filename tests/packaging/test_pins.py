"""One version of each part: every range holds its pin, and what is installed here is what is pinned."""

import tomllib
from collections import defaultdict
from collections.abc import Iterable
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
RANGES = [*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["test"]]
FILE = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
OWN = {"alarmlib", "pip", "setuptools", "wheel"}
"""The project itself, and what a new environment brings; each is compared all the same where it is pinned."""


def read(lines: Iterable[str]) -> dict[str, list[Requirement]]:
    """Every pin by the name of its part."""
    pins = defaultdict[str, list[Requirement]](list)
    for line in lines:
        pin = Requirement(line)
        pins[canonicalize_name(pin.name)].append(pin)
    return pins


def version(pin: Requirement) -> str:
    """The one version that a pin allows."""
    (only,) = pin.specifier
    assert only.operator == "=="
    return only.version


def here(pins: dict[str, list[Requirement]]) -> dict[str, str]:
    """The version of each part that is meant for this Python and this computer."""
    meant = [(name, pin) for name, each in pins.items() for pin in each if not pin.marker or pin.marker.evaluate()]
    found = {name: version(pin) for name, pin in meant}
    assert len(found) == len(meant), "two pins of one part are meant for this computer"
    return found


def differences(pinned: dict[str, str], installed: dict[str, str]) -> list[str]:
    """What is installed in another version, installed without a pin, or pinned for here and not installed."""
    names = sorted(pinned.keys() | installed.keys())
    return [
        f"{name}: {installed.get(name, 'not installed')} here, {pinned.get(name, 'not pinned')} in constraints.txt"
        for name in names
        if pinned.get(name) != installed.get(name)
    ]


PINS = read(line for line in FILE if not line.startswith("#"))


@pytest.mark.parametrize("requirement", RANGES)
def test_each_range_holds_its_pin(requirement: str) -> None:
    """An ordinary `pip install` and a pinned one may give the same version, on every Python and computer."""
    wanted = Requirement(requirement)
    pins = PINS[canonicalize_name(wanted.name)]
    assert pins
    assert [str(pin) for pin in pins if not wanted.specifier.contains(version(pin), prereleases=False)] == []


def test_what_is_installed_here_is_what_is_pinned() -> None:
    """Pages are compared byte for byte, so no part may differ from the file, nor be missing in it."""
    installed = {canonicalize_name(part.metadata["Name"]): part.version for part in metadata.distributions()}
    assert installed["alarmlib"]
    brought = OWN - PINS.keys()
    assert differences(here(PINS), {name: each for name, each in installed.items() if name not in brought}) == []


@pytest.mark.parametrize("name", ["appnope", "colorama", "pywinpty"])
def test_other_computers_have_their_parts(name: str) -> None:
    """JupyterLab's terminal needs them on a Mac or on Windows: `python tests/pins.py` made the file for all."""
    (pin,) = PINS[name]
    assert pin.marker
    elsewhere = {"sys_platform": "darwin"} if name == "appnope" else {"sys_platform": "win32", "os_name": "nt"}
    assert pin.marker.evaluate(elsewhere)
    assert not pin.marker.evaluate({"sys_platform": "linux", "os_name": "posix"})


@pytest.mark.parametrize("python", ["3.11", "3.12", "3.13"])
def test_every_python_has_one_version_of_each_range(python: str) -> None:
    """No Python that we promise is left without a pin of what the project asks for."""
    for requirement in map(Requirement, RANGES):
        surround = {"python_version": python, "python_full_version": f"{python}.5"}
        pins = PINS[canonicalize_name(requirement.name)]
        assert len([pin for pin in pins if not pin.marker or pin.marker.evaluate(surround)]) == 1, requirement.name


def test_the_measure_finds_each_difference() -> None:
    """Another version, a part without a pin and a part that is not there."""
    pinned = here(read(["one==1", "two==2", "three==3; sys_platform == 'no such computer'", "four==4"]))
    assert differences(pinned, {"one": "1", "two": "2.1", "three": "3"}) == [
        "four: not installed here, 4 in constraints.txt",
        "three: 3 here, not pinned in constraints.txt",
        "two: 2.1 here, 2 in constraints.txt",
    ]
    assert not Requirement("x>=2,<3").specifier.contains(version(Requirement("x==3.0")))
