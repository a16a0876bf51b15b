"""A home that notes which of its fields are read, and with a mark in the place of each name that a person gave.

What is worked out from it depends on the fields noted and on nothing else: any home that holds the same in them gives
the same, word by word, but for the names, which are put in when it is shown (`said`).
"""

from collections.abc import Callable, Iterator
from functools import cache
from types import new_class
from typing import Any, TypeVar, cast, get_args

from pydantic import ConfigDict

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.words import UnitSystem

NAMES = frozenset({"name", "label", "role"})
"""What a person calls a part: sentences show it, and nothing is ever worked out from it."""
WHOLE = "whole_devices"
_HERE = "recorded_by"
P = TypeVar("P", bound=Part)


class HomeReading:
    """The fields that were read, by the name of their class."""

    def __init__(self) -> None:
        self.fields: dict[str, set[str]] = {}

    def note(self, of: str, field: str) -> None:
        """A field of a class was read."""
        self.fields.setdefault(of, set()).add(field)

    def seen(self) -> dict[str, tuple[str, ...]]:
        """What was read so far, in the order of the names."""
        return {of: tuple(sorted(fields)) for of, fields in sorted(self.fields.items())}


def recorded(home: Home, reading: HomeReading) -> Home:
    """The home, every read of which is noted, with a mark for each name; texts of it are in metric units."""
    whole = tuple(_wrapped(device, reading) for device in home.whole_devices)
    made = _wrapped(home, reading)
    made.__dict__.update({WHOLE: whole, "units": UnitSystem.METRIC})
    return made


def in_units(home: Home, units: UnitSystem) -> Home:
    """The same recorded home, whose texts are in these units."""
    made = home.model_copy()
    made.__dict__.update({WHOLE: home.__dict__[WHOLE], "units": units})
    return made


def mark(part: Part, field: str) -> str:
    """What is in the place of a name until it is shown."""
    return f"⟦{_own_class(type(part)).__name__}.{part.__dict__.get('id', '')}.{field}⟧"


def names_marked(home: Home) -> dict[str, str]:
    """Every name of a home by its mark."""
    return {mark(part, field): part.__dict__[field] for part in (*_parts(home), *_all(home.whole_devices))
            for field in NAMES & type(part).model_fields.keys()}  # fmt: skip


def every_field(kind: type[Part]) -> dict[str, tuple[str, ...]]:
    """Every field of a class of parts, and of the parts in it, but for names, notes and the units of texts."""
    found: dict[str, tuple[str, ...]] = {}
    todo = [kind]
    while todo:
        one = todo.pop()
        if one.__name__ not in found:
            found[one.__name__] = tuple(sorted(_counted(one) - {WHOLE, "note"}))
            todo += [inner for info in one.model_fields.values() for inner in _classes_in(info.annotation)]
    return found


def _classes_in(kind: Any) -> Iterator[type[Part]]:
    if isinstance(kind, type) and issubclass(kind, Part):
        yield kind
    for inner in get_args(kind):
        yield from _classes_in(inner)


def _counted(kind: type[Part]) -> frozenset[str]:
    """The fields of a class that are noted when they are read."""
    counted = frozenset(kind.model_fields) - NAMES
    return (counted - {"units"}) | {WHOLE} if kind is Home else counted


def _all(parts: tuple[Part, ...]) -> Iterator[Part]:
    for part in parts:
        yield from _parts(part)


def _parts(part: Part) -> Iterator[Part]:
    yield part
    for name in type(part).model_fields:
        value = part.__dict__[name]
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Part):
                yield from _parts(inner)


def _wrapped(part: P, reading: HomeReading) -> P:
    kind = _recorded_class(type(part))
    made = kind.__new__(kind)
    fields = {name: _inner(part.__dict__[name], reading) for name in type(part).model_fields}
    fields |= {name: mark(part, name) for name in NAMES & fields.keys() if isinstance(fields[name], str)}
    object.__setattr__(made, "__dict__", fields | {_HERE: reading})
    object.__setattr__(made, "__pydantic_fields_set__", set(part.__pydantic_fields_set__))
    object.__setattr__(made, "__pydantic_extra__", None)
    object.__setattr__(made, "__pydantic_private__", None)
    return cast("P", made)


def _inner(value: Any, reading: HomeReading) -> Any:
    if isinstance(value, Part):
        return _wrapped(value, reading)
    if isinstance(value, tuple) and any(isinstance(each, Part) for each in value):
        return tuple(_inner(each, reading) for each in value)
    return value


def _own_class(kind: type[Part]) -> type[Part]:
    return cast("type[Part]", kind.__dict__.get("records", kind))


@cache
def _recorded_class(kind: type[Part]) -> type[Part]:
    """A class of parts whose every read of a field is noted.

    Another part is alike only if all fields are, which are read for that; as a key each is one of its own.
    """
    name, counted = kind.__name__, _counted(kind)
    plain: Callable[[Any, str], Any] = object.__getattribute__

    def read(self: Part, field: str) -> Any:
        value = plain(self, field)
        if field in counted:
            plain(self, "__dict__")[_HERE].note(name, field)
        return value

    def is_alike(self: Part, other: object) -> bool:
        if self is other:
            return True
        alike = isinstance(other, Part) and _own_class(type(other)) is kind
        return alike and all(getattr(self, field) == getattr(other, field) for field in kind.model_fields)

    inside: dict[str, Any] = {"__getattribute__": read, "__eq__": is_alike, "__hash__": object.__hash__}
    inside |= {"records": kind}
    inside |= {"__module__": kind.__module__, "__qualname__": kind.__qualname__, "__annotations__": {}}
    inside |= {"model_config": ConfigDict(defer_build=True, ignored_types=(type,))}
    return new_class(name, (kind,), exec_body=lambda names: names.update(inside))
