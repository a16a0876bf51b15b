# ruff: noqa: E501 - one case a line reads best
"""What is out of use guards nothing: each finding of a home without a device comes while it is out of use, too."""

import random
from collections.abc import Callable, Collection
from datetime import date
from typing import Any

import pytest

from alarmlib.checks.assess import CHECKS, FULL_CHECKS, assess
from alarmlib.checks.finding import Assessment, Finding, Verdict
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.model.devices import DeviceState
from alarmlib.model.words import HAZARD_KINDS, RuleSet
from alarmlib.record.produce import demo_home

Put = Callable[[Home, dict[str, Any]], Home]
TODAY = date(2026, 11, 25)
BY_ID = {check.id: check for check in (*CHECKS, *FULL_CHECKS)}
WEIGHTS = list(Verdict)
MAY_BE_SILENT = {
    "household_alarms.places_unknown": "the survey's alarm of that room is entered as this very device, so its place is known",
}
"""Findings that a home without the device has and one with it out of use need not have, each with its reason."""


def _with(home: Home, some: Collection[str], state: DeviceState) -> Home:
    changed = (each.model_copy(update={"state": state}) if each.id in some else each for each in home.devices)
    return home.model_copy(update={"devices": tuple(changed)})


def _weights(assessment: Assessment) -> dict[tuple[str, str], list[int]]:
    """How much each finding weighs, the heaviest first, by check and subject; what is in order is none."""
    found: dict[tuple[str, str], list[int]] = {}
    for each in assessment.findings:
        if each.verdict is not Verdict.OK:
            found.setdefault((each.id, each.subject), []).append(WEIGHTS.index(each.verdict))
    return {about: sorted(weights) for about, weights in found.items()}


def silent(home: Home, some: Collection[str], depth: Any = "quick", known: Facts | None = None) -> set[tuple[str, str]]:
    """The findings, by check and subject, of the home without the device that are missing, or weigh less, while it is out of use.

    `known`: facts of the home, so that only what the device moves is worked out again.
    """
    known = known or Facts(home, TODAY)
    out, removed = (
        _weights(assess(_moved(known, _with(home, some, state)), depth))
        for state in (DeviceState.OUT_OF_USE, DeviceState.REMOVED)
    )
    return {about for about, weights in removed.items() if not _as_heavy(out.get(about, []), weights)}


def _moved(known: Facts, home: Home) -> Facts:
    facts = known.fork()
    facts.move(home, TODAY)
    return facts


def _as_heavy(some: list[int], others: list[int]) -> bool:
    return len(some) >= len(others) and all(one <= other for one, other in zip(some, others, strict=False))


def _under(rules: str) -> Home:
    home = demo_home()
    return home.model_copy(update={"rules": home.rules.model_copy(update={"rule_set": RuleSet(rules)})})


@pytest.mark.parametrize("rules", ["us", "europe", "britain"])
def test_out_of_use_says_all_that_taken_out_says(rules: str) -> None:
    """Each device of the demo home by the quick checks; under other rules than its own what warns of fire and gas."""
    home, own = _under(rules), demo_home().rules.rule_set.value == rules
    tried = [device.id for device in home.whole_devices if own or device.kind in HAZARD_KINDS]
    known = Facts(home, TODAY)
    assert assess(known).findings
    found = {(device, check) for device in tried for check, _ in silent(home, {device}, known=known)}
    assert {each for each in found if each[1] not in MAY_BE_SILENT} == set()


@pytest.mark.parametrize("device", ["front_door_contact", "studio_keypad"])
def test_out_of_use_says_all_that_taken_out_says__in_full(device: str) -> None:
    """The full checks too, which follow walks and views."""
    assert silent(demo_home(), {device}, "full") == set()


@pytest.mark.parametrize("seed", range(6))
def test_several_out_of_use_at_once(seed: int) -> None:
    """Nothing replaces another that is out of use as well: two, five, ten, thirty devices of the demo home."""
    home, draw = demo_home(), random.Random(seed)
    some = set(draw.sample([device.id for device in home.devices], (2, 5, 10, 10, 30, 30)[seed]))
    assert {check for check, _ in silent(home, some)} - set(MAY_BE_SILENT) == set()


def test_the_exceptions_are_ones() -> None:
    """Each named exception is one in the demo home, else it would hide something."""
    home = _under("europe")
    assert {check for check, _ in silent(home, {"hall_alarm"})} == set(MAY_BE_SILENT)


def test_the_measure_hears_what_is_lost() -> None:
    """The measure itself: fewer findings, or lighter ones, of the same subject are silence."""
    must, should = (WEIGHTS.index(verdict) for verdict in (Verdict.MUST, Verdict.SHOULD))
    assert _as_heavy([must, should], [should])
    assert _as_heavy([must], [should])
    assert not _as_heavy([should], [must])
    assert not _as_heavy([should], [should, should])


# The front door of the demo home: what stayed silent.
FRONT_DOOR = (
    ("site.way_in_without_detector", "front_door"),
    ("zones.entry_exit_door_without_contact", "front_door"),
    ("zones.zone_without_device", "front_door"),
    ("coverage.way_in_by_motion_alone", "front_door"),
)


@pytest.mark.parametrize(("check", "subject"), FRONT_DOOR)
def test_the_front_door_whose_contact_is_out_of_use(check: str, subject: str) -> None:
    """Each speaks of the door with its contact out of use, and names what is out of use where it speaks of devices."""
    assert subject not in {each.subject for each in _said(check, demo_home())}
    found = [
        each
        for each in _said(check, _with(demo_home(), {"front_door_contact"}, DeviceState.OUT_OF_USE))
        if each.subject == subject
    ]
    assert len(found) == 1
    assert ("“Front door contact”" in found[0].message) is (not check.startswith("coverage."))


def _said(check: str, home: Home) -> list[Finding]:
    result = BY_ID[check].result(home, TODAY)
    return [each for each in result if isinstance(each, Finding) and each.verdict is not Verdict.OK]


def _thing(name: str, kind: str, room: str, **more: Any) -> dict[str, Any]:
    return {"id": name, "name": name, "kind": kind, "room": room, "tamper": "yes"} | more


_SHOCK = _thing("shock", "shock", "kitchen", zone="kitchen_window", openings=["kitchen_window"])
_COLD = _thing("cold", "low_temperature", "kitchen", zone="cold")
_WET = _thing("wet", "water", "kitchen", zone="wet")
_FOB = _thing("fob", "fob", "")
_OWN = _thing("own", "smoke", "bedroom", link="own")
_OWN_CO = _thing("own", "carbon_monoxide", "landing", link="own")
_HEAT = _thing("heat", "heat", "bedroom", zone="fire")
_COLD_ZONE = {"id": "cold", "label": "cold", "function": "low_temperature"}
_WET_ZONE = {"id": "wet", "label": "wet", "function": "water"}
_NEAR = _thing("near", "motion", "bedroom", zone="living_motion")
_APART = {"control_unit.zones.living_motion.confirmed_by": "hall_motion", "devices.hall_motion.room": "bedroom"}
_NO_SMOKE, _SURVEYED = {"site.rooms.bedroom.smoke_alarm": "no"}, {"site.rooms.bedroom.smoke_alarm": "yes"}
_LONG_KITCHEN = {"site.rooms.kitchen.outline": [[0, 0], [18, 0], [18, 4], [0, 4]]}
_LISTED = {"hazard": {"listed_spacing_m": 9.0, "sounds_with_others": "yes"}}
_LEFT, _RIGHT = (_thing(name, "heat", "kitchen", at=[x, 2], **_LISTED) for name, x in (("left", 4.5), ("right", 13.5)))
_HEATS = [_LONG_KITCHEN, {"devices.+": _LEFT}, {"devices.+": _RIGHT}]
_BRITAIN = {"rules.rule_set": "britain"}
_OPEN_TO_STAIRS = {"site.passages.hall_kitchen.kind": "doorway", "site.passages.hall_landing.kind": "stairs"}
_HIGH = {"site.openings.kitchen_window.reach": "not", "site.openings.kitchen_window.sill_m": 1.0}
_WATCHED = {"devices.living_motion.room": "kitchen", "devices.kitchen_window_contact.openings": []}
# (check, edits after which it is silent, what is put out of use, what it then speaks of)
CASES: list[tuple[str, list[dict[str, Any]], tuple[str, ...], str]] = [
    ("zones.zone_without_device", [], ("living_motion",), "living_motion"),
    ("zones.entry_exit_door_without_contact", [], ("front_door_contact",), "front_door"),
    ("site.way_in_without_detector", [], ("kitchen_window_contact",), "kitchen_window"),
    ("site.unit_outside_the_guarded_area", [], ("living_motion", "living_window_contact"), "unit"),
    ("site.shock_without_contact", [{"devices.+": _SHOCK}], ("kitchen_window_contact",), "shock"),
    ("hazards.frost", [{"site.rooms.kitchen.may_freeze": "yes"}, {"devices.+": _COLD}], ("cold",), "kitchen"),
    ("hazards.leaks", [{"site.rooms.kitchen.water_sources": ["sump"]}, {"devices.+": _WET}], ("wet",), "kitchen"),
    ("messages.only_the_siren", [], ("siren",), "devices"),
    ("people.door_without_a_way_to_unset", [], ("keypad",), "front_door"),
    ("people.person_cannot_unset", [{"devices.+": _FOB}, {"household.people.one.fob": "fob"}], ("fob",), "one"),
    ("control.partners_apart", [{"devices.+": _NEAR}, _APART], ("near",), "living_motion"),
    ("household_alarms.in_every_bedroom", [_NO_SMOKE, {"devices.+": _OWN}], ("own",), "bedroom"),
    ("household_alarms.in_every_bedroom", [_SURVEYED, {"devices.+": _OWN}], ("own",), "bedroom"),
    ("carbon_monoxide.on_every_level", [{"site.fuel_appliances": "yes"}, {"devices.+": _OWN_CO}], ("own",), "upstairs"),
    ("alarm_places.heat_in_place_of_smoke", [_NO_SMOKE, {"devices.+": _HEAT}, {"devices.smoke.room": "bedroom"}], ("smoke",), "heat"),
    ("alarm_places.heat_detector_spacing", _HEATS, ("right",), "left"),
    ("british_alarms.within_reach_in_the_room", [_BRITAIN, *_HEATS], ("right",), "left"),
    ("british_alarms.kitchen_open_to_the_stairs", [_BRITAIN, _OPEN_TO_STAIRS, {"devices.+": _LEFT}], ("left",), "kitchen"),
    ("choice.left_uncovered", [], ("kitchen_window_contact",), "kitchen_window"),
]  # fmt: skip


@pytest.mark.parametrize(("check", "fine", "out", "subject"), CASES, ids=[f"{c[0]}-{n}" for n, c in enumerate(CASES)])
def test_speaks_while_out_of_use(
    house: Home, put: Put, check: str, fine: list[dict[str, Any]], out: tuple[str, ...], subject: str
) -> None:
    """The check is silent of its subject with the device at work, and speaks of it while that is out of use."""
    home = house
    for edits in (*({"control_unit.zones.+": zone} for zone in (_COLD_ZONE, _WET_ZONE)), *fine):
        home = put(home, edits)
    assert subject not in {each.subject for each in _said(check, home)}
    idle = put(home, {f"devices.{name}.state": "out_of_use" for name in out})
    assert subject in {each.subject for each in _said(check, idle)}


def test_a_way_called_out_of_reach_weighs_more_while_nothing_watches_its_room(house: Home, put: Put) -> None:
    """A motion detector behind it makes it a note; one that is out of use or taken out leaves it a should."""
    home = put(house, _HIGH | _WATCHED)
    for state, verdict in (("fitted", Verdict.NOTE), ("out_of_use", Verdict.SHOULD), ("removed", Verdict.SHOULD)):
        found = _said("placement.called_out_of_reach", put(home, {"devices.living_motion.state": state}))
        assert [each.verdict for each in found if each.subject == "kitchen_window"] == [verdict]


def test_whose_view_is_not_counted_is_not_told_to_be_moved(drawn: Home, put: Put) -> None:
    """A room whose only eye is out of use relies on none: its share and blind spots are no fault of its place."""
    idle = put(drawn, {"devices.pir.state": "out_of_use", "devices.pir.angle_deg": 20})
    assert _said("coverage.blind_spots", put(idle, {"devices.pir.state": "fitted"}))
    for check in ("coverage.blind_spots", "coverage.room_seen_in_part"):
        assert _said(check, idle) == []


def test_a_contact_of_an_inside_door_out_of_use_notices_nobody(drawn: Home, put: Put) -> None:
    """Who comes in by the front door passes that inside door on the way to the control unit."""
    unit, inner = (
        _thing("unit", "control_unit", "den", at=[28, 5]),
        _thing("inner", "contact", "", passages=["den_door"]),
    )
    home = put(put(put(drawn, {"devices.pir": None}), {"devices.+": unit}), {"devices.+": inner})
    assert _said("placement_walks.unit_reached_unseen", home) == []
    assert _said("placement_walks.unit_reached_unseen", put(home, {"devices.inner.state": "out_of_use"}))


@pytest.mark.parametrize(("state", "subjects"), [("fitted", ["shock"]), ("out_of_use", ["shock"]), ("removed", [])])
def test_a_device_taken_out_does_not_suit_worse(house: Home, put: Put, state: str, subjects: list[str]) -> None:
    """Of one that is out of use it is still said that its kind does not fit there: it is to be put back."""
    home = put(put(house, {"devices.+": _SHOCK | {"state": state}}), {"site.openings.kitchen_window.kind": "letterbox"})
    assert [each.subject for each in _said("choice.kind_does_not_fit", home) if each.subject == "shock"] == subjects
