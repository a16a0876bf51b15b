"""The table that the proof runs on: it says what `step` says, and what it forgets cannot be told until the alarm."""

from dataclasses import replace
from itertools import chain, combinations, permutations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.control.inputs import (
    SET_FULL,
    Closes,
    Input,
    LetOut,
    Opens,
    PowerBack,
    PowerLost,
    Sees,
    SetArea,
    Silence,
    UnsetArea,
)
from alarmlib.control.layout import A, State
from alarmlib.control.machine import run, step
from alarmlib.control.setup import Behaviour, Setup, start_state
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, PartSetup, ZoneSetup
from alarmlib.model.words import Function
from alarmlib.proof.search.compiled import SOUNDED, Compiled, Sign, TooLarge
from alarmlib.proof.search.setups import canonical_waiting, reduced

MOTIONS = ("hall", "stairs", "lounge")


def small(sleep_s: int = 0, **facts: object) -> Setup:
    """A front and a back door, two route detectors, one off the route, a window."""
    devices = {name: (DeviceSetup(name, lasting=False, sleep_s=sleep_s),) for name in MOTIONS}
    zones = (
        ZoneSetup("front", Function.ENTRY_EXIT, ("house",)),
        ZoneSetup("back", Function.ENTRY_EXIT, ("house",), entry_s=3),
        ZoneSetup("hall", Function.ENTRY_ROUTE, ("house",), devices["hall"]),
        ZoneSetup("stairs", Function.ENTRY_ROUTE, ("house",), devices["stairs"], silent=True),
        ZoneSetup("lounge", Function.ENTRY_EXIT, ("house",), devices["lounge"]),
        ZoneSetup("window", Function.AT_ONCE, ("house",)),
    )
    area = AreaSetup("house", 4, 5, 6, 2, (PartSetup("night", frozenset({"hall"})),))
    return Setup((area,), zones, behaviour=Behaviour(**({"recent_closing_s": 0} | facts)))  # type: ignore[arg-type]


def when_set(setup: Setup) -> State:
    """Away, with the exit time over."""
    return run(setup, {0: [SetArea("house", SET_FULL, outside=True)]}, 8)[-1].state


def test_a_change_is_what_step_says() -> None:
    """State and signs of a second are those of `step`; a second asked again is the same."""
    setup = small()
    compiled = Compiled(setup)
    k = compiled.number(when_set(setup))
    for inputs in ((), (Opens("front"),), (Sees("hall"),), (Opens("window"), Sees("hall"))):
        to, signs = compiled.after(k, inputs)
        state, out = step(setup, compiled.states[k], inputs)
        assert compiled.states[to] == state
        assert bool(signs & Sign.SIREN) == bool(out.sirens)
        assert bool(signs & Sign.DELAY) == bool(state[setup.layout.areas[0].base + A.ENTRY])
        assert compiled.after(k, inputs) == (to, signs)


@pytest.mark.parametrize("forgetting", [False, True])
def test_choices_try_every_subset_and_order(forgetting: bool) -> None:
    """By hand: the door alone begins the delay, hall before door sounds, door before hall waits.

    When who else waits is forgotten, the last of the three leads to the same as the first and isn't kept.
    """
    setup = small()
    compiled = Compiled(setup, canonical_waiting(setup) if forgetting else None)
    found = compiled.choices(compiled.number(when_set(setup)), frozenset({"front"}), frozenset({"hall"}))
    told = {(choice.inputs, bool(choice.signs & SOUNDED)) for choice in found}
    waits = {((Opens("front"), Sees("hall")), False)}
    others = {((Opens("front"),), False), ((Sees("hall"), Opens("front")), True)}
    assert told == others | (set() if forgetting else waits)
    assert found[0].fired == frozenset()


def test_what_stays_tripped_is_not_tripped_again_and_strangers_are_nothing() -> None:
    """An open contact tells nothing more; a device that the setup has not is left out."""
    setup = small()
    compiled = Compiled(setup)
    k = compiled.after(compiled.number(when_set(setup)), (Opens("front"),)).to
    (choice,) = compiled.choices(k, frozenset({"front", "nowhere"}), frozenset())
    assert choice.inputs == ()


def test_too_many_choices_at_once_are_refused_with_their_number() -> None:
    """Nothing is bounded silently."""
    zones = tuple(ZoneSetup(f"z{n}", Function.AT_ONCE, ("house",)) for n in range(14))
    compiled = Compiled(Setup((AreaSetup("house", 4, 5, 6),), zones))
    with pytest.raises(TooLarge, match="14 events"):
        compiled.choices(compiled.number(start_state(compiled.setup)), frozenset(z.id for z in zones), frozenset())


LIFE: tuple[Input, ...] = (
    Opens("front"), Closes("front"), Opens("back"), Closes("back"), Sees("hall"), Sees("lounge"), Opens("window"),
    Closes("window"), SetArea("house"), SetArea("house", "night"), SetArea("house", outside=True), UnsetArea("house"),
    LetOut("house", "front"), Silence("house"), PowerLost(), PowerBack(),
)  # fmt: skip
EVENTS: tuple[tuple[Input, ...], ...] = (
    (), (Opens("front"),), (Opens("back"),), (Sees("hall"),), (Sees("stairs"),), (Sees("lounge"),),
    (Sees("hall"), Sees("lounge")), (Closes("front"),),
)  # fmt: skip


@pytest.mark.parametrize("sleep_s", [0, 2, 9])
def test_what_is_forgotten_cannot_be_told_until_the_alarm(sleep_s: int) -> None:
    """Breadth first over all pairs (whole state, its canonical form): the same siren and message in every second."""
    setup = small(sleep_s)
    canonical = canonical_waiting(setup)
    begin = when_set(setup)
    seen, frontier = {(begin, canonical(begin))}, [(begin, canonical(begin))]
    while frontier:
        whole, reduced = frontier.pop()
        for events in EVENTS:
            (whole_to, whole_out), (reduced_to, reduced_out) = (step(setup, s, events) for s in (whole, reduced))
            assert [s.pattern for s in whole_out.sirens] == [s.pattern for s in reduced_out.sirens]
            assert bool(whole_out.messages) == bool(reduced_out.messages)
            pair = whole_to, canonical(reduced_to)
            if not (whole_out.sirens or whole_out.messages) and pair not in seen:
                seen.add(pair)
                frontier.append(pair)
    assert len({reduced for _, reduced in seen}) < len({whole for whole, _ in seen})


def test_the_canonical_form_does_forget_something() -> None:
    """Who else waits, and how much longer a rest lasts than the delay, is one value."""
    setup = small(9)
    canonical = canonical_waiting(setup)
    ways = []
    for second in (1, 2):
        state, _ = step(setup, when_set(setup), (Opens("front"),))
        for at in (1, 2, 3):
            state, _ = step(setup, state, (Sees("hall"),) if at == second else ())
        ways.append(state)
    assert ways[0] != ways[1]
    assert canonical(ways[0]) == canonical(ways[1])


@given(st.integers(0, 10_000))
def test_devices_without_rest_do_all_that_devices_with_rest_do(seed: int) -> None:
    """Whatever a resting detector does, the reduced setup does when some of its trips are left out."""
    whole, setup = small(3), reduced(small(3))
    rng = Random(seed)
    state, plain = when_set(whole), when_set(setup)
    rest = dict.fromkeys(MOTIONS, 0)
    for _ in range(12):
        moves = [name for name in MOTIONS if rng.random() < 0.4]
        rest = {name: max(0, left - 1) for name, left in rest.items()}
        felt = [name for name in moves if not rest[name]]
        rest |= dict.fromkeys(felt, 3)
        state, out = step(whole, state, [Sees(name) for name in moves])
        plain, plain_out = step(setup, plain, [Sees(name) for name in felt])
        assert (out.sirens, out.messages) == (plain_out.sirens, plain_out.messages)


@pytest.mark.parametrize(("clock", "entry_s"), [(0.9, 4), (1.0, 5), (1.1, 6)])
def test_times_are_off_as_one_clock_is(clock: float, entry_s: int) -> None:
    """5 s at 0.9 is 4, at 1.1 is 6: rounded away from the plain time; nothing becomes zero, no zero becomes a time."""
    setup = reduced(replace(small(), behaviour=Behaviour(ignore_after_power_s=0)), clock)
    assert setup.areas[0].entry_s == entry_s
    assert setup.behaviour.ignore_after_power_s == 0
    assert all(part.exit_s == 0 for part in setup.areas[0].parts)


@pytest.mark.parametrize("forgetting", [False, True])
@given(seed=st.integers(0, 10_000))
def test_choices_are_those_of_all_subsets_and_orders(forgetting: bool, seed: int) -> None:
    """Against `step` on every subset in every order, from a random state: the same ways to go, least devices kept."""
    setup, rng = small(3), Random(seed)
    canonical = canonical_waiting(setup) if forgetting else None
    compiled = Compiled(setup, canonical)
    state = when_set(setup) if rng.random() < 0.7 else start_state(setup)
    for _ in range(rng.randrange(6)):
        state, _ = step(setup, state, rng.sample(LIFE, rng.choice((0, 1, 2))))
    state = canonical(state) if canonical else state
    must, may = frozenset(rng.sample(("front", "window"), rng.randrange(3))), frozenset(rng.sample(MOTIONS, 2))
    person = (UnsetArea("house"),) if rng.random() < 0.5 else ()
    sure = [Opens(device) for device in must if not state[setup.layout.device_of[device].slot]]
    told: dict[object, list[frozenset[str]]] = {}
    for fired in chain.from_iterable(combinations(sorted(may), size) for size in range(3)):
        for inputs in permutations([*sure, *person, *(Sees(device) for device in fired)]):
            to, out = step(setup, state, inputs)
            signs = compiled._signs(to, out)
            told.setdefault((canonical(to) if canonical else to, signs), []).append(frozenset(fired))
    least = {(to, fired) for to, ways in told.items() for fired in ways if not any(less < fired for less in ways)}
    found = compiled.choices(compiled.number(state), must, may, person)
    assert {((compiled.states[c.to], c.signs), c.fired) for c in found} == least


FACTS: tuple[dict[str, object], ...] = (
    {},
    {"later_door_shortens": True},
    {"exit_ends_by_door": True, "exit_after_door_s": 2},
)


@pytest.mark.parametrize("facts", FACTS)
@given(seed=st.integers(0, 10_000))
def test_an_abstract_timer_does_what_each_of_its_values_does(facts: dict[str, object], seed: int) -> None:
    """A random life of the unit, second by second through the table and through `step`: equal states and signs."""
    setup = small(3, **facts)
    compiled, rng = Compiled(setup), Random(seed)
    state = start_state(setup)
    k = compiled.number(state)
    for _ in range(40):
        inputs = tuple(rng.sample(LIFE, rng.choice((0, 0, 0, 1, 1, 2))))
        k, signs = compiled.after(k, inputs)
        state, out = step(setup, state, inputs)
        assert compiled.states[k] == state
        assert bool(signs & Sign.SIREN) == bool(out.sirens)


def test_one_shape_covers_many_seconds() -> None:
    """The seconds of a delay are worked out once: as few calls of `step` for 500 s as for 5 s."""
    calls = []
    for entry_s in (5, 500):
        compiled = Compiled(reduced(replace(small(), areas=(replace(small().areas[0], entry_s=entry_s),))))
        k = compiled.after(compiled.number(when_set(compiled.setup)), (Opens("front"),)).to
        while not compiled.after(k).signs & Sign.SIREN:
            k = compiled.after(k).to
        calls.append(len(compiled._outcomes))
    assert calls[0] == calls[1]
