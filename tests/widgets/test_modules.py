"""The scripts of a page joined into one; `tests/js` runs the result."""

from pathlib import Path

import pytest

from alarmlib.widgets.engine import HERE
from alarmlib.widgets.modules import joined


def written(folder: Path, **scripts: str) -> Path:
    """The scripts as files; gives the one named `entry`."""
    for name, text in scripts.items():
        (folder / f"{name}.js").write_text(text, encoding="utf-8")
    return folder / "entry.js"


def test_what_is_imported_comes_first_and_once(tmp_path: Path) -> None:
    entry = written(
        tmp_path,
        base="export const one = 1;\n",
        beside='import { one } from "./base.js";\n\nexport function two() { return one + one; }\n',
        entry='import { one as first } from "./base.js";\nimport { two } from "./beside.js";\nexport default first;\n',
    )
    lines = joined(entry).splitlines()
    assert [line for line in lines if line.endswith("(() => {")] == [
        "const $base = (() => {",
        "const $beside = (() => {",
        "const $entry = (() => {",
    ]
    assert "const { one: first } = $base;" in lines
    assert "return { one };" in lines
    assert "return { two };" in lines
    assert lines[-1] == "export default $entry.$default;"


def test_an_import_of_several_lines_is_read(tmp_path: Path) -> None:
    entry = written(
        tmp_path, base="export const one = 1;\n", entry='import {\n  one,\n} from "./base.js";\nexport default one;\n'
    )
    assert "import" not in joined(entry)


def test_scripts_that_import_each_other_are_refused(tmp_path: Path) -> None:
    there = 'import { b } from "./other.js";\nexport const a = 1;\n'
    back = 'import { a } from "./entry.js";\nexport const b = 1;\n'
    with pytest.raises(ValueError, match=r"entry\.js imports itself by way of other\.js"):
        joined(written(tmp_path, entry=there, other=back))


@pytest.mark.parametrize(
    "line",
    [
        'import base from "./base.js";',
        'import * as base from "./base.js";',
        'import { one } from "elsewhere";',
        'import "./base.js";',
        "export { one };",
        "export let one = 1;",
    ],
)
def test_an_import_or_export_that_is_not_read_is_refused(tmp_path: Path, line: str) -> None:
    with pytest.raises(ValueError, match="not read"):
        joined(written(tmp_path, base="export const one = 1;\n", entry=f"{line}\n"))


def test_a_script_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match=r"gone\.js"):
        joined(written(tmp_path, entry='import { one } from "./gone.js";\nexport default one;\n'))


@pytest.mark.parametrize("entry", ["form_shown", "plan", "progress"])
def test_what_a_widget_hands_over_imports_nothing(entry: str) -> None:
    """One export, and no line that would make the browser fetch anything."""
    lines = joined(HERE / f"{entry}.js").splitlines()
    assert [line for line in lines if line.startswith(("import", "export"))] == [f"export default ${entry}.$default;"]
