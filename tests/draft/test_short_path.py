"""The short path: at most 25 answers, a whole draft, every assumption named, every wrong answer one sentence."""

import re
from typing import Any

import pytest

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Finding
from alarmlib.draft.short_path import draft_home, wrong_answers
from alarmlib.errors import FieldProblem
from alarmlib.model import Home
from alarmlib.model.short_path import ShortPath
from alarmlib.model.site import Opening, PassageKind, Reach, Yes
from alarmlib.model.words import DETECTORS, DeviceKind, Function, RuleSet
from alarmlib.rules import rules_of


def functions(home: Home) -> dict[str, Function]:
    """What each device does, by the name of its device."""
    by_zone = {zone.id: zone.function for zone in home.control_unit.zones}
    return {device.id: by_zone[device.zone] for device in home.whole_devices if device.zone}


def test_draft__every_detector_has_a_zone(told: Any) -> None:
    """Zones, functions and the night set follow from the rooms and doors."""
    home = draft_home(told()).home
    assert all(device.zone for device in home.whole_devices if device.kind in DETECTORS)
    given = functions(home)
    assert given["contact_front_door"] is Function.ENTRY_EXIT
    assert given["contact_back_door"] is Function.AT_ONCE
    assert given["contact_bay_window"] is Function.AT_ONCE
    assert given["motion_hall"] is Function.ENTRY_ROUTE
    assert given["motion_kitchen"] is Function.AT_ONCE
    assert "motion_bedroom" not in given


def test_draft__every_zone_has_a_reason(told: Any) -> None:
    """No row without a why."""
    assert all(zone.reason.endswith(".") for zone in draft_home(told()).home.control_unit.zones)


def test_draft__night_set_leaves_out_where_people_walk(told: Any) -> None:
    """Upstairs sleeps: the landing is left out at night, the ground floor listens."""
    home = draft_home(told()).home
    zone_of = {device.id: device.zone for device in home.whole_devices}
    (night,) = home.control_unit.part_sets
    assert zone_of["motion_landing"] in night.left_out
    assert zone_of["motion_hall"] in night.left_out  # the keypad is there: whoever gets up walks through it
    assert zone_of["motion_kitchen"] not in night.left_out
    assert not any(door.delayed for door in night.doors)
    assert not draft_home(told(night_set=False)).home.control_unit.part_sets


def test_draft__stairs_join_storeys(told: Any) -> None:
    """A way between storeys is a stair."""
    kinds = {(p.first, p.second): p.kind for p in draft_home(told()).home.site.passages}
    assert kinds["hall", "landing"] is PassageKind.STAIRS
    assert kinds["hall", "kitchen"] is PassageKind.DOOR


def test_draft__home_by_two_doors(told: Any) -> None:
    """Each door named becomes an entry/exit door with delays of its own."""
    home = draft_home(told(home_by="front door, Back door")).home
    assert {door.opening for door in home.control_unit.times.doors} == {"front_door", "back_door"}
    assert functions(home)["contact_back_door"] is Function.ENTRY_EXIT


def test_draft__slower_people_get_no_shorter_delay(told: Any) -> None:
    """Briskly, ordinary, slowly, very slowly: the entry delay never falls."""
    paces = ("brisk", "ordinary", "slow", "very_slow")
    homes = [draft_home(told(pace=pace, keypad_room="Landing")).home for pace in paces]
    delays = [home.control_unit.times.entry_s or 0 for home in homes]
    assert delays == sorted(delays)
    assert delays[0] < delays[-1]


def test_draft__one_stopped_walk_counts_half_as_much_again(told: Any) -> None:
    """A walk of 40 s asks for 60 s; common practice, no source."""
    assert draft_home(told(walk_s=40.0)).home.control_unit.times.entry_s == 60


def test_draft__delays_within_the_rules(told: Any) -> None:
    """In Europe no entry delay is proposed above the 45 s within which unsetting must be done (TS 50131-7, seen)."""
    home = told(walk_s=40.0)
    europe = home.model_copy(update={"rules": home.rules.model_copy(update={"rule_set": RuleSet.EUROPE})})
    most = rules_of(Home.model_validate(europe.model_dump())).entry.most
    assert most is not None
    assert draft_home(Home.model_validate(europe.model_dump())).home.control_unit.times.entry_s == most.value_s == 45


def test_draft__pets_are_named_in_the_reason(told: Any) -> None:
    """A pet that is free while nobody is in makes motion detectors doubtful."""
    zones = draft_home(told(pets="climb")).home.control_unit.zones
    assert any("pet" in zone.reason for zone in zones)
    assert not any("pet" in zone.reason for zone in draft_home(told()).home.control_unit.zones)


def test_draft__least_answers() -> None:
    """One room and one door are enough; all else is a named assumption."""
    draft = draft_home(Home(short_path=ShortPath(rooms="Room", outside_doors="Door: Room")))
    assert any(device.kind is DeviceKind.CONTACT for device in draft.home.whole_devices)
    assert len(draft.assumptions) >= 6


def test_draft__fewer_assumptions_with_more_answers(told: Any) -> None:
    """Answering removes the assumption."""
    more = told(unit_room="Kitchen", zones=16, recognises="devices", walk_s=12.0, smoke_alarms="yes", fuel="no")
    assert len(draft_home(more).assumptions) < len(draft_home(told()).assumptions)


NEEDED = {
    "no room": ({"rooms": " "}, "Rooms"),
    "no door": ({"outside_doors": ""}, "Outside doors"),
    "the only door into no room": ({"outside_doors": "Front door: Attic"}, "Attic"),
}


@pytest.mark.parametrize("case", NEEDED)
def test_without_rooms_or_doors_there_is_no_draft(case: str, told: Any) -> None:
    """Which answer, what is in it, what may be in it."""
    answers, word = NEEDED[case]
    with pytest.raises(FieldProblem) as problem:
        draft_home(told(**answers))
    assert word in str(problem.value)
    assert "\n" not in str(problem.value)


WRONG = {
    "room twice": ("rooms", "Hall\nKitchen\nLiving room\nhall", "hall"),
    "one door of two into no room": ("outside_doors", "Front door: Hall\nSide door: Attic", "Attic"),
    "window without a room": ("windows", "Bay window\nKitchen window: Kitchen", "Bay window"),
    "window reached in no way known": ("windows", "Kitchen window: Kitchen, by magic", "by magic"),
    "home by no door": ("home_by", "Side door", "Side door"),
    "sleeps nowhere": ("bedrooms", "Attic", "Attic"),
    "keypad nowhere": ("keypad_room", "Attic", "Attic"),
    "unit nowhere": ("unit_room", "Attic", "Attic"),
    "inner door to nowhere": ("inner_doors", "Hall: Attic, Kitchen", "Attic"),
}


@pytest.mark.parametrize("case", WRONG)
def test_wrong_answer__one_sentence_and_the_rest_of_the_draft(case: str, told: Any) -> None:
    """It silenced the whole draft before; now its one sentence is kept for its field and the draft is made."""
    field, text, word = WRONG[case]
    home = told(**{field: text})
    draft = draft_home(home)
    own = [wrong for wrong in draft.wrong if wrong.field == field]
    assert len(own) == 1
    assert word in str(own[0].problem)
    assert "\n" not in str(own[0].problem)
    assert wrong_answers(home) == draft.wrong
    assert draft.home.control_unit.zones
    assert any(device.kind is DeviceKind.CONTACT for device in draft.home.whole_devices)


def test_a_right_home_has_no_wrong_answer(told: Any) -> None:
    """Nor has a blank one."""
    assert draft_home(told()).wrong == wrong_answers(told()) == wrong_answers(Home()) == ()


def test_wrong_line__the_other_lines_are_used(told: Any) -> None:
    """The window that can be read gets its contact, the door that can be read joins its rooms."""
    draft = draft_home(told(windows="Bay window\nKitchen window: Kitchen", inner_doors="Hall: Attic, Kitchen")).home
    assert [o.name for o in draft.site.openings if not o.entry_exit and o.kind.value == "window"] == ["Kitchen window"]
    assert [(p.first, p.second) for p in draft.site.passages] == [("hall", "kitchen")]


def by_name(home: Home, name: str) -> Opening:
    """The way in of that name."""
    return next(opening for opening in home.site.openings if opening.name == name)


def test_upper_window__out_of_reach_and_said(told: Any) -> None:
    """It was called reachable from the ground, and nothing said so."""
    draft = draft_home(told(windows="Kitchen window: Kitchen, Bed window: Bedroom"))
    assert by_name(draft.home, "Kitchen window").reach is Reach.GROUND
    assert by_name(draft.home, "Bed window").reach is Reach.NOT
    assert any("“Bed window”" in line and "ladder" in line for line in draft.assumptions)
    assert not any("“Kitchen window”" in line for line in draft.assumptions)


@pytest.mark.parametrize(
    ("how", "reach"), [("flat roof", Reach.FLAT_ROOF), ("from a balcony", Reach.FLAT_ROOF), ("tree", Reach.CLIMB),
                       ("from the ground", Reach.GROUND), ("ladder", Reach.NOT)]
)  # fmt: skip
def test_upper_window__reached_as_written(how: str, reach: Reach, told: Any) -> None:
    """Where it is assumed otherwise the assumption says so."""
    draft = draft_home(told(windows=f"Bed window: Bedroom, {how}"))
    assert by_name(draft.home, "Bed window").reach is reach
    assert any("“Bed window”" in line and (reach.text in line or "ladder" in line) for line in draft.assumptions)


def test_upper_door__not_known_how_it_is_reached(told: Any) -> None:
    """A door upstairs that nobody comes home by counts as reachable, and the draft says so."""
    draft = draft_home(told(outside_doors="Front door: Hall, Balcony door: Bedroom, Top door: Landing"))
    assert by_name(draft.home, "Balcony door").reach is Reach.FLAT_ROOF
    assert by_name(draft.home, "Top door").reach is Reach.UNKNOWN
    told_of = {word for line in draft.assumptions for word in re.findall("“[^”]*”", line)}
    assert {"“Balcony door”", "“Top door”"} <= told_of


def found(home: Home) -> dict[str, Finding]:
    """What the checks say of a home, by check."""
    return {finding.id: finding for finding in assess(home).findings}


def test_smoke_alarms__yes_puts_them_where_it_says(told: Any) -> None:
    """In each bedroom and on each level; then the draft asks for none and says what it took for granted."""
    draft = draft_home(told(smoke_alarms="yes"))
    assert {r.id for r in draft.home.site.rooms if r.smoke_alarm is Yes.YES} == {"hall", "landing", "bedroom"}
    asked = [name for name, finding in found(draft.home).items() if finding.verdict == "should"]
    assert not any(name.startswith("household_alarms") for name in asked)
    assert any("smoke alarms are assumed to be" in line for line in draft.assumptions)


def test_smoke_alarms__no_is_a_gap_until_one_is_known(told: Any) -> None:
    """The answer nobody read: a no comes first of all smoke findings, and goes when an alarm is entered."""
    draft = draft_home(told(smoke_alarms="no")).home
    assert "short_path.smoke_alarms_missing" in found(draft)
    assert "short_path.smoke_alarms_missing" not in found(draft_home(told()).home)
    rooms = (draft.site.rooms[0].model_copy(update={"smoke_alarm": Yes.YES}), *draft.site.rooms[1:])
    surveyed = draft.model_copy(update={"site": draft.site.model_copy(update={"rooms": rooms})})
    assert "short_path.smoke_alarms_missing" not in found(surveyed)


def test_answers_siren__decides_who_is_told(told: Any) -> None:
    """Yes: told by the siren, to be asked first. No: a message is needed. Not known: an assumption says so."""
    yes, no, unknown = (draft_home(told(answers_siren=answer)) for answer in ("yes", "no", "unknown"))
    assert [m.event.value for m in yes.home.messages.messages] == ["burglary"]
    assert "messages.nobody_is_told" not in found(yes.home)
    assert "messages.not_agreed" in found(yes.home)
    assert "short_path.siren_unanswered" in found(no.home)
    assert not no.home.messages.messages
    assert "short_path.siren_unanswered" not in found(unknown.home)
    assert any("answer a siren" in line for line in unknown.assumptions)


def test_fuel__a_room_called_after_it_burns_unless_the_answer_is_no(told: Any) -> None:
    """A boiler room has a boiler; a garage with a door into the house is joined to it."""
    rooms = "Hall\nBoiler room\nGarage\nBedroom"
    asked = {"rooms": rooms, "inner_doors": "Hall: Boiler room, Garage, Bedroom", "outside_doors": "Front door: Hall",
             "windows": ""}  # fmt: skip
    unknown, no = draft_home(told(**asked)).home, draft_home(told(**asked, fuel="no")).home
    assert "carbon_monoxide.alarm_at_all" in found(unknown)
    assert unknown.site.attached_garage is Yes.YES
    assert not any(room.fuel_appliance for room in no.site.rooms)


def test_control_unit__not_where_people_come_in(told: Any) -> None:
    """Where the owner says nothing it is put away from the doors home; the tool's own check asks for that."""
    draft = draft_home(told()).home
    assert "site.unit_at_the_entry" not in found(draft)
    assert next(d for d in draft.devices if d.id == "control_unit").room == "landing"
