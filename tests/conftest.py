"""Settings that every test shares, and a way to change one thing in a home."""

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from alarmlib.model import Home

settings.register_profile("fixed", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("fixed")


@pytest.fixture
def put() -> Callable[..., Home]:
    """`put(home, {"devices.keypad.room": "kitchen", "devices.siren": None, "devices.+": {...}})`: the home changed.

    A path names fields and, in lists, elements by id; None on an element takes it out; "+" adds one.
    """

    def change(home: Home, edits: dict[str, Any]) -> Home:
        whole = home.model_dump(mode="json")
        for path, value in edits.items():
            _set(whole, path.split("."), value)
        return Home.model_validate(whole)

    return change


def _set(whole: Any, path: list[str], value: Any) -> None:
    *steps, last = path
    for step in steps:
        whole = whole[step] if isinstance(whole, dict) else next(item for item in whole if item["id"] == step)
    if last == "+":
        whole.append(deepcopy(value))
    elif isinstance(whole, list):
        whole[:] = [item for item in whole if item["id"] != last]
    else:
        whole[last] = value
