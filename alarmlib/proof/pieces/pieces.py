"""Pieces of proofs: each kept under a name for all that it rests on, and worked out only where none is kept so."""

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from hashlib import sha256
from typing import Any, TypeVar, cast

from pydantic import TypeAdapter, ValidationError

from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.proof.pieces.code import code_digest
from alarmlib.proof.pieces.content import content_of, digest
from alarmlib.proof.pieces.recorded import HomeReading, recorded

T = TypeVar("T")
ReadFields = Mapping[str, tuple[str, ...]]
"""By the name of a class of parts the fields that were read, in the order of their names."""
MOST_BYTES = 2_000_000
MOST_READINGS = 8
"""Of each kind of piece so many sets of fields read are remembered, those last used."""
_KEPT_FIELDS = dict[str, list[dict[str, tuple[str, ...]]]]


class Pieces:
    """What is kept of proofs, by a name for what each piece rests on: what it read, other inputs, and the code.

    `asked` and `redone` count the pieces of this proof, and those of them that had to be worked out.
    """

    def __init__(self, document: Any = None) -> None:
        self.asked = self.redone = 0
        self._values: dict[str, Any] = {}  # those last used come last
        self._fields: dict[str, list[ReadFields]] = {}
        self._used: list[ReadFields] = []
        self._readings: list[HomeReading] = []
        self._contents: list[tuple[Home, ReadFields, str]] = []
        self._take(document)

    def begin(self) -> None:
        """Begin another proof: none of its pieces was asked for yet."""
        self.asked = self.redone = 0
        self._used, self._readings, self._contents = [], [], []

    def _take(self, document: Any) -> None:
        """What was kept, if it can be read; anything else is as good as nothing."""
        try:
            self._fields = shape_of(_KEPT_FIELDS).validate_python(document["fields"])
            kept = shape_of(dict[str, tuple[str, Any]]).validate_python(document["values"])
            self._values = {key: value for key, (check, value) in kept.items() if check == _check(key, value)}
        except (KeyError, TypeError, ValueError, RecursionError):
            self._values, self._fields = {}, {}

    def document(self) -> dict[str, Any]:
        """All of it as plain JSON values, at most `MOST_BYTES`: what was used last is kept first."""
        kept: dict[str, Any] = {}
        left = MOST_BYTES
        for key, value in reversed(self._values.items()):
            left -= len(json.dumps(value)) + len(key)
            if left < 0:
                break
            kept[key] = [_check(key, value), value]
        return {
            "fields": {
                kind: [{of: list(names) for of, names in each.items()} for each in sets]
                for kind, sets in self._fields.items()
            },
            "values": dict(reversed(kept.items())),
        }

    def of_value(
        self, kind: str, inputs: Any, shape: Any, work: Callable[[], T], whole: Callable[[T], bool] | None = None
    ) -> T:
        """A piece that rests on these inputs alone; kept only where it is `whole`."""
        self.asked += 1
        key = self._key(kind, "", inputs)
        found = self._kept(key, shape)
        if found is not None:
            return cast("T", found)
        return self._new(key, shape, work, whole)

    def of_home(
        self,
        kind: str,
        home: Home,
        inputs: Any,
        shape: Any,
        work: Callable[[Home], T],
        whole: Callable[[T], bool] | None = None,
    ) -> T:
        """A piece that rests on what it reads of the home, and on these inputs; kept only where it is `whole`."""
        reading = HomeReading()
        with self.shared(home, reading) as shared:
            return shared.ask(kind, None, inputs, shape, lambda: work(recorded(home, reading)), whole)

    def home(self, home: Home) -> Home:
        """The home for what is worked out each time, such as the inputs of pieces: what it reads counts as read."""
        self._readings.append(HomeReading())
        return recorded(home, self._readings[-1])

    @contextmanager
    def shared(self, home: Home, reading: HomeReading) -> Iterator["Shared"]:
        """Pieces that read one recorded home between them: each new one rests on all that any of them read."""
        together = Shared(self, home)
        yield together
        together.keep(reading.seen())

    def reads(self) -> dict[str, tuple[str, ...]]:
        """The fields of a home that the pieces of this proof read, those that were kept among them."""
        found: dict[str, set[str]] = {}
        for seen in (*self._used, *(reading.seen() for reading in self._readings)):
            for of, fields in seen.items():
                found.setdefault(of, set()).update(fields)
        return {of: tuple(sorted(fields)) for of, fields in sorted(found.items())}

    # -- what Shared asks ---------------------------------------------------------------------------------------------

    def look(self, kind: str, home: Home, part: Part | None, inputs: Any, shape: Any) -> Any:
        """A kept piece of that kind which rests on what the home holds; None when there is none."""
        for seen in self._fields.get(kind, ()):
            found = self._kept(self._key(kind, self._resting_on(home, part, seen), inputs), shape)
            if found is not None:
                self._use(kind, seen)
                return found
        return None

    def read(self, seen: ReadFields) -> None:
        """These fields were read for this proof."""
        if seen not in self._used:
            self._used.append(seen)

    def put(self, kind: str, home: Home, part: Part | None, inputs: Any, seen: ReadFields, value: Any) -> None:
        """Keep a piece that read these fields."""
        self._use(kind, seen)
        self._values[self._key(kind, self._resting_on(home, part, seen), inputs)] = value

    def _use(self, kind: str, seen: ReadFields) -> None:
        others = [each for each in self._fields.get(kind, ()) if each != seen]
        self._fields[kind] = [seen, *others][:MOST_READINGS]
        self.read(seen)

    def _resting_on(self, home: Home, part: Part | None, seen: ReadFields) -> str:
        known = next((c for h, s, c in self._contents if h is home and (s is seen or s == seen)), None)
        if known is None:
            known = content_of(home, seen)
            self._contents.append((home, seen, known))
        return known if part is None else f"{known} {digest(part, seen)}"

    def _key(self, kind: str, resting_on: str, inputs: Any) -> str:
        return sha256(f"{code_digest()} {kind} {resting_on} {digest(inputs)}".encode()).hexdigest()

    def _kept(self, key: str, shape: Any) -> Any:
        if key not in self._values:
            return None
        value = self._values.pop(key)
        try:
            found = shape_of(shape).validate_python(value)
        except (ValidationError, RecursionError):
            return None
        self._values[key] = value
        return found

    def _new(self, key: str, shape: Any, work: Callable[[], T], whole: Callable[[T], bool] | None) -> T:
        self.redone += 1
        value = work()
        if whole is None or whole(value):
            self._values[key] = shape_of(shape).dump_python(value, mode="json")
        return value


class Shared:
    """Pieces that are worked out from one recorded home; they are kept once all that they read is known."""

    def __init__(self, pieces: Pieces, home: Home) -> None:
        self._pieces, self._home = pieces, home
        self._new: list[tuple[str, Part | None, Any, Any]] = []

    def ask(
        self,
        kind: str,
        part: Part | None,
        inputs: Any,
        shape: Any,
        work: Callable[[], T],
        whole: Callable[[T], bool] | None = None,
    ) -> T:
        """The piece of that kind about a part which the home is without (None: about the home as it is)."""
        self._pieces.asked += 1
        found = self._pieces.look(kind, self._home, part, inputs, shape)
        if found is not None:
            return cast("T", found)
        self._pieces.redone += 1
        value = work()
        if whole is None or whole(value):
            self._new.append((kind, part, inputs, shape_of(shape).dump_python(value, mode="json")))
        return value

    def keep(self, seen: ReadFields) -> None:
        """Keep what is new: each rests on these fields."""
        self._pieces.read(seen)
        for kind, part, inputs, value in self._new:
            self._pieces.put(kind, self._home, part, inputs, seen, value)


def _check(key: str, value: Any) -> str:
    """What tells a kept value from one that was spoilt on its way."""
    return sha256(f"{key} {json.dumps(value)}".encode()).hexdigest()[:16]


@cache
def shape_of(shape: Any) -> TypeAdapter[Any]:
    """What reads a value of this type from plain JSON values, and writes it so."""
    return TypeAdapter(shape)
