"""A breach told: its shortest path, put back into metres, played again on the whole unit, second by second."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_walk import Trail, trail_in_metres
from alarmlib.calc.cells.real_moves import real_map
from alarmlib.calc.cells.sights import Sight
from alarmlib.calc.coverage.felt import felt_on_trail
from alarmlib.calc.plan.floor_plan import Plan
from alarmlib.control.describe import describe
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_words import names_of, output_of
from alarmlib.control.inputs import Closes, Input, Opens, Sees
from alarmlib.control.machine import Second, Trace
from alarmlib.control.machine import run as play
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.habits.habit_begin import whole
from alarmlib.proof.intruder.intrusions import Breach
from alarmlib.proof.intruder.search import Intrusion
from alarmlib.proof.intruder.ways import CannotBeSet, noticed
from alarmlib.proof.report.verdicts import Beat, ProofVerdict
from alarmlib.proof.search.compiled import SOUNDED, Sign, signs_of
from alarmlib.proof.search.path import Path, noticing, shortest

INTRUDER = "Intruder"
_WAITS = 3  # how many times the longest allowed time a counterexample waits for a siren


@dataclass(frozen=True)
class Counterexample:
    """Whether a breach comes about when it is played again, why not if it doesn't, and its seconds."""

    verdict: ProofVerdict
    beats: tuple[Beat, ...] = ()
    why: str = ""


def _not_settled(why: str) -> Counterexample:
    return Counterexample(ProofVerdict.NOT_SETTLED, why=why)


def _opening(label: CellLabel, inputs: Sequence[Input]) -> CellLabel:
    """The label of a second in which the contacts that told anything were opened, and no others."""
    told = {event.device for event in inputs if isinstance(event, Opens)}
    return CellLabel(label.must | told, label.may - told)


def _walkable(found: Breach) -> Breach | None:
    """The same breach among moves that can be walked; None when none of them leads there."""
    assert found.reached is not None
    cells, room = real_map(found.intrusion.cells), found.reached.room
    no_fault = FaultMasks(1, found.intrusion.masks.no_siren & 1, found.intrusion.masks.no_message & 1)
    intrusion = Intrusion(found.at.setup, cells, (found.run.way,), no_fault)
    begin = {found.begins[state].state(intrusion.setup): 1 for state, mask in found.run.begin.items() if mask & 1}
    begins = {found.begins[state].state(intrusion.setup): found.begins[state] for state in found.run.begin}
    goal = {room: cells.goals[room]}
    first = found.reached.rule == "sounds_first"
    run = intrusion.run(found.run.way, begin, {} if first else goal, goal if first else {})
    return next((replace(found, intrusion=intrusion, run=run, begins=begins, reached=r) for r in run.reached), None)


def _is_heard(found: Breach, trace: Trace) -> bool:
    """Whether somebody hears of it: no siren where none is fitted, no message where nobody is told."""
    masks = found.intrusion.masks
    heard = SOUNDED & ~(Sign.SIREN if masks.no_siren & 1 else 0) & ~(Sign.MESSAGE if masks.no_message & 1 else 0)
    return any(signs_of(second.outputs) & heard for second in trace)


def rests_of(found: Breach, path: Path) -> tuple[tuple[str, int], ...]:
    """The rests with which a path comes about: the longest that are left, unless a detector is awake before that.

    Our own construction.
    """
    awake = path.awake_after_s
    return tuple((device, min(most_s, awake.get(device, most_s))) for device, most_s in sorted(found.rests.items()))


class Teller:
    """Tells the counterexamples of one home."""

    def __init__(self, home: Home, plan: Plan, sights: Sequence[Sight], within_s: int) -> None:
        self.home, self.plan, self.sights, self.within_s = home, plan, sights, within_s
        self.names = names_of(home)
        self._whole: dict[tuple[str, float], Setup] = {}

    def tell(self, found: Breach) -> Counterexample:
        """The counterexample of a breach without a fault.

        Breached only if the walk can be walked in metres within the top speed, every detector does on it what it
        may and must, and the whole unit, sleep times and faults included, does it too. Squares let a walk cut corners:
        where the shortest cannot be walked, one is looked for among the moves that can.
        By `alarmlib.control.machine.run`, `alarmlib.calc.cells.cell_walk`, `alarmlib.calc.coverage.felt`.
        """
        if found.reached is None:
            return self._tell_wait(found)
        counterexample = self._tell_walk(found)
        if counterexample.verdict is ProofVerdict.BREACHED:
            return counterexample
        again = _walkable(found)
        return counterexample if again is None else self._tell_walk(again)

    def _tell_walk(self, found: Breach) -> Counterexample:
        assert found.reached is not None
        path = shortest(found.intrusion, found.run, found.reached)
        trail = self._trail(found, path)
        if trail is None:
            return _not_settled("No exact walk was found that goes from square to square in this way.")
        felt = self._as_felt(found, path, trail)
        if felt is None:
            return _not_settled("On the exact walk the detectors do not do what was assumed.")
        trace = self._played(found, felt, 0)
        if trace is None or not self._same(found, trace):
            return _not_settled("The whole control unit does something else when this is played again.")
        return Counterexample(
            ProofVerdict.BREACHED, self._told_asleep(found, path, self._beats(found, felt, trail, trace))
        )

    def _tell_wait(self, found: Breach) -> Counterexample:
        """Noticed, and then nothing is heard for too long: the intruder does not move from then on."""
        path = noticing(found.intrusion, found.run, found.k)
        trace = self._played(found, path, _WAITS * self.within_s) if path is not None else None
        if path is None or trace is None:
            return _not_settled("No way was found in which this happens.")
        noticed_s = len(path.moments) - 1
        if _is_heard(found, trace[: noticed_s + self.within_s + 1]):
            return _not_settled("The whole control unit sounds in time when somebody does not move.")
        beats = self._beats(found, path, self._trail(found, path), trace)
        return Counterexample(ProofVerdict.BREACHED, self._told_asleep(found, path, beats))

    def _trail(self, found: Breach, path: Path) -> Trail | None:
        """The walk, from the very opening if there is one, else from square to square."""
        cells, way = found.intrusion.cells, found.run.way.opening
        labels = [_opening(cells.labels[moment.label], moment.inputs) for moment in path.moments[1:]]
        drawn = cells.cells[path.cells[0]].middle is not None
        at = self.plan.place_of_opening(way).at if drawn else None
        pinned = None if at is None else trail_in_metres(cells, self.plan, path.cells, labels, first=at)
        return pinned or trail_in_metres(cells, self.plan, path.cells, labels)

    def _as_felt(self, found: Breach, path: Path, trail: Trail) -> Path | None:
        """The path with all that surely trips on the walk in metres; None when something told that could not.

        Squares say "surely" more rarely than it is so: what the search let stay still then trips after the rest, and
        the unit says whether it still comes to the same. Contacts that are open tell no more.
        """
        known, moments = found.intrusion.setup.layout.device_of, [path.moments[0]]
        for moment, felt in zip(path.moments[1:], felt_on_trail(self.sights, self.plan, trail), strict=True):
            told = {event.device for event in moment.inputs if isinstance(event, Opens | Sees)}
            if not {device for device in told if not known[device].lasting} <= felt.must | felt.may:
                return None
            still = sorted(d for d in felt.must - told if d in known and not known[d].lasting)
            moments.append(replace(moment, inputs=(*moment.inputs, *map(Sees, still))))
        return replace(path, moments=tuple(moments))

    def _played(self, found: Breach, path: Path, longer_s: int) -> Trace | None:
        asked = found.at.season, found.at.clock
        if asked not in self._whole:
            self._whole[asked] = whole(setup_from_home(self.home, found.at.season), found.at.clock)
        setup = self._whole[asked]
        try:
            begin = replace(found.begins[path.begin], rests=rests_of(found, path)).state(setup)
        except CannotBeSet:
            return None
        inputs = {second: moment.inputs for second, moment in enumerate(path.moments)}
        return play(setup, inputs, len(path.moments) + longer_s, begin)

    def _same(self, found: Breach, trace: Trace) -> bool:
        """Whether the room is reached as the rule forbids in what the whole unit does."""
        assert found.reached is not None
        if _is_heard(found, trace):
            return False
        setup = self._whole[found.at.season, found.at.clock]
        return found.reached.rule == "sounds_first" or not noticed(setup, trace[-1].state)

    def _beats(self, found: Breach, path: Path, trail: Trail | None, trace: Trace) -> tuple[Beat, ...]:
        setup = self._whole[found.at.season, found.at.clock]
        beats: list[Beat] = []
        place, output = "", ""
        for second in trace:
            at = min(second.at_s, len(path.moments) - 1)
            room = self._room(found, path.moments[at].cell)
            new = output_of(second, self.names, bool(beats and "Siren" in output))
            if room != place or second.inputs or new or second.at_s == len(trace) - 1:
                point = trail.points[at] if trail is not None else None
                storey = trail.storeys[at] if trail is not None else ""
                beats.append(self._beat(setup, second, (room, storey, point), new))
            place, output = room, new or output
        return tuple(beats)

    def _told_asleep(self, found: Breach, path: Path, beats: tuple[Beat, ...]) -> tuple[Beat, ...]:
        """The beats, the first of which says which detectors setting the alarm left asleep."""
        asleep = "".join(
            f" “{self.names.get(device, device)}” is asleep after a trip ({left_s} s left)."
            for device, left_s in rests_of(found, path)
        )
        return (replace(beats[0], state=beats[0].state + asleep), *beats[1:])

    def _beat(
        self, setup: Setup, second: Second, where: tuple[str, str, tuple[float, float] | None], output: str
    ) -> Beat:
        room, storey, point = where
        felt = [event.device for event in second.inputs if isinstance(event, Opens | Sees | Closes)]
        zones = dict.fromkeys(setup.layout.device_of[device].zone.id for device in felt)
        state = describe(setup, second.state)
        return Beat(
            second.at_s,
            INTRUDER,
            place=room,
            storey=storey,
            at=point,
            devices=tuple(felt),
            zones=tuple(zones),
            state=state,
            output=output,
        )

    def _room(self, found: Breach, cell: int) -> str:
        return "/".join(sorted(found.intrusion.cells.cells[cell].rooms))
