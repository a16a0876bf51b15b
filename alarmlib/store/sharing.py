"""Copies to share: each field goes to the circle that its declaration names, and no further."""

from collections.abc import Iterator
from itertools import count
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from alarmlib.model import Home
from alarmlib.model.references import lists_referred_to
from alarmlib.model.survey import POINTS
from alarmlib.model.words import Share
from alarmlib.store.document import validated
from alarmlib.store.fields import part_in
from alarmlib.store.secrets import is_free_text, looks_secret, text_hash

_CIRCLES = tuple(Share)  # from the owner outwards: each sees all that the ones after it see
_KNOWN_IDS = frozenset(point.id for point in POINTS)


class _Left(Exception):  # noqa: N818
    """An element that cannot be told without a field that is hidden."""


def copy_for(home: Home, share: Share) -> Home:
    """The home as one circle may see it: what is hidden is blank, as if it had never been answered.

    Free text that looks like a secret, and was not cleared by the owner, is in no copy but the owner's. In copies
    for a class or the public the ids, which are made of names, are neutral ones.
    """
    if share is Share.OWNER:
        return home
    return validated(_Copy(home, share).part(home, ()), home.name)


def level_of(info: FieldInfo) -> Share:
    """The widest circle that may read a field."""
    extra = info.json_schema_extra
    return Share(str(extra.get("share", Share.OWNER))) if isinstance(extra, dict) else Share.OWNER


def sees(share: Share, level: Share) -> bool:
    """Whether a copy for a circle holds the fields of a level."""
    return _CIRCLES.index(level) >= _CIRCLES.index(share)


def sharing_table(model: type[BaseModel] = Home) -> list[tuple[str, tuple[Share, ...]]]:
    """Every field of the home with the copies that hold it, for review."""
    return [(path, tuple(s for s in Share if sees(s, level))) for path, level in _levels(model, "", Share.PUBLIC)]


def _levels(model: type[BaseModel], before: str, most: Share) -> Iterator[tuple[str, Share]]:
    """Each field with its level, which is never wider than that of what it is in."""
    for name, info in model.model_fields.items():
        level = min(level_of(info), most, key=_CIRCLES.index)
        yield f"{before}{name}", level
        if (inner := part_in(info.annotation)) is not None:
            many = "[]" if "tuple" in str(info.annotation) else ""
            yield from _levels(inner, f"{before}{name}{many}.", level)


def _ids(value: Any, word: str) -> Iterator[tuple[str, str]]:
    """Every element's id, with the name of the list it is in."""
    if isinstance(value, tuple):
        for item in value:
            if isinstance(name := getattr(item, "id", None), str):
                yield word, name
            yield from _ids(item, word)
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _ids(getattr(value, name), name)


class _Copy:
    """One copy in the making."""

    def __init__(self, home: Home, share: Share) -> None:
        self.share = share
        self.cleared = frozenset(home.cleared_texts)
        old = dict.fromkeys(_ids(home, ""))
        telling = [(word, name) for word, name in old if name not in _KNOWN_IDS and self._tells(name)]
        taken = {name for _, name in old} - {name for _, name in telling}
        self.ids: dict[str, str] = {}
        for word, name in telling:
            new = next(f"{word}_{n}" for n in count(1) if f"{word}_{n}" not in taken)
            self.ids.setdefault(name, new)
            taken.add(new)

    def _tells(self, name: str) -> bool:
        return self.share in {Share.CLASS, Share.PUBLIC} or looks_secret(name) is not None

    def part(self, part: BaseModel, numbers: tuple[int, ...]) -> dict[str, Any]:
        """The fields of a part that this copy holds; raises _Left when one that is needed is hidden."""
        found = {}
        for name, info in type(part).model_fields.items():
            value = getattr(part, name)
            if not sees(self.share, level_of(info)) or self._secret(value, info):
                if info.is_required():
                    found[name] = self._neutral_name(info, numbers)
                continue
            renamed = name == "id" or lists_referred_to(info) or part_in(info.annotation) is not None
            found[name] = self._value(value) if renamed else value
        return found

    def _value(self, value: Any) -> Any:
        if isinstance(value, BaseModel):
            return self.part(value, ())
        if isinstance(value, tuple):
            return tuple(self._items(value))
        return self.ids.get(value, value) if type(value) is str else value

    def _items(self, items: tuple[Any, ...]) -> Iterator[Any]:
        for number, item in enumerate(items, 1):
            if not isinstance(item, BaseModel):
                yield self._value(item)
                continue
            try:
                yield self.part(item, (number,))
            except _Left:
                continue

    def _secret(self, value: Any, info: FieldInfo) -> bool:
        """Whether a text may not leave the owner's copy, whatever the level of its field."""
        if not isinstance(value, str) or not is_free_text(info):
            return False
        return text_hash(value) not in self.cleared and looks_secret(value) is not None

    def _neutral_name(self, info: FieldInfo, numbers: tuple[int, ...]) -> str:
        """A neutral name such as "Room 3" for a name that is hidden; anything else cannot be made up."""
        if not is_free_text(info):
            raise _Left
        word = (info.title or "Item").split(" (")[0]
        return " ".join([word, *map(str, numbers)])
