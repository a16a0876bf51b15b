"""The unit proved alone: the demo home keeps every rule; what is left away when a part is explored changes nothing."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.control import inputs as i
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.layout import A, State, U, Z
from alarmlib.control.machine import step
from alarmlib.control.setup import Behaviour, Setup, start_state
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, WatchSetup, ZoneSetup
from alarmlib.control.signals import Outputs
from alarmlib.model.home import Home
from alarmlib.model.words import FaultKind, Function
from alarmlib.proof.report.verdicts import ProofVerdict, Proved
from alarmlib.proof.unit import alone
from alarmlib.proof.unit.alone_counterexample import same_places
from alarmlib.proof.unit.cones import Cone, Family, cones_of
from alarmlib.proof.unit.input_alphabet import can_happen, holder_of
from alarmlib.proof.unit.rules import ONE_OUTCOME, RULES
from alarmlib.proof.unit.timer_abstraction import explore

HOUSE, SHED = ("house",), ("shed",)


@pytest.fixture(scope="module")
def proved(demo: Home) -> tuple[Proved, ...]:
    """Every rule on the demo home, all seasons."""
    return alone.alone_proved(demo)


def test_the_demo_home_keeps_every_rule(proved: tuple[Proved, ...]) -> None:
    """Each rule is asked once, of some states, and holds."""
    assert [each.id for each in proved] == [f"unit/{rule.id}" for rule in RULES] + [f"unit/{ONE_OUTCOME}"]
    assert {each.verdict for each in proved} == {ProofVerdict.HOLDS}
    assert all(each.states and each.sentence.endswith(".") for each in proved)


def test_the_sentences_name_the_units_own_facts(proved: tuple[Proved, ...]) -> None:
    """Siren time, wrong codes and repeat-trip limit are those of the home."""
    sentence = {each.id: each.sentence for each in proved}
    assert "(180 s)" in sentence["unit/siren_time"]
    assert sentence["unit/codes_limited"].startswith("6 wrong codes in a row lock the keypads for 120 s")
    assert "3 times" in sentence["unit/water_and_low_temperature"]


def test_every_zone_is_explored_or_stood_for(demo: Home) -> None:
    """No zone and nothing watched is forgotten, but zones without use."""
    setup = setup_from_home(demo)
    for family, names in (
        (Family.USE, {zone.id for zone in setup.zones if zone.function is not Function.UNUSED}),
        (Family.FAULT, {watch.id for watch in setup.watches}),
    ):
        cones = [cone for cone in cones_of(setup) if cone.family is family]
        named = [name for cone in cones for name in (cone.about[0], *cone.covers)]
        assert sorted(named) == sorted(names)


def test_every_door_is_paired_with_every_zone_of_its_area(demo: Home) -> None:
    """Each pair of a delay and another zone of its area is explored or covered, but for zones that need confirming."""
    setup = setup_from_home(demo)
    pairs = {name for cone in cones_of(setup) if cone.family is Family.BESIDE for name in cone.covers}
    pairs |= {" + ".join(cone.about) for cone in cones_of(setup) if cone.family is Family.BESIDE}
    for door in ("front_door", "back_door", "garage_door"):
        for other in ("hall_motion", "study_window", "living_motion", "cellar_light", "smoke", "landing_motion"):
            assert f"{door} + {other}" in pairs
    assert "studio_door + studio_key" in pairs
    assert "back_door + garage_window" not in pairs


def test_progress_is_told_to_the_end(demo: Home) -> None:
    """From none to all."""
    heard: list[tuple[int, int]] = []
    alone.alone_proved(demo, lambda _, done, of: heard.append((done, of)))
    assert heard[0][0] == 0
    assert heard[-1][0] == heard[-1][1] == len(heard) - 1


def test_a_change_explores_again_only_what_it_touches(demo: Home) -> None:
    """Another entry delay of the studio leaves most cones as they were."""
    setup = setup_from_home(demo)
    zones = tuple(replace(zone, entry_s=31) if zone.id == "studio_door" else zone for zone in setup.zones)
    before = {(cone.setup, cone.family) for cone in cones_of(setup)}
    after = {(cone.setup, cone.family) for cone in cones_of(replace(setup, zones=zones))}
    assert len(after - before) <= 1


def whole_house() -> Setup:
    """A house and a shed with nearly everything that is left away when a zone is explored."""
    zones = (
        ZoneSetup("window", Function.AT_ONCE, HOUSE, (DeviceSetup("left"), DeviceSetup("right")), repeat_limit=2),
        ZoneSetup("front", Function.ENTRY_EXIT, HOUSE, chime=True, repeat_limit=2),
        ZoneSetup("hall", Function.ENTRY_ROUTE, HOUSE, (DeviceSetup("hall", lasting=False, sleep_s=4),)),
        ZoneSetup("smoke", Function.FIRE, HOUSE),
        ZoneSetup("shed_door", Function.ENTRY_EXIT, SHED),
    )
    out = frozenset({"hall"})
    parts = (PartSetup("night", out, exit_s=0), PartSetup("evening", out, exit_s=0), PartSetup("bed", exit_s=3))
    areas = (AreaSetup("house", 4, 3, 5, 2, parts), AreaSetup("shed", 4, 3, 5))
    watches = (WatchSetup("mains", FaultKind.MAINS, hold_s=2, areas=("house", "shed")),)
    facts = Behaviour(recent_closing_s=3, siren_cap_s=4, siren_cap_quiet_s=9, exit_last_s=2, ignore_after_power_s=3)
    return Setup(areas, zones, watches, facts)


WHOLE = whole_house()
BY_NAME = {(cone.about, cone.family): cone for cone in cones_of(WHOLE)}
PARTS = ("", "night", "evening", "bed")
ASKED: list[i.Input] = [
    *(i.SetArea("house", part, outside=out) for part in PARTS for out in (False, True)),
    i.SetArea("house", override=True),
    i.UnsetArea("house"),
    i.Silence("house"),
    i.Reset("house"),
]
FELT: dict[str, list[i.Input]] = {
    "window": [i.Opens("left"), i.Closes("left"), i.Opens("right"), i.Closes("right")],
    "front": [i.Opens("front"), i.Closes("front"), i.LetOut("house", "front")],
    "hall": [i.Sees("hall")],
}
SINGLE = [event for event in ASKED if not (isinstance(event, i.SetArea) and event.outside)]


def seconds_of(zone: str) -> st.SearchStrategy[list[tuple[i.Input, ...]]]:
    """Seconds as the family "use" has them: nothing, one event, or a trip and a setting in either order."""
    one = st.sampled_from(FELT[zone])
    left_out = st.sampled_from([i.Inhibit(zone), i.OutOfUse(zone), i.PutBack(zone)])
    trip = st.sampled_from([event for event in FELT[zone] if not isinstance(event, i.LetOut)])
    set_at = st.sampled_from([event for event in SINGLE if isinstance(event, i.SetArea | i.UnsetArea)])
    second = st.one_of(
        st.just(()),
        st.tuples(one),
        st.tuples(st.sampled_from(ASKED)),
        st.tuples(left_out),
        st.tuples(trip, set_at),
        st.tuples(set_at, trip),
    )
    return st.lists(second, max_size=40)


def seen_in(cone: Cone, state: State) -> State:
    """The state of the whole house as the cone has it: its own numbers, doubles by their kind, no abort window."""
    lay, whole = cone.setup.layout, WHOLE.layout
    found = [0] * lay.size
    for here, there in same_places(lay, whole).items():
        found[here] = state[there]
    for area in lay.areas:
        names = {number: part for part, number in whole.area_of[area.id].set_of.items()}
        part = {"evening": "night"}.get(names.get(found[area.base + A.SET], ""), names.get(found[area.base + A.SET]))
        found[area.base + A.SET] = 0 if part is None else area.set_of[part]
        for place in (A.ABORT, A.MARK, A.RECENT):
            found[area.base + place] = 0
        if found[area.base + A.LET_DOOR]:
            found[area.base + A.LET_DOOR] = lay.zone_of[whole.zones[found[area.base + A.LET_DOOR] - 1].id].place + 1
    for zone in lay.zones:
        for slot in zone.levels:
            found[slot] = int(any(state[level] for level in whole.zone_of[zone.id].levels))
    found[U.CAP_USED] = found[U.CAP_QUIET] = 0
    return tuple(found)


EXPLORED = {
    zone: explore(cone.setup, can_happen(cone), {}, holder_of(cone)).states
    for zone in FELT
    for cone in [BY_NAME[(zone,), Family.USE]]
}


@given(st.data())
@pytest.mark.parametrize("zone", FELT)
def test_what_the_whole_house_does_with_one_zone_is_explored(zone: str, data: st.DataObject) -> None:
    """Abort window, rests, two contacts, siren cap, part sets that are doubles: every state is among the explored."""
    cone, state = BY_NAME[(zone,), Family.USE], start_state(WHOLE)
    holder = holder_of(cone)
    for happened in data.draw(seconds_of(zone)):
        state, _ = step(WHOLE, state, happened)
        assert holder.canonical(seen_in(cone, state))[0] in EXPLORED[zone]


def of_house(out: Outputs) -> tuple[object, ...]:
    """What is given out for the house, without what no rule asks about: loudness outside, messages, marks."""
    return (
        [(siren.pattern, siren.inside) for siren in out.sirens if siren.area == "house"],
        [sound.tone for sound in out.tones if sound.area == "house"],
        [(line.event, line.about) for line in out.log],
        out.refusals,
    )


@given(seconds_of("window"))
def test_zones_areas_and_watches_that_stay_still_change_nothing(seconds: list[tuple[i.Input, ...]]) -> None:
    """The window alone in its house sounds, logs and refuses second by second as in the whole."""
    lone = replace(WHOLE.only(["window"]), areas=WHOLE.areas[:1], watches=())
    full, small = start_state(WHOLE), start_state(lone)
    for happened in seconds:
        full, out = step(WHOLE, full, happened)
        small, same = step(lone, small, happened)
        assert of_house(out) == of_house(same)
        area = slice(len(U), len(U) + len(A))
        assert full[area] == small[area]
        here, there = lone.layout.zone_of["window"].base, WHOLE.layout.zone_of["window"].base
        assert full[there : there + len(Z)] == small[here : here + len(Z)]


@pytest.mark.parametrize("family", [Family.USE, Family.POWER, Family.TEST])
@pytest.mark.parametrize("zone", FELT)
def test_what_is_not_tried_would_do_nothing(zone: str, family: Family) -> None:
    """In a state in which an event is passed over, the state after it is the one after nothing."""
    cone = BY_NAME[(zone,), family]
    states = sorted(explore(cone.setup, can_happen(cone), {}, holder_of(cone)).states)
    for state in states[:: max(1, len(states) // 40)]:
        still, _ = step(cone.setup, state, ())
        for each in can_happen(cone):
            if len(each.happened) == 1 and not each.can(state):
                assert step(cone.setup, state, each.happened)[0] == still


def test_a_home_without_zones_is_proved_of_its_codes_alone() -> None:
    """Nothing that trips: the codes are still asked, and nothing fails."""
    proved = alone.setups_proved((Setup((AreaSetup("house", 3, 3, 3),), ()),))
    assert {each.verdict for each in proved} == {ProofVerdict.HOLDS}
    assert "unit/codes_limited" in {each.id for each in proved}
