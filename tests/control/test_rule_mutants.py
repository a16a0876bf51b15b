"""A control unit with one rule or one fact changed is caught by a scenario.

Rules: every condition in the parts that hold the rules is turned round, one at a time, in a copy of the package; the
scenarios and the list of the function table are the judges. Facts: every number and choice of the unit in that house.
"""

import ast
import dataclasses
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from enum import Enum
from pathlib import Path
from types import CodeType, ModuleType, SimpleNamespace
from typing import Any

import pytest

from alarmlib import control

PACKAGE = Path(control.__file__).parent
PARTS = (  # each after those it imports
    "system_faults",
    "zone_memory",
    "area_part",
    "exiting",
    "setting",
    "actions",
    "fault_part",
    "zone_part",
    "unit_part",
    "machine",
)

# Conditions that may be turned round without anybody noticing, each with its reason.
HARMLESS = {
    ("machine", "any(s[:len(U)])"): "only saves time: nothing of the unit runs when all its numbers are 0",
}


class _Turn(ast.NodeTransformer):
    """Turns the n-th condition round."""

    def __init__(self, wanted: int) -> None:
        self.wanted, self.at, self.text = wanted, -1, ""

    def _turned(self, test: ast.expr) -> ast.expr:
        self.at += 1
        if self.at != self.wanted:
            return test
        self.text = ast.unparse(test)
        return ast.copy_location(ast.UnaryOp(ast.Not(), test), test)

    def visit_If(self, node: ast.If) -> ast.AST:
        self.generic_visit(node)
        node.test = self._turned(node.test)
        return node

    def visit_IfExp(self, node: ast.IfExp) -> ast.AST:
        self.generic_visit(node)
        node.test = self._turned(node.test)
        return node

    def visit_comprehension(self, node: ast.comprehension) -> ast.AST:
        self.generic_visit(node)
        node.ifs = [self._turned(test) for test in node.ifs]
        return node

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self.generic_visit(node)
        node.values = [self._turned(value) for value in node.values]
        return node


def conditions(part: str) -> Iterator[tuple[int, str]]:
    """Every condition of a part, numbered."""
    source = (PACKAGE / f"{part}.py").read_text("utf-8")
    counter = _Turn(-2)
    counter.visit(ast.parse(source))
    for number in range(counter.at + 1):
        turn = _Turn(number)
        turn.visit(ast.parse(source))
        yield number, turn.text


COPY = "changed_control"


def as_copy(tree: ast.Module) -> CodeType:
    """Code whose imports of the parts go to the copy; the types beside them stay shared."""
    text = ast.unparse(ast.fix_missing_locations(tree))
    for part in PARTS:
        text = text.replace(f"alarmlib.control.{part} import", f"{COPY}.{part} import")
    return compile(text.replace("from alarmlib.control import", f"from {COPY} import"), COPY, "exec")


def parse(part: str) -> ast.Module:
    """The source of a part."""
    return ast.parse((PACKAGE / f"{part}.py").read_text("utf-8"))


def changed_unit(part: str, number: int, right: dict[str, CodeType]) -> Any:
    """The package with one condition of one part turned round."""
    package = ModuleType(COPY)
    package.__path__ = []
    package.__dict__["inputs"] = control.inputs
    sys.modules[COPY] = package
    for name in PARTS:
        code = as_copy(_Turn(number).visit(parse(name))) if name == part else right[name]
        module = ModuleType(f"{COPY}.{name}")
        sys.modules[module.__name__] = module
        setattr(package, name, module)
        exec(code, module.__dict__)
    return SimpleNamespace(setup=control.setup, inputs=control.inputs, machine=sys.modules[f"{COPY}.machine"])


@pytest.fixture(scope="module")
def right() -> Iterator[dict[str, CodeType]]:
    """The parts as they are, ready to be loaded beside a changed one."""
    yield {part: as_copy(parse(part)) for part in PARTS}
    for name in [name for name in sys.modules if name.split(".")[0] == COPY]:
        del sys.modules[name]


def test_the_copy_plays_the_scenarios_as_the_package_does(
    right: dict[str, CodeType], scenarios: list[Any], scenario_failures: Callable[..., list[str]]
) -> None:
    """With nothing turned round every scenario holds, so that a caught change is the change's doing."""
    unit = changed_unit("machine", -2, right)
    assert [scenario.title for scenario in scenarios if scenario_failures(scenario, control=unit)] == []


@pytest.mark.parametrize("part", PARTS)
def test_every_condition_turned_round_is_caught(
    part: str, right: dict[str, CodeType], scenarios: list[Any], scenario_failures: Callable[..., list[str]]
) -> None:
    """Each rule of this part is told by at least one scenario."""
    missed = [
        f"{number}: {text}"
        for number, text in conditions(part)
        if (part, text) not in HARMLESS
        and not _caught(lambda number=number: changed_unit(part, number, right), scenarios, scenario_failures)
    ]
    assert missed == []


def _caught(make: Callable[[], Any], scenarios: list[Any], scenario_failures: Callable[..., list[str]]) -> bool:
    try:
        unit = make()
        return any(scenario_failures(scenario, control=unit) for scenario in scenarios)
    except (KeyError, IndexError, ValueError, AttributeError, TypeError, RecursionError):
        return True


def other_values(value: Any) -> list[Any]:
    """Other values a fact could have."""
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, Enum):
        return [each for each in type(value) if each is not value]
    if not isinstance(value, int):
        return []
    return [value + 1, 0] if value else [1]


def fact_mutants(house: Any) -> Iterator[tuple[str, Callable[[Any], Any]]]:
    """Every fact with another value, put into the unit of every scenario; the same fact of zones under one name."""
    for field in dataclasses.fields(house.behaviour):
        for value in other_values(getattr(house.behaviour, field.name)):
            yield (
                f"{field.name}={value}",
                lambda unit, name=field.name, value=value: replace(
                    unit, behaviour=replace(unit.behaviour, **{name: value})
                ),
            )
    for kind in ("areas", "zones", "watches"):
        for at, one in enumerate(getattr(house, kind)):
            for field in dataclasses.fields(one):
                for value in other_values(getattr(one, field.name)):
                    yield f"{kind} {field.name}", _one_changed(kind, at, field.name, value)


def _one_changed(kind: str, at: int, name: str, value: Any) -> Callable[[Any], Any]:
    def change(unit: Any) -> Any:
        many = list(getattr(unit, kind))
        many[at] = replace(many[at], **{name: value})
        return replace(unit, **{kind: tuple(many)})

    return change


def test_every_changed_fact_is_caught(
    scenario_house: Any, scenarios: list[Any], scenario_failures: Callable[..., list[str]]
) -> None:
    """Each fact of the unit's behaviour, changed, and each kind of fact of a zone, area or watch, changed in at
    least one of them, makes a scenario come out otherwise."""
    caught: dict[str, bool] = {}
    for name, change in fact_mutants(scenario_house):
        if not caught.get(name):
            caught[name] = any(scenario_failures(scenario, change) for scenario in scenarios)
    assert [name for name, told in caught.items() if not told] == []
    assert len(caught) > 40
