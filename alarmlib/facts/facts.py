"""Derived facts: values worked out from a home, each kept until something that it read moves.

A query is a pure function of a home. `Facts.ask` runs it on itself: the facts answer like the home at its parts
("rules", "site.rooms") and note which of them, and which other queries, were read. After an edit a value is worked out
again only if something that it read changed; one that comes out the same keeps its old object, so that whatever
reads it keeps its value as well.

No small library does this with values that keep their objects, exceptions that are kept and copies that go on from
one state: those found rebuild a graph that is declared by hand, or compare inputs alone.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from functools import reduce
from itertools import chain
from typing import Any, Concatenate, NamedTuple, ParamSpec, Self, TypeVar, cast

from alarmlib.model import Home

P = ParamSpec("P")
T = TypeVar("T")
Query = tuple[Callable[..., Any], tuple[Any, ...]]
"""A question: the function and what it is asked about besides the home."""

BRANCHES = frozenset({"rules", "site", "household", "control_unit", "log"})
"""Large parts of a home, noted by their own parts: a walk logged says nothing new about a person."""
TODAY = "today"
UNASKED_TURNS = 3
"""So many edits after it was last asked, a kept value goes."""
MOST_BYTES = 50_000_000
"""So much is kept of values that say their size, the newest first; one asked in the last turn stays in any case."""


class _Part(NamedTuple):
    """A part of the home as it was last looked at, and the turn in which it changed."""

    value: Any
    changed: int
    seen: int


class _Kept(NamedTuple):
    """A value worked out (or the exception it ended in), what it read in order, and when it changed and was seen."""

    value: Any
    failed: bool
    reads: tuple["str | Query", ...]
    changed: int
    seen: int


class Facts:
    """One home and the day, and all that was worked out from them.

    It is no home: a query takes it as one, and may read any part of it. Not for two threads at once.
    """

    def __init__(self, home: Home, today: date | None = None) -> None:
        self.home, self.today_now = home, today
        self._turn = 0
        self._parts: dict[str, _Part] = {}
        self._kept: dict[Query, _Kept] = {}
        self._wanted: dict[Query, int] = {}  # the turn in which somebody last asked whether it still holds
        self._reading: list[dict[str | Query, None]] = []
        self._running: list[Query] = []
        self._branches = {name: _Branch(self, name) for name in BRANCHES}
        self.look: Callable[[], None] = _nothing
        """Called before a query is worked out: what it raises, if no Exception, ends the asking and is not kept."""

    def move(self, home: Home, today: date | None = None) -> None:
        """Go on with another state of the home, or another day."""
        if home is self.home and today == self.today_now:
            return
        self.home, self.today_now = home, today
        self._turn += 1
        gone = self._turn - UNASKED_TURNS
        self._wanted = {query: turn for query, turn in self._wanted.items() if turn >= gone}
        self._kept = self._with_what_they_read(self._recent(gone), self._wanted)

    def fork(self) -> Self:
        """A copy that goes its own way from here."""
        copied = type(self)(self.home, self.today_now)
        copied._turn, copied._wanted = self._turn, dict(self._wanted)
        copied._parts, copied._kept = dict(self._parts), dict(self._kept)
        copied.look = self.look
        return copied

    def __reduce__(self) -> tuple[Any, ...]:
        """Another process gets the home and the day, and works out again what it asks."""
        return type(self), (self.home, self.today_now)

    @property
    def today(self) -> date | None:
        """The day; None when nothing that depends on it is to be said."""
        self._note(TODAY)
        return cast("date | None", self._part(TODAY).value)

    def ask(self, query: Callable[Concatenate[Any, P], T], *args: P.args, **named: P.kwargs) -> T:
        """What the query says of the home: kept where nothing that it read has moved, else worked out.

        Raises what the query raises, each time, without working it out again. RuntimeError for one that asks itself.
        """
        if named:
            raise TypeError("a query is asked by position")
        asked: Query = (query, args)
        self._note(asked)
        kept = self._fresh(asked)
        if kept.failed:
            raise cast("Exception", kept.value).with_traceback(None)
        return cast("T", kept.value)

    def standing(self, query: Callable[..., T], *args: Any) -> bool | None:
        """Whether a kept value is surely right, looked at without working anything out; None when none is kept."""
        asked: Query = (query, args)
        if asked not in self._kept:
            return None
        self._wanted[asked] = self._turn
        return self._stands(asked)

    def reads(self, query: Callable[..., Any], *args: Any) -> frozenset[str]:
        """The parts of the home on which a kept value rests, by path, those that its queries read among them."""
        return frozenset(self._paths((query, args)))

    def __getattr__(self, name: str) -> Any:
        if name in self.__dict__.get("_branches", {}):
            return self._branches[name]
        if name in Home.model_fields:
            return self.read(name)
        derived = getattr(Home, name, None)
        if derived is not None and hasattr(derived, "func"):
            return self.ask(derived.func)
        raise AttributeError(f"a query may not read “{name}” of a home")

    def read(self, path: str) -> Any:
        """A part of the home, noted as read."""
        self._note(path)
        return self._part(path).value

    def _recent(self, gone: int) -> Iterator[Query]:
        """What was asked since that turn, the newest first: all of the last turn, and of others what there is room for.

        Room is taken by values that say their size in bytes, as `nbytes`.
        """
        room = MOST_BYTES
        for query, kept in sorted(self._kept.items(), key=lambda item: -item[1].seen):
            size = getattr(kept.value, "nbytes", 0)
            room -= size
            if kept.seen == self._turn - 1 or (kept.seen >= gone and (not size or room >= 0)):
                yield query

    def _with_what_they_read(self, *queries: Iterable[Query]) -> dict[Query, _Kept]:
        """What is kept of these queries, and of all that they rest on."""
        waiting, found = list(chain(*queries)), dict[Query, _Kept]()
        while waiting:
            query = waiting.pop()
            if query not in found and (kept := self._kept.get(query)) is not None:
                found[query] = kept
                waiting += [each for each in kept.reads if not isinstance(each, str)]
        return found

    # -- what moved ---------------------------------------------------------------------------------------------------

    def _note(self, what: str | Query) -> None:
        if self._reading:
            self._reading[-1][what] = None

    def _part(self, path: str) -> _Part:
        known = self._parts.get(path)
        if known is not None and known.seen == self._turn:
            return known
        value = self.today_now if path == TODAY else reduce(getattr, path.split("."), self.home)
        if known is None or not same(known.value, value):
            found = _Part(value, self._turn, self._turn)
        else:
            found = known._replace(seen=self._turn)
        self._parts[path] = found
        return found

    def _fresh(self, asked: Query) -> _Kept:
        known = self._kept.get(asked)
        if known is not None and known.seen == self._turn:
            return known
        if known is None or any(self._changed(each) > known.seen for each in known.reads):
            return self._work_out(asked, known)
        self._kept[asked] = found = known._replace(seen=self._turn)
        return found

    def _changed(self, what: str | Query) -> int:
        return self._part(what).changed if isinstance(what, str) else self._fresh(what).changed

    def _work_out(self, asked: Query, known: _Kept | None) -> _Kept:
        if asked in self._running:
            raise RuntimeError(f"{asked[0].__name__} asks itself")
        self.look()
        self._running.append(asked)
        self._reading.append({})
        query, args = asked
        try:
            value, failed = query(self, *args), False
        except Exception as problem:  # how a query ends is its value
            value, failed = problem, True
        finally:
            self._running.pop()
            reads = tuple(self._reading.pop())
        if known is not None and known.failed == failed and same(known.value, value):
            found = known._replace(reads=reads, seen=self._turn)
        else:
            found = _Kept(value, failed, reads, self._turn, self._turn)
        self._kept[asked] = found
        return found

    def _stands(self, asked: Query) -> bool:
        known = self._kept.get(asked)
        if known is None:
            return False
        if known.seen == self._turn:
            return True
        stands = all(
            self._part(each).changed <= known.seen if isinstance(each, str) else self._stood(each, known.seen)
            for each in known.reads
        )
        if stands:
            self._kept[asked] = known._replace(seen=self._turn)
        return stands

    def _stood(self, asked: Query, since: int) -> bool:
        known = self._kept.get(asked)
        return known is not None and known.changed <= since and self._stands(asked)

    def _paths(self, asked: Query) -> Iterable[str]:
        known = self._kept.get(asked)
        for each in known.reads if known else ():
            yield from (each,) if isinstance(each, str) else self._paths(each)


class _Branch:
    """A large part of the home, whose own parts are noted one by one."""

    __slots__ = ("_facts", "_name")

    def __init__(self, facts: Facts, name: str) -> None:
        self._facts, self._name = facts, name

    def __getattr__(self, name: str) -> Any:
        return self._facts.read(f"{self._name}.{name}")


def _nothing() -> None:
    """Nobody wants to look in."""


def same(one: Any, other: Any) -> bool:
    """Whether two values are alike in every part: a number is no truth value, and no field is left out.

    Reference: Python's own equality, which takes True for 1 and leaves out fields that a dataclass does not compare.
    """
    if one is other or type(one) is not type(other):
        return one is other
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if is_dataclass(one):
        return all(same(getattr(one, each.name), getattr(other, each.name)) for each in fields(one))
    return same(one.args, other.args) if isinstance(one, Exception) else bool(one == other)
