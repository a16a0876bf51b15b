# ruff: noqa: E501 - one case a line reads best
"""The home's own loads, battery, boxes and runs, each worked by hand."""

from typing import Any

import pytest

from alarmlib.calc.electrical.feeds import all_runs, run_ohm_per_km, short_by, smallest_that_serves
from alarmlib.calc.electrical.power import (
    asked_hours,
    box_lasts_h,
    course,
    draws,
    due_day,
    exponent,
    lasts_h,
    load,
    path_lasts_h,
    shed,
    sizing,
    unknown_draws,
    usual_ah,
)
from alarmlib.model import Home
from alarmlib.model.wiring import PowerRun, Supply


def home(**wiring: Any) -> Home:
    devices = [
        {"id": "unit", "name": "Unit", "kind": "control_unit", "quiet_current_a": 0.1, "alarm_current_a": 0.1},
        {
            "id": "siren",
            "name": "Siren",
            "kind": "inside_sounder",
            "quiet_current_a": 0.0,
            "alarm_current_a": 0.5,
            "least_v": 9,
        },
        {"id": "motion", "name": "Motion", "kind": "motion", "quiet_current_a": 0.02, "least_v": 9},
        {"id": "bare", "name": "Bare", "kind": "contact"},
        {"id": "free", "name": "Free", "kind": "motion", "link": "wireless", "quiet_current_a": 9},
        {"id": "gone", "name": "Gone", "kind": "motion", "state": "removed", "quiet_current_a": 9},
    ]
    paths = [{"id": "net", "name": "Internet"}]
    return Home.model_validate(
        {
            "devices": devices,
            "wiring": wiring,
            "messages": {"paths": paths},
            "control_unit": {"times": {"siren_s": 360}},
        }
    )


SUPPLY = {"standby_battery_ah": 7, "rated_over_h": 20, "peukert": 1.0, "coldest_c": 25}


def test_load_is_the_sum_of_wired_devices_that_are_there() -> None:
    whole = load(home())
    assert (whole.quiet_a, whole.alarm_a) == (pytest.approx(0.12), pytest.approx(0.62))
    assert [draw.id for draw in draws(home())] == ["unit", "motion", "siren"]
    assert [device.id for device in unknown_draws(home())] == ["bare"]


def test_box_on_the_alarms_battery_is_drawn_through_a_converter() -> None:
    """By hand: 5.1 W over 12 V and 85 % is 0.5 A."""
    boxes = [{"id": "router", "name": "Router", "draws_w": 5.1, "fed_by": "standby_battery", "paths": ["net"]}]
    assert load(home(boxes=boxes)).quiet_a == pytest.approx(0.62)


def test_sizing_by_rule_and_cold() -> None:
    """By hand: (0.12 x 12 + 0.62 x 0.1) x 1.25 = 1.8775 Ah; at 0 °C over 0.84."""
    found = sizing(home(supply=SUPPLY | {"rule": "en_low", "coldest_c": 0}))
    assert found is not None
    assert (found.asked_ah, found.cold_ah) == (pytest.approx(1.8775), pytest.approx(1.8775 / 0.84))
    assert sizing(home(supply=SUPPLY)) is None
    assert sizing(Home()) is None


def test_british_rule_takes_its_factor() -> None:
    """By hand: 0.12 x 24 x 1.25 over 20 h gives less than 0.62 A, so D is 1.75: (2.88 + 0.62 x 0.875) x 1.25."""
    found = sizing(home(supply=SUPPLY | {"rule": "premises_britain"}))
    assert found is not None
    assert (found.high_rate, found.asked_ah) == (1.75, pytest.approx((2.88 + 0.62 * 0.875) * 1.25))
    earlier = sizing(home(supply=SUPPLY | {"rule": "premises_britain", "edition": "earlier"}))
    assert earlier is not None
    assert earlier.high_rate == 2.0


def test_hours_of_my_own() -> None:
    hours = asked_hours(home(supply={"rule": "own", "quiet_h": 8, "alarm_s": 600}))
    assert hours is not None
    assert (hours.quiet_h, hours.alarm_h, hours.factor) == (8, pytest.approx(1 / 6), 1.25)
    assert asked_hours(home(supply={"rule": "own"})) is None


def test_how_long_it_lasts_and_what_to_shed() -> None:
    """By hand, linear: 7 x 0.8 over 0.12 A is 46.7 h; without the unit 280 h, without the motion detector 56 h."""
    of = home(supply=SUPPLY)
    assert lasts_h(of) == pytest.approx(46.667, abs=1e-3)
    gains = {draw.id: gain for draw, gain in shed(of)}
    assert gains == {"unit": pytest.approx(280 - 46.667, abs=0.01), "motion": pytest.approx(56 - 46.667, abs=0.01)}
    assert lasts_h(home(supply={"standby_battery_ah": 7})) is None
    assert shed(home()) == ()


@pytest.mark.parametrize(
    ("second", "k"), [((5.6, 1), 1.0805), ((None, 1), 1.15), ((6, 30), 1.15), ((7.5, 1), 1.0), ((1, 1), 1.6)]
)
def test_exponent_from_two_ratings(second: tuple[float | None, float], k: float) -> None:
    """By hand: 7 Ah over 20 h and 5.6 Ah over 1 h: ln 20 / ln (5.6 / 0.35) = 1.0805; nonsense keeps what was entered."""
    supply = Supply(standby_battery_ah=7, rated_over_h=20, second_ah=second[0], second_over_h=second[1])
    assert exponent(supply) == pytest.approx(k, abs=1e-4)


def test_age_and_cold_take_their_share_of_the_time() -> None:
    """By hand: 7 Ah over 20 h at 0.62 A, k 1.15: 20 x (7 / 12.4)^1.15 = 10.36 h new; x 0.8 x 0.84 = 6.96 h at 0 °C."""
    of = home(
        supply=SUPPLY | {"peukert": 1.15, "coldest_c": 0},
        boxes=[{"id": "b", "name": "B", "draws_w": 5.1, "fed_by": "standby_battery"}],
    )
    assert load(of).quiet_a == pytest.approx(0.62)
    assert lasts_h(of) == pytest.approx(0.8 * 0.84 * 20 * (7 / 12.4) ** 1.15)
    assert lasts_h(of) == pytest.approx(6.96, abs=0.01)


def test_usual_size_that_serves() -> None:
    """By hand: 1.8775 Ah are asked, 2.1 is usual; 24 h quiet ask for (0.12 x 24 + 0.062) x 1.25 = 3.68: 4 Ah."""
    assert usual_ah(home(supply=SUPPLY | {"rule": "en_low"})) == 2.1
    assert usual_ah(home(supply=SUPPLY | {"rule": "own", "quiet_h": 24, "alarm_s": 360})) == 4.0
    assert usual_ah(home(supply=SUPPLY | {"rule": "own", "quiet_h": 240, "alarm_s": 360})) == 40.0
    assert usual_ah(home(supply=SUPPLY)) is None
    many = [{"id": f"b{n}", "name": "B", "draws_w": 10, "fed_by": "standby_battery"} for n in range(5)]
    assert usual_ah(home(supply=SUPPLY | {"rule": "own", "quiet_h": 240}, boxes=many)) is None


def test_usual_size_lasts_by_its_own_course_too() -> None:
    """By hand, k 1.6: (0.12 + 0.62 x 1.5) x 1.25 = 1.31 Ah are asked, so 2.1 would do by the rule.

    Of 2.1 Ah 0.62 A takes 20 x (3.387 / 20)^1.6 x 0.8 = 0.93 h for all of it; of 3.2 Ah 1.83 h, of which 1 h quiet
    leaves 1.75: enough for 1.5.
    """
    of = home(supply=SUPPLY | {"peukert": 1.6, "rule": "own", "quiet_h": 1, "alarm_s": 5400})
    found = sizing(of)
    assert found is not None
    assert found.cold_ah == pytest.approx(1.3125)
    assert usual_ah(of) == 3.2
    assert course(of, 2.1)[-1].hours == pytest.approx(1 + (1 - 1 / (0.8 * 20 * (17.5 / 20) ** 1.6)) * 0.934, abs=2e-3)


def test_day_of_change() -> None:
    assert due_day(Supply(fitted_on="2026-09-19", lasts_years=4)) == "2030-09-19"
    assert due_day(Supply(fitted_on="2026-09-19")) == due_day(Supply(lasts_years=4)) == ""


def test_course_is_quiet_then_alarm_then_quiet() -> None:
    """By hand: 12 h at 0.12 A and 0.1 h at 0.62 A of 5.6 Ah, then the rest at 0.12 A."""
    points = course(home(supply=SUPPLY | {"rule": "en_low"}))
    assert [p.hours for p in points] == pytest.approx([0, 12, 12.1, 12.1 + (5.6 - 1.44 - 0.062) / 0.12])
    assert points[-1].left == 0
    assert course(home()) == ()


@pytest.mark.parametrize(("box", "hours"), [
    ({"fed_by": "mains"}, 0.0), ({"fed_by": "own_battery", "own_battery_wh": 100, "draws_w": 10}, 8.0), ({"fed_by": "unknown"}, None),
    ({"fed_by": "own_battery", "draws_w": 10}, None), ({"fed_by": "standby_battery", "draws_w": 0}, 46.667),
])  # fmt: skip
def test_boxes(box: dict[str, Any], hours: float | None) -> None:
    of = home(supply=SUPPLY, boxes=[{"id": "b", "name": "Box", "paths": ["net"], **box}])
    wanted = None if hours is None else pytest.approx(hours, abs=1e-3)
    assert box_lasts_h(of, of.wiring.boxes[0]) == wanted
    assert path_lasts_h(of, "net") == wanted


def test_path_is_as_good_as_its_worst_box() -> None:
    own = {"name": "Own", "fed_by": "own_battery", "own_battery_wh": 100, "draws_w": 10, "paths": ["net"]}
    mains = {"id": "m", "name": "Mains", "fed_by": "mains", "paths": ["net"]}
    unknown = {"id": "u", "name": "?", "paths": ["net"]}
    assert path_lasts_h(home(boxes=[{"id": "o", **own}, mains]), "net") == 0.0
    assert path_lasts_h(home(boxes=[{"id": "o", **own}, unknown]), "net") is None
    assert path_lasts_h(home(), "net") is None


def run(**facts: Any) -> dict[str, Any]:
    stops = [{"device": "motion", "metres": 10}, {"device": "siren", "metres": 20}]
    return {"id": "r", "name": "Run", "size": "22 AWG", "warmest_c": 20, "stops": stops} | facts


def test_run_by_hand() -> None:
    """By hand: 22 AWG 52.96 Ω/km: 20 m carry 0.52 A over 1.0592 Ω, then 0.5 A over 2.1184 Ω, from 10.5 V."""
    (found,) = all_runs(home(runs=[run()]))
    first = 10.5 - 1.0592 * 0.52
    assert [stop.volts for stop in found.stops] == pytest.approx([first, first - 2.1184 * 0.5], abs=2e-3)
    assert found.lumped_v == pytest.approx(3.1776 * 0.52, abs=2e-3)
    assert found.drop_v < found.lumped_v
    assert short_by(found.stops[1]) > 0 >= short_by(found.stops[0])
    assert [stop.metres for stop in found.stops] == [10, 30]


def test_smallest_that_serves() -> None:
    """By hand: 22 AWG leaves 8.89 V at the siren; 0.5 mm², 36 Ω/km, 10.5 - 0.72 x 0.52 - 1.44 x 0.5 = 9.41 V."""
    of = home(runs=[run()])
    assert smallest_that_serves(of, of.wiring.runs[0]) == "0.5 mm²"
    hopeless = home(runs=[run(stops=[{"device": "siren", "metres": 900}])])
    assert smallest_that_serves(hopeless, hopeless.wiring.runs[0]) == ""


def test_two_cores_in_parallel_halve_the_drop() -> None:
    one, two = (next(all_runs(home(runs=[run(pairs=pairs)]))).drop_v for pairs in (1, 2))
    assert two == pytest.approx(one / 2)


def test_the_manual_wins_over_the_size() -> None:
    assert run_ohm_per_km(PowerRun(id="r", name="r", ohm_per_km=50, warmest_c=20)) == 50
    assert run_ohm_per_km(PowerRun(id="r", name="r", size="awg 22", warmest_c=20)) == pytest.approx(52.96, rel=1e-3)
    assert list(all_runs(home(runs=[run(stops=[])]))) == []


def test_what_is_out_of_use_is_on_the_supply() -> None:
    """As it keeps its wireless place it keeps its wires: until it is taken out it is part of the load and of its run."""
    run = {"id": "r", "name": "Run", "size": "0.22 mm²", "stops": [{"device": "siren"}]}
    loads = []
    for state in ("fitted", "out_of_use", "removed"):
        of = home(runs=[run])
        changed = (each.model_copy(update={"state": state}) if each.id == "siren" else each for each in of.devices)
        of = Home.model_validate(of.model_copy(update={"devices": tuple(changed)}).model_dump(mode="json"))
        (found,) = all_runs(of)
        loads.append((load(of).alarm_a, found.current_a))
    whole = pytest.approx((0.62, 0.5))
    assert loads == [whole, whole, pytest.approx((0.12, 0.0))]
