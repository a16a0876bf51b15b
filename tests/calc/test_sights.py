"""Where motion detectors may and must see somebody, and which contacts are on inside doors."""

from dataclasses import replace

import pytest

from alarmlib.calc.cells.sights import door_contacts, joined, sights_from_home
from alarmlib.calc.coverage.areas import joined_area
from alarmlib.model.devices import DeviceState
from alarmlib.record.produce import demo_home


@pytest.fixture(scope="module")
def home():
    return demo_home()


def with_device(home, name, **facts):
    devices = tuple(d.model_copy(update=facts) if d.id == name else d for d in home.devices)
    return home.model_copy(update={"devices": devices})


def sight(home, name):
    return next((sight for sight in sights_from_home(home) if sight.device == name), None)


def test_a_detector_may_see_into_its_room_and_all_that_opens_to_it(home):
    """By hand: living, dining and kitchen of the demo home are open to one another; the hall is behind doors."""
    assert sight(home, "living_motion").rooms == {"living", "dining", "kitchen"}
    assert sight(home, "kitchen_motion").rooms == {"living", "dining", "kitchen"}
    assert sight(home, "hall_motion").rooms == {"hall"}


def test_what_sleeps_after_a_trip_is_never_sure_without_a_walk_test(home):
    """By the demo home's manuals, the wireless motion detectors sleep after a trip; the wired ones do not."""
    resting = {d.id for d in home.whole_devices if d.sleep_s}
    sure = {sight.device for sight in sights_from_home(home) if sight.sure}
    assert sure == {"hall_motion", "living_motion", "cellar_motion"}
    assert not sure & resting


def test_without_facts_a_detector_may_see_whole_rooms_and_is_never_sure(home):
    bare = with_device(home, "hall_motion", type="", kind="motion", range_m=None)
    assert sight(bare, "hall_motion").possible == ()
    assert sight(bare, "hall_motion").sure == ()
    assert sight(bare, "hall_motion").rooms == {"hall"}


def test_sure_lies_within_possible_and_both_behind_closed_doors(home):
    for each in sights_from_home(home):
        sure, possible = joined_area(each.sure), joined_area(each.possible)
        assert sure.difference(possible).area < 1e-6
    living = joined_area(sight(home, "living_motion").possible)
    hall = next(room for room in home.site.rooms if room.id == "hall")
    assert living.intersection(joined_area([hall.outline])).area == pytest.approx(0, abs=1e-5)


def test_what_the_owners_walk_test_showed_is_sure_in_the_whole_room(home):
    proof = home.proof.model_copy(update={"sure_detectors": ("garage_motion",)})
    trusted = home.model_copy(update={"proof": proof})
    garage = next(room for room in home.site.rooms if room.id == "garage")
    assert sight(trusted, "garage_motion").sure == (garage.outline,)
    assert garage.outline in sight(trusted, "garage_motion").possible
    assert sight(trusted, "garage_motion").storey == "ground"
    assert sight(trusted, "utility_motion").sure == ()


@pytest.mark.parametrize("state", [DeviceState.OUT_OF_USE, DeviceState.REMOVED])
def test_what_is_not_at_work_sees_nothing(home, state):
    assert sight(with_device(home, "hall_motion", state=state), "hall_motion") is None
    assert door_contacts(with_device(home, "pass_door_contact", state=state)) == {}


def test_a_planned_detector_counts(home):
    assert sight(with_device(home, "hall_motion", state=DeviceState.PLANNED), "hall_motion") is not None


def test_contacts_on_inside_doors(home):
    assert door_contacts(home) == {"pass_door": {"pass_door_contact"}}


def test_two_contacts_on_one_door_are_both_named(home):
    both = with_device(home, "back_door_contact", passages=("pass_door", "hall_living"))
    assert door_contacts(both) == {
        "pass_door": {"pass_door_contact", "back_door_contact"},
        "hall_living": {"back_door_contact"},
    }


def test_rooms_are_joined_over_any_number_of_ways():
    ways = [("a", "b"), ("c", "b"), ("d", "e")]
    assert joined({"a"}, ways) == {"a", "b", "c"}
    assert joined({"e", "f"}, ways) == {"d", "e", "f"}


def test_a_sight_is_a_plain_value(home):
    one = sights_from_home(home)[0]
    assert replace(one) == one
    assert hash(one) == hash(replace(one))
