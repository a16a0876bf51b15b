# ruff: noqa: E501 - one case a line reads best
"""Cells, their order, and the holes that a flat one opens."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.calc.electrical.radio import average_ua, battery_years, holes, replacements, spare, years_of
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.model.devices import BatteryKind, Wireless

OPENINGS = [{"id": "door", "name": "Door", "room": "hall"}, {"id": "window", "name": "Window", "room": "hall"}]
ROOMS = [{"id": "hall", "name": "Hall", "storey": "g"}, {"id": "bare", "name": "Bare", "storey": "g", "coldest_c": -2}]


def home(*devices: Any) -> Home:
    zones = [{"id": "z", "label": "Z"}]
    site = {"storeys": [{"id": "g", "name": "G"}], "rooms": ROOMS, "openings": OPENINGS}
    return Home.model_validate({"site": site, "control_unit": {"zones": zones}, "devices": list(devices)})


def free(name: str, kind: str = "contact", room: str = "hall", openings: Any = (), **facts: Any) -> dict[str, Any]:
    return {
        "id": name,
        "name": name,
        "kind": kind,
        "link": "wireless",
        "room": room,
        "zone": "z",
        "openings": list(openings),
        "wireless": facts,
    }


def test_average_by_hand() -> None:
    """By hand: 72 reports and 2 x 10 messages of 30 mA·s a day are 31.9 µA, beside 8 at rest."""
    assert average_ua(8, 30, 1200, 10) == pytest.approx(8 + 30_000 * 92 / 86400)


def test_years_by_hand() -> None:
    """By hand: 1000 mAh lithium at 33 µA and 1.14 µA of leakage: 3.34 years; in the cold nine tenths."""
    warm = battery_years(1000, 33, BatteryKind.LITHIUM)
    assert warm == pytest.approx(1000_000 / ((33 + 1.1408) * 8766), rel=1e-3)
    assert battery_years(1000, 33, BatteryKind.LITHIUM, -5) == pytest.approx(0.9 * warm)
    assert battery_years(1000, 33, BatteryKind.ALKALINE, 0) < 0.55 * warm


@given(
    st.floats(1, 1000),
    st.floats(0, 500),
    st.floats(1, 1000),
    st.sampled_from([BatteryKind.LITHIUM, BatteryKind.ALKALINE, BatteryKind.COIN]),
)
def test_more_is_never_longer(rest: float, message: float, trips: float, kind: BatteryKind) -> None:
    base = battery_years(1000, average_ua(rest, message, 1200, trips), kind)
    assert battery_years(1000, average_ua(rest, message, 1200, trips + 1), kind) <= base
    assert battery_years(1000, average_ua(rest, message, 600, trips), kind) <= base
    assert battery_years(1000, average_ua(rest, message, 1200, trips), kind, -10) <= base


def test_years_from_the_manual_else_computed() -> None:
    of = home(free("papers", battery_lasts_years=4), free("sums", room="bare", battery="lithium", battery_mah=1000, rests_at_ua=8, report_mas=30, check_in_s=1200),
              free("mains", battery="mains", battery_lasts_years=4), free("nothing"))  # fmt: skip
    found = [years_of(of, device) for device in of.whole_devices]
    assert found[0] == (4, "its manual")
    assert found[1] is not None
    assert found[1][1] == "computed"
    assert found[1][0] == pytest.approx(0.9 * battery_years(1000, 33, BatteryKind.LITHIUM), rel=1e-6)
    assert found[2:] == [None, None]


def test_first_to_be_changed_comes_first() -> None:
    of = home(
        free("late", battery_lasts_years=4, battery_fitted_on="2026-01-01"),
        free("undated", battery_lasts_years=1),
        free("soon", battery_lasts_years=1.5, battery_fitted_on="2026-01-01"),
    )
    assert [due.device for due in replacements(of)] == ["soon", "late", "undated"]
    assert replacements(of)[0].on == "2027-07-03"


def test_which_flat_battery_opens_which_hole() -> None:
    of = home(free("door_c", openings=["door"], missing_after_s=7200, reports_low_battery="yes"), free("window_c", openings=["window"]),
              free("glass", "glass_break", openings=["window"]), free("motion", "motion"), free("alone", "motion", "bare"))  # fmt: skip
    found = {hole.device: hole for hole in holes(of)}
    assert set(found) == {"door_c", "motion", "alone"}
    assert (found["door_c"].openings, found["door_c"].announced_s) == (("door",), 7200)
    assert found["alone"].rooms == ("bare",)


def test_only_its_own_kind_replaces_a_life_safety_detector() -> None:
    """A smoke detector in the room is no motion detector: the hole stays; a contact on an inside door watches no room."""
    of = home(free("motion", "motion"), free("smoke", "smoke"), free("inner"), free("second", "smoke", "bare"))
    assert {hole.device: hole.rooms for hole in holes(of)} == {
        "motion": ("hall",),
        "smoke": ("hall",),
        "second": ("bare",),
    }


def test_signal_to_spare() -> None:
    assert spare(Wireless(signal=44, signal_asked=40)) == 4
    assert spare(Wireless(signal=44)) is None


def test_reports_need_an_interval() -> None:
    with pytest.raises(AlarmProblem, match="every 0 s; more than 0"):
        average_ua(8, 30, 0, 1)


@pytest.mark.parametrize(("state", "due"), [("fitted", ["a"]), ("out_of_use", ["a"]), ("removed", [])])
def test_the_cell_of_what_is_out_of_use_runs_down(state: str, due: list[str]) -> None:
    """It keeps its cell until it is taken out, so that has its day in the list; it watches nothing meanwhile."""
    of = home(free("a", openings=["door"], battery_lasts_years=2, battery_fitted_on="2026-01-01") | {"state": state})
    assert [each.device for each in replacements(of)] == due
    assert [hole.device for hole in holes(of)] == (["a"] if state == "fitted" else [])
