"""A name for the content of a value: alike in every part, and only then, have two values the same one."""

from collections.abc import Collection, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from hashlib import sha256
from typing import Any

from alarmlib.model import Home
from alarmlib.model.base import Part

Fields = Mapping[str, Collection[str]]
"""By the name of a class of parts the fields that count."""


def digest(value: Any, counted: Fields | None = None) -> str:
    """The name of a value: of frozen data classes, parts (with the fields `counted`), containers and plain values.

    Two numbers of different types differ, and so do True and 1. Raises TypeError for what has no content of its own.
    Reference: FIPS 180-4, SHA-256.
    """
    found: list[str] = []
    _tell(value, counted or {}, found)
    return sha256("\x1f".join(found).encode("utf-8", "surrogatepass")).hexdigest()


def content_of(home: Home, counted: Fields) -> str:
    """The name of what these fields of a home hold, from the home down.

    By `digest`.
    """
    return digest(home, counted)


def _tell(value: Any, counted: Fields, found: list[str]) -> None:
    """Put down a value so that no other one reads the same."""
    if value is None or (isinstance(value, bool | int | float | str) and not isinstance(value, Enum)):
        found.append(f"{type(value).__name__}:{len(value)}:{value}" if isinstance(value, str) else repr(value))
    elif isinstance(value, Enum):
        found.append(f"{type(value).__name__}.{value.name}")
    elif isinstance(value, Part):
        _tell_fields(value, sorted(counted.get(type(value).__name__, ())), counted, found)
    elif is_dataclass(value):
        _tell_fields(value, [each.name for each in fields(value) if each.init], counted, found)
    else:
        _tell_many(value, counted, found)


def _tell_fields(value: Any, names: Collection[str], counted: Fields, found: list[str]) -> None:
    found.append(f"{type(value).__name__}({len(names)}")
    for name in names:
        found.append(name)
        _tell(getattr(value, name, None), counted, found)


def _tell_many(value: Any, counted: Fields, found: list[str]) -> None:
    if isinstance(value, Mapping):
        found.append(f"mapping({len(value)}")
        for key, inner in value.items():
            _tell(key, counted, found)
            _tell(inner, counted, found)
    elif isinstance(value, set | frozenset):
        found.append(f"set({len(value)}")
        found.extend(sorted(digest(inner, counted) for inner in value))
    elif isinstance(value, tuple | list):
        found.append(f"row({len(value)}")
        for inner in value:
            _tell(inner, counted, found)
    else:
        raise TypeError(f"a {type(value).__name__} has no content to be known by")
