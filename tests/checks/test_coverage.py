# ruff: noqa: E501 - one case a line reads best
"""What the checks say of what motion detectors see: each on a home that draws it, and on one alike that does not."""

from typing import Any

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.detectors import coverage
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home


def rect(left: float, low: float, right: float, high: float) -> list[tuple[float, float]]:
    return [(left, low), (right, low), (right, high), (left, high)]


def home(eye: Any = None, **site: Any) -> Home:
    """A hall with a front door and a bare side window in the room beyond a doorway, and a motion detector in the hall."""
    facts = {
        "id": "eye",
        "name": "Eye",
        "kind": "motion",
        "room": "hall",
        "at": (0, 6),
        "height_m": 2.2,
        "facing_deg": 315,
    }
    facts |= {"range_m": 12, "angle_deg": 90, "straight_range_m": 12, "looks_down_deg": 90} | (eye or {})
    whole = {
        "storeys": [{"id": "g", "name": "Ground"}],
        "rooms": [
            {"id": "hall", "name": "Hall", "storey": "g", "outline": rect(0, 0, 6, 6)},
            {"id": "den", "name": "Den", "storey": "g", "outline": rect(6, 0, 10, 6), "guarded": False},
        ],
        "passages": [{"id": "w", "first": "hall", "second": "den", "kind": "doorway", "at": (6, 3), "width_m": 2}],
        "openings": [{"id": "side", "name": "Side window", "room": "hall", "at": (0, 1), "reach": "ground"}],
    }
    return Home.model_validate({"site": whole | site, "devices": [facts]})


def said(check: Any, of: Home) -> list[Finding]:
    return [each for each in check.result(of) if isinstance(each, Finding)]


def test_facts_lacking() -> None:
    assert not said(coverage.facts_lacking, home())
    (found,) = said(coverage.facts_lacking, home({"range_m": None}))
    assert "You have not entered: Detection range." in found.message


def test_sees_nothing() -> None:
    assert not said(coverage.sees_nothing, home())
    (found,) = said(coverage.sees_nothing, home({"facing_deg": 135, "angle_deg": 60}))
    assert found.verdict is Verdict.SHOULD


def test_sees_the_next_room_alone() -> None:
    """By the doorway it looks into the den: floor surely seen there is none of its own room."""
    (found,) = said(coverage.sees_nothing, home({"at": (6, 3), "facing_deg": 0, "angle_deg": 60}))
    assert "of its own room" in found.message


@pytest.mark.parametrize(("range_m", "found"), [(12, 0), (4.0, 1)])
def test_room_seen_in_part(range_m: float, found: int) -> None:
    of = home({"range_m": range_m, "straight_range_m": range_m})
    assert len(said(coverage.room_seen_in_part, of)) == found
    (figure,) = (each for each in coverage.room_seen_in_part.result(of) if isinstance(each, Figure))
    assert (float(figure.value) < 50) is bool(found)


def test_a_share_says_what_narrow_strips_add_to_it() -> None:
    """A fan of 80° leaves strips under 0.3 m near the detector; figure and finding give the share without them."""
    of = home({"range_m": 4.0, "straight_range_m": 4.0, "angle_deg": 80})
    (figure,) = (each for each in coverage.room_seen_in_part.result(of) if isinstance(each, Figure))
    told = dict(figure.inputs)["without these strips"]
    share, less = (float(part.split(" ")[-2]) for part in (told.partition(",")[0], told.removesuffix(" less")))
    assert less > 0.5
    assert share + less == pytest.approx(float(figure.value), abs=0.11)
    (found,) = said(coverage.room_seen_in_part, of)
    assert f"Here unseen strips under 0.3 m count as seen; without them it is {share:.0f}%." in found.message


def test_blind_spots() -> None:
    assert not said(coverage.blind_spots, home())
    wardrobe = {"id": "f", "name": "Wardrobe", "room": "hall", "outline": rect(1, 3, 2, 4.5), "height_m": 2.3}
    (found,) = said(coverage.blind_spots, home(furniture=[wardrobe]))
    assert "blind spot" in found.message


def test_way_in_by_motion_alone() -> None:
    assert not said(coverage.way_in_by_motion_alone, home())
    near = [{"id": "side", "name": "Side window", "room": "hall", "at": (2, 0), "reach": "ground"}]
    blind = home({"facing_deg": 0, "angle_deg": 20}, openings=near)
    (found,) = said(coverage.way_in_by_motion_alone, blind)
    assert "Side window" in found.message
    high = [near[0] | {"reach": "not"}]
    assert not said(coverage.way_in_by_motion_alone, home({"facing_deg": 0, "angle_deg": 20}, openings=high))
