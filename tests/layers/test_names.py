"""One public name, one meaning; long lists of values by name; a reference is to a source."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from parsed import MODULES, PACKAGE, TREES, name_of

from alarmlib.sources import every_source

MOST_UNNAMED = 6  # values given by their place alone; a star counts as one
ROWS_OF_TABLES = PACKAGE / "sources"  # each source is a row: key, title, year, publisher, what it says, status, scope
KEYS = {source.key for source in every_source()}
LIBRARIES = ("networkx", "ngspice", "numpy", "pint", "scipy", "shapely", "SPIN")
OUTSIDE = re.compile(
    r"\b[A-Z]{2,}[A-Z/]*[ -]?[A-Z]?\d|\b(19|20)\d\d\b"  # a standard with its number; a year
    r"|\btextbook\b|common practice|common usage|from memory|\bthe owner's\b|\bmanuals?\b"
    r"|Dijkstra|Douglas and Peucker|Fruin|Held and Karp|Introduction to Acoustics|NIOSH|Peukert|Python's own"
    rf"|\b({'|'.join(LIBRARIES)})\b"
)
OURS = re.compile(r"computed here|this project|see below|common sense|^(our|ours|own)\b", re.IGNORECASE)


def _public_types(tree: ast.Module) -> Iterator[tuple[str, bool]]:
    """The public classes of a module (True) and its names for types (False): `Point = tuple[float, float]`."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, True
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Subscript | ast.BinOp):
            yield from (
                (target.id, False) for target in node.targets if isinstance(target, ast.Name) and _is_type(target.id)
            )


def _is_type(name: str) -> bool:
    return name[0].isupper() and not name.isupper()


def twice(trees: Mapping[str, ast.Module]) -> dict[str, list[str]]:
    """The public names of classes that are a class's or another type's in a second module too."""
    classes: dict[str, list[str]] = defaultdict(list)
    others: dict[str, list[str]] = defaultdict(list)
    for module, tree in trees.items():
        for name, is_class in _public_types(tree):
            (classes if is_class else others)[name].append(module)
    found = {name: modules + others[name] for name, modules in classes.items()}
    return {name: modules for name, modules in found.items() if len(set(modules)) > 1}


def test_no_public_class_has_the_name_of_another() -> None:
    """A reader who meets a class's name knows which one it is."""
    assert twice(TREES) == {}


def unnamed(tree: ast.Module) -> Iterator[tuple[int, str, int]]:
    """Line, what is called, and how many values it is given by their place alone."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield node.lineno, ast.unparse(node.func), len(node.args)


@pytest.mark.parametrize(
    "path", [path for path in MODULES if ROWS_OF_TABLES not in path.parents], ids=lambda p: str(p.relative_to(PACKAGE))
)
def test_many_values_are_given_by_name(path: Path) -> None:
    """Nobody counts commas to know what the ninth value is. (Parts of the home that a check reads are a plain list.)"""
    calls = unnamed(TREES[name_of(path)])
    assert [call for call in calls if call[2] > MOST_UNNAMED and call[1] not in {"check", "dated_check"}] == []


def modules_as_values(tree: ast.Module) -> list[int]:
    """The lines on which a module is handled as if it were a value: its type, or what it holds asked for by name."""
    return [
        node.lineno
        for node in ast.walk(tree)
        if ast.unparse(node) in ("ModuleType", "types.ModuleType")
        or (isinstance(node, ast.Call) and ast.unparse(node.func) in ("getattr", "hasattr", "vars")
            and ast.unparse(node.args[0] if node.args else node.func).startswith("module"))
    ]  # fmt: skip


def test_sections_and_groups_of_checks_are_values() -> None:
    """A section of the record and a group of checks are dataclasses with typed fields, never modules."""
    assert {name: lines for name, tree in TREES.items() if (lines := modules_as_values(tree))} == {}


def references(tree: ast.Module) -> Iterator[str]:
    """What each `Reference:` of the docstrings of a module says, to the end of its paragraph."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            for paragraph in (ast.get_docstring(node) or "").split("\n\n"):
                _, sign, said = " ".join(paragraph.split()).partition("Reference:")
                if sign:
                    yield said.strip()


def filler(said: str) -> bool:
    """Whether a reference names nothing outside, or names something of ours: a module, a function, our own work."""
    named = re.findall(r"`([^`]+)`", said)
    ours = [name for name in named if name not in KEYS and not name.startswith(LIBRARIES)]
    return bool(ours or OURS.search(said)) or not (set(named) & KEYS or OUTSIDE.search(said))


@pytest.mark.parametrize("module", TREES)
def test_a_reference_names_a_source_outside(module: str) -> None:
    """A reference is a source by its key, a standard, a book, a method of the textbooks, a library or the owner's own.

    What rests on another function of ours says so in a plain sentence; it is no reference.
    """
    assert [said for said in references(TREES[module]) if filler(said)] == []


@pytest.mark.parametrize(
    ("said", "is_filler"),
    [
        ("computed here.", True),
        ("our own.", True),
        ("as `step`.", True),
        ("`alarmlib.control.machine.step`.", True),
        ("breadth-first search, textbook, over `step`.", True),
        ("UL 1641 15.3.1 (`ul1641_steps`); computed here.", True),
        ("reachability in a graph.", True),
        ("the modules that make them.", True),
        ("four steps (`ul1641_steps`).", False),
        ("set cover by branch and bound (`scipy.optimize.milp`).", False),
        ("Owen and Bacon 1996, table 2.", False),
        ("NFPA 72 household chapter.", False),
        ("textbook plane geometry.", False),
        ("common practice, no source.", False),
    ],
)
def test_filler__is_told_from_a_source(said: str, is_filler: bool) -> None:
    assert filler(said) is is_filler


def test_the_rules_see_what_they_forbid() -> None:
    """Each reader above finds what it is for."""
    one = ast.parse("from alarmlib import b\nclass Step:\n    pass")
    other = ast.parse(
        'def f():\n    """Sum.\n\n    Reference: computed here."""\n    import alarmlib.a\nStep = tuple[int]'
    )
    trees = {"alarmlib.a": one, "alarmlib.b": other}
    assert twice(trees) == {"Step": ["alarmlib.a", "alarmlib.b"]}
    as_values = ast.parse("from types import ModuleType\ngetattr(module, 'ID')\ngetattr(part, 'id')")
    assert modules_as_values(as_values) == [1, 2]
    assert next(unnamed(ast.parse("f(1, 2, *a, k=3)"))) == (1, "f", 3)
    assert [filler(said) for said in references(other)] == [True]
