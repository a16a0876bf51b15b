"""The columns of a table in CSV: their headers from the model's labels, a cell from a value and a value from a cell."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from alarmlib.errors import FieldProblem
from alarmlib.model.base import Point
from alarmlib.model.references import lists_referred_to
from alarmlib.model.words import Word
from alarmlib.rules.pairs import AMERICAN, BRITISH
from alarmlib.rules.words import in_words_of
from alarmlib.store.document import kind_of
from alarmlib.store.earlier import earlier_value
from alarmlib.store.fields import part_in
from alarmlib.units import Kind, read, show_number, unit_label

_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")
_YES = frozenset({"yes", "y", "true", "x", "1"})
_NO = frozenset({"no", "n", "false", "0"})


@dataclass(frozen=True)
class Column:
    """One column: the field at `path` in an element; `system` is the one its bare numbers are in.

    `refers` are the lists (by path from the home) of what its cells name.
    """

    path: tuple[str, ...]
    label: str
    kind: Kind
    holds: Any
    optional: bool
    system: str = "metric"
    refers: tuple[str, ...] = ()

    @property
    def header(self) -> str:
        """Label, and the unit in brackets: Width [m]."""
        unit = unit_label(self.kind, self.system) if self.measured else ""
        return f"{self.label} [{unit}]" if unit else self.label

    @property
    def measured(self) -> bool:
        """Whether the cells hold numbers (or places), which have a unit."""
        return self.holds in {int, float, Point}


def columns_of(model: type[BaseModel], system: str, before: tuple[str, ...] = (), lead: str = "") -> list[Column]:
    """Every field of an element that fits in a cell, the ones of a part in it too; outlines do not fit."""
    found: list[Column] = []
    for name, info in model.model_fields.items():
        path, label = (*before, name), f"{lead}{info.title or name}"
        holds, optional = _without_none(info.annotation)
        inner = part_in(holds)
        if inner is not None and holds is inner:
            found += columns_of(inner, system, path, f"{label}: ")
        elif _fits(holds):
            blank = optional or _blank_fits(info)
            found.append(
                Column(
                    path,
                    label,
                    kind=kind_of(info),
                    holds=holds,
                    optional=blank,
                    system=system,
                    refers=lists_referred_to(info),
                )
            )
    return found


def _without_none(annotation: Any) -> tuple[Any, bool]:
    if get_origin(annotation) in {Union, UnionType}:
        rest = [each for each in get_args(annotation) if each is not NoneType]
        return _bare(rest[0]), True
    return _bare(annotation), False


def _bare(annotation: Any) -> Any:
    return get_args(annotation)[0] if get_origin(annotation) is Annotated else annotation


def _item_of(holds: Any) -> Any:
    """What a list holds, or None when it is no list."""
    several = get_origin(holds) is tuple and Ellipsis in get_args(holds)
    return _bare(get_args(holds)[0]) if several else None


def _fits(holds: Any) -> bool:
    item = _item_of(holds)
    return holds in {str, int, float, bool, Point} or _is_word(holds) or item is str or _is_word(item)


def _is_word(holds: Any) -> bool:
    return isinstance(holds, type) and issubclass(holds, Enum)


def _blank_fits(info: FieldInfo) -> bool:
    return not info.is_required() and info.default in ("", None, ())


# --- out ---


def cell(column: Column, value: Any, say: Callable[[str], str] = str) -> str:
    """The text of a cell; one that a spreadsheet would run as a formula is made harmless by an apostrophe.

    `say` puts a word of a closed list into a country's words.
    """
    if value is None:
        return ""
    if column.measured:
        numbers = value if column.holds is Point else (value,)
        return " ".join(show_number(float(n), column.kind, column.system) for n in numbers)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "; ".join(_text(item, say) for item in value)
    return harmless(_text(value, say))


def _text(value: Any, say: Callable[[str], str]) -> str:
    return say(value.text) if isinstance(value, Word) else str(value)


def harmless(text: str) -> str:
    """Text that no spreadsheet runs; `as_written` gives it back unchanged."""
    risky = text.startswith("'") or text.lstrip(" ").startswith(_RISKY)
    return f"'{text}" if risky else text


def as_written(text: str) -> str:
    """The text without the apostrophe that `harmless` put before it."""
    rest = text.removeprefix("'")
    return rest if text != rest and harmless(rest) == text else text


# --- in ---


def value_of(column: Column, text: str, names: Mapping[str, str], decimal: str) -> Any:
    """The value in a cell; `names` leads from what people call a part to its id. Raises FieldProblem."""
    if column.holds is str:
        return names.get(text.strip().casefold(), text) if names else as_written(text)
    plain = text.strip()
    if not plain:
        return _blank(column, text)
    if column.measured:
        return _number(column, plain, decimal)
    if column.holds is bool:
        return _agreed(column, plain)
    return _words(column, plain, names)


def _words(column: Column, text: str, names: Mapping[str, str]) -> Any:
    item = _item_of(column.holds)
    if item is None:
        return _word(column, column.holds, text)
    parts = [part.strip() for part in text.split(";") if part.strip()]
    return tuple(names.get(part.casefold(), part) if item is str else _word(column, item, part) for part in parts)


def _blank(column: Column, text: str) -> Any:
    if _item_of(column.holds) is not None:
        return ()
    if column.optional:
        return None
    raise FieldProblem("", column.header, text, "this needs an answer")


def _number(column: Column, text: str, decimal: str) -> Any:
    try:
        if column.holds is Point:
            across, along = (text.split() * 3)[:2] if len(text.split()) == 2 else ("", "")
            return read(across, column.kind, column.system, decimal), read(along, column.kind, column.system, decimal)
        value = read(text, column.kind, column.system, decimal)
    except FieldProblem as problem:
        allowed = "write two numbers, such as 1.5 3" if column.holds is Point else problem.allowed
        raise FieldProblem("", column.header, text, allowed) from None
    return int(value) if column.holds is int and value == int(value) else value


def _agreed(column: Column, text: str) -> bool:
    if text.casefold() in _YES | _NO:
        return text.casefold() in _YES
    raise FieldProblem("", column.header, text, "write yes or no")


def _word(column: Column, words: type[Word], text: str) -> Word:
    """A word of a closed list by its stored value, by what people read or read once, or by that without its bracket."""
    wanted = text.casefold()
    for word in words:
        said = {word.text, *(in_words_of(word.text, words_) for words_ in (AMERICAN, BRITISH))}
        short = {re.sub(r"\s*\(.*\)$", "", each) for each in said}
        if wanted in {str(word.value), *(each.casefold() for each in said | short)}:
            return word
    if earlier := earlier_value(words.__name__, text):
        return words(earlier)
    raise FieldProblem("", column.header, text, f"choose one of: {', '.join(word.text for word in words)}")
