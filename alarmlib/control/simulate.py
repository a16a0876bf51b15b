"""A habit of the household played through the control unit: what it leads to, in sentences, and by how much.

Covered: one person's habit along the plan at their mean pace, doors, keypads and fobs on the way, movement seen
everywhere on the way or nowhere, pets where they are free. Not covered: two people at once, detectors that see
only part of the way, delays at the ends of their tolerance.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from alarmlib.calc.plan.floor_plan import Plan
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_events import Timeline, timeline
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.habit_words import HabitMoment, moments_of, names_of
from alarmlib.control.inputs import SET_FULL, Closes, Input, Opens, Sees, SetArea, Way
from alarmlib.control.layout import A, State
from alarmlib.control.machine import Second, Trace, step
from alarmlib.control.setup import Setup, start_state
from alarmlib.control.signals import Outputs, Tone, UnitEvent
from alarmlib.errors import AlarmProblem, FieldProblem
from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Expected, Habit
from alarmlib.model.words import EventKind

_ROUTINE = frozenset({EventKind.SET_UNSET, EventKind.FAULT})
_WARNING_TONES = frozenset({Tone.UNCONFIRMED, Tone.FAULT, Tone.TAMPER})
_DELAYS = ((A.ENTRY, "entry delay"), (A.EXIT, "exit delay"), (A.LET, "time for letting somebody out"))
_PERSONS = (Opens, Closes, Sees)


class UnitPlayer:
    """A unit that is played: a second that was worked out once is remembered, since `step` is pure."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self._known: dict[tuple[State, tuple[Input, ...]], tuple[State, Outputs]] = {}

    def play(self, inputs: Mapping[int, tuple[Input, ...]], seconds: int, state: State) -> Trace:
        """As `machine.run`, from a state.

        By `alarmlib.control.machine.step`; a test compares the two.
        """
        trace: list[Second] = []
        asked: tuple[State, tuple[Input, ...]] | None = None
        for at_s in range(seconds):
            happened = inputs.get(at_s, ())
            if asked is None or asked[0] is not state or asked[1] != happened:  # else nothing moves any more
                asked = state, happened
                if asked not in self._known:
                    self._known[asked] = step(self.setup, *asked)
                answer = self._known[asked]
            state, outputs = answer
            trace.append(Second(at_s, happened, state, outputs))
        return tuple(trace)


@dataclass(frozen=True)
class Play:
    """One way a habit may go: the unit, what reached it, and its trace from the state in which the habit begins."""

    setup: Setup
    told: Timeline
    moving: bool
    begin: State
    trace: Trace


@dataclass(frozen=True)
class HabitRun:
    """What a habit led to in a season, the worse of movement always seen (`moving`) and never seen.

    `reached` is None when it could not be played, and `problem` says why. `margin_s` is the least rest, in whole
    seconds, of a running delay when it was answered; None when none ran.
    """

    habit: str
    name: str
    season: str
    expected: Expected
    reached: Expected | None
    margin_s: int | None = None
    margin_of: str = ""
    problem: str = ""
    play: Play | None = field(default=None, repr=False)
    names: Mapping[str, str] = field(default_factory=dict, repr=False)

    @property
    def as_expected(self) -> bool:
        """Whether it led to what it should."""
        return self.reached is self.expected

    @property
    def moving(self) -> bool:
        """Whether this is the case in which movement is seen everywhere on the way."""
        return self.play is not None and self.play.moving

    @property
    def trace(self) -> Trace:
        """The seconds of the unit."""
        return self.play.trace if self.play else ()

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was assumed of the walks."""
        return self.play.told.assumed if self.play else ()

    @cached_property
    def moments(self) -> tuple[HabitMoment, ...]:
        """The trace in words."""
        if self.play is None:
            return ()
        return tuple(moments_of(self.names, self.play.setup, self.play.told, self.play.trace))

    @property
    def sentence(self) -> str:
        """The outcome in a sentence."""
        name = f"{self.name} (season: {self.season})" if self.season else self.name
        if self.reached is None:
            return f"{name}: could not be played. {self.problem}"
        what = "as it should" if self.as_expected else f"but it should lead to: {self.expected.text}"
        left = f"; {self.margin_s} s were left of the {self.margin_of}" if self.margin_s is not None else ""
        assumed = f"; {'; '.join(self.assumed)}" if self.assumed else ""
        return f"{name}: {self.reached.text}, {what}{left}{assumed}."


def simulate(home: Home, habit: Habit, setup: Setup | None = None, plan: Plan | None = None) -> HabitRun:
    """The habit played through the unit, in its own season or the ordinary one unless a setup is given.

    Both cases of what motion detectors see are run; the one that goes against the expectation is returned, else
    the one with the smaller margin. Raises AlarmProblem when the habit cannot begin or names no such place.
    By `alarmlib.control.machine`; worst case of two, our own rule.
    """
    player = UnitPlayer(setup or setup_from_home(home, habit.season))
    return _simulate(home, habit, player, HabitGround(home, plan), habit.season)


def simulate_all(home: Home) -> tuple[HabitRun, ...]:
    """One run for each habit: that of the season in which it fares worst (its own season, if it has one).

    A habit that cannot be played yet says so in its run.
    As `simulate`.
    """
    if not home.household.habits:
        return ()
    ground = HabitGround(home)
    seasons = ("", *(season.id for season in home.control_unit.seasons))
    players = {season: UnitPlayer(setup_from_home(home, season)) for season in seasons}
    return tuple(
        min((_attempt(home, habit, players[season], ground, season) for season in _seasons(habit, seasons)), key=_merit)
        for habit in home.household.habits
    )


def _seasons(habit: Habit, seasons: tuple[str, ...]) -> tuple[str, ...]:
    return (habit.season,) if habit.season else seasons


def _attempt(home: Home, habit: Habit, player: UnitPlayer, ground: HabitGround, season: str) -> HabitRun:
    try:
        return _simulate(home, habit, player, ground, season)
    except AlarmProblem as problem:
        return HabitRun(habit.id, habit.name, season, habit.expected, None, problem=str(problem))


def begin_state(habit: Habit, player: UnitPlayer) -> State:
    """The state in which the habit begins, set long enough ago for every delay to be over.

    Raises FieldProblem when the unit refuses to be set so.
    Our own reading; the unit itself is run until it is set.
    """
    setup = player.setup
    if habit.begins_in is BeginsIn.UNSET:
        return start_state(setup)
    part = habit.part_set if habit.begins_in is BeginsIn.PART_SET else SET_FULL
    named = areas_set(habit, setup, part)
    setting = tuple(SetArea(area, part, Way.KEYPAD, outside=True) for area in named)
    whole_s = longest_delay_s(setup) + setup.behaviour.recent_closing_s + 2
    last = player.play({0: setting}, whole_s, start_state(setup))[-1].state
    if not setting or not all(last[a.base + A.SET] for a in setup.layout.areas if a.id in named):
        raise FieldProblem(
            "", f"habit {habit.id}", habit.begins_in.text, "choose a way in which the control unit can be set"
        )
    return last


def areas_set(habit: Habit, setup: Setup, part: str) -> list[str]:
    """The area of the part set; set with nobody in, the habit's area or all of them.

    Our own reading of a habit.
    """
    if habit.begins_in is BeginsIn.PART_SET:
        return [area.id for area in setup.areas if part in {each.id for each in area.parts}]
    return [habit.area] if habit.area else [area.id for area in setup.areas]


def _simulate(home: Home, habit: Habit, player: UnitPlayer, ground: HabitGround, season: str) -> HabitRun:
    setup, begin = player.setup, begin_state(habit, player)
    tail_s = longest_delay_s(setup) + max((area.abort_s for area in setup.areas), default=0) + 3
    runs = []
    for moving in (True, False):
        told = timeline(home, habit, setup, ground, moving, tail_s)
        trace = player.play(told.inputs, told.seconds + 1, begin)
        runs.append(_judged(home, habit, season, Play(setup, told, moving, begin, trace)))
    return min(runs, key=_merit)


def _judged(home: Home, habit: Habit, season: str, play: Play) -> HabitRun:
    margin_s, margin_of = _least_margin(play)
    reached = _reached(play.trace)
    return HabitRun(
        habit.id,
        habit.name,
        season=season,
        expected=habit.expected,
        reached=reached,
        margin_s=margin_s,
        margin_of=margin_of,
        play=play,
        names=names_of(home),
    )


def _merit(run: HabitRun) -> tuple[bool, float]:
    """Less is worse: first what goes against the expectation, then the smaller margin."""
    return run.as_expected, float("inf") if run.margin_s is None else run.margin_s


def longest_delay_s(setup: Setup) -> int:
    """The longest entry or exit delay of the unit."""
    doors = [time_s for zone in setup.zones for time_s in (zone.entry_s, zone.exit_s) if time_s]
    return max([*doors, *(time_s for area in setup.areas for time_s in (area.entry_s, area.exit_s))], default=0)


def _reached(trace: Trace) -> Expected:
    """The gravest of what came out: alarm, refused, warning, nothing."""
    outputs = list({id(second.outputs): second.outputs for second in trace}.values())
    if any(alarms(out) for out in outputs):
        return Expected.ALARM
    if any(out.refusals for out in outputs):
        return Expected.REFUSED
    return Expected.WARNING if any(_warns(out) for out in outputs) else Expected.QUIET


def alarms(out: Outputs) -> bool:
    """A siren, an alarm message, or an alarm that was unset in the very second it began.

    Our own reading of "sets it off".
    """
    told = any(message.kind not in _ROUTINE for message in out.messages)
    return bool(out.sirens) or told or any(line.event is UnitEvent.ALARM for line in out.log)


def _warns(out: Outputs) -> bool:
    troubled = any(message.kind is EventKind.FAULT for message in out.messages)
    return troubled or any(sound.tone in _WARNING_TONES for sound in out.tones)


def _least_margin(play: Play) -> tuple[int | None, str]:
    """The least rest of a delay when it was answered: unset while entering, all still while leaving."""
    areas = play.setup.layout.areas
    margins = [found for area in areas for found in _margins(area.base, play.begin, play.trace)]
    return min(margins, default=(None, ""))


def _margins(base: int, begin: State, trace: Trace) -> Iterator[tuple[int, str]]:
    before, rest_s = begin, dict.fromkeys((A.EXIT, A.LET), -1)
    for second in trace:
        if second.state is before and not second.inputs:
            continue
        entry_s = before[base + A.ENTRY]
        if entry_s and not second.state[base + A.ENTRY]:
            yield entry_s - 1, _DELAYS[0][1]
        for place, name in _DELAYS[1:]:
            now_s = second.state[base + place]
            if now_s and any(isinstance(each, _PERSONS) for each in second.inputs):
                rest_s[place] = now_s
            if before[base + place] and not now_s and rest_s[place] >= 0 and second.state[base + A.SET]:
                yield rest_s[place], name
                rest_s[place] = -1
        before = second.state
