"""Joins the browser's modules into one, and style sheets: a widget is handed to the page as one text.

That text has no folder to import from. Each module becomes a function that is called once and gives what it exports, so
that its other names stay its own. Only the forms of import and export that the scripts use are read; any other is
refused when the library is loaded.
"""

import re
from importlib.resources import files
from pathlib import Path

_IMPORT = re.compile(r'^import \{([^}]*)\} from "\./(\w+)\.js";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async function|function|class|const) (\w+))", re.MULTILINE)
_DEFAULT = re.compile(r"^export default ", re.MULTILINE)
_UNREAD = re.compile(r"^\s*(?:import|export)\b.*", re.MULTILINE)
_DEFAULT_NAME = "$default"


def styled(*sheets: str) -> str:
    """The look of pages and record, and after it these sheets of this folder, as one text for a widget."""
    look = files("alarmlib.record") / "template" / "look.css"
    own = (Path(__file__).with_name(sheet) for sheet in sheets)
    return "\n".join([look.read_text(encoding="utf-8"), *(sheet.read_text(encoding="utf-8") for sheet in own)])


def joined(entry: Path) -> str:
    """One module with the default export of the script `entry` and all that it imports, each script once.

    Raises ValueError for scripts that import each other in a circle and for an import or export that is not read.
    """
    functions: dict[Path, str] = {}
    _gather(entry, functions, ())
    return "\n".join([*functions.values(), f"export default ${entry.stem}.{_DEFAULT_NAME};", ""])


def _gather(script: Path, functions: dict[Path, str], importers: tuple[Path, ...]) -> None:
    """Adds the script's function after those of the scripts that it imports."""
    if script in importers:
        raise ValueError(f"{script.name} imports itself by way of {importers[-1].name}.")
    if script in functions:
        return
    text = script.read_text(encoding="utf-8")
    for _, stem in _IMPORT.findall(text):
        _gather(script.with_name(f"{stem}.js"), functions, (*importers, script))
    functions[script] = _as_function(script, text)


def _as_function(script: Path, text: str) -> str:
    """The script as a constant that holds what it exports."""
    names = _EXPORT.findall(text)
    body = _IMPORT.sub(lambda found: f"const {{{found[1].replace(' as ', ': ')}}} = ${found[2]};\n", text)
    body, defaults = _DEFAULT.subn(f"const {_DEFAULT_NAME} = ", _EXPORT.sub("", body))
    if unread := _UNREAD.search(body):
        raise ValueError(f"{script.name} has an import or export of a kind that is not read: {unread[0].strip()}")
    given = ", ".join([*names, *([_DEFAULT_NAME] if defaults else [])])
    return f"const ${script.stem} = (() => {{\n{body}return {{ {given} }};\n}})();"
