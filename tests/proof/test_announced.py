"""Whether and when a fault is announced, worked out by hand; long holds are cut as `step` itself confirms."""

from collections.abc import Callable

import pytest

from alarmlib.control.from_home import setup_from_home
from alarmlib.control.inputs import FaultBegins
from alarmlib.control.machine import step
from alarmlib.control.setup import start_state
from alarmlib.control.signals import Notice
from alarmlib.model import Home
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.unit.announced import NOT_ANNOUNCED, Announcement, Announcer

Put = Callable[..., Home]


def _of(home: Home, name: str) -> Announcement:
    fault = next(fault for fault in faults_of(home, "pairs" if "+" in name else "single") if fault.id == name)
    return Announcer(home, setup_from_home(home)).of(fault)


@pytest.mark.parametrize(
    ("name", "after_s"),
    [
        ("none", None),
        ("dead/door", None),
        ("dead/shed", 3600),
        ("blind/shed", None),
        ("spent/door", 0),
        ("spent/shed", 0),
        ("keypad_dead/keypad", None),
        ("sounder_dead/siren", None),
        ("sounder_cut/siren", 0),
        ("out_of_reach/shed", 3600),
        ("out_of_reach/bell", None),
        ("radio_blocked", 3600),
        ("mains", 10),
        ("mains_and_battery", 0),
        ("path_down/net", 0),
        ("nobody_answers", None),
        ("inhibited/door", 0),
        ("inhibited/shed", 0),
        ("not_set/house", None),
    ],
)
def test_each_kind(cabin: Home, name: str, after_s: int | None) -> None:
    """What the unit watches is told after its hold time, what setting shows at once, anything else never."""
    assert _of(cabin, name) == Announcement(after_s is not None, after_s)


@pytest.mark.parametrize(
    ("path", "value", "name", "after_s"),
    [
        ("devices.shed.wireless.missing_after_s", None, "out_of_reach/shed", None),
        ("devices.shed.wireless.missing_after_s", None, "dead/shed", None),
        ("devices.shed.wireless.missing_after_s", 86400, "dead/shed", 86400),
        ("devices.shed.wireless.missing_after_s", 604800, "out_of_reach/shed", 604800),
        ("messages.paths.net.failure_reported", "unknown", "path_down/net", None),
        ("messages.paths.net.failure_reported", "no", "path_down/net", None),
        ("control_unit.behaviour.mains_hold_s", 86400, "mains", 86400),
        ("control_unit.behaviour.mains_hold_s", 0, "mains", 0),
    ],
)
def test_by_the_facts_of_the_home(
    cabin: Home, put: Put, path: str, value: object, name: str, after_s: int | None
) -> None:
    """The hold time entered counts, up to its longest; what isn't known, or isn't so, is not announced."""
    assert _of(put(cabin, {path: value}), name).after_s == after_s


@pytest.mark.parametrize("hold_s", [*range(8), 61])
def test_cut_hold_agrees_with_a_hold_played_through(cabin: Home, put: Put, hold_s: int) -> None:
    """Played second by second without any cut, the notice comes in the same second."""
    home = put(cabin, {"control_unit.behaviour.mains_hold_s": hold_s})
    setup = setup_from_home(home)
    state = start_state(setup)
    for at_s in range(hold_s + 2):
        state, outputs = step(setup, state, [FaultBegins("mains")] if at_s == 0 else [])
        if any(line.notice is Notice.FAULT and line.about == ("mains",) for line in outputs.shown):
            break
    else:
        pytest.fail("the notice never came")
    assert _of(home, "mains").after_s == at_s == hold_s


@pytest.mark.parametrize("times_s", [(30, 5), (5, 30), (1, 1), (0, 7)])
def test_radio_blocked_is_told_by_the_first_missing(cabin: Home, put: Put, times_s: tuple[int, int]) -> None:
    """Everything goes missing together, so the shortest missing time counts."""
    shed, bell = (max(1, each) for each in times_s)
    paths = ("devices.shed.wireless.missing_after_s", "devices.bell.wireless.missing_after_s")
    assert _of(put(cabin, dict(zip(paths, (shed, bell), strict=True))), "radio_blocked").after_s == min(shed, bell)


def test_repeater_by_its_own_missing_time(cabin: Home, put: Put) -> None:
    """A dead repeater is told by its own missing time; which devices go with it isn't known."""
    free = {"missing_after_s": 900}
    repeater = {"id": "rep", "name": "Repeater", "kind": "repeater", "link": "wireless", "wireless": free}
    assert _of(put(cabin, {"devices.+": repeater}), "repeater_dead/rep").after_s == 900
    assert _of(put(cabin, {"devices.+": repeater | {"wireless": {}}}), "repeater_dead/rep") == NOT_ANNOUNCED


@pytest.mark.parametrize("rule_set", ["us", "europe"])
@pytest.mark.parametrize(
    ("function", "name", "after_s"),
    [
        ("entry_exit", "circuit_cut/loop", 35),
        ("at_once", "circuit_cut/loop", 0),
        ("warn_unset", "circuit_cut/loop", 0),
        ("tamper", "circuit_cut/loop", 0),
        ("fire", "circuit_cut/loop", 0),
        ("key_switch", "circuit_cut/loop", None),
        ("at_once", "circuit_short/loop", None),
    ],
)
def test_circuit(cabin: Home, put: Put, rule_set: str, function: str, name: str, after_s: int | None) -> None:
    """A cut trips its zone: setting is refused, and while set an alarm, for an entry/exit door after its entry delay.

    A cut loop of a key switch sets or unsets, which nobody is told as a fault; a short is never told.
    """
    home = put(
        cabin,
        {
            "circuits.+": {"id": "loop", "name": "Loop", "ending": "none"},
            "devices.door.circuit": "loop",
            "control_unit.zones.door.function": function,
            "control_unit.times.entry_s": 35,
            "rules.rule_set": rule_set,
        },
    )
    assert _of(home, name).after_s == after_s


def test_cut_loop_of_motion_detectors(cabin: Home, put: Put) -> None:
    """A loop of detectors without a lasting state trips again each second, sleep times or not."""
    changes = {"circuits.+": {"id": "loop", "name": "Loop", "ending": "double"}, "devices.door.circuit": "loop",
               "devices.door.kind": "motion", "devices.door.sleep_s": 150,
               "control_unit.times.entry_s": 35}  # fmt: skip
    for function, after_s in (("entry_route", 0), ("at_once", 0), ("entry_exit", 35)):
        home = put(cabin, changes | {"control_unit.zones.door.function": function})
        assert _of(home, "circuit_cut/loop").after_s == after_s, function


def test_nothing_left_that_tells(cabin: Home, put: Put) -> None:
    """A fault that only a dead keypad shows is not told; one that somebody gets a message about is."""
    name = "keypad_dead/keypad+sounder_cut/siren"
    assert _of(cabin, "sounder_cut/siren").announced
    silent = put(cabin, {"messages.messages.burglary.to": []})
    setup = setup_from_home(silent)
    both = next(fault for fault in faults_of(silent, "pairs") if fault.id == name)
    watched = both.parts[1]
    assert Announcer(silent, setup).of(watched).announced
    assert not Announcer(silent, setup).of(both).announced


def test_keypads_dead_and_message_about_faults(cabin: Home, put: Put) -> None:
    """With every keypad dead a fault is told by its message, unless the path of that message is lost as well."""
    wireless = {"devices.keypad.link": "wireless", "devices.keypad.wireless": {"missing_after_s": 60}}
    assert _of(put(cabin, wireless), "out_of_reach/keypad") == NOT_ANNOUNCED
    fault_told = {"messages.messages.+": {"id": "fault", "event": "fault", "to": ["friend"]}}
    assert _of(put(cabin, wireless | fault_told), "out_of_reach/keypad").after_s == 60
    assert _of(put(cabin, wireless | fault_told), "out_of_reach/keypad+nobody_answers") == NOT_ANNOUNCED


def test_two_are_announced_when_both_are(cabin: Home) -> None:
    """The later of the two counts; one that is never told leaves the two untold."""
    assert _of(cabin, "out_of_reach/shed+mains").after_s == 3600
    assert _of(cabin, "dead/door+mains") == NOT_ANNOUNCED


def test_leaving_out_a_zone_of_two_areas(cabin: Home, put: Put) -> None:
    """Each area of the zone shows it when it is set, whichever is set last."""
    areas = [{"id": "house", "name": "House"}, {"id": "shed", "name": "Shed"}]
    home = put(cabin, {"control_unit.areas": areas, "control_unit.zones.shed.areas": ["house", "shed"]})
    assert _of(home, "inhibited/shed").after_s == 0


def test_one_played_answer_is_the_answer_of_many(cabin: Home) -> None:
    """The answers of one `Announcer` for a whole list, asked twice, are those of single questions."""
    setup = setup_from_home(cabin)
    many, faults = Announcer(cabin, setup), faults_of(cabin, "pairs")
    first = [many.of(fault) for fault in faults]
    assert first == [many.of(fault) for fault in faults]
    assert first[:20] == [Announcer(cabin, setup).of(fault) for fault in faults[:20]]
