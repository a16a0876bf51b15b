"""The texts of a home that its owner typed: names, notes, answers in free words."""

from collections.abc import Iterator
from enum import Enum
from functools import lru_cache
from itertools import chain
from typing import Any

from pydantic import BaseModel

from alarmlib.model.references import lists_referred_to


def typed_texts(home: BaseModel) -> frozenset[str]:
    """Every text in a home that is no choice from our own lists."""
    return frozenset(_texts(home))


@lru_cache(maxsize=256)
def _free(model: type[BaseModel]) -> tuple[str, ...]:
    """The fields that hold more than an id, what refers to one, or words of ours."""
    ours = {"id", *getattr(model, "untyped", ())}
    return tuple(name for name, info in model.model_fields.items() if name not in ours and not lists_referred_to(info))


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, Enum):
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, BaseModel):
        yield from chain.from_iterable(_texts(getattr(value, name)) for name in _free(type(value)))
    elif isinstance(value, tuple | list):
        yield from chain.from_iterable(map(_texts, value))
