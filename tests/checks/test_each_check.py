# ruff: noqa: E501 - one case a line reads best
"""Every check, on a home that draws it and on one alike in all but one fact that does not."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from alarmlib.checks.assess import CHECKS, FULL_CHECKS, assess
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.sources import Status, cite

TODAY = date(2026, 11, 25)
Put = Callable[[Home, dict[str, Any]], Home]
BY_ID = {check.id: check for check in (*CHECKS, *FULL_CHECKS)}
_FREE = {"id": "extra", "name": "extra", "kind": "contact", "link": "wireless", "openings": ["living_window"],
         "room": "living", "zone": "living_window", "tamper": "yes"}  # fmt: skip
_WINDOW = {"id": "extra", "name": "extra", "kind": "contact", "room": "living", "zone": "living_window"}
_CAT = {"id": "cat", "kind": "cat", "mass_kg": 4, "reaches_m": 1.2}
_TEST = {"id": "t1", "on": "2026-10-01", "device": "smoke", "seen": "as_expected", "seen_zone": "fire"}
_ALL_TESTED = {"devices.smoke.state": "fitted"}
_SLOW = {"id": "w1", "person": "one", "door": "front_door", "first_s": 20}
_HOME = {"id": "home", "name": "home", "who": "one", "starts_at": "front_door",
         "steps": [{"id": "s1", "deed": "open", "place": "front_door", "seconds": 2}, {"id": "s2", "deed": "walk_to", "place": "keypad"},
                   {"id": "s3", "deed": "unset", "place": "house", "seconds": 4}]}  # fmt: skip
EU = {"rules.rule_set": "europe"}
_BOX = {"id": "router", "name": "Router", "fed_by": "own_battery", "paths": ["net"]}
_ROUTER = {"messages.paths": [{"id": "net", "name": "Internet", "works_without_mains": "yes"}, {"id": "mobile", "name": "Mobile", "kind": "mobile"}],
           **{f"messages.messages.{event}.paths": ["net"] for event in ("burglary", "fire", "hold_up")}}  # fmt: skip


def _wireless(**facts: Any) -> dict[str, Any]:
    return {"devices.+": _FREE | {"wireless": facts}}


def _found(**facts: Any) -> dict[str, Any]:
    item = {"id": "old", "what": "old contact", "fate": "keep", "answers": "yes", "device": "smoke"} | facts
    return {"inherited.items.+": item}


def _sets(**facts: Any) -> dict[str, Any]:
    return {"control_unit.part_sets.night": None, "control_unit.part_sets.+": {"id": "night", "name": "Night"} | facts}


def _season(**facts: Any) -> dict[str, Any]:
    return {"control_unit.seasons.+": {"id": "winter", "name": "Winter", "months": [12]} | facts}


# (check, edits that the check must not speak of, further edits that draw it, verdict)
CASES: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    ("site.way_in_without_detector", {}, {"devices.kitchen_window_contact": None}, "should"),
    ("site.way_in_without_detector", {}, {"devices.living_window_contact": None}, "note"),
    ("site.way_in_without_detector", EU, {"devices.kitchen_window_contact": None}, "should"),
    ("plan_drawn.cannot_be_right", {"site.passages.hall_landing.kind": "stairs", "site.rooms.hall.outline": [[0, 0], [3, 0], [3, 3], [0, 3]], "devices.keypad.at": [3.3, 1]}, {"devices.keypad.at": [3.31, 1]}, "should"),
    ("unlikely.high_up", {"devices.kitchen_window_contact.height_m": 6, "site.rooms.kitchen.ceiling_m": None}, {"devices.kitchen_window_contact.height_m": 12}, "should"),
    ("unlikely.high_up", {"devices.hall_motion.height_m": 2.5, "site.rooms.hall.ceiling_m": 2.4}, {"devices.hall_motion.height_m": 2.6}, "should"),
    ("unlikely.high_up", {"devices.hall_motion.height_m": 4, "site.rooms.hall.ceiling_m": 2.4, "site.rooms.hall.open_to_above": True}, {"site.rooms.hall.open_to_above": False}, "should"),
    ("unlikely.reached_from_the_ground", {"site.openings.living_window.reach": "ground", "site.openings.living_window.sill_m": 3.7}, {"site.openings.living_window.sill_m": 50}, "should"),
    ("unlikely.still_to_come", {"devices.smoke.fitted_on": "2026-11-25"}, {"devices.smoke.fitted_on": "2026-11-26"}, "should"),
    ("unlikely.still_to_come", {"log.tests.+": _TEST | {"on": "2026-11-25"}}, {"log.tests.t1.on": "2050-01-01"}, "should"),
    ("unlikely.on_one_level", {"site.storeys.+": {"id": "annexe", "name": "Annexe", "level": 9}}, {"site.storeys.annexe.level": 0}, "note"),
    ("site.no_entry_exit_door", {}, {"site.openings.front_door.entry_exit": False}, "should"),
    ("site.locked_in", {"site.openings.front_door.escape_way": True}, {"site.openings.front_door.opens_without_key": "no"}, "must"),
    ("site.loose_latch", {"site.openings.living_window.latches_in_wind": "ok"}, {"site.openings.living_window.latches_in_wind": "needs_work"}, "should"),
    ("site.unit_outside_the_guarded_area", {}, {"devices.unit.room": "kitchen", "devices.kitchen_window_contact": None}, "must"),
    ("site.unit_at_the_entry", {}, {"devices.unit.room": "hall"}, "should"),
    ("site.shock_without_contact", {"devices.+": _WINDOW | {"id": "shock", "kind": "shock", "openings": ["living_window"]}}, {"devices.living_window_contact": None}, "should"),
    ("detectors.disturbed_motion", {"site.rooms.kitchen.disturbances": ["sun"]}, {"site.rooms.hall.disturbances": ["sun"]}, "should"),
    ("detectors.pet_trips_motion", {"household.pets.+": _CAT | {"free_when_empty": ["kitchen"]}}, {"household.pets.cat.free_when_empty": ["living"]}, "should"),
    ("detectors.contact_on_steel", {"site.openings.living_window.frame": "wood"}, {"site.openings.living_window.frame": "steel"}, "should"),
    ("detectors.gap_too_wide", {"site.openings.living_window.gap_mm": 20, "devices.living_window_contact.contact_gap_mm": 20}, {"site.openings.living_window.gap_mm": 20.5}, "must"),
    ("detectors.rests_after_a_trip", {}, {"devices.hall_motion.sleep_s": 5}, "note"),
    ("detectors.rests_after_a_trip", {}, {"devices.hall_motion.sleep_s": 60, "devices.hall_motion.movement_restarts_sleep": True}, "should"),
    ("detectors.no_place", {}, {"devices.hall_motion.room": ""}, "should"),
    ("zones.device_without_zone", {}, {"devices.smoke.zone": ""}, "should"),
    ("zones.zone_without_device", {}, {"devices.smoke": None}, "should"),
    ("zones.zone_unused_with_device", {}, {"control_unit.zones.fire.function": "unused"}, "must"),
    ("zones.function_not_offered", {"control_unit.limits.functions": ["entry_exit", "at_once", "entry_route", "fire", "hold_up"]}, {"control_unit.zones.living_motion.function": "always_siren"}, "must"),
    ("zones.detectors_sharing", {}, {"devices.living_motion.zone": "hall_motion"}, "should"),
    ("zones.wired_with_wireless", {"devices.+": _WINDOW}, {"devices.extra.link": "wireless"}, "note"),
    ("zones.life_safety_apart", {}, {"devices.smoke.zone": "hall_motion"}, "should"),
    ("zones.life_safety_apart", {}, {"control_unit.zones.fire.function": "at_once"}, "must"),
    ("zones.life_safety_apart", {}, {"control_unit.zones.fire.function": "always_siren"}, "should"),
    ("zones.life_safety_apart", {}, {"control_unit.zones.living_window.function": "fire"}, "should"),
    ("zones.life_safety_held_back", {"control_unit.zones.hall_motion.out_of_use": True}, {"control_unit.zones.fire.out_of_use": True}, "should"),
    ("zones.life_safety_held_back", {}, {"control_unit.zones.fire.silent": True}, "should"),
    ("zones.life_safety_held_back", {}, {"control_unit.zones.fire.confirmed_by": "hall_motion"}, "should"),
    ("zones.delay_off_the_route", {}, {"control_unit.zones.living_motion.function": "entry_route"}, "should"),
    ("zones.delay_off_the_route", EU, {"control_unit.zones.living_motion.function": "entry_route"}, "should"),
    ("zones.entry_exit_door_at_once", {}, {"control_unit.zones.front_door.function": "at_once"}, "must"),
    ("zones.entry_exit_door_without_contact", {}, {"devices.front_door_contact": None}, "should"),
    ("zones.labels", {"control_unit.zones.fire.label": "x" * 16}, {"control_unit.zones.fire.label": "x" * 17}, "must"),
    ("zones.labels", {}, {"control_unit.zones.fire.label": "Hold up "}, "should"),
    ("zones.on_another_circuit", {"circuits": [{"id": "a", "name": "a"}, {"id": "b", "name": "b"}], "devices.smoke.circuit": "a", "control_unit.zones.fire.circuit": "a"}, {"control_unit.zones.fire.circuit": "b"}, "must"),
    ("capacity.more_than_it_holds", {"control_unit.limits.zones": 7}, {"control_unit.limits.zones": 6}, "must"),
    ("capacity.more_than_it_holds", {"control_unit.limits.keypads": 1}, {"control_unit.limits.keypads": 0}, "must"),
    ("capacity.slot_twice", _wireless(slot=3), {"devices.smoke.wireless": {"slot": 3}}, "must"),
    ("capacity.user_place_twice", {"household.people.one.user_slot": 1}, {"household.people.two.user_slot": 1}, "should"),
    ("capacity.grade_too_low", {"control_unit.limits.grade": 2}, {"control_unit.limits.grade": 1}, "should"),
    ("part_sets.leaves_out_what_counts_always", {}, {"control_unit.part_sets.night.left_out": ["fire"]}, "should"),
    ("part_sets.leaves_out_what_counts_always", {}, {"control_unit.part_sets.night.left_out": ["hold_up"]}, "should"),
    ("part_sets.listens_where_people_are", {}, {"devices.hall_motion.room": "landing", "control_unit.part_sets.night.left_out": ["living_motion"]}, "should"),
    ("part_sets.listens_where_people_are", {"household.pets.+": _CAT}, {"household.pets.cat.free_in_night": ["living"], "control_unit.part_sets.night.left_out": ["hall_motion"]}, "should"),
    ("part_sets.listens_to_an_open_window", {"site.openings.living_window.kept_open": "day"}, {"site.openings.living_window.kept_open": "night"}, "should"),
    ("part_sets.nobody_can_come_home_late", {}, {"control_unit.part_sets.night.doors": [{"zone": "front_door", "delayed": False}]}, "should"),
    ("part_sets.listens_to_nothing", {}, {"control_unit.part_sets.night.left_out": ["front_door", "living_window", "kitchen_window", "hall_motion", "living_motion"]}, "should"),
    ("part_sets.seasons_meet", _season(), {"control_unit.seasons.winter.months": []}, "should"),
    ("part_sets.season_function_not_offered", _season(zones=[{"zone": "living_motion", "function": "at_once"}]) | {"control_unit.limits.functions": ["at_once"]}, {"control_unit.limits.functions": ["warn_unset"]}, "must"),
    ("times.offered_by_the_unit", {"control_unit.limits.entry": {"low_s": 5, "high_s": 60, "step_s": 10}}, {"control_unit.times.entry_s": 40}, "must"),
    ("zones.zone_without_area", {"control_unit.areas.+": {"id": "shed", "name": "Shed"}}, {"control_unit.zones.living_window.areas": []}, "should"),
    ("times.times_of_another_door", {"control_unit.times.doors.+": {"id": "d", "opening": "front_door", "entry_s": 35}}, {"control_unit.times.doors.d.opening": "living_window"}, "should"),
    ("times.in_time", {}, {"control_unit.times.entry_s": 12}, "should"),
    ("times.fitters_rule", {"household.walks.+": _SLOW | {"second_s": 20, "third_s": 21}}, {"household.walks.w1.third_s": 24}, "should"),
    ("control.quiet_start", {"control_unit.behaviour.ignores_after_power_s": 60}, {"control_unit.behaviour.ignores_after_power_s": 59}, "should"),
    ("control.fire_after_power", {"control_unit.behaviour.life_heard_after_power": True}, {"control_unit.behaviour.life_heard_after_power": False}, "should"),
    ("control.fire_after_power", {"control_unit.behaviour.life_heard_after_power": True}, {"control_unit.behaviour.life_heard_after_power": None}, "should"),
    ("control.fire_after_power", {"control_unit.behaviour.ignores_after_power_s": 0}, {"control_unit.behaviour.ignores_after_power_s": 60}, "should"),
    ("control.fire_after_power", {"control_unit.zones.fire.function": "unused"}, {"control_unit.zones.fire.function": "fire"}, "should"),
    ("control.setting_unlike_the_rule_set", EU | {"control_unit.behaviour.off_route_in_exit": "refuses"}, {"control_unit.behaviour.off_route_in_exit": "at_once"}, "note"),
    ("control.setting_unlike_the_rule_set", EU, {"control_unit.behaviour.tamper_outside_when_unset": True}, "should"),
    ("control.partners_apart", {"control_unit.zones.living_motion.confirmed_by": "hall_motion"}, {"devices.hall_motion.room": "bedroom"}, "should"),
    ("control.partners_apart", {}, {"control_unit.zones.living_motion.confirmed_by": "living_motion"}, "must"),
    ("messages.nobody_is_told", {}, {"messages.messages.fire": None}, "should"),
    ("messages.nobody_can_come", {}, {"messages.responders.neighbour.lives_here": True}, "should"),
    ("messages.nobody_can_come", {}, {"messages.responders.neighbour.holds_key": False}, "should"),
    ("messages.nobody_can_come", {}, {"messages.responders.neighbour.minutes_away": None}, "should"),
    ("messages.not_agreed", {}, {"messages.responders.neighbour.agreed": "unknown"}, "should"),
    ("messages.not_agreed", {}, {"messages.responders.neighbour.does": ""}, "note"),
    ("messages.first_leave", {"control_unit.zones.fire.function": "unused"}, {"control_unit.zones.fire.function": "fire"}, "note"),
    ("messages.emergency_calls", {}, {"messages.calls_emergency_by_itself": True}, "should"),
    ("messages.emergency_calls", {}, {"rules.permit_asked": False}, "should"),
    ("messages.path_in_a_power_cut", {"messages.paths": [{"id": "net", "name": "net", "works_without_mains": "yes"}, {"id": "mobile", "name": "mobile"}], "messages.messages.fire.paths": ["net"]}, {"messages.paths.net.works_without_mains": "no"}, "should"),
    ("messages.path_in_a_power_cut", {"messages.paths": [{"id": "net", "name": "net", "works_without_mains": "yes"}]}, {"messages.paths.net.works_without_mains": "no"}, "must"),
    ("messages.path_in_a_power_cut", _ROUTER, {"messages.paths.net.works_without_mains": "no"}, "must"),
    ("messages.path_in_a_power_cut", _ROUTER | {"wiring.boxes": [_BOX]}, {"wiring.boxes.router.fed_by": "mains"}, "must"),
    ("messages.path_in_a_power_cut", _ROUTER | {"messages.messages.fire.paths": ["net", "mobile"]}, {"messages.paths.net.works_without_mains": "no"}, "should"),
    ("messages.only_the_siren", {}, {"devices.siren": None}, "should"),
    ("people.would_not_wake", {}, {"household.people.one.hard_of_hearing": True}, "should"),
    ("people.person_cannot_unset", {}, {"household.people.one.can_unset": False}, "should"),
    ("people.person_cannot_unset", {}, {"household.people.one.fob": "keypad"}, "should"),
    ("people.visitor_cannot_unset", {"household.visitors.+": {"id": "v", "role": "cleaner", "door": "front_door", "can_unset": True, "trained_on": "2026-01-01"}}, {"household.visitors.v.can_unset": False}, "should"),
    ("people.person_not_shown", {}, {"household.people.one.trained_on": ""}, "note"),
    ("people.door_without_a_way_to_unset", {}, {"devices.keypad": None}, "should"),
    ("hazards.smoke_alarm_too_old", {"site.rooms.hall.smoke_alarm_made": 2016}, {"site.rooms.hall.smoke_alarm_made": 2015}, "should"),
    ("hazards.frost", {}, {"site.rooms.kitchen.may_freeze": "yes"}, "should"),
    ("hazards.frost", {}, {"household.long_winter_absence": True}, "should"),
    ("hazards.leaks", {"site.rooms.kitchen.water_sources": ["toilet"]}, {"site.rooms.kitchen.water_sources": ["sump"]}, "note"),
    ("hazards.leaks", {}, {"site.stop_tap": "no"}, "should"),
    ("hazards.main_switch", {"site.breaker": "yes"}, {"site.breaker": "no"}, "should"),
    ("hazards.one_way_out", {}, {"site.rooms.bedroom.two_ways_out": "no"}, "should"),
    ("devices.low_battery_unreported", _wireless(reports_low_battery="yes"), {"devices.extra.wireless.reports_low_battery": "no"}, "note"),
    ("devices.weak_signal", _wireless(signal=41, signal_asked=40), {"devices.extra.wireless.signal": 39}, "must"),
    ("devices.weak_signal", _wireless(signal=41, signal_asked=40), {"devices.extra.wireless.signal": 40}, "should"),
    ("devices.tamper_cover", EU, {"devices.smoke.tamper": "no"}, "should"),
    ("devices.hold_up_button_zone", {}, {"control_unit.zones.hold_up.function": "at_once"}, "must"),
    ("devices.hold_up_button_zone", {}, {"devices.living_motion.zone": "hold_up"}, "should"),
    ("devices.out_of_use", {}, {"devices.smoke.state": "out_of_use"}, "should"),
    ("devices.sensor_too_old", {"devices.smoke.made_on": "2016-01-01"}, {"devices.smoke.made_on": "2015-12-31"}, "should"),
    ("test_walk.not_tested", {"log.tests.+": _TEST} | _ALL_TESTED, {"devices.hall_motion.state": "fitted"}, "should"),
    ("test_walk.failed", {"log.tests.+": _TEST} | _ALL_TESTED, {"log.tests.t1.seen": "nothing"}, "must"),
    ("test_walk.shown_in_another_zone", {"log.tests.+": _TEST} | _ALL_TESTED, {"log.tests.t1.seen_zone": "hold_up"}, "must"),
    ("test_walk.cause_not_found", {"log.tests.+": _TEST | {"cause": "x", "action": "y", "seen": "late"}}, {"log.tests.t1.action": ""}, "note"),
    ("inherited.old_access", {"inherited.contract_ended": True, "inherited.users_removed": True, "inherited.factory_access_changed": True}, {"start_point": "old_unknown", "inherited.users_removed": False}, "should"),
    ("inherited.undecided", _found(), {"inherited.items.old.fate": "undecided"}, "should"),
    ("inherited.undecided", _found(), {"inherited.items.old.answers": "unknown"}, "should"),
    ("readiness.before_drilling", {}, {"site.tenure": "rented"}, "should"),
    ("readiness.before_drilling", {}, {"site.build_band": "before_1978"}, "note"),
    ("readiness.rules_no_longer_offered", {"rules.rule_set": "europe"}, {"rules.rule_set": "australasia"}, "should"),
    ("readiness.names_alike", {}, {"devices.smoke.name": "Keypad"}, "note"),
    ("zone_plan.best_arrangement", {}, {"devices.living_motion.zone": "hall_motion"}, "note"),
    ("habits.leads_where_it_should", {"household.habits.+": _HOME}, {"control_unit.times.entry_s": 5}, "should"),
    ("habits.leads_where_it_should", {"household.habits.+": _HOME}, {"household.people.one.can_unset": False}, "should"),
    ("habits.leads_where_it_should", {"household.habits.+": _HOME}, {"household.habits.home.begins_in": "part_set"}, "note"),
    ("habits.leads_where_it_should", {"household.habits.+": _HOME}, {"household.habits.home.steps.s3.deed": "set_part"}, "note"),
]  # fmt: skip


def _said(check: str, home: Home) -> list[Finding]:
    result = BY_ID[check].result(home, TODAY)
    return [each for each in result if isinstance(each, Finding) and each.verdict is not Verdict.OK]


@pytest.mark.parametrize(("check", "fine", "bad", "verdict"), CASES, ids=[f"{c[0]}-{n}" for n, c in enumerate(CASES)])
def test_one_fact_decides(
    house: Home, put: Put, check: str, fine: dict[str, Any], bad: dict[str, Any], verdict: str
) -> None:
    """The check is silent on the one home and speaks, with that verdict, on the other."""
    home = put(house, fine)
    assert _said(check, home) == []
    found = _said(check, put(home, bad))
    assert verdict in {finding.verdict.value for finding in found}
    assert all(finding.id == check and finding.subject and finding.message and finding.remedy for finding in found)


ELSEWHERE = {
    "zones.too_many_contacts", "times.within_the_rules", "times.entry_with_abort", "times.siren_time",
    "times.siren_in_an_hour", "control.repeat_trips", "control.confirmation_window", "devices.check_in",
    "devices.missing_too_late", "devices.battery_due", "test_walk.overdue", "readiness.cautions_unread",
    "readiness.no_detectors", "people.visitor_never_tried", "detectors.too_fast_for_a_slow_walk",
}  # fmt: skip


# Modules whose checks are each called by name, just inside and just outside their edge, in a file named otherwise.
OWN_FILES = dict.fromkeys(
    ("household_alarms", "alarm_places", "alarm_walks", "carbon_monoxide", "british_alarms"), "alarms"
) | dict.fromkeys(("loops", "radio", "cable", "battery", "sound", "fitting"), "wiring_checks")


def in_own_file(check: str) -> bool:
    """Whether a check is called by its name in the file that tests its module."""
    module, _, name = check.partition(".")
    own = Path(__file__).with_name(f"test_{OWN_FILES.get(module, module)}.py")
    return own.exists() and name in own.read_text(encoding="utf-8")


def test_no_check_is_without_a_case() -> None:
    """Each check is in the table above, in the tests of limits at their edge, or in its module's own file."""
    cases = {case[0] for case in CASES} | ELSEWHERE
    assert cases <= set(BY_ID)
    assert {check for check in set(BY_ID) - cases if not in_own_file(check)} == set()


def test_every_finding_keeps_the_rule_of_sources(house: Home, put: Put) -> None:
    """Nothing known from memory alone weighs more than should, and each such finding says with whom to check."""
    for _, fine, bad, _ in CASES:
        for finding in assess(put(put(house, fine), bad), today=TODAY).findings:
            status = cite(finding.source).status
            if finding.verdict is Verdict.MUST:
                assert status in {Status.SEEN, Status.OWNER}, finding
            if status is Status.MEMORY and finding.verdict is Verdict.SHOULD:
                assert "check with" in finding.remedy.casefold(), finding


def test_who_cannot_unset_and_meets_the_alarm__is_not_called_ok(house: Home, put: Callable[..., Home]) -> None:
    """An alarm that is meant to be, by somebody who cannot end it: a note that names them, and no ok."""
    habit = _HOME | {"expected": "alarm", "steps": [{"id": "a", "deed": "open", "place": "front_door"}]}
    edits = {"household.habits.+": habit, "household.people.one.can_unset": False}
    (found,) = _said("habits.leads_where_it_should", put(house, edits))
    assert (found.verdict, "cannot unset the alarm" in found.message) == (Verdict.NOTE, True)
    assert _said("habits.leads_where_it_should", put(house, {"household.habits.+": habit})) == []
