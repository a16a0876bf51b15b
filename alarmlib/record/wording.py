"""Blocks in the words of a country: every text in them, never a key, an id or a number."""

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any

from alarmlib.record.blocks import Block

Say = Callable[[str], str]
_NO_TEXT = frozenset({"id", "subject", "source", "sources", "key", "verdict", "page", "field"})


def reworded(block: Block, say: Say) -> Block:
    """The block with all its texts in the words of a country."""
    found: Block = _said(block, say)
    return found


def _said(value: Any, say: Say) -> Any:
    if isinstance(value, Enum):
        return value
    if isinstance(value, str):
        return say(value)
    if isinstance(value, tuple):
        parts = [_said(each, say) for each in value]
        return value if all(new is old for new, old in zip(parts, value, strict=True)) else tuple(parts)
    if is_dataclass(value) and not isinstance(value, type):
        old = {each.name: getattr(value, each.name) for each in fields(value) if each.init}
        new = {name: _said(part, say) for name, part in old.items() if name not in _NO_TEXT}
        moved = {name: part for name, part in new.items() if part is not old[name]}
        return replace(value, **moved) if moved else value
    return value
