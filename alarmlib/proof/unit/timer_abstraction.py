"""Every state a unit can reach, with timers held: of one is known only that it runs, or that it is at its end.

The search is over the one `step`. A held timer is a number that can be counted down and asked whether it runs; if
`step` or a rule looks at it in any other way, that second is worked out again with every number the timer can have.
So what is found for one length is found for every length, and holding only adds behaviour: a timer that runs may be at
its end in any second.
"""

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any, NamedTuple, NoReturn

from alarmlib.control import machine
from alarmlib.control.inputs import Input
from alarmlib.control.layout import A, Layout, State, U, Z
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.signals import Outputs
from alarmlib.control.system_faults import KEPT
from alarmlib.proof.search.budget import Spending, bytes_of

Happened = tuple[Input, ...]
StepFunction = Callable[[Setup, Any, Happened], tuple[Any, Outputs]]
AT_END, RUNS = 1, 2
MOST_STATES = 300_000


class LookedAtError(Exception):
    """Somebody asked a held timer how much it has left."""

    def __init__(self, slot: int) -> None:
        super().__init__(slot)
        self.slot = slot


class Rest:
    """What a held timer has left: at least so much, nobody knows how much; `slot` is its place in the state.

    It is no number: whatever a number can do and this class does not say raises `LookedAtError` (see `_DENIED`).
    """

    def __init__(self, least: int, slot: int) -> None:
        """At least so much, of the timer in this place."""
        self.least, self.slot = least, slot

    def __repr__(self) -> str:
        """For whoever reads a failed test; a unit that puts a timer into words looks at it."""
        return f"{type(self).__name__}(at least {self.least}, slot {self.slot})"

    def __bool__(self) -> bool:
        """True: it runs."""
        return self > 0

    def __sub__(self, other: int) -> "Rest":
        """One second less can be had once."""
        if type(other) is not int or other != 1 or isinstance(self, OneLess):
            raise LookedAtError(self.slot)
        return OneLess(self.least - 1, self.slot)

    def _over(self, other: object, known: bool, bound: int) -> bool:
        if not isinstance(other, int) or other > bound:
            raise LookedAtError(self.slot)
        return known

    def __lt__(self, other: int) -> bool:
        """False when nothing so small is possible."""
        return self._over(other, False, self.least)

    def __ge__(self, other: int) -> bool:
        """True when nothing smaller is possible."""
        return self._over(other, True, self.least)

    def __le__(self, other: int) -> bool:
        """False when nothing so small is possible."""
        return self._over(other, False, self.least - 1)

    def __gt__(self, other: int) -> bool:
        """True when nothing so small is possible."""
        return self._over(other, True, self.least - 1)

    def __eq__(self, other: object) -> bool:
        """False when it can't be so little."""
        return self._over(other, False, self.least - 1)

    def __ne__(self, other: object) -> bool:
        """True when it can't be so little."""
        return self._over(other, True, self.least - 1)

    def __hash__(self) -> int:
        """Two timers can't be told equal, so neither is a key."""
        raise LookedAtError(self.slot)


def _denied(rest: Rest, *_: object) -> NoReturn:
    raise LookedAtError(rest.slot)


_OF_TWO = {"add", "sub", "mul", "matmul", "truediv", "floordiv", "mod", "divmod", "pow"}
_OF_TWO |= {"lshift", "rshift", "and", "or", "xor"}
_OF_ONE = frozenset({"__complex__", "__str__", "__format__", "__iter__", "__len__", "__getitem__", "__contains__"})
_AS_GIVEN = frozenset(dir(object)) | frozenset(vars(Rest))
_DENIED = {f"__{side}{name}__" for name in _OF_TWO for side in ("", "r", "i")} | set(dir(int)) | _OF_ONE
_DENIED -= (_AS_GIVEN - {"__str__", "__format__"}) | {"__isub__", "__getnewargs__"}  # `-=` falls back on `-`
for _name in sorted(_DENIED):
    setattr(Rest, _name, _denied if _name.startswith("__") else property(_denied))


class OneLess(Rest):
    """A held timer after the second that is being looked at."""


class Edge(NamedTuple):
    """One second: from a state, by what happened, to a state, with what is given out; held timers are `Rest`s."""

    setup: Setup
    before: Sequence[int]
    happened: Happened
    after: Sequence[int]
    out: Outputs


def least(number: int | Rest) -> int:
    """A number of a state; of a held timer the least that it may have left."""
    return number.least if isinstance(number, Rest) else number


def fell(before: int | Rest, after: int | Rest) -> bool:
    """Whether a timer lost exactly one second."""
    if isinstance(after, Rest):
        return isinstance(after, OneLess)
    return not isinstance(before, Rest) and after == before - 1


class Guarded(NamedTuple):
    """What may happen in a second, and when it can do anything: some of these numbers are not 0, or all are."""

    happened: Happened
    slots: tuple[int, ...] = ()
    some: bool = True

    def can(self, state: State) -> bool:
        """Whether it can do anything in that state."""
        return not self.slots or any(state[slot] for slot in self.slots) is self.some


class Came(NamedTuple):
    """How a state was first reached: from where, which of its timers ran out then, and what happened."""

    state: State
    ended: tuple[int, ...]
    happened: Happened


@dataclass(frozen=True)
class Explored:
    """What was found: the states, the seconds worked out, the shortest way to the first breach of each rule.

    `complete` is False when there were more states than allowed.
    """

    states: frozenset[State]
    steps: int
    broken: Mapping[str, tuple[Came, ...]]
    complete: bool = True


Broken = Callable[[Edge], bool]


def timers_of(setup: Setup) -> dict[int, int]:
    """The places of all timers, with the longest time each can have."""
    lay, facts = setup.layout, setup.behaviour
    found = {U.IGNORE + 0: facts.ignore_after_power_s, U.TEST + 0: facts.test_s, U.LOCK + 0: facts.wrong_code_lock_s}
    entry_s = max([0, *(s for zone in lay.zones for s in zone.delay_s.values()), *(a.entry_s for a in setup.areas)])
    let_s = max([0, *(zone.exit_s or 0 for zone in setup.zones), *(area.exit_s for area in setup.areas)])
    for area in lay.areas:
        found |= {
            area.base + A.EXIT: max(*area.exit_s, facts.exit_after_door_s),
            area.base + A.ENTRY: entry_s,
            area.base + A.LET: max(let_s, facts.exit_after_door_s),
            area.base + A.RECENT: facts.recent_closing_s,
            area.base + A.SIREN: area.setup.siren_s,
            area.base + A.ABORT: area.setup.abort_s,
        }
    for zone in lay.zones:
        found |= {zone.base + Z.VERIFY: zone.setup.confirm_s, zone.base + Z.HOLD: zone.setup.restore_hold_s}
    return {slot: longest for slot, longest in found.items() if longest}


class Holder:
    """What a state is taken for when timers are held, and which seconds may follow it.

    `forget`: numbers put to 0 since nothing that is asked depends on them; the alarm count of a zone is known only
    as below its limit or at it; `alike`: by place, for each number the one that replaces it.
    """

    def __init__(
        self, setup: Setup, forget: Sequence[int] = (), alike: Mapping[int, tuple[int, ...]] | None = None
    ) -> None:
        lay: Layout = setup.layout
        self.longest = timers_of(setup)
        self.timers = tuple(self.longest)
        self.watches = tuple(watch.slot for watch in lay.watches)
        self.longest |= {watch.slot: KEPT + watch.setup.hold_s for watch in lay.watches}
        self.counts = tuple((zone.base + Z.COUNT, zone.limit) for zone in lay.zones if zone.limit > 1)
        self.forget = tuple(forget)
        self.alike = tuple((alike or {}).items())
        self._runs = {slot: Rest(RUNS, slot) for slot in self.timers}
        self._runs |= {slot: Rest(KEPT + RUNS, slot) for slot in self.watches}

    def canonical(self, after: Sequence[int]) -> list[State]:
        """The states that represent this one."""
        state = [least(each) for each in after]
        for slot in self.timers:
            if state[slot]:
                state[slot] = RUNS
        for slot in self.watches:
            state[slot] = min(state[slot], KEPT + AT_END)
        for slot in self.forget:
            state[slot] = 0
        for slot, same in self.alike:
            state[slot] = same[state[slot]]
        found = [state]
        for slot, limit in self.counts:
            if 0 < state[slot] < limit:
                found = [[*each[:slot], n, *each[slot + 1 :]] for each in found for n in (0, limit)]
        return [tuple(each) for each in found]

    def running(self, state: State) -> list[int]:
        """The places of the timers that run in this state."""
        found = [slot for slot in self.timers if state[slot]]
        return found + [slot for slot in self.watches if state[slot] > KEPT]

    def befores(self, state: State) -> Iterator[tuple[tuple[int, ...], list[Any]]]:
        """Each choice of timers that end in the next second, with the state of which that is known."""
        if state[U.LOST]:
            yield (), list(state)
            return
        running = self.running(state)
        for ends in product((False, True), repeat=len(running)):
            before, ended = list[Any](state), []
            for slot, at_end in zip(running, ends, strict=True):
                before[slot] = (KEPT * (slot in self.watches) + AT_END) if at_end else self._runs[slot]
                if at_end:
                    ended.append(slot)
            yield tuple(ended), before


def explore(
    setup: Setup,
    inputs: Sequence[Guarded],
    rules: Mapping[str, Broken],
    holder: Holder | None = None,
    step: StepFunction = machine.step,
    most: int | None = MOST_STATES,
    spending: Spending | None = None,
) -> Explored:
    """All states reachable by these inputs, breadth first, and the first breach of each rule.

    Without a `holder` every timer has its own numbers and every state is its own. When every rule is broken it ends.
    What it stores counts against `spending` while it works; with more than `most` states it ends unfinished.
    """
    spending = spending or Spending()
    before_it = spending.kept
    try:
        return _explored(setup, inputs, rules, holder, step, (most, spending))
    finally:
        spending.drop(spending.kept - before_it)


def _explored(
    setup: Setup,
    inputs: Sequence[Guarded],
    rules: Mapping[str, Broken],
    holder: Holder | None,
    step: StepFunction,
    limits: tuple[int | None, Spending],
) -> Explored:
    most, spending = limits
    start = start_state(setup)
    came: dict[State, Came | None] = {start: None}
    todo, steps, broken, open_rules = deque([start]), 0, {}, dict(rules)
    while todo and (most is None or len(came) <= most) and (open_rules or not rules):
        state = todo.popleft()
        usable = [each.happened for each in inputs if each.can(state)]
        for ended, before in holder.befores(state) if holder else [((), list(state))]:
            for happened in usable:
                edges, wrong = _seconds(setup, before, happened, open_rules, holder, step)
                steps += len(edges)
                spending.look(len(edges))
                for name in wrong:
                    broken[name] = (*_way(came, state), Came(state, ended, happened))
                    del open_rules[name]
                for after in edges:
                    for reached in holder.canonical(after) if holder else (after,):
                        if reached not in came:
                            came[reached] = Came(state, ended, happened)
                            todo.append(reached)
                            spending.keep(bytes_of(len(reached)))
                            spending.met(1)
    return Explored(frozenset(came), steps, broken, not todo)


def _seconds(
    setup: Setup,
    before: list[int],
    happened: Happened,
    rules: Mapping[str, Broken],
    holder: Holder | None,
    step: StepFunction,
) -> tuple[list[Any], list[str]]:
    """The states after this second and the rules it breaks; every number is tried where one was looked at."""
    try:
        after, out = step(setup, before, happened)
        edge = Edge(setup, before, happened, after, out)
        wrong = [name for name, breaks in rules.items() if breaks(edge)]
    except LookedAtError as looked:
        if holder is None:
            raise
        return _every_number(setup, before, happened=happened, rules=rules, holder=holder, step=step, slot=looked.slot)
    found = [after]
    for other in _one_below(holder, before, after) if holder else []:
        more, also = _seconds(setup, other, happened, rules, holder, step)
        found, wrong = found + more, sorted({*wrong, *also})
    return found, wrong


def _every_number(
    setup: Setup,
    before: list[int],
    happened: Happened,
    rules: Mapping[str, Broken],
    holder: Holder,
    step: StepFunction,
    slot: int,
) -> tuple[list[Any], list[str]]:
    found: list[Any] = []
    wrong: set[str] = set()
    for number in range(least(before[slot]), holder.longest[slot] + 1):
        exact = [*before[:slot], number, *before[slot + 1 :]]
        more, also = _seconds(setup, exact, happened, rules, holder, step)
        found += more
        wrong.update(also)
    return found, sorted(wrong)


def _one_below(holder: Holder, before: list[int], after: Sequence[int]) -> list[list[int]]:
    """The same second with a zone just below its limit, where it gave an alarm: it may reach its limit within it."""
    risen = [(slot, limit) for slot, limit in holder.counts if before[slot] == 0 < after[slot]]
    return [[*before[:slot], limit - 1, *before[slot + 1 :]] for slot, limit in risen]


def _way(came: Mapping[State, Came | None], state: State) -> tuple[Came, ...]:
    steps: list[Came] = []
    at = came[state]
    while at is not None:
        steps.append(at)
        at = came[at.state]
    return tuple(reversed(steps))
