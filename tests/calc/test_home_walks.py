"""Everybody's walks between entry/exit door and keypad: by stopwatch, else by the plan, else by a named assumption."""

from typing import Any

import pytest

from alarmlib.calc.times.chance import chance_figure, chance_in_time
from alarmlib.calc.walking.home_walks import home_map, home_walks
from alarmlib.calc.walking.walkers import STOPWATCH_M_S
from alarmlib.calc.walking.walks import ASSUMED_IN_ROOM_S
from alarmlib.model import Home


def home(**more: Any) -> Home:
    """One room that isn't drawn, with an entry/exit door and a keypad; one person."""
    site = {
        "storeys": [{"id": "g", "name": "Ground"}],
        "rooms": [{"id": "hall", "name": "Hall", "storey": "g"}],
        "openings": [{"id": "door", "name": "Front door", "room": "hall", "kind": "door", "entry_exit": True}],
    }
    keypad = {"id": "keypad", "name": "Keypad", "kind": "keypad", "room": "hall"}
    household = {"people": [{"id": "one", "role": "One"}]} | more
    return Home.model_validate({"site": site, "devices": [keypad], "household": household})


def test_seconds_that_were_stopped_decide() -> None:
    """Seen before: 40 s by stopwatch against a delay of 30 s were late "less than one evening in 1,000" by L = 0 m."""
    walk = {"id": "w", "person": "one", "door": "door", "first_s": 40}
    (found,) = home_walks(home(walks=[walk]))
    assert found.entry.stopped_s == (40,)
    assert chance_in_time(found.entry, 30) < 0.05
    assert "L" not in dict(chance_figure("one", found.entry, 30, 1).inputs)


def test_leaving_and_coming_home_are_two_walks() -> None:
    walk = {"id": "w", "person": "one", "door": "door", "first_s": 40, "leaving": True}
    (found,) = home_walks(home(walks=[walk]))
    assert (found.entry.stopped_s, found.exit.stopped_s) == ((), (40,))


def test_without_plan_and_stopwatch_seconds_are_assumed_and_named() -> None:
    (found,) = home_walks(home())
    assert found.assumed == ("door",)
    assert found.entry.length_m == pytest.approx(ASSUMED_IN_ROOM_S * STOPWATCH_M_S)


def test_a_keypad_at_the_door_of_a_drawn_room_is_no_assumption() -> None:
    drawn = home().model_dump(mode="json")
    drawn["site"]["rooms"][0]["outline"] = [[0, 0], [4, 0], [4, 3], [0, 3]]
    drawn["site"]["openings"][0]["at"] = [2, 0]
    drawn["devices"][0]["at"] = [2, 0.3]
    (found,) = home_walks(Home.model_validate(drawn))
    assert found.assumed == ()


@pytest.mark.parametrize("state", ["removed", "out_of_use"])
def test_a_keypad_that_is_not_there_ends_no_walk(state: str) -> None:
    """Seen before: the nearest keypad, though taken out, ended the walk, and a check of the ways ended with it."""
    document = home().model_dump(mode="json")
    document["devices"][0]["state"] = state
    assert home_walks(Home.model_validate(document)) == ()
    document["site"]["rooms"].append({"id": "landing", "name": "Landing", "storey": "g"})
    document["site"]["passages"] = [{"id": "way", "first": "hall", "second": "landing", "seconds": 9}]
    document["devices"].append({"id": "other", "name": "Other keypad", "kind": "keypad", "room": "landing"})
    (found,) = home_walks(Home.model_validate(document))
    assert found.keypad == "other"


def test_a_map_says_how_much_its_searches_take() -> None:
    """Nothing before it is asked, more with each search that it keeps: `Facts` bound what they keep by it."""
    asked = home()
    assert home_map(asked).nbytes == 0
    home_walks(asked)
    assert home_map(asked).nbytes > 0
