"""The rules of each country as data: every rule rests on a written source, and nobody asks which set it is."""

import ast
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import pytest

import alarmlib
from alarmlib.model import Home
from alarmlib.model.words import RuleSet
from alarmlib.rules import ALL, rules_of
from alarmlib.rules.rule import Bound, Rule
from alarmlib.sources import Status

PACKAGE = Path(alarmlib.__file__).parent


def parts(value: Any) -> Iterator[Rule | Bound]:
    """Every rule and every bound in it."""
    if isinstance(value, Rule | Bound):
        yield value
    elif is_dataclass(value) and not isinstance(value, type):
        for each in fields(value):
            yield from parts(getattr(value, each.name))


def test_every_set_that_a_home_may_have_has_its_rules() -> None:
    """A home of any file finds its rules."""
    assert set(ALL) == set(RuleSet)
    for rule_set in RuleSet:
        assert rules_of(Home.model_validate({"rules": {"rule_set": rule_set}})) is ALL[rule_set]


@pytest.mark.parametrize("rule_set", RuleSet)
def test_every_rule_has_a_source_that_is_written_down(rule_set: RuleSet) -> None:
    """`told` and `cite` raise where a key is unknown; each country has rules at all."""
    found = list(parts(ALL[rule_set]))
    assert len(found) > 10
    for each in found:
        source = Rule(each.cite).told if isinstance(each, Bound) else each.told
        assert source.title
        if isinstance(each, Rule):
            assert (each.clause, each.scope) == (source.clause, source.scope)


def test_a_rule_that_binds_was_seen() -> None:
    """Of what binds in some country nothing is known from memory alone."""
    for rules in ALL.values():
        assert [each.source for each in parts(rules)
                if isinstance(each, Rule) and each.binds and each.told.status is not Status.SEEN] == []  # fmt: skip


def compared(tree: ast.Module) -> list[int]:
    """The lines that ask which set of rules it is: `RuleSet.X`, or a comparison of `rule_set`."""
    lines = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and ast.unparse(node.value).endswith("RuleSet"):
            lines.append(node.lineno)
        if isinstance(node, ast.Compare) and "rule_set" in ast.unparse(node):
            lines.append(node.lineno)
        if isinstance(node, ast.Subscript) and "rule_set" in ast.unparse(node.slice):
            lines.append(node.lineno)
    return lines


def test_nobody_outside_asks_which_set_it_is() -> None:
    """A country is one module: whoever compares a set of rules elsewhere would need a change for a new country."""
    own = {PACKAGE / "rules" / "__init__.py"}
    default = PACKAGE / "model" / "home.py"  # the field's default alone
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        lines = compared(ast.parse(path.read_text(encoding="utf-8")))
        if lines and path not in own and not (path == default and len(lines) == 1):
            found[str(path)] = lines
    assert found == {}


def test_the_reader_sees_a_comparison() -> None:
    """The reader above finds each way to ask."""
    for line in ("a is RuleSet.US", "words.RuleSet.US", "home.rules.rule_set in _SOME", "TABLE[home.rules.rule_set]"):
        assert compared(ast.parse(line)), line
    assert compared(ast.parse("rules_of(home).entry")) == []
