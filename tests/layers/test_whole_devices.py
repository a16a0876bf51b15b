"""What is worked out of devices is worked out of whole ones, their types' facts in them."""

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "alarmlib"
READERS = ("calc", "control", "proof", "checks", "record", "pages", "__main__.py")


def entries_read(text: str) -> list[int]:
    """The lines in which a home's own entries of devices are read, by whatever name that ends in home."""
    found = (node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Attribute) and node.attr == "devices")
    return [node.lineno for node in found if ast.unparse(node.value).rpartition(".")[2].endswith("home")]


def test_nothing_that_works_something_out_reads_entries() -> None:
    """An entry says only what is a device's own. Those who write entries, and those who compare them, may read them."""
    allowed = {
        "record/compare.py",  # what changed is told of entries
        "pages/forms.py",  # gives entries their empty parts
        "checks/home/missing.py",  # which types are used
        "record/sections/detectors/device_types.py",  # what a device has otherwise than its type
    }
    paths = [
        path for name in READERS for path in ((PACKAGE / name).rglob("*.py") if "." not in name else [PACKAGE / name])
    ]
    read = {path.relative_to(PACKAGE).as_posix(): entries_read(path.read_text(encoding="utf-8")) for path in paths}
    assert {name: lines for name, lines in read.items() if lines and name not in allowed} == {}


def test_a_reader_of_entries_is_seen() -> None:
    """The measure itself."""
    assert entries_read("for d in home.devices:\n    pass\nself.home.devices") == [1, 3]
    assert entries_read("home.whole_devices\nzone.devices") == []
