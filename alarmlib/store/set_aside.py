"""What earlier versions took and no home can have is set aside when their files are opened; the note tells it."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from alarmlib.errors import shorten
from alarmlib.model import Home
from alarmlib.model.entered import NotEntered
from alarmlib.model.misfits import Misfit
from alarmlib.store.fields import field_at

Document = dict[str, Any]
PlaceInDocument = tuple[int | str, ...]
_ROUNDS = 200  # what leads back to itself is found one at a time
_LEADS_BACK = frozenset({"follows", "repeater", "retest_of"})
_NAMES = ("name", "label", "role", "what")
_LONGEST_NOTE = 2000  # by `alarmlib.model.entered.Note`
_BEGINS = "Some entries of this file cannot be right. They were set aside when a newer workbook opened it."
_MISSING = object()


class _Change(NamedTuple):
    """At a place another value, or none (`_MISSING`); `told` is what was there, "" where nothing is lost."""

    place: PlaceInDocument
    value: Any
    told: str


def with_set_aside(document: Document) -> Document:
    """The document of an older file without what is refused only now; the one given is not changed.

    Texts keep what can be read of them, a number that was written as a text is a number. What else is wrong is left
    for the model to refuse.
    """
    told: list[str] = []
    for _ in range(_ROUNDS):
        changes = list(_needed(document))
        for change in changes:
            if change.told:
                told.append(f"{_called(document, change.place)}: {change.told}.")
            document = _with(document, change.place, change.value)
        if not changes:
            break
    return document | {"note": _note(str(document.get("note") or ""), told)} if told else document


def _needed(document: Document) -> Iterator[_Change]:
    try:
        Home.model_validate(document)
    except ValidationError as error:
        for found in error.errors(include_url=False):
            change = _change(found, document)
            if change is not None:
                yield change


def _change(error: ErrorDetails, document: Document) -> _Change | None:
    wrong, place, there = error.get("ctx", {}).get("error"), error["loc"], error["input"]
    if isinstance(wrong, Misfit):
        leads_back = wrong.value and wrong.path[-1] in _LEADS_BACK
        return _Change(_by_numbers(document, wrong.path), "", shorten(wrong.value)) if leads_back else None
    if isinstance(wrong, NotEntered):
        return _Change(place, wrong.instead, shorten(str(there)))
    if error["type"] not in {"float_type", "int_type"}:
        return None
    if isinstance(there, bool):
        while isinstance(place[-1], int):
            place = place[:-1]
        return _Change(place, _MISSING, shorten(str(there).lower()))
    number = _number(there) if isinstance(there, str) else None
    return None if number is None else _Change(place, number, "")


def _number(text: str) -> float | int | None:
    """The number that earlier versions read in a text."""
    try:
        value = float(text)
    except ValueError:
        return None
    return int(value) if value.is_integer() else value


def _by_numbers(document: Any, path: tuple[str, ...]) -> PlaceInDocument:
    """The place of a path by ids."""
    place: list[int | str] = []
    for step in path:
        where: int | str = step
        if isinstance(document, list):
            where = next(n for n, item in enumerate(document) if item.get("id") == step)
        place.append(where)
        document = document[where]
    return tuple(place)


def _with(inside: Any, place: PlaceInDocument, value: Any) -> Any:
    """A copy with another value at a place; where it is `_MISSING`, without the field."""
    step, rest = place[0], place[1:]
    copy = inside.copy()
    if rest:
        copy[step] = _with(inside[step], rest, value)
    elif value is _MISSING:
        del copy[step]
    else:
        copy[step] = value
    return copy


def _called(document: Any, place: PlaceInDocument) -> str:
    """What a person calls a field: its label, and the name of what it belongs to."""
    info = field_at(Home, place)
    label, name = (info.title if info else "") or str(place[-1]), ""
    for n, step in enumerate(place):
        document = document[step]
        if isinstance(document, dict) and isinstance(step, int):
            own = next((shorten(str(document[each])) for each in _NAMES if document.get(each)), "")
            name = own or f"{_noun(place[:n])} {step + 1}"
    return f"{label} of {name}" if name else label


def _noun(place: PlaceInDocument) -> str:
    info = field_at(Home, place)
    more = info.json_schema_extra if info is not None else None
    return str(more.get("noun", "row")) if isinstance(more, dict) else "row"


def _note(note: str, told: list[str]) -> str:
    """The note with what was set aside, as far as there is room for it."""
    lines = [note] if note else []
    lines.append(_BEGINS)
    for line in told:
        if len("\n".join((*lines, line))) > _LONGEST_NOTE - 20:
            lines.append("And more.")
            break
        lines.append(line)
    return "\n".join(lines)[:_LONGEST_NOTE]
