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
    copy = _Copy()
    for edit in edits:
        document = copy.put(document, edit.path, _plain(edit.before), _plain(edit.after), edit)
    return document


def _plain(value: Any) -> Any:
    return to_jsonable_python(value)


class _Copy:
    """A document being changed: each part on the way of an edit is copied once, however many edits go through it."""

    def __init__(self) -> None:
        self._own: dict[int, Any] = {}  # what is copied already, by its address; held here, so that none is used again
        self._places: dict[int, dict[Any, int]] = {}  # of a list that is our own: where the element of each name is

    def put(self, inside: Any, path: FieldPath, before: Any, after: Any, edit: Edit) -> Any:
        """A copy of `inside` in which only the way along the path is new."""
        if isinstance(inside, list):
            return self._put_element(self._copied(inside), path, before, after, edit)
        if inside is None and before is None:
            inside = {}
        if not path or not isinstance(inside, dict):
            raise AlarmProblem(f"{'.'.join(edit.path)} leads nowhere in this home; nothing was changed.")
        name, rest = path[0], path[1:]
        there = inside.get(name)
        new = self.put(there, rest, before, after, edit) if rest else _chosen(there, before, after, edit)
        own = self._copied(inside)
        own[name] = new
        return own

    def _put_element(self, own: list[Any], path: FieldPath, before: Any, after: Any, edit: Edit) -> list[Any]:
        name, rest = path[0], path[1:]
        places = self._places_in(own)
        found = places.get(name)
        there = None if found is None else own[found]
        if rest:
            if found is None:
                raise FieldClash(edit.path, edit.before, None, edit.after)
            new = self.put(there, rest, before, after, edit)
        else:
            new = _chosen(there, before, after, edit)
        if found is None:
            if isinstance(new, dict):
                places[name] = len(own)
                own.append(new if _name(new) == name else {**new, "id": name})
        elif new is None:
            del own[found], self._places[id(own)]
        else:
            own[found] = new
            if not isinstance(new, dict) or _name(new) != name:
                del self._places[id(own)]
        return own

    def _copied(self, value: Any) -> Any:
        if id(value) in self._own:
            return value
        copied = value.copy()
        self._own[id(copied)] = copied
        return copied

    def _places_in(self, own: list[Any]) -> dict[Any, int]:
        if id(own) not in self._places:
            named = [(_name(item), place) for place, item in enumerate(own) if isinstance(item, dict)]
            self._places[id(own)] = {name: place for name, place in reversed(named) if isinstance(name, str)}
        return self._places[id(own)]


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
