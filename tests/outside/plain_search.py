"""A search in the plainest words: a dictionary of tuples, one state after another, in the order in which they are met.

Nothing is shared with the proof but `step`: no tables, no bits, no faults taken together.
"""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field

from games import Game, Tick

from alarmlib.control.layout import A, State

Canonical = Callable[[State], State]
Where = tuple[str, int, State, int, int]  # way in, fault, control, place, seconds since an entry delay began


@dataclass(frozen=True)
class Found:
    """What a search met: states, the second of the first breach, goals reached in time, the longest entry delay."""

    states: int
    seconds_to_breach: int | None
    goals: frozenset[int]
    longest_wait_s: int
    controls: frozenset[State]

    @property
    def breached(self) -> bool:
        """Whether there was a breach."""
        return self.seconds_to_breach is not None


@dataclass
class Search:
    """One search at work; `measure` counts waits as well, `canonical` gives the one control state for all alike."""

    game: Game
    measure: bool = False
    canonical: Canonical = lambda state: state
    seconds: dict[Where, int] = field(default_factory=dict)
    waiting: deque[Where] = field(default_factory=deque)
    breaches: list[int] = field(default_factory=list)
    goals: set[int] = field(default_factory=set)
    known: dict[tuple[State, Tick, int], frozenset[tuple[State, bool]]] = field(default_factory=dict)

    def run(self) -> Found:
        """Every state from every way in and under every fault."""
        for way, edges in self.game.ways.items():
            for fault in range(len(self.game.faults)):
                self.follow((way, fault, self.game.begin, -1, 0), edges, 0)
        while self.waiting:
            where = self.waiting.popleft()
            self.follow(where, self.game.moves[where[3]], self.seconds[where] + 1)
        waits = max((where[4] for where in self.seconds), default=0)
        controls = frozenset(where[2] for where in self.seconds)
        return Found(len(self.seconds), min(self.breaches, default=None), frozenset(self.goals), waits, controls)

    def follow(self, where: Where, edges: tuple[tuple[int, int], ...], second: int) -> None:
        """One second more from there, by each of these moves and whatever it may lead to."""
        way, fault, state, _, wait_s = where
        for number, place in edges:
            for after, ends in self.after(state, number, fault):
                if not ends:
                    self.meet((way, fault, after, place, self.wait(after, wait_s)), second)
                elif self.game.quiet_wanted:
                    self.breaches.append(second)

    def after(self, state: State, number: int, fault: int) -> frozenset[tuple[State, bool]]:
        """What a tick may lead to, asked once."""
        broken = self.game.faults[fault]
        asked = state, self.game.tick_under(number, broken), fault
        if asked not in self.known:
            found = self.game.after(state, asked[1], broken)
            self.known[asked] = frozenset((self.canonical(to), ends) for to, ends in found)
        return self.known[asked]

    def meet(self, where: Where, second: int) -> None:
        """A state is met; the first time it is kept, and looked at for a goal."""
        if where in self.seconds:
            return
        self.seconds[where] = second
        self.waiting.append(where)
        if where[3] in self.game.goals:
            self.goals.add(where[3])
            self.breaches.append(second)

    def wait(self, state: State, before_s: int) -> int:
        """Seconds in which an entry delay has been running, this one included; 0 where nobody asks."""
        running = any(state[area.base + A.ENTRY] for area in self.game.setup.layout.areas)
        return before_s + 1 if running and self.measure else 0


def search(game: Game, measure: bool = False, canonical: Canonical | None = None) -> Found:
    """The whole search of a game."""
    return Search(game, measure, canonical or (lambda state: state)).run()
