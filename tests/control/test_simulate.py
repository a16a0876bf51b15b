"""Habits played through the unit: the demo home's lead where they should; scenarios worked out by hand agree."""

import itertools
from pathlib import Path

import pytest

from alarmlib.calc.plan.floor_plan import Place, plan_from_home
from alarmlib.calc.walking.walkers import walker_of
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.habit_words import _line
from alarmlib.control.machine import run
from alarmlib.control.signals import LogLine, Reason, Timer, UnitEvent
from alarmlib.control.simulate import HabitRun, UnitPlayer, begin_state, simulate, simulate_all
from alarmlib.errors import FieldProblem
from alarmlib.model.control_unit import Area, ControlUnit, DoorTimes, PartSet, Times, Zone
from alarmlib.model.devices import DeviceEntry
from alarmlib.model.home import Home, Rules
from alarmlib.model.household import BeginsIn, Deed, Expected, Habit, HabitStep, Household, Person, Pet, Visitor
from alarmlib.model.site import Opening, OpeningKind, Passage, Room, Site, Storey
from alarmlib.model.words import DeviceKind, Function, RuleSet

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture(scope="module")
def demo() -> Home:
    return Home.model_validate_json(DEMO.read_text(encoding="utf-8"), strict=True)


@pytest.fixture(scope="module")
def runs(demo: Home) -> dict[str, HabitRun]:
    return {run.habit: run for run in simulate_all(demo)}


def changed(home: Home, **unit: object) -> Home:
    """The home with these facts of its control unit changed."""
    return home.model_copy(update={"control_unit": home.control_unit.model_copy(update=unit)})


def habit_of(home: Home, id_: str) -> Habit:
    return next(habit for habit in home.household.habits if habit.id == id_)


def with_entry(home: Home, entry_s: float) -> Home:
    """The home with one entry delay for every door."""
    doors = tuple(door.model_copy(update={"entry_s": entry_s}) for door in home.control_unit.times.doors)
    times = home.control_unit.times.model_copy(update={"entry_s": entry_s, "doors": doors})
    return changed(home, times=times, seasons=())


def with_zone(home: Home, id_: str, function: Function) -> Home:
    zones = tuple(z.model_copy(update={"function": function}) if z.id == id_ else z for z in home.control_unit.zones)
    return changed(home, zones=zones)


# The demo home.


def test_every_demo_habit_leads_where_it_should(runs: dict[str, HabitRun]) -> None:
    wrong = [run.sentence for run in runs.values() if not run.as_expected]
    assert wrong == []


def test_every_demo_habit_is_played(demo: Home, runs: dict[str, HabitRun]) -> None:
    """One run a habit, and each step of it begins in a moment of its own."""
    assert set(runs) == {habit.id for habit in demo.household.habits}
    for habit in demo.household.habits:
        told = " ".join(moment.place for moment in runs[habit.id].moments)
        assert all(step.deed.text in told for step in habit.steps), habit.id


@pytest.mark.parametrize("habit", ["shopping", "garage_then_pass_door", "child_runs_through", "slow_home"])
def test_delay_shorter_than_the_walk_rings(demo: Home, habit: str) -> None:
    """With 10 s everybody who carries, is slow or walks through is too late."""
    assert simulate(with_entry(demo, 10), habit_of(demo, habit)).reached is Expected.ALARM


def test_delay_as_long_as_the_walk_has_no_margin_left(demo: Home, runs: dict[str, HabitRun]) -> None:
    """The margin is what can be taken from the delay: all but one second of it may go, all of it rings."""
    margin_s = runs["shopping"].margin_s
    assert margin_s is not None
    habit = habit_of(demo, "shopping")
    last = simulate(with_entry(demo, 40 - margin_s + 1), habit)
    assert (last.reached, last.margin_s) == (Expected.QUIET, 1)
    assert simulate(with_entry(demo, 40 - margin_s), habit).reached is Expected.ALARM


def test_zone_at_once_on_the_way_in_rings(demo: Home) -> None:
    """The kitchen's detector must wait: as a zone inside that alarms at once it rings at the shopping."""
    wrong = simulate(with_zone(demo, "kitchen_motion", Function.AT_ONCE), habit_of(demo, "shopping"))
    assert wrong.reached is Expected.ALARM and wrong.moving


def test_shock_without_confirmation_rings(demo: Home) -> None:
    zones = tuple(zone.model_copy(update={"confirmed_by": ""}) for zone in demo.control_unit.zones)
    assert simulate(changed(demo, zones=zones), habit_of(demo, "gardener_shakes_gate")).reached is Expected.ALARM


def test_early_riser_not_let_out_rings(demo: Home) -> None:
    """Without being let out, the watched hall rings under the early riser."""
    habit = habit_of(demo, "early_riser")
    steps = tuple(step for step in habit.steps if step.deed is not Deed.LET_OUT)
    assert simulate(demo, habit.model_copy(update={"steps": steps})).reached is Expected.ALARM


def test_window_that_is_not_left_out_holds_up_setting(demo: Home) -> None:
    part_sets = tuple(
        part.model_copy(update={"left_out": tuple(zone for zone in part.left_out if zone != "teen_window")})
        for part in demo.control_unit.part_sets
    )
    run_ = simulate(changed(demo, part_sets=part_sets), habit_of(demo, "window_on_latch"))
    assert run_.reached is Expected.REFUSED


def test_dog_that_climbs_rings(demo: Home) -> None:
    """A dog that climbs onto furniture is seen in the kitchen while nobody is in; one on the floor is not."""
    pets = tuple(pet.model_copy(update={"reaches_m": 0.8}) for pet in demo.household.pets)
    home = demo.model_copy(update={"household": demo.household.model_copy(update={"pets": pets})})
    assert simulate(home, habit_of(demo, "gardener_shakes_gate")).reached is Expected.ALARM


def test_walk_passes_the_rooms_between(demo: Home) -> None:
    """From the pass door to the hall keypad: utility room, kitchen, hall, in this order and no other."""
    ground = HabitGround(demo)
    person = demo.household.people[0]
    place = {d.id: Place(d.room, d.at) for d in demo.whole_devices if d.id == "hall_keypad"}["hall_keypad"]
    stroll = ground.stroll(Place("utility", (12.0, 4.5)), place, walker_of(person))
    order = list(dict.fromkeys(room for rooms in stroll.rooms for room in sorted(rooms, reverse=True)))
    assert order == ["utility", "kitchen", "hall"]
    assert len(stroll.rooms) == -(-stroll.seconds // 1)
    assert [door for _, door in stroll.doors] == ["kitchen_utility", "hall_kitchen"]


def test_remembered_seconds_change_nothing(demo: Home) -> None:
    """Playing with memory gives the very trace of the machine."""
    setup = setup_from_home(demo)
    trace = simulate(demo, habit_of(demo, "forgotten"), setup, plan_from_home(demo)).trace
    player = UnitPlayer(setup)
    begin = begin_state(habit_of(demo, "forgotten"), player)
    assert run(setup, {second.at_s: second.inputs for second in trace}, len(trace), begin) == trace


# A home of two rooms, worked out by hand: entry delay 20 s, exit delay 25 s, no plan, seconds by stopwatch.


def small(*steps: HabitStep, begins_in: BeginsIn = BeginsIn.SET_FULL, starts_at: str = "front", **more: object) -> Home:
    """Hall with front door, contact, motion (entry route) and keypad; living room with motion (at once)."""
    habit = Habit(id="one", name="One", who="owner", starts_at=starts_at, begins_in=begins_in, steps=steps)
    zones = (
        Zone(id="door", label="Door", function=Function.ENTRY_EXIT, areas=("house",)),
        Zone(id="hall_zone", label="Hall", function=Function.ENTRY_ROUTE, areas=("house",)),
        Zone(id="living_zone", label="Living room", function=Function.AT_ONCE, areas=("house",)),
    )
    devices = (
        DeviceEntry(
            id="contact", name="Contact", kind=DeviceKind.CONTACT, room="hall", openings=("front",), zone="door"
        ),
        DeviceEntry(id="hall_eye", name="Hall eye", kind=DeviceKind.MOTION, room="hall", zone="hall_zone"),
        DeviceEntry(id="living_eye", name="Living eye", kind=DeviceKind.MOTION, room="living", zone="living_zone"),
        DeviceEntry(id="keypad", name="Keypad", kind=DeviceKind.KEYPAD, room="hall"),
    )
    return Home(
        rules=Rules(rule_set=RuleSet.EUROPE),
        site=Site(
            storeys=(Storey(id="ground", name="Ground"),),
            rooms=(Room(id="hall", name="Hall", storey="ground"), Room(id="living", name="Living", storey="ground")),
            openings=(Opening(id="front", name="Front", room="hall", kind=OpeningKind.DOOR, entry_exit=True),),
            passages=(Passage(id="inner", first="hall", second="living", seconds=4),),
        ),
        household=Household(people=(Person(id="owner", role="Owner"),), habits=(habit,), **more),
        control_unit=ControlUnit(
            areas=(Area(id="house", name="House"),),
            zones=zones,
            times=Times(entry_s=20, exit_s=25, siren_s=90, doors=(DoorTimes(id="f", opening="front", entry_s=20),)),
            part_sets=(PartSet(id="night", name="Night", area="house", left_out=("hall_zone",)),),
        ),
        devices=devices,
    )


def played(home: Home) -> HabitRun:
    return simulate(home, home.household.habits[0])


_number = itertools.count(1)


def step(deed: Deed, place: str = "", seconds: float | None = None) -> HabitStep:
    return HabitStep(id=f"step_{next(_number)}", deed=deed, place=place, seconds=seconds)


def test_by_hand_home_in_time() -> None:
    """Door opens at 0 s and starts 20 s; 2 s at the door, 6 s of walk, 4 s of keying: 12 s, so 8 s are left."""
    home = small(step(Deed.OPEN, "front", 2), step(Deed.WALK_TO, "keypad", 6), step(Deed.UNSET, "keypad", 4))
    run_ = played(home)
    assert (run_.reached, run_.margin_s, run_.margin_of) == (Expected.QUIET, 8, "entry delay")


def test_by_hand_too_late() -> None:
    """2 s, 6 s and 12 s at the keypad make 20 s: the delay ends in that second, before the code is done.

    One second later still, the siren is heard: it begins at 20 s and stops at 21 s.
    """
    door, walk = step(Deed.OPEN, "front", 2), step(Deed.WALK_TO, "keypad", 6)
    just = played(small(door, walk, step(Deed.UNSET, "keypad", 12)))
    late = played(small(door, walk, step(Deed.UNSET, "keypad", 13)))
    assert (just.reached, just.margin_s, late.reached) == (Expected.ALARM, 0, Expected.ALARM)
    assert [second.at_s for second in late.trace if second.outputs.sirens] == [20]


def test_by_hand_leaving() -> None:
    """Set at 5 s with 25 s to leave; at the door at 8 s, closed at 11 s: 19 s are left, set at 30 s."""
    home = small(
        step(Deed.SET_FULL, "keypad", 5), step(Deed.WALK_TO, "front", 3), step(Deed.OPEN, "front", 2),
        step(Deed.CLOSE, "front", 1), begins_in=BeginsIn.UNSET, starts_at="keypad",
    )  # fmt: skip
    run_ = played(home)
    set_at = [second.at_s for second in run_.trace for line in second.outputs.log if line.event.value == "set"]
    assert (run_.reached, run_.margin_s, run_.margin_of, set_at) == (Expected.QUIET, 19, "exit delay", [30])


def test_by_hand_round_by_the_living_room() -> None:
    """The living room's detector is at once: whoever goes there before unsetting rings, if it sees them at all."""
    home = small(step(Deed.OPEN, "front", 2), step(Deed.WALK_TO, "living", 4), step(Deed.WALK_TO, "keypad", 4),
                 step(Deed.UNSET, "keypad", 4))  # fmt: skip
    run_ = played(home)
    first_siren = next(second.at_s for second in run_.trace if second.outputs.sirens)
    assert (run_.reached, run_.moving, first_siren) == (Expected.ALARM, True, 2)
    assert not run_.as_expected and "should lead to" in run_.sentence


def test_going_out_leaves_the_hall_still_and_staying_in_does_not() -> None:
    """Who opens and shuts the door and then walks on indoors is still in; setting then waits for the hall."""
    leave = (step(Deed.SET_FULL, "keypad", 5), step(Deed.OPEN, "front", 2), step(Deed.CLOSE, "front", 1))
    goes = played(small(*leave, begins_in=BeginsIn.UNSET, starts_at="keypad"))
    stays = played(small(*leave, step(Deed.WALK_TO, "living", 40), begins_in=BeginsIn.UNSET, starts_at="keypad"))
    assert (goes.reached, stays.reached) == (Expected.QUIET, Expected.REFUSED)


def test_pet_is_seen_only_where_it_is_free() -> None:
    for room, reached in (("living", Expected.ALARM), ("hall", Expected.ALARM)):
        cat = Pet(id="cat", kind="Cat", mass_kg=4, reaches_m=1.5, free_when_empty=(room,))
        assert played(small(step(Deed.WAIT, "", 5), pets=(cat,))).reached is reached
    assert played(small(step(Deed.WAIT, "", 5))).reached is Expected.QUIET


def test_habit_that_cannot_begin_is_refused_in_a_sentence() -> None:
    home = small(step(Deed.WAIT, "", 1))
    habit = home.household.habits[0].model_copy(update={"begins_in": BeginsIn.PART_SET})
    with pytest.raises(FieldProblem) as found:
        simulate(home, habit)
    assert "choose a way in which the control unit can be set" in str(found.value)


def test_habit_that_leads_nowhere_does_not_hide_the_others() -> None:
    """In the list of all runs it says what is wrong; the others are played."""
    home = small(step(Deed.WAIT, "", 1))
    good = home.household.habits[0]
    lost = good.model_copy(update={"id": "lost", "starts_at": "", "steps": (step(Deed.WALK_TO, "keypad"),)})
    household = home.household.model_copy(update={"habits": (lost, good)})
    runs = simulate_all(home.model_copy(update={"household": household}))
    assert [run_.reached for run_ in runs] == [None, Expected.QUIET]
    assert "could not be played" in runs[0].sentence and not runs[0].as_expected


@pytest.mark.parametrize("place", ["hall", "keypad", "front", "house", ""])
def test_setting_a_part_set_at_what_is_none__is_reported_and_the_others_are_played(place: str) -> None:
    """Seen before: a step “set a part set” at a room ended everything; with no place it set the unit as for leaving."""
    home = small(step(Deed.WAIT, "", 1), step(Deed.SET_PART, place, 3), begins_in=BeginsIn.UNSET, starts_at="hall")
    wrong = home.household.habits[0]
    right = wrong.model_copy(update={"id": "right", "steps": (step(Deed.SET_PART, "night", 3),)})
    household = home.household.model_copy(update={"habits": (wrong, right)})
    said, played_ = simulate_all(home.model_copy(update={"household": household}))
    assert said.sentence == (
        "One: could not be played. Step 2 (set a part set) names no part set. Choose one under “Where”: “Night”."
    )
    assert played_.reached is Expected.QUIET and played_.play is not None
    assert any(line.event.value == "set" for second in played_.trace for line in second.outputs.log)
    bare = changed(home, part_sets=())
    assert "Enter a part set first" in simulate_all(bare)[0].problem


def test_part_set_named_like_an_area__is_the_part_set() -> None:
    """A second area called “night” does not take the place of the part set of that id."""
    home = small(step(Deed.SET_PART, "night", 3), begins_in=BeginsIn.UNSET, starts_at="hall")
    areas = (*home.control_unit.areas, Area(id="night", name="Night"))
    assert played(changed(home, areas=areas)).reached is Expected.QUIET


def test_step_that_cannot_be_done__is_named_by_number_without_ids() -> None:
    """Each names the step and what to choose; nothing in it is an id."""
    cases = {
        (Deed.WALK_TO, "house"):
            "Step 1 (walk to) leads to no place on the plan. Choose a room, a door or a mounted device.",
        (Deed.INHIBIT, "hall"):
            "Step 1 (leave out this time) names no zone. "
            "Choose one under “Where”, or a way in or device of a zone.",
    }  # fmt: skip
    for (deed, place), words in cases.items():
        assert simulate_all(small(step(deed, place, 1), starts_at="hall"))[0].problem == words


# Who cannot unset the alarm, and what pets trip.


def test_who_cannot_unset__keys_in_vain() -> None:
    """A visitor who is not ticked "Can unset the alarm" has no code: the same quiet steps of the owner ring."""
    steps = (step(Deed.OPEN, "front", 2), step(Deed.WALK_TO, "keypad", 6), step(Deed.UNSET, "keypad", 4))
    guest = Visitor(id="guest", role="Guest")
    home = small(*steps, visitors=(guest,))
    assert played(home).reached is Expected.QUIET
    one = home.household.habits[0].model_copy(update={"who": "guest"})
    run_ = simulate(home, one)
    assert run_.reached is Expected.ALARM
    assert run_.play is not None and run_.play.told.in_vain == ("Guest",)
    able = home.household.model_copy(update={"visitors": (guest.model_copy(update={"can_unset": True}),)})
    assert simulate(home.model_copy(update={"household": able}), one).reached is Expected.QUIET


def test_pet_that_trips__is_shown(demo: Home) -> None:
    """The moment in which a dog that climbs sets it off names dog and detector; a dog on the floor is in none."""
    pets = tuple(pet.model_copy(update={"reaches_m": 0.8}) for pet in demo.household.pets)
    home = demo.model_copy(update={"household": demo.household.model_copy(update={"pets": pets})})
    run_ = simulate(home, habit_of(demo, "gardener_shakes_gate"))
    (first, *_) = [moment for moment in run_.moments if "Siren" in moment.output]
    assert any("Kitchen" in device and "may see the pet: Dog" in device for device in first.devices)
    quiet = simulate(demo, habit_of(demo, "gardener_shakes_gate"))
    assert not any("pet" in moment.sentence for moment in quiet.moments)


def test_a_refusal_in_the_log_is_told_in_words() -> None:
    """Seen before: “Refused: not_part_set” was told beside the sentence that says so."""
    for reason in Reason:
        told = _line(LogLine(UnitEvent.REFUSED, reason.value, next(iter(Timer))), {})
        assert told == f"Refused: {reason.text}"
