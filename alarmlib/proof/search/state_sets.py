"""Sets of states of a unit as numbers, and what a second makes of a set: worked out once, looked up ever after."""

from collections.abc import Iterable
from typing import NamedTuple

from alarmlib.control.layout import A, State
from alarmlib.proof.habits.habit_moves import ALARMED, Moves
from alarmlib.proof.habits.habit_script import ScriptLabel
from alarmlib.proof.search.budget import ENTRY_BYTES

NEVER_S = 1 << 30


class After(NamedTuple):
    """The set of states after a second, whether any way alarmed, the least rest of an entry delay that was answered."""

    states: int
    alarmed: bool
    rest_s: int


class Sets:
    """Sets of states of a unit, numbered as they are met; 0 is empty. A second of a set is worked out once."""

    def __init__(self, moves: Moves) -> None:
        self.moves = moves
        self.states: list[frozenset[int]] = [frozenset()]
        self._numbers: dict[frozenset[int], int] = {frozenset(): 0}
        self._after: dict[tuple[int, int], After] = {}
        self._both: dict[tuple[int, int], int] = {}
        self._labels: dict[ScriptLabel, int] = {}
        self._label: list[ScriptLabel] = []
        self._joint: dict[tuple[int, int], int] = {}
        self._entries = [area.base + A.ENTRY for area in moves.unit.setup.layout.areas]

    def number(self, states: Iterable[int]) -> int:
        """The number of a set."""
        found = frozenset(states)
        if found not in self._numbers:
            self._numbers[found] = len(self.states)
            self.states.append(found)
            self.moves.unit.keep(ENTRY_BYTES * (1 + len(found)), numbered=True)
        return self._numbers[found]

    def label(self, label: ScriptLabel) -> int:
        """The number of a label."""
        if label not in self._labels:
            self._labels[label] = len(self._label)
            self._label.append(label)
        return self._labels[label]

    def joint(self, first: int, second: int) -> int:
        """The number of what two labels are together."""
        asked = first, second
        if asked not in self._joint:
            self._joint[asked] = self.label(self._label[first] | self._label[second])
        return self._joint[asked]

    def union(self, first: int, second: int) -> int:
        """The number of two sets together."""
        if not first or first == second:
            return second
        asked = first, second
        if asked not in self._both:
            self._both[asked] = self.number(self.states[first] | self.states[second])
        return self._both[asked]

    def after(self, states: int, label: int) -> After:
        """One second of a set; ways that alarm are not followed further.

        By `Moves.of` for each of its states.
        """
        asked = states, label
        found = self._after.get(asked)
        if found is None:
            found = self._after[asked] = self._work_out(states, self._label[label])
            self.moves.unit.keep(ENTRY_BYTES)
        return found

    def _work_out(self, states: int, label: ScriptLabel) -> After:
        reached, alarmed, rest_s = set[int](), False, NEVER_S
        known = self.moves.unit.states
        for k in self.states[states]:
            for to, signs, _, _ in self.moves.of(k, label):
                if signs & ALARMED:
                    alarmed = True
                else:
                    reached.add(to)
                    rest_s = min(rest_s, self._rest_s(known[k], known[to]))
        return After(self.number(reached), alarmed, rest_s)

    def _rest_s(self, before: State, after: State) -> int:
        return min((before[slot] - 1 for slot in self._entries if before[slot] and not after[slot]), default=NEVER_S)

    def closed(self, states: int, label: int) -> After:
        """The set with all that it leads to if the second goes on any number of times."""
        alarmed, rest_s = False, NEVER_S
        while True:
            found = self.after(states, label)
            alarmed |= found.alarmed
            rest_s = min(rest_s, found.rest_s)
            more = self.union(states, found.states)
            if more == states:
                return After(states, alarmed, rest_s)
            states = more
