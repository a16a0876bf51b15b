"""One habit through the control unit: everything that may happen, second by second, for all faults in one sweep."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from alarmlib.control.inputs import Closes, Opens, Sees
from alarmlib.control.layout import A, State
from alarmlib.control.setup import Setup
from alarmlib.proof.habits.habit_moves import ALARMED, Moves
from alarmlib.proof.habits.habit_script import Script, ScriptLabel

Layer = Mapping[int, int]
_NEVER = 1 << 30
_TIMES = ((A.ENTRY, "entry delay"), (A.EXIT, "exit delay"), (A.LET, "time for letting somebody out"))


@dataclass(frozen=True)
class Swept:
    """What a habit may lead to: faults under which it alarms, where first without fault, faults of quiet ends.

    `layers`: for each place of the script the states before it, with their faults; the last is after all.
    """

    alarmed: int
    first_at: int | None
    quiet: int
    layers: tuple[Layer, ...] = field(repr=False)

    @property
    def states(self) -> int:
        """States met, each place of the script counted apart where anything moved."""
        apart = {id(layer): len(layer) for layer in self.layers}
        return sum(apart.values())

    def after(self, place: int) -> Layer:
        """The states after a place of the script."""
        return self.layers[place + 1]


def sweep(script: Script, begin: Layer, moves: Moves, once: bool = True) -> Swept:
    """The habit from these states (faults by state) to its end.

    `once`: a fault that alarmed once is not followed further; else only the way that alarmed isn't.

    Reference: breadth-first search, textbook.
    """
    layers: list[Layer] = []
    layer, alarmed, first_at = begin, 0, None
    still: ScriptLabel | None = None
    for place, label in enumerate(script.labels):
        layers.append(layer)
        if label == still:
            continue  # the same label again, and nothing moved under it
        following, bad = _after(layer, label, moves, place in script.waits)
        moves.met(len(following))
        if bad & 1 and first_at is None:
            first_at = place
        alarmed |= bad
        if bad and once:
            following = {k: left for k, mask in following.items() if (left := mask & ~alarmed)}
        still = label if following == layer else None
        layer = following if still is None else layer
    quiet = 0
    for mask in layer.values():
        quiet |= mask
    return Swept(alarmed, first_at, quiet, (*layers, layer))


def _after(layer: Layer, label: ScriptLabel, moves: Moves, waits: bool) -> tuple[Layer, int]:
    """The states after a place of the script; one that waits may end at any second."""
    following, alarmed = moves.layer(layer, label)
    new: Layer = following if waits else {}
    while new:
        reached, bad = moves.layer(new, label)
        alarmed |= bad
        new = {k: more for k, mask in reached.items() if (more := mask & ~following.get(k, 0))}
        for k, mask in new.items():
            following[k] = following.get(k, 0) | mask
    return following, alarmed


def least_margin(script: Script, swept: Swept, moves: Moves) -> tuple[int, str] | None:
    """The least rest of a delay when it was answered, without fault, whatever is seen: seconds and which delay.

    Unset while entering; the last trip before an exit delay, or the time to be let out, ended with the area set.
    As `alarmlib.control.simulate`, over every choice.
    """
    found = list(_margins(script, swept, moves))
    return min(found, default=None)


def _margins(script: Script, swept: Swept, moves: Moves) -> Iterator[tuple[int, str]]:
    watch = _Rests(moves.unit.setup)
    states = moves.unit.states
    rests: dict[int, tuple[int, ...]] = {}
    for place, label in enumerate(script.labels):
        layer = [k for k, mask in swept.layers[place].items() if mask & 1]
        if not rests and not any(watch.runs(states[k]) for k in layer) and not label.told:
            continue
        found, after = _carried(layer, rests, label, moves, watch)
        if place in script.waits:
            within = {k for k, mask in swept.after(place).items() if mask & 1}.union(layer)
            known: dict[int, tuple[int, ...]] = {}
            while after != known:
                known = after
                more, reached = _carried(within, known, label, moves, watch)
                found, after = found + more, _lesser(known, reached)
        yield from found
        rests = after


def _lesser(first: Mapping[int, tuple[int, ...]], second: Mapping[int, tuple[int, ...]]) -> dict[int, tuple[int, ...]]:
    both = {k: tuple(map(min, rests, second.get(k, rests))) for k, rests in first.items()}
    return {**second, **both}


def _carried(
    layer: Iterable[int], rests: Mapping[int, tuple[int, ...]], label: ScriptLabel, moves: Moves, watch: "_Rests"
) -> tuple[list[tuple[int, str]], dict[int, tuple[int, ...]]]:
    """The margins answered in a second, and the rests by state after it."""
    found: list[tuple[int, str]] = []
    after: dict[int, tuple[int, ...]] = {}
    states, trips = moves.unit.states, trips_in(label)
    for k in layer:
        moves.spending.look()
        for move in moves.of(k, label):
            if move.under & 1 and not move.signs & ALARMED:
                rest = rests.get(k, watch.none)
                found += watch.answered(states[k], states[move.to], rest)
                kept = watch.kept(states[k], states[move.to], rest, trips)
                if kept != watch.none:
                    after[move.to] = tuple(map(min, kept, after.get(move.to, kept)))
    return found, after


def trips_in(label: ScriptLabel) -> bool:
    """Whether anything is or may be tripped in that second."""
    return bool(label.seen_by) or any(isinstance(e, (Opens, Closes, Sees)) for row in label.told for e in row)


class _Rests:
    """The delays of every area, and the least rest at the last trip while one that is left by runs."""

    def __init__(self, setup: Setup) -> None:
        areas = setup.layout.areas
        self._entry = [area.base + A.ENTRY for area in areas]
        self._leaving = [(area.base + place, area.base + A.SET, name) for area in areas for place, name in _TIMES[1:]]
        self.none = (_NEVER,) * len(self._leaving)

    def runs(self, state: State) -> bool:
        """Whether any delay runs."""
        return any(state[slot] for slot in self._entry) or any(state[slot] for slot, *_ in self._leaving)

    def answered(self, before: State, after: State, rests: tuple[int, ...]) -> Iterator[tuple[int, str]]:
        """The rests of the delays that ended in this second."""
        for slot in self._entry:
            if before[slot] and not after[slot]:
                yield before[slot] - 1, _TIMES[0][1]
        for (slot, set_at, name), rest_s in zip(self._leaving, rests, strict=True):
            if before[slot] and not after[slot] and after[set_at] and rest_s < _NEVER:
                yield rest_s, name

    def kept(self, before: State, after: State, rests: tuple[int, ...], trips: bool) -> tuple[int, ...]:
        """The rests to carry on: started again at a trip, as before while the delay runs on, none otherwise."""
        return tuple(
            (after[slot] if trips else rest_s if before[slot] else _NEVER) if after[slot] else _NEVER
            for (slot, *_), rest_s in zip(self._leaving, rests, strict=True)
        )
