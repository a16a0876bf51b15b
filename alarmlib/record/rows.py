"""Tables straight from the model: header, unit and sharing level are read where the field is declared."""

from collections.abc import Callable, Iterator, Sequence
from enum import StrEnum
from typing import Any, get_args

from alarmlib.model.base import Part
from alarmlib.model.naming import neutral_name, points_to
from alarmlib.model.words import Share, Word
from alarmlib.record.blocks import Table, named
from alarmlib.record.context import Context
from alarmlib.store.sharing import level_of
from alarmlib.units import Kind, show

NOT_KNOWN = "not known"
_EMPTY = frozenset({"", "–", NOT_KNOWN, "not known yet", "not looked at yet", "not answered yet", "not decided yet"})
RowColumn = str | tuple[str, Callable[[Any], str]]


def part_table(
    context: Context, caption: str, parts: Sequence[Part], columns: Sequence[RowColumn], keep: int = 1
) -> Table:
    """A row a part; a column is a field's name, or a header with what writes its cell.

    Columns this copy may not show are left out (the first gives way to a neutral name), and so are those (after the
    first `keep`) in which nobody entered anything.
    """
    if parts and isinstance(columns[0], str) and not _may_show(context, parts, columns[0]):
        word = label(type(parts[0]), columns[0])
        columns = ((word.split(" (")[0], lambda part: neutral_name(context.home, part, word)), *columns[1:])
    shown = [column for column in columns if not isinstance(column, str) or _may_show(context, parts, column)]
    cells = [tuple(_cell(context, part, column) for column in shown) for part in parts]
    kept = [n for n in range(len(shown)) if n < keep or not _untouched(parts, shown[n], [row[n] for row in cells])]
    return Table(
        caption,
        tuple(_header(parts, shown[n]) for n in kept),
        tuple(tuple(row[n] for n in kept) for row in cells),
        frozenset(place for place, n in enumerate(kept) if _is_number(parts, shown[n])),
    )


def note_table(context: Context, caption: str, parts: Sequence[Part], fields: Sequence[str]) -> Iterator[Table]:
    """A row for each reason and note that somebody wrote; no table where nobody did, or where none may be shown."""
    rows = tuple(
        (context.called(part), label(type(part), field), fact_text(context, part, field))
        for part in parts
        for field in fields
        if field in type(part).model_fields
        and context.sees(share_of(type(part), field))
        and getattr(part, field).strip()
    )
    if rows:
        yield Table(caption, ("About", "What", "As written"), rows)


def fact_table(context: Context, caption: str, parts: Sequence[Part]) -> Table:
    """Every plain fact of some single parts, a row each: what it is, its value."""
    rows = tuple(
        (label(type(part), name), fact_text(context, part, name))
        for part in parts
        for name in type(part).model_fields
        if context.sees(share_of(type(part), name)) and not _holds_parts(type(part).model_fields[name].annotation)
    )
    return Table(caption, ("Fact", "As entered"), rows)


def fact_text(context: Context, part: Part, name: str) -> str:
    """A field's value as a person reads it, in the home's units, names kept apart."""
    return _text(context, getattr(part, name), kind_of(type(part), name), points_to(type(part), name))


def label(model: type[Part], name: str) -> str:
    """The label a field was declared with."""
    return model.model_fields[name].title or name


def share_of(model: type[Part], name: str) -> Share:
    """The sharing level a field was declared with."""
    return level_of(model.model_fields[name])


def kind_of(model: type[Part], name: str) -> Kind:
    """The unit kind a field was declared with."""
    return Kind(_extra(model, name)["kind"])


def plain_value(value: Any, kind: Kind, system: str) -> str:
    """A stored value as a person reads it; ids stay ids."""
    if value is None:
        return NOT_KNOWN
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Word):
        return value.text
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, int | float):
        return show(value, kind, system)
    return str(value)


def _text(context: Context, value: Any, kind: Kind, refers: str) -> str:
    if isinstance(value, tuple):
        return ", ".join(_text(context, item, kind, refers) for item in value)
    if isinstance(value, str) and not isinstance(value, StrEnum):
        return context.name(refers, value) if refers else named(value) if value else ""
    return plain_value(value, kind, context.home.units)


def _cell(context: Context, part: Part, column: RowColumn) -> str:
    if not isinstance(column, str):
        return column[1](part)
    return "–" if getattr(part, column) is None else fact_text(context, part, column)


def _untouched(parts: Sequence[Part], column: RowColumn, cells: Sequence[str]) -> bool:
    """Whether the column holds nothing: blanks, or a nought that nobody entered."""
    noughts = (
        {"no", "0 s", "0 m"} if isinstance(column, str) and not any(any_entered(p, (column,)) for p in parts) else set()
    )
    return all(cell in _EMPTY or cell in noughts for cell in cells)


def any_entered(part: Part, names: Sequence[str]) -> bool:
    """Whether any of these fields holds something else than it is declared with."""
    return any(getattr(part, name) != type(part).model_fields[name].default for name in names)


def _header(parts: Sequence[Part], column: RowColumn) -> str:
    return label(type(parts[0]), column) if isinstance(column, str) else column[0]


def _may_show(context: Context, parts: Sequence[Part], name: str) -> bool:
    return bool(parts) and context.sees(share_of(type(parts[0]), name))


def _is_number(parts: Sequence[Part], column: RowColumn) -> bool:
    return isinstance(column, str) and any(
        isinstance(value := getattr(part, column), int | float) and not isinstance(value, bool) for part in parts
    )


def _holds_parts(annotation: Any) -> bool:
    """Whether a field of this type holds parts, which have tables of their own."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return True
    return any(_holds_parts(inner) for inner in get_args(annotation))


def _extra(model: type[Part], name: str) -> dict[str, Any]:
    extra = model.model_fields[name].json_schema_extra
    return extra if isinstance(extra, dict) else {}
