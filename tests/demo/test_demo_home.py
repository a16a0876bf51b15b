"""The demo home as first planned is what its builder writes, and is as large and as varied as promised."""

from pathlib import Path

import pytest

from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.calc.plan.plan_problems import plan_problems
from alarmlib.model.home import Home
from alarmlib.model.household import AgeBand
from alarmlib.model.log import Seen
from alarmlib.model.site import Yes
from alarmlib.model.words import DeviceKind, EventKind, Link
from alarmlib.record.produce import DEMO, FINISHED, demo_home
from alarmlib.store.secrets import warnings

FILE = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture(scope="module")
def home() -> Home:
    return Home.model_validate_json(FILE.read_text(encoding="utf-8"), strict=True)


@pytest.mark.parametrize("name", [DEMO, FINISHED])
def test_file_is_what_the_builder_writes(name: str) -> None:
    from build_demo_home import demo_bytes

    assert FILE.with_name(name).read_bytes() == demo_bytes(name)


def test_size(home: Home) -> None:
    """Two storeys, a cellar, a studio as its own area, 14 rooms, 20 openings, 30 devices of both kinds."""
    assert {storey.level for storey in home.site.storeys} == {-1, 0, 1}
    assert len(home.site.rooms) >= 14
    assert len(home.site.openings) >= 20
    assert len(home.whole_devices) >= 30
    links = [device.link for device in home.whole_devices]
    assert min(links.count(Link.WIRED), links.count(Link.WIRELESS)) >= 15
    assert {area.id for area in home.control_unit.areas} == {"house", "studio"}


def test_devices_alike_are_of_one_type(home: Home) -> None:
    """One type for each kind and connection: every kind but cameras is fitted, seven of them in two ways."""
    kinds = [(each.kind, each.link) for each in home.device_types]
    assert len(kinds) == len(set(kinds)) == 26
    assert all(device.type for device in home.devices)


def test_zones_begin_in_the_studio_and_end_at_the_street(home: Home) -> None:
    """A scenario of our own: its first zone is of frost, the house's front door is among the last."""
    zones = [zone.id for zone in home.control_unit.zones]
    assert all(zone.areas == ("studio",) for zone in home.control_unit.zones[:6])
    assert zones[0] == "studio_frost" and zones.index("front_door") > 30


def test_studio_at_the_end_of_the_garden(home: Home) -> None:
    """Apart from the house, on a buried cable, at weak signals through a repeater, with frost, in its own area."""
    studio = next(room for room in home.site.rooms if room.id == "studio")
    house = [point for room in home.site.rooms if room.id != "studio" for point in room.outline]
    assert min(x for x, _ in studio.outline) > max(x for x, _ in house) + 5
    assert studio.area == "studio" and studio.may_freeze is Yes.YES
    buried = [circuit for circuit in home.circuits if "buried" in circuit.cable]
    assert [device.room for circuit in buried for device in home.devices if device.circuit == circuit.id] == ["studio"]
    free = [device.wireless for device in home.devices if device.room == "studio" and device.wireless]
    assert len(free) == 6 and all(each.repeater == "repeater" and (each.signal or 0) < 55 for each in free)


def test_every_kind_but_cameras_is_fitted(home: Home) -> None:
    assert {device.kind for device in home.whole_devices} == set(DeviceKind) - {DeviceKind.CAMERA}
    keypads = {d.link for d in home.whole_devices if d.kind is DeviceKind.KEYPAD}
    assert keypads == {Link.WIRED, Link.WIRELESS}


def test_plan_fits_together(home: Home) -> None:
    """No overlap, every opening on a wall, every passage at both its rooms."""
    assert plan_problems(plan_from_home(home)) == ()


def test_every_room_can_be_reached(home: Home) -> None:
    reached = {"hall"}
    for _ in home.site.rooms:
        for passage in home.site.passages:
            if reached & {passage.first, passage.second}:
                reached |= {passage.first, passage.second}
    assert reached == {room.id for room in home.site.rooms}


def test_no_time_is_a_customary_one(home: Home) -> None:
    """None of the times entered is 30, 45 or 240 s, in any season, and European entry stays within 45 s."""
    unit = home.control_unit
    doors = [*unit.times.doors, *(door for season in unit.seasons for door in season.doors)]
    entry = [unit.times.entry_s, *(season.entry_s for season in unit.seasons), *(door.entry_s for door in doors)]
    exits = [unit.times.exit_s, *(season.exit_s for season in unit.seasons), *(door.exit_s for door in doors)]
    times = [*entry, *exits, unit.times.siren_s, unit.times.abort_s]
    assert not {30.0, 45.0, 240.0} & set(times)
    assert all(time_s is not None and time_s <= 45 for time_s in entry)


def test_wireless_places_and_unit_places_are_used_once(home: Home) -> None:
    slots = [device.wireless.slot for device in home.whole_devices if device.wireless]
    places = [zone.place for zone in home.control_unit.zones]
    assert len(slots) == len(set(slots)) and len(places) == len(set(places)) and all(places)
    assert not any(character.isdigit() for place in places for character in place)


def test_unit_holds_what_is_asked_of_it(home: Home) -> None:
    limits, unit = home.control_unit.limits, home.control_unit
    wireless = [device for device in home.whole_devices if device.wireless]
    assert limits.zones and limits.circuits and limits.wireless_slots and limits.label_length and limits.part_sets
    assert len(unit.zones) <= limits.zones and len(home.circuits) <= limits.circuits
    assert len(wireless) <= limits.wireless_slots and len(unit.part_sets) <= limits.part_sets
    assert max(len(zone.label) for zone in unit.zones) <= limits.label_length


def test_behaviour_and_limits_are_all_answered(home: Home) -> None:
    answered = {**dict(home.control_unit.behaviour), **dict(home.control_unit.limits)}
    assert [name for name, value in answered.items() if value is None] == []


def test_people_dog_and_visitors(home: Home) -> None:
    household = home.household
    assert len(household.people) == 4 and len(household.pets) == 1
    assert any(p.slow for p in household.people) and any(p.carries for p in household.people)
    assert any(p.age is AgeBand.TEENAGER for p in household.people)
    slots = [m.user_slot for m in (*household.people, *household.visitors) if m.user_slot is not None]
    assert len(slots) == len(set(slots)) == 6


def test_habits_asked_for_are_there(home: Home) -> None:
    asked = {
        "shopping", "forgotten", "last_out_one_in_bed", "teenager_at_one", "early_riser", "cleaner_comes", "dog_out",
        "window_on_latch", "garage_then_pass_door", "neighbour_looks_in", "gardener_shakes_gate",
        "child_runs_through", "fob_lost", "hold_up_in_pocket",
    }  # fmt: skip
    assert asked <= {habit.id for habit in home.household.habits}


def test_every_kind_of_event_has_a_message(home: Home) -> None:
    assert {message.event for message in home.messages.messages} == set(EventKind)
    assert all(message.to and message.paths for message in home.messages.messages)


def test_two_faults_were_found_and_fixed(home: Home) -> None:
    tests = {test.id: test for test in home.log.tests}
    faults = [t for t in tests.values() if t.seen not in {Seen.AS_EXPECTED, Seen.NOT_TESTED}]
    assert len(faults) == 2
    for fault in faults:
        assert fault.cause and fault.action
        assert any(t.retest_of == fault.id and t.seen is Seen.AS_EXPECTED and t.on > fault.on for t in tests.values())


@pytest.mark.parametrize("name", [DEMO, FINISHED])
def test_nothing_reads_like_a_secret(name: str) -> None:
    assert warnings(demo_home(name)) == {}
