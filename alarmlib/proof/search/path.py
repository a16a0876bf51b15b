"""The shortest path of a search, second by second: cells, control states, and what reached the unit."""

from collections.abc import Iterator
from dataclasses import dataclass

from alarmlib.control.inputs import Input
from alarmlib.control.layout import State
from alarmlib.proof.intruder.search import IntruderRun, Intrusion, Reached
from alarmlib.proof.search.compiled import Transition
from alarmlib.proof.search.rows import bits


@dataclass(frozen=True)
class Moment:
    """One second of a path: the cell after it, the state after it, what reached the unit, what detectors decided.

    `label` is that of the move (of the start, in the second of coming in); `over`: detectors found awake again in it.
    """

    cell: int
    k: int
    inputs: tuple[Input, ...]
    label: int
    over: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Path:
    """A path from the state in which it begins to where a rule is broken, under one fault (its bit)."""

    begin: State
    fault: int
    moments: tuple[Moment, ...]

    @property
    def cells(self) -> tuple[int, ...]:
        """The cells, one a second."""
        return tuple(moment.cell for moment in self.moments)

    @property
    def awake_after_s(self) -> dict[str, int]:
        """By detector that setting may have left asleep the second, from 1, in which it is first awake again."""
        found: dict[str, int] = {}
        for second, moment in enumerate(self.moments, 1):
            for device in moment.over:
                found.setdefault(device, second)
        return found


def shortest(intrusion: Intrusion, run: IntruderRun, reached: Reached) -> Path:
    """The path that first broke the rule, traced back tick by tick, under the first of its faults.

    Reference: breadth-first search, textbook.
    """
    fault = reached.mask & -reached.mask
    cell, k, moments = next(bits(reached.cells)), reached.k, []
    for tick in range(reached.tick, 0, -1):
        moment, cell, k = _back(intrusion, run, tick, (cell, k), fault)
        moments.append(moment)
    begin, first = _first(intrusion, run, (cell, k), fault)
    return Path(begin, fault, (first, *reversed(moments)))


def _back(
    intrusion: Intrusion, run: IntruderRun, tick: int, here: tuple[int, int], fault: int
) -> tuple[Moment, int, int]:
    """How one came here in this tick, and from which cell and state."""
    cell, k = here
    for (before, mask), cells in run.layers[tick - 1].items():
        if mask & fault:
            for label, choice in _leading(intrusion, before, k, fault):
                moves = intrusion.cells.moves[label]
                for came_from in bits(cells & intrusion.steps[label].sources):
                    if moves[came_from] >> cell & 1:
                        return Moment(cell, k, choice.inputs, label, choice.over), came_from, before
    raise AssertionError("a layer holds what no row of the layer before leads to")


def _leading(intrusion: Intrusion, before: int, k: int, fault: int) -> Iterator[tuple[int, Transition]]:
    for label, seen in enumerate(intrusion.cells.labels):
        for choice, _ in intrusion.choices(before, fault, seen.must, seen.may):
            if choice.to == k and intrusion.unheard(choice.signs, fault):
                yield label, choice
                break


def _first(intrusion: Intrusion, run: IntruderRun, here: tuple[int, int], fault: int) -> tuple[State, Moment]:
    """The second of coming in that led here."""
    cell, k = here
    for state, mask in run.begin.items():
        if mask & fault:
            for label, cells in intrusion.cells.starts[run.way.opening]:
                seen = intrusion.cells.labels[label]
                must, may = run.way.must | seen.must, run.way.may | seen.may
                for choice, _ in intrusion.choices(intrusion.compiled.number(state), fault, must, may):
                    if choice.to == k and cells >> cell & 1 and intrusion.unheard(choice.signs, fault):
                        return state, Moment(cell, k, choice.inputs, label, choice.over)
    raise AssertionError("a first layer holds what no coming in leads to")


def noticing(intrusion: Intrusion, run: IntruderRun, k: int) -> Path | None:
    """The shortest path on which the unit comes into this state, without a fault; None when no row has it.

    As `shortest`.
    """
    for tick, layer in enumerate(run.layers):
        for (state, mask), cells in layer.items():
            if state == k and mask & 1:
                return shortest(intrusion, run, Reached("", "", tick, k, 1, cells))
    return None
