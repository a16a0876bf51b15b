"""The changes that a fix may be made of: each makes a valid home, within what the unit can hold."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.model import Home
from alarmlib.model.household import Deed
from alarmlib.model.words import Function
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import EditWay, RepairChange, changed, fit_together

Put = Callable[..., Home]
Made = Callable[..., Home]
SLOW = {
    "begins_in": "set_full",
    "steps": (("open", "front", 3), ("walk_to", "keypad", 20), ("wrong_code", "keypad", 2), ("unset", "house", 3)),
}
PANE = {"id": "pane", "name": "Pane", "room": "living", "kind": "window"}


@pytest.fixture
def home(two_rooms: Made, put: Put) -> Home:
    """Two rooms, a bare window, and somebody who comes in and mistypes once."""
    return put(two_rooms(SLOW), {"site.openings.+": PANE})


def named(home: Home, name: str) -> RepairChange | None:
    """The change of that id."""
    return next((change for change in candidates(home) if change.id == name), None)


def after(home: Home, name: str) -> Home:
    """The home with that change."""
    change = named(home, name)
    assert change is not None
    made = changed(home, (change,))
    assert made is not None
    return made


def test_demo__each_change_makes_another_valid_home(demo: Home) -> None:
    """One change in nine of the demo home, and the first of each way: a valid home, not the same; ids differ."""
    whole, found = demo.model_dump_json(), candidates(demo)
    assert {change.way for change in found} == set(EditWay)
    assert len({change.id for change in found}) == len(found)
    firsts = {change.way: change for change in reversed(found)}
    for change in (*firsts.values(), *found[::9]):
        made = changed(demo, (change,))
        assert made is not None
        assert made != demo
        assert Home.model_validate_json(made.model_dump_json()) == made
    assert demo.model_dump_json() == whole


def test_new_ids_are_unused(home: Home, put: Put) -> None:
    """Where something is called so already, what is added is numbered."""
    other = put(home, {"site.rooms.attic.id": "pane_contact", "site.passages": []})
    assert "pane_contact_2" in {device.id for device in after(other, "contact/pane").devices}
    assert "pane_contact" in {device.id for device in after(home, "contact/pane").devices}


def test_contact__zone_of_its_own_in_the_area(home: Home) -> None:
    """A new contact is on its opening, with a zone of the room's area."""
    made = after(home, "contact/pane")
    zone = next(zone for zone in made.control_unit.zones if zone.id == "pane_contact")
    assert (zone.function, zone.areas) == (Function.AT_ONCE, ("house",))
    assert made.devices[-1].openings == ("pane",)
    assert named(home, "contact/front") is None


@pytest.mark.parametrize(
    ("limits", "function"),
    [
        ({"functions": ["entry_exit", "warn_unset"]}, Function.WARN_UNSET),
        ({"functions": ["entry_exit"]}, None),
    ],
)
def test_only_functions_that_the_unit_offers(home: Home, put: Put, limits: Any, function: Function | None) -> None:
    """A contact gets the nearest function that is offered, and is no candidate where none is."""
    other = put(home, {f"control_unit.limits.{name}": value for name, value in limits.items()})
    made = named(other, "contact/pane")
    assert (made is None) is (function is None)
    if function is not None:
        assert after(other, "contact/pane").control_unit.zones[-1].function is function


def test_no_zone_too_many(home: Home, put: Put) -> None:
    """A unit whose zones are all taken gets no other."""
    full = put(home, {"control_unit.limits.zones": 3})
    change = named(full, "contact/pane")
    assert change is not None
    assert changed(full, (change,)) is None


def test_delays__only_values_that_the_unit_allows_the_nearest_first(home: Home, put: Put) -> None:
    """Values follow the typed limits and the rules, sorted by how far they are moved; else the steps are of 5 s.

    The American rules allow 30 s at least (`alarmlib.rules.us`), where Australian ones set no limit.
    """
    typed = put(home, {"control_unit.limits.entry": {"low_s": 20, "high_s": 40, "step_s": 10}})
    values = [change.value_s for change in candidates(typed) if change.id.startswith("entry/unit")]
    assert values == [30, 40]
    free = put(typed, {"rules.rule_set": "australasia"})
    assert [c.value_s for c in candidates(free) if c.id.startswith("entry/unit")] == [30, 20, 40]
    assert {change.value_s for change in candidates(home) if change.way is EditWay.ENTRY} == set(range(30, 125, 5))
    assert after(typed, "entry/unit/30/longer").control_unit.times.entry_s == 30


def test_delay_of_a_door__row_added_where_there_is_none(home: Home) -> None:
    """An entry/exit door without times of its own gets a row with that delay alone."""
    (door,) = after(home, "entry/front/35/longer").control_unit.times.doors
    assert (door.opening, door.entry_s, door.exit_s) == ("front", 35, None)


def test_delay__reaches_every_season(demo: Home) -> None:
    """Making a delay longer moves the winter's too where it is shorter, and leaves a longer one alone."""
    made = after(demo, "entry/front_door/45/longer")
    ordinary = [door.entry_s for door in made.control_unit.times.doors if door.opening == "front_door"]
    winter = [
        door.entry_s for season in made.control_unit.seasons for door in season.doors if door.opening == "front_door"
    ]
    assert ordinary == winter == [45]


@pytest.mark.parametrize(("rules", "entry", "exit_"), [
    ("us", (30, 120), (45, 240)), ("europe", (5, 45), (5, 240)), ("britain", (5, 45), (5, 240)),
    ("australasia", (5, 120), (5, 240)),
])  # fmt: skip
def test_delays__never_outside_the_rules(home: Home, put: Put, rules: str, entry: Any, exit_: Any) -> None:
    """What is offered lies within each country's rules: EN 50131-1 8.3.8.2, unset within 45 s; CP-01, 30 s and 45 s."""
    found = candidates(put(home, {"rules.rule_set": rules}))
    for way, ends in ((EditWay.ENTRY, entry), (EditWay.EXIT, exit_)):
        values = [change.value_s for change in found if change.way is way]
        assert (min(values), max(values)) == ends


def test_siren_time__within_the_local_limit(home: Home, put: Put) -> None:
    """No siren time above the local limit is offered, nor below 90 s without one; 10 min is the longest that is tried.

    The home has 90 s itself, so 120 s is the next. EN 50131-1, 90 s to 15 min, from memory (`time_limits`).
    """
    for local_s, ends in ((None, (120, 600)), (300, (120, 300)), (60, (60, 60))):
        found = candidates(put(home, {"rules.siren_limit_s": local_s}))
        values = [change.value_s for change in found if change.way is EditWay.SIREN]
        assert (min(values), max(values)) == ends


def test_fob__unsets_before_the_door(home: Home) -> None:
    """With a fob the habit begins by unsetting; no code is keyed; the person carries the new fob."""
    made = after(home, "fob/owner")
    (habit,) = made.household.habits
    assert [step.deed for step in habit.steps] == [Deed.FOB_UNSET, Deed.OPEN, Deed.WALK_TO]
    assert made.household.people[0].fob == made.devices[-1].id


def test_keypad__in_the_room_of_the_door(home: Home, put: Put) -> None:
    """Where the keypad is elsewhere, one in the room of the door is walked to in its place."""
    other = put(home, {"devices.keypad.room": "living"})
    made = after(other, "keypad/hall")
    (habit,) = made.household.habits
    walk = next(step for step in habit.steps if step.deed is Deed.WALK_TO)
    assert (walk.place, walk.seconds) == ("hall_keypad", None)
    assert named(home, "keypad/hall") is None


def test_changes_of_the_same_field__do_not_fit(home: Home) -> None:
    """Two values of one delay, or two changes of one habit, do not go together."""
    pairs = [("entry/unit/30/longer", "entry/unit/35/longer"), ("fob/owner", "habit/habit_0")]
    for names in pairs:
        changes = [change for name in names if (change := named(home, name)) is not None]
        assert len(changes) == len(names)
        assert not fit_together(changes)
        assert changed(home, changes) is None


def test_keypad_moves__only_where_a_plan_is_there(home: Home, demo: Home) -> None:
    """No plan, no metres: nothing is moved. On the demo home's plan each move says how far and what is left to walk."""
    assert [change for change in candidates(home) if change.way is EditWay.MOVED] == []
    moves = [change for change in candidates(demo) if change.way is EditWay.MOVED]
    assert {change.id.split("/")[1] for change in moves} == {"hall_keypad", "utility_keypad"}
    (first, *_) = (change for change in moves if "hall_keypad" in change.id)
    assert first.sentence.startswith("Move Hall keypad 2 m towards Front door: to Hall, 1.9 m of walk from that door.")


def test_rest__shorter_ones_and_wired(demo: Home, put: Put) -> None:
    """Only detectors that sleep: no sleep time, and one that is wired; shorter times where a walk showed it sure."""
    found = [change for change in candidates(demo) if change.way in (EditWay.REST, EditWay.WIRED)]
    sleepy = {device.id for device in demo.whole_devices if device.sleep_s}
    assert {change.id.split("/")[1] for change in found} == sleepy
    plain = [change.id for change in found if "kitchen" in change.id]
    assert plain == ["rest/kitchen_motion/0", "wired/kitchen_motion"]
    sure = put(demo, {"proof.sure_detectors": ["kitchen_motion"]})
    kitchen = [change.value_s for change in candidates(sure) if change.id.startswith("rest/kitchen_motion/")]
    assert kitchen == [120, 60, 30, 10, 5, 0]


def test_wired_in_place_of_wireless__only_where_the_unit_has_a_circuit_left(demo: Home, put: Put) -> None:
    """The demo home has 12 circuits. Of a unit with 12 none is left; of one with 13 one is, and two are too many.

    Seen before: a copy was offered as a fix although its unit had no terminals for the new cable.
    """
    for most, one, two in ((12, False, False), (13, True, False), (None, True, True)):
        home = put(demo, {"control_unit.limits.circuits": most})
        kitchen, garage = (
            change for change in candidates(home) if change.id in ("wired/kitchen_motion", "wired/garage_motion")
        )
        assert (changed(home, (kitchen,)) is not None) is one
        assert (changed(home, (kitchen, garage)) is not None) is two
        assert "Enter its detector circuit and its current afterwards" in kitchen.sentence


def test_every_change_says_why(demo: Home) -> None:
    """Each change has its reason, as a clause without a full stop."""
    assert [change.id for change in candidates(demo) if not change.because or change.because.endswith(".")] == []


def test_new_zone__a_label_of_its_own(home: Home, put: Put) -> None:
    """Where a zone is labelled so already, the new one is numbered, within the letters that the unit has."""
    other = put(home, {"control_unit.zones.door.label": "Pane", "control_unit.limits.label_length": 5})
    assert after(other, "contact/pane").control_unit.zones[-1].label == "Pan 2"


def test_people_before_longer_delays(home: Home) -> None:
    """Every longer entry or exit delay is dearer than a fob, a keypad moved or a new one; giving a habit up is last."""
    found = candidates(home)
    longer = {c.price for c in found if c.way in (EditWay.ENTRY, EditWay.EXIT) and c.longer}
    people = {c.price for c in found if c.way in (EditWay.MOVED, EditWay.FOB, EditWay.KEYPAD)}
    assert max(people) < min(longer) < min(c.price for c in found if c.way is EditWay.HABIT)


def test_own_fob__far_cheaper_than_giving_the_habit_up(home: Home, put: Put) -> None:
    """Who carries a fob already uses it: that is not a habit given up, as the price once said (100)."""
    fob = {"id": "tag", "name": "Tag", "kind": "fob"}
    carrying = put(home, {"devices.+": fob, "household.people.owner.fob": "tag"})
    own, new = named(carrying, "fob/owner"), named(home, "fob/owner")
    assert own is not None
    assert new is not None
    assert (own.price, new.price) == (10, 25)
    assert "with the fob" in own.sentence
    assert [device.id for device in after(carrying, "fob/owner").devices] == [each.id for each in carrying.devices]


def test_fob__for_whoever_has_none(two_rooms: Made) -> None:
    """Somebody without habits and without a fob can be given one, to come home where a door alarms at once."""
    made = after(two_rooms(), "fob/owner")
    assert made.household.people[0].fob == made.devices[-1].id


def test_a_keypad_taken_out_leaves_its_place_in_the_unit(home: Home, put: Put) -> None:
    """A unit for two keypads has room for a new one beside the one at work, whatever was taken out before."""
    gone = {"id": "gone", "name": "Gone", "kind": "keypad", "room": "living", "state": "removed"}
    edits = {"devices.keypad.room": "living", "control_unit.limits.keypads": 2, "devices.+": gone}
    for state, fits in (("removed", True), ("out_of_use", False)):
        other = put(put(home, edits), {"devices.gone.state": state})
        change = named(other, "keypad/hall")
        assert change is not None
        assert (changed(other, (change,)) is not None) is fits
