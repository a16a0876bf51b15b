"""Who can come home in which set: counted by hand on a home of two rooms, and on the demo home."""

from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.control.inputs import SET_FULL
from alarmlib.model import Home
from alarmlib.proof.repairs.judge import Acceptance, Objection
from alarmlib.proof.repairs.ways_home import Coming, ways_home

Made = Callable[..., Home]
Put = Callable[..., Home]
BOTH = {SET_FULL, "night"}


@pytest.fixture
def home(two_rooms: Made, put: Put) -> Callable[..., Home]:
    """The owner takes 3 s at the door and 4 s at the keypad beside it: 7 s from the opened door to the code."""

    def made(edits: dict[str, Any] | None = None, **more: Any) -> Home:
        times = {"household.people.owner.unlock_s": 3, "household.people.owner.keying_s": 4}
        return put(two_rooms(**more), times | (edits or {}))

    return made


def sets(home: Home) -> set[str]:
    """The sets that the owner can come home to."""
    return {each.part for each in ways_home(home) if each.person == "owner"}


@pytest.mark.parametrize(("entry_s", "off", "found"), [
    (7, 0, set()), (8, 0, BOTH), (8, 10, set()), (9, 10, BOTH),
])  # fmt: skip
def test_delay_by_hand(home: Callable[..., Home], entry_s: int, off: int, found: set[str]) -> None:
    """7 s are too late in the second the delay ends; 8 s will do, with the unit 10 % fast 9 s (8 s, rounded)."""
    assert sets(home(entry_s=entry_s, tolerance_percent=off)) == found


def test_only_door_at_once__nobody(home: Callable[..., Home]) -> None:
    """The door's zone at once locks out everybody in every set; its delay taken out at night, at night alone."""
    assert sets(home(functions={"door": "at_once"})) == set()
    at_once = [{"zone": "door", "delayed": False}]
    assert sets(home({"control_unit.part_sets.night.doors": at_once})) == {SET_FULL}


def test_detector_on_the_way_at_once__only_where_it_is_left_out(home: Callable[..., Home]) -> None:
    """The hall's detector at once rings for who comes home; the night set leaves it out."""
    assert sets(home(functions={"hall_zone": "at_once"})) == {"night"}


def test_fob__before_the_door_opens(home: Callable[..., Home]) -> None:
    """With a fob of their own the owner unsets outside, and no delay is needed; a fob taken down helps nobody."""
    fob = {"id": "fob", "name": "Fob", "kind": "fob"}
    carried = {"devices.+": fob, "household.people.owner.fob": "fob"}
    assert sets(home(carried, functions={"door": "at_once"})) == BOTH
    gone = carried | {"devices.+": fob | {"state": "removed"}}
    assert sets(home(gone, functions={"door": "at_once"})) == set()


def test_key_switch__behind_the_door(home: Callable[..., Home]) -> None:
    """Without a keypad the key switch in the hall will do, within the delay; with the door at once it will not."""
    switch = {"id": "switch", "name": "Switch", "kind": "key_switch", "room": "hall", "zone": "key"}
    zone = {"id": "key", "label": "Key", "function": "key_switch", "areas": ["house"]}
    edits = {"devices.+": switch, "control_unit.zones.+": zone, "devices.keypad.state": "removed"}
    assert sets(home(edits, entry_s=10)) == BOTH
    assert sets(home(edits, entry_s=10, functions={"door": "at_once"})) == set()


def test_visitor__by_their_own_door_while_nobody_is_in(home: Callable[..., Home]) -> None:
    """A cleaner who can unset counts while nobody is in; a door that is no entry/exit door is no way."""
    cleaner = {"id": "cleaner", "role": "Cleaner", "can_unset": True}
    for door, found in (("", {SET_FULL}), ("front", {SET_FULL}), ("other", set())):
        opening = {"id": "other", "name": "Other", "room": "hall", "kind": "door"}
        edits = {"household.visitors.+": cleaner | {"door": door}, "site.openings.+": opening}
        assert {c.part for c in ways_home(home(edits, entry_s=40)) if c.person == "cleaner"} == found


def test_who_cannot_unset_is_not_counted(home: Callable[..., Home]) -> None:
    """Somebody without a code needs somebody who has one."""
    assert sets(home({"household.people.owner.can_unset": False})) == set()


def test_demo__everybody_can_come_home_in_every_set(demo: Home) -> None:
    """Four people, three part sets of the house and one of the studio, each set too; two visitors; both seasons."""
    found = ways_home(demo)
    assert len(found) == (4 * (4 + 2) + 2) * 2
    visits = {(each.person, each.area, each.part) for each in found if each.person in ("cleaner", "neighbour")}
    assert visits == {("cleaner", "house", SET_FULL), ("neighbour", "house", SET_FULL)}


def test_lost_way_home__is_told_in_the_homes_own_words(home: Callable[..., Home], put: Put) -> None:
    """Who, where and in which set, as a sentence; a way that was not there before is not lost."""
    good = home()
    bad = put(good, {"control_unit.part_sets.night.doors": [{"zone": "door", "delayed": False}]})
    against = Acceptance(good, ()).against(bad)
    assert against is not None
    assert against.sentence == (
        "Owner could no longer come home to House without an alarm while it is set in the part set Night."
    )
    assert Acceptance(bad, ()).against(bad) is None
    assert (
        Coming("owner", "house", SET_FULL)
        .sentence(good)
        .endswith("to House without an alarm while it is set with nobody in.")
    )


def test_new_findings__counted_by_check_and_subject(home: Callable[..., Home]) -> None:
    """A second finding of the same check and subject is new; one that was there is not, nor one that went away."""
    good = home()
    said = {good.name: ["old", "gone"], "other": ["old", "new"]}

    def judge(each: Home) -> list[Objection]:
        return [Objection("check", subject, False, f"{subject} is wrong") for subject in said[each.name]]

    accepted = Acceptance(good, (), judge)
    other = good.model_copy(update={"name": "other"})
    assert accepted.brings(other) == ("new is wrong",)
    assert accepted.brings(good) == ()
    said["other"] = ["old", "old"]
    assert accepted.brings(other) == ("old is wrong",)
