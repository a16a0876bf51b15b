"""What a form says of itself while it is folded: how much is entered, and where something is missing."""

from collections.abc import Iterable, Sequence
from typing import Any

from alarmlib.widgets.spec import FieldSpec

MOST_NAMED = 3
_BLANK: tuple[Any, ...] = (None, "", ())
_NOT_KNOWN = "unknown"
_PLURALS = {"person": "people", "person told": "people told"}


def is_entered(field: FieldSpec, value: Any) -> bool:
    """Whether somebody gave this value: it is not blank, and not what the field begins with."""
    return value not in _BLANK and value != field.default


def is_missing(field: FieldSpec, value: Any) -> bool:
    """Whether the next result waits for this value, and it is blank or not known yet."""
    return field.needed and field.control != "tick" and (value in _BLANK or value == _NOT_KNOWN)


def plural(word: str, count: int) -> str:
    """How several of them are called: "2 ways in", "2 boxes"."""
    if count == 1:
        return word
    if word in _PLURALS:
        return _PLURALS[word]
    head, space, rest = word.partition(" ") if word.endswith(" in") else (word, "", "")
    if head.endswith("y") and head[-2:-1] not in "aeiou":
        return f"{head[:-1]}ies{space}{rest}"
    return f"{head}{'es' if head.endswith(('x', 's', 'ch')) else 's'}{space}{rest}"


def said_of_rows(word: str, count: int, incomplete: Sequence[str] | None) -> str:
    """The line of a list: how many rows, and which of them lack something; None: nothing is waited for there."""
    if not count:
        return f"No {word} is listed yet."
    rows = f"{count} {plural(word, count)}"
    if incomplete is None:
        return f"{rows}."
    if not incomplete:
        return f"{rows}, nothing missing."
    named = ", ".join(f"“{name}”" if name else "one without a name" for name in incomplete[:MOST_NAMED])
    more = len(incomplete) - MOST_NAMED
    return f"{rows}. Something is missing in {len(incomplete)}: {named}{f' and {more} more' if more > 0 else ''}."


def said_of_values(fields: Iterable[tuple[FieldSpec, Any]], whole: bool) -> str:
    """The line of a form: how many values are entered, and, where it is `whole`, that it lacks nothing."""
    count = sum(is_entered(field, value) for field, value in fields)
    if not count:
        return "Nothing is entered here."
    told = "1 value is" if count == 1 else f"{count} values are"
    return f"{'Nothing is missing. ' if whole else ''}{told} entered."
