"""The verdicts on an intruder beside one person, with the counterexample of each breach played again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from alarmlib.calc.cells.cell_labels import CellLabel
from alarmlib.calc.cells.cell_walk import Trail, trail_in_metres
from alarmlib.calc.cells.real_moves import real_map
from alarmlib.control.describe import describe
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_events import Done
from alarmlib.control.habit_words import output_of
from alarmlib.control.inputs import Closes, Input, Opens, Sees
from alarmlib.control.layout import A
from alarmlib.control.machine import Second, Trace, run
from alarmlib.control.setup import Setup
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.proof.habits.habit_begin import whole
from alarmlib.proof.habits.habit_cases import PreparedHabits
from alarmlib.proof.intruder.cases import set_name
from alarmlib.proof.intruder.intrusions import Intruders, Tally
from alarmlib.proof.intruder.second_mover import Key, SecondMover, Slip, Watched, watched_habits
from alarmlib.proof.intruder.ways import noticed, set_state
from alarmlib.proof.report.counterexample import INTRUDER
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import OverBudget, gone_through, spending_of
from alarmlib.proof.search.rows import bits

NOT_COVERED = (
    "An intruder beside a person: other paces, clocks and faults; ways in that are open anyway; all unset.",
    "An intruder beside a person: detectors that are in their sleep time before the person's first step.",
)


@dataclass(frozen=True)
class SecondMoverMoment:
    """One second of a path: the intruder's cell (outside: the number of cells), the step taken, the person's place."""

    cell: int
    step: int
    key: Key
    inputs: tuple[Input, ...]


@dataclass
class _Said:
    """What was found for one set of one area."""

    habits: int = 0
    states: int = 0
    slip: tuple[Watched, Slip] | None = None
    why: str = ""


def second_mover_proved(
    home: Home, intruders: Intruders, tallies: Sequence[Tally], progress: OnProgress | None = None
) -> Iterator[Proved]:
    """A verdict for each set that a habit of coming or going leaves on.

    By `alarmlib.proof.intruder.second_mover`.
    """
    said: dict[tuple[str, str], _Said] = {}
    spending = spending_of(progress)
    spending("slipping in during a habit", 0, len(home.household.habits))
    household = PreparedHabits(home, spending=spending)
    watched = watched_habits(home, household, intruders, _open_ways(tallies))
    sets = [(tally.area, tally.part) for tally in tallies if tally.rule == "noticed_first"]
    for number, each in enumerate(_each(watched, said, sets)):
        spending(f"slipping in during {each.habit.name}", number, len(home.household.habits))
        for asked in sorted(each.sets):
            here = said.setdefault(asked, _Said())
            here.habits, here.states = here.habits + 1, here.states + each.states
            if asked in each.slips and here.slip is None:
                here.slip = each, each.slips[asked]
        if not any(found.slip and found.slip[0] is each for found in said.values()):
            each.search.moves.unit.drop()
    for (area, part), found in said.items():
        yield _proved(home, intruders, (area, part), found)


def _each(
    watched: Iterator[Watched], said: dict[tuple[str, str], _Said], sets: list[tuple[str, str]]
) -> Iterator[Watched]:
    """Each habit watched; at a limit every one of `sets` may be left on by a habit that was not."""
    done = 0
    try:
        for each in watched:
            yield each
            done += 1
    except OverBudget as over:
        for asked in sets:
            why = gone_through(over, f"habits and parts of the home, {done} to the end", "the others")
            said.setdefault(asked, _Said()).why = why
    except AlarmProblem as problem:
        for found in said.values():
            found.why = str(problem)


def _open_ways(tallies: Sequence[Tally]) -> dict[str, frozenset[str]]:
    """Ways in that are open anyway, by area."""
    found: dict[str, frozenset[str]] = {}
    for tally in tallies:
        if tally.rule == "noticed_first":
            ways = frozenset(way for way, _ in tally.plain)
            found[tally.area] = found.get(tally.area, frozenset()) | ways
    return found


def _proved(home: Home, intruders: Intruders, asked: tuple[str, str], found: _Said) -> Proved:
    area, part = asked
    names = intruders.names
    set_ = f"{names.get(area, area)}, {names.get(part, part) if part else 'set (nobody in)'}"
    sentence = (
        f"{set_}: somebody may slip in by another way while others come or go (habits tried: {found.habits}). Once "
        "the alarm is set, they are noticed before they reach the middle of any guarded room."
    )
    name = f"beside/{area}/{set_name(part)}"
    if found.slip is None:
        verdict = ProofVerdict.NOT_SETTLED if found.why else ProofVerdict.HOLDS
        return Proved(
            name,
            sentence,
            verdict=verdict,
            worst={"habits": str(found.habits)},
            counterexample=(),
            states=found.states,
            why=found.why,
        )
    watched, slip = found.slip
    worst = {"habit": watched.habit.name, "room": names.get(slip.room, slip.room), "after_s": str(slip.tick)}
    try:
        why = "No exact walk was found that leads there when it is played again on the whole control unit."
        beats = counterexample(home, intruders, watched, slip)
    except OverBudget as over:
        why, beats = gone_through(over, "a first search, which found a way", "the exact walk of it"), None
    if beats is None:
        return Proved(
            name,
            sentence,
            verdict=ProofVerdict.NOT_SETTLED,
            worst=worst,
            counterexample=(),
            states=found.states,
            why=why,
        )
    way = next((beat.place for beat in beats if beat.who == INTRUDER), "")
    return Proved(name, sentence, ProofVerdict.BREACHED, worst | {"first_seen_in": way}, beats, found.states)


def counterexample(home: Home, intruders: Intruders, watched: Watched, slip: Slip) -> tuple[Beat, ...] | None:
    """The counterexample of a breach; None when it does not come about in metres on the whole unit.

    By `alarmlib.control.machine.run`, `alarmlib.calc.cells.cell_walk`.
    """
    told = _told(home, intruders, watched, slip)
    if told is not None:
        return told
    plain = watched.search
    part = replace(plain.part, cells=real_map(plain.part.cells))
    search = SecondMover(home, plain.whole_setup, plain.script, part, plain.ways, plain.spending)
    again = search.watch(Watched(watched.habit, watched.season, watched.begin, search))
    found = again.slips.get((slip.area, slip.part))
    return None if found is None else _told(home, intruders, again, found)


def _told(home: Home, intruders: Intruders, watched: Watched, slip: Slip) -> tuple[Beat, ...] | None:
    moments = _path(watched, slip)
    search = watched.search
    if not all(_in_order(search, moment) for moment in moments):
        return None
    inside = [number for number, moment in enumerate(moments) if moment.cell != search.outside]
    walked = [moments[number] for number in inside]
    labels = [_label(search, moment) for moment in walked[1:]]
    trail = trail_in_metres(search.part.cells, intruders.plan, [moment.cell for moment in walked], labels)
    if trail is None:
        return None
    setup = whole(setup_from_home(home, watched.season), 1.0)
    inputs = {second: moment.inputs for second, moment in enumerate(moments)}
    trace = run(setup, inputs, len(moments), set_state(setup, dict(watched.begin.sets)))
    last, at = trace[-1].state, setup.layout.area_of[slip.area]
    if noticed(setup, last) or not last[at.base + A.SET] or last[at.base + A.EXIT]:
        return None
    return tuple(_beats(intruders, watched, (setup, trace), (moments, inside[0], trail)))


def _label(search: SecondMover, moment: SecondMoverMoment) -> CellLabel:
    step = search.steps[moment.step]
    opened = {event.device for event in moment.inputs if isinstance(event, Opens)} & (step.must | step.may)
    return CellLabel(step.must | opened, step.may - opened)


def _in_order(search: SecondMover, moment: SecondMoverMoment) -> bool:
    """Whether the person's own events come in the order in which they are done."""
    place = moment.key[1]
    if place >= len(search.script.labels):
        return True
    rows = search.script.labels[place].told
    return all([event for event in moment.inputs if event in row] == list(row) for row in rows)


def _path(watched: Watched, slip: Slip) -> list[SecondMoverMoment]:
    """The seconds that lead to the breach, from the first on; `key` is the row before each."""
    key, cell, moments = slip.key, slip.cell, []
    for tick in range(slip.tick, 0, -1):
        moment = _back(watched, tick, key, cell)
        moments.append(SecondMoverMoment(cell, moment.step, moment.key, moment.inputs))
        key, cell = moment.key, moment.cell
    return moments[::-1]


def _back(watched: Watched, tick: int, key: Key, cell: int) -> SecondMoverMoment:
    """A row and cell of the layer before that lead here."""
    search = watched.search
    for (before, _), cells in watched.layers[tick - 1].items():
        for number, step in enumerate(search.steps):
            here = [c for c in bits(cells & step.moves.sources) if step.moves.moves[c] >> cell & 1]
            for to, choice in search.ways_on(before, number) if here else ():
                if to == key:
                    return SecondMoverMoment(here[0], number, before, choice.inputs)
    raise AssertionError("a layer holds what no row of the layer before leads to")


def _beats(
    intruders: Intruders,
    watched: Watched,
    played: tuple[Setup, Trace],
    walked: tuple[list[SecondMoverMoment], int, Trail],
) -> Iterator[Beat]:
    """The seconds in which either does something or the unit answers."""
    (setup, trace), (moments, first, trail) = played, walked
    search, room, sounding = watched.search, "", False
    begun: set[int] = set()
    for second, moment in zip(trace, moments, strict=True):
        output = output_of(second, intruders.names, sounding)
        sounding = bool(second.outputs.sirens)
        at = moment.key[1]
        steps = [] if at in begun else _steps(search, at)
        begun.add(at)
        inside = second.at_s >= first
        now = "/".join(sorted(search.part.cells.cells[moment.cell].rooms)) if inside else ""
        told = _Told(setup, second, output)
        for done in steps:
            what = f"{done.deed.text} {intruders.names.get(done.place, done.place)}".strip()
            yield told.beat(search.script.who, what, alone=not inside)
        if inside and (now != room or output or second.at_s == len(trace) - 1):
            number = second.at_s - first
            yield told.beat(INTRUDER, now, trail.storeys[number], trail.points[number])
        elif output and not steps:
            yield told.beat(search.script.who, "goes on")
        room = now


def _steps(search: SecondMover, place: int) -> list[Done]:
    """The person's steps that begin at a place."""
    if place >= len(search.script.labels):
        return []
    return [done for done in search.script.done if done.at_s == search.script.at_s[place]]


@dataclass(frozen=True)
class _Told:
    """A second, to be told of one or the other."""

    setup: Setup
    second: Second
    output: str

    def beat(
        self, who: str, place: str, storey: str = "", at: tuple[float, float] | None = None, alone: bool = True
    ) -> Beat:
        """The beat, with what was tripped and given out unless that belongs to another."""
        felt = tuple(e.device for e in self.second.inputs if isinstance(e, Opens | Sees | Closes)) if alone else ()
        zones = tuple(dict.fromkeys(self.setup.layout.device_of[device].zone.id for device in felt))
        state = describe(self.setup, self.second.state)
        return Beat(
            self.second.at_s,
            who,
            place=place,
            storey=storey,
            at=at,
            devices=felt,
            zones=zones,
            state=state,
            output=self.output if alone else "",
        )
