"""The day of fitting: the order, what is asked before it, and the reading that stops the line."""

from typing import Any

import pytest

from alarmlib.calc.electrical.fitting_day import halted_at, readings, steps
from alarmlib.calc.electrical.home_loops import bearable, cable_ohm, fire_faults, loop_of, seen, unheard_failures
from alarmlib.calc.electrical.loops import states
from alarmlib.model import Home

LOOP = {
    "id": "loop", "name": "Loop", "ending": "double", "end_resistor_ohm": 4700, "contact_resistor_ohm": 4700,
    "cable": "0.22 mm²", "length_m": 20,
}  # fmt: skip


def home(done: Any = (), devices: Any = (), unit: Any = None, **loop: Any) -> Home:
    contact = {"id": "contact", "name": "Contact", "kind": "contact", "circuit": "loop"}
    free = {"id": "free", "name": "Free", "kind": "motion", "link": "wireless"}
    wiring = {"done": list(done), "loop": {"tolerance": 1} | (unit or {})}
    parts = {"devices": [contact, free, *devices], "circuits": [LOOP | loop], "wiring": wiring}
    return Home.model_validate(parts)


BEFORE = ("place", "cables", "devices", "resistors")


def test_order_is_the_safe_one() -> None:
    """Pairs are read before they are joined; the supply is off before that; the battery comes after the supply."""
    order = [step.id for step in steps(home())]
    assert order[:4] == list(BEFORE)
    assert order.index("pair_loop") < order.index("supply_off") < order.index("joined") < order.index("supply_on")
    assert order.index("supply_on") < order.index("battery") < order.index("covers") < order.index("free_free")
    assert order[-2:] == ["settings", "walk_test"]
    cautions = {step.id: step.caution for step in steps(home())}
    assert (cautions["battery"], cautions["devices"], cautions["walk_test"]) == ("battery", "ladders", "siren_ears")


def test_right_readings_let_the_line_go_on() -> None:
    of = home([*BEFORE, "pair_loop"], measured_ohm=4704, open_ohm=9404, earth_ohm=10e6)
    assert [reading.faults for reading in readings(of)] == [(), (), ()]
    halt = halted_at(of)
    assert halt.step is not None
    assert (halt.step.id, halt.why) == ("supply_off", "")


def test_a_reading_outside_its_band_stops_it() -> None:
    halt = halted_at(home([*BEFORE, "pair_loop", "supply_off"], measured_ohm=0.4))
    assert halt.step is not None
    assert halt.step.id == "pair_loop"
    assert "reads short" in halt.why


def test_a_tick_without_a_reading_stops_it() -> None:
    assert "no reading" in halted_at(home([*BEFORE, "pair_loop"])).why


def test_a_loop_that_cannot_be_computed_is_read_all_the_same() -> None:
    """How it is ended isn't known: no band, but the reading counts as taken."""
    halt = halted_at(home([*BEFORE, "pair_loop"], ending="unknown", measured_ohm=4704))
    assert halt.why == ""


def test_a_core_to_earth_stops_it() -> None:
    halt = halted_at(home([*BEFORE, "pair_loop"], measured_ohm=4704, earth_ohm=40_000))
    assert "touches metal or damp" in halt.why


def test_everything_done() -> None:
    of = home(measured_ohm=4704)
    assert halted_at(home([step.id for step in steps(of)], measured_ohm=4704)).step is None


def test_loop_of_the_home_by_hand() -> None:
    """By hand: 20 m, both cores, 95 Ω/km at worst are 3.8 Ω, and one contact of 0.2 Ω."""
    of = home()
    loop = loop_of(of, of.circuits[0])
    assert loop is not None
    assert loop.cable_ohm == cable_ohm(of, of.circuits[0], worst=True) + 0.2
    assert round(loop.cable_ohm, 6) == 4.0
    assert loop_of(of, home(end_resistor_ohm=None).circuits[0]) is None
    assert loop_of(of, home(ending="unknown").circuits[0]) is None


def test_thresholds_of_the_unit_are_judged() -> None:
    good = {"pull_up_ohm": 4700, "trip_above": 0.59}
    found = seen(home(unit=good), home(unit=good).circuits[0])
    assert found is not None
    assert not found.missed
    assert not found.false_trip
    deaf = seen(home(unit=good | {"trip_above": 0.67}), home().circuits[0])
    assert deaf is not None
    assert deaf.missed
    shy = seen(home(unit=good | {"trip_above": 0.5}), home().circuits[0])
    assert shy is not None
    assert shy.false_trip
    most = bearable(home(unit=good), home().circuits[0])
    assert most is not None
    assert most.ohm > 1800  # 4653 x 0.59 / 0.41 - 4747
    assert bearable(home(), home().circuits[0]) is None


def test_fire_circuits() -> None:
    smoke = {"id": "smoke", "name": "Smoke", "kind": "smoke", "circuit": "loop"}
    shared = home(devices=[smoke])
    told = fire_faults(shared, shared.circuits[0])
    assert any("shared with Contact" in each for each in told)
    assert any("open when quiet" in each for each in told)
    gas = home(devices=[smoke | {"kind": "carbon_monoxide"}])
    assert any("fault contact" in each for each in fire_faults(gas, gas.circuits[0]))
    assert fire_faults(home(), home().circuits[0]) == ()


def fire_home(kind: str = "smoke", fed: str = "unknown", fault_contact: str = "unknown") -> Home:
    detectors = [
        {"id": each, "name": each.title(), "kind": kind, "circuit": "loop", "hazard": {"fault_contact": fault_contact}}
        for each in ("near", "far")
    ]
    circuit = {"id": "loop", "name": "Loop", "ending": "open_fire", "end_resistor_ohm": 4700, "detectors_fed": fed}
    return Home.model_validate({"circuits": [circuit], "devices": detectors})


def test_detectors_open_at_rest_are_no_resistance_in_series() -> None:
    bare, watched = (loop_of(found, found.circuits[0]) for found in (fire_home(), fire_home(fed="watched")))
    assert bare is not None
    assert watched is not None
    assert bare.cable_ohm == 0.0
    assert watched.cable_ohm == pytest.approx(0.2)  # the relay's one contact
    assert [state.name for state in states(bare)] == ["fire, or short", "quiet", "cut"]
    assert states(watched)[2].name == "cut, or the detectors' power gone"
    gas = fire_home("carbon_monoxide", "by_pair", "yes")
    loop = loop_of(gas, gas.circuits[0])
    assert loop is not None
    assert loop.cable_ohm == pytest.approx(0.4)
    assert states(loop)[0].name == "CO, or short"
    assert states(loop)[2].name == "cut, or a fault of Near, or a fault of Far"


@pytest.mark.parametrize(
    ("kind", "fed", "contact", "found"),
    [
        ("smoke", "unwatched", "unknown", [True]),
        ("smoke", "unknown", "unknown", [False]),
        ("smoke", "watched", "no", []),
        ("smoke", "by_pair", "no", []),
        ("carbon_monoxide", "by_pair", "no", [True, True]),
        ("carbon_monoxide", "unwatched", "unknown", [True, False, False]),
        ("carbon_monoxide", "watched", "yes", []),
    ],
)
def test_what_fails_unheard(kind: str, fed: str, contact: str, found: list[bool]) -> None:
    home = fire_home(kind, fed, contact)
    assert [sure for _, sure in unheard_failures(home, home.circuits[0])] == found
