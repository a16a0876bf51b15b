"""How much a proof may take: states, memory and time, counted by the search itself, and told about as it goes on.

Memory is counted by what is stored, at so many bytes a number, so that the same home ends at the same place on any
machine. Time is asked of the caller, who has a clock. What Python takes is a little more or less than what is counted:
a test compares both.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.proof import MOST_GIGABYTES
from alarmlib.model.words import Word
from alarmlib.proof.report.verdicts import TOO_LARGE, OnProgress

GIGABYTE = 1_000_000_000
TELL_EVERY = 1000  # seconds of the unit, or rows, between two lines of progress: well under a second of work
ENTRY_BYTES = 150  # of a table: its place, a key of two or three, what it holds besides states
NUMBER_BYTES = 8


class RanOut(Word):
    """What a search ran out of."""

    STATES = "states", "states"
    MEMORY = "memory", "memory"
    TIME = "time", "time"


@dataclass(frozen=True)
class Budget:
    """The most that a proof may take: bytes of what it stores at once, states in all (None: any number).

    The default leaves most of a computer of 8 GB to everything else.
    """

    bytes: int = round(MOST_GIGABYTES * GIGABYTE)
    states: int | None = None


def budget_of(home: Home) -> Budget:
    """What the owner allows."""
    return Budget(round(home.proof.most_gigabytes * GIGABYTE))


def late_after(minutes: float, now: Callable[[], float]) -> Callable[[], bool]:
    """Whether so many minutes have passed since this was asked for; `now` is a clock in seconds."""
    until = now() + 60 * minutes
    return lambda: now() > until


class OverBudget(AlarmProblem):
    """A search that ended at its limit before it was over, and what it had gone through by then.

    `states` and `deepest_s` (seconds from its beginning) are those of the one search that ended.
    """

    def __init__(self, ran_out: RanOut, states: int = 0, deepest_s: int = 0) -> None:
        super().__init__(f"The search ended at its limit of {ran_out.text}.")
        self.ran_out, self.states, self.deepest_s = ran_out, states, deepest_s


class Spending:
    """What a proof has taken so far; it is told of at least once in `TELL_EVERY` looks, and is an `OnProgress` itself.

    `late` says whether the time is over. Whoever stores something says so by `keep`, and by `drop` when it is gone.
    """

    def __init__(
        self,
        budget: Budget | None = None,
        progress: OnProgress | None = None,
        late: Callable[[], bool] | None = None,
    ) -> None:
        self.budget, self._progress, self._late = budget or Budget(), progress, late
        self.states = self.steps = self.kept = self.most_kept = 0
        self._now = self._prepared = "", 0, 1
        self._since = 0
        self._lifted = False

    def __call__(self, what: str, done: int, of: int) -> None:
        """Something new is worked on, as piece `done` of `of`."""
        self._now = what, done, of
        if self._progress is not None:
            self._progress(what, done, of)

    def prepare(self, what: str, done: int, of: int) -> None:
        """Piece `done` of `of` of what a search needs is made ready. Raises OverBudget when the time is over."""
        if self._progress is not None and self._prepared != (what, done, of):
            self._progress(what, done, of)
        self._prepared = what, done, of
        self._in_time()

    def telling(self, what: str, done: int, of: int, stored: int) -> None:
        """As `prepare`, with the bytes stored since the last call. Raises OverBudget when they are too many."""
        self.prepare(what, done, of)
        self.keep(stored)

    @contextmanager
    def given_back(self) -> Iterator[None]:
        """What is stored meanwhile is free again at the end."""
        before = self.kept
        try:
            yield
        finally:
            self.drop(self.kept - before)

    @contextmanager
    def lifted(self) -> Iterator[None]:
        """No limit while a counterexample is looked for, which has a bound of its own; what is stored is counted on."""
        before, self._lifted = self._lifted, True
        try:
            yield
        finally:
            self._lifted = before

    def look(self, often: int = 1) -> None:
        """A second of the unit, or a row, is looked at. Raises OverBudget when the time is over."""
        self.steps += often
        self._since += often
        if self._since >= TELL_EVERY:
            self._since = 0
            self._tell()

    def _tell(self) -> None:
        what, done, of = self._now
        if self._progress is not None and what:
            self._progress(f"{what}: {self.states:,} states, {self.steps:,} steps gone through", done, of)
        self._in_time()

    def _in_time(self) -> None:
        if not self._lifted and self._late is not None and self._late():
            raise OverBudget(RanOut.TIME)

    def met(self, states: int) -> None:
        """So many states more were met. Raises OverBudget when they are too many."""
        self.states += states
        if not self._lifted and self.budget.states is not None and self.states > self.budget.states:
            raise OverBudget(RanOut.STATES)

    def keep(self, count: int) -> None:
        """So many bytes more are stored. Raises OverBudget when they are too many."""
        self.kept += count
        self.most_kept = max(self.most_kept, self.kept)
        if not self._lifted and self.kept > self.budget.bytes:
            raise OverBudget(RanOut.MEMORY)

    def drop(self, count: int) -> None:
        """So many bytes are free again."""
        self.kept -= count


@dataclass(frozen=True)
class Aside:
    """A spending beside arguments by which a result is remembered: it is no part of them."""

    spending: Spending = field(compare=False)


def spending_of(progress: OnProgress | None) -> Spending:
    """What a run spends from: its progress where that is one already, else a spending of the default budget."""
    return progress if isinstance(progress, Spending) else Spending(progress=progress)


def gone_through(over: OverBudget, done: str, left: str) -> str:
    """Why a property is not settled: which limit, what was gone through, what was not."""
    depth = f", up to {over.deepest_s:,} s after it begins" if over.deepest_s else ""
    here = f"; of the next {over.states:,} states{depth}" if over.states else ""
    why = f"{TOO_LARGE}: the search ended at its limit of {over.ran_out.text}."
    return f"{why} Gone through: {done}{here}. Not gone through: {left}."


def not_ready(over: OverBudget) -> str:
    """Why a property is open whose search was still being made ready."""
    return gone_through(over, "nothing, since the search was still being made ready", "all of it")


def without_limit() -> Spending:
    """For a counterexample, which asks no more than lies on its way."""
    return Spending(Budget(bytes=1 << 62))


def bytes_of(numbers: int) -> int:
    """What a tuple of so many numbers takes with its place in a table, bytes.

    Our own estimate; a test compares the whole with what the interpreter traces.
    """
    return ENTRY_BYTES + 56 + NUMBER_BYTES * numbers
