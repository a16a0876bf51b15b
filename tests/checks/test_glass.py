"""What a glass-break detector hears, at the edge of each rule."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.checks.detectors import glass
from alarmlib.checks.detectors.choice import kind_does_not_fit
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.record.produce import demo_home

Put = Callable[[Home, dict[str, Any]], Home]
BY_ID = {check.id: check for check in glass.GROUP.checks}


PANE = {"id": "pane", "name": "Pane", "room": "big", "at": [10, 0], "glass": "yes", "width_m": 1}
EAR = {"id": "ear", "name": "Ear", "kind": "glass_break", "room": "big", "at": [10, 5]}


def said(check: str, home: Home) -> list[Finding]:
    return [each for each in BY_ID[check].result(home) if isinstance(each, Finding)]


def _panes(drawn: Home, put: Put, ear: dict[str, Any], pane: dict[str, Any]) -> Home:
    return put(drawn, {"devices.+": EAR | ear, "site.openings.+": PANE | pane})


@pytest.mark.parametrize(
    ("ear", "verdict", "limit"),
    [
        ({"at": [10, 6]}, None, ""),
        ({"at": [10, 6.01]}, Verdict.NOTE, "8 m"),
        ({"at": [10, 8]}, Verdict.NOTE, "8 m"),
        ({"at": [10, 8.01]}, Verdict.SHOULD, "8 m"),
        ({"at": [10, 8.01], "range_m": 9}, None, ""),
        ({"at": [10, 9], "range_m": 9}, None, ""),
        ({"at": [10, 9.01], "range_m": 9}, Verdict.MUST, "9 m"),
        ({"at": None}, None, ""),
    ],
)
def test_panes_heard_by_distance(
    drawn: Home, put: Put, ear: dict[str, Any], verdict: Verdict | None, limit: str
) -> None:
    """6 and 8 m from memory advise; the owner's manual binds."""
    found = said("glass.panes_heard", _panes(drawn, put, ear, {}))
    assert [(f.verdict, f.limit) for f in found] == ([(verdict, limit)] if verdict else [])
    assert all("check with" in f.remedy.casefold() or f.source == "owner" for f in found)


@pytest.mark.parametrize(("width_m", "speaks"), [(0.29, True), (0.3, False), (0.31, False), (None, False)])
def test_small_panes(drawn: Home, put: Put, width_m: float | None, speaks: bool) -> None:
    """From 0.3 m on, from memory; where the owner says that it guards the pane, the choice of kinds speaks instead."""
    home = _panes(drawn, put, {}, {"width_m": width_m})
    assert [f.verdict for f in said("glass.panes_heard", home)] == ([Verdict.SHOULD] if speaks else [])
    named = put(home, {"devices.ear.openings": ["pane"]})
    assert not said("glass.panes_heard", named)
    fits = [f for f in kind_does_not_fit.result(named) if isinstance(f, Finding) and f.subject == "ear"]
    assert bool(fits) is speaks


def test_panes_of_another_room(drawn: Home, put: Put) -> None:
    """Only where the owner says that the ear guards them; else the glass of its own room counts."""
    other = _panes(drawn, put, {}, {"room": "den", "at": [25, 0]})
    assert not said("glass.panes_heard", other)
    (finding,) = said("glass.panes_heard", put(other, {"devices.ear.openings": ["pane"]}))
    assert (finding.verdict, "“Den”" in finding.message) == (Verdict.SHOULD, True)


def test_a_pane_round_a_corner_is_not_in_sight(drawn: Home, put: Put) -> None:
    """The same distance, with and without a corner of the room between."""
    corner = [[0, 0], [20, 0], [20, 4], [4, 4], [4, 10], [0, 10]]
    home = _panes(put(drawn, {"site.rooms.big.outline": corner}), put, {"at": [3.5, 9.5]}, {"at": [5.5, 4]})
    assert ["corner" in f.message for f in said("glass.panes_heard", home)][-1]
    seen = put(home, {"site.openings.pane.at": [0, 5]})
    assert not said("glass.panes_heard", seen)


def test_nothing_to_hear_and_behind_curtains(drawn: Home, put: Put) -> None:
    """No pane named and none in the room; a curtain in its room and in another."""
    home = _panes(drawn, put, {}, {})
    assert not said("glass.nothing_to_hear", home)
    bare = put(home, {"site.openings.pane.glass": "no"})
    assert said("glass.nothing_to_hear", bare)
    assert not said("glass.nothing_to_hear", put(bare, {"devices.ear.openings": ["pane"]}))
    assert not said("glass.behind_curtains", put(home, {"site.rooms.den.disturbances": ["curtain"]}))
    assert said("glass.behind_curtains", put(home, {"site.rooms.big.disturbances": ["curtain"]}))


def test_a_home_without_a_drawing_is_left_alone(house: Home) -> None:
    """Nothing here is known of rooms and devices that have no place; the demo home's panes are all heard."""
    assert {name for name in BY_ID for home in (house, demo_home()) if said(name, home)} == set()
