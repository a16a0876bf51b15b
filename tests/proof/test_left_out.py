"""What is left out when setting is shown or refused: hand-worked on a small home, under both habits of units."""

from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.proof.report.verdicts import ProofVerdict
from alarmlib.proof.unit.left_out import LeftOut, LeftOutCause, UnitAnswer, WayOfSetting, left_out_cases, left_out_shown

Put = Callable[..., Home]
_ROUTE = {"control_unit.zones.+": {"id": "hall", "label": "Hall", "function": "entry_route"},
          "devices.+": {"id": "hall_contact", "name": "Hall contact", "kind": "contact", "zone": "hall"}}  # fmt: skip
_PLAIN, _INSISTING = WayOfSetting(False, False), WayOfSetting(False, True)


def _cases(home: Home, **wanted: Any) -> list[LeftOut]:
    return [case for case in left_out_cases(home) if all(getattr(case, key) == is_ for key, is_ in wanted.items())]


def _one(home: Home, zone: str, cause: LeftOutCause, setting: WayOfSetting, part: str = "set_full") -> LeftOut:
    (case,) = _cases(home, zone=zone, cause=cause, setting=setting, part=part)
    return case


def test_every_case_is_tried(cabin: Home, put: Put) -> None:
    """Each burglary zone that listens, in each set, left out in three ways and set in four; fire isn't left out."""
    night = {"control_unit.part_sets": [{"id": "night", "name": "Night", "left_out": ["shed"]}]}
    counted = Counter((case.part, case.zone) for case in left_out_cases(put(cabin, night)))
    assert counted == {("set_full", "door"): 12, ("set_full", "shed"): 12, ("night", "door"): 12}


def test_detector_that_cannot_stay_open(cabin: Home, put: Put) -> None:
    """A motion detector is left out this time or out of use, never open."""
    home = put(cabin, {"devices.shed.kind": "motion"})
    assert {case.cause for case in _cases(home, zone="shed")} == {LeftOutCause.INHIBITED, LeftOutCause.OUT_OF_USE}


@pytest.mark.parametrize("rule_set", ["us", "europe", "britain", "australasia"])
def test_left_out_and_out_of_use_are_shown(cabin: Home, put: Put, rule_set: str) -> None:
    """Both are shown at setting, however it is set, and the zone is then missing."""
    home = put(cabin, {"rules.rule_set": rule_set})
    for cause in (LeftOutCause.INHIBITED, LeftOutCause.OUT_OF_USE):
        assert {(case.answer, case.missing) for case in _cases(home, cause=cause)} == {(UnitAnswer.SHOWN, True)}


@pytest.mark.parametrize(
    ("rule_set", "at_setting", "zone", "setting", "answer", "missing"),
    [
        ("us", None, "shed", _PLAIN, UnitAnswer.REFUSED, False),
        ("us", None, "shed", _INSISTING, UnitAnswer.SHOWN, True),
        ("us", "refuses", "shed", _INSISTING, UnitAnswer.REFUSED, False),
        ("us", None, "door", _PLAIN, UnitAnswer.ALARM, False),
        ("europe", None, "door", _PLAIN, UnitAnswer.REFUSED, False),
        ("europe", None, "shed", _INSISTING, UnitAnswer.SHOWN, True),
        ("europe", None, "shed", WayOfSetting(True, False), UnitAnswer.REFUSED, False),
        ("europe", None, "door", WayOfSetting(True, False), UnitAnswer.REFUSED, False),
    ],
)
def test_left_open(
    cabin: Home,
    put: Put,
    rule_set: str,
    at_setting: str,
    zone: str,
    setting: WayOfSetting,
    answer: UnitAnswer,
    missing: bool,
) -> None:
    """A window is refused, or left out by who insists; an entry/exit door waits for the end of the exit time."""
    home = put(cabin, {"rules.rule_set": rule_set, "control_unit.behaviour.open_at_setting": at_setting})
    case = _one(home, zone, LeftOutCause.OPEN, setting)
    assert (case.answer, case.missing) == (answer, missing)


def test_set_without_exit_delay_refuses_an_open_door(cabin: Home, put: Put) -> None:
    """Nobody leaves in a part set without exit delay, so its entry/exit door must be closed."""
    night = {"control_unit.part_sets": [{"id": "night", "name": "Night", "exit_delay": False}]}
    assert _one(put(cabin, night), "door", LeftOutCause.OPEN, _PLAIN, "night").answer is UnitAnswer.REFUSED


def test_open_door_inside_alarms_or_is_refused(cabin: Home, put: Put) -> None:
    """A contact of the way in is let pass during the exit time; at its end it alarms or setting isn't completed."""
    assert _one(put(cabin, _ROUTE), "hall", LeftOutCause.OPEN, _PLAIN).answer is UnitAnswer.ALARM
    european = put(cabin, _ROUTE | {"rules.rule_set": "europe"})
    assert _one(european, "hall", LeftOutCause.OPEN, _PLAIN).answer is UnitAnswer.REFUSED


def test_breach_where_an_open_door_waits_for_a_second_detector(cabin: Home, put: Put) -> None:
    """The same contact with a partner is neither shown nor refused: set, open, waiting for a trip that is no news."""
    home = put(
        cabin, _ROUTE | {"control_unit.zones.shed.confirmed_by": "", "control_unit.behaviour.confirmation_s": 60}
    )
    home = put(home, {"control_unit.zones.hall.confirmed_by": "shed"})
    case = _one(home, "hall", LeftOutCause.OPEN, _PLAIN)
    assert (case.answer, case.missing) == (UnitAnswer.NOTHING, True)
    (proved,) = left_out_shown(home)
    assert (proved.id, proved.verdict) == ("left_out_shown/house/set_full", ProofVerdict.BREACHED)
    assert proved.worst["zone"] == "hall"
    assert proved.worst["silent"] == "2", "by keypad, insisting or not; from outside it is refused or bypassed"
    first, last = proved.counterexample
    assert first.zones == last.zones == ("hall",)
    assert first.state == "The zone “Hall” is open when the alarm is set."
    assert "house is set (nobody in)" in last.state
    assert "Tripped: hall." in last.state
    assert last.at_s > 60


def test_home_where_it_holds(cabin: Home, put: Put) -> None:
    """One verdict a set of each area, with how many zones and cases were played."""
    areas = [{"id": "house", "name": "House"}, {"id": "yard", "name": "Yard"}]
    home = put(cabin, {"control_unit.areas": areas, "control_unit.zones.shed.areas": ["house", "yard"]})
    found = left_out_shown(home)
    assert [(each.id, each.verdict, each.worst["zones"]) for each in found] == [
        ("left_out_shown/house/set_full", ProofVerdict.HOLDS, "2"),
        ("left_out_shown/yard/set_full", ProofVerdict.HOLDS, "1"),
    ]
    assert "Yard, nobody in" in found[1].sentence


def test_unit_that_sets_otherwise_when_nobody_left(cabin: Home, put: Put) -> None:
    """Whoever sets it goes out by an entry/exit door if there is one; else a part set is set, which is shown."""
    night = {"control_unit.part_sets": [{"id": "night", "name": "Night", "left_out": ["hall"]}],
             "control_unit.behaviour.nobody_left_part_set": "night"}  # fmt: skip
    home = put(cabin, night | _ROUTE)
    assert _one(home, "hall", LeftOutCause.OPEN, _PLAIN).answer is UnitAnswer.ALARM
    without_door = put(home, {"control_unit.zones.door.function": "at_once"})
    assert _one(without_door, "hall", LeftOutCause.OPEN, _PLAIN).answer is UnitAnswer.OTHER_SET


def test_season_in_which_a_zone_differs(cabin: Home, put: Put) -> None:
    """The cases of a season are those of its functions."""
    season = {"id": "winter", "name": "Winter", "zones": [{"zone": "shed", "function": "unused"}]}
    home = put(cabin, {"control_unit.seasons.+": season})
    assert {case.zone for case in left_out_cases(home, "winter")} == {"door"}
    with pytest.raises(KeyError):
        left_out_cases(home, "summer")
