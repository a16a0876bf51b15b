"""One change of one field or element, and how it is put into a home's document."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic_core import to_jsonable_python

from alarmlib.errors import AlarmProblem
from alarmlib.store.document import Document

FieldPath = tuple[str, ...]


@dataclass(frozen=True)
class Edit:
    """At `path` (field names, and ids inside lists) what was `before` becomes `after`.

    `before` None and a path to an id that is not there adds an element (`after`: a part or a dict);
    `after` None on an element removes it.
    """

    path: FieldPath
    before: Any
    after: Any


class FieldClash(AlarmProblem):
    """The same field was changed elsewhere meanwhile: the person is asked, with both values."""

    def __init__(self, path: FieldPath, before: Any, theirs: Any, yours: Any) -> None:
        super().__init__(path, before, theirs, yours)
        self.path, self.before, self.theirs, self.yours = path, before, theirs, yours

    def __str__(self) -> str:
        return f"{'.'.join(self.path)} was changed elsewhere in the meantime; nothing was changed here."


def with_edits(document: Document, edits: Sequence[Edit]) -> Document:
    """The document with all the edits in it; the one given is not changed.

    Raises FieldClash when what is at a path is neither an edit's `before` nor already its `after`,
    and AlarmProblem when a path leads nowhere.
    """
    for edit in edits:
        document = _put(document, edit.path, _plain(edit.before), _plain(edit.after), edit)
    return document


def _plain(value: Any) -> Any:
    return to_jsonable_python(value)


def _put(inside: Any, path: FieldPath, before: Any, after: Any, edit: Edit) -> Any:
    """A copy of `inside` in which only the way along the path is new."""
    if isinstance(inside, list):
        return _put_element(inside, path, before, after, edit)
    if inside is None and before is None:
        inside = {}
    if not path or not isinstance(inside, dict):
        raise AlarmProblem(f"{'.'.join(edit.path)} leads nowhere in this home; nothing was changed.")
    name, rest = path[0], path[1:]
    if rest:
        return inside | {name: _put(inside.get(name), rest, before, after, edit)}
    return inside | {name: _chosen(inside.get(name), before, after, edit)}


def _put_element(inside: list[Any], path: FieldPath, before: Any, after: Any, edit: Edit) -> list[Any]:
    name, rest = path[0], path[1:]
    found = next((n for n, item in enumerate(inside) if isinstance(item, dict) and _name(item) == name), None)
    if rest:
        if found is None:
            raise FieldClash(edit.path, edit.before, None, edit.after)
        new = _put(inside[found], rest, before, after, edit)
    else:
        new = _chosen(None if found is None else inside[found], before, after, edit)
    if found is None:
        named = new if isinstance(new, dict) and _name(new) == name else {**(new or {}), "id": name}
        return [*inside, named] if isinstance(new, dict) else inside
    return inside[:found] + ([] if new is None else [new]) + inside[found + 1 :]


def _name(item: Document) -> Any:
    """What an element is called in a path: its id, or its first field when it has none (a row named by its zone)."""
    return item["id"] if "id" in item else next(iter(item.values()), None)


def _chosen(theirs: Any, before: Any, after: Any, edit: Edit) -> Any:
    """What is there afterwards: the new value if the old one is still there or the new one already is.

    Of an object, the fields that `after` does not name stay as they are.
    """
    if agrees(theirs, before) or agrees(theirs, after):
        return theirs | after if isinstance(theirs, dict) and isinstance(after, dict) else after
    raise FieldClash(edit.path, edit.before, theirs, edit.after)


def agrees(there: Any, expected: Any) -> bool:
    """Whether what is there is as expected; of an object, only the fields that are named must agree."""
    if isinstance(there, dict) and isinstance(expected, dict):
        return all(agrees(there.get(name), value) for name, value in expected.items())
    if isinstance(there, list) and isinstance(expected, list):
        return len(there) == len(expected) and all(map(agrees, there, expected))
    return bool(there == expected)
