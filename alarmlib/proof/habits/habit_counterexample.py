"""The shortest way in which habits lead to something, second by second, played again on the whole unit and told."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from alarmlib.control.describe import describe
from alarmlib.control.habit_events import Done
from alarmlib.control.habit_words import output_of
from alarmlib.control.inputs import Input, Opens, Sees
from alarmlib.control.layout import State
from alarmlib.control.machine import Second, Trace, run
from alarmlib.control.setup import Setup
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.proof.habits.habit_moves import ALARMED, Moves
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.report.verdicts import Beat

MOST_NODES = 500_000
NOT_YET = -1
Places = tuple[int, ...]
"""Where each script where; `NOT_YET`: it has not begun; its length: it is over."""


class Node(NamedTuple):
    """The place in every script, and the state of the unit."""

    places: Places
    k: int


class HabitTick(NamedTuple):
    """A second of a counterexample: the place in each script, and what reached the unit."""

    places: Places
    inputs: tuple[Input, ...]


@dataclass(frozen=True)
class HabitPath:
    """A way from one of the first states of the unit (its place among those given), second by second."""

    seed: int
    ticks: tuple[HabitTick, ...]


Follow = Callable[[Node], Iterator[tuple[HabitTick, Node, bool]]]
"""From a node: a second, the node after it, and whether that is what is looked for."""


class TooFar(AlarmProblem):
    """The search for a counterexample met too many states."""


def shortest(seeds: Iterable[tuple[int, Node]], follow: Follow) -> HabitPath | None:
    """The path with the fewest seconds to what is looked for; None when nothing leads there.

    Raises TooFar above `MOST_NODES` nodes.
    Reference: breadth-first search, textbook.
    """
    came: dict[Node, tuple[Node, HabitTick] | int] = {}
    waiting: deque[Node] = deque()
    for number, node in seeds:
        if node not in came:
            came[node] = number
            waiting.append(node)
    while waiting:
        node = waiting.popleft()
        for tick, after, found in follow(node):
            if found:
                return _path(came, node, tick)
            if after not in came:
                came[after] = node, tick
                waiting.append(after)
        if len(came) > MOST_NODES:
            raise TooFar(f"More than {MOST_NODES} states were met before this case was reached.")
    return None


def _path(came: Mapping[Node, tuple[Node, HabitTick] | int], node: Node, last: HabitTick) -> HabitPath:
    ticks = [last]
    while not isinstance(before := came[node], int):
        node, tick = before
        ticks.append(tick)
    return HabitPath(before, tuple(reversed(ticks)))


def alone(script: Script, moves: Moves, bit: int, alarm: bool = True) -> Follow:
    """One script followed under one fault (its bit): to an alarm, or to its end without one.

    As `alarmlib.proof.habits.habit_search.sweep`.
    """

    def follow(node: Node) -> Iterator[tuple[HabitTick, Node, bool]]:
        (place,), k = node
        if place == len(script.labels):
            return
        for move in moves.of(k, script.labels[place]):
            if not move.under & bit:
                continue
            sounds = bool(move.signs & ALARMED)
            tick = HabitTick((place,), move.inputs)
            if sounds and not alarm:
                continue
            ends = place + 1 == len(script.labels)
            yield tick, Node((place + 1,), move.to), sounds if alarm else ends
            if place in script.waits:
                yield tick, Node((place,), move.to), False

    return follow


def played(setup: Setup, begin: State, path: HabitPath) -> Trace:
    """The path once more on a setup, from a state, and a second longer.

    By `alarmlib.control.machine.run`.
    """
    inputs = {second: tick.inputs for second, tick in enumerate(path.ticks)}
    return run(setup, inputs, len(path.ticks) + 1, begin)


@dataclass(frozen=True)
class HabitTeller:
    """Tells a path in the words of a home."""

    home: Home
    names: Mapping[str, str]

    def beats(self, setup: Setup, scripts: tuple[Script, ...], path: HabitPath, trace: Trace) -> Iterator[Beat]:
        """The seconds in which a step begins or the unit does something, ending with the alarm.

        Our own sentences over the trace.
        """
        begun: set[tuple[int, int]] = set()
        sounding = False
        for second in trace:
            places = path.ticks[min(second.at_s, len(path.ticks) - 1)].places
            output = output_of(second, self.names, sounding)
            sounding = bool(second.outputs.sirens)
            state = describe(setup, second.state)
            steps = list(self._begun(scripts, places, begun)) if second.at_s < len(path.ticks) else []
            for beat in self._told(second, scripts, places, steps, state, output):
                yield replace(beat, place=self._beside_pets(beat, scripts))

    def _beside_pets(self, beat: Beat, scripts: tuple[Script, ...]) -> str:
        """The place, and each pet that a detector tripped here may have seen."""
        pets = {device: kinds for script in scripts for device, kinds in script.pets}
        seen = [f"{self.names.get(d, d)} may see the pet: {', '.join(pets[d])}" for d in beat.devices if d in pets]
        return "; ".join(part for part in (beat.place, *seen) if part)

    def _begun(
        self, scripts: tuple[Script, ...], places: Places, begun: set[tuple[int, int]]
    ) -> Iterator[tuple[int, Done]]:
        """The steps that begin at these places for the first time, with the number of their script."""
        for number, (script, place) in enumerate(zip(scripts, places, strict=True)):
            if (number, place) in begun or not 0 <= place < len(script.labels):
                continue
            begun.add((number, place))
            seconds = _seconds_of(script, place)
            yield from ((number, done) for done in script.done if done.at_s in seconds)

    def _told(
        self,
        second: Second,
        scripts: tuple[Script, ...],
        places: Places,
        steps: list[tuple[int, Done]],
        state: str,
        output: str,
    ) -> Iterator[Beat]:
        tripped = [event.device for event in second.inputs if isinstance(event, (Opens, Sees))]
        owner = _owner(scripts, places, tripped)
        told = False
        for number, done in steps:
            mine = tripped if number == owner else []
            yield self._beat(second, scripts[number].who, done, mine, state, "" if told else output)
            tripped = [] if number == owner else tripped
            told = True
        if output and not told:
            script, place = scripts[owner], places[owner]
            yield Beat(
                second.at_s,
                script.who,
                self._where(script, place),
                devices=tuple(tripped),
                zones=self._zones(tripped),
                state=state,
                output=output,
            )

    def _beat(self, second: Second, who: str, done: Done, tripped: list[str], state: str, output: str) -> Beat:
        storeys = {room.id: room.storey for room in self.home.site.rooms}
        where = done.where
        return Beat(
            second.at_s,
            who,
            place=f"{done.deed.text} {self.names.get(done.place, done.place)}".strip(),
            storey=storeys.get(where.room, "") if where else "",
            at=where.at if where else None,
            devices=tuple(tripped),
            zones=self._zones(tripped),
            state=state,
            output=output,
        )

    def _where(self, script: Script, place: int) -> str:
        """The rooms somebody is in, out of doors, or what they did last."""
        if not 0 <= place < len(script.labels):
            return ""
        rooms = ", ".join(self.names.get(room, room) for room in sorted(script.rooms[place]))
        return rooms or "outside"

    def _zones(self, devices: Iterable[str]) -> tuple[str, ...]:
        zone_of = {device.id: device.zone for device in self.home.whole_devices}
        return tuple(dict.fromkeys(zone_of.get(device, device) for device in devices))


def _seconds_of(script: Script, place: int) -> range:
    """The habit's own seconds in which a step counts as begun at a place; what begins within a wait, after it."""
    first = script.at_s[place - 1] + 1 if place - 1 in script.waits else script.at_s[place]
    return range(first, script.at_s[place] + 1 if place in script.waits else script.at_s[place + 1])


def _owner(scripts: tuple[Script, ...], places: Places, tripped: list[str]) -> int:
    """Whose label holds what was tripped; the first who is still about when nothing was."""
    about = [n for n, place in enumerate(places) if 0 <= place < len(scripts[n].labels)]
    for number in about:
        label = scripts[number].labels[places[number]]
        told = {getattr(event, "device", "") for row in label.told for event in row}
        if any(device in label.seen_by or device in told for device in tripped):
            return number
    return about[0] if about else 0
