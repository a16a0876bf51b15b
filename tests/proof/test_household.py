"""Habits proved: worked out by hand, against playing them one by one, and the demo home's."""

import random
from collections.abc import Callable
from typing import Any

import pytest

from alarmlib.control.inputs import Sees
from alarmlib.control.machine import run
from alarmlib.control.simulate import UnitPlayer, alarms, begin_state, simulate
from alarmlib.model import Home
from alarmlib.model.household import Expected, Habit
from alarmlib.proof.faults.fault import NONE, FaultMasks
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.habits import habit_cases, habit_script
from alarmlib.proof.habits.habit_assumed import habit_assumptions
from alarmlib.proof.habits.habit_cases import Case, PreparedHabits
from alarmlib.proof.habits.habit_moves import Moves
from alarmlib.proof.habits.habit_script import ScriptLabel
from alarmlib.proof.habits.habit_search import sweep
from alarmlib.proof.habits.household import HabitProved, habits_proved
from alarmlib.proof.report.readiness import unready
from alarmlib.proof.report.verdicts import ProofVerdict, Proved

Made = Callable[..., Home]
IN_TWENTY_S = {"steps": [("open", "front", 0), ("walk_to", "keypad", 20), ("unset", "house", 1)]}
INSIDE: dict[str, Any] = {"starts_at": "living", "begins_in": "part_set", "part_set": "night"}


def one(home: Home) -> Proved:
    """The only habit of a home, proved without faults."""
    (found,) = habits_proved(home)
    return found.proved


# By hand. Walking 20 s at 1 m/s with 0.1 m/s of spread: 20 / (1 - 1.645 * 0.1) = 23.94 s for one walk in twenty.


def test_margin_by_hand(two_rooms: Made) -> None:
    """The slow walk and 1 s of keying end in second 25; the delay of 27 s would end in second 27: 2 s are left."""
    proved = one(two_rooms(IN_TWENTY_S))
    assert proved.verdict is ProofVerdict.HOLDS
    assert proved.worst == {
        "margin_s": "2", "margin_of": "entry delay", "pace": "one in twenty is slower", "clock": "right",
    }  # fmt: skip


def test_too_short_for_the_slow_walker(two_rooms: Made) -> None:
    """25 s end in second 25, and the code comes in it, after the alarm; at the usual pace (second 21) it would do."""
    home = two_rooms(IN_TWENTY_S, entry_s=25)
    proved = one(home)
    assert (proved.verdict, proved.worst["at_s"]) == (ProofVerdict.BREACHED, "25")
    assert simulate(home, home.household.habits[0]).margin_s == 25 - 21
    first, *_, last = proved.counterexample
    assert (first.at_s, first.who, first.devices, first.zones) == (0, "Owner", ("contact",), ("door",))
    assert first.place == "open Front" and "25 s to unset" in first.state
    assert (last.at_s, "Alarm: door" in last.output) == (25, True)


@pytest.mark.parametrize(("entry_s", "margin_s"), [(28, None), (29, 1), (30, 2)])
def test_clock_that_runs_fast_takes_a_tenth(two_rooms: Made, entry_s: int, margin_s: int | None) -> None:
    """Nine tenths of 28, 29, 30 s are 25, 26, 27 whole seconds; the code comes in second 25."""
    proved = one(two_rooms(IN_TWENTY_S, entry_s=entry_s, tolerance_percent=10))
    if margin_s is None:
        assert (proved.verdict, proved.worst["at_s"], proved.worst["clock"]) == (ProofVerdict.BREACHED, "25", "-10 %")
    else:
        assert (proved.verdict, proved.worst["margin_s"]) == (ProofVerdict.HOLDS, str(margin_s))


def test_exit_margin_by_hand(two_rooms: Made) -> None:
    """Set in second 2 with 40 s; the slow walk of 23.94 s and 2 s of shutting end in second 28: 14 s are left."""
    leaving = {"starts_at": "keypad", "begins_in": "unset", "steps": [
        ("set_full", "house", 2), ("walk_to", "front", 20), ("open", "front", 0), ("close", "front", 2),
    ]}  # fmt: skip
    worst = one(two_rooms(leaving)).worst
    assert (worst["margin_s"], worst["margin_of"], worst["pace"]) == ("14", "exit delay", "one in twenty is slower")


def test_nobody_is_seen_before_the_door_they_open(two_rooms: Made) -> None:
    """Seen in the second of coming in, but after the contact; somebody indoors may be seen before what they do."""
    assert one(two_rooms(IN_TWENTY_S)).verdict is ProofVerdict.HOLDS
    inside = {"starts_at": "hall", "begins_in": "set_full", "steps": [("open", "front", 0), ("unset", "house", 1)]}
    assert one(two_rooms(inside)).verdict is ProofVerdict.BREACHED


# The two-detector example: a delayed detector that may stay still at its fringe, and one that waits for its delay.


def two_detectors(two_rooms: Made, **first: Any) -> Proved:
    downstairs = INSIDE | {"steps": [("walk_to", "hall", 6), ("walk_to", "keypad", 4), ("unset", "house", 2)]}
    home = two_rooms(downstairs, **first)
    night = home.control_unit.part_sets[0].model_copy(update={"left_out": ()})
    return one(home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"part_sets": (night,)})}))


def test_delayed_detector_that_stays_still_lets_the_follower_sound(two_rooms: Made) -> None:
    """If the living room's detector fires first, the hall waits; if it does not, the hall sounds at once: breached."""
    proved = two_detectors(two_rooms, functions={"living_zone": "entry_exit"})
    assert proved.verdict is ProofVerdict.BREACHED
    tripped = [device for beat in proved.counterexample for device in beat.devices]
    assert tripped == ["hall_eye"]


def test_delayed_contact_that_surely_trips_makes_the_follower_wait(two_rooms: Made) -> None:
    """A contact on the inside door, delayed, is passed before the hall is entered: the hall always waits."""
    contact = {"id": "inner_contact", "name": "Inner", "kind": "contact", "passages": ["inner"], "zone": "inner_zone"}
    steps = [("open", "inner", 0), ("walk_to", "hall", 4), ("walk_to", "keypad", 4), ("unset", "house", 2)]
    home = two_rooms(
        INSIDE | {"steps": steps},
        functions={"inner_zone": "entry_exit", "living_zone": "unused"},
        devices=[contact],
    )
    night = home.control_unit.part_sets[0].model_copy(update={"left_out": ()})
    home = home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"part_sets": (night,)})})
    proved = one(home)
    assert (proved.verdict, proved.worst["margin_of"]) == (ProofVerdict.HOLDS, "entry delay")


@pytest.mark.parametrize(("sleep_s", "verdict"), [(60, ProofVerdict.HOLDS), (5, ProofVerdict.BREACHED)])
def test_detector_that_rests_detects_nothing(two_rooms: Made, sleep_s: int, verdict: ProofVerdict) -> None:
    """Shaken while unset and again 12 s later, set: with 60 s of rest the second shake is not felt, with 5 s it is."""
    shock = {"id": "shock", "name": "Shock", "kind": "shock", "room": "hall", "zone": "glass", "sleep_s": sleep_s}
    steps = [("disturb", "shock", 10), ("set_part", "night", 2), ("disturb", "shock", 1)]
    home = two_rooms(
        {"starts_at": "attic", "begins_in": "unset", "steps": steps}, functions={"glass": "at_once"}, devices=[shock]
    )
    night = home.control_unit.part_sets[0].model_copy(update={"exit_delay": False})
    home = home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"part_sets": (night,)})})
    assert one(home).verdict is verdict


# What it should lead to.


def test_alarm_that_is_meant_must_always_come(two_rooms: Made) -> None:
    """A hold-up button always gives its alarm; a detector that may see nothing does not."""
    button = {"id": "button", "name": "Button", "kind": "hold_up", "room": "hall", "zone": "hold_up"}
    press = {"expected": "alarm", "steps": [("open", "front", 0), ("hold_up", "button", 1)]}
    through = INSIDE | {"expected": "alarm", "steps": [("wait", "", 5)]}
    home = two_rooms(press, through, functions={"hold_up": "hold_up"}, devices=[button])
    pressed, walked = (found.proved for found in habits_proved(home))
    assert (pressed.verdict, walked.verdict) == (ProofVerdict.HOLDS, ProofVerdict.BREACHED)
    assert "gives the alarm that it is meant to give" in pressed.sentence
    assert all(not beat.devices for beat in walked.counterexample)


def test_habit_that_cannot_be_played_is_not_settled(two_rooms: Made) -> None:
    lost = {"starts_at": "", "steps": [("walk_to", "keypad", 5)]}
    no_part = {"starts_at": "hall", "begins_in": "unset", "steps": [("set_part", "hall", 5)]}
    home = two_rooms(lost, no_part, IN_TWENTY_S)
    lost_way, unnamed, other = (found.proved for found in habits_proved(home))
    assert (lost_way.verdict, unnamed.verdict, other.verdict) == (*[ProofVerdict.NOT_SETTLED] * 2, ProofVerdict.HOLDS)
    assert lost_way.why.startswith("Step 1 (walk to) has no beginning.")
    assert unnamed.why.startswith("Step 1 (set a part set) names no part set.")
    assert unready(home) == unready(two_rooms(IN_TWENTY_S))  # one habit keeps nothing else from being proved


def test_walks_of_which_no_way_is_known_are_printed(two_rooms: Made) -> None:
    """What is assumed of habits is printed once; with no habits nothing is."""
    cellar = {"site": two_rooms().site.model_dump(mode="json")}
    cellar["site"]["rooms"].append({"id": "cellar", "name": "Cellar", "storey": "ground"})
    habit = {"starts_at": "hall", "begins_in": "unset", "steps": [("walk_to", "cellar", None)]}
    said = list(habit_assumptions(habits_proved(two_rooms(habit, habit, more=cellar))))
    assert said[-1].sentence == "No way is known from hall to cellar; 10 s are assumed."
    assert [each.id for each in said].count("habit_pace") == 1 and "habit_walk_2" not in {each.id for each in said}
    assert not list(habit_assumptions(()))


def test_long_wait_is_one_place_of_any_length(two_rooms: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half an hour indoors, unset, is one place of the script; taken second by second it leads to the same."""
    steps = [*IN_TWENTY_S["steps"], ("wait", "", 1800), ("set_full", "house", 2), ("walk_to", "front", 20),
             ("open", "front", 1), ("close", "front", 1), ("wait", "", 50)]  # fmt: skip
    home = two_rooms({"steps": steps})
    household = PreparedHabits(home)
    script = household.script(home.household.habits[0])
    assert len(script.waits) == 1 and len(script.labels) < 250 and script.at_s[-1] > 1800
    quick = one(home)
    monkeypatch.setattr(habit_script, "LONG_WAIT_S", 10_000)
    assert not PreparedHabits(home).script(home.household.habits[0]).waits
    slow = one(home)
    assert (quick.verdict, quick.worst) == (slow.verdict, slow.worst)
    assert quick.verdict is ProofVerdict.HOLDS


def test_wait_that_ends_early_breaches(two_rooms: Made) -> None:
    """Set away and indoors for 20 min: the living room may see somebody at any second once the exit delay is over."""
    steps = [("set_full", "house", 2), ("wait", "", 1200)]
    proved = one(two_rooms({"starts_at": "living", "begins_in": "unset", "steps": steps}))
    assert (proved.verdict, proved.worst["at_s"]) == (ProofVerdict.BREACHED, str(2 + 40))


# Faults.


def test_one_sweep_says_what_each_fault_says_alone(two_rooms: Made) -> None:
    """Each bit of the mask equals a proof of the home with that fault from the start."""
    second = {"id": "far_keypad", "name": "Far keypad", "kind": "keypad", "room": "living"}
    out = {"starts_at": "keypad", "begins_in": "unset", "steps": [
        ("set_full", "house", 2), ("walk_to", "front", 5), ("open", "front", 0), ("close", "front", 2),
        ("wait", "", 60), ("open", "front", 1), ("walk_to", "keypad", 5), ("unset", "house", 2)]}  # fmt: skip
    home = two_rooms(IN_TWENTY_S, out, devices=[second])
    faults = faults_of(home, "single")
    household = PreparedHabits(home, faults)
    together = habits_proved(home, faults)
    assert any(found.fails for found in together)
    for place, fault in enumerate(faults):
        if household.meant >> place & 1:
            for found, alone in zip(together, habits_proved(home, (fault,)), strict=True):
                assert (found.fails >> place & 1) == (alone.proved.verdict is ProofVerdict.BREACHED), (fault.id, found)


def test_dead_keypad_sends_one_on(two_rooms: Made) -> None:
    """The living room's keypad is 4 s further, and guarded at once: whoever must go there sounds the alarm.

    With the living room's detector out of use, 4 s at 1.393 m/s are 6.67 s for the slow walker: 23.94 s, 6.67 s and
    1 s of keying end in second 32.
    """
    second = {"id": "far_keypad", "name": "Far keypad", "kind": "keypad", "room": "living"}
    for function, entry_s, fails in (("at_once", 40, True), ("unused", 32, True), ("unused", 33, False)):
        home = two_rooms(IN_TWENTY_S, functions={"living_zone": function}, entry_s=entry_s, devices=[second])
        faults = faults_of(home, "single")
        (found,) = habits_proved(home, faults)
        place = next(n for n, fault in enumerate(faults) if fault.dead_keypads == {"keypad"})
        assert bool(found.fails >> place & 1) is fails
        assert not found.fails & 1


def test_no_other_keypad_breaches(two_rooms: Made) -> None:
    home = two_rooms(IN_TWENTY_S)
    faults = faults_of(home, "single")
    (found,) = habits_proved(home, faults)
    place = next(n for n, fault in enumerate(faults) if fault.dead_keypads == {"keypad"})
    assert found.fails >> place & 1 and found.proved.verdict is ProofVerdict.HOLDS
    assert found.first_fault is not None and found.counterexample


# The demo home.


@pytest.fixture(scope="module")
def proved(demo: Home) -> tuple[HabitProved, ...]:
    return habits_proved(demo)


def test_every_demo_habit_holds(proved: tuple[HabitProved, ...]) -> None:
    assert {
        found.habit: found.proved.verdict for found in proved if found.proved.verdict is not ProofVerdict.HOLDS
    } == {}


def test_agrees_with_simulate(demo: Home, proved: tuple[HabitProved, ...]) -> None:
    """Where one playing sounds the alarm the proof is breached, and its margin is never above that of a playing."""
    shorter = with_entry(demo, 20)
    for home, results in ((demo, proved), (shorter, habits_proved(shorter))):
        verdicts = set()
        for habit, found in zip(home.household.habits, results, strict=True):
            ran = simulate(home, habit)
            alarmed = ran.reached is Expected.ALARM
            if habit.expected is not Expected.ALARM and alarmed:
                assert found.proved.verdict is ProofVerdict.BREACHED
            if found.proved.verdict is ProofVerdict.HOLDS:
                assert alarmed is (habit.expected is Expected.ALARM)
                assert ran.margin_s is None or int(found.proved.worst["margin_s"]) <= ran.margin_s
            verdicts.add(found.proved.verdict)
    assert verdicts == {ProofVerdict.HOLDS, ProofVerdict.BREACHED}


def with_entry(home: Home, entry_s: float) -> Home:
    """The home with one entry delay for every door, all year."""
    doors = tuple(door.model_copy(update={"entry_s": entry_s}) for door in home.control_unit.times.doors)
    times = home.control_unit.times.model_copy(update={"entry_s": entry_s, "doors": doors})
    return home.model_copy(
        update={"control_unit": home.control_unit.model_copy(update={"times": times, "seasons": ()})}
    )


def test_random_movement_never_breaks_what_holds(demo: Home, proved: tuple[HabitProved, ...]) -> None:
    """Each habit that holds, played on the whole unit with detectors that fire at random: never an alarm."""
    chance = random.Random(7)
    household = PreparedHabits(demo)
    player = UnitPlayer(household.setups[""])
    for habit in demo.household.habits:
        if habit.expected is Expected.ALARM:
            continue
        script, begin = household.script(habit), begin_state(habit, player)
        for often in (0.02, 0.3, 0.9):
            inputs = {place: _chosen(label, often, chance) for place, label in enumerate(script.labels)}
            trace = run(player.setup, inputs, len(script.labels), begin)
            assert not any(alarms(second.outputs) for second in trace), habit.id


def _chosen(label: ScriptLabel, often: float, chance: random.Random) -> tuple[Any, ...]:
    fired = [Sees(device) for device in sorted(label.seen_by) if chance.random() < often]
    return (*(event for row in label.told for event in row), *fired)


def some_cases(home: Home) -> list[Case]:
    """The first case of each habit."""
    household = PreparedHabits(home)
    return [next(household.cases(habit)) for habit in home.household.habits]


class _Unfiltered(Moves):
    """Tries what is ignored too."""

    def _felt(self, k: int, label: ScriptLabel, told: Any) -> list[str]:
        return sorted(label.seen_by)


def test_what_is_ignored_changes_nothing(demo: Home) -> None:
    """Leaving out trips that nobody listens to leads to the very same states but for what is tripped just now.

    That passes with the next second: the search that tries all of them meets no other alarm and no other delay.
    """
    none = FaultMasks.of((NONE,))
    for home in (demo, with_entry(demo, 12)):
        for case in some_cases(home):
            setup = case.unit.beginnings.setup
            passing = {slot for slot, _ in setup.layout.passing}
            begin = case.unit.beginnings.state(case.begins[0])
            assert begin is not None
            met = []
            for moves in (Moves(setup, none), _Unfiltered(setup, none)):
                swept = sweep(case.script, {moves.unit.number(begin): 1}, moves)
                states = [{moves.unit.states[k] for k in layer} for layer in swept.layers]
                met.append((swept.first_at, [{_but(state, passing) for state in layer} for layer in states]))
            assert met[0] == met[1], case.script.habit.id


def _but(state: tuple[int, ...], slots: set[int]) -> tuple[int, ...]:
    return tuple(0 if slot in slots else value for slot, value in enumerate(state))


def test_what_a_delay_forgets_changes_nothing(demo: Home) -> None:
    """Without the quotient of waiting zones the search alarms in the same second, or not at all, as with it."""
    home = with_entry(demo, 12)
    found = set()
    for case in some_cases(home):
        setup = case.unit.beginnings.setup
        whole = Moves(setup, FaultMasks.of((NONE,)))
        whole.unit._canonical = None
        swept = [sweep(case.script, {m.unit.number(case.unit.beginnings.state(case.begins[0]) or ()): 1}, m)
                 for m in (case.unit.moves, whole)]  # fmt: skip
        assert swept[0].first_at == swept[1].first_at
        found.add(swept[0].first_at is None)
    assert found == {True, False}


def test_areas_that_do_not_matter_do_not_matter(demo: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    """With every other area taken in every set, verdicts and margins are the same."""
    habits = tuple(h for h in demo.household.habits if h.id in {"shopping", "to_the_studio", "forgotten", "dog_out"})
    home = demo.model_copy(update={"household": demo.household.model_copy(update={"habits": habits})})
    few = habits_proved(home)
    everywhere = frozenset(area.id for area in home.control_unit.areas)
    monkeypatch.setattr(habit_cases, "touched_areas", lambda *_: everywhere)
    many = habits_proved(home)
    for one_, other in zip(few, many, strict=True):
        assert (one_.proved.verdict, one_.proved.worst) == (other.proved.verdict, other.proved.worst)
        assert other.proved.states >= 3 * one_.proved.states > 0


def test_progress_is_told(demo: Home) -> None:
    """First the walks of every habit, then what may happen in each: both go on, never back."""
    every: list[tuple[str, int, int]] = []
    habits_proved(demo, progress=lambda text, done, of: every.append((text, done, of)))
    walks = [done for text, done, _ in every if text.startswith("walks of ")]
    said = [each for each in every if each[0].startswith("habit ")]
    first = walks[: walks.index(17) + 1]
    assert sorted(first) == first and set(first) == set(range(18))
    assert sorted(said, key=lambda each: each[1]) == said  # told also within a habit: it goes on, never back
    assert sorted({done for _, done, _ in said}) == list(range(18)) and all(of == 18 for *_, of in said)
    assert said[0][0] == "habit Home with shopping"


def habit_of(home: Home, id_: str) -> Habit:
    return next(habit for habit in home.household.habits if habit.id == id_)


def test_dead_front_contact_breaches_who_comes_home(demo: Home) -> None:
    """Without its contact nothing starts the delay, and the hall sounds at once: it fails in one second."""
    faults = tuple(fault for fault in faults_of(demo, "single") if fault.id in {"none", "dead/front_door_contact"})
    found = {each.habit: each for each in habits_proved(demo, faults)}
    assert (found["slow_home"].fails, found["slow_home"].first_fault, found["fob_home"].fails) == (0b10, 1, 0)
    assert [beat.devices for beat in found["slow_home"].counterexample] == [("hall_motion",)]


# Pets, and who cannot unset.


def test_a_pet_that_sets_it_off__is_named_step_by_step(two_rooms: Made) -> None:
    """A cat free in the living room trips its detector, which alarms at once: the counterexample names both."""
    cat = {"id": "cat", "kind": "Cat", "mass_kg": 4, "reaches_m": 1, "free_when_empty": ["living"]}
    home = two_rooms(IN_TWENTY_S)
    household = home.household.model_dump(mode="json") | {"pets": [cat]}
    proved = one(Home.model_validate(home.model_dump(mode="json") | {"household": household}))
    assert proved.verdict is ProofVerdict.BREACHED
    (seen,) = [beat for beat in proved.counterexample if "living_eye" in beat.devices]
    assert seen.place.endswith("Living eye may see the pet: Cat")
    assert "Alarm: living_zone" in seen.output


def test_who_cannot_unset__is_breached(two_rooms: Made) -> None:
    """The habit that holds for the owner is breached for the same person without a code; the proof no longer unsets."""
    home = two_rooms(IN_TWENTY_S)
    (owner,) = home.household.people
    people = (owner.model_copy(update={"can_unset": False}),)
    helpless = home.model_copy(update={"household": home.household.model_copy(update={"people": people})})
    assert (one(home).verdict, one(helpless).verdict) == (ProofVerdict.HOLDS, ProofVerdict.BREACHED)
