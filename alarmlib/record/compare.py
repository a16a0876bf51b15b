"""Two states of a home compared field by field."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.words import Share
from alarmlib.record.rows import kind_of, label, plain_value, share_of
from alarmlib.store.sharing import sees
from alarmlib.units import Kind

ABSENT = "–"


@dataclass(frozen=True)
class Change:
    """One field: where it stands in words, what stood there, what stands there now."""

    where: str
    before: str
    after: str


def differences(before: Home, after: Home, copy: Share = Share.OWNER) -> tuple[Change, ...]:
    """Every field that moved and that this copy may show, in the order of the model.

    Elements of lists are matched by id: a new one and a missing one are a line each.
    """
    return tuple(_parts("", before, after, copy, after.units))


def _parts(where: str, before: Part, after: Part, copy: Share, system: str) -> Iterator[Change]:
    for name in type(after).model_fields:
        old, new = getattr(before, name), getattr(after, name)
        if old == new or not sees(copy, share_of(type(after), name)):
            continue
        place = ", ".join(filter(None, (where, label(type(after), name))))
        if isinstance(old, Part) and type(old) is type(new):
            yield from _parts(place, old, new, copy, system)
        elif _elements(old) or _elements(new):
            yield from _lists(place, old, new, copy, system)
        else:
            kind = kind_of(type(after), name)
            yield Change(place, _value(old, kind, system), _value(new, kind, system))


def _lists(where: str, before: Sequence[Any], after: Sequence[Any], copy: Share, system: str) -> Iterator[Change]:
    old, new = {item.id: item for item in before}, {item.id: item for item in after}
    for key, item in new.items():
        if key not in old:
            yield Change(f"{where}, {_called(item)}", ABSENT, "added")
        elif item != old[key]:
            yield from _parts(f"{where}, {_called(item)}", old[key], item, copy, system)
    yield from (
        Change(f"{where}, {_called(item)}", "stood here", "taken out") for key, item in old.items() if key not in new
    )
    if old.keys() == new.keys() and list(old) != list(new):
        yield Change(where, "in another order", "in a new order")


def _called(item: Any) -> str:
    return next((str(text) for name in ("name", "label", "role") if (text := getattr(item, name, ""))), str(item.id))


def _elements(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and isinstance(value[0], Part)


def _value(value: Any, kind: Kind, system: str) -> str:
    if isinstance(value, tuple):
        return ", ".join(_value(item, kind, system) for item in value) or ABSENT
    if isinstance(value, Part):
        return "given"
    return plain_value(value, kind, system) or ABSENT
