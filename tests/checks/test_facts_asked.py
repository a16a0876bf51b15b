"""Facts that a form asks for and that say something in a finding: homes that draw it and near ones that do not."""

from datetime import date
from typing import Any

import pytest

from alarmlib.checks.detectors import detectors
from alarmlib.checks.home import site
from alarmlib.checks.people import people
from alarmlib.checks.settings import sound
from alarmlib.checks.upkeep import test_walk
from alarmlib.model import Home

TODAY = date(2026, 11, 30)


def _said(module: Any, check: str, home: Home) -> list[str]:
    (found,) = (each for each in module.GROUP.checks if each.id.endswith(f".{check}"))
    return [each.message for each in found.result(home, TODAY) if hasattr(each, "message")]


@pytest.mark.parametrize(("slowest_m_s", "speaks"), [(0.3, 0), (0.61, 0), (0.62, 1), (1.0, 1)])
def test_a_detector_that_sees_no_slow_walk(slowest_m_s: float, speaks: int) -> None:
    """Coverage is for a step of 24 in each second, 0.61 m/s (UL 1641 15.3.1): a faster least pace breaks it."""
    eye = {"id": "eye", "name": "Hall eye", "kind": "motion", "slowest_m_s": slowest_m_s}
    assert len(_said(detectors, "too_fast_for_a_slow_walk", Home.model_validate({"devices": [eye]}))) == speaks


@pytest.mark.parametrize(("fitted_on", "message"), [
    ("", []), ("2026-05-01", []), ("2026-06-01", []),
    ("2026-06-02", ["“Eye” was fitted on 2026-06-02, after its last test."]),
])  # fmt: skip
def test_a_test_before_the_day_of_fitting_is_none(fitted_on: str, message: list[str]) -> None:
    """A detector put in place of another, or moved, is tested again: the old test does not speak of it."""
    eye = {"id": "eye", "name": "Eye", "kind": "motion", "state": "fitted", "fitted_on": fitted_on}
    line = {"id": "line", "on": "2026-06-01", "device": "eye", "seen": "as_expected"}
    of = Home.model_validate({"devices": [eye], "log": {"tests": [line]}})
    said = [each for each in _said(test_walk, "not_tested", of) if "Every fitted" not in each]
    assert said == message


@pytest.mark.parametrize(("who", "able", "speaks"), [("", True, 1), ("cleaner", True, 0), ("", False, 0)])
def test_a_visitor_whose_coming_nobody_tried(who: str, able: bool, speaks: int) -> None:
    """Who unsets alone has a habit to be played; the finding tells how often they come."""
    visitor = {"id": "cleaner", "role": "Cleaner", "often": "on Mondays", "can_unset": able}
    home = Home.model_validate({"household": {"visitors": [visitor], "habits": [{"id": "h", "name": "H", "who": who}]}})
    found = _said(people, "visitor_never_tried", home)
    assert len(found) == speaks
    assert all("on Mondays" in each for each in found)


@pytest.mark.parametrize(("seen", "hidden"), [("yes", False), ("unknown", False), ("no", True)])
@pytest.mark.parametrize("more", [{}, {"left_bare_because": "Too high"}])
def test_a_bare_way_in_that_nobody_sees(seen: str, hidden: bool, more: dict[str, str]) -> None:
    """The finding that it has no detector tells whether others see it."""
    opening = {"id": "w", "name": "Window", "room": "den", "reach": "ground", "seen_by_others": seen} | more
    rooms = [{"id": "den", "name": "Den", "storey": "s"}]
    parts = {"site": {"storeys": [{"id": "s", "name": "S"}], "rooms": rooms, "openings": [opening]}}
    (found,) = _said(site, "way_in_without_detector", Home.model_validate(parts))
    assert ("Nobody sees it" in found) is hidden


def _bedroom(door: str, room: str) -> Home:
    """A sounder of 95 dB(A) at 1 m in the hall, the middle of the bedroom 4 m away through one solid door."""
    rooms = [
        {"id": "hall", "name": "Hall", "storey": "s", "outline": [(0, 0), (4, 0), (4, 2), (0, 2)]},
        {"id": "bed", "name": "Bedroom", "storey": "s", "outline": [(0, 2), (4, 2), (4, 6), (0, 6)],
         "door_shut_at_night": room, "sleeps_here": True},
    ]  # fmt: skip
    passage = {"id": "door", "first": "hall", "second": "bed", "at": (2, 2), "shut_at_night": door}
    siren = {"id": "siren", "name": "Siren", "kind": "inside_sounder", "room": "hall", "at": (2, 0), "level_dba": 95.0,
             "level_at_m": 1.0}  # fmt: skip
    return Home.model_validate({
        "site": {"storeys": [{"id": "s", "name": "S"}], "rooms": rooms, "passages": [passage]},
        "devices": [siren],
        "sound": {"doors": [{"passage": "door", "leaf": "solid"}], "ambient_dba": 75.0},
    })  # fmt: skip


@pytest.mark.parametrize(("door", "room", "opened"), [
    ("unknown", "unknown", False), ("unknown", "no", True), ("unknown", "yes", False), ("yes", "no", False),
    ("no", "yes", True), ("no", "unknown", True),
])  # fmt: skip
def test_a_door_left_open_at_night(door: str, room: str, opened: bool) -> None:
    """95 dB(A) at 1 m is 95 − 20 log10 4 = 83 dB(A) at 4 m (ISO 9613-2, point source), less 20 dB by a closed door."""
    said = " ".join(_said(sound, "at_the_pillow", _bedroom(door, room)))
    assert "no sounder is computed to be loud enough at the pillow" in said
    assert ("With the doors that you leave open at night it is about 83 dB(A)." in said) is opened
