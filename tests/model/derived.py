"""Everything that is worked out from a home, what costs least first, for asking whether a change of it shows."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from alarmlib.calc.zoning.zone_types import unit_limits
from alarmlib.checks.assess import FULL_CHECKS, Assessed, assess, outcome
from alarmlib.control.from_home import setup_from_home
from alarmlib.draft.short_path import draft_home
from alarmlib.draft.zones import zone_devices
from alarmlib.errors import AlarmProblem
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.model.proof import ChangeKind
from alarmlib.model.words import Share
from alarmlib.proof.faults.fault_cases import faults_of
from alarmlib.proof.intruder.intrusions import Intruders
from alarmlib.proof.repairs.prices import DEVICE_PRICE, Prices
from alarmlib.proof.report.assumptions import assumptions
from alarmlib.proof.report.readiness import unready
from alarmlib.proof.search.budget import budget_of
from alarmlib.record.context import Context
from alarmlib.record.section import Section
from alarmlib.record.sections import LONG, SHORT

TODAY = date(2026, 11, 30)
INVENTORIES = frozenset({"devices", "house", "household"})
"""Sections that print every field back as it was entered: a field that shows only there does nothing."""
ABOUT_RECORDS = frozenset({"changes", "sharing", "walk_sheet"})
"""What moved since the last record, who may read what, and an empty sheet: not worked out from a fact."""
SLOW = ("sound", "cables", "choice", "coverage")
SECTIONS = tuple(each for each in dict.fromkeys((*LONG, *SHORT)) if each.id not in INVENTORIES | ABOUT_RECORDS)


@dataclass(frozen=True)
class Derived:
    """What is worked out from a home; `before` is what was worked out from the home it differs from in one field."""

    home: Home
    before: "Derived | None" = None

    @cached_property
    def assessed(self) -> Assessed:
        """What the quick checks say; of a changed home worked out from what was kept of the first one."""
        return assess(self._facts)

    @cached_property
    def _facts(self) -> Facts:
        if self.before is None:
            return Facts(self.home, TODAY)
        assert self.before.assessed  # so that there is something kept to go on with
        facts = self.before._facts.fork()
        facts.move(self.home, TODAY)
        return facts

    @cached_property
    def _slow_facts(self) -> Facts:
        """Apart, since a quick assessment also tells the slow results that are kept and still hold."""
        if self.before is None:
            return self._facts.fork()
        facts = self.before._slow_facts.fork()
        facts.move(self.home, TODAY)
        return facts

    @cached_property
    def _context(self) -> Context:
        return Context(self.home, self.assessed, Share.OWNER, TODAY.isoformat())

    def said(self) -> Any:
        """Findings, figures and facts that are missing."""
        return self.assessed.findings, self.assessed.figures, self.assessed.missing

    def setups(self) -> Any:
        """What the control unit is simulated with, season by season."""
        seasons = ("", *(season.id for season in self.home.control_unit.seasons))
        return tuple(setup_from_home(self.home, season) for season in seasons)

    def sections(self, slow: bool) -> Any:
        """The sections of the owner's record as typed blocks, pictures among them."""
        chosen = (section for section in SECTIONS if (section.id in SLOW) is slow)
        return {section.id: self._built(section) for section in chosen}

    def _built(self, section: Section) -> Any:
        return section.build(self._context) if section.has_needs(self.home) else None

    def drafts(self) -> Any:
        """The draft of the short path."""
        if self.before is not None and self.before.home.short_path == self.home.short_path:
            return self.before._draft
        return self._draft

    @cached_property
    def _draft(self) -> Any:
        try:
            return draft_home(self.home)
        except AlarmProblem as problem:
            return str(problem)

    def proposals(self) -> Any:
        """What the arrangement of zones is worked out from."""
        return zone_devices(self.home), unit_limits(self.home)

    def proof(self) -> Any:
        """What the proof is given: ways in, goals, what it assumes, its faults, what changes cost, its limits."""
        if unready(self.home):
            return unready(self.home)
        faults, prices = faults_of(self.home, "single"), Prices(self.home)
        intruders = Intruders(self.home, faults, None, 1.0)
        costs = [prices.of_device(kind) for kind in DEVICE_PRICE], [prices.of(kind) for kind in ChangeKind]
        limits = budget_of(self.home), self.home.proof.most_minutes
        return assumptions(self.home, intruders), faults, costs, limits, intruders.within_s, intruders.parts

    def full(self) -> Any:
        """What the slow checks say; those whose parts of the home have not moved are not asked again."""
        return [self._slow_facts.ask(outcome, check) for check in FULL_CHECKS]


Stage = tuple[str, Callable[[Derived], Any]]
STAGES: tuple[Stage, ...] = (
    ("setup", Derived.setups),
    ("findings", Derived.said),
    ("sections", lambda derived: derived.sections(False)),
    ("proposals", Derived.proposals),
    ("proof", Derived.proof),
    ("sections", lambda derived: derived.sections(True)),
    ("drafts", Derived.drafts),
    ("full checks", Derived.full),
)


FAST, REST = STAGES[:3], STAGES[3:]
"""The stages that cost a twentieth of a second, and those that are asked where these see no difference."""


class Known:
    """What was worked out from one unchanged home, each stage once."""

    def __init__(self, home: Home) -> None:
        self.derived = Derived(home)
        self.document: dict[str, Any] = home.model_dump(mode="json")
        self.ids = tuple(ids_of(home))
        self._stages: dict[Stage, Any] = {}

    def differs(self, other: Home, stages: Sequence[Stage]) -> str:
        """The first of these stages that comes out otherwise for the other home; "" when none does."""
        changed = Derived(other, self.derived)
        for each in stages:
            if each not in self._stages:
                self._stages[each] = _tried(each[1], self.derived)
            if _tried(each[1], changed) != self._stages[each]:
                return each[0]
        return ""


def _tried(stage: Callable[[Derived], Any], derived: Derived) -> Any:
    try:
        return stage(derived)
    except AlarmProblem as problem:
        return str(problem)


def ids_of(home: Home) -> Iterator[str]:
    """Every id that something may refer to, those of rooms, ways in and zones first."""
    site, unit, household, messages = home.site, home.control_unit, home.household, home.messages
    lists: tuple[tuple[Any, ...], ...] = (
        site.rooms, site.openings, unit.zones, unit.areas, unit.part_sets, unit.seasons, household.people,
        household.visitors, household.pets, site.storeys, site.passages, home.circuits, messages.responders,
        messages.paths, home.wiring.boxes, home.log.tests, home.whole_devices,
    )  # fmt: skip
    yield from dict.fromkeys(each.id for each_list in lists for each in each_list)
