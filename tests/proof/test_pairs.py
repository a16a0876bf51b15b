"""Two habits at any offset: worked out by hand, against trying every offset one by one, and the demo home's."""

import itertools
import random
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from alarmlib.control.inputs import Input, Sees
from alarmlib.control.layout import State
from alarmlib.control.machine import run, step
from alarmlib.control.simulate import alarms
from alarmlib.model import Home
from alarmlib.proof.habits import pairs
from alarmlib.proof.habits.habit_begin import is_set_so, sets_asked
from alarmlib.proof.habits.habit_cases import PreparedHabits, corners_of
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.habits.pairs import pairs_proved
from alarmlib.proof.intruder.ways import set_state
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.proof.search.setups import reduced

Made = Callable[..., Home]
TWO = ("owner", "guest")
STILL = {"hall_zone": "unused", "living_zone": "unused"}
INNER = {"id": "inner_contact", "name": "Inner", "kind": "contact", "passages": ["inner"], "zone": "inner_zone"}


def summed(home: Home) -> tuple[Proved, dict[str, Proved]]:
    first, *rest = pairs_proved(home)
    assert first.id == "pairs"
    return first, {each.id: each for each in rest}


def at_once(home: Home) -> Home:
    """The home with a night set without exit delay."""
    night = home.control_unit.part_sets[0].model_copy(update={"exit_delay": False})
    return home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"part_sets": (night,)})})


# By hand.


def test_bad_at_one_offset_only(two_rooms: Made) -> None:
    """The night set is on for a part of second 5 alone; who opens the guarded inside door in that second sounds it.

    Of 6 offsets at which the owner is still about, and 2 the other way round, only the one of 5 s is bad.
    """
    sets = {"starts_at": "keypad", "begins_in": "unset",
            "steps": [("set_part", "night", 5), ("unset", "house", 0)]}  # fmt: skip
    passes = {"who": "guest", "starts_at": "living", "begins_in": "unset",
              "steps": [("open", "inner", 0), ("close", "inner", 1)]}  # fmt: skip
    home = at_once(two_rooms(sets, passes, people=TWO, functions=STILL | {"inner_zone": "at_once"}, devices=[INNER]))
    whole, bad = summed(home)
    assert (whole.verdict, whole.worst["pairs"], whole.worst["breached"]) == (ProofVerdict.BREACHED, "1", "1")
    found = bad["pair/habit_0/habit_1"]
    assert (found.verdict, found.worst["at_s"]) == (ProofVerdict.BREACHED, "5")
    assert [(beat.at_s, beat.who) for beat in found.counterexample] == [
        (0, "Owner"),
        (5, "Owner"),
        (5, "Guest"),
        (5, "Guest"),
    ]
    assert bad_offsets(home) == {("habit_0", 5)}


def test_coming_home_while_the_exit_delay_ends(two_rooms: Made) -> None:
    """Set in second 2 with 40 s: set in second 42. Whoever opened the door before, and is in the hall then, sounds it.

    No entry delay runs, since the door opened while the exit delay did, and the unit does not restart it.
    """
    leaves = {"starts_at": "keypad", "begins_in": "unset", "steps": [
        ("set_full", "house", 2), ("walk_to", "front", 2), ("open", "front", 1), ("close", "front", 1),
        ("wait", "", 50)]}  # fmt: skip
    comes = {"who": "guest", "steps": [("open", "front", 0), ("close", "front", 0), ("walk_to", "keypad", 5),
                                       ("unset", "house", 2)]}  # fmt: skip
    _, bad = summed(two_rooms(leaves, comes, people=TWO, behaviour={"exit_restarts_once": False}))
    found = bad["pair/habit_0/habit_1"]
    assert (found.verdict, found.worst["at_s"]) == (ProofVerdict.BREACHED, "42")
    last = found.counterexample[-1]
    assert (last.who, last.devices, last.zones) == ("Guest", ("hall_eye",), ("hall_zone",))
    assert "Alarm: hall_zone" in last.output


@pytest.mark.parametrize("looks", [True, False])
def test_looking_before_setting(two_rooms: Made, looks: bool) -> None:
    """Setting away while somebody is still busy in the living room breaches, unless one may assume that one looks."""
    leaves = {"starts_at": "keypad", "begins_in": "unset", "steps": [
        ("set_full", "house", 2), ("open", "front", 1), ("close", "front", 1), ("wait", "", 60)]}  # fmt: skip
    reads = {"who": "guest", "starts_at": "living", "begins_in": "unset", "steps": [("wait", "", 120)]}
    home = two_rooms(leaves, reads, people=TWO, proof={"tolerance_percent": 0, "looks_before_setting": looks})
    whole, _ = summed(home)
    assert whole.verdict is (ProofVerdict.HOLDS if looks else ProofVerdict.BREACHED)


def test_coming_home_together_holds_with_its_margin(two_rooms: Made) -> None:
    """Both come by the same door within one delay of 27 s; the one who unsets in second 25 leaves 2 s, as alone."""
    comes = [("open", "front", 0), ("walk_to", "keypad", 20), ("unset", "house", 1)]
    whole, bad = summed(two_rooms({"steps": comes}, {"who": "guest", "steps": comes}, people=TWO))
    assert (whole.verdict, bad) == (ProofVerdict.HOLDS, {})
    assert (whole.worst["margin_s"], whole.worst["pace"]) == ("2", "one in twenty is slower")


def test_one_person_is_not_beside_themselves(two_rooms: Made) -> None:
    """Habits of one person make no pair; one that is breached alone, or meant to alarm, is left out and counted."""
    comes = [("open", "front", 0), ("walk_to", "keypad", 20), ("unset", "house", 1)]
    late = [("open", "front", 0), ("walk_to", "keypad", 60), ("unset", "house", 1)]
    meant = {"who": "guest", "expected": "alarm", "steps": late}
    whole, _ = summed(two_rooms({"steps": comes}, {"steps": comes}, meant, {"who": "guest", "steps": late}, people=TWO))
    assert (whole.worst["pairs"], whole.worst["left_out"]) == ("0", "4")


def test_too_many_places_are_refused_with_an_estimate(two_rooms: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    comes = [("open", "front", 0), ("walk_to", "keypad", 20), ("unset", "house", 1)]
    home = two_rooms({"steps": comes}, {"who": "guest", "steps": comes}, people=TWO)
    monkeypatch.setattr(pairs, "MOST_CELLS", 100)
    (only,) = pairs_proved(home)
    assert only.verdict is ProofVerdict.NOT_SETTLED
    assert "The pairs of habits (1) would need about" in only.why and "at most 100" in only.why


# Against trying every offset, one by one, with `run`.


def bad_offsets(home: Home) -> set[tuple[str, int]]:
    """(who begins first, offset) of all overlaps that alarm, of two habits without motion detectors.

    Each offset is run through the machine for every corner, every order of what both do in one second.
    """
    household = PreparedHabits(home)
    one, other = home.household.habits
    found = set()
    for corner in corners_of(home):
        setup = reduced(household.setups[""], corner.clock)
        for first, second in ((one, other), (other, one)):
            scripts = [household.script(habit, corner.pace, tail_s=0) for habit in (first, second)]
            sets = {area: part for area, part in sets_asked(setup, first) if part is not None}
            begin = set_state(setup, sets)
            for offset in range(len(scripts[0].labels)):
                for inputs in _orders(scripts, offset):
                    if _alarms(setup, begin, inputs, offset, sets_asked(setup, second)):
                        found.add((first.id, offset))
    return found


def _told(script: Script, place: int) -> tuple[Input, ...]:
    label = script.labels[place] if 0 <= place < len(script.labels) else None
    return tuple(event for row in label.told for event in row) if label else ()


def _orders(scripts: list[Script], offset: int) -> Iterator[dict[int, tuple[Input, ...]]]:
    """What both do, second by second; where both do something, one before the other and the other way round.

    Rows of two events and more would need more orders: the habits tried have none.
    """
    seconds = range(max(len(scripts[0].labels), offset + len(scripts[1].labels)))
    rows = [(_told(scripts[0], second), _told(scripts[1], second - offset)) for second in seconds]
    ways = [sorted({tuple(order) for order in _merge(a, b)}, key=str) for a, b in rows]
    return (dict(enumerate(chosen)) for chosen in itertools.product(*ways))


def _merge(first: tuple[Input, ...], second: tuple[Input, ...]) -> Iterator[tuple[Input, ...]]:
    for places in itertools.combinations(range(len(first) + len(second)), len(first)):
        mine, theirs = iter(first), iter(second)
        yield tuple(next(mine) if at in places else next(theirs) for at in range(len(first) + len(second)))


def _alarms(setup: Any, begin: State, inputs: dict[int, tuple[Input, ...]], offset: int, wanted: Any) -> bool:
    """Whether it alarms once both have begun; not if the unit is in another state when the second one begins."""
    state = begin
    for second in range(offset):
        state, out = step(setup, state, inputs.get(second, ()))
        if alarms(out):
            return False
    if not is_set_so(setup, state, wanted):
        return False
    rest = {second - offset: row for second, row in inputs.items() if second >= offset}
    return any(alarms(each.outputs) for each in run(setup, rest, max(rest) + 120, state))


def random_home(two_rooms: Made, chance: random.Random) -> Home:
    """Two people with habits of a few random steps at the front door, the inside door and the keypads."""
    deeds: list[tuple[str, str]] = [
        ("open", "front"), ("close", "front"), ("open", "inner"), ("close", "inner"), ("unset", "house"),
        ("set_full", "house"), ("set_part", "night"), ("wait", ""),
    ]  # fmt: skip
    habits = []
    for who in TWO:
        begins_in = chance.choice(["unset", "unset", "part_set"])
        steps = [(*chance.choice(deeds), chance.choice([1, 2, 5])) for _ in range(chance.randint(2, 5))]
        habits.append({"who": who, "starts_at": "hall", "begins_in": begins_in, "steps": steps} | (
            {"part_set": "night"} if begins_in == "part_set" else {}))  # fmt: skip
    treated = STILL | {"inner_zone": chance.choice(["at_once", "entry_exit", "entry_route", "at_once"])}
    delays = {"entry_s": chance.choice([3, 6]), "exit_s": chance.choice([4, 9])}
    anyhow = {"tolerance_percent": 0, "looks_before_setting": False}
    return two_rooms(*habits, people=TWO, functions=treated, devices=[INNER], proof=anyhow, **delays)


def test_equals_trying_every_offset(two_rooms: Made) -> None:
    """On 90 random small homes the pairs found breached are those of which some offset alarms when played."""
    chance = random.Random(3)
    counted = {ProofVerdict.HOLDS: 0, ProofVerdict.BREACHED: 0}
    for _ in range(90):
        home = random_home(two_rooms, chance)
        whole, _ = summed(home)
        if whole.worst["pairs"] == "0":
            continue
        tried = bad_offsets(home)
        assert (whole.verdict is ProofVerdict.BREACHED) == bool(tried), (home.household.habits, tried)
        assert whole.verdict in counted
        counted[whole.verdict] += 1
    assert all(count >= 5 for count in counted.values()), counted


# The demo home.


def only(home: Home, *habits: str) -> Home:
    """The home with these habits alone, in one season."""
    kept = tuple(habit for habit in home.household.habits if habit.id in habits)
    return home.model_copy(
        update={
            "household": home.household.model_copy(update={"habits": kept}),
            "control_unit": home.control_unit.model_copy(update={"seasons": ()}),
        }
    )


def test_demo_habits_of_two_areas_do_not_meet(demo: Home) -> None:
    whole, _ = summed(only(demo, "to_the_studio", "slow_home"))
    assert (whole.verdict, whole.worst["margin_s"]) == (ProofVerdict.HOLDS, "9")


def test_demo_grandparent_comes_as_the_exit_delay_ends(demo: Home) -> None:
    """Exit restarted at 19 s to 75 s: set in second 94, with the grandparent in the hall and no entry delay."""
    _, bad = summed(only(demo, "forgotten", "slow_home"))
    found = bad["pair/forgotten/slow_home"]
    assert (found.verdict, found.worst["at_s"]) == (ProofVerdict.BREACHED, str(19 + 75))
    assert {beat.who for beat in found.counterexample} == {"Second parent", "Grandparent"}
    assert found.counterexample[-1].devices == ("hall_motion",)


def test_demo_pair_that_holds_is_quiet_when_played_at_random(demo: Home) -> None:
    """Random offsets and random movement on the whole unit: never an alarm."""
    home = only(demo, "shopping", "slow_home")
    whole, _ = summed(home)
    assert whole.verdict is ProofVerdict.HOLDS
    household, chance = PreparedHabits(home), random.Random(11)
    scripts = [household.script(habit, tail_s=0) for habit in home.household.habits]
    setup = household.setups[""]
    begin = set_state(setup, {"house": ""})
    for _ in range(60):
        offset = chance.randrange(20)
        order = scripts if chance.random() < 0.5 else scripts[::-1]
        inputs = {second: _random_second(order, second, offset, chance) for second in range(120)}
        assert not any(alarms(second.outputs) for second in run(setup, inputs, 200, begin)), offset


def _random_second(scripts: list[Script], second: int, offset: int, chance: random.Random) -> tuple[Input, ...]:
    told = (*_told(scripts[0], second), *_told(scripts[1], second - offset))
    labels = [
        script.labels[place]
        for script, place in zip(scripts, (second, second - offset), strict=True)
        if 0 <= place < len(script.labels)
    ]
    seen = sorted({device for label in labels for device in label.seen_by if chance.random() < 0.4})
    return (*told, *(Sees(device) for device in seen))
