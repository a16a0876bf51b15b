"""Whom the intruder's run is about: what counts as a way in, what trips there, which areas are set beside."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from alarmlib.control.inputs import SET_FULL, Opens
from alarmlib.control.layout import A
from alarmlib.control.machine import step
from alarmlib.control.setup import Behaviour, Override, Setup
from alarmlib.control.setup_parts import AreaSetup, PartSetup, ZoneSetup
from alarmlib.model import Home
from alarmlib.model.words import Function
from alarmlib.proof.intruder.ways import (
    CannotBeSet,
    guarded_rooms,
    heard_first_rooms,
    noticed,
    set_state,
    ways_in,
)

Made = Callable[..., Home]


@pytest.fixture
def openings() -> Home:
    """One of each kind that matters, all of the hall, a contact and a shock detector on the glazed door."""
    kinds = {
        "front": {"kind": "door", "reach": "ground", "entry_exit": True, "glass": "yes"},
        "plain_door": {"kind": "door", "reach": "ground", "glass": "no"},
        "window": {"kind": "window", "reach": "ground"},
        "roof": {"kind": "roof_light", "reach": "not"},
        "letterbox": {"kind": "letterbox", "reach": "ground"},
        "flap": {"kind": "pet_flap", "reach": "ground"},
        "gate": {"kind": "gate", "reach": "ground"},
    }
    devices = [
        {"id": "front_contact", "kind": "contact", "openings": ["front"]},
        {"id": "front_shock", "kind": "shock", "openings": ["front"]},
        {"id": "plain_contact", "kind": "contact", "openings": ["plain_door"]},
        {"id": "window_contact", "kind": "contact", "openings": ["window"]},
        {"id": "old_contact", "kind": "contact", "openings": ["window"], "state": "removed"},
        {"id": "ear", "kind": "glass_break", "room": "hall"},
    ]
    return Home.model_validate(
        {
            "site": {
                "storeys": [{"id": "ground", "name": "Ground"}],
                "rooms": [{"id": "hall", "name": "Hall", "storey": "ground"},
                          {"id": "bed", "name": "Bed", "storey": "ground", "sleeps_here": True},
                          {"id": "shed", "name": "Shed", "storey": "ground", "area": "yard"},
                          {"id": "porch", "name": "Porch", "storey": "ground", "guarded": False}],
                "openings": [{"id": o, "name": o, "room": "hall"} | facts for o, facts in kinds.items()],
            },
            "control_unit": {"areas": [{"id": "house", "name": "House"}, {"id": "yard", "name": "Yard"}],
                     "zones": [{"id": "all", "label": "All", "function": "at_once"}]},
            "devices": [device | {"name": device["id"], "zone": "all"} for device in devices],
        }
    )  # fmt: skip


def test_ways_in_that_are_left_out(openings: Home, put: Made) -> None:
    """Letterbox, pet flap and gate never count; what needs a ladder counts when somebody brings one."""
    assert [way.opening for way in ways_in(openings)] == ["front", "plain_door", "window"]
    with_ladder = put(openings, {"proof.brings_ladder": True})
    assert [way.opening for way in ways_in(with_ladder)] == ["front", "plain_door", "window", "roof"]


def test_what_coming_in_trips(openings: Home, put: Made) -> None:
    """A contact must, a shock detector may; a contact that was taken down is not there."""
    front, plain, window = ways_in(openings)
    assert (front.must, front.may) == ({"front_contact"}, {"front_shock"})
    assert (plain.must, plain.may) == ({"plain_contact"}, frozenset())
    assert (window.must, window.may) == ({"window_contact"}, frozenset())
    front, plain, window = ways_in(put(openings, {"proof.breaks_glass": True}))
    assert (front.must, front.may) == (frozenset(), {"front_contact", "front_shock", "ear"})
    assert plain.must == {"plain_contact"}
    assert (window.must, window.may) == (frozenset(), {"window_contact", "ear"})


def test_rooms_of_an_area(openings: Home, put: Made) -> None:
    """Guarded ones of its own; to be heard first: named ones, and in a part set those that somebody sleeps in."""
    assert guarded_rooms(openings, "house") == {"hall", "bed"}
    assert guarded_rooms(openings, "yard") == {"shed"}
    named = put(openings, {"proof.heard_first": ["hall", "shed"]})
    assert heard_first_rooms(named, "house", SET_FULL) == {"hall"}
    assert heard_first_rooms(named, "house", "night") == {"hall", "bed"}
    assert heard_first_rooms(named, "yard", "night") == {"shed"}


AREAS = (
    AreaSetup("house", exit_s=4, entry_s=3, siren_s=9, parts=(PartSetup("night", exit_s=4),)),
    AreaSetup("yard", exit_s=4, entry_s=3, siren_s=9, parts=(PartSetup("party"), PartSetup("dusk"))),
    AreaSetup("flat", exit_s=4, entry_s=3, siren_s=9),
)
UNIT = Setup(AREAS, (ZoneSetup("door", Function.ENTRY_EXIT, ("house",)),))


def test_set_long_ago() -> None:
    """Every delay is over; asking for a set is to get it."""
    state = set_state(UNIT, {"house": "night", "yard": SET_FULL})
    house, yard, flat = UNIT.layout.areas
    assert [state[area.base + A.SET] for area in (house, yard, flat)] == [2, 1, 0]
    assert not any(state[area.base + A.EXIT] for area in UNIT.layout.areas)
    assert not noticed(UNIT, state)
    strict = replace(UNIT, behaviour=Behaviour(override=Override.NOT_OFFERED))
    with pytest.raises(CannotBeSet, match="house"):
        set_state(strict, {"house": SET_FULL}, before=(Opens("door"),))


def test_noticed_from_the_delay_on() -> None:
    """Noticed while the delay runs and while the siren sounds."""
    state, _ = step(UNIT, set_state(UNIT, {"house": SET_FULL}), (Opens("door"),))
    for _ in range(8):
        assert noticed(UNIT, state)
        state, _ = step(UNIT, state)
