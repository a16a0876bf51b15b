"""The settings that go to JupyterLab, held against the schemas that the installed JupyterLab ships."""

import json
import sys
from pathlib import Path
from typing import Any

import pytest

import alarmlib.lab

LAB = Path(alarmlib.lab.__file__).parent
OVERRIDES = json.loads((LAB / "settings" / "overrides.json").read_text(encoding="utf-8"))
SCHEMAS = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas"
SHORTCUTS = "@jupyterlab/shortcuts-extension:shortcuts"


def schema(name: str) -> Any:
    """The shipped schema of one plugin, as `@scope/package:plugin`."""
    package, plugin = name.split(":")
    return json.loads((SCHEMAS / package / f"{plugin}.json").read_text(encoding="utf-8"))


def letter_keys() -> list[dict[str, Any]]:
    """Every shipped shortcut of a notebook that needs nothing but letters, digits or Shift: it can destroy a form."""
    found = []
    for path in sorted(SCHEMAS.rglob("*.json")):
        for each in json.loads(path.read_text(encoding="utf-8")).get("jupyter.lab.shortcuts", []):
            plain = all(key and len(key.removeprefix("Shift ")) == 1 for key in each["keys"])
            if plain and "jp-Notebook" in each["selector"] and not each.get("disabled"):
                found.append({name: each[name] for name in ("command", "keys", "selector")} | {"disabled": True})
    return found


@pytest.mark.outside
def test_every_letter_key_of_a_notebook_is_off() -> None:
    """Ours is exactly the installed JupyterLab's list: an update that brings a new letter key fails here."""
    off = sorted(OVERRIDES[SHORTCUTS]["shortcuts"], key=json.dumps)
    assert off == sorted(letter_keys(), key=json.dumps)
    assert {"M", "B", "A", "X", "R", "Y"} <= {key for each in off for key in each["keys"]}


@pytest.mark.outside
@pytest.mark.parametrize("name", [name for name in OVERRIDES if name != SHORTCUTS])
def test_every_setting_is_one_that_jupyterlab_knows(name: str) -> None:
    """A misspelled setting is silently ignored by JupyterLab, so it is looked up; its value is of the declared kind."""
    import jsonschema

    known = schema(name)
    for setting, value in OVERRIDES[name].items():
        assert setting in known["properties"]
        jsonschema.validate(value, {**known["properties"][setting], "definitions": known.get("definitions", {})})


def test_the_extension_needs_no_build() -> None:
    """The file that JupyterLab is told to load is the one that is there, registered under the package's name."""
    package = json.loads((LAB / "extension" / "package.json").read_text(encoding="utf-8"))
    script = (LAB / "extension" / package["jupyterlab"]["_build"]["load"]).read_text(encoding="utf-8")
    assert f"'{package['name']}'" in script
    assert package["version"] == alarmlib.__version__
