"""Two states of a home compared field by field."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.naming import Names, called, name_in, names_of, points_to
from alarmlib.model.words import Share
from alarmlib.record.rows import kind_of, label, plain_value, share_of
from alarmlib.store.sharing import sees
from alarmlib.units import Kind

ABSENT = "–"


@dataclass(frozen=True)
class FieldChange:
    """One field: where it is in words, its value before, its value now."""

    where: str
    before: str
    after: str


@dataclass(frozen=True)
class _Two:
    """What both sides of a comparison are read with: the names then and now, the copy, the units."""

    old: Names
    new: Names
    copy: Share
    system: str


def differences(before: Home, after: Home, copy: Share = Share.OWNER) -> tuple[FieldChange, ...]:
    """Every field that moved and that this copy may show, in the order of the model.

    Elements of lists are matched by id: a new one and a missing one are a line each. What a field points to is told
    by its name then and now.
    """
    two = _Two(names_of(before), names_of(after), copy, after.units)
    return tuple(_parts("", *_devices_alike(before, after), two))


def _devices_alike(before: Home, after: Home) -> tuple[Home, Home]:
    """Both homes; a device whose type is another one now is in both with every fact, so that only those tell."""
    was = {each.id: each.type for each in before.devices}
    moved = {each.id for each in after.devices if was.get(each.id, each.type) != each.type}
    return _told_whole(before, moved), _told_whole(after, moved)


def _told_whole(home: Home, moved: set[str]) -> Home:
    both = zip(home.devices, home.whole_devices, strict=True)
    return home.model_copy(update={"devices": tuple(whole if e.id in moved else e for e, whole in both)})


def _parts(where: str, before: Part, after: Part, two: _Two) -> Iterator[FieldChange]:
    for name in type(after).model_fields:
        old, new = getattr(before, name), getattr(after, name)
        if old == new or name == "id" or not sees(two.copy, share_of(type(after), name)):
            continue
        place = ", ".join(filter(None, (where, label(type(after), name))))
        if isinstance(old, Part) and type(old) is type(new):
            yield from _parts(place, old, new, two)
        elif _elements(old) or _elements(new):
            yield from _lists(place, old, new, two)
        else:
            kind, refers = kind_of(type(after), name), points_to(type(after), name)
            then = _value(old, kind, refers, two.old, two.system)
            yield FieldChange(place, then, _value(new, kind, refers, two.new, two.system))


def _lists(where: str, before: Sequence[Any], after: Sequence[Any], two: _Two) -> Iterator[FieldChange]:
    old, new = {item.id: item for item in before}, {item.id: item for item in after}
    for key, item in new.items():
        if key not in old:
            yield FieldChange(_at(where, item, two.new), ABSENT, "added")
        elif item != old[key]:
            yield from _parts(_at(where, item, two.new), old[key], item, two)
    yield from (
        FieldChange(_at(where, item, two.old), "was here", "taken out") for key, item in old.items() if key not in new
    )
    if old.keys() == new.keys() and list(old) != list(new):
        yield FieldChange(where, "in another order", "in a new order")


def _at(where: str, item: Part, names: Names) -> str:
    return ", ".join(filter(None, (where, called(item, names))))


def _elements(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and isinstance(value[0], Part)


def _value(value: Any, kind: Kind, refers: str, names: Names, system: str) -> str:
    """A value as a person reads it: what it points to by name; of ticks, which have no names, how many there are."""
    if isinstance(value, tuple):
        if not refers and any(type(item) is str for item in value):
            return str(len(value))
        return ", ".join(_value(item, kind, refers, names, system) for item in value) or ABSENT
    if isinstance(value, Part):
        return "given"
    if refers and value:
        return name_in(names, refers, value)
    return plain_value(value, kind, system) or ABSENT
