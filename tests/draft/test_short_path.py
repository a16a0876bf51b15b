"""The short path: at most 25 answers, a whole draft, every assumption named, every wrong answer one sentence."""

from typing import Any

import pytest

from alarmlib.calc.time_limits import ENTRY
from alarmlib.draft.short_path import draft_home
from alarmlib.errors import FieldProblem
from alarmlib.model import Home
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import PassageKind
from alarmlib.model.words import DETECTORS, DeviceKind, Function, RuleSet


def functions(home: Home) -> dict[str, Function]:
    """What each device does, by the name of its device."""
    by_zone = {zone.id: zone.function for zone in home.unit.zones}
    return {device.id: by_zone[device.zone] for device in home.devices if device.zone}


def test_questions__at_most_25() -> None:
    """Every field of the short path is one question."""
    assert len(ShortPath.model_fields) <= 25


def test_draft__every_detector_has_a_zone(told: Any) -> None:
    """Zones, functions and the night set follow from the rooms and doors."""
    home = draft_home(told()).home
    assert all(device.zone for device in home.devices if device.kind in DETECTORS)
    given = functions(home)
    assert given["contact_front_door"] is Function.FINAL_DOOR
    assert given["contact_back_door"] is Function.PERIMETER
    assert given["contact_bay_window"] is Function.PERIMETER
    assert given["motion_hall"] is Function.ENTRY_ROUTE
    assert given["motion_kitchen"] is Function.INTERIOR
    assert "motion_bedroom" not in given


def test_draft__every_zone_has_a_reason(told: Any) -> None:
    """No row without a why."""
    assert all(zone.reason.endswith(".") for zone in draft_home(told()).home.unit.zones)


def test_draft__night_set_leaves_out_where_people_walk(told: Any) -> None:
    """Upstairs sleeps: the landing is left out at night, the ground floor listens."""
    home = draft_home(told()).home
    zone_of = {device.id: device.zone for device in home.devices}
    (night,) = home.unit.part_sets
    assert zone_of["motion_landing"] in night.left_out
    assert zone_of["motion_kitchen"] not in night.left_out
    assert not draft_home(told(night_set=False)).home.unit.part_sets


def test_draft__stairs_join_storeys(told: Any) -> None:
    """A way between storeys is a stair."""
    kinds = {(p.first, p.second): p.kind for p in draft_home(told()).home.site.passages}
    assert kinds["hall", "landing"] is PassageKind.STAIRS
    assert kinds["hall", "kitchen"] is PassageKind.DOOR


def test_draft__home_by_two_doors(told: Any) -> None:
    """Each door named becomes a final door with delays of its own."""
    home = draft_home(told(home_by="front door, Back door")).home
    assert {door.opening for door in home.unit.times.doors} == {"front_door", "back_door"}
    assert functions(home)["contact_back_door"] is Function.FINAL_DOOR


def test_draft__slower_people_get_no_shorter_delay(told: Any) -> None:
    """Briskly, ordinary, slowly, very slowly: the entry delay never falls."""
    paces = ("brisk", "ordinary", "slow", "very_slow")
    homes = [draft_home(told(pace=pace, keypad_room="Landing")).home for pace in paces]
    delays = [home.unit.times.entry_s or 0 for home in homes]
    assert delays == sorted(delays)
    assert delays[0] < delays[-1]


def test_draft__one_stopped_walk_counts_half_as_much_again(told: Any) -> None:
    """A walk of 40 s asks for 60 s; common practice, no source."""
    assert draft_home(told(walk_s=40.0)).home.unit.times.entry_s == 60


def test_draft__delays_within_the_rule_set(told: Any) -> None:
    """In Europe no entry delay is proposed above the 45 s within which unsetting must be done (TS 50131-7, seen)."""
    home = told(walk_s=40.0)
    europe = home.model_copy(update={"rules": home.rules.model_copy(update={"rule_set": RuleSet.EUROPE})})
    most = ENTRY[Home.model_validate(europe.model_dump()).rules.rule_set].most
    assert most is not None
    assert draft_home(Home.model_validate(europe.model_dump())).home.unit.times.entry_s == most.value_s == 45


def test_draft__pets_are_named_in_the_reason(told: Any) -> None:
    """A pet that is free while nobody is in makes motion detectors doubtful."""
    zones = draft_home(told(pets="climb")).home.unit.zones
    assert any("pet" in zone.reason for zone in zones)
    assert not any("pet" in zone.reason for zone in draft_home(told()).home.unit.zones)


def test_draft__least_answers() -> None:
    """One room and one door are enough; all else is a named assumption."""
    draft = draft_home(Home(short_path=ShortPath(rooms="Room", outside_doors="Door: Room")))
    assert any(device.kind is DeviceKind.CONTACT for device in draft.home.devices)
    assert len(draft.assumptions) >= 6


def test_draft__fewer_assumptions_with_more_answers(told: Any) -> None:
    """Answering removes the assumption."""
    more = told(unit_room="Kitchen", zones=16, tells_apart="devices", walk_s=12.0, smoke_alarms="yes", fuel="no")
    assert len(draft_home(more).assumptions) < len(draft_home(told()).assumptions)


WRONG = {
    "no room": ({"rooms": " "}, "Rooms"),
    "no door": ({"outside_doors": ""}, "Outside doors"),
    "room twice": ({"rooms": "Hall\nhall", "bedrooms": ""}, "Rooms"),
    "room twice on two storeys": ({"rooms": "Hall\nHall, upstairs", "bedrooms": ""}, "Rooms"),
    "door into no room": ({"outside_doors": "Front door: Attic"}, "Attic"),
    "window without a room": ({"windows": "Bay window"}, "Bay window"),
    "home by no door": ({"home_by": "Side door"}, "Side door"),
    "sleeps nowhere": ({"bedrooms": "Attic"}, "Attic"),
    "keypad nowhere": ({"keypad_room": "Attic"}, "Attic"),
    "unit nowhere": ({"unit_room": "Attic"}, "Attic"),
    "inner door to nowhere": ({"inner_doors": "Hall: Attic"}, "Attic"),
}


@pytest.mark.parametrize("case", WRONG)
def test_wrong_answer__one_sentence(case: str, told: Any) -> None:
    """Which answer, what stands there, what may stand there."""
    answers, word = WRONG[case]
    with pytest.raises(FieldProblem) as problem:
        draft_home(told(**answers))
    assert word in str(problem.value)
    assert "\n" not in str(problem.value)
