"""What the calculations on loops, battery, radio and boxes hand to the proof as faults."""

from collections.abc import Callable

from alarmlib.model import Home
from alarmlib.proof.faults.fault import Fault
from alarmlib.proof.faults.fault_cases import faults_of

LOOP = {
    "id": "loop", "name": "Loop", "ending": "double", "end_resistor_ohm": 4700, "contact_resistor_ohm": 4700,
    "cable": "0.22 mm²", "length_m": 20,
}  # fmt: skip
SUPPLY = {"standby_battery_ah": 7, "rated_over_h": 20, "rule": "en_low", "coldest_c": 15}


def found(home: Home) -> dict[str, Fault]:
    return {fault.id: fault for fault in faults_of(home)}


def test_a_loop_that_hides_an_open_contact(cabin: Home, put: Callable[..., Home]) -> None:
    """By the unit's own threshold: then nothing arrives from its devices, and nothing says so."""
    edits = {"circuits.+": LOOP, "devices.door.circuit": "loop", "wiring.loop.pull_up_ohm": 4700}
    good = put(cabin, {**edits, "wiring.loop.trip_above": 0.59})
    assert "circuit_hides/loop" not in found(good)
    deaf = found(put(cabin, {**edits, "wiring.loop.trip_above": 0.68}))["circuit_hides/loop"]
    assert (deaf.dead, deaf.watches) == (frozenset({"door"}), ())
    assert "hide an open contact" in deaf.sentence


def test_a_battery_that_lasts_less_than_asked(cabin: Home, put: Callable[..., Home]) -> None:
    """After its hours the unit is dead; that the mains is gone may have been told before."""
    draw = {f"wiring.supply.{key}": value for key, value in SUPPLY.items()} | {"devices.keypad.quiet_current_a": 0.3}
    assert "battery_short" not in found(put(cabin, draw))
    short = found(put(cabin, draw | {"wiring.supply.standby_battery_ah": 3}))["battery_short"]
    assert (short.unit_dead, short.watches) == (True, ("mains",))
    assert "12 h are asked" in short.sentence


def test_a_box_on_the_mains_takes_its_path_along(cabin: Home, put: Callable[..., Home]) -> None:
    """Whatever the owner says of the path in a power cut, the router's own supply decides."""
    box = {"id": "router", "name": "Router", "fed_by": "mains", "paths": ["net"]}
    assert not found(cabin)["mains"].no_message
    assert found(put(cabin, {"wiring.boxes.+": box}))["mains"].no_message
    own = box | {"fed_by": "own_battery", "draws_w": 8, "own_battery_wh": 100}
    assert not found(put(cabin, {"wiring.boxes.+": own}))["mains"].no_message


def test_a_repeater_takes_along_what_it_serves(cabin: Home, put: Callable[..., Home]) -> None:
    """Once the owner says which devices are heard through it, only those are lost with it."""
    relay = {"id": "relay", "name": "Relay", "kind": "repeater", "link": "wireless", "wireless": {}}
    unsaid = put(cabin, {"devices.+": relay})
    assert "is not known, so all" in found(unsaid)["repeater_dead/relay"].sentence
    other = {"id": "other", "name": "Other", "kind": "contact", "link": "wireless", "zone": "door", "wireless": {}}
    said = put(unsaid, {"devices.shed.wireless.repeater": "relay"})
    both = found(put(said, {"devices.+": other}))["repeater_dead/relay"]
    assert both.dead == frozenset({"shed"})
    assert "devices: 1" in both.sentence


def test_a_weak_signal_is_named(cabin: Home, put: Callable[..., Home]) -> None:
    """A device received more weakly than its manual ask is as likely out of reach as flat."""
    weak = put(cabin, {"devices.shed.wireless.signal": 30, "devices.shed.wireless.signal_asked": 40})
    assert "weaker than its manual ask" in found(weak)["out_of_reach/shed"].sentence
    assert "weaker" not in found(cabin)["out_of_reach/shed"].sentence
