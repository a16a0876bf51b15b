"""What nobody calls is gone: each public name of the library is used by the library itself, its pages or its package.

A use is a name in code of alarmlib other than where it is made or imported, an entry point in pyproject.toml, or a cell
of the workbook. Tests are no users. Names alone are compared, not what they belong to, so a second thing of the same
name may hide that the first is dead; nothing that is used is called dead.
"""

import ast
import json
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from parsed import TREES

ROOT = Path(__file__).parents[2]
UNUSED = {
    "calc.choosing.device_candidates.planned_device": "a test fits the set that was chosen, and counts what it covers",
    "calc.coverage.felt.felt_in_metres": "what points in metres trip, beside the cells: tests/outside rests on it",
    "calc.times.chance.chance_by_sampling": "the same chance by drawing walks, beside chance_in_time in tests",
    "control.simulate.simulate": "one habit alone; the library plays them all",
    "lab.served.authority.PagesOnly": "jupyter_server makes it: lab.surroundings names it in the server's settings",
    "lab.served.authority.PagesOnly.is_authorized": "jupyter_server asks for it",
    "lab.served.contents.PageContents": "jupyter_server makes it: lab.surroundings names it in the server's settings",
    "lab.served.contents.PageContents.check_and_sign": "jupyter_server asks for it",
    "lab.served.contents.PageContents.mark_trusted_cells": "jupyter_server asks for it",
    "lab.served.page_back.PutPageBack.post": "tornado asks for it",
    "model.device_types.entry_of": "tests/demo writes the demo home's devices with it",
    "proof.search.rows.saturate": "two movers at once; tests/benchmarks/two_movers.py shows what they would cost",
    "proof.unit.left_out.left_out_cases": "each case that left_out_shown goes through: a test counts them by hand",
    "proof.unit.siren_time.siren_hours": "the hour of each set, of which the proof shows the worst",
    "record.exporter.RecordExporter.default_config": "nbconvert asks for it",
    "record.exporter.RecordExporter.default_filters": "nbconvert asks for them",
    "store.sharing.sharing_table": "who may see which field, for the reviewed list tests/store/sharing_table.txt",
    "widgets.moved.Moving.get_state": "ipywidgets asks for it when a page is opened again",
}
"""Public names that nothing of ours calls, each with the reason why it is there; reviewed by eye."""


@dataclass(frozen=True)
class Made:
    """A name and the lines on which it is made."""

    name: str
    first: int
    last: int

    def asked(self, lines: Iterable[int]) -> bool:
        """Whether one of these lines is outside its own making: what asks only for itself is not used."""
        return any(not self.first <= line <= self.last for line in lines)


def made(tree: ast.Module) -> Iterator[Made]:
    """The public functions, classes and constants of a module, and the public methods of its classes."""
    for node in tree.body:
        names: list[str] = []
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            names = [node.name]
        if isinstance(node, ast.ClassDef):
            methods = (each for each in node.body if isinstance(each, ast.FunctionDef))
            yield from (Made(f"{node.name}.{each.name}", each.lineno, each.end_lineno or 0) for each in methods)
        for target in node.targets if isinstance(node, ast.Assign) else ():
            names += [each.id for each in ast.walk(target) if isinstance(each, ast.Name)]
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names = [node.target.id]
        yield from (Made(name, node.lineno, node.end_lineno or 0) for name in names)


def used(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Every name that a module asks for, alone or as what belongs to something, and on which line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id, node.lineno
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load):
            yield node.attr, node.end_lineno or 0


def outside() -> Iterator[str]:
    """What the package's own description and the pages' cells name."""
    yield from re.findall(r"\w+", (ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    for page in sorted((ROOT / "workbook").glob("*.ipynb")):
        for cell in json.loads(page.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                yield from re.findall(r"\w+", "".join(cell["source"]))


def unused(trees: Mapping[str, ast.Module], also: set[str]) -> set[str]:
    """The public names, each with its module, that nobody asks for."""
    asked: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for module, tree in trees.items():
        for name, line in used(tree):
            asked[name][module].append(line)
    return {
        f"{module}.{each.name}"
        for module, tree in trees.items()
        for each in made(tree)
        if not any(part.startswith("_") for part in each.name.split("."))
        and (name := each.name.rpartition(".")[2]) not in also
        and not asked[name].keys() - {module}
        and not each.asked(asked[name][module])
    }


def test_nothing_public_is_unused() -> None:
    """What no page, command or other module asks for goes, or its reason is written above; no reason outlives it."""
    assert unused(TREES, set(outside())) == {f"alarmlib.{name}" for name in UNUSED}


def test_the_reader_sees_what_nobody_uses() -> None:
    """Of a made-up module all that is only made is found: a function, a class, its method, a constant."""
    module = ast.parse(
        "from x import seen\nLEFT = 1\ndef called(): return LEFT\ndef dead(): return dead()\n"
        "class Kept:\n    def method(self): return called()\n    def gone(self): ...\n    def _own(self): ...\n"
    )
    assert unused({"a": module}, {"Kept"}) == {"a.dead", "a.Kept.method", "a.Kept.gone"}
    assert unused({"a": module}, {"Kept", "method", "gone", "dead"}) == set()
