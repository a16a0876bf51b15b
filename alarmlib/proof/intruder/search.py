"""One intruder and the control unit: from a way in to siren or message, or to a room reached before that.

What is explored: every cell the intruder may be in at every second, every free choice of detectors that may see,
every order of what happens in a second, under every fault at once. The intruder does not leave again, leaves doors
as they were opened and opens nothing else; a second way in is a search of its own.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from alarmlib.calc.cells.cell_map import CellMap
from alarmlib.control.layout import State
from alarmlib.control.setup import Setup
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.intruder.ways import WayIn, noticed
from alarmlib.proof.search.budget import ENTRY_BYTES, OverBudget, RanOut, Spending, without_limit
from alarmlib.proof.search.compiled import SOUNDED, Compiled, Sign, Transition
from alarmlib.proof.search.rows import Layer, Rows, Steps, explore
from alarmlib.proof.search.setups import canonical_waiting

UNHEARD = -1  # noticed, and neither siren nor message ever comes


@dataclass(frozen=True)
class Reached:
    """A room reached before it may be: in which tick, in which control state and cells, under which faults."""

    rule: str
    room: str
    tick: int
    k: int
    mask: int
    cells: int


@dataclass(frozen=True)
class Sounding:
    """How long after being noticed it is heard at the latest, under these faults; `k` is the state when noticed."""

    seconds: int
    k: int
    mask: int


class End(NamedTuple):
    """A second in which it sounds: the state after it, what was given out, under which faults."""

    k: int
    signs: Sign
    mask: int


@dataclass
class IntruderRun:
    """What a search by one way in found; `layers` are kept for its counterexamples."""

    way: WayIn
    begin: Mapping[State, int]
    layers: list[Layer[int]] = field(default_factory=list)
    reached: list[Reached] = field(default_factory=list)
    soundings: list[Sounding] = field(default_factory=list)
    free: dict[str, int] = field(default_factory=dict)
    states: int = 0
    kept: int = 0  # bytes of its rows and layers


class SearchStopped(OverBudget):
    """A search by a way in that ended at a limit, with what it had found until then."""

    def __init__(self, ran_out: RanOut, run: IntruderRun) -> None:
        super().__init__(ran_out, run.states, len(run.layers))
        self.run = run


class Intrusion:
    """The searches of one part of the home, with one setup: what is worked out by one is known to the next."""

    def __init__(
        self,
        setup: Setup,
        cells: CellMap,
        ways: Iterable[WayIn],
        masks: FaultMasks,
        steps: list[Steps] | None = None,
        spending: Spending | None = None,
    ) -> None:
        self.cells, self.masks, self.spending = cells, masks, spending or Spending()
        self.kept = 0  # bytes, beside those of `compiled`
        self.setup = setup.only(_zones_felt(setup, cells, ways))
        inside = {device for label in cells.labels for device in label.must | label.may}
        self.compiled = Compiled(self.setup, canonical_waiting(self.setup, inside), self.spending)
        self.steps = [Steps(moves) for moves in cells.moves] if steps is None else steps
        self.dead = _dead(self.setup, masks)
        self._noticed: dict[int, bool] = {}
        self._gone: dict[tuple[int, int], tuple[list[tuple[int, int]], list[End]]] = {}
        self._told: dict[int, int] = {}
        self._latest: dict[int, list[Sounding]] = {}

    def run(
        self, way: WayIn, begin: Mapping[State, int], goals: Mapping[str, int], first: Mapping[str, int]
    ) -> IntruderRun:
        """The search by this way in, from these states under these faults.

        `goals` are the cells of rooms to be reached only when noticed, `first` of those only after siren or message.
        Whoever is noticed is followed under those faults only under which a room of `first` was not reached yet.
        Raises SearchStopped at a limit. Reference: breadth-first search, textbook; SPIN and a plain search agree in the
        tests.
        """
        run = IntruderRun(way, begin)
        try:
            self._search(run, goals, first)
        except OverBudget as over:
            raise SearchStopped(over.ran_out, run) from None
        return run

    def _search(self, run: IntruderRun, goals: Mapping[str, int], first: Mapping[str, int]) -> None:
        rows = Rows[int]()
        noticing: set[tuple[int, int]] = set()
        ends: set[End] = set()
        left = {("noticed_first", room): self.masks.all for room in goals}
        left |= {("sounds_first", room): self.masks.all for room in first}
        places = {rule_room: (goals if rule_room[0] == "noticed_first" else first)[rule_room[1]] for rule_room in left}

        def go(k: int, mask: int, label: int) -> list[tuple[int, int]]:
            seen = self.is_noticed(k)
            asked = any_of(left[place] for place in left if place[0] == "sounds_first")
            following, ended = self._go(k, mask & asked if seen else mask, label)
            ends.update(ended)
            if not seen:
                noticing.update(row for row in following if self.is_noticed(row[0]))
            return following + [(end.k, rest) for end in ended if (rest := self.unheard(end.signs, end.mask) & asked)]

        start = list(self._coming_in(run.way, run.begin, ends))
        noticing.update((k, mask) for k, mask, _ in start if self.is_noticed(k))
        for tick, layer in enumerate(explore(start, self.steps, go, rows)):
            run.layers.append(layer)
            self._count(run, layer)
            for (k, mask), cells in layer.items():
                self._look(run, (tick, k, mask, cells), places, left)
        run.states = len(rows)
        run.soundings = of_each_fault(heard for end in ends for heard in self._heard(end, 0, end.k))
        run.soundings += [found for k, mask in sorted(noticing) for found in self.latest(k, mask)]

    def _count(self, run: IntruderRun, layer: Layer[int]) -> None:
        """What is new in a tick counts as met, and as kept: in the layer, and once more among the rows."""
        met = sum(mask.bit_count() * cells.bit_count() for (_, mask), cells in layer.items())
        run.states += met
        size = sum(2 * (ENTRY_BYTES + cells.bit_length() // 8) for cells in layer.values())
        run.kept += size
        self.spending.keep(size)
        self.spending.met(met)

    def drop(self, told: bool = False) -> None:
        """What was worked out is not needed any more; `told`: the states' numbers are, for a counterexample."""
        self.compiled.forget() if told else self.compiled.drop()
        self._gone.clear()
        self.spending.drop(self.kept)
        self.kept = 0
        self.spending = self.compiled.spending = without_limit()

    def _coming_in(self, way: WayIn, begin: Mapping[State, int], ends: set[End]) -> Iterator[tuple[int, int, int]]:
        """The rows after the second of coming in; what is heard in that very second is left behind."""
        for state, mask in begin.items():
            k = self.compiled.number(state)
            for label, cells in self.cells.starts.get(way.opening, ()):
                seen = self.cells.labels[label]
                for choice, under in self.choices(k, mask, way.must | seen.must, way.may | seen.may):
                    if choice.signs & SOUNDED:
                        ends.add(End(choice.to, choice.signs, under))
                    if self.unheard(choice.signs, under):
                        yield choice.to, self.unheard(choice.signs, under), cells

    def unheard(self, signs: Sign, mask: int) -> int:
        """Those of these faults under which nobody hears what a second gave out: whoever is in goes on."""
        if signs & Sign.SIREN:
            mask &= self.masks.no_siren
        return mask & self.masks.no_message if signs & Sign.MESSAGE else mask

    def choices(self, k: int, mask: int, must: frozenset[str], may: frozenset[str]) -> Iterator[tuple[Transition, int]]:
        """Every way a second may go, with the faults under which it may; a dead device tells nothing."""
        for alive_mask, alive in self._alive(mask, must):
            for choice in self.compiled.choices(k, alive, may):
                under = alive_mask
                for device in choice.fired:
                    under &= ~self.dead.get(device, 0)
                if under:
                    yield choice, under

    def _alive(self, mask: int, must: frozenset[str]) -> list[tuple[int, frozenset[str]]]:
        """The faults parted by which of these devices still work."""
        parts = [(mask, must)]
        for device in sorted(must):
            dead = self.dead.get(device, 0)
            if dead & mask:
                parts = [
                    part
                    for under, alive in parts
                    for part in ((under & ~dead, alive), (under & dead, alive - {device}))
                    if part[0]
                ]
        return parts

    def _go(self, k: int, mask: int, label: int) -> tuple[list[tuple[int, int]], list[End]]:
        """Where a row goes under a label, and where it ends because it sounds."""
        self.spending.look()
        following, ended = self._gone.get((k, label)) or self._worked_out(k, label)
        return (
            [(to, under & mask) for to, under in following if under & mask],
            [End(end.k, end.signs, end.mask & mask) for end in ended if end.mask & mask],
        )

    def _worked_out(self, k: int, label: int) -> tuple[list[tuple[int, int]], list[End]]:
        """The same under every fault there is; faults do not meet, so fewer of them are a part of it."""
        seen = self.cells.labels[label]
        merged: dict[int, int] = {}
        ended: list[End] = []
        for choice, under in self.choices(k, self.masks.all, seen.must, seen.may):
            if choice.signs & SOUNDED:
                ended.append(End(choice.to, choice.signs, under))
            else:
                merged[choice.to] = merged.get(choice.to, 0) | under
        self._gone[k, label] = found = list(merged.items()), ended
        self.kept += (size := ENTRY_BYTES * (1 + len(merged) + len(ended)))
        self.spending.keep(size)
        return found

    def _look(
        self,
        run: IntruderRun,
        row: tuple[int, int, int, int],
        places: Mapping[tuple[str, str], int],
        left: dict[tuple[str, str], int],
    ) -> None:
        """Note each rule, room and fault the first time it is broken, and when each room is first reached."""
        tick, k, mask, cells = row
        for (rule, room), goal in places.items():
            if not goal & cells:
                continue
            if mask & 1:
                run.free.setdefault(room, tick)
            under = mask & left[rule, room]
            if under and (rule == "sounds_first" or not self.is_noticed(k)):
                left[rule, room] &= ~under
                run.reached.append(Reached(rule, room, tick, k, under, goal & cells))

    def is_noticed(self, k: int) -> bool:
        """Whether the unit has noticed somebody in this state."""
        if k not in self._noticed:
            self._noticed[k] = noticed(self.setup, self.compiled.states[k])
        return self._noticed[k]

    def latest(self, k: int, mask: int) -> list[Sounding]:
        """How long from this noticed state until it is heard, at the latest, wherever the intruder goes meanwhile.

        Reference: longest path of a graph, textbook; a path longer than its states never ends.
        """
        if k not in self._latest:
            self._latest[k] = of_each_fault(self._heard_after(k, self.masks.all))
        return [replace(found, mask=found.mask & mask) for found in self._latest[k] if found.mask & mask]

    def _heard_after(self, begin: int, mask: int) -> Iterator[Sounding]:
        """Second by second all states at once; seconds in which nothing but timers moves are taken in one."""
        frontier, met, seconds, rounds = {begin: mask}, {begin}, 0, 0
        while frontier:
            seconds, rounds = seconds + 1, rounds + 1
            following: dict[int, int] = {}
            heard: list[End] = []
            for k, under in frontier.items():
                for label in range(len(self.cells.labels)):
                    goes_on, ended = self._go(k, under, label)
                    heard += ended
                    for to, still in goes_on:
                        following[to] = following.get(to, 0) | still
            far_s = self._far_s(frontier, following)
            seconds += far_s
            for end in heard:
                yield from self._heard(end, seconds, begin)
            if far_s:
                following = {self.compiled.counted_on(k, far_s): under for k, under in following.items()}
            met |= following.keys()
            frontier = following
            if rounds > len(met) + 1:
                yield Sounding(UNHEARD, begin, any_of(frontier.values()))
                return

    def _far_s(self, frontier: Mapping[int, int], following: Mapping[int, int]) -> int:
        """How many more seconds do the same as this one: nothing but timers moved, and none is near its end."""
        if following != {self.compiled.counted_on(k, 1): under for k, under in frontier.items()}:
            return 0
        return max(0, min(self.compiled.far_s(k) for k in following))

    def _heard(self, end: End, seconds: int, k: int) -> Iterator[Sounding]:
        """When somebody hears of it: by the siren, else by the message that follows, else never."""
        by_siren = end.mask & ~self.masks.no_siren if end.signs & Sign.SIREN else 0
        rest = end.mask & ~by_siren
        by_message = rest & ~self.masks.no_message
        if by_siren:
            yield Sounding(seconds, k, by_siren)
        if by_message:
            told = 0 if end.signs & Sign.MESSAGE else self._message_after(end.k)
            yield Sounding(UNHEARD if told == UNHEARD else seconds + told, k, by_message)
        if rest & ~by_message:
            yield Sounding(UNHEARD, k, rest & ~by_message)

    def _message_after(self, k: int) -> int:
        """Seconds until the message of an alarm goes out when nothing else happens."""
        if k not in self._told:
            longest_s = max(area.abort_s for area in self.setup.areas)
            at, self._told[k] = k, UNHEARD
            for second in range(1, longest_s + 2):
                at, signs = self.compiled.after(at)
                if signs & Sign.MESSAGE:
                    self._told[k] = second
                    break
        return self._told[k]


def of_each_fault(soundings: Iterable[Sounding]) -> list[Sounding]:
    """Of these, for each fault the latest; never is later than ever."""
    done, kept = 0, []
    for found in sorted(soundings, key=lambda each: (each.seconds != UNHEARD, -each.seconds)):
        if found.mask & ~done:
            kept.append(Sounding(found.seconds, found.k, found.mask & ~done))
            done |= found.mask
    return kept


def any_of(masks: Iterable[int]) -> int:
    """The faults of any of these masks."""
    total = 0
    for mask in masks:
        total |= mask
    return total


def _zones_felt(setup: Setup, cells: CellMap, ways: Iterable[WayIn]) -> frozenset[str]:
    """The zones that the intruder can trip, and their partners."""
    felt = {device for label in cells.labels for device in label.must | label.may}
    felt |= {device for way in ways for device in way.must | way.may}
    zones = {zone.id for zone in setup.zones if any(device.id in felt for device in zone.devices)}
    partners = {partner for zone in setup.zones if zone.id in zones for partner in zone.partners}
    return frozenset(zones | partners)


def _dead(setup: Setup, masks: FaultMasks) -> dict[str, int]:
    """For each device the faults under which nothing of it is heard.

    A zone that is left out, or has reached its limit of alarms, counts so when it confirms none.
    """
    dead = dict(masks.dead_of)
    for zone in setup.zones:
        if alone(setup, zone.id):
            for device in zone.devices:
                silent = masks.inhibited_of.get(zone.id, 0) | masks.spent_of.get(zone.id, 0)
                dead[device.id] = dead.get(device.id, 0) | silent
    return dead


def alone(setup: Setup, zone: str) -> bool:
    """Whether a zone neither needs nor gives a confirmation: then leaving it out is no more than silence."""
    return not any(each.partners and zone in (each.id, *each.partners) for each in setup.zones)
