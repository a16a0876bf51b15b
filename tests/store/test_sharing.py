"""Copies to share hold what each field's level allows, and no secret of the owner's."""

import copy
import os
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.model import Home
from alarmlib.model.words import Share, Word
from alarmlib.store import text_of
from alarmlib.store.columns import _item_of, _without_none
from alarmlib.store.fields import part_in
from alarmlib.store.secrets import free_texts, is_free_text, looks_secret, not_secret
from alarmlib.store.sharing import copy_for, level_of, sees, sharing_table
from alarmlib.store.tables import CsvTable, to_csv

REVIEWED = Path(__file__).with_name("sharing_table.txt")


def table_text() -> str:
    rows = [f"{path:60} {' '.join(share.value for share in copies)}" for path, copies in sharing_table()]
    return "\n".join(["# Which copies hold which field of the home. A new line here is to be reviewed.", *rows, ""])


def test_field_by_copy_is_as_reviewed() -> None:
    """A new or widened field fails here until somebody has looked at it: write the table again, ALARM_REVIEWED=1."""
    if os.environ.get("ALARM_REVIEWED") == "1":
        REVIEWED.write_text(table_text(), encoding="utf-8", newline="\n")
    assert table_text() == REVIEWED.read_text(encoding="utf-8")


def test_a_field_that_says_nothing_is_the_owners() -> None:
    from alarmlib.model.base import Part, fact

    class New(Part):
        """A part whose writer forgot the level."""

        secret: str = fact("", "Secret")
        plain: str = ""

    assert sharing_table(New) == [("secret", (Share.OWNER,)), ("plain", (Share.OWNER,))]


def full(model: Any, numbers: Any, text: Any) -> dict[str, Any]:
    """A document in which every free text is filled (`text()`), every list has one element, every part is there."""
    found: dict[str, Any] = {}
    for name, info in model.model_fields.items():
        holds, _ = _without_none(info.annotation)
        inner = part_in(info.annotation)
        if is_free_text(info):
            found[name] = text(name)
        elif name == "id":
            found[name] = f"id_{next(numbers)}"
        elif inner is not None:
            made = full(inner, numbers, text)
            found[name] = [made] if "tuple" in str(info.annotation) else made
        elif isinstance(holds, type) and issubclass(holds, Word) and info.is_required():
            found[name] = next(iter(holds)).value
        elif info.is_required() and holds is str:
            found[name] = "@"
        elif holds is float and info.is_required():
            found[name] = 5
        elif _item_of(holds) is not None:
            found[name] = []
    return found


def joined(document: dict[str, Any]) -> dict[str, Any]:
    """The references that must be there, filled with the ids of what they name."""
    site, unit, household = document["site"], document["control_unit"], document["household"]
    storey, room, opening = site["storeys"][0]["id"], site["rooms"][0]["id"], site["openings"][0]["id"]
    zone = unit["zones"][0]["id"]
    site["rooms"][0]["storey"] = storey
    for part, name in ((site["openings"], "room"), (site["furniture"], "room"), (site["fixtures"], "room")):
        part[0][name] = room
    site["passages"][0] |= {"first": room, "second": room}
    household["walks"][0] |= {"person": household["people"][0]["id"], "door": opening}
    for doors in (unit["times"]["doors"], unit["seasons"][0]["doors"]):
        doors[0]["opening"] = opening
    unit["part_sets"][0]["doors"][0]["zone"] = zone
    document["devices"][0]["type"] = document["device_types"][0]["id"]
    unit["seasons"][0]["zones"][0]["zone"] = zone
    for row, name in (
        (document["wiring"]["runs"][0]["stops"][0], "device"),
        (document["sound"]["heard"][0], "sounder"),
    ):
        row[name] = document["devices"][0]["id"]
    document["sound"]["doors"][0]["passage"] = site["passages"][0]["id"]
    document["cleared_texts"] = []
    document["schema_version"] = 2
    return document


def full_home(text: Any) -> Home:
    return Home.model_validate(joined(full(Home, count(1), text)))


PLANTED = ["4711", "key under the mat", "anna@example.org", "away from 3 July", "12 Elm Street"]


@pytest.mark.parametrize("planted", PLANTED)
@pytest.mark.parametrize("share", [Share.HELPER, Share.CLASS, Share.PUBLIC])
def test_a_secret_in_every_free_text_is_in_no_copy(planted: str, share: Share) -> None:
    """Planted in all free-text fields at once (each marked with a number): home file, CSV and ids are clean."""
    numbers = count(1)
    home = full_home(lambda _: f"{planted} q{next(numbers)}q")
    planted_fields = next(numbers) - 1
    assert planted_fields == len(dict(free_texts(home))) > 50
    assert text_of(home).decode().count(planted) == planted_fields
    shared = copy_for(home, share)
    texts = [text_of(shared).decode(), *(to_csv(shared, table) for table in CsvTable)]
    assert not [text for text in texts if planted in text or "q1q" in text]


def test_what_a_level_hides_is_hidden_even_if_it_looks_harmless() -> None:
    """Every text carries its own field's name: a copy holds those of fields it may see, and no others."""
    home = full_home(lambda name: f"remark about {name}")
    levels = dict(sharing_table())
    for share in (Share.HELPER, Share.CLASS, Share.PUBLIC):
        text = text_of(copy_for(home, share)).decode()
        may = {path.rsplit(".", 1)[-1] for path, copies in levels.items() if share in copies}
        for name in {path.rsplit(".", 1)[-1] for path in levels} - may:
            assert f"remark about {name}" not in text


def test_a_text_that_the_owner_cleared_goes_to_the_helper() -> None:
    home = full_home(lambda name: "ISBN 12345678" if name == "name" else "")
    assert b"12345678" not in text_of(copy_for(home, Share.HELPER))
    edit = not_secret(home, "ISBN 12345678")
    cleared = home.model_copy(update={"cleared_texts": edit.after})
    assert b"12345678" in text_of(copy_for(cleared, Share.HELPER))
    assert b"12345678" not in text_of(copy_for(cleared, Share.CLASS))


def test_the_owners_copy_is_the_home(home: Home) -> None:
    assert copy_for(home, Share.OWNER) is home


def test_ids_made_of_names_are_neutral_for_a_class(document: dict[str, Any]) -> None:
    """References still lead to the same parts; for a helper only an id that looks secret is renamed."""
    told = copy.deepcopy(document)
    told["site"]["rooms"][0]["id"] = "annas_room"
    for part in (told["site"]["openings"][0], *told["devices"]):
        part["room"] = "annas_room"
    told["devices"][0]["id"] = "d_4711"
    home = Home.model_validate(told)
    shared = copy_for(home, Share.CLASS)
    assert b"anna" not in text_of(shared)
    assert [opening.room for opening in shared.site.openings] == [room.id for room in shared.site.rooms]
    assert [room.name for room in shared.site.rooms] == ["Room 1", "Room 2"]
    helped = copy_for(home, Share.HELPER)
    assert helped.site.rooms[0].id == "annas_room"
    assert helped.devices[0].id == "devices_1"


def test_a_text_that_equals_an_id_stays_a_text(document: dict[str, Any]) -> None:
    document["household"]["pets"] = [{"id": "dog", "kind": "dog"}]
    shared = copy_for(Home.model_validate(document), Share.CLASS)
    assert (shared.household.pets[0].id, shared.household.pets[0].kind) == ("pets_1", "dog")


@given(data=st.data(), share=st.sampled_from([Share.HELPER, Share.CLASS, Share.PUBLIC]))
def test_every_copy_is_a_home_and_a_copy_of_it_is_itself(data: st.DataObject, share: Share) -> None:
    """Whatever is typed: the copy validates, shares only what it may, and sharing it again changes nothing."""
    words = st.text(st.characters(exclude_categories=("C", "Z"), include_characters=" "), max_size=12)
    words |= st.sampled_from(["4711", "Hall", "PIN"])
    home = full_home(lambda _: data.draw(words))
    shared = copy_for(home, share)
    assert parts_within(shared, share)
    again = copy_for(shared, share)
    assert text_of(again) == text_of(shared)
    assert not any(looks_secret(room.name) for room in shared.site.rooms)


def parts_within(part: Any, share: Share) -> bool:
    """Whether every hidden field of a copy is blank or a neutral name."""
    for name, info in type(part).model_fields.items():
        value = getattr(part, name)
        if not sees(share, level_of(info)):
            assert value == info.default or value.startswith((info.title or "").split(" (")[0])
        for item in value if isinstance(value, tuple) else (value,):
            if hasattr(type(item), "model_fields"):
                parts_within(item, share)
    return True
