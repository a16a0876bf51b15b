"""The words of tables that versions 0.1 to 0.4 wrote: headers of columns and values of closed lists, still read."""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from alarmlib.store.renamed import VALUES

FieldPath = tuple[str, ...]


@cache
def _words() -> dict[str, dict[str, dict[str, str]]]:
    text = files("alarmlib.store").joinpath("earlier_words.json").read_text(encoding="utf-8")
    found: dict[str, dict[str, dict[str, str]]] = json.loads(text)
    return found


def earlier_labels(table: str) -> Mapping[FieldPath, tuple[str, ...]]:
    """The labels that the columns of a table had, in small letters, by the path of the field today."""
    found: dict[FieldPath, tuple[str, ...]] = {}
    for label, path in _words()["headers"].get(table, {}).items():
        field = tuple(path.split("."))
        found[field] = (*found.get(field, ()), label)
    return found


def earlier_value(words: str, text: str) -> str:
    """What an old value of a closed list, or an old text of one, is called today; "" where none was called so."""
    return _words()["values"].get(words, {}).get(text.casefold(), "")


def earlier_values(text: str) -> frozenset[str]:
    """All that an old value or text may be called today, whichever closed list it is of."""
    found = (values.get(text.casefold(), "") for values in _words()["values"].values())
    renamed = (values.get(text, "") for values in VALUES.values())
    return frozenset((*found, *renamed)) - {""}
