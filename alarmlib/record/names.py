"""What a person calls each thing of a home: its own name, or else what it joins; never its id."""

from collections.abc import Iterable, Iterator
from typing import Any

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.control_unit import ControlUnit
from alarmlib.model.site import Passage
from alarmlib.model.survey import POINTS, Answer
from alarmlib.model.words import Word

ANYTHING = "anything"  # of a field that may point to things of several kinds
# What the ids in a field of this name point to.
REFERS = {
    "room": "room", "first": "room", "second": "room", "sleeps_in": "room", "free_in_day": "room",
    "free_in_night": "room", "free_when_away": "room", "heard_first": "room", "storey": "storey",
    "opening": "opening", "openings": "opening", "door": "opening", "passage": "passage", "passages": "passage",
    "zone": "zone", "partner": "zone", "left_out": "zone", "seen_zone": "zone", "circuit": "circuit",
    "area": "area", "areas": "area", "follows": "area", "device": "device", "fob": "device", "boxes": "device",
    "repeater": "device", "sounder": "device", "sure_detectors": "device", "person": "person", "to": "responder",
    "paths": "message path", "part_set": "part set", "nobody_left_part_set": "part set", "season": "season",
    "season_now": "season", "retest_of": "test", "who": ANYTHING, "place": ANYTHING, "starts_at": ANYTHING,
}  # fmt: skip

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


def name_in(names: Names, kind: str, element_id: str) -> str:
    """The name of an element; of one that is gone, its id as plain words."""
    if kind == ANYTHING:
        found = next((name for (_, known), name in names.items() if known == element_id), None)
    else:
        found = names.get((kind, element_id))
    return element_id.replace("_", " ") if found is None else found


def called(item: Part, names: Names) -> str:
    """What a person calls a part: its name, else what it joins, its sort and its day; "" when it says nothing."""
    own = next((text for field in _OWN if (text := _text(item, field))), "")
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


def _text(item: Part, field: str) -> str:
    value = getattr(item, field, "")
    return value.text if isinstance(value, Word) else value if isinstance(value, str) else ""


def _joins(item: Part, names: Names) -> Iterator[str]:
    for field in type(item).model_fields:
        value = getattr(item, field) if field in REFERS else ""
        if isinstance(value, str) and value:
            yield name_in(names, REFERS[field], value)


def _lists(home: Home) -> Iterable[tuple[str, tuple[Any, ...]]]:
    """The lists of things that something points to or tells of, those first that others are named by."""
    site, unit, household, messages = home.site, home.unit, home.household, home.messages
    return (
        ("storey", site.storeys),
        ("room", site.rooms),
        ("opening", site.openings),
        ("device", home.whole_devices),
        ("zone", unit.zones),
        ("area", unit.areas),
        ("part set", unit.part_sets),
        ("season", unit.seasons),
        ("circuit", home.circuits),
        ("person", household.people),
        ("visitor", household.visitors),
        ("pet", household.pets),
        ("responder", messages.responders),
        ("message path", messages.paths),
        ("habit", household.habits),
        ("piece of furniture", site.furniture),
        ("run", home.wiring.runs),
        ("box", home.wiring.boxes),
        ("passage", site.passages),
        ("test", home.log.tests),
    )
