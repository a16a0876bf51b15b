"""What was worked out is kept by Facts and by the home itself: nowhere is a memo of our own that outlives a home."""

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "alarmlib"
FLOORS = ("model", "rules", "calc", "facts", "control", "checks", "draft", "record")
"""Where homes are reckoned with. The proof keeps its pieces by what they read; above are sessions, files, one Facts."""
MAY = {
    "model/references.py": "which lists a kind of part refers to: by class",
    "model/typed.py": "which fields of a kind of part are typed: by class",
    "rules/words.py": "the patterns of a country's words, and of owners' texts in which they are: a few",
}
"""Where something is remembered beside a home, and what; none in `calc`, `facts`, `control` and `checks`."""
MEMOS = {"lru_cache", "cache"}
EMPTY = {"dict", "list", "set", "OrderedDict", "defaultdict", "WeakKeyDictionary", "WeakValueDictionary", "WeakSet"}


def memos(text: str) -> list[int]:
    """The lines on which a module remembers: a caching decorator, or something empty for all its functions to fill."""
    tree = ast.parse(text)
    decorated = (
        node.lineno
        for node in ast.walk(tree)
        if (isinstance(node, ast.ImportFrom) and node.module == "functools" and _named(node) & MEMOS)
        or (isinstance(node, ast.Attribute) and node.attr in MEMOS and ast.unparse(node.value) == "functools")
    )
    return sorted({*decorated, *(node.lineno for node in tree.body if _to_be_filled(node))})


def _named(node: ast.ImportFrom) -> set[str]:
    return {alias.name for alias in node.names}


def _to_be_filled(node: ast.stmt) -> bool:
    if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
        return False
    value = node.value
    if isinstance(value, ast.Call):
        return not value.args and ast.unparse(value.func).rpartition(".")[2] in EMPTY
    return (isinstance(value, ast.Dict) and not value.keys) or (isinstance(value, ast.List) and not value.elts)


def queries(text: str) -> Iterator[ast.FunctionDef]:
    """The functions that are asked of a home."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef) and any(ast.unparse(each) == "asked" for each in node.decorator_list):
            yield node


def homes_handed_on(query: ast.FunctionDef) -> list[str]:
    """What a query is asked about that is a home or facts: what it reads of that would go unnoted."""
    _home, *rest = (*query.args.args, *filter(None, (query.args.vararg,)), *query.args.kwonlyargs)
    named = ((each.arg, ast.unparse(each.annotation) if each.annotation else "") for each in rest)
    return [name for name, kind in named if {"Home", "Facts"} & set(kind.replace('"', " ").replace("'", " ").split())]


def _texts() -> dict[str, str]:
    paths = (path for path in PACKAGE.rglob("*.py") if "_workbook" not in path.parts)
    return {path.relative_to(PACKAGE).as_posix(): path.read_text(encoding="utf-8") for path in paths}


def test_nobody_else_remembers() -> None:
    """Each that may is here with its reason, and still does. Seen before: 17 memos by homes, plans and outlines."""
    found = {name for name, text in _texts().items() if name.partition("/")[0] in FLOORS and memos(text)}
    assert found == MAY.keys()


def test_a_query_is_asked_of_one_home() -> None:
    """A home handed on beside it would be read unnoted; and nothing is by name only: a query is asked by position."""
    asked = [(name, query) for name, text in _texts().items() for query in queries(text)]
    assert len(asked) > 30
    assert [(name, query.name) for name, query in asked if homes_handed_on(query) or query.args.kwonlyargs] == []


def test_facts_hold_no_home_of_their_own() -> None:
    """In facts/ a home is what it is given: none is made or read from a file."""
    made = [
        f"{name}: {ast.unparse(node)}"
        for name, text in _texts().items() if name.startswith("facts/")
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and ast.unparse(node.func).partition(".")[0] == "Home"
    ]  # fmt: skip
    assert made == []


def test_the_rules_see_what_they_forbid() -> None:
    """The measure itself: decorators by both ways of import, empty stores at the top alone, a second home."""
    assert memos("from functools import lru_cache\n_KEPT: dict[str, int] = {}\n") == [1, 2]
    assert memos("import functools\n@functools.cache\ndef f(): ...\nx = weakref.WeakKeyDictionary()\n") == [2, 4]
    assert memos("from functools import cached_property\nA = {'a': 1}\nB = ()\ndef f():\n    x = {}\n") == []
    (one, other) = queries("@asked\ndef f(home: 'Home', of: Home | None): ...\n@asked\ndef g(home, place: str): ...\n")
    assert homes_handed_on(one) == ["of"]
    assert homes_handed_on(other) == []
