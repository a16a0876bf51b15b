"""For each field of the model a change of it changes something that is worked out, or a list below says why not.

A field that only comes back in the inventories of the record (devices, house, household), as it was entered, does
nothing: whoever fills it in is told nothing for it. `derived` says what counts, `changing` how a value is changed.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

import pytest
from changing import changed, held_parts, models, other_values, places
from derived import FAST, STAGES, Known

from alarmlib.draft.short_path import draft_home
from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.short_path import ShortPath
from alarmlib.store import load

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"
ELEMENTS, VALUES = 6, 4

CARRIED = {
    "Home.name": "The title of the record and the name of its copies.",
    "Home.cleared_texts": "Decides whether forms warn of a text and copies leave it out (tests/store/test_sharing.py).",
    **{
        f"{model.__name__}.note": "A note of the owner's, for people."
        for model in models()
        if "note" in model.model_fields
    },
}
"""Carried for people: field by field, why nothing is worked out from it."""
_NOT_TRIED = {
    "Answer": "heading point left",
    "Device": "range_m angle_deg straight_range_m looks_down_deg slowest_m_s tone_hz fitted_on price",
    "Furniture": "name height_m",
    "Habit": "name who starts_at begins_in part_set area season expected",
    "HazardFacts": "hush resists_cooking from_peak_m below_peak_m rating_c",
    "Opening": "kind at ledge_width_m ledge_below_m seen_by_others escape_way opens_without_key",
    "Passage": "at at_second width_m shut_at_night",
    "Person": "user_slot",
    "Room": "outline ceiling_m ceiling door_shut_at_night tub_or_shower",
    "Supply": "edition",
    "Visitor": "often",
    "WireFree": "slot battery cell_mah rests_at_ua report_mas trips_a_day",
}
NOT_TRIED = frozenset(f"{model}.{name}" for model, names in _NOT_TRIED.items() for name in names.split())
"""Not asked here yet: most need a drawn home, where a try costs seconds. Nothing is claimed of these fields.

Two of them do nothing so far, as nothing but the inventories reads them: Device.slowest_m_s and Visitor.often.
"""
IDENTITY = frozenset({"id", "schema_version"})
"""What names an element or the file's own form: nothing is worked out from a name that nobody types."""


@cache
def known() -> tuple[Known, ...]:
    """The homes that are changed: a small one drafted from few answers, which is quick, and the demo home."""
    return Known(_wintry()), Known(_british()), Known(load(DEMO))


def _small() -> Home:
    answers = ShortPath(
        rooms="Hall, Kitchen, Living room, Garage\nUpstairs: Landing, Bedroom, Nursery, Bathroom",
        outside_doors="Front door: Hall\nBack door: Kitchen",
        windows="Kitchen window: Kitchen\nBay window: Living room\nBed window: Bedroom",
        inner_doors="Hall: Kitchen, Living room, Landing\nKitchen: Garage\nLanding: Bedroom, Nursery, Bathroom",
        people=3,
        pets="floor",
        walk_s=12,
        answers_siren="yes",
        bedrooms="Bedroom, Nursery",
    )
    return draft_home(Home(short_path=answers)).home


def _british() -> Home:
    """The small home under British rules."""
    document = _small().model_dump(mode="json")
    document["rules"]["rule_set"] = "britain"
    document["wiring"]["supply"] = {"battery_ah": 7.0, "rated_over_h": 20.0, "rule": "premises_britain"}
    document["devices"][0] |= {"quiet_current_a": 0.1, "alarm_current_a": 0.5}
    return Home.model_validate(document)


def _wintry() -> Home:
    """The small home with circumstances that the demo home does not have: poor walls, a loud siren, a found cable."""
    document = _small().model_dump(mode="json")
    site, devices = document["site"], document["devices"]
    site["outside_walls_insulated"] = "no"
    for device in devices:
        if device["kind"] in ("inside_sounder", "outside_sounder"):
            device |= {"level_dba": 100.0, "level_at_m": 1.0}
    smoke = {
        "id": "smoke",
        "name": "Smoke",
        "kind": "smoke",
        "link": "own",
        "room": "landing",
        "mount": "outside_wall",
        "hazard": {"below_ceiling_m": 0.02},
    }
    eye = {"id": "eye", "name": "Eye", "kind": "motion", "room": "garage", "circuit": "pair", "tamper": "yes"}
    leaves = [
        {
            "id": f"leaf_{n}",
            "name": f"Leaf {n}",
            "kind": "contact",
            "room": "garage",
            "circuit": "other",
            "zone": devices[-1]["zone"],
        }
        for n in (1, 2)
    ]
    document["devices"] = [*devices, *leaves, smoke, eye | {"zone": devices[-1]["zone"]}]
    document["circuits"] = [
        {"id": "pair", "name": "Pair", "ending": "single", "terminals": "Z1"},
        {"id": "other", "name": "Other", "ending": "double", "terminals": "Z2"},
    ]
    document["sound"] = {"ambient_dba": 60.0, "limit_dba": 70.0, "boundary_m": 10.0, "neighbour_m": 20.0}
    document["wiring"]["boxes"] = [
        {
            "id": "router",
            "name": "Router",
            "draws_w": 10.0,
            "fed_by": "own_battery",
            "own_battery_wh": 5.0,
            "paths": ["net"],
        },
        {"id": "switch", "name": "Switch", "draws_w": 5.0, "fed_by": "alarm_battery"},
    ]
    document["wiring"]["supply"] = {
        "battery_ah": 7.0,
        "rated_over_h": 20.0,
        "rule": "own",
        "quiet_h": 12.0,
        "alarm_s": 900.0,
        "second_ah": 5.0,
        "second_over_h": 1.0,
    }
    document["devices"][0] |= {"quiet_current_a": 0.1, "alarm_current_a": 0.5}
    document["messages"]["paths"].append({"id": "net", "name": "Net"})
    document["inherited"]["items"] = [
        {"id": "pair", "what": "Pair", "shut_ohm": 2200.0, "open_ohm": 4400.0, "both_open_ohm": 6600.0}
    ]
    for zone in document["unit"]["zones"]:
        zone["chime"] = True
    document["household"]["pets"][0]["free_in_day"] = [room["id"] for room in site["rooms"]]
    document["unit"]["seasons"] = [{"id": "winter", "name": "Winter", "months": [12, 1], "entry_s": 45.0}]
    document["unit"]["season_by"] = "owner"
    document["proof"]["prices"] = [{"kind": "move", "price": 10.0}]
    return Home.model_validate(document)


def fields_of(model: type[Part]) -> list[str]:
    """The fields of a part that hold no parts themselves."""
    return [
        name
        for name, field in model.model_fields.items()
        if name not in IDENTITY and not any(held_parts(field.annotation))
    ]


def dead(model: type[Part]) -> list[str]:
    """The fields of a part whose change shows in nothing, whichever home, element and value is tried."""
    waiting = [name for name in fields_of(model) if f"{model.__name__}.{name}" not in NOT_TRIED | CARRIED.keys()]
    for stages in (FAST, STAGES):
        for home in known():
            waiting = [name for name in waiting if not _shows(home, model, name, stages)]
    return waiting


def _shows(home: Known, model: type[Part], name: str, stages: Sequence[Any]) -> bool:
    return any(home.differs(other, stages) for other in _changed(home, model, name))


def _changed(home: Known, model: type[Part], name: str) -> Iterator[Home]:
    """Homes in which that field of one element has another value; elements of which something is said come first."""
    field = model.model_fields[name]
    found = [(where, getattr(part, name)) for where, part in places(home.derived.home, model)]
    found.sort(key=lambda each: each[1] == field.get_default())
    apart = found[:: max(1, len(found) // ELEMENTS)] if len(found) > ELEMENTS else found
    for where, now in apart[:ELEMENTS]:
        beside = (value for _, value in found if isinstance(value, str) and value != now)
        others = (*islice(beside, VALUES), *other_values(field, now, home.ids))
        homes = (changed(home.derived.home, home.document, (*where, name), value) for value in others)
        yield from islice((each for each in homes if each is not None), VALUES)


@pytest.mark.parametrize("model", models(), ids=lambda model: model.__name__)
def test_a_change_of_every_field_shows(model: type[Part]) -> None:
    """In a finding, figure, picture, draft, what the proof is given or a section that tells more than the fact."""
    assert dead(model) == []


def test_only_what_is_for_people_is_carried() -> None:
    """Labels and notes: each is a text that the model still has, with its reason."""
    for place, reason in CARRIED.items():
        name, _, field = place.partition(".")
        (model,) = (each for each in models() if each.__name__ == name)
        assert "str" in str(model.model_fields[field].annotation)
        assert reason.endswith(".")


def test_what_is_not_tried_is_there() -> None:
    """No entry outlives its field, and none hides one that is carried."""
    there = {f"{model.__name__}.{name}" for model in models() for name in fields_of(model)}
    assert there >= NOT_TRIED
    assert NOT_TRIED.isdisjoint(CARRIED)


def test_nothing_shows_where_nothing_changed() -> None:
    """The measure itself: the same home, read again, is the same in every stage; a note that nobody reads too."""
    for home in known():
        again = Home.model_validate(home.document)
        assert home.differs(again, STAGES) == ""


def test_a_change_is_seen_by_the_stage_that_it_belongs_to() -> None:
    """The measure itself: a delay shows in what is simulated, a survey's answer in the findings."""
    home = known()[0]
    siren = changed(home.derived.home, home.document, ("unit", "times", "siren_s"), 17.0)
    switch = changed(home.derived.home, home.document, ("site", "breaker"), "no")
    assert siren is not None
    assert switch is not None
    assert home.differs(siren, STAGES) == "setup"
    assert home.differs(switch, STAGES) == "findings"
