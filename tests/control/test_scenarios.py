"""Every rule of the control unit as a scenario written by hand."""

from collections.abc import Callable
from typing import Any


def test_scenario(scenario: Any, scenario_failures: Callable[..., list[str]]) -> None:
    """All that the scenario says is noticed, when it says so."""
    assert scenario_failures(scenario) == []


def test_every_scenario_expects_something(scenarios: list[Any]) -> None:
    """No scenario passes by saying nothing."""
    assert [scenario.title for scenario in scenarios if not scenario.noticed] == []
