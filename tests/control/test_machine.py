"""The state and the step as a program meets them: shape, parts that can be taken apart, words, the home's setup."""

import json
import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.control import inputs as i
from alarmlib.control.describe import describe
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.functions import CELLS, OURS, Situation
from alarmlib.control.layout import A, U
from alarmlib.control.machine import run, step
from alarmlib.control.setup import DoorAtEnd, OffRouteTrip, Override, Setup, ZoneAtEnd, start_state
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, ZoneSetup
from alarmlib.model.home import Home
from alarmlib.model.words import Function, RuleSet
from alarmlib.sources import cite


def test_the_table_has_no_empty_cell() -> None:
    """Every function in every situation has an action, a source or our own decision, and a sentence."""
    assert set(CELLS) == {(function, situation) for function in Function for situation in Situation}
    for cell in CELLS.values():
        assert cell.sentence.endswith(".")
        assert cell.source == OURS or str(cite(cell.source))


def test_the_state_is_flat_and_of_small_whole_numbers(scenario_house: Setup) -> None:
    """A tuple of ints whose length the setup knows, equal for equal histories."""
    state = run(scenario_house, {0: [i.SetArea("house")], 2: [i.Opens("front")]}, 20)[-1].state
    assert len(state) == scenario_house.layout.size
    assert {type(int(number)) for number in state} == {int}
    assert hash(state) == hash(run(scenario_house, {0: [i.SetArea("house")], 2: [i.Opens("front")]}, 20)[-1].state)


@pytest.mark.parametrize(
    "event",
    [i.Opens("nowhere"), i.SetArea("nowhere"), i.SetArea("house", "nowhere"), i.Inhibit("nowhere"), i.FaultEnds("no")],
)
def test_an_unknown_name_is_refused(scenario_house: Setup, event: i.Input) -> None:
    """An input that names what the setup has not is a `KeyError`."""
    with pytest.raises(KeyError):
        step(scenario_house, start_state(scenario_house), [event])


def any_inputs(setup: Setup) -> st.SearchStrategy[list[list[i.Input]]]:
    """Up to 40 seconds of anything."""
    devices = sorted(setup.layout.device_of)
    areas = sorted(setup.layout.area_of)
    parts = {area: sorted(setup.layout.area_of[area].set_of) for area in areas}
    sets_at = [
        i.SetArea(area, part, outside=outside, override=override)
        for area in areas
        for part in parts[area]
        for outside in (False, True)
        for override in (False, True)
    ]
    one = st.one_of(
        st.builds(i.Opens, st.sampled_from([d for d in devices if setup.layout.device_of[d].lasting])),
        st.builds(i.Closes, st.sampled_from([d for d in devices if setup.layout.device_of[d].lasting])),
        st.builds(i.Sees, st.sampled_from([d for d in devices if not setup.layout.device_of[d].lasting])),
        st.sampled_from(sets_at),
        st.builds(i.UnsetArea, st.sampled_from(areas)),
        st.builds(i.Inhibit, st.sampled_from(sorted(setup.layout.zone_of))),
        st.builds(i.Silence, st.sampled_from(areas)),
        st.builds(i.Reset, st.sampled_from(areas)),
        st.sampled_from([i.PowerLost(), i.PowerBack(), i.WrongCode(), i.LetOut("house", "front"), i.TestStart()]),
    )
    return st.lists(st.lists(one, max_size=3), max_size=40)


def two_areas() -> Setup:
    """Two areas with nothing in common."""
    zones = []
    for area in ("house", "shed"):
        zones += [
            ZoneSetup(f"{area}_front", Function.ENTRY_EXIT, (area,), repeat_limit=2),
            ZoneSetup(f"{area}_hall", Function.ENTRY_ROUTE, (area,), (DeviceSetup(f"{area}_hall", False, 3),)),
            ZoneSetup(f"{area}_window", Function.AT_ONCE, (area,), repeat_limit=2),
        ]
    part = PartSetup("night", frozenset({"house_hall", "shed_hall"}))
    return Setup(tuple(AreaSetup(area, 3, 4, 6, 2, (part,)) for area in ("house", "shed")), tuple(zones))


BOTH = two_areas()
ALONE = Setup(BOTH.areas[:1], BOTH.zones[:3])
HOUSE_EVENTS = [
    i.Opens("house_front"),
    i.Closes("house_front"),
    i.Sees("house_hall"),
    i.Opens("house_window"),
    i.Closes("house_window"),
    i.SetArea("house"),
    i.SetArea("house", "night"),
    i.SetArea("house", outside=True),
    i.UnsetArea("house"),
    i.Inhibit("house_window"),
]
SHED_EVENTS = [
    i.Opens("shed_front"),
    i.Closes("shed_front"),
    i.Sees("shed_hall"),
    i.SetArea("shed"),
    i.UnsetArea("shed"),
]


@given(
    st.lists(st.tuples(st.lists(st.sampled_from(HOUSE_EVENTS), max_size=2), st.sampled_from(SHED_EVENTS)), max_size=40)
)
def test_areas_can_be_taken_apart(seconds: list[tuple[list[i.Input], i.Input]]) -> None:
    """The house does the same with the shed beside it as alone: its area numbers and zone numbers are equal."""
    both, alone = start_state(BOTH), start_state(ALONE)
    for house, shed in seconds:
        both, _ = step(BOTH, both, [*house, shed])
        alone, _ = step(ALONE, alone, house)
        width = len(U) + len(A)
        assert both[:width] == alone[:width]
        for name in ("house_front", "house_hall", "house_window"):
            there, here = BOTH.layout.zone_of[name].base, ALONE.layout.zone_of[name].base
            assert both[there : there + 6] == alone[here : here + 6]


@given(st.lists(st.lists(st.sampled_from(HOUSE_EVENTS[:3] + HOUSE_EVENTS[5:9]), max_size=2), max_size=40))
def test_zones_that_stay_still_can_be_left_out_of_a_cone(seconds: list[list[i.Input]]) -> None:
    """`only` some zones: all that is given out is the same while the others do nothing."""
    fewer = ALONE.only(["house_front", "house_hall"])
    assert [zone.id for zone in fewer.zones] == ["house_front", "house_hall"]
    full, small = start_state(ALONE), start_state(fewer)
    for events in seconds:
        full, out = step(ALONE, full, events)
        small, same = step(fewer, small, events)
        assert out == same


@given(st.data())
def test_anything_may_happen_and_words_are_found(scenario_house: Setup, data: st.DataObject) -> None:
    """Whatever comes, in any order: a state of the same shape, no negative number, and a sentence an area."""
    state = start_state(scenario_house)
    for events in data.draw(any_inputs(scenario_house)):
        state, _ = step(scenario_house, state, events)
        assert len(state) == scenario_house.layout.size
        assert min(state) >= 0
        assert describe(scenario_house, state).endswith(".")


def test_describe_says_what_counts(scenario_house: Setup) -> None:
    """A few states in words."""
    trace = run(
        scenario_house,
        {0: [i.OutOfUse("leak"), i.SetArea("house")], 10: [i.Opens("front")], 16: [i.PowerLost()]},
        17,
    )
    assert describe(scenario_house, trace[2].state) == (
        "house is being set (nobody in), 4 s to leave. shed is unset. Out of use: leak."
    )
    assert "house is set (nobody in), 3 s to unset." in describe(scenario_house, trace[11].state)
    assert "the siren sounds for burglary (7 s left), a message is held for 2 s." in describe(
        scenario_house, trace[15].state
    )
    assert describe(scenario_house, trace[16].state) == "The control unit has no power."


def home_of(rule_set: RuleSet = RuleSet.US, **unit: Any) -> Home:
    """A home with a hall, a front door and little more."""
    zones = [
        {"id": "front", "label": "front door", "function": "entry_exit"},
        {"id": "stairs", "label": "stairs", "function": "at_once", "confirmed_by": "front"},
    ]
    devices = [
        {"id": "stairs_eye", "name": "stairs", "kind": "motion", "zone": "stairs", "sleep_s": 170},
        {"id": "old_eye", "name": "old", "kind": "motion", "zone": "stairs", "state": "removed"},
    ]
    return Home.model_validate(
        {"name": "x", "rules": {"rule_set": rule_set}, "control_unit": {"zones": zones} | unit, "devices": devices}
    )


def test_the_stated_defaults_of_each_countrys_rules() -> None:
    """Where the manual says nothing, the habit of the country's rules is taken."""
    us, europe = setup_from_home(home_of()), setup_from_home(home_of(RuleSet.EUROPE))
    assert (us.behaviour.off_route, europe.behaviour.off_route) == (OffRouteTrip.ALARM, OffRouteTrip.BLOCKS)
    assert (us.behaviour.door_at_end, europe.behaviour.door_at_end) == (DoorAtEnd.EXIT_ERROR, DoorAtEnd.NOT_SET)
    assert (us.behaviour.zone_at_end, europe.behaviour.zone_at_end) == (ZoneAtEnd.ALARM, ZoneAtEnd.NOT_SET)
    assert (us.behaviour.override, europe.behaviour.override) == (Override.INHIBITS_OPEN, Override.ONE_SET_PERIOD)
    assert (us.zones[0].repeat_limit, europe.zones[0].repeat_limit) == (2, 0)
    area = us.areas[0]
    assert (area.id, area.exit_s, area.entry_s, area.siren_s, area.abort_s) == ("house", 60, 30, 300, 30)


def test_the_manual_wins_over_the_defaults() -> None:
    """What the owner's manual says is taken, whatever the country's rules."""
    said = {
        "off_route_in_exit": "at_once",
        "still_open_at_end": "exit_error",
        "open_at_setting": "refuses",
        "later_door_shortens": True,
        "exit_ends_by": "door",
        "repeat_trip_limit": 3,
        "confirmation_s": 40,
    }
    setup = setup_from_home(home_of(RuleSet.EUROPE, behaviour=said, times={"siren_s": 170, "abort_s": 0}))
    facts = setup.behaviour
    assert (facts.off_route, facts.door_at_end, facts.override) == (
        OffRouteTrip.ALARM,
        DoorAtEnd.EXIT_ERROR,
        Override.NOT_OFFERED,
    )
    assert facts.later_door_shortens
    assert facts.exit_ends_by_door
    assert [zone.repeat_limit for zone in setup.zones] == [3, 3]
    assert [zone.confirm_s for zone in setup.zones] == [0, 40]
    assert (setup.areas[0].siren_s, setup.areas[0].abort_s) == (170, 0)


def test_devices_and_seasons_of_a_home() -> None:
    """A device taken out is not there; a season changes a zone and the times."""
    season = {"id": "winter", "name": "Winter", "entry_s": 50, "zones": [{"zone": "stairs", "out_of_use": True}]}
    home = home_of(seasons=[season])
    stairs = setup_from_home(home).zones[1]
    assert stairs.devices == (DeviceSetup("stairs_eye", lasting=False, sleep_s=170),)
    winter = setup_from_home(home, "winter")
    assert (winter.areas[0].entry_s, winter.zones[1].out_of_use) == (50, True)
    with pytest.raises(KeyError):
        setup_from_home(home, "summer")


def test_a_home_written_and_read_gives_the_same_setup() -> None:
    """Through JSON and back: the same setup."""
    home = home_of()
    assert setup_from_home(Home.model_validate(json.loads(home.model_dump_json()))) == setup_from_home(home)


def test_the_order_within_a_second_is_the_order_given(scenario_house: Setup) -> None:
    """Door then code is an entry in time; code then door is a door in a house that is unset."""
    when_set = run(scenario_house, {0: [i.SetArea("house", outside=True)]}, 3)[-1].state
    _, out = step(scenario_house, when_set, [i.Opens("front"), i.UnsetArea("house")])
    _, other = step(scenario_house, when_set, [i.UnsetArea("house"), i.Opens("front")])
    assert [line.event.value for line in out.log] == ["trip", "entry", "unset"]
    assert [line.event.value for line in other.log] == ["unset", "trip"]


def test_a_household_in_simpy_hears_the_same_alarms() -> None:
    """200 seeded days of arriving, keying in time or late, modelled on its own in SimPy: the same alarm seconds."""
    simpy = pytest.importorskip("simpy")
    for seed in range(200):
        plan = day(random.Random(seed))
        assert sirens_by_step(plan) == sirens_by_simpy(simpy, plan), seed


test_a_household_in_simpy_hears_the_same_alarms = pytest.mark.outside(test_a_household_in_simpy_hears_the_same_alarms)

EXIT_S, ENTRY_S, SIREN_S, ABORT_S = 20, 15, 40, 10
SETUP = Setup(
    (AreaSetup("house", EXIT_S, ENTRY_S, SIREN_S, ABORT_S),), (ZoneSetup("front", Function.ENTRY_EXIT, ("house",)),)
)
Visit = tuple[int, int, int]


def day(chance: random.Random) -> list[Visit]:
    """Each visit: seconds after the house was left until somebody opens the door, until the code, until leaving."""
    return [(chance.randint(25, 90), chance.randint(1, 30), chance.randint(5, 60)) for _ in range(6)]


def sirens_by_step(plan: list[Visit]) -> tuple[list[int], list[int]]:
    """Seconds in which the siren begins and in which messages go out, by the control unit."""
    events: dict[int, list[i.Input]] = {}
    now = 0
    for away_s, code_s, home_s in plan:
        events[now] = [i.SetArea("house")]
        events[now + 3] = [i.Opens("front")]
        events[now + 5] = [i.Closes("front")]
        now += away_s
        events[now] = [i.Opens("front")]
        events[now + code_s] = [i.UnsetArea("house")]
        now += code_s
        events.setdefault(now, []).append(i.Closes("front"))
        now += home_s
    trace = run(SETUP, events, now + 100)
    begins = [second.at_s for second in trace if any(line.event.value == "alarm" for line in second.outputs.log)]
    return begins, [second.at_s for second in trace for message in second.outputs.messages if message.about]


def sirens_by_simpy(simpy: Any, plan: list[Visit]) -> tuple[list[int], list[int]]:
    """The same household with processes and interrupts; no code of the control unit."""
    world, alarms, sent = simpy.Environment(), [], []

    def delay() -> Any:
        try:
            yield world.timeout(ENTRY_S)
            alarms.append(int(world.now))
            yield world.timeout(ABORT_S)
            sent.append(int(world.now))
        except simpy.Interrupt:
            return

    def household() -> Any:
        for away_s, code_s, home_s in plan:
            yield world.timeout(away_s)
            running = world.process(delay())
            yield world.timeout(code_s)
            yield world.timeout(0)  # what ends in this second ends before the code
            if running.is_alive:
                running.interrupt()
            yield world.timeout(home_s)

    world.process(household())
    world.run()
    return alarms, sent
