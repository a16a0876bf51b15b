"""Every second of random runs, on the proof's table and in an independent SimPy model: the same delays and sirens."""

import os
from collections import Counter
from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

import pytest
import simpy
from event_unit import LEAVING, UNSET, EventUnit, Times, Zone

from alarmlib.control.inputs import Closes, Input, Opens, Sees, SetArea, UnsetArea
from alarmlib.control.layout import A
from alarmlib.control.setup import Behaviour, Setup, start_state
from alarmlib.control.setup_parts import AreaSetup, DeviceSetup, ZoneSetup
from alarmlib.model.words import Function
from alarmlib.proof.search.compiled import Compiled, Sign

pytestmark = pytest.mark.outside
RUNS = 2000 if os.environ.get("ALARM_WHOLE") else 150
SECONDS = 160
KINDS = {
    "front": ("door", Function.ENTRY_EXIT), "back": ("door", Function.ENTRY_EXIT),
    "hall": ("route", Function.ENTRY_ROUTE),
    "lounge": ("inside", Function.AT_ONCE), "porch": ("delayed", Function.ENTRY_EXIT),
    "bay": ("window", Function.AT_ONCE),
}  # fmt: skip
CONTACTS = ("front", "back", "bay")


@dataclass(frozen=True)
class Second:
    """What can be told of a second once all of it has happened."""

    siren: bool
    message: bool
    entry: bool
    leaving: bool
    is_set: bool


def random_times(random: Random) -> Times:
    """Short delays, so that much happens in a run."""
    return Times(random.randint(3, 12), random.randint(2, 9), random.randint(2, 14), random.choice((0, 0, 3, 7)))


def intruder_run(random: Random) -> Iterator[tuple[int, Input]]:
    """Set, long gone; then somebody roams: opens, is seen here and there, now and then shuts a door."""
    yield 0, SetArea("house")
    for at_s in range(14, SECONDS):
        while random.random() < 0.2:
            name = random.choice(tuple(KINDS))
            yield at_s, _trips(name, random)


def habit_run(random: Random) -> Iterator[tuple[int, Input]]:
    """Leaving and coming home again, with doors forgotten open, doubts on the doorstep, a cat, a code too late."""
    at_s = random.randint(0, 3)
    while at_s < SECONDS - 40:
        yield at_s, SetArea("house")
        for _ in range(random.choice((1, 1, 2))):
            door = random.choice(("front", "back"))
            at_s += random.randint(1, 5)
            yield at_s, Sees("hall")
            yield at_s, Opens(door)
            if random.random() < 0.8:
                at_s += random.randint(1, 4)
                yield at_s, Closes(door)
        at_s += random.randint(5, 30)
        if random.random() < 0.3:
            yield at_s, _trips(random.choice(tuple(KINDS)), random)
        yield at_s, Closes("front")
        at_s += 1
        yield at_s, Opens("front")
        at_s += random.randint(1, 3)
        yield at_s, Sees(random.choice(("hall", "porch", "lounge")) if random.random() < 0.3 else "hall")
        at_s += random.randint(0, 10)
        yield at_s, UnsetArea("house")
        yield at_s + 1, Closes(random.choice(CONTACTS))
        if random.random() < 0.7:
            yield at_s + 1, Closes("bay")
        at_s += random.randint(2, 9)


def _trips(name: str, random: Random) -> Input:
    if name not in CONTACTS:
        return Sees(name)
    return Closes(name) if random.random() < 0.4 else Opens(name)


def by_second(happens: Iterator[tuple[int, Input]]) -> dict[int, tuple[Input, ...]]:
    """Inputs in their order, by second."""
    found: dict[int, tuple[Input, ...]] = {}
    for at_s, event in happens:
        found[at_s] = (*found.get(at_s, ()), event)
    return found


def by_table(times: Times, inputs: dict[int, tuple[Input, ...]]) -> list[Second]:
    """The run on the proof's table."""
    zones = tuple(
        ZoneSetup(
            name, function, ("house",), (DeviceSetup(name, name in CONTACTS),), inside=kind in ("inside", "delayed")
        )
        for name, (kind, function) in KINDS.items()
    )
    area = AreaSetup("house", times.exit_s, times.entry_s, times.siren_s, times.abort_s)
    unit = Compiled(Setup((area,), zones, behaviour=Behaviour(recent_closing_s=0)))
    k, told, base = unit.number(start_state(unit.setup)), [], unit.setup.layout.areas[0].base
    for at_s in range(SECONDS):
        k, signs = unit.after(k, inputs.get(at_s, ()))
        state = unit.states[k]
        leaving = state[base + A.EXIT] > 0
        is_set = state[base + A.SET] > 0 and not leaving
        told.append(
            Second(bool(signs & Sign.SIREN), bool(signs & Sign.MESSAGE), bool(signs & Sign.DELAY), leaving, is_set)
        )
    return told


def by_events(times: Times, inputs: dict[int, tuple[Input, ...]]) -> tuple[list[Second], Counter[str]]:
    """The run in SimPy: inputs on the whole second, looked at a tenth of a second later."""
    env = simpy.Environment()
    unit = EventUnit(env, times, {name: Zone(kind) for name, (kind, _) in KINDS.items()})
    told: list[Second] = []

    def live() -> Generator[Any, Any, None]:
        for at_s in range(SECONDS):
            for event in inputs.get(at_s, ()):
                DO[type(event)](unit, event)
            yield env.timeout(0.1)
            sent = any(what == "message" and at_s - 1 + 0.1 < when for when, what in unit.happened)
            siren = unit.siren or unit.exit_error
            is_set = unit.state not in (UNSET, LEAVING)
            told.append(Second(siren, sent, unit.runs("entry"), unit.state == LEAVING, is_set))
            yield env.timeout(0.9)

    env.process(live())
    env.run()
    return told, Counter(what for _, what in unit.happened)


DO: dict[type, Callable[[EventUnit, Any], None]] = {
    SetArea: lambda unit, _: unit.set_at(),
    UnsetArea: lambda unit, _: unit.unset_area(),
    Opens: lambda unit, event: unit.opens(event.device),
    Closes: lambda unit, event: unit.closes(event.device),
    Sees: lambda unit, event: unit.sees(event.device),
}


@pytest.mark.parametrize("kind", [intruder_run, habit_run])
def test_every_second_agrees(kind: Callable[[Random], Iterator[tuple[int, Input]]]) -> None:
    """Seeded runs: siren, message, entry and exit delay and set state, second by second; all of it does happen."""
    met: Counter[str] = Counter()
    for seed in range(RUNS):
        random = Random(seed)
        times, inputs = random_times(random), by_second(kind(random))
        told, happened = by_events(times, inputs)
        table = by_table(times, inputs)
        differs = [
            (at_s, one, other) for at_s, (one, other) in enumerate(zip(table, told, strict=True)) if one != other
        ]
        assert not differs, (seed, times, differs[0], inputs)
        met += happened
        met.update(name for name in ("siren", "entry") if any(getattr(second, name) for second in told))
    wanted = {"siren", "entry", "message", "ran out"}
    assert wanted | ({"restart", "exit error", "refused"} if kind is habit_run else set()) <= set(met)
