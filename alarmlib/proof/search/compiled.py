"""The control unit as a table that grows as it is asked: states numbered, each second worked out by `step` once."""

from collections.abc import Callable, Iterable, Iterator
from enum import IntFlag
from typing import Any, NamedTuple

from alarmlib.control.inputs import Input, Opens, Sees
from alarmlib.control.layout import A, State, U, Z
from alarmlib.control.machine import begin_second, end_second, happens
from alarmlib.control.setup import Setup
from alarmlib.control.signals import Outputs, Tone, UnitEvent
from alarmlib.control.tick import Tick
from alarmlib.errors import AlarmProblem
from alarmlib.model.words import EventKind
from alarmlib.proof.search import loose
from alarmlib.proof.search.budget import ENTRY_BYTES, Spending, bytes_of
from alarmlib.proof.search.setups import Canonical

_FAR = 1_000_003  # a value that no timer is set to
MOST_AT_ONCE = 12  # events of one second: 12 have 4,096 subsets
_ROUTINE = frozenset({EventKind.SET_UNSET, EventKind.FAULT})
_WARNINGS = frozenset({Tone.UNCONFIRMED, Tone.FAULT, Tone.TAMPER})


class TooLarge(AlarmProblem):
    """The home is too large to be searched whole; says by how much."""


class Sign(IntFlag):
    """What a second gave out, as far as a property looks at it."""

    NONE = 0
    DELAY = 1  # an entry delay runs after it
    SIREN = 2
    OUTSIDE = 4  # ... and outside too
    MESSAGE = 8  # an alarm message; set, unset and fault are routine
    ALARM = 16  # an alarm was noted
    REFUSED = 32
    WARNED = 64


SOUNDED = Sign.SIREN | Sign.MESSAGE


class Successor(NamedTuple):
    """The number of the next state, and what the second gave out."""

    to: int
    signs: Sign


class Transition(NamedTuple):
    """One way a second may go: next state, what it gave out, inputs in their order, which of `may` were among them.

    `over`: the devices that setting may have left asleep and that are awake again in this second.
    """

    to: int
    signs: Sign
    inputs: tuple[Input, ...]
    fired: frozenset[str]
    over: frozenset[str] = frozenset()


class _Outcome(NamedTuple):
    """A second worked out for a shape: the state after it, timers that only counted on (or held), what it gave out."""

    state: State
    counting: tuple[tuple[int, int], ...]
    signs: Sign


class Compiled:
    """States met so far, numbered from 0; `canonical` gives the one state that all alike share.

    A second is worked out once for all values of the timers that only count on in it (`shapes`). What is stored
    counts against `spending`.
    """

    def __init__(self, setup: Setup, canonical: Canonical | None = None, spending: Spending | None = None) -> None:
        self.setup, self.spending = setup, spending or Spending()
        self.kept = self._worked_out = 0  # bytes: all, and those that `forget` has back
        self._state_bytes = bytes_of(setup.layout.size)
        self.states: list[State] = []
        self._canonical = canonical
        self._timers = running_timers(setup)
        self._numbers: dict[State, int] = {}
        self._shapes: dict[int, State] = {}
        self._asleep: dict[int, frozenset[str]] = {}
        self._outcomes: dict[tuple[State, tuple[Input, ...]], _Outcome] = {}
        self._ways: dict[tuple[State, frozenset[str], frozenset[str], tuple[Input, ...]], tuple[_Way, ...]] = {}
        self._changes: dict[tuple[int, tuple[Input, ...]], Successor] = {}
        self._choices: dict[tuple[int, frozenset[str], frozenset[str], tuple[Input, ...]], tuple[Transition, ...]] = {}

    def number(self, state: State) -> int:
        """The number of a state."""
        found = self._numbers.get(state)
        if found is None:
            reduced = self._canonical(state) if self._canonical is not None else state
            found = self._numbers.get(reduced)
            if found is None:
                found = self._numbers[reduced] = len(self.states)
                self.states.append(reduced)
                self.keep(self._state_bytes, numbered=True)
            if state != reduced:
                self._numbers[state] = found
                self.keep(self._state_bytes, numbered=True)
        return found

    def keep(self, count: int, numbered: bool = False) -> None:
        """So many bytes are stored with the table; but for the states' numbers they can be worked out again."""
        self.kept += count
        self._worked_out += 0 if numbered else count
        self.spending.keep(count)

    def forget(self) -> None:
        """Give back the memory of all but the states' numbers; what is asked again is worked out again."""
        for table in (self._shapes, self._asleep, self._outcomes, self._ways, self._changes, self._choices):
            table.clear()
        self.spending.drop(self._worked_out)
        self.kept, self._worked_out = self.kept - self._worked_out, 0

    def drop(self) -> None:
        """All is gone: nobody asks this table any more."""
        self.spending.drop(self.kept)
        self.kept = self._worked_out = 0

    def after(self, k: int, inputs: tuple[Input, ...] = ()) -> Successor:
        """What one more second with these inputs does.

        By `alarmlib.control.machine.step`.
        """
        asked = k, inputs
        found = self._changes.get(asked)
        if found is None:
            found = self._changes[asked] = self._counted(k, self._outcome(self._shape(k), inputs))
            self.keep(ENTRY_BYTES)
        return found

    def choices(
        self, k: int, must: frozenset[str], may: frozenset[str], person: tuple[Input, ...] = ()
    ) -> tuple[Transition, ...]:
        """Every way the second may go: all of `must`, any of `may`, and what a person does, in every order.

        Of ways that lead to the same those that need fewer devices are kept. Raises TooLarge above `MOST_AT_ONCE`
        events.
        """
        asked = k, must, may, person
        found = self._choices.get(asked)
        if found is None:
            ways = (way for over in self._waking(k, must | may) for way in self._choices_if(over, *asked))
            found = self._choices[asked] = tuple(_needing_least(ways))
            self.keep(ENTRY_BYTES * (1 + len(found)))
        return found

    def _choices_if(
        self, over: frozenset[str], k: int, must: frozenset[str], may: frozenset[str], person: tuple[Input, ...]
    ) -> Iterator[Transition]:
        """The same where of the devices that may be asleep these are awake."""
        if over:
            k = self.number(loose.put(self.setup, self.states[k], dict.fromkeys(over, 0)))
        shape = self._shape(k), must, may, person
        if shape not in self._ways:
            self._ways[shape] = tuple(self._work_out(*shape))
            self.keep((ENTRY_BYTES + self._state_bytes) * (1 + len(self._ways[shape])))
        for way in self._ways[shape]:
            to, signs = self._counted(k, way.outcome)
            yield Transition(to, signs, way.inputs, way.fired, over)

    def _waking(self, k: int, seeing: frozenset[str]) -> list[frozenset[str]]:
        """Every choice of what is awake again, of the devices that may see somebody and may be asleep."""
        if not self._may_sleep(k):
            return [frozenset()]
        return loose.ways_over(device for device in seeing if device in self._may_sleep(k))

    def _may_sleep(self, k: int) -> frozenset[str]:
        if k not in self._asleep:
            state, at = self.states[k], self.setup.layout.device_of
            self._asleep[k] = frozenset(name for name, d in at.items() if d.sleep_s and state[d.slot] > loose.LOOSE)
        return self._asleep[k]

    def counted_on(self, k: int, seconds: int) -> int:
        """The state so many seconds later if nothing but its timers moves; all of them must still be far from an end.

        Our own construction.
        """
        state = list(self.states[k])
        for slot, least in self._timers:
            if state[slot] > least:
                state[slot] -= seconds
        return self.number(tuple(state))

    def far_s(self, k: int) -> int:
        """For how many seconds every timer that runs stays far from its end; 0 when one is near it, or none runs.

        Our own construction.
        """
        state = self.states[k]
        left_s = [loose.left_s(state[slot], least) for slot, least in self._timers if state[slot]]
        return max(0, min(left_s, default=0))

    def _shape(self, k: int) -> State:
        """The state with every timer that is far from its end at one value."""
        if k not in self._shapes:
            state = list(self.states[k])
            for slot, least in self._timers:
                if state[slot] > least:
                    state[slot] = _FAR
            self._shapes[k] = tuple(state)
            self.keep(self._state_bytes)
        return self._shapes[k]

    def _counted(self, k: int, outcome: _Outcome) -> Successor:
        """What the outcome of its shape is for this state: timers that counted on are a second less, held ones not."""
        if not outcome.counting:
            return Successor(self.number(outcome.state), outcome.signs)
        state, before = list(outcome.state), self.states[k]
        for slot, less_s in outcome.counting:
            state[slot] = before[slot] - less_s
        return Successor(self.number(tuple(state)), outcome.signs)

    def _outcome(self, shape: State, inputs: tuple[Input, ...]) -> _Outcome:
        asked = shape, inputs
        found = self._outcomes.get(asked)
        if found is None:
            self.spending.look()
            tick = begin_second(self.setup, shape)
            for event in inputs:
                happens(tick, event)
            found = self._outcomes[asked] = self._ended(tick)
            self.keep(self._state_bytes + ENTRY_BYTES)
        return found

    def _work_out(
        self, shape: State, must: frozenset[str], may: frozenset[str], person: tuple[Input, ...]
    ) -> Iterator["_Way"]:
        sure = [event for device in sorted(must) if (event := self._trips(shape, device)) is not None]
        free = {device: event for device in sorted(may - must) if (event := self._trips(shape, device)) is not None}
        if len(sure) + len(free) + len(person) > MOST_AT_ONCE:
            raise TooLarge(
                f"{len(sure) + len(free) + len(person)} events may happen in one second; "
                f"at most {MOST_AT_ONCE} can be tried in every order."
            )
        known: dict[tuple[State, tuple[int, ...], Sign], list[frozenset[str]]] = {}
        rests = self.setup.layout.quiet_slots  # far from its end a rest has one number here, and another one near it
        for node in _partial_seconds(self.setup, shape, sure, free, person, self.spending.look):
            outcome = self._ended(node.tick.copy())
            reduced = outcome.state if self._canonical is None else self._canonical(outcome.state)
            apart = tuple(outcome.state[slot] for slot in rests)
            fewer = known.setdefault((reduced, apart, outcome.signs), [])
            if not any(less <= node.fired for less in fewer):
                fewer.append(node.fired)
                yield _Way(outcome, node.inputs, node.fired)

    def _ended(self, tick: Tick) -> _Outcome:
        state, out = end_second(tick)
        counting = tuple((slot, _FAR - state[slot]) for slot, _ in self._timers if state[slot] >= _FAR - 1)
        return _Outcome(state, counting, self._signs(state, out))

    def _trips(self, shape: State, device: str) -> Input | None:
        """What a device tells when it is tripped; nothing when it stays tripped since before or isn't in the setup."""
        at = self.setup.layout.device_of.get(device)
        if at is None:
            return None
        if not at.lasting:
            return Sees(device)
        return None if shape[at.slot] else Opens(device)

    def _signs(self, state: State, out: Outputs) -> Sign:
        runs = any(state[area.base + A.ENTRY] for area in self.setup.layout.areas)
        return signs_of(out) | (Sign.DELAY if runs else Sign.NONE)


def signs_of(out: Outputs) -> Sign:
    """What of a second's outputs a property looks at.

    Our own list.
    """
    signs = Sign.NONE
    if out.sirens:
        signs |= Sign.SIREN
        if any(siren.outside for siren in out.sirens):
            signs |= Sign.OUTSIDE
    if any(message.kind not in _ROUTINE for message in out.messages):
        signs |= Sign.MESSAGE
    if any(line.event is UnitEvent.ALARM for line in out.log):
        signs |= Sign.ALARM
    if out.refusals:
        signs |= Sign.REFUSED
    if any(sound.tone in _WARNINGS for sound in out.tones):
        signs |= Sign.WARNED
    return signs


class _Node(NamedTuple):
    """A second in the middle: what has happened so far, in which order, and which `may` devices were among it."""

    tick: Tick
    inputs: tuple[Input, ...]
    fired: frozenset[str]


def _partial_seconds(
    setup: Setup,
    shape: State,
    sure: list[Input],
    free: dict[str, Input],
    person: tuple[Input, ...],
    look: Callable[[], None] = lambda: None,
) -> Iterator[_Node]:
    """Every second that holds all sure events and any of the free ones, in every order, fewest events first.

    Orders that have led to the same in the middle of the second go on as one.
    """
    asked = {*sure, *person}
    device_of = {event: device for device, event in free.items()}
    layer = {_middle(tick := begin_second(setup, shape)): (_Node(tick, (), frozenset()), frozenset[Input]())}
    for _ in range(len(asked) + len(free) + 1):
        following: dict[Any, tuple[_Node, frozenset[Input]]] = {}
        for node, happened in layer.values():
            look()
            if asked <= happened:
                yield node
            for event in (*sure, *person, *free.values()):
                if event not in happened:
                    tick = node.tick.copy()
                    happens(tick, event)
                    fired = node.fired | {device_of[event]} if event in device_of else node.fired
                    now = happened | {event}
                    following.setdefault((_middle(tick), now), (_Node(tick, (*node.inputs, event), fired), now))
        layer = following


def _middle(tick: Tick) -> Any:
    """All that the rest of the second, and what is looked at of its outputs, depends on."""
    return (
        tuple(tick.s),
        frozenset(tick.seen_now),
        any(message.kind not in _ROUTINE for message in tick.messages),
        any(line.event is UnitEvent.ALARM for line in tick.log_lines),
        bool(tick.refusals),
        any(sound.tone in _WARNINGS for sound in tick.tones),
    )


class _Way(NamedTuple):
    """A choice of a shape."""

    outcome: _Outcome
    inputs: tuple[Input, ...]
    fired: frozenset[str]


def _needing_least(choices: Iterable[Transition]) -> Iterator[Transition]:
    """Of choices that lead to the same those whose devices contain no other's."""
    known: dict[tuple[int, Sign], list[frozenset[str]]] = {}
    for choice in choices:
        fewer = known.setdefault((choice.to, choice.signs), [])
        if not any(less <= choice.fired for less in fewer):
            fewer.append(choice.fired)
            yield choice


def running_timers(setup: Setup) -> tuple[tuple[int, int], ...]:
    """Where timers are, and above which value a second does the same whatever the value: it counts on, or is set.

    Our own reading of `step`; a test compares every value with the one that replaces it.
    """
    facts, lay = setup.behaviour, setup.layout
    entry_s = max((max(zone.delay_s.values()) for zone in lay.zones), default=1) if facts.later_door_shortens else 1
    exit_s = max(1, facts.exit_after_door_s) if facts.exit_ends_by_door else 1
    least = {A.EXIT: exit_s, A.LET: exit_s, A.ENTRY: max(1, entry_s), A.SIREN: 1, A.ABORT: 1, A.RECENT: 1}
    timers: list[tuple[int, int]] = [(place, 1) for place in (U.IGNORE, U.TEST, U.LOCK)]
    timers += [(area.base + place, value) for area in lay.areas for place, value in least.items()]
    timers += [(zone.base + place, 1) for zone in lay.timed_zones for place in (Z.VERIFY, Z.HOLD)]
    return tuple(timers + [(slot, 1) for slot in lay.quiet_slots])
