"""Changed copies of a home, and what was proved of each: nothing is proved twice, and nothing that cannot differ."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.proof.habits.habit_cases import PreparedHabits, corners_of
from alarmlib.proof.habits.household import habits_proved
from alarmlib.proof.habits.pairs import pairs_proved
from alarmlib.proof.prove import RUNS, Asked, prove
from alarmlib.proof.repairs.changes import RepairChange, changed
from alarmlib.proof.report.verdicts import Proof, ProofVerdict, Proved, both_bases
from alarmlib.proof.unit.alone import alone_proved
from alarmlib.proof.unit.left_out import left_out_shown
from alarmlib.proof.unit.siren_time import siren_in_an_hour

Chosen = frozenset[int]
RUN_OF = {
    "noticed_first": "ways",
    "sounds_in_time": "ways",
    "sounds_first": "ways",
    "habit": "habits",
    "pair": "pairs",
    "pairs": "pairs",
    "unit": "unit",
    "left_out_shown": "left_out",
    "siren_in_an_hour": "siren",
}
_AFTER_PAIRS = frozenset({"unit", "left_out", "siren"})
SOONEST_FIRST = ("habits", "ways", "left_out", "siren", "unit")


def run_of(name: str) -> str:
    """The run of `prove` that says whether a property holds."""
    rule = name.partition("/")[0]
    return RUN_OF.get(rule, rule)


@dataclass
class _Copy:
    home: Home
    known: dict[str, Proved] = field(default_factory=dict)
    whole_runs: set[str] = field(default_factory=set)
    proof: Proof | None = None


class Copies:
    """The copies of one home, by the places of the changes made to it."""

    def __init__(self, home: Home, proof: Proof, changes: tuple[RepairChange, ...]) -> None:
        self.home, self.proof, self.changes = home, proof, changes
        self.asked = {run_of(each.id) for each in proof.properties}
        self.plain = {each.id: each for each in proof.properties}
        self.proofs = 0
        self._copies: dict[Chosen, _Copy | None] = {}
        self._living: Any = None

    def home_of(self, chosen: Chosen) -> Home | None:
        """The home with these changes; None when it is none."""
        copy = self._copy(chosen)
        return None if copy is None else copy.home

    def forget(self) -> None:
        """Drop the copies of which nothing was proved: they are made again when they are asked for."""
        self._copies = {chosen: copy for chosen, copy in self._copies.items() if copy is None or copy.known}

    def proved(self, chosen: Chosen, names: Collection[str]) -> Mapping[str, Proved]:
        """These properties of a copy, proved alone; what the copy has no more is left out.

        Raises AlarmProblem when the copy cannot be proved.
        By `alarmlib.proof.prove`, only what is asked.
        """
        copy = self._copies[chosen]
        assert copy is not None
        for run in sorted({run_of(name) for name in names} - copy.whole_runs):
            asked = frozenset(name for name in names if run_of(name) == run)
            if not asked <= copy.known.keys():
                copy.known |= {each.id: each for each in self._run(copy.home, run, asked)}
        return {name: copy.known[name] for name in names if name in copy.known}

    def runs(self, chosen: Chosen) -> Iterator[tuple[Proved, ...]]:
        """Everything that the home's own proof says of a copy, run by run, what breaks soonest first.

        Habits and pairs whose scripts and unit are those of the home itself are not proved again.
        Raises AlarmProblem when the copy cannot be proved.
        By `alarmlib.proof.prove`.
        """
        copy = self._copies[chosen]
        assert copy is not None
        for run in (run for run in SOONEST_FIRST if run in self.asked):
            if run not in copy.whole_runs:
                same = run == "habits" and self.same_habits(chosen)
                found = self._own(run) if same else self._run(copy.home, run, None)
                copy.known |= {each.id: each for each in found}
                copy.whole_runs.add(run)
            yield tuple(each for name, each in copy.known.items() if run_of(name) == run)

    def whole(self, chosen: Chosen) -> Proof:
        """The full proof of a copy, of all that the home's own proof is of, with its faults if that has any.

        Raises AlarmProblem when the copy cannot be proved.
        By `alarmlib.proof.prove`; pairs as in `runs`.
        """
        copy = self._copies[chosen]
        assert copy is not None
        if copy.proof is None:
            same = self.same_habits(chosen)
            runs = tuple(run for run in RUNS if run in self.asked and not (same and run == "pairs"))
            self.proofs += 1
            made = prove(copy.home, "single" if self.proof.faults else "none", asked=Asked(runs))
            copy.proof = self._with_pairs(made) if same and "pairs" in self.asked else made
        return copy.proof

    def _with_pairs(self, made: Proof) -> Proof:
        """The proof with the home's own pairs, in their old place; no fault opens anything between them."""
        pairs = self._own("pairs")
        first = next((at for at, each in enumerate(made.properties) if run_of(each.id) in _AFTER_PAIRS), None)
        place = len(made.properties) if first is None else first
        properties = (*made.properties[:place], *pairs, *made.properties[place:])
        hold = sum(each.verdict is ProofVerdict.HOLDS for each in pairs)
        return replace(
            made,
            not_covered=self.proof.not_covered,
            properties=properties,
            states=sum(each.states for each in properties),
            faults=tuple(replace(row, still_hold=row.still_hold + hold) for row in made.faults),
            basis=both_bases(made, self.proof),
        )

    def _own(self, run: str) -> tuple[Proved, ...]:
        return tuple(each for each in self.proof.properties if run_of(each.id) == run)

    def _copy(self, chosen: Chosen) -> _Copy | None:
        if chosen not in self._copies:
            made = changed(self.home, [self.changes[place] for place in sorted(chosen)])
            self._copies[chosen] = None if made is None else _Copy(made)
        return self._copies[chosen]

    def _run(self, home: Home, run: str, names: frozenset[str] | None) -> tuple[Proved, ...]:
        self.proofs += 1
        if run == "habits":
            return tuple(each.proved for each in habits_proved(_only(home, names)))
        if run == "pairs":
            return pairs_proved(home)
        if run == "unit":
            return alone_proved(home)
        if run == "left_out":
            return left_out_shown(home)
        if run == "siren":
            return (siren_in_an_hour(home),)
        return prove(home, "none", asked=Asked((run,), names)).properties

    def same_habits(self, chosen: Chosen) -> bool:
        """Whether habits are played in this copy as in the home itself: on the same zones, by the same steps."""
        copy = self._copies[chosen]
        assert copy is not None
        self._living = self._living or _played(self.home)
        return bool(self._living == _played(copy.home))


def _only(home: Home, names: frozenset[str] | None) -> Home:
    """The home with these habits alone: one habit is proved as it is beside others."""
    if names is None:
        return home
    kept = tuple(habit for habit in home.household.habits if f"habit/{habit.id}" in names)
    return home.model_copy(update={"household": home.household.model_copy(update={"habits": kept})})


def _played(home: Home) -> tuple[object, ...]:
    """All that the search of habits and pairs looks at: scripts, and the unit's zones that they touch."""
    household = PreparedHabits(home)
    found: list[object] = []
    for habit in home.household.habits:
        for corner in corners_of(home):
            for tail_s in (-1, 0):
                try:
                    found.append(household.script(habit, corner.pace, tail_s=tail_s))
                except AlarmProblem:
                    found.append(habit)
    clocks = dict.fromkeys(corner.clock for corner in corners_of(home))
    units = [
        household.unit(season, clock, rests).beginnings.setup
        for season in household.setups for clock in clocks for rests in (False, True)
    ]  # fmt: skip
    areas = tuple((room.id, room.area) for room in home.site.rooms)
    return tuple(found), tuple(units), areas, home.proof.looks_before_setting, home.control_unit.areas
