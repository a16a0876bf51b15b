"""Which change fixes what, against brute force: every set of at most three changes, each proved on a copy."""

import pytest
from repair_homes import (
    FRONT,
    PANE,
    PANE_CONTACT,
    PANE_ZONE,
    SETTINGS,
    SLOW,
    Made,
    Put,
    agrees,
    breached,
    ids,
    near,
    of,
    proved,
    some,
)

from alarmlib.model import Home
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import EditWay, changed
from alarmlib.proof.repairs.cheapest import seek


def test_bare_window__a_contact(with_siren: Made) -> None:
    """A window without a detector gets a contact with a zone of its own; nothing cheaper fixes it."""
    home = with_siren(edits={"site.openings.+": PANE})
    settings = ("function/living_zone/entry_route", "put_back/night/hall_zone", "entry/unit/25/shorter")
    sought = agrees(home, some(home, EditWay.CONTACT, only=settings))
    repair = of(sought, "noticed_first/house/set_full", "noticed_first/house/night")
    assert ids(repair) == ["contact/pane"]
    assert repair is not None
    assert repair.cost == 15
    assert "Fit a contact on Pane" in repair.sentence
    assert "These prices are assumed: a contact on a way in 15" in repair.sentence


def test_window_missed_in_the_night_set__put_back(with_siren: Made) -> None:
    """A window left out of a part set is put back into it: one setting, no device."""
    home = with_siren(edits={
        "site.openings.+": PANE, "devices.+": PANE_CONTACT, "control_unit.zones.+": PANE_ZONE,
        "control_unit.part_sets.night.left_out": ["hall_zone", "pane_z"],
    })  # fmt: skip
    sought = agrees(
        home, some(home, EditWay.PUT_BACK, EditWay.CONTACT, EditWay.DOOR, only=("function/pane_z/warn_unset",))
    )
    assert ids(of(sought, "noticed_first/house/night")) == ["put_back/night/pane_z"]


def test_entry_delay_shorter_than_the_walk__the_next_that_is_long_enough(with_siren: Made) -> None:
    """One walk in twenty takes 31.9 s to unset: of 5 s steps from 20 s on, 35 s is the first that will do."""
    home = with_siren(SLOW, entry_s=20)
    sought = agrees(home, near(home, "entry/unit/", "entry/front/", "habit/"))
    assert ids(of(sought, "habit/habit_0")) == ["entry/unit/35/longer"]


def test_people_before_longer_delays__and_the_reason_told(with_siren: Made) -> None:
    """Where a fob helps as well as a longer delay, the fob is found first: the delay helps an intruder too."""
    home = with_siren(SLOW, entry_s=20)
    repair = of(agrees(home, near(home, "entry/unit/", "entry/front/", "fob/", "habit/")), "habit/habit_0")
    assert ids(repair) == ["fob/owner"]
    assert repair is not None
    assert "Reason: the alarm is unset before the door opens, so no delay has to run." in repair.sentence
    longer = next(change for change in candidates(home) if change.id == "entry/unit/35/longer")
    assert "an intruder gets the same time" in longer.because
    assert longer.price > repair.cost


def test_at_once_detector_on_the_way_in__another_function(with_siren: Made) -> None:
    """A detector at once between door and keypad is made to wait for the running delay."""
    home = with_siren(SLOW, entry_s=40, functions={"hall_zone": "at_once"})
    sought = agrees(home, some(home, *SETTINGS, EditWay.FOB))
    assert ids(of(sought, "habit/habit_0")) == ["function/hall_zone/entry_route"]


def test_two_holes__one_dearer_change_for_both(porch: Home, put: Put) -> None:
    """A motion detector dearer than one contact and cheaper than two is taken where it guards two windows."""
    sought = agrees(porch, some(porch, EditWay.CONTACT, EditWay.MOTION))
    repair = of(sought, "noticed_first/house/set_full")
    assert ids(repair) == ["motion/porch"]
    assert repair is not None
    assert repair.cost == 20
    assert "if your walk test shows that each of these sees whoever walks four steps" in repair.sentence
    one = put(porch, {"site.openings.right": None})
    assert ids(of(agrees(one, some(one, EditWay.CONTACT, EditWay.MOTION)), "noticed_first/house/set_full")) == [
        "contact/left"
    ]


TWO = ("owner", "lodger")
ASLEEP = {"site.rooms.living.sleeps_here": True}


def test_only_door_at_once__is_no_fix_without_fobs(with_siren: Made) -> None:
    """At night the room one sleeps in is reached before the siren. The door at once would end that and lock all out.

    So it is taken only together with a fob for each of the two, who then unset before the door opens.
    """
    home = with_siren(edits=ASLEEP, entry_s=40, people=TWO, functions={"living_zone": "entry_route"})
    assert "sounds_first/house/night" in breached(proved(home))
    alone = ("function/door/at_once", "door/night/door")
    assert of(agrees(home, some(home, only=alone)), "sounds_first/house/night") is None
    unjudged = seek(home, proved(home), changes=some(home, only=alone), patience=1000)
    assert of(unjudged, "sounds_first/house/night") is None
    with_fobs = agrees(home, some(home, EditWay.FOB, only=alone))
    assert ids(of(with_fobs, "sounds_first/house/night")) == ["door/night/door", "fob/owner", "fob/lodger"]


def test_another_door_to_come_home_by__the_delay_is_taken_out_of_one(with_siren: Made, put: Put) -> None:
    """With a second entry/exit door that is far from the bedroom, the near one may alarm at once in the night set."""
    back = {**FRONT, "id": "back", "name": "Back", "room": "attic"}
    contact = {"id": "back_c", "name": "Back contact", "kind": "contact", "openings": ["back"], "zone": "back_z"}
    zone = {"id": "back_z", "label": "Back", "function": "entry_exit", "areas": ["house"]}
    pad = {"id": "attic_pad", "name": "Attic keypad", "kind": "keypad", "room": "attic"}
    edits = {
        "site.rooms.hall.sleeps_here": True,
        "site.openings.+": back,
        "devices.+": contact,
        "control_unit.zones.+": zone,
        "control_unit.part_sets.night.left_out": ["hall_zone", "living_zone"],
        "site.passages.ladder.seconds": 90,
    }
    home = put(with_siren(edits=edits, entry_s=30), {"devices.+": pad})
    assert "sounds_first/house/night" in breached(proved(home))
    sought = agrees(home, some(home, only=("function/door/at_once", "door/night/door")))
    assert ids(of(sought, "sounds_first/house/night")) == ["door/night/door"]


@pytest.fixture
def sleepy_porch(porch: Home, put: Put) -> Home:
    """The porch with a wireless detector that is sure there and sleeps for 150 s after a trip."""
    eye = {"id": "eye", "name": "Porch eye", "kind": "motion", "room": "porch", "link": "wireless", "zone": "eye_z",
           "sleep_s": 150}  # fmt: skip
    zone = {"id": "eye_z", "label": "Porch", "function": "at_once", "areas": ["house"]}
    return put(porch, {"devices.+": eye, "control_unit.zones.+": zone, "proof.sure_detectors": ["eye"]})


def test_detector_that_sleeps__a_shorter_sleep_time_or_a_wired_one(sleepy_porch: Home, put: Put) -> None:
    """Setting the alarm leaves it asleep. The longest sleep time that is over in time is taken; else a wired one."""
    ways = (EditWay.REST, EditWay.WIRED, EditWay.CONTACT)
    sought = agrees(sleepy_porch, some(sleepy_porch, *ways))
    (rest,) = ids(of(sought, "noticed_first/house/set_full"))
    assert rest.startswith("rest/eye/")
    dear = put(sleepy_porch, {"proof.prices": [{"kind": "rest", "price": 90}], "prices.contact.price": 60})
    repair = of(agrees(dear, some(dear, *ways)), "noticed_first/house/set_full")
    assert ids(repair) == ["wired/eye"]
    assert repair is not None
    assert "does not sleep after a trip" in repair.sentence
    (device,) = (each for each in repair.home.whole_devices if each.id == "eye")
    assert (device.link.value, device.wireless, device.sleep_s) == ("wired", None, 0)


@pytest.fixture
def corridor(put: Put, porch: Home) -> Home:
    """A hall of 2 m by 14 m, the front door at one end and the keypad 13 m away at the other; 20 s of entry delay."""
    habit = {"id": "back", "name": "Back home", "who": "owner", "starts_at": "front", "begins_in": "set_full",
             "steps": [
        {"id": "a", "deed": "open", "place": "front", "seconds": 3},
        {"id": "b", "deed": "walk_to", "place": "keypad", "seconds": 14},
        {"id": "c", "deed": "unset", "place": "house", "seconds": 3},
    ]}  # fmt: skip
    hall = {"id": "hall", "name": "Hall", "storey": "ground", "outline": [(0, 0), (2, 0), (2, 14), (0, 14)]}
    return put(porch, {
        "site.rooms": [hall],
        "site.openings": [FRONT | {"room": "hall", "at": (1, 0)}], "site.passages": [],
        "devices.keypad.room": "hall", "devices.keypad.at": (1, 13), "control_unit.times.entry_s": 20,
        "household.people": [{"id": "owner", "role": "Owner", "speed_m_s": 1.0}], "household.habits": [habit],
        "proof.tolerance_percent": 0, "rules.rule_set": "australasia",
    })  # fmt: skip


def test_keypad_too_far__moved_by_so_many_metres(corridor: Home) -> None:
    """The walk takes one in twenty 13 m / (1 - 1.645 * 0.1) = 15.6 s, and 6 s at door and keypad: 20 s are too short.

    Moved by 2.1 m (a sixth of the walk) 10.9 m are left: 13.05 s and 6 s end after second 19, and the alarm comes in
    second 20. Moved by twice that, 8.8 m are left: 10.5 s and 6 s end in time.
    """
    assert breached(proved(corridor)) == ["habit/back"]
    longer = ("entry/unit/25/longer", "entry/unit/30/longer")
    sought = agrees(corridor, some(corridor, EditWay.MOVED, EditWay.KEYPAD, only=longer))
    repair = of(sought, "habit/back")
    assert repair is not None
    assert [change.way for change in repair.changes] == [EditWay.MOVED]
    assert "Move Keypad 4.2 m towards Front: to Hall, 8.8 m of walk from that door." in repair.sentence
    (keypad,) = (device for device in repair.home.whole_devices if device.id == "keypad")
    assert keypad.at is not None
    assert keypad.at[1] == pytest.approx(13 - 4.2, abs=0.1)
    (walk,) = (step for step in repair.home.household.habits[0].steps if step.place == "keypad")
    assert walk.seconds is None


def test_a_detector_of_a_fix_is_of_the_homes_own_type__wired_as_the_fix_is(with_siren: Made, put: Put) -> None:
    """A type of the kind that is wireless is not taken: its sleep time and its radio would be others."""
    types = [
        {"id": "radio", "name": "Radio contact", "kind": "contact", "link": "wireless"},
        {"id": "frame", "name": "Frame contact", "kind": "contact", "link": "wired", "contact_gap_mm": 20},
    ]
    bare = with_siren(edits={"site.openings.+": PANE})
    home = put(bare, {"device_types": types})
    (change,) = (each for each in candidates(home) if each.id == "contact/pane")
    assert "Fit a contact of the type “Frame contact” on Pane" in change.sentence
    fixed = changed(home, (change,))
    assert fixed is not None and fixed.whole_devices[-1].contact_gap_mm == 20
    assert all("of the type" not in each.sentence for each in candidates(bare))
