"""Where a place in a home's document is declared."""

import types
from collections.abc import Sequence
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo


def field_at(model: type[BaseModel], place: Sequence[int | str]) -> FieldInfo | None:
    """The declaration of the field at a place, or None."""
    info: FieldInfo | None = None
    for step in place:
        if not isinstance(step, str) or step not in model.model_fields:
            continue
        info = model.model_fields[step]
        model = part_in(info.annotation) or model
    return info


def part_in(annotation: Any) -> type[BaseModel] | None:
    """The model that a field holds, by itself, in a tuple or optionally."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    if get_origin(annotation) in {tuple, Union, types.UnionType}:
        return next(filter(None, map(part_in, get_args(annotation))), None)
    return None
