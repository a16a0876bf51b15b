"""The home while nobody is in, and buttons for a threat: homes that draw each finding and near ones that do not."""

from typing import Any

import pytest

from alarmlib.checks.people import left_alone
from alarmlib.checks.settings import messages
from alarmlib.model import Home

KEY_HOLDER = {"id": "ada", "role": "Neighbour", "holds_key": True, "can_unset": True}
KEYPAD = {"id": "keypad", "name": "Keypad", "kind": "keypad"}


def home(**parts: Any) -> Home:
    """A home of these parts."""
    return Home.model_validate(parts)


def room(seen: str) -> dict[str, Any]:
    """A site with one room, whose valuables can be seen or not."""
    return {
        "storeys": [{"id": "s", "name": "Ground floor"}],
        "rooms": [{"id": "den", "name": "Den", "storey": "s", "valuables_seen": seen}],
    }


def says(check: str, of: Home) -> list[str]:
    """The verdicts of one check."""
    (found,) = (each for each in left_alone.GROUP.checks if each.id == f"left_alone.{check}")
    return [each.verdict.value for each in found.result(of)]  # type: ignore[union-attr]


def test_valuables_in_view() -> None:
    """Yes is noted; no and not known are not."""
    assert says("valuables_in_view", home(site=room("yes"))) == ["note"]
    assert (
        says("valuables_in_view", home(site=room("no"))) == says("valuables_in_view", home(site=room("unknown"))) == []
    )


@pytest.mark.parametrize("band", ["nights", "long"])
def test_empty_without_key_holder(band: str) -> None:
    """Nights or weeks away, and nobody elsewhere who can come in and unset; seldom away draws nothing."""
    away: dict[str, Any] = {"household": {"empty": band}}
    assert says("empty_without_key_holder", home(**away)) == ["should"]
    assert says("empty_without_key_holder", home(**away, messages={"responders": [KEY_HOLDER]})) == []
    lives_here = {"responders": [KEY_HOLDER | {"lives_here": True}]}
    assert says("empty_without_key_holder", home(**away, messages=lives_here)) == ["should"]
    assert says("empty_without_key_holder", home(household={"empty": "seldom"})) == []


def test_event_list__days_by_hand() -> None:
    """One person home seven times a week sets and unsets 14 times: 100 events last 50 days, 50 last 25."""
    people = {"people": [{"id": "ann", "role": "Ann", "entries_a_week": 7}]}
    assert left_alone.events_a_week(home(household=people)) == 14
    for held, days in ((100, "50 days"), (50, "25 days")):
        (found,) = _event_list().result(home(household=people, control_unit={"limits": {"log_events": held}}))
        assert found.figure == days  # type: ignore[union-attr]
        assert ("soon after each alarm" in found.remedy) is (held == 50)  # type: ignore[union-attr]
    assert _event_list().result(home(household=people)) == ()


def _event_list() -> Any:
    return next(each for each in left_alone.GROUP.checks if each.id == "left_alone.event_list")


def test_event_list__counts_habits_where_they_are_entered() -> None:
    """Five times a week set and unset, once a week set: 11 events."""
    steps = [{"id": "a", "deed": "set_full"}, {"id": "b", "deed": "unset"}]
    habits = [
        {"id": "day", "name": "Day", "times_a_week": 5, "steps": steps},
        {"id": "night", "name": "Night", "times_a_week": 1, "steps": steps[:1]},
        {"id": "walk", "name": "Walk", "times_a_week": 9, "steps": []},
    ]
    people = [{"id": "ann", "role": "Ann", "entries_a_week": 7}]
    assert left_alone.events_a_week(home(household={"habits": habits, "people": people})) == 11


def test_a_button_on_a_keypad_needs_somebody_who_is_told() -> None:
    """A keypad with a button for a threat can give that event, though no zone does."""
    with_button = home(devices=[KEYPAD | {"has_hold_up": True}])
    assert {event.value for event in messages.events_possible(with_button)} == {"hold_up"}
    assert messages.events_possible(home(devices=[KEYPAD])) == frozenset()
    assert "hold_up" in [f.subject for f in messages.nobody_is_told.result(with_button)]  # type: ignore[union-attr]
