"""The modules of the library, each read and parsed once for all tests of this folder, which only look."""

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "alarmlib"
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if "_workbook" not in path.parts)


def name_of(path: Path) -> str:
    """A module's name as an import gives it."""
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")


TREES = {name_of(path): ast.parse(path.read_text(encoding="utf-8")) for path in MODULES}
