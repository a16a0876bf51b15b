"""The floors of the house: who may import whom, what is pure, and what is loaded late."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from parsed import MODULES, PACKAGE, TREES, name_of

ROWS = (
    ("errors",),
    ("units", "sources"),
    ("model",),
    ("rules",),
    ("calc",),
    ("facts",),
    ("control",),
    ("proof",),
    ("checks",),
    ("store", "draft"),
    ("record",),
    ("widgets",),
    ("pages", "lab"),
    ("__main__",),
)
ROW = {name: number for number, row in enumerate(ROWS) for name in row}
PURE = ("rules", "calc", "facts", "control", "proof", "checks")
HEAVY = {"pandas", "scipy", "numpy", "shapely", "networkx", "nbconvert", "nbclient", "nbformat", "matplotlib"}
HEAVY |= {"jupyterlab", "jupyter_server", "IPython", "ipywidgets", "anywidget"}
OUTSIDE_WORLD = {"os", "pathlib", "io", "time", "sys", "shutil", "subprocess", "socket", "tempfile", "logging", "uuid"}
EXPORTER = PACKAGE / "record" / "exporter.py"  # a class of nbconvert's, loaded by nbconvert
SERVED = PACKAGE / "lab" / "served"  # classes of jupyter_server's, loaded inside the server
CLOCKS = {"now", "today", "utcnow"}


def _row_name(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def _tree(path: Path) -> ast.Module:
    return TREES[name_of(path)]


def _imported(nodes: Iterator[ast.AST]) -> Iterator[tuple[int, str]]:
    """Line and full name of all that is imported; `from alarmlib import calc` counts as alarmlib.calc."""
    for node in nodes:
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)


def _at_the_top(tree: ast.Module) -> Iterator[ast.AST]:
    """The nodes that run when a module is imported: everything outside functions and blocks for the type checker."""
    waiting: list[ast.AST] = list(tree.body)
    while waiting:
        node = waiting.pop()
        checked_only = isinstance(node, ast.If) and ast.unparse(node.test) in ("TYPE_CHECKING", "typing.TYPE_CHECKING")
        if not checked_only and not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            yield node
            waiting.extend(ast.iter_child_nodes(node))


def test_every_part_of_the_library_has_a_row() -> None:
    """A new package must be given its place before it is built; every row is there."""
    assert {_row_name(path) for path in MODULES} - {"__init__"} == set(ROW)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_go_downwards_only(path: Path) -> None:
    """A module imports only from its own part and from rows above it in the list."""
    own = _row_name(path)
    wrong = []
    for line, name in _imported(ast.walk(_tree(path))):
        parts = name.split(".")
        if parts[0] != "alarmlib" or parts[1] not in ROW or parts[1] == own:
            continue
        if own == "__init__" or ROW[parts[1]] >= ROW[own]:
            wrong.append(f"line {line}: {name}")
    assert wrong == []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_relative_imports(path: Path) -> None:
    """Every import of ours is written in full, so that the test above sees it."""
    assert [node.lineno for node in ast.walk(_tree(path)) if isinstance(node, ast.ImportFrom) and node.level] == []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_heavy_libraries_are_loaded_where_they_are_used(path: Path) -> None:
    """No heavy library at the top of a module; the forms' two libraries only at the top of modules in widgets."""
    allowed = {"ipywidgets", "anywidget"} if _row_name(path) == "widgets" else set()
    allowed |= {"nbconvert"} if path == EXPORTER else set()
    allowed |= {"jupyter_server"} if path.is_relative_to(SERVED) else set()
    wrong = [
        (line, name) for line, name in _imported(_at_the_top(_tree(path))) if name.split(".")[0] in HEAVY - allowed
    ]
    assert wrong == []


@pytest.mark.parametrize(
    "path", [path for path in MODULES if _row_name(path) in PURE], ids=lambda path: str(path.relative_to(PACKAGE))
)
def test_calculations_are_pure(path: Path) -> None:
    """calc, control and checks touch no file, clock, display or global, and draw no unseeded random number."""
    wrong = [f"imports {name}" for _, name in _imported(ast.walk(_tree(path))) if name.split(".")[0] in OUTSIDE_WORLD]
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Global):
            wrong.append(f"line {node.lineno}: global")
        if isinstance(node, ast.Call):
            wrong += [f"line {node.lineno}: {what}" for what in _reaching_out(node)]
    assert wrong == []


def _reaching_out(call: ast.Call) -> Iterator[str]:
    match call.func:
        case ast.Name(id="open" | "print" | "input" as name):
            yield name
        case ast.Attribute(value=ast.Name(), attr=name) if name in CLOCKS:
            yield name
        case ast.Attribute(value=ast.Name(id="random"), attr=name) if name != "Random" or not call.args:
            yield f"random.{name} without a seed"
        case ast.Attribute(attr="default_rng") if not call.args:
            yield "default_rng without a seed"


def test_no_file_is_a_drawer_for_odds_and_ends() -> None:
    """A module is named after what it holds."""
    assert [path for path in MODULES if path.stem in ("utils", "helpers", "misc", "common")] == []


def test_the_rules_see_what_they_forbid() -> None:
    """The two readers above find an import and a clock wherever they are, and leave a function's imports alone."""
    tree = ast.parse(
        "from alarmlib import pages\nclass A:\n    import pandas\ndef f():\n    import scipy\nx = lambda: 1\n"
    )
    assert [name for _, name in _imported(ast.walk(tree))].count("alarmlib.pages") == 1
    assert {name for _, name in _imported(_at_the_top(tree))} == {"alarmlib.pages", "pandas"}
    call = ast.parse("datetime.now()", mode="eval").body
    assert isinstance(call, ast.Call)
    assert list(_reaching_out(call)) == ["now"]
