"""What a person calls each part of a home: its own name, or else what it joins; never its id."""

from collections.abc import Iterable, Iterator
from typing import Any

from alarmlib.model.base import Part
from alarmlib.model.control_unit import ControlUnit
from alarmlib.model.home import Home
from alarmlib.model.references import items_at, lists_referred_to, noun_of
from alarmlib.model.site import Passage
from alarmlib.model.survey import POINTS, Answer
from alarmlib.model.words import Word

ANYTHING = "anything"  # of a field that may point to parts of several kinds
# The lists of parts that something points to or tells of, those first that others are named by.
_NAMED = (
    "site.storeys", "site.rooms", "site.openings", "devices", "control_unit.zones", "control_unit.areas",
    "control_unit.part_sets", "control_unit.seasons", "circuits", "household.people", "household.visitors",
    "household.pets", "messages.responders", "messages.paths", "household.habits", "site.furniture", "wiring.runs",
    "wiring.boxes", "site.passages", "log.tests", "device_types",
)  # fmt: skip
_OWN = ("name", "label", "role", "what", "point")
_SORT = ("kind", "event", "deed")
_POINTS = {point.id: point.text for point in POINTS}
Names = dict[tuple[str, str], str]


def names_of(home: Home) -> Names:
    """The name of everything in the home by kind and id, as the owner typed it."""
    names: Names = {}
    for kind, items in _lists(home):
        names |= {(kind, item.id): called(item, names) for item in items}
    return names


def points_to(model: type[Part], field: str) -> str:
    """What a field points to, as the kind in `Names`; `ANYTHING` for one of several kinds, "" where to nothing."""
    lists = lists_referred_to(model.model_fields[field])
    return "" if not lists else noun_of(Home, lists[0]) if len(lists) == 1 else ANYTHING


def choices_of(home: Home, lists: Iterable[str]) -> list[tuple[str, str]]:
    """The parts in some lists (by path from the home) as a form offers them: id and name, each id once."""
    items = [item for path in lists for item in items_at(home, path)]
    names = {} if all(_own(item) for item in items) else names_of(home)
    return list({item.id: called(item, names) for item in items}.items())


def name_in(names: Names, kind: str, element_id: str) -> str:
    """The name of an element; of one that is gone, its id as plain words."""
    if kind == ANYTHING:
        found = next((name for (_, known), name in names.items() if known == element_id), None)
    else:
        found = names.get((kind, element_id))
    return element_id.replace("_", " ") if found is None else found


def called(item: Part, names: Names) -> str:
    """What a person calls a part: its name, else what it joins, its sort and its day; "" when it says nothing."""
    own = _own(item)
    if isinstance(item, Answer) and not own:
        return _POINTS.get(item.id, item.heading.text)
    if isinstance(item, ControlUnit):
        return "Control unit"
    if isinstance(item, Passage):
        return " – ".join(name_in(names, "room", end) for end in (item.first, item.second))
    return own or ", ".join(filter(None, (*_joins(item, names), *(_text(item, field) for field in (*_SORT, "on")))))


def neutral_name(home: Home, item: Part, label: str) -> str:
    """A name such as “Room 3” for something whose own name a copy may not tell: its place in its list."""
    alike = (items for _, items in _lists(home) if items and type(items[0]) is type(item))
    number = next((n for items in alike for n, each in enumerate(items, 1) if each.id == getattr(item, "id", "")), 0)
    return f"{label.split(' (', maxsplit=1)[0]} {number}"


def _own(item: Part) -> str:
    return next((text for field in _OWN if (text := _text(item, field))), "")


def _text(item: Part, field: str) -> str:
    value = getattr(item, field, "")
    return value.text if isinstance(value, Word) else value if isinstance(value, str) else ""


def _joins(item: Part, names: Names) -> Iterator[str]:
    for field in type(item).model_fields:
        kind = points_to(type(item), field)
        value = getattr(item, field) if kind else ""
        if isinstance(value, str) and value:
            yield name_in(names, kind, value)


def _lists(home: Home) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """The lists that hold what is named, each with what one of its parts is called."""
    for path in _NAMED:
        yield noun_of(Home, path), home.whole_devices if path == "devices" else items_at(home, path)
