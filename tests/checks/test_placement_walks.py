"""Detectors and the control unit on the ways of intruders and pets: one fact moved, and the finding goes."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.checks.assess import outcome
from alarmlib.checks.detectors import placement_walks
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

Put = Callable[[Home, dict[str, Any]], Home]
BY_ID = {check.id: check for check in placement_walks.GROUP.checks}


def said(check: str, home: Home) -> list[Finding]:
    return [each for each in BY_ID[check].result(home) if isinstance(each, Finding)]


def test_meets_head_on(drawn: Home, put: Put) -> None:
    """From a door straight ahead, 20 m off, somebody walks to the middle of the room at it; from its side across."""
    ahead = {"site.openings.gate.at": [20, 4.9], "site.passages.den_door.at": [20, 8], "devices.pir.range_m": 18}
    (finding,) = said("placement_walks.meets_head_on", put(drawn, ahead))
    assert (finding.subject, finding.verdict, "“Great room”" in finding.message) == ("pir", Verdict.SHOULD, True)
    known = put(drawn, ahead | {"devices.pir.straight_range_m": 18})
    assert not said("placement_walks.meets_head_on", known)
    aside = put(drawn, ahead | {"site.openings.gate.at": [10, 0]})
    assert not said("placement_walks.meets_head_on", aside)
    also = {"id": "side", "name": "Side door", "room": "big", "kind": "door", "at": [11, 10], "reach": "ground"}
    assert not said("placement_walks.meets_head_on", put(drawn, ahead | {"site.openings.+": also}))
    assert said("placement_walks.meets_head_on", put(drawn, ahead | {"site.openings.+": also | {"reach": "not"}}))


def test_walks_past_a_detector_are_looked_at_again_only_where_its_view_moved(
    drawn: Home, put: Put, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before, each edit of any device looked at every walk past every detector again: half of a page's time."""
    looked: list[str] = []
    real = placement_walks.head_on
    monkeypatch.setattr(placement_walks, "head_on", lambda *given: looked.append("") or real(*given))
    facts = Facts(drawn)
    facts.ask(outcome, placement_walks.meets_head_on)
    assert looked
    looked.clear()
    facts.move(put(drawn, {"devices.pir.name": "By the sofa"}))
    facts.ask(outcome, placement_walks.meets_head_on)
    assert not looked
    facts.move(put(drawn, {"devices.pir.range_m": 3}))
    facts.ask(outcome, placement_walks.meets_head_on)
    assert looked


def _cat(**facts: Any) -> dict[str, Any]:
    return {"household.pets.+": {"id": "cat", "kind": "Cat", "mass_kg": 4, "reaches_m": 1.2} | facts}


def _shelf(height_m: float, at: list[list[float]] | None = None) -> dict[str, Any]:
    outline = at or [[5, 4], [6, 4], [6, 6], [5, 6]]
    return {"site.furniture.+": {"id": "s", "name": "Shelf", "room": "big", "outline": outline, "height_m": height_m}}


@pytest.mark.parametrize(("height_m", "speaks"), [(0.1, False), (0.11, True), (1.2, True), (1.21, False)])
def test_pet_on_furniture(drawn: Home, put: Put, height_m: float, speaks: bool) -> None:
    """A cat that gets 1.2 m high is lifted into view by all that is no higher; up to 0.1 m is floor."""
    ignoring = put(drawn, {"devices.pir.ignores_pets_kg": 18} | _shelf(height_m))
    found = said("placement_walks.pet_on_furniture", put(ignoring, _cat(free_when_empty=["big"])))
    assert [f.figure for f in found] == ([f"{height_m:g} m"] if speaks else [])
    assert not said("placement_walks.pet_on_furniture", put(ignoring, _cat(free_when_empty=["den"])))


def test_furniture_out_of_view_lifts_no_pet_into_it(drawn: Home, put: Put) -> None:
    """Behind the detector's back, and before a detector of which nobody says that it ignores pets."""
    turned = {
        "devices.pir.ignores_pets_kg": 18,
        "devices.pir.at": [10, 5],
        **_shelf(1),
        **_cat(free_when_empty=["big"]),
    }
    assert not said("placement_walks.pet_on_furniture", put(drawn, turned))
    assert said("placement_walks.pet_on_furniture", put(drawn, turned | {"devices.pir.facing_deg": 180}))
    assert not said("placement_walks.pet_on_furniture", put(drawn, turned | {"devices.pir.ignores_pets_kg": None}))


@pytest.mark.parametrize(
    ("pet", "ignores_kg", "speaks"),
    [({}, 18, True), ({"reaches_m": 0.1}, 18, False), ({"reaches_m": 0.11}, 18, True), ({"reaches_m": 0}, None, True),
     ({"reaches_m": 0, "mass_kg": 18}, 18, False), ({"reaches_m": 0, "mass_kg": 18.1}, 18, True),
     ({"reaches_m": 0, "mass_kg": None}, 18, True)],
)  # fmt: skip
def test_pet_seen_from_another_room(
    drawn: Home, put: Put, pet: dict[str, Any], ignores_kg: float | None, speaks: bool
) -> None:
    """Through the open door 8 m ahead into the den, by a range that may reach 1.5 times as far."""
    home = put(drawn, {"devices.pir.at": [12, 5], "devices.pir.ignores_pets_kg": ignores_kg})
    found = said("placement_walks.pet_seen_from_another_room", put(home, _cat(free_when_empty=["den"], **pet)))
    assert [(f.subject, "“Den”" in f.message) for f in found] == ([("pir", True)] if speaks else [])
    both = put(home, _cat(free_when_empty=["den", "big"], **pet))
    assert not said("placement_walks.pet_seen_from_another_room", both)
    away = put(home, {"devices.pir.facing_deg": 180})
    assert not said("placement_walks.pet_seen_from_another_room", put(away, _cat(free_when_empty=["den"], **pet)))


UNIT = {"id": "unit", "name": "Unit", "kind": "control_unit", "room": "den", "at": [29, 9]}


def test_unit_on_the_entry_route(drawn: Home, put: Put) -> None:
    """In the keypad's room on the way, and not in the room of the door, of which another finding speaks."""
    home = put(drawn, {"devices.+": UNIT})
    keypad = {"id": "pad", "name": "Pad", "kind": "keypad", "at": [21, 1]}
    assert said("placement_walks.unit_on_the_entry_route", put(home, {"devices.+": keypad | {"room": "den"}}))
    assert not said("placement_walks.unit_on_the_entry_route", put(home, {"devices.+": keypad | {"room": "big"}}))
    there = put(home, {"devices.unit.room": "big", "devices.+": keypad | {"room": "den"}})
    assert not said("placement_walks.unit_on_the_entry_route", there)


def test_unit_reached_unseen(drawn: Home, put: Put) -> None:
    """The eye faces away from the way; a contact on the inside door, a guarded window or the eye turned is a remedy."""
    home = put(drawn, {"devices.+": UNIT})
    check = "placement_walks.unit_reached_unseen"
    (finding,) = said(check, home)
    assert (finding.subject, "“Front door”" in finding.message) == ("unit", True)
    contact = {"id": "c", "name": "c", "kind": "contact", "passages": ["den_door"]}
    assert not said(check, put(home, {"devices.+": contact}))
    assert said(check, put(home, {"devices.+": contact | {"passages": [], "openings": ["gate"]}}))
    assert not said(check, put(home, {"devices.pir.at": [12, 3], "devices.pir.straight_range_m": 12}))
    bare = {"id": "w", "name": "Den window", "room": "den", "at": [30, 5], "reach": "ground"}
    assert "“Den window”" in said(check, put(home, {"site.openings.+": bare}))[0].message
    guarded = put(home, {"site.openings.+": bare, "devices.+": contact | {"passages": [], "openings": ["w"]}})
    assert "“Den window”" not in said(check, guarded)[0].message


def test_sentences_about_the_demo_home() -> None:
    """Known by hand: the stairs are behind the hall's corner, and the landing is crossed in too few steps."""
    found = {(name, f.subject) for name in BY_ID for f in said(name, demo_home())}
    assert found == {
        ("placement_walks.unit_reached_unseen", "control_unit"),
    }


def test_a_home_without_a_drawing_is_left_alone(house: Home) -> None:
    """Nothing here is known of rooms and devices that have no place."""
    assert {name for name in BY_ID if said(name, house)} == set()
