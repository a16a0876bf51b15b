"""What refers to what is declared in the fields: none is forgotten, each breakage is told in the sentence it had.

`broken_references.txt` holds the sentences of version 0.4, when a list by hand held the references: first one
for each field that refers to something that is gone, then one for each list with an id in it twice.
"""

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from referring_home import referring_home

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.references import items_at, lists_referred_to, noun_of
from alarmlib.store.fields import part_in

GONE, TWICE = (
    dict(line.split(" | ") for line in block.splitlines())
    for block in (Path(__file__).parent / "broken_references.txt").read_text(encoding="utf-8").split("\n\n")
)
MORE_EXACT = {
    "furniture sofa": "piece of furniture sofa",
    "times: there is no opening": "door time d1: there is no opening",
    "upkeep u1": "upkeep line u1",
}
"""Where a sentence named a thing otherwise than its own list does, or named no thing at all."""
NO_REFERENCE = {"Home.cautions_read"}
"""Ids of this project's own cautions, which no home holds."""
DOCUMENT: dict[str, Any] = Home.model_validate(referring_home()).model_dump(mode="json")


def now(sentence: str) -> str:
    """The sentence of 0.4 in today's words."""
    for old, new in MORE_EXACT.items():
        sentence = sentence.replace(old, new)
    return sentence


def said(place: str, value: Any) -> str:
    """The sentence about a home with another value at a place such as site.rooms.0.area; "" when there is none."""
    document = copy.deepcopy(DOCUMENT)
    *way, last = [int(step) if step.isdigit() else step for step in place.split(".")]
    inside: Any = document
    for step in way:
        inside = inside[step]
    inside[last] = [*inside[last], inside[last][0]] if value == "twice" else value(inside[last])
    try:
        Home.model_validate(document)
    except ValidationError as error:
        return str(error.errors()[0]["ctx"]["error"])
    return ""


@pytest.mark.parametrize("place", GONE)
def test_what_refers_to_nothing_is_told_as_before(place: str) -> None:
    """Each field that refers to something, pointed to what is not there."""
    assert said(place, lambda there: ["gone"] if isinstance(there, list) else "gone") == now(GONE[place])


@pytest.mark.parametrize("place", TWICE)
def test_an_id_that_is_there_twice_is_told_as_before(place: str) -> None:
    """Each list with its first element in it a second time."""
    assert said(place, "twice") == now(TWICE[place])


def fields(model: type[BaseModel] = Home, seen: frozenset[str] = frozenset()) -> Iterator[tuple[str, FieldInfo]]:
    """Every field of the model and of the parts in it, by class and name."""
    for name, info in model.model_fields.items():
        yield f"{model.__name__}.{name}", info
        inner = part_in(info.annotation)
        if inner is not None and inner.__name__ not in seen:
            yield from fields(inner, seen | {model.__name__})


def looks_like_ids(name: str, info: FieldInfo) -> bool:
    """Whether a field holds ids: by its type, or by a name that ends in `_id` or `_ids`."""
    typed = "[a-z0-9][a-z0-9_]*" in str((info.annotation, info.metadata))
    return (typed or name.endswith(("_id", "_ids"))) and not name.endswith(".id")


def test_every_field_that_holds_ids_says_where_they_lead() -> None:
    """A new field of ids is declared with `ref`, or nothing that reads references finds it."""
    wrong = {name for name, info in fields() if looks_like_ids(name, info) and not lists_referred_to(info)}
    assert wrong == NO_REFERENCE


def test_a_field_of_ids_without_a_reference_is_seen() -> None:
    """The test above sees both ways of forgetting it."""
    from alarmlib.model.base import Id, Name, Ref, fact

    class Forgotten(Part):
        """Three fields of ids, none declared so."""

        room: Ref = fact("", "Room")
        zones: tuple[Id, ...] = fact((), "Zones")
        device_id: Name = fact("", "Device")
        note: Name = fact("", "Note")

    found = [name for name, info in Forgotten.model_fields.items() if looks_like_ids(name, info)]
    assert found == ["room", "zones", "device_id"]


def test_every_reference_is_broken_once_above() -> None:
    """The home of this test holds every field that refers to something."""
    told = {place.rsplit(".", 1)[1] for place in GONE}
    assert {name.split(".")[1] for name, info in fields() if lists_referred_to(info)} == told


def test_every_reference_leads_to_a_list_of_the_home() -> None:
    """Each list named is there, and says what one of its elements is called."""
    home = Home.model_validate(DOCUMENT)
    lists = {path for _, info in fields() for path in lists_referred_to(info)}
    assert len(lists) > 12
    for path in lists:
        assert isinstance(items_at(home, path), tuple)
        assert noun_of(Home, path)


def test_several_lists_mean_any_of_them() -> None:
    """A habit is done by a person, a visitor or a pet, and leads wherever there is something."""
    for who in ("one", "help", "cat", ""):
        assert said("household.habits.0.who", lambda _, who=who: who) == ""
    for place in ("hall", "front", "between", "contact", "z1", "night", "house"):
        assert said("household.habits.0.steps.0.place", lambda _, place=place: place) == ""
