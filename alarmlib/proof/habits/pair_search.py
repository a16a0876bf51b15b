"""Two habits at any offset: each place of the one with each place of the other, and the set of states met there."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from alarmlib.proof.habits.habit_begin import is_set_so, sets_asked
from alarmlib.proof.habits.habit_counterexample import NOT_YET, HabitTick, Node, Places
from alarmlib.proof.habits.habit_moves import ALARMED, Move, Moves
from alarmlib.proof.habits.habit_script import Script, ScriptLabel
from alarmlib.proof.report.environment_assumptions import EnvironmentAssumptions
from alarmlib.proof.search.state_sets import NEVER_S, Sets

_SILENT = ScriptLabel()


@dataclass(frozen=True)
class PairFound:
    """What the search of a pair met: whether it may alarm, the least rest of an entry delay, cells and states."""

    alarmed: bool
    rest_s: int
    cells: int
    states: int


@dataclass
class ScriptPair:
    """Two scripts on a unit, each beginning at any place of the other where the unit is in the state that it names."""

    sets: Sets
    scripts: tuple[Script, Script]
    environment: EnvironmentAssumptions
    begins: tuple[tuple[int, ...], tuple[int, ...]]  # the states in which each begins, when it is the first
    rest_s: int = NEVER_S
    cells: int = 0
    states: int = 0
    _may_begin: dict[tuple[int, int], int] = field(default_factory=dict)

    def search(self) -> PairFound:
        """All offsets at once, up to the first alarm; what somebody leads to alone is left to the habit itself.

        Reference: breadth-first search, textbook.
        """
        first, second = (self._alone(which) for which in (0, 1))
        labels = [[self.sets.label(label) for label in (*s.labels, _SILENT)] for s in self.scripts]
        joint: dict[int, list[int]] = {}
        row = [self._begun(0, states) for states in second] + [0]
        for place, label in enumerate(labels[0]):
            if place < len(first):
                row[0] = self.sets.union(row[0], self._begun(1, first[place]))
            if label not in joint:
                joint[label] = [self.sets.joint(label, other) for other in labels[1]]
            following = self._row(place, row, joint[label])
            if following is None:
                return PairFound(True, self.rest_s, self.cells, self.states)
            row = following
        return PairFound(False, self.rest_s, self.cells, self.states)

    def _row(self, place: int, row: list[int], labels: list[int]) -> list[int] | None:
        """The row of the next place of the first script; None when a way alarms.

        `row`: a set for each place of the second script, filled up along the row where the first one waits.
        """
        sets, union = self.sets, self.sets.union
        stays, over = self._stays(0, place), place == len(self.scripts[0].labels)
        following = [0] * len(row)
        last = len(row) - 1
        checks = self._must_check(place)
        for other, here in enumerate(row):
            if not here or (checks and self.environment.forbid((place, other))):
                continue
            waits = self._stays(1, other)
            found = sets.after(here, labels[other])
            if stays and waits:
                closed = sets.closed(here, labels[other])
                found = sets.after(closed.states, labels[other])._replace(alarmed=closed.alarmed, rest_s=closed.rest_s)
            self.cells += 1
            self.states += len(sets.states[here])
            sets.moves.spending.look()
            if found.alarmed:
                return None
            self.rest_s = min(self.rest_s, found.rest_s)
            for then in {other, min(other + 1, last)} if waits else (other + 1,):
                if stays and then > other:
                    row[then] = union(row[then], found.states)
                if not over:
                    following[then] = union(following[then], found.states)
        return following

    def _must_check(self, place: int) -> bool:
        return bool(self.environment.sets_full[1]) or place in self.environment.sets_full[0]

    def _stays(self, which: int, place: int) -> bool:
        """Whether a script may be at the same place a second later: it waits, or is over."""
        return place == len(self.scripts[which].labels) or place in self.scripts[which].waits

    def _alone(self, which: int) -> list[int]:
        """The states at each place of a script while the other has not begun."""
        states, found = self.sets.number(self.begins[which]), []
        for place, label in enumerate(self.scripts[which].labels):
            number = self.sets.label(label)
            if place in self.scripts[which].waits:
                states = self.sets.closed(states, number).states
            found.append(states)
            states = self.sets.after(states, number).states
        return found

    def _begun(self, which: int, states: int) -> int:
        """Those of these states in which a script may begin."""
        asked = which, states
        if asked not in self._may_begin:
            unit = self.sets.moves.unit
            wanted = sets_asked(unit.setup, self.scripts[which].habit)
            kept = (k for k in self.sets.states[states] if is_set_so(unit.setup, unit.states[k], wanted))
            self._may_begin[asked] = self.sets.number(kept)
        return self._may_begin[asked]


@dataclass(frozen=True)
class Together:
    """Both scripts followed to an alarm that comes while both have begun.

    As `Pair.search`, one state at a time.
    """

    scripts: tuple[Script, Script]
    environment: EnvironmentAssumptions
    moves: Moves

    def __call__(self, node: Node) -> Iterator[tuple[HabitTick, Node, bool]]:
        """A `Follow`."""
        for places in self._beginnings(node):
            for move in self._moves(places, node.k):
                for then in _next(self.scripts, places):
                    yield HabitTick(places, move.inputs), Node(then, move.to), bool(move.signs & ALARMED)

    def _beginnings(self, node: Node) -> Iterator[Places]:
        """The places as they are, and those with the other just begun; none when one is over before the other began."""
        first, second = node.places
        if (first == NOT_YET and second >= len(self.scripts[1].labels)) or (
            second == NOT_YET and first >= len(self.scripts[0].labels)
        ):
            return
        yield node.places
        if first == NOT_YET and self._is_set_so(0, node.k):
            yield 0, second
        if second == NOT_YET and self._is_set_so(1, node.k):
            yield first, 0

    def _is_set_so(self, which: int, k: int) -> bool:
        unit = self.moves.unit
        return is_set_so(unit.setup, unit.states[k], sets_asked(unit.setup, self.scripts[which].habit))

    def _moves(self, places: Places, k: int) -> Iterator[Move]:
        """The ways that count: an alarm before the other has begun is a matter of the one habit."""
        if not self.environment.forbid(places):
            for move in self.moves.of(k, _label_at(self.scripts, places)):
                if move.under & 1 and not (move.signs & ALARMED and NOT_YET in places):
                    yield move


def _label_at(scripts: tuple[Script, Script], places: Places) -> ScriptLabel:
    first, second = (
        script.labels[place] if 0 <= place < len(script.labels) else _SILENT
        for script, place in zip(scripts, places, strict=True)
    )
    return first | second


def _next(scripts: tuple[Script, Script], places: Places) -> Iterator[Places]:
    first, second = (tuple(_then(script, place)) for script, place in zip(scripts, places, strict=True))
    return ((one, other) for one in first for other in second)


def _then(script: Script, place: int) -> Iterator[int]:
    if place == NOT_YET or place == len(script.labels) or place in script.waits:
        yield place
    if NOT_YET < place < len(script.labels):
        yield place + 1
