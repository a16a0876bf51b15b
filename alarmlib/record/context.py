"""What every section is built from: the home, its assessment, and for whom this copy is."""

from dataclasses import dataclass
from datetime import date as Day  # noqa: N812
from functools import cached_property
from typing import cast

from alarmlib.calc.times.seasons import season_in_force, unit_in
from alarmlib.checks.finding import Assessment
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.model.base import Part
from alarmlib.model.control_unit import ControlUnit, Season
from alarmlib.model.naming import ANYTHING, Names, called, name_in, names_of
from alarmlib.model.words import Share
from alarmlib.proof.report.kept import NEVER_RUN, KeptProof
from alarmlib.record.blocks import named
from alarmlib.store.sharing import sees


@dataclass(frozen=True)
class Context:
    """A home to be written up, once, for one circle of readers."""

    home: Home
    assessment: Assessment
    copy: Share
    date: str
    previous: Home | None = None
    kept: KeptProof = NEVER_RUN
    since: str = ""  # the day of the record that `previous` was written up in, where that is known
    whole: Home | None = None
    facts: Facts | None = None  # of this very home, where the record is not written at once: what did not move is kept

    @property
    def judged(self) -> Home:
        """The home with nothing left out: what is worked out or counted is worked out from this, never from a copy."""
        return self.whole or self.home

    @property
    def asked(self) -> Home:
        """What dear questions are asked of: the facts that were kept, which answer like the home, else the home."""
        return self.home if self.facts is None else cast("Home", self.facts)

    @cached_property
    def season(self) -> Season | None:
        """The season in force on the record's date, or as the owner says; None for the ordinary set."""
        return season_in_force(self.home.control_unit, day_of(self.date))

    @cached_property
    def control_unit(self) -> ControlUnit:
        """The control unit with the values of the season in force."""
        return unit_in(self.home.control_unit, self.season)

    def sees(self, level: Share) -> bool:
        """Whether this copy shows what is declared for that level."""
        return sees(self.copy, level)

    def knows(self, kind: str, element_id: str) -> bool:
        """Whether this copy holds the element, so that it may be told of."""
        return (kind, element_id) in self._names

    def name(self, kind: str, element_id: str) -> str:
        """The name of an element as the owner typed it, kept apart; "" for none."""
        return named(name_in(self._names, kind, element_id)) if element_id else ""

    def called(self, part: Part) -> str:
        """What a person calls a part of the home, kept apart."""
        return named(called(part, self._names))

    def any_name(self, element_id: str) -> str:
        """The name of an id whose kind isn't known (a finding's subject, a step's place)."""
        known = any(each == element_id for _, each in self._names)
        return named(name_in(self._names, ANYTHING, element_id)) if known else element_id.replace("_", " ")

    @cached_property
    def _names(self) -> Names:
        return names_of(self.home)


def day_of(date: str) -> Day | None:
    """The day that a date written 2026-11-25 names; None for anything else."""
    try:
        day = Day.fromisoformat(date)
    except ValueError:
        return None
    return day if day.isoformat() == date else None
