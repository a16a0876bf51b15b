"""A habit names its keypads and fobs: one that was taken down is named, never keyed at."""

from collections.abc import Callable

import pytest

from alarmlib.model import Home
from alarmlib.proof.habits.household import habits_proved
from alarmlib.proof.report.verdicts import ProofVerdict

HOME_ON_FOOT = {"steps": [("open", "front", 2), ("close", "front", 2), ("walk_to", "keypad", 4), ("unset", "", 5)]}
OTHER = {"id": "other", "name": "Other keypad", "kind": "keypad", "room": "living"}


@pytest.mark.parametrize("state", ["removed", "out_of_use"])
def test_keypad_that_is_no_longer_there_proves_nothing(
    two_rooms: Callable[..., Home], put: Callable[..., Home], state: str
) -> None:
    """Found by mutants of the demo home: the habit went on unsetting at a keypad that was taken down."""
    home = two_rooms(HOME_ON_FOOT, devices=[OTHER])
    assert habits_proved(home)[0].proved.verdict is ProofVerdict.HOLDS
    (gone,) = habits_proved(put(home, {"devices.keypad.state": state}))
    assert gone.proved.verdict is ProofVerdict.NOT_SETTLED
    assert "keypad" in gone.proved.why


def test_who_finds_a_dead_keypad_does_not_walk_on_to_one_that_was_taken_down(
    two_rooms: Callable[..., Home], put: Callable[..., Home]
) -> None:
    """The other keypad is taken down: with the first one dead there is none, and the habit breaks under that fault."""
    from alarmlib.proof.faults.fault_cases import faults_of

    home = put(two_rooms(HOME_ON_FOOT, devices=[OTHER]), {"devices.other.state": "removed"})
    faults = faults_of(home)
    place = next(number for number, fault in enumerate(faults) if fault.dead_keypads == {"keypad"})
    (habit,) = habits_proved(home, faults)
    assert habit.fails >> place & 1


@pytest.mark.parametrize("state", ["removed", "out_of_use"])
def test_who_keys_in_a_room_uses_the_keypad_that_works_there(
    two_rooms: Callable[..., Home], put: Callable[..., Home], state: str
) -> None:
    """The first keypad of the hall is gone and there is another: a habit that walks to the hall keys at that one."""
    steps = [("open", "front", 2), ("close", "front", 2), ("walk_to", "hall", 4), ("unset", "", 5)]
    home = two_rooms({"steps": steps}, devices=[OTHER | {"room": "hall"}])
    before, after = (habits_proved(put(home, {"devices.keypad.state": each}))[0].proved for each in ("fitted", state))
    assert (before.verdict, after.verdict) == (ProofVerdict.HOLDS, ProofVerdict.HOLDS)
    (alone,) = habits_proved(put(home, {"devices.keypad.state": state, "devices.other.state": state}))
    assert alone.proved.verdict is ProofVerdict.NOT_SETTLED
