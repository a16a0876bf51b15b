"""Coverage, walks, cables and plan after an edit: what is kept of them is what a fresh start says."""

import os
import random
from collections.abc import Callable, Iterator
from functools import cache
from inspect import unwrap
from typing import Any

import pytest
from changing import changed, models, other_values, places
from drawn_for_facts import drawn_home
from test_every_field import IDENTITY, fields_of

from alarmlib.calc.coverage.areas import coverage_by, coverages
from alarmlib.calc.coverage.watched import rooms_seen
from alarmlib.calc.electrical.cable_lengths import planned
from alarmlib.calc.plan.plan_problems import home_plan_problems
from alarmlib.calc.sound.heard import sounders
from alarmlib.calc.walking.home_walks import home_map, home_walks
from alarmlib.checks.assess import FULL_CHECKS, outcome
from alarmlib.checks.home.ways import route_rooms
from alarmlib.facts import Facts
from alarmlib.facts.facts import Query
from alarmlib.model import Home

SEED = 12
EDITS = None if os.environ.get("ALARM_WHOLE") else 20
ASKED: tuple[Callable[[Any], Any], ...] = (
    coverages, home_walks, route_rooms, planned, home_plan_problems, sounders, rooms_seen
)  # fmt: skip
CHECKED = tuple(each for each in FULL_CHECKS if not each.id.startswith(("choice", "zone_plan", "habits")))


@cache
def edits() -> tuple[Home, ...]:
    """The drawn home with one field of one part changed: each field of each kind of part, of the first that may."""
    home = drawn_home()
    document, rooms = home.model_dump(mode="json"), [room.id for room in home.site.rooms]
    found = (
        next(_with(home, document, rooms, model, name), None)
        for model in models() for name in fields_of(model) if name not in IDENTITY
    )  # fmt: skip
    return tuple(each for each in found if each is not None)


def _with(home: Home, document: Any, rooms: list[str], model: Any, name: str) -> Iterator[Home]:
    for where, part in places(home, model):
        for value in other_values(model.model_fields[name], getattr(part, name), rooms):
            if (other := changed(home, document, (*where, name), value)) is not None:
                yield other


def said(home: Any, draw: random.Random) -> dict[str, Any]:
    """What every dear question comes to, asked in an order of its own."""
    facts = home if isinstance(home, Facts) else Facts(home)
    asked: list[tuple[str, Any, tuple[Any, ...]]] = [(query.__name__, unwrap(query), ()) for query in ASKED]
    asked += [(check.id, outcome, (check,)) for check in CHECKED]
    return {name: facts.ask(query, *args) for name, query, args in draw.sample(asked, len(asked))}


def follows(facts: Facts, other: Home, draw: random.Random) -> bool:
    """Whether facts say after an edit what a fresh start says, and after its undo what they said before."""
    home, before = facts.home, said(facts, draw)
    facts.move(other)
    after = said(facts, draw)
    facts.move(home)
    return after == said(other, draw) and said(facts, draw) == before


def test_after_any_edit_and_its_undo__as_from_the_beginning() -> None:
    """A seeded sample of the fields of all kinds of parts; all of them in a whole run."""
    draw = random.Random(SEED)
    every = edits()
    facts = Facts(drawn_home())
    assert all(facts.ask(unwrap(each)) for each in ASKED if each not in (home_plan_problems, sounders))
    for other in draw.sample(every, min(EDITS or len(every), len(every))):
        assert follows(facts, other, draw)


class Forgetful(Facts):
    """Facts that never note one part, or one query, as read."""

    forgotten: Any = ""

    def _note(self, what: str | Query) -> None:
        if self.forgotten not in (what, what[0]):
            super()._note(what)


@pytest.mark.parametrize(("forgotten", "moved"), [
    ("site.passages", "site.passages"), ("devices", "devices"), (unwrap(coverage_by), "site.furniture"),
    (unwrap(home_map), "site.passages"),
])  # fmt: skip
def test_one_read_that_is_not_noted_is_found(forgotten: Any, moved: str) -> None:
    """The measure itself: a part, and a query that others rest on; some edit of what they read shows it."""
    facts = Forgetful(drawn_home())
    facts.forgotten = forgotten
    draw = random.Random(SEED)
    moving = (other for other in edits() if Facts(other).read(moved) != facts.read(moved))
    assert not all(follows(facts, other, draw) for other in moving)
