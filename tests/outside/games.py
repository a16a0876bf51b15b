"""One mover, one fault and the control unit as a finite game, written from what the proof promises, not from its code.

A game is all that the search may know: places and the ticks that lead from one to another, what each tick makes
detectors see, where each way in leads, which faults there may be, and which outputs end it.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain, combinations, permutations
from typing import Any

from alarmlib.control.inputs import Input, Opens, Sees, SetArea
from alarmlib.control.layout import State
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.signals import Outputs, Tone
from alarmlib.model.words import EventKind

NONE: frozenset[str] = frozenset()
_ROUTINE = frozenset({EventKind.SET_UNSET, EventKind.FAULT})


@dataclass(frozen=True)
class Tick:
    """What one second brings: devices that surely trip, devices that may, what a person does."""

    must: frozenset[str] = NONE
    may: frozenset[str] = NONE
    person: tuple[Input, ...] = ()


@dataclass(frozen=True)
class Broken:
    """A fault that lasts for the whole game: devices from which nothing arrives, outputs that reach nobody."""

    id: str = "none"
    dead: frozenset[str] = NONE
    no_siren: bool = False
    no_message: bool = False


@dataclass(frozen=True)
class Game:
    """`moves[place]` and `ways[way in]` hold pairs of a tick's number and the place after it.

    The game ends where somebody is `told`: "noticed" (an entry delay, a siren or an alarm message) or "sounds" (a
    siren or an alarm message). An intruder who is on a goal before has won, and may go on; where `quiet_wanted`,
    the end is itself the breach. `part` is the set in which it begins ("" for away).
    """

    setup: Setup
    begin: State
    ticks: tuple[Tick, ...]
    moves: tuple[tuple[tuple[int, int], ...], ...]
    ways: Mapping[str, tuple[tuple[int, int], ...]]
    goals: frozenset[int] = frozenset()
    told: str = "noticed"
    quiet_wanted: bool = False
    faults: tuple[Broken, ...] = (Broken(),)
    part: str = ""

    def tick_under(self, number: int, broken: Broken) -> Tick:
        """The tick as it reaches the unit under a fault."""
        tick = self.ticks[number]
        return Tick(tick.must - broken.dead, tick.may - broken.dead, tick.person)

    def after(self, state: State, tick: Tick, broken: Broken) -> frozenset[tuple[State, bool]]:
        """Every state to which a tick may lead and whether the game ends there, straight from `step`."""
        seconds = (step(self.setup, state, events) for events in self.orders(tick))
        return frozenset((after, is_told(self.told, out, broken)) for after, out in seconds)

    def orders(self, tick: Tick) -> Iterator[tuple[Input, ...]]:
        """Every set of what may be seen with what must, in every order; a person's own inputs are part of it."""
        for seen in subsets(tick.may - tick.must):
            events = [*(self._event(device) for device in sorted(tick.must | set(seen))), *tick.person]
            yield from permutations(events)

    def _event(self, device: str) -> Input:
        return Opens(device) if self.setup.layout.device_of[device].lasting else Sees(device)


def subsets(devices: Iterable[str]) -> Iterator[tuple[str, ...]]:
    """Every set of them, the empty one first."""
    all_of_them = sorted(devices)
    return chain.from_iterable(combinations(all_of_them, count) for count in range(len(all_of_them) + 1))


def is_told(told: str, out: Outputs, broken: Broken) -> bool:
    """Whether an output of this second tells somebody, as far as the fault lets it."""
    siren = bool(out.sirens) and not broken.no_siren
    message = any(each.kind not in _ROUTINE for each in out.messages) and not broken.no_message
    entry = told == "noticed" and any(sound.tone is Tone.ENTRY for sound in out.tones)
    return siren or message or entry


@dataclass
class Floor:
    """A floor plan by hand: places by name, the devices that may or surely see somebody there, and who is near whom.

    A tick surely trips a detector when both its places lie in the sure part; it may trip one that may see either.
    """

    joined: tuple[tuple[str, str], ...]
    may: Mapping[str, frozenset[str]] = field(default_factory=dict)
    sure: Mapping[str, frozenset[str]] = field(default_factory=dict)
    passing: Mapping[tuple[str, str], frozenset[str]] = field(default_factory=dict)

    @property
    def places(self) -> tuple[str, ...]:
        """All places, in the order in which they are first named."""
        return tuple(dict.fromkeys(chain.from_iterable(self.joined)))

    def tick(self, before: str, after: str) -> Tick:
        """What walking from one to the other in one second trips."""
        sure = self.sure.get(before, NONE) & self.sure.get(after, NONE)
        doors = self.passing.get((before, after), NONE) | self.passing.get((after, before), NONE)
        may = self.may.get(before, NONE) | self.may.get(after, NONE)
        return Tick(sure | doors, may - sure)

    def game(self, setup: Setup, begin: State, ways: Mapping[str, tuple[str, Tick]], **more: Any) -> Game:
        """The game on this floor; a way in names its first place and what coming in trips."""
        at = {name: place for place, name in enumerate(self.places)}
        near = {name: [name] for name in at}
        for one, other in self.joined:
            if other not in near[one]:
                near[one].append(other)
                near[other].append(one)
        numbers: dict[Tick, int] = {}
        moves = tuple(
            tuple((numbers.setdefault(self.tick(name, after), len(numbers)), at[after]) for after in near[name])
            for name in at
        )
        enters = {
            way: ((numbers.setdefault(replace(tick, may=tick.may | self.may.get(to, NONE)), len(numbers)), at[to]),)
            for way, (to, tick) in ways.items()
        }
        goals = frozenset(at[name] for name in more.pop("goals", ()))
        return Game(setup, begin, tuple(numbers), moves, enters, goals, **more)


def when_set(setup: Setup, part: str = "") -> State:
    """The state some time after setting, every delay over."""
    state = start_state(setup)
    for area in setup.areas:
        state, out = step(setup, state, [SetArea(area.id, part, outside=True)])
        assert not out.refusals
    for _ in range(setup.behaviour.recent_closing_s + 2 + max(area.exit_s for area in setup.areas)):
        state, _ = step(setup, state)
    return state
