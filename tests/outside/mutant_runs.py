"""What the proof says of a mutant of the demo home, beside what it says of the plain one; each worked out once."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any
from unittest.mock import patch

import plain_search
from as_cells import canonical_of, game_of
from demo_mutants import Mutant

from alarmlib.calc.cells import cell_map as cells
from alarmlib.calc.cells.sights import door_contacts
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.control import from_home, habit_walks
from alarmlib.control.functions import TABLE, changed
from alarmlib.model import Home
from alarmlib.proof.faults.fault import NONE, FaultMasks
from alarmlib.proof.habits import habit_cases
from alarmlib.proof.habits.habit_cases import PreparedHabits
from alarmlib.proof.habits.household import habits_proved
from alarmlib.proof.intruder import intrusions
from alarmlib.proof.intruder.cases import beginnings, set_name
from alarmlib.proof.intruder.intrusions import Intruders, JoinedRooms, Tally
from alarmlib.proof.intruder.search import Intrusion
from alarmlib.proof.intruder.ways import guarded_rooms
from alarmlib.proof.report.counterexample import Teller
from alarmlib.proof.report.readiness import unready

Hole = tuple[str, str, str]  # property, way in, room
WITHIN_S = 40


def ordinary(home: Home, put: Callable[..., Home]) -> Home:
    """The home in its ordinary season, the unit's clock right, 40 s allowed until siren or message."""
    return put(
        home, {"control_unit.seasons": [], "log": {}, "proof.tolerance_percent": 0, "proof.sounds_within_s": WITHIN_S}
    )


@dataclass
class Said:
    """What is proved of a home: holes in the ways in, habits that don't hold, sets refused, margins, what is lacking.

    `tables`: all that the searches see; equal tables have equal answers.
    """

    intruders: Intruders | None = None
    holes: frozenset[Hole] = frozenset()
    slowest: dict[str, int] = field(default_factory=dict)
    habits: dict[str, str] = field(default_factory=dict)
    margins: dict[str, str] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    tables: dict[str, Any] = field(default_factory=dict)

    def worse_than(self, plain: "Said") -> Iterator[str]:
        """Everything that held of the plain home and doesn't hold here."""
        yield from (f"{rule}: {way} {room}".rstrip() for rule, way, room in sorted(self.holes - plain.holes))
        for habit, verdict in self.habits.items():
            if verdict != "holds" and plain.habits[habit] == "holds":
                yield f"{habit} {verdict}"

    def less_than(self, plain: "Said") -> str:
        """How the margins differ from the plain home's: habits', and seconds until siren or message."""
        changes = [f"{habit} {plain.margins[habit]} -> {margin} s" for habit, margin in self.margins.items()
                   if margin != plain.margins.get(habit, margin)]  # fmt: skip
        changes += [f"{name} {plain.slowest[name]} -> {seconds} s" for name, seconds in self.slowest.items()
                    if seconds != plain.slowest.get(name, seconds)]  # fmt: skip
        return "; ".join(changes)


class Runs:
    """Proves mutants; cells and walks are taken over from another mutant where nothing of theirs has changed."""

    def __init__(self, home: Home, put: Callable[..., Home]) -> None:
        self.home, self._put = home, put
        self._cells: dict[Any, Any] = {}
        self._grounds: dict[Any, Any] = {}
        self.plain = Said()
        self.plain = self.of(Mutant("", "plain", ""))

    def of(self, mutant: Mutant) -> Said:
        """What is proved of a mutant. Runs whose tables are those of the plain home are not searched again."""
        with self.as_built(mutant):
            home = self.changed(mutant)
            said = Said(Intruders(home, (NONE,)), lacking=unready(home))
            self._ways(said)
            self._habits(said, home)
            return said

    def changed(self, mutant: Mutant) -> Home:
        """The mutant's home."""
        return self._put(self.home, mutant.edits)

    def as_built(self, mutant: Mutant) -> ExitStack:
        """While it lasts every unit has the mutant's table, and cells and walks are worked out once."""
        stack = ExitStack()
        if mutant.cell:
            table = changed(TABLE, *mutant.cell)
            stack.enter_context(patch.object(from_home, "Setup", partial(from_home.Setup, table=table)))
        stack.enter_context(patch.object(intrusions, "cell_map", self._cell_map))
        stack.enter_context(patch.object(habit_cases, "HabitGround", self._ground))
        return stack

    def _cell_map(
        self, home: Home, sights: Any, speed_m_s: float, side_m: float, rooms: frozenset[str], **told: Any
    ) -> Any:
        key = sights, speed_m_s, side_m, rooms, tuple(sorted(door_contacts(home).items())), plan_from_home(home)
        if repr(key) not in self._cells:
            self._cells[repr(key)] = cells.cell_map(home, sights, speed_m_s, side_m, rooms, **told)
        return self._cells[repr(key)]

    def _ground(self, home: Home) -> Any:
        places = [(each.id, each.room, each.at, each.openings, each.passages) for each in home.whole_devices]
        key = repr((plan_from_home(home), places))
        if key not in self._grounds:
            self._grounds[key] = habit_walks.HabitGround(home)
        return self._grounds[key]

    def _ways(self, said: Said) -> None:
        intruders = said.intruders
        assert intruders is not None
        for part in intruders.parts:
            searched = Intrusion(intruders.setups[0].setup, part.cells, part.ways, intruders.masks)
            said.tables[f"ways {min(part.rooms)}"] = searched.setup, id(part.cells), part.ways, guarded(intruders, part)
        if said.tables == {name: self.plain.tables.get(name) for name in said.tables}:
            said.holes, said.slowest = self.plain.holes, self.plain.slowest
            return
        tallies = intruders.search()
        said.holes = frozenset(found for tally in tallies for found in holes_of(tally))
        said.slowest = {t.id: t.worst_s for t in tallies if t.rule == "sounds_in_time"}

    def _habits(self, said: Said, home: Home) -> None:
        try:
            household = PreparedHabits(home)
            scripts = [household.script(habit) for habit in home.household.habits]
            said.tables["habits"] = household.setups, [vars(script).get("labels") for script in scripts]
        except Exception:
            said.tables["habits"] = None
        if said.tables["habits"] is not None and said.tables["habits"] == self.plain.tables.get("habits"):
            said.habits, said.margins = self.plain.habits, self.plain.margins
            return
        for each in habits_proved(home):
            said.habits[each.proved.id] = each.proved.verdict.value
            if "margin_s" in each.proved.worst:
                said.margins[each.proved.id] = each.proved.worst["margin_s"]

    def told(self, said: Said) -> str:
        """The verdict of the counterexample of a new hole in the ways in, played again in metres on the whole unit."""
        hole = min(said.holes - self.plain.holes)
        assert said.intruders is not None
        found = one_way(said.intruders, hole[0], hole[1])
        assert found is not None
        teller = Teller(said.intruders.home, said.intruders.plan, said.intruders.sights, WITHIN_S)
        return teller.tell(found).verdict.value

    def agrees(self, said: Said, set_: str) -> bool:
        """Whether a search in plain words finds no new hole either, in this set of the house ("" for away)."""
        assert said.intruders is not None
        parts = [part for part in said.intruders.parts if "house" in part.areas]
        return all(not game_breached(said.intruders, part, set_, self.plain.holes) for part in parts)


def guarded(intruders: Intruders, part: JoinedRooms) -> list[frozenset[str]]:
    """The rooms that each area guards in this part of the home."""
    return [guarded_rooms(intruders.home, area) & part.rooms for area in part.areas]


def holes_of(tally: Tally) -> Iterator[Hole]:
    """The holes of a rule in a set; a set that the unit refuses is one as well."""
    yield from ((tally.id, way, room) for way, room in tally.plain)
    if tally.refused:
        yield tally.id, "refused", ""


def one_way(intruders: Intruders, name: str, way: str) -> Any:
    """The first breach of a rule by this way in alone."""
    parts = (replace(p, ways=tuple(w for w in p.ways if w.opening == way)) for p in intruders.parts)
    alone = Intruders(intruders.home, intruders.faults, intruders.sights)
    alone.parts = tuple(part for part in parts if part.ways)
    return next((tally.first for tally in alone.search(None, frozenset({name})) if tally.id == name), None)


def game_breached(intruders: Intruders, part: JoinedRooms, set_: str, known: frozenset[Hole]) -> bool:
    """Whether the plain search reaches a guarded room unnoticed by a way that is not a hole of the plain home."""
    setup, area = intruders.setups[0].setup, part.areas[0]
    masks = FaultMasks.of((NONE,))
    intrusion = Intrusion(setup, part.cells, part.ways, masks)
    name = f"noticed_first/{area}/{set_name(set_)}"
    for way in part.ways:
        goals = sorted(r for r in guarded_rooms(intruders.home, area) if (name, way.opening, r) not in known)
        goals = [room for room in goals if room in part.rooms]
        for states, _ in beginnings(intrusion.setup, masks, {area: set_}, area, frozenset(part.areas)):
            for begin in states:
                game = game_of(intrusion.setup, begin, part.cells, [way], goals, told="noticed", part=set_)
                if plain_search.search(game, canonical=canonical_of(intrusion)).breached:
                    return True
    return False
