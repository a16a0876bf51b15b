"""What refers to what, read where the fields are declared (`ref`, and `noun` of a list): each id is there, once."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, reduce
from typing import Any, get_args

from pydantic.fields import FieldInfo

from alarmlib.model.base import Part
from alarmlib.model.misfits import Misfit


def lists_referred_to(info: FieldInfo) -> tuple[str, ...]:
    """The lists, by path from the home, in which what a field refers to may be; none for a field that refers to none.

    Reads what `alarmlib.model.base.ref` declared.
    """
    found = _declared(info).get("refers", ())
    return tuple(str(path) for path in found) if isinstance(found, list) else ()


def noun_of(home: type[Part], path: str) -> str:
    """What one part of the list at a path is called, such as “room” for "site.rooms". Raises KeyError for no list."""
    *way, last = path.split(".")
    model: Any = home
    for name in way:
        model = model.model_fields[name].annotation
    return str(_declared(model.model_fields[last])["noun"])


def items_at(home: Part, path: str) -> tuple[Any, ...]:
    """The parts in the list at a path from the home, such as "site.rooms"."""
    return tuple(reduce(getattr, path.split("."), home))


def broken_references(home: Part) -> Iterator[Misfit]:
    """What does not fit, for each id that is twice in its list or points to nothing."""
    for spot in _parts(home):
        before = f"{spot.said}: " if spot.element else ""
        for name, noun in _lists(type(spot.part)):
            yield from _twice(before + noun, (*spot.path, name), [item.id for item in getattr(spot.part, name)])
    known: dict[str, frozenset[str]] = {}
    for spot in _parts(home):
        for name, lists in _referring(type(spot.part)):
            for path in lists:
                if path not in known:
                    known[path] = frozenset(item.id for item in items_at(home, path))
            value = getattr(spot.part, name)
            wanted = (value,) if isinstance(value, str) else value
            gone = [i for i in wanted if i and not any(i in known[path] for path in lists)]
            noun = noun_of(type(home), lists[0]) if gone else ""
            for each in gone:
                what = f"{spot.said}: there is no {noun} “{each}”; it must be one of the {noun}s entered"
                yield Misfit((*spot.path, name), "", what)


def _twice(name: str, path: tuple[str, ...], ids: list[str]) -> Iterator[Misfit]:
    if len(set(ids)) < len(ids):
        again = next(i for n, i in enumerate(ids) if i in ids[:n])
        yield Misfit(path, "", f"{name} “{again}” is there twice; each id may be there only once")


@dataclass(frozen=True)
class _Spot:
    """A part, how one gets to it, and what a sentence calls the place: the outermost list's element, or the part."""

    part: Part
    path: tuple[str, ...] = ()
    said: str = "home"
    element: bool = False


def _parts(part: Part) -> Iterator[_Spot]:
    """Each part of the home, and where it is."""
    return _within(_Spot(part))


def _within(spot: _Spot) -> Iterator[_Spot]:
    yield spot
    for name, label, noun in _held(type(spot.part)):
        value, path = getattr(spot.part, name), (*spot.path, name)
        if isinstance(value, Part):
            yield from _within(_Spot(value, path, spot.said if spot.element else label, spot.element))
        for place, item in enumerate(value) if isinstance(value, tuple) else ():
            own = "id" in type(item).model_fields  # a row named by what it refers to has no id of its own
            said = spot.said if spot.element or not own else f"{noun} {item.id}"
            step = item.id if own else str(place + 1)
            yield from _within(_Spot(item, (*path, step), said, spot.element or own))


@cache
def _referring(model: type[Part]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The fields of a part that refer to something, with the lists where that may be."""
    fields = model.model_fields.items()
    return tuple((name, lists) for name, info in fields if (lists := lists_referred_to(info)))


@cache
def _lists(model: type[Part]) -> tuple[tuple[str, str], ...]:
    """The lists of a part in which each id may be once, with what one of their parts is called."""
    fields = model.model_fields.items()
    return tuple((name, str(noun)) for name, info in fields if (noun := _declared(info).get("noun")))


@cache
def _held(model: type[Part]) -> tuple[tuple[str, str, str], ...]:
    """The fields of a part that hold parts, with their labels and nouns in small letters."""
    found = []
    for name, info in model.model_fields.items():
        if _holds_parts(info.annotation):
            label = (info.title or name).lower()
            found.append((name, label, str(_declared(info).get("noun", label))))
    return tuple(found)


def _holds_parts(annotation: Any) -> bool:
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return True
    return any(map(_holds_parts, get_args(annotation)))


def _declared(info: FieldInfo) -> Mapping[str, Any]:
    return info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
