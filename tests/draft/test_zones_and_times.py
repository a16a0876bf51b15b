"""The drafts of zones, times and the walk test on the demo home and at their edges."""

from pathlib import Path
from typing import Any

import pytest

from alarmlib.draft.blank import blank_home
from alarmlib.draft.short_path import draft_home
from alarmlib.draft.test_route import test_route as route_of
from alarmlib.draft.times import door_drafts, with_times
from alarmlib.draft.zones import function_proposals, with_zones, zone_plan
from alarmlib.model import Home
from alarmlib.model.survey import POINTS
from alarmlib.model.unit_facts import AllowedTimes
from alarmlib.model.words import DETECTORS
from alarmlib.store import load

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture(scope="module")
def demo() -> Home:
    """The demo home."""
    return load(DEMO)


def changed(home: Home, **parts: Any) -> Home:
    """The home with parts replaced, checked as a whole."""
    return Home.model_validate(home.model_copy(update=parts).model_dump())


def test_with_zones__loses_no_detector(demo: Home) -> None:
    """Every detector in service has a zone afterwards, and nothing but zones has changed on it."""
    after = with_zones(demo)
    for before, now in zip(demo.whole_devices, after.whole_devices, strict=True):
        assert now.model_copy(update={"zone": ""}) == before.model_copy(update={"zone": ""})
        if before.kind in DETECTORS and before.zone:
            assert now.zone


def test_with_zones__keeps_what_the_owner_chose(demo: Home) -> None:
    """A function that the owner gave a zone stays with its devices."""
    chosen = {zone.id: zone.function for zone in demo.control_unit.zones}
    after = with_zones(demo)
    now = {zone.id: zone.function for zone in after.control_unit.zones}
    both = zip(demo.whole_devices, after.whole_devices, strict=True)
    pairs = [(old, new) for old, new in both if old.zone and new.zone]
    assert pairs
    assert all(now[new.zone] is chosen[old.zone] for old, new in pairs)


def test_zone_plan__demo_home_is_proven(demo: Home) -> None:
    """The optimum of the demo home is proven, not only found."""
    assert zone_plan(demo).proven


def test_function_proposals__one_a_detector(demo: Home) -> None:
    """In the order of the devices."""
    detectors = [d.id for d in demo.whole_devices if d.kind in DETECTORS and d.state.value != "removed"]
    assert [proposal.device for proposal in function_proposals(demo)] == detectors


def test_door_drafts__none_without_a_keypad(demo: Home) -> None:
    """No keypad, no delay to compute."""
    assert door_drafts(changed(demo, devices=(), log=blank_home().log, household=blank_home().household,
                               messages=blank_home().messages, inherited=blank_home().inherited,
                               wiring=blank_home().wiring, sound=blank_home().sound)) == ()  # fmt: skip


def test_door_drafts__on_the_units_steps(told: Any) -> None:
    """A unit that offers steps of 20 s from 10 s gets one of them."""
    home = draft_home(told()).home
    limits = home.control_unit.limits.model_copy(update={"entry": AllowedTimes(low_s=10, high_s=200, step_s=20)})
    stepped = changed(home, control_unit=home.control_unit.model_copy(update={"limits": limits}))
    (draft,) = door_drafts(stepped)
    assert (draft.choice.entry.set_s - 10) % 20 == 0
    assert draft.choice.entry.set_s >= draft.choice.entry.wanted_s


def test_with_times__siren_within_the_towns_limit(told: Any) -> None:
    """The council's limit wins over the usual five minutes."""
    home = draft_home(told()).home
    strict = changed(home, rules=home.rules.model_copy(update={"siren_limit_s": 120.0}))
    assert with_times(home).control_unit.times.siren_s == 300
    assert with_times(strict).control_unit.times.siren_s == 120


def test_test_route__visits_every_device_once(demo: Home) -> None:
    """Each device that can be reached is visited once; the others are named."""
    route = route_of(demo, 10.0)
    assert route is not None
    visited = [visit.stop for visit in route.walk.visits]
    assert len(visited) == len(set(visited))
    first = next(d.id for d in demo.whole_devices if d.kind.value == "keypad" and d.room)
    standing = {d.id for d in demo.whole_devices if d.room and d.state.value not in ("removed", "out_of_use")}
    assert set(visited) | set(route.no_way) | {first} == standing


def test_test_route__none_without_a_keypad() -> None:
    """The walk begins at a keypad."""
    assert route_of(blank_home()) is None


def test_blank_home__asks_every_point() -> None:
    """Every point of the survey is in the list, not looked at."""
    answers = blank_home().site.answers
    assert [answer.id for answer in answers] == [point.id for point in POINTS]
    assert {answer.found.value for answer in answers} == {"not_looked_at"}
