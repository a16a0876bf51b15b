"""Habits made ready to be proved: scripts, the unit in each season and clock, the states they begin in."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from alarmlib.calc.walking.walkers import ONE_IN_TWENTY
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.habit_words import names_of
from alarmlib.control.setup import Setup
from alarmlib.control.simulate import longest_delay_s
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import Expected, Habit
from alarmlib.model.words import BURGLARY
from alarmlib.proof.faults.fault import NONE, Fault, FaultMasks
from alarmlib.proof.habits.habit_begin import (
    Beginnings,
    HabitBegin,
    begins_of,
    spoken_to,
    touched_areas,
    whole,
    with_partners,
    zones_of,
)
from alarmlib.proof.habits.habit_counterexample import HabitTeller
from alarmlib.proof.habits.habit_moves import Moves
from alarmlib.proof.habits.habit_script import HabitPlayer, Script, keypads_used
from alarmlib.proof.search.apart import louder_unset
from alarmlib.proof.search.budget import OverBudget, Spending
from alarmlib.proof.search.setups import reduced


@dataclass(frozen=True)
class Corner:
    """One end of what a walk and the unit's clock may do: deviations from the mean pace, and a factor on its times."""

    pace: float = 0.0
    clock: float = 1.0

    @property
    def text(self) -> Mapping[str, str]:
        """In words, as shown with a worst case."""
        pace = "usual" if not self.pace else "one in twenty is slower" if self.pace < 0 else "one in twenty is faster"
        off = round(100 * (self.clock - 1))
        return {"pace": pace, "clock": f"{off:+d} %" if off else "right"}


def corners_of(home: Home) -> tuple[Corner, ...]:
    """The usual case first, then each end of pace with each end of the clock's tolerance.

    Reference: normal distribution, textbook: 1.645 standard deviations either way, one walk in twenty.
    """
    off = home.proof.tolerance_percent / 100
    ends = sorted({1 - off, 1 + off})
    return (Corner(), *(Corner(pace, clock) for pace in (-ONE_IN_TWENTY, ONE_IN_TWENTY) for clock in ends))


@dataclass(frozen=True)
class SearchedUnit:
    """A control unit to search on, and the states in which it may be at first."""

    moves: Moves
    beginnings: Beginnings

    def number(self, begin: HabitBegin) -> int | None:
        """The number of the state at such a beginning; None when it refuses to be set so."""
        state = self.beginnings.state(begin)
        return None if state is None else self.moves.unit.number(state)


@dataclass(frozen=True)
class Case:
    """A habit in a season, at a corner, by one way round dead keypads, and how it begins."""

    script: Script
    season: str
    corner: Corner
    unit: SearchedUnit
    begins: tuple[HabitBegin, ...]

    def layer(self) -> dict[int, int]:
        """The states it may begin in, with their faults."""
        found: dict[int, int] = {}
        for begin in self.begins:
            k = self.unit.number(begin)
            if k is not None:
                found[k] = found.get(k, 0) | begin.under
        return found


class PreparedHabits:
    """Everybody's habits, prepared once: scripts, the unit in each season and clock, what may be wrong with it."""

    def __init__(self, home: Home, faults: Sequence[Fault] = (NONE,), spending: Spending | None = None) -> None:
        self.spending = spending or Spending()
        self.home, self.faults, self.masks = home, faults, FaultMasks.of(faults)
        self.setups = {
            season: setup_from_home(home, season) for season in ("", *(s.id for s in home.control_unit.seasons))
        }
        slow = max(corner.clock for corner in corners_of(home))
        timed = [reduced(setup, slow) for setup in self.setups.values()]
        self.tail_s = max(longest_delay_s(setup) + max(area.abort_s for area in setup.areas) + 3 for setup in timed)
        self.teller = HabitTeller(home, names_of(home))
        self._scripts: dict[tuple[str, float, frozenset[str], int], Script] = {}
        self._units: dict[tuple[str, float, bool], SearchedUnit] = {}
        self._whole: dict[tuple[str, float], Beginnings] = {}

    @cached_property
    def ground(self) -> HabitGround:
        """Every place and the walks between them. Raises OverBudget."""
        self.spending.prepare("a map of all walks", 0, 1)
        return HabitGround(self.home)

    @cached_property
    def meant(self) -> int:
        """The faults that a habit is played under: not those of somebody who set it otherwise or of a dead unit."""
        masks = self.masks
        wrong = masks.unit_dead | masks.restarts
        for under in (*masks.not_set_of.values(), *masks.wrong_set_of.values()):
            wrong |= under
        return masks.all & ~wrong

    def seasons(self, habit: Habit) -> tuple[str, ...]:
        """The seasons in which a habit may happen: its own, or each whose settings differ from all before it."""
        return (habit.season,) if habit.season else self._differing

    @cached_property
    def _differing(self) -> tuple[str, ...]:
        found: dict[str, Setup] = {}
        for season, setup in self.setups.items():
            if setup not in found.values():
                found[season] = setup
        return tuple(found)

    def script(self, habit: Habit, pace: float = 0.0, dead: frozenset[str] = frozenset(), tail_s: int = -1) -> Script:
        """A habit's script; raises FieldProblem when a step of it cannot be done, and OverBudget."""
        tail_s = self.tail_s if tail_s < 0 else tail_s
        asked = habit.id, pace, dead, tail_s
        if asked not in self._scripts:
            habits = self.home.household.habits
            number = next(place for place, each in enumerate(habits) if each.id == habit.id)
            self.spending.prepare(f"walks of {habit.name}, {len(self._scripts):,} walks by now", number, len(habits))
            player = HabitPlayer(self.home, self.setups[habit.season], self.ground, self._guards)
            self._scripts[asked] = player.script(habit, pace, tail_s, dead)
        return self._scripts[asked]

    @cached_property
    def _guards(self) -> frozenset[str]:
        """The devices whose zones do nothing but guard, in every season."""
        known = [setup.layout.device_of for setup in self.setups.values()]
        return frozenset(d for d in known[0] if all(d in at and at[d].zone.function in BURGLARY for at in known))

    def ways_round(self, habit: Habit) -> dict[frozenset[str], int]:
        """Which of the habit's keypads and fobs are dead, and under which faults."""
        used = keypads_used(self.home, habit)
        found: dict[frozenset[str], int] = {}
        for place, fault in enumerate(self.faults):
            dead = fault.dead_keypads if fault.dead_keypads & used else frozenset[str]()
            found[dead] = found.get(dead, 0) | (1 << place & self.meant)
        return {dead: under for dead, under in found.items() if under}

    @cached_property
    def touched(self) -> frozenset[str]:
        """The zones that any habit trips or speaks of; whoever knows them already may put them here."""
        return frozenset[str]().union(*map(self.touched_by, self.home.household.habits))

    def touched_by(self, habit: Habit) -> frozenset[str]:
        """The zones that a habit trips or speaks of, at every pace and by every way round dead keypads."""
        setup, found = self.setups[""], set[str]()
        for dead in self.ways_round(habit):
            for corner in {c.pace: c for c in corners_of(self.home)}.values():
                try:
                    found |= zones_of(setup, self.script(habit, corner.pace, dead))
                except OverBudget:
                    raise
                except AlarmProblem:
                    break  # said by its own verdict
        return frozenset(found)

    def unit(self, season: str, clock: float, rests: bool = False) -> SearchedUnit:
        """The unit of that season and clock, with the zones alone that any habit needs.

        `rests`: with the time that a detector sleeps after a trip; without, a search has fewer states and no fewer
        alarms.
        """
        asked = season, clock, rests
        if asked not in self._units:
            zones = with_partners(self.setups[season], self.touched)
            setup = reduced(zones, clock, zones.layout.device_of if rests else ())
            self._units[asked] = SearchedUnit(Moves(setup, self.masks, self.spending), Beginnings(setup))
        return self._units[asked]

    @property
    def used(self) -> bool:
        """Whether anything was worked out since the last `forget`."""
        return bool(self._units)

    def forget(self) -> None:
        """Drop what was worked out of the units, to have its memory back."""
        for unit in self._units.values():
            unit.moves.unit.drop()
        self._units.clear()

    def whole(self, season: str, clock: float) -> Beginnings:
        """The whole unit of that season and clock, for playing a counterexample again."""
        asked = season, clock
        if asked not in self._whole:
            self._whole[asked] = Beginnings(whole(self.setups[season], clock))
        return self._whole[asked]

    def cases(self, habit: Habit) -> Iterator[Case]:
        """The habit in every season, corner and way round dead keypads; raises FieldProblem when it cannot begin."""
        ways = self.ways_round(habit)
        for season in self.seasons(habit):
            for corner in corners_of(self.home):
                for dead, under in ways.items():
                    yield self._case(habit, season, corner, dead, under)

    def _case(self, habit: Habit, season: str, corner: Corner, dead: frozenset[str], under: int) -> Case:
        script = self.script(habit, corner.pace, dead)
        unit = self.unit(season, corner.clock)
        setup = unit.beginnings.setup
        meant = habit.expected is Expected.ALARM
        together = louder_unset(setup).union(spoken_to(setup, script)) if meant else ()
        touched, zones = touched_areas(setup, (script,)), _zones_that_matter(setup, script)
        begins = begins_of(setup, habit, touched, self.masks, zones, together)
        here = (replace(begin, under=begin.under & under) for begin in begins)
        found = tuple(begin for begin in here if begin.under and unit.number(begin) is not None)
        if not found and under & 1:
            raise AlarmProblem(f"The control unit refuses to be set in the way in which {habit.name} begins.")
        return Case(script, season, corner, unit, found)


def _zones_that_matter(setup: Setup, script: Script) -> list[str]:
    """Zones that do more when left out than keep a detector still: surely tripped ones, and those that confirm others.

    One that may stay still anyhow opens nothing new when it is left out.
    """
    sure = {setup.layout.device_of[device].zone.id for device in script.sure_devices}
    partners = {partner for zone in setup.zones for partner in zone.partners}
    return [zone.id for zone in setup.zones if zone.id in sure | partners]
