"""Nothing that a check reads goes unnoted: after any edit, and its undo, facts say what a fresh start says."""

import random
from collections.abc import Iterator
from functools import cache
from itertools import islice

import pytest
from changing import changed, models, other_values, places
from drafted_homes import british_home, wintry_home
from test_every_field import IDENTITY, fields_of, typed

from alarmlib.checks.assess import CHECKS, Assessed, assess, outcome
from alarmlib.facts import Facts
from alarmlib.facts.facts import Query
from alarmlib.model import Home
from alarmlib.model.base import Part

SEED = 12


@cache
def homes() -> tuple[Home, ...]:
    """Two small homes in which most kinds of parts occur."""
    return typed(wintry_home()), typed(british_home())


def edits(model: type[Part], each: int = 1) -> Iterator[tuple[Home, Home]]:
    """A home, and the same one with one field of that kind of part changed: each field so many times."""
    for name in fields_of(model):
        if name not in IDENTITY:
            yield from islice(_edits_of(model, name), each)


def _edits_of(model: type[Part], name: str) -> Iterator[tuple[Home, Home]]:
    for home in homes():
        document = home.model_dump(mode="json")
        ids = [room.id for room in home.site.rooms]
        for where, part in places(home, model):
            for value in other_values(model.model_fields[name], getattr(part, name), ids):
                other = changed(home, document, (*where, name), value)
                if other is not None:
                    yield home, other


def shown(facts: Facts, draw: random.Random) -> Assessed:
    """What all checks say, asked in an order of its own."""
    for each in draw.sample(CHECKS, len(CHECKS)):
        facts.ask(outcome, each)
    return assess(facts)


def follows(facts: Facts, other: Home, draw: random.Random) -> bool:
    """Whether facts say after an edit what a fresh start says, and after its undo what they said before."""
    home, before = facts.home, shown(facts, draw)
    facts.move(other)
    after = shown(facts, draw)
    facts.move(home)
    return after == assess(other) and shown(facts, draw) == before


@cache
def begun() -> tuple[Facts, ...]:
    """Facts of each home, which all models' edits go on with."""
    return tuple(Facts(home) for home in homes())


@pytest.mark.parametrize("model", models(), ids=lambda model: model.__name__)
def test_after_any_edit_and_its_undo__as_from_the_beginning(model: type[Part]) -> None:
    """Each field of each kind of part, in one of two homes."""
    draw = random.Random(f"{SEED} {model.__name__}")
    for home, other in edits(model):
        (facts,) = (each for each in begun() if each.home is home)
        assert follows(facts, other, draw)


class Forgetful(Facts):
    """Facts that never note one part as read."""

    forgotten = ""

    def _note(self, what: str | Query) -> None:
        if what != self.forgotten:
            super()._note(what)


def test_one_read_that_is_not_noted_is_found() -> None:
    """The measure itself: three parts drawn from those that checks read, each forgotten in turn."""
    told = Facts(homes()[0])
    assess(told)
    paths = sorted({path for each in CHECKS for path in told.reads(outcome, each)} - {"units"})
    draw = random.Random(SEED)
    for path in draw.sample(paths, 3):
        moving = ((home, other) for home, other in _every_edit() if _moves(path, home, other))
        assert not all(follows(_forgetting(path, home), other, draw) for home, other in moving), path


@cache
def _every_edit() -> tuple[tuple[Home, Home], ...]:
    return tuple(edit for model in models() for edit in edits(model, 4))


def _moves(path: str, home: Home, other: Home) -> bool:
    return bool(Facts(home).read(path) != Facts(other).read(path))


def _forgetting(path: str, home: Home) -> Facts:
    facts = Forgetful(home)
    facts.forgotten = path
    return facts
