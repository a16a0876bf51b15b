"""What refers to what, read where the fields are declared (`ref`, and `noun` of a list): each id is there, once."""

from collections.abc import Iterator, Mapping
from functools import cache, reduce
from typing import Any, get_args

from pydantic.fields import FieldInfo

from alarmlib.model.base import Part


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


def broken_references(home: Part) -> Iterator[str]:
    """A sentence for each id that is twice in its list or points to nothing."""
    for element, where, part in _parts(home):
        before = f"{where}: " if element else ""
        for name, noun in _lists(type(part)):
            yield from _twice(before + noun, [item.id for item in getattr(part, name)])
    known: dict[str, frozenset[str]] = {}
    for _, where, part in _parts(home):
        for name, lists in _referring(type(part)):
            for path in lists:
                if path not in known:
                    known[path] = frozenset(item.id for item in items_at(home, path))
            value = getattr(part, name)
            wanted = (value,) if isinstance(value, str) else value
            gone = [i for i in wanted if i and not any(i in known[path] for path in lists)]
            noun = noun_of(type(home), lists[0]) if gone else ""
            yield from (f"{where}: there is no {noun} “{i}”; it must be one of the {noun}s entered" for i in gone)


def _twice(name: str, ids: list[str]) -> Iterator[str]:
    if len(set(ids)) < len(ids):
        again = next(i for n, i in enumerate(ids) if i in ids[:n])
        yield f"{name} “{again}” is there twice; each id may be there only once"


def _parts(part: Part, where: str = "home", element: bool = False) -> Iterator[tuple[bool, str, Part]]:
    """Each part of the home, and where it is: in which element of the outermost list, else in which part."""
    yield element, where, part
    for name, label, noun in _held(type(part)):
        value = getattr(part, name)
        if isinstance(value, Part):
            yield from _parts(value, where if element else label, element)
        for item in value if isinstance(value, tuple) else ():
            own = element or "id" in type(item).model_fields  # a row named by what it refers to has no id of its own
            yield from _parts(item, where if element or not own else f"{noun} {item.id}", own)


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
