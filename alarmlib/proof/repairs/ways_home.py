"""Who can still come home: by some entry/exit door, in each set and season, to where they unset, without an alarm."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from alarmlib.calc.walking.gait import level_speed
from alarmlib.calc.walking.walkers import Walker
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_events import timeline
from alarmlib.control.habit_walks import HabitGround
from alarmlib.control.inputs import SET_FULL
from alarmlib.control.layout import A
from alarmlib.control.setup import Setup
from alarmlib.control.simulate import UnitPlayer, alarms, begin_state
from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.model.household import BeginsIn, Deed, Habit, HabitStep
from alarmlib.model.questions import at_work
from alarmlib.model.words import DeviceKind
from alarmlib.proof.habits.habit_begin import whole
from alarmlib.proof.habits.habit_cases import Corner, corners_of
from alarmlib.proof.intruder.ways import area_of_room, sets_of

_ADULT = Walker(level_speed(50))


@dataclass(frozen=True)
class Coming:
    """Somebody who comes home to an area that is set so, in a season ("" the ordinary settings)."""

    person: str
    area: str
    part: str
    season: str = ""

    def sentence(self, home: Home) -> str:
        """That they no longer can, in the home's own words.

        Our own sentence.
        """
        role = next((each.role for each in comers(home) if each.id == self.person), self.person)
        area = next((each.name for each in home.control_unit.areas if each.id == self.area), "")
        named = next((part.name for part in home.control_unit.part_sets if part.id == self.part), "")
        season = next((f" ({each.name})" for each in home.control_unit.seasons if each.id == self.season), "")
        state = f"in the part set {named}" if self.part != SET_FULL else "with nobody in"
        return (
            f"{role} could no longer come home{f' to {area}' if area else ''} without an alarm while it is set "
            f"{state}{season}."
        )


def ways_home(home: Home) -> frozenset[Coming]:
    """Everybody who can unset, with each set they can come home to without an alarm.

    One way is enough: by a fob of their own before the door is opened, or by an entry/exit door of the area and a walk
    to a keypad or to the area's key switch, which is taken to be behind the door. The walk is played at the usual pace
    and at one in twenty slower and faster, on the control unit's clock at both ends of its tolerance, with movement
    always seen and never seen. Visitors come by their own door, if one is named, while nobody is in. Who cannot unset
    needs somebody who can.
    By `alarmlib.control.machine.step`; corners as `alarmlib.proof.habits.habit_cases.corners_of`.
    """
    return frozenset(_Homecomings(home).found())


class Comer(NamedTuple):
    """Somebody who can unset: their fob and the door they come by ("" for none or any), seconds at the door."""

    id: str
    role: str
    fob: str = ""
    door: str = ""
    unlock_s: float | None = None
    lives_here: bool = True


def comers(home: Home) -> tuple[Comer, ...]:
    """Everybody who can unset, those who live here first."""
    people = (Comer(p.id, p.role, p.fob, "", p.unlock_s) for p in home.household.people if p.can_unset)
    visitors = (Comer(v.id, v.role, "", v.door, None, False) for v in home.household.visitors if v.can_unset)
    return (*people, *visitors)


class _Homecomings:
    """Played ways home; the walks and the units are made once."""

    def __init__(self, home: Home) -> None:
        self.home, self.ground = home, HabitGround(home)
        self.setups = {
            season: setup_from_home(home, season) for season in ("", *(s.id for s in home.control_unit.seasons))
        }
        self._players: dict[tuple[str, float], UnitPlayer] = {}
        self.keypads = [device.id for device in at_work(home, DeviceKind.KEYPAD) if device.room]
        self.switches = at_work(home, DeviceKind.KEY_SWITCH)
        self.fobs = {device.id for device in at_work(home, DeviceKind.FOB)}

    def found(self) -> Iterator[Coming]:
        for season, setup in self.setups.items():
            for area in setup.areas:
                doors = self._doors(area.id)
                for part in sets_of(setup, area.id):
                    yield from self._who_can(doors, (area.id, part, season))

    def _who_can(self, doors: list[str], state: tuple[str, str, str]) -> Iterator[Coming]:
        for who in comers(self.home):
            coming = Coming(who.id, *state)
            by = [door for door in doors if who.door in ("", door)]
            if coming.part != SET_FULL and not who.lives_here:
                continue
            if any(self._quiet(coming, way) for way in self._ways(who, coming, by)):
                yield coming

    def _doors(self, area: str) -> list[str]:
        openings = (opening for opening in self.home.site.openings if opening.entry_exit)
        return [opening.id for opening in openings if area_of_room(self.home, opening.room) == area]

    def _ways(self, who: Comer, coming: Coming, doors: list[str]) -> Iterator[Habit]:
        """Their ways home, what is quickest to play first."""
        begins = BeginsIn.SET_FULL if coming.part == SET_FULL else BeginsIn.PART_SET
        plain = Habit(
            id="home", name="Home", who=who.id, begins_in=begins, part_set=coming.part, area=coming.area,
            season=coming.season,
        )  # fmt: skip
        switches = [d.id for d in self.switches if area_of_room(self.home, d.room) == coming.area]
        for door in doors:
            opens = HabitStep(id="opens", deed=Deed.OPEN, place=door, seconds=who.unlock_s)
            rows: list[tuple[HabitStep, ...]] = []
            if who.fob in self.fobs:
                rows.append((HabitStep(id="fob", deed=Deed.FOB_UNSET, place=coming.area), opens))
            ends = [(switch, switch) for switch in switches] + [(each, coming.area) for each in self._nearest(door)]
            rows += [
                (opens,
                 HabitStep(id="walks", deed=Deed.WALK_TO, place=end), HabitStep(id="unsets", deed=Deed.UNSET, place=at))
                for end, at in ends
            ]  # fmt: skip
            yield from (plain.model_copy(update={"starts_at": door, "steps": steps}) for steps in rows)

    def _nearest(self, door: str) -> list[str]:
        """The keypads, the nearest to this door first."""
        sides = self.ground.sides
        known = [keypad for keypad in self.keypads if keypad in sides]
        return sorted(known, key=lambda each: self.ground.stroll(sides[door][0], sides[each][0], _ADULT).seconds)

    def _quiet(self, coming: Coming, habit: Habit) -> bool:
        """Whether this way ends unset and never with an alarm; one that cannot be played is none."""
        try:
            return all(
                self._played(coming, habit, corner, moving)
                for corner in corners_of(self.home) for moving in (True, False)
            )  # fmt: skip
        except AlarmProblem:
            return False

    def _played(self, coming: Coming, habit: Habit, corner: Corner, moving: bool) -> bool:
        player = self._player(coming.season, corner.clock)
        told = timeline(
            self.home, habit, setup=player.setup, ground=self.ground, moving=moving, tail_s=1, pace=corner.pace
        )
        trace = player.play(told.inputs, told.seconds + 1, begin_state(habit, player))
        base = player.setup.layout.area_of[coming.area].base
        return not trace[-1].state[base + A.SET] and not any(alarms(second.outputs) for second in trace)

    def _player(self, season: str, clock: float) -> UnitPlayer:
        if (season, clock) not in self._players:
            setup: Setup = self.setups[season]
            self._players[season, clock] = UnitPlayer(whole(setup, clock))
        return self._players[season, clock]
