"""Where motion detectors are mounted, what is in front of them, and what is out of reach, at each rule's edge."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.checks.detectors import placement
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.record.produce import demo_home
from alarmlib.sources import Status, cite

Put = Callable[[Home, dict[str, Any]], Home]
BY_ID = {check.id: check for check in placement.GROUP.checks}


def said(check: str, home: Home) -> list[Finding]:
    return [each for each in BY_ID[check].result(home) if isinstance(each, Finding)]


@pytest.mark.parametrize(
    ("height_m", "ceiling_m", "limit"),
    [(2.1, 2.6, ""), (2.09, 2.6, "2.1 m"), (2.4, 2.6, ""), (2.41, 2.6, "2.4 m"), (1.9, 2.1, ""), (1.89, 2.1, "1.9 m"),
     (2.1, None, ""), (2.0, None, "2.1 m")],
)  # fmt: skip
def test_unusual_height(drawn: Home, put: Put, height_m: float, ceiling_m: float | None, limit: str) -> None:
    """2.1 to 2.4 m, common practice; under a ceiling of 2.1 m from 1.9 m."""
    home = put(drawn, {"devices.pir.height_m": height_m, "site.rooms.big.ceiling_m": ceiling_m})
    found = said("placement.unusual_height", home)
    assert [(f.verdict, f.limit) for f in found] == ([(Verdict.SHOULD, limit)] if limit else [])
    assert all(f.margin.startswith("-") and cite(f.source).status is Status.PRACTICE for f in found)


@pytest.mark.parametrize("facts", [{"mount": "ceiling"}, {"angle_deg": 360}, {"height_m": None}, {"state": "removed"}])
def test_heights_that_are_not_weighed(drawn: Home, put: Put, facts: dict[str, Any]) -> None:
    """On a ceiling other heights hold; what is not known or not there is not judged."""
    low = put(drawn, {"devices.pir.height_m": 3.5})
    assert said("placement.unusual_height", low)
    assert not said("placement.unusual_height", put(low, {f"devices.pir.{key}": value for key, value in facts.items()}))


def _fixture(at: list[float], kind: str = "heater", room: str = "big") -> dict[str, Any]:
    return {"site.fixtures.+": {"id": "stove", "name": "Old stove", "room": room, "kind": kind, "at": at}}


@pytest.mark.parametrize(
    ("at", "where"),
    [([12, 5], "in its view"), ([12.01, 5], ""), ([5, 9.99], "in its view"), ([4.9, 10], ""),
     ([0, 6.4], "beside it"), ([0, 6.6], ""), ([0, 3.6], "beside it")],
)  # fmt: skip
def test_warm_air_in_view(drawn: Home, put: Put, at: list[float], where: str) -> None:
    """A view of 90° and 12 m to the right; nearer than 1.5 m anywhere (our own line)."""
    found = said("placement.warm_air_in_view", put(drawn, _fixture(at)))
    assert [f.verdict for f in found] == ([Verdict.SHOULD] if where else [])
    assert all(where in f.message and "“Old stove”" in f.message for f in found)
    assert all(cite(f.source).status is Status.MEMORY and "check with" in f.remedy.lower() for f in found)


@pytest.mark.parametrize(("x", "speaks"), [(8.49, False), (8.5, False), (8.51, True)])
def test_warm_air_behind_its_back(drawn: Home, put: Put, x: float, speaks: bool) -> None:
    """Behind a detector mounted away from any wall, 1.5 m off and nearer."""
    home = put(drawn, {"devices.pir.at": [10, 5]} | _fixture([x, 5]))
    assert bool(said("placement.warm_air_in_view", home)) is speaks


@pytest.mark.parametrize(
    ("kind", "speaks"),
    [("fuel_appliance", True), ("air_outlet", True), ("ceiling_fan", True), ("cooker", False), ("light", False)],
)
def test_which_fixtures_warm_or_move_air(drawn: Home, put: Put, kind: str, speaks: bool) -> None:
    """A cooker or a light that nobody uses while out does neither."""
    assert bool(said("placement.warm_air_in_view", put(drawn, _fixture([5, 5], kind)))) is speaks


def test_warm_air_beyond_a_wall_is_nothing(drawn: Home, put: Put) -> None:
    """A heater in the next room, however near and straight ahead."""
    near = put(drawn, {"devices.pir.at": [19.9, 5]})
    assert not said("placement.warm_air_in_view", put(near, _fixture([20.5, 5], room="den")))


@pytest.mark.parametrize(
    ("at", "glass", "speaks"),
    [([5, 10], "yes", True), ([4.9, 10], "yes", False), ([5, 10], "no", False), ([5, 10], "unknown", False)],
)
def test_window_in_view(drawn: Home, put: Put, at: list[float], glass: str, speaks: bool) -> None:
    """Glass at the edge of the view of 90° is in it; what isn't known to be glass isn't said to be."""
    window = {"id": "bay", "name": "Bay window", "room": "big", "at": at, "glass": glass}
    found = said("placement.window_in_view", put(drawn, {"site.openings.+": window}))
    assert [f.verdict for f in found] == ([Verdict.NOTE] if speaks else [])
    assert all("“Bay window”" in f.message for f in found)


@pytest.mark.parametrize(
    ("at", "facing_deg", "figure"),
    [([0, 5], 0, ""), ([0, 5], 180, "0 m"), ([19, 5], 0, ""), ([19.01, 5], 0, "0.99 m"), ([5, 9.5], 270, "")],
)
def test_faces_a_wall(drawn: Home, put: Put, at: list[float], facing_deg: float, figure: str) -> None:
    """A wall 1 m ahead passes (our own line), 0.99 m does not, nor its own."""
    found = said("placement.faces_a_wall", put(drawn, {"devices.pir.at": at, "devices.pir.facing_deg": facing_deg}))
    assert [f.figure for f in found] == ([figure] if figure else [])


# UL 1641 18.1 and 18.2 (distances seen, angle rule not): 3.7 m above a ledge of 1.2 m, 3.7 m from a reachable one.
@pytest.mark.outside
@pytest.mark.parametrize(
    ("facts", "apart_m", "why"),
    [
        ({"sill_m": 3.7}, 9, "3.7 m above the ground"),
        ({"sill_m": 3.71}, 9, ""),
        ({"sill_m": 6}, 3.7, "3.7 m from “Front door”, which is within reach"),
        ({"sill_m": 6}, 3.71, ""),
        ({}, 3.7, "3.7 m from “Front door”, which is within reach"),
        ({}, 3.71, ""),
        ({"ledge_below_m": 3.7, "ledge_width_m": 1.2}, 9, "3.7 m above a ledge or roof"),
        ({"ledge_below_m": 3.7, "ledge_width_m": 1.19}, 9, ""),
        ({"ledge_below_m": 3.71, "ledge_width_m": 1.2}, 9, ""),
    ],
)
def test_called_out_of_reach(drawn: Home, put: Put, facts: dict[str, Any], apart_m: float, why: str) -> None:
    """The owner's no is held against heights, ledges and the opening beside it; a bare one weighs more."""
    window = {"id": "high", "name": "High window", "room": "den", "at": [30, 10 - apart_m], "reach": "not"} | facts
    door = {"site.openings.gate.room": "den", "site.openings.gate.at": [30, 10]}
    home = put(drawn, door | {"site.openings.+": window})
    found = said("placement.called_out_of_reach", home)
    assert [(f.subject, f.verdict) for f in found] == ([("high", Verdict.SHOULD)] if why else [])
    assert all(why in f.message for f in found)
    contact = {"id": "c", "name": "c", "kind": "contact", "room": "den", "openings": ["high"]}
    guarded = said("placement.called_out_of_reach", put(home, {"devices.+": contact}))
    assert [f.verdict for f in guarded] == ([Verdict.NOTE] if why else [])


def test_reach_is_passed_on_along_a_row_and_not_between_storeys(drawn: Home, put: Put) -> None:
    """Three windows 3 m apart pass it on; one straight above on another storey is not drawn beside them."""
    row = [{"id": f"w{n}", "name": f"w{n}", "room": "big", "at": [19 - 3 * n, 0], "reach": "not"} for n in (1, 2, 3)]
    home = put(drawn, {"site.openings": [*drawn.model_dump(mode="json")["site"]["openings"], *row]})
    assert {f.subject for f in said("placement.called_out_of_reach", home)} == {"w1", "w2", "w3"}
    broken = put(home, {"site.openings.w2": None})
    assert {f.subject for f in said("placement.called_out_of_reach", broken)} == {"w1"}
    upper = {"site.storeys.+": {"id": "upper", "name": "Upstairs", "level": 1}, "site.rooms.den.storey": "upper"}
    above = put(broken, upper | {"site.openings.w1.room": "den", "site.openings.w1.at": [20, 0]})
    assert not said("placement.called_out_of_reach", above)


def test_sentences_about_the_demo_home() -> None:
    """Known by hand: a stove in view; windows 3.7 m up, or 3.4 m beside one that can be climbed to."""
    found = {(name, f.subject) for name in BY_ID for f in said(name, demo_home())}
    assert found == {
        ("placement.warm_air_in_view", "living_motion"),
        ("placement.called_out_of_reach", "landing_window"),
        ("placement.called_out_of_reach", "main_bedroom_window"),
        ("placement.called_out_of_reach", "bathroom_window"),
    }


def test_a_home_without_a_drawing_is_left_alone(house: Home) -> None:
    """Nothing here is known of rooms and devices that have no place."""
    assert {name for name in BY_ID if said(name, house)} == set()
