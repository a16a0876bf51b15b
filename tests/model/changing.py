"""A home with one field changed: every other value that the field may hold, element by element."""

from collections.abc import Iterator, Sequence
from copy import deepcopy
from enum import Enum
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from alarmlib.model import Home
from alarmlib.model.base import Part

Where = tuple[str | int, ...]
"""Where a value is in a home's document: names of fields and places in lists."""


def models() -> tuple[type[Part], ...]:
    """Every kind of part that a home may hold, the home first."""
    found: dict[type[Part], None] = {Home: None}
    waiting: list[type[Part]] = [Home]
    while waiting:
        for field in waiting.pop().model_fields.values():
            for part in held_parts(field.annotation):
                if part not in found:
                    found[part] = None
                    waiting.append(part)
    return tuple(found)


def held_parts(annotation: Any) -> Iterator[type[Part]]:
    """The parts that a field of this type holds, in a list or not."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        yield annotation
    for inner in get_args(annotation):
        yield from held_parts(inner)


def places(part: BaseModel, wanted: type[Part], where: Where = ()) -> Iterator[tuple[Where, BaseModel]]:
    """Where in a home, or in a part of it, parts of that kind are."""
    if type(part) is wanted:
        yield where, part
    for name in type(part).model_fields:
        value = getattr(part, name)
        inner = [((*where, name), value)] if not isinstance(value, tuple) else [
            ((*where, name, place), each) for place, each in enumerate(value)]  # fmt: skip
        for at, each in inner:
            if isinstance(each, Part):
                yield from places(each, wanted, at)


def changed(home: Home, document: dict[str, Any], where: Where, value: Any) -> Home | None:
    """The home with that value there; None where it may not hold it, or nothing would change."""
    other = deepcopy(document)
    at: Any = other
    for step in where[:-1]:
        at = at[step]
    at[where[-1]] = value
    try:
        found = Home.model_validate(other)
    except ValidationError:
        return None
    return None if found == home else found


def other_values(field: FieldInfo, now: Any, ids: Sequence[str]) -> Iterator[Any]:
    """Other values that a field may hold, as a document writes them; `ids` are those that may be referred to."""
    yield from _others(field.annotation, tuple(field.metadata), now, ids)


def _others(kind: Any, limits: tuple[Any, ...], now: Any, ids: Sequence[str]) -> Iterator[Any]:
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        for each in get_args(kind):
            if each is not NoneType:
                yield from _others(each, limits, now, ids)
        if NoneType in get_args(kind) and now is not None:
            yield None
    elif origin is Annotated:
        inner, *more = get_args(kind)
        yield from _others(inner, (*limits, *more), now, ids)
    elif origin is tuple:
        yield from _other_lists(get_args(kind), now or (), ids)
    elif kind in (int, float):
        yield from _other_numbers(kind, limits, now)
    else:
        yield from _other_words(kind, now, ids)


def _other_words(kind: Any, now: Any, ids: Sequence[str]) -> Iterator[Any]:
    if kind is bool:
        yield not now
    elif kind is str:
        texts = (*ids, "2024-02-29", "2026-10-30", "07:30", "Another word", "another", "1.5 mm²", "")
        yield from (each for each in texts if each != now)
    elif isinstance(kind, type) and issubclass(kind, Enum):
        yield from (each.value for each in kind if each is not now)


def _other_numbers(kind: Any, limits: tuple[Any, ...], now: Any) -> Iterator[Any]:
    flat = [each for limit in limits for each in getattr(limit, "metadata", [limit])]
    low = next((each.ge for each in flat if hasattr(each, "ge")), 0)
    high = next((each.le for each in flat if hasattr(each, "le")), 1000)
    part = (0.0, 1.0, 0.5, 0.02, 0.2)
    tries = (*(low + (high - low) * share for share in part), (now or 0) * 2, (now or 0) / 2)
    found = (kind(each) for each in tries)
    yield from dict.fromkeys(each for each in found if each != now)


def _other_lists(kinds: tuple[Any, ...], now: Sequence[Any], ids: Sequence[str]) -> Iterator[Any]:
    if Ellipsis not in kinds:  # a point
        x, y = now or (1.0, 1.0)
        yield from ([x + dx, y + dy] for dx, dy in ((0.4, 0.0), (0.0, 0.4), (-0.4, 0.0), (0.0, -0.4), (2.0, 2.0)))
        return
    listed = [each.value if isinstance(each, Enum) else list(each) if isinstance(each, tuple) else each for each in now]
    yield from ([*listed[:place], *listed[place + 1 :]] for place in reversed(range(len(listed))))
    more = (each for each in _others(kinds[0], (), None, ids) if each not in listed)
    yield from ([*listed, each] for each in more)
    if listed and isinstance(listed[0], list):  # an outline
        yield [[1.1 * x, y] for x, y in listed]
