"""The control unit as a table that grows as it is asked: states numbered, each second worked out by `step` once."""

from collections.abc import Iterator
from enum import IntFlag
from itertools import combinations, permutations
from typing import NamedTuple

from alarmlib.control.inputs import Input, Opens, Sees
from alarmlib.control.layout import A, State
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup
from alarmlib.control.signals import Event, Outputs, Tone
from alarmlib.errors import AlarmProblem
from alarmlib.model.words import EventKind
from alarmlib.proof.setups import Settle

MOST_AT_ONCE = 7  # events of one second: 7 have 5,040 orders
_ROUTINE = frozenset({EventKind.SET_UNSET, EventKind.TROUBLE})
_WARNINGS = frozenset({Tone.UNCONFIRMED, Tone.TROUBLE, Tone.TAMPER})


class TooLarge(AlarmProblem):
    """The home is too large to be searched whole; says by how much."""


class Sign(IntFlag):
    """What a second gave out, as far as a property looks at it."""

    NONE = 0
    DELAY = 1  # an entry delay runs after it
    SIREN = 2
    OUTSIDE = 4  # ... and outside too
    MESSAGE = 8  # an alarm message; set, unset and trouble are routine
    ALARM = 16  # an alarm was noted
    REFUSED = 32
    WARNED = 64


SOUNDED = Sign.SIREN | Sign.MESSAGE
NOTICED = SOUNDED | Sign.DELAY | Sign.ALARM


class Change(NamedTuple):
    """The number of the next state, and what the second gave out."""

    to: int
    signs: Sign


class Choice(NamedTuple):
    """One way a second may go: next state, what it gave out, inputs in their order, which of `may` were among them."""

    to: int
    signs: Sign
    inputs: tuple[Input, ...]
    fired: frozenset[str]


class Compiled:
    """States met so far, numbered from 0; `settle` gives the state that stands for all that are alike."""

    def __init__(self, setup: Setup, settle: Settle | None = None) -> None:
        self.setup = setup
        self.states: list[State] = []
        self._settle = settle
        self._numbers: dict[State, int] = {}
        self._changes: dict[tuple[int, tuple[Input, ...]], Change] = {}
        self._choices: dict[tuple[int, frozenset[str], frozenset[str], tuple[Input, ...]], tuple[Choice, ...]] = {}

    def number(self, state: State) -> int:
        """The number of a state."""
        if self._settle is not None:
            state = self._settle(state)
        found = self._numbers.get(state)
        if found is None:
            found = self._numbers[state] = len(self.states)
            self.states.append(state)
        return found

    def after(self, k: int, inputs: tuple[Input, ...] = ()) -> Change:
        """What one more second with these inputs does.

        Reference: `alarmlib.control.machine.step`.
        """
        asked = k, inputs
        found = self._changes.get(asked)
        if found is None:
            state, out = step(self.setup, self.states[k], inputs)
            found = self._changes[asked] = Change(self.number(state), self._signs(state, out))
        return found

    def choices(
        self, k: int, must: frozenset[str], may: frozenset[str], person: tuple[Input, ...] = ()
    ) -> tuple[Choice, ...]:
        """Every way the second may go: all of `must`, any of `may`, and what a person does, in every order.

        Of ways that lead to the same those that need fewer devices are kept. Raises TooLarge above `MOST_AT_ONCE`
        events.
        Reference: all subsets and orders, computed here.
        """
        asked = k, must, may, person
        found = self._choices.get(asked)
        if found is None:
            found = self._choices[asked] = tuple(self._work_out(*asked))
        return found

    def _work_out(
        self, k: int, must: frozenset[str], may: frozenset[str], person: tuple[Input, ...]
    ) -> Iterator[Choice]:
        sure = [event for device in sorted(must) if (event := self._trips(k, device)) is not None]
        free = {device: event for device in sorted(may - must) if (event := self._trips(k, device)) is not None}
        if len(sure) + len(free) + len(person) > MOST_AT_ONCE:
            raise TooLarge(
                f"{len(sure) + len(free) + len(person)} things may happen in one second; "
                f"at most {MOST_AT_ONCE} can be tried in every order."
            )
        known: dict[tuple[int, Sign], list[frozenset[str]]] = {}
        for size in range(len(free) + 1):
            for fired in map(frozenset, combinations(free, size)):
                events = [*sure, *(free[device] for device in sorted(fired)), *person]
                for inputs in permutations(events):
                    to, signs = self.after(k, inputs)
                    fewer = known.setdefault((to, signs), [])
                    if not any(less <= fired for less in fewer):
                        fewer.append(fired)
                        yield Choice(to, signs, inputs, fired)

    def _trips(self, k: int, device: str) -> Input | None:
        """What a device tells when it is tripped; nothing when it stays tripped since before or isn't in the setup."""
        at = self.setup.layout.device_of.get(device)
        if at is None:
            return None
        if not at.lasting:
            return Sees(device)
        return None if self.states[k][at.slot] else Opens(device)

    def _signs(self, state: State, out: Outputs) -> Sign:
        signs = Sign.NONE
        if out.sirens:
            signs |= Sign.SIREN
            if any(siren.outside for siren in out.sirens):
                signs |= Sign.OUTSIDE
        if any(message.kind not in _ROUTINE for message in out.messages):
            signs |= Sign.MESSAGE
        if any(line.event is Event.ALARM for line in out.log):
            signs |= Sign.ALARM
        if out.refusals:
            signs |= Sign.REFUSED
        if any(sound.tone in _WARNINGS for sound in out.tones):
            signs |= Sign.WARNED
        if any(state[area.base + A.ENTRY] for area in self.setup.layout.areas):
            signs |= Sign.DELAY
        return signs
