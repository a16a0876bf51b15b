"""How far a device has come, and what of a home has an id, is asked in one place: `model.questions`."""

import ast
from collections.abc import Iterator
from pathlib import Path

from alarmlib.model.devices import DeviceState

PACKAGE = Path(__file__).parents[2] / "alarmlib"
MAY = {
    "model/devices.py": "declares the state of a device",
    "model/questions.py": "is the place where it is asked",
    "store/upgrade_1.py": "reads files of an earlier form, which hold plain words",
}
WORDS = {state.value for state in DeviceState}


def states_asked(text: str) -> list[int]:
    """The lines that name `DeviceState`, or hold a state against a word of its list."""
    return sorted({line for node in ast.walk(ast.parse(text)) for line in _asks(node)})


def _asks(node: ast.AST) -> Iterator[int]:
    if isinstance(node, ast.ImportFrom) and any(alias.name == "DeviceState" for alias in node.names):
        yield node.lineno
    if isinstance(node, ast.Attribute) and node.attr == "DeviceState":
        yield node.lineno
    if isinstance(node, ast.Compare):
        found = list(ast.walk(node))
        if any(_is_state(each) for each in found) and any(_is_word(each) for each in found):
            yield node.lineno


def _is_state(node: ast.AST) -> bool:
    by_key = isinstance(node, ast.Constant) and node.value == "state"
    return by_key or (isinstance(node, ast.Attribute) and node.attr == "state")


def _is_word(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value in WORDS


def test_nobody_else_asks_for_the_state_of_a_device() -> None:
    """Filters of their own in many files had come to disagree; each that may ask is here with its reason."""
    paths = {path.relative_to(PACKAGE).as_posix(): path for path in PACKAGE.rglob("*.py")}
    asked = {name: states_asked(path.read_text(encoding="utf-8")) for name, path in paths.items()}
    assert {name: lines for name, lines in asked.items() if lines and name not in MAY} == {}
    assert {name for name in MAY if not asked[name]} == {"model/devices.py"}  # it declares, and compares nothing


def test_a_filter_is_seen() -> None:
    """The measure itself: an import, a comparison with a word, by attribute or by key; another state is let be."""
    assert states_asked("from alarmlib.model.devices import Device, DeviceState") == [1]
    assert states_asked("x = devices.DeviceState.FITTED") == [1]
    assert states_asked("a = [d for d in home if d.state == 'removed']\nb = d.get('state') != 'out_of_use'") == [1, 2]
    assert states_asked("d.state.value in ('fitted', 'planned')") == [1]
    assert states_asked("band.state == 'open'\nsecond.state is before\nzone.out_of_use") == []


def lists_by_id(text: str) -> list[int]:
    """The lines that make a whole list of a home into parts by id, by hand."""
    found = (
        node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.DictComp) and not node.generators[0].ifs
    )
    return [node.lineno for node in found if _by_hand(node)]


def _by_hand(node: ast.DictComp) -> bool:
    made = node.generators[0]
    plain = (f"{ast.unparse(made.target)}.id", ast.unparse(made.target)) == (
        ast.unparse(node.key),
        ast.unparse(node.value),
    )
    return plain and "home" in ast.unparse(made.iter).split(".")[:-1]


def test_lists_of_a_home_by_id_are_made_in_one_place() -> None:
    """`by_id` keeps the type of what it holds; it was written out in fifteen files."""
    paths = {path.relative_to(PACKAGE).as_posix(): path for path in PACKAGE.rglob("*.py")}
    found = {name: lists_by_id(path.read_text(encoding="utf-8")) for name, path in paths.items()}
    assert {name: lines for name, lines in found.items() if lines} == {}


def test_a_list_by_id_is_seen() -> None:
    """The measure itself: a choice of some, names by id, and lists of other parts are let be."""
    assert lists_by_id("a = {d.id: d for d in home.devices}\nb = {z.id: z for z in context.home.wiring.runs}") == [1, 2]
    assert lists_by_id("{d.id: d for d in home.devices if d.at}\n{d.id: d.name for d in home.devices}") == []
    assert lists_by_id("{c.id: c for c in setup.zones}") == []
