"""No module of the library needs, by any road, a module that needs it: also where an import is inside a function."""

import ast
from collections.abc import Iterator, Mapping

from parsed import TREES

Needs = Mapping[str, set[str]]


def needs(trees: Mapping[str, ast.Module]) -> Needs:
    """What each module imports of the others: at its top, in its functions, and for the type checker alone."""
    return {name: {other for other in _imported(tree, trees) if other != name} for name, tree in trees.items()}


def _imported(tree: ast.Module, known: Mapping[str, ast.Module]) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in known)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inside = f"{node.module}.{alias.name}"
                if inside in known or node.module in known:
                    yield inside if inside in known else node.module


def circles(graph: Needs) -> list[list[str]]:
    """The modules that need each other, circle by circle (two are in one circle if each reaches the other)."""
    reached = {name: _reached(graph, name) for name in graph}
    found = {
        frozenset(other for other in reached[name] if name in reached[other])
        for name in graph
        if name in reached[name]
    }  # fmt: skip
    return sorted(sorted(each) for each in found)


def _reached(graph: Needs, start: str) -> set[str]:
    """All that is needed by any road of at least one step."""
    seen: set[str] = set()
    waiting = list(graph[start])
    while waiting:
        here = waiting.pop()
        if here not in seen:
            seen.add(here)
            waiting += graph[here]
    return seen


def test_no_circle_of_imports() -> None:
    """A module can be read, and tested, without one that rests on it."""
    assert [" <-> ".join(circle) for circle in circles(needs(TREES))] == []


def test_every_module_is_looked_at() -> None:
    """The reader of imports sees ours: nearly every module needs another one."""
    graph = needs(TREES)
    assert "alarmlib.control.layout" in graph["alarmlib.control.setup"]
    assert sum(bool(others) for others in graph.values()) > 300


def test_a_circle_is_found_wherever_its_imports_are() -> None:
    """Of three modules in a circle one imports at its top, one in a function, one for the type checker."""
    sources = {
        "a": "from a import b\nimport d",
        "a.b": "def f():\n    from c import thing",
        "c": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import a",
        "d": "x = 1",
    }
    graph = needs({name: ast.parse(source) for name, source in sources.items()})
    assert circles(graph) == [["a", "a.b", "c"]]
    assert circles(graph | {"c": set()}) == []
