"""Derived facts: what is worked out again after an edit, and what is kept."""

import pickle
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import pytest

from alarmlib.facts import Facts
from alarmlib.facts import facts as facts_module
from alarmlib.facts.facts import UNASKED_TURNS, same
from alarmlib.model import Home
from alarmlib.model.control_unit import ControlUnit, Times

RAN: list[str] = []


@pytest.fixture(autouse=True)
def _nothing_ran() -> None:
    RAN.clear()


def named(home: Any) -> str:
    """A query of one part."""
    RAN.append("named")
    return str(home.name)


def long_name(home: Any) -> bool:
    """A query of another query, which often comes out the same."""
    RAN.append("long_name")
    return len(home.ask(named)) > 10


def sentence(home: Any, end: str) -> str:
    """A query of a query of a query, asked with an argument."""
    RAN.append("sentence")
    return f"{'long' if home.ask(long_name) else 'short'}{end}"


def entry_after_name(home: Any) -> float | None:
    """A query that reads one part only as the other says."""
    RAN.append("entry_after_name")
    return home.control_unit.times.entry_s if home.name == "read it" else None


def fails(home: Any) -> None:
    """A query that ends in an exception."""
    RAN.append("fails")
    raise ValueError(home.name)


def asks_itself(home: Any) -> Any:
    """A query that can never end."""
    return home.ask(asks_itself)


def at(name: str = "", entry_s: float = 30.0, note: str = "") -> Home:
    """A home of which three facts matter here."""
    return Home(name=name, note=note, control_unit=ControlUnit(times=Times(entry_s=entry_s)))


def test_what_reads_nothing_that_moved_stays() -> None:
    """A note is written: nothing runs. A name of the same length: the question whether it is long, and no more."""
    facts = Facts(at("alpha"))
    assert facts.ask(sentence, ".") == "short."
    RAN.clear()
    facts.move(at("alpha", note="new"))
    assert facts.ask(sentence, ".") == "short."
    assert RAN == []
    facts.move(at("omega"))
    assert facts.ask(sentence, ".") == "short."
    assert RAN == ["named", "long_name"]
    facts.move(at("a name of some length"))
    assert facts.ask(sentence, ".") == "long."
    assert RAN[2:] == ["named", "long_name", "sentence"]


def test_an_equal_value_keeps_its_old_object() -> None:
    """Worked out again and found equal: whoever holds the old one holds the new one."""
    facts = Facts(at("a", 30))
    before = facts.ask(lists)
    facts.move(at("b", 30))
    assert facts.ask(lists) is before
    assert RAN == ["lists", "lists"]


def lists(home: Any) -> tuple[float, ...]:
    """A query that reads more than it needs."""
    RAN.append("lists")
    return (len(home.name), home.control_unit.times.entry_s)


def test_a_part_read_under_a_condition_counts_from_when_it_is_read() -> None:
    """The times are read only under one name: before, they may move."""
    facts = Facts(at("leave it", 30))
    assert facts.ask(entry_after_name) is None
    facts.move(at("leave it", 45))
    assert facts.ask(entry_after_name) is None
    assert RAN == ["entry_after_name"]
    facts.move(at("read it", 45))
    assert facts.ask(entry_after_name) == 45
    facts.move(at("read it", 60))
    assert facts.ask(entry_after_name) == 60
    assert facts.reads(entry_after_name) == {"name", "control_unit.times"}


def test_an_edit_undone_stands_where_nobody_asked_between() -> None:
    """There and back: what was worked out before is what holds."""
    facts = Facts(at("alpha"))
    facts.ask(named)
    facts.move(at("omega"))
    facts.move(at("alpha"))
    assert facts.ask(named) == "alpha"
    assert RAN == ["named"]


def test_how_a_query_fails_is_kept() -> None:
    """The exception is raised each time and worked out once; another name raises another one."""
    facts = Facts(at("one"))
    for _ in range(3):
        with pytest.raises(ValueError, match="one"):
            facts.ask(fails)
    assert RAN == ["fails"]
    facts.move(at("two"))
    with pytest.raises(ValueError, match="two"):
        facts.ask(fails)
    with pytest.raises(RuntimeError, match="asks itself"):
        facts.ask(asks_itself)


def test_a_copy_goes_its_own_way() -> None:
    """What is asked of a copy leaves the first as it is, and begins with all that was kept."""
    first = Facts(at("alpha"))
    first.ask(sentence, ".")
    RAN.clear()
    copy = first.fork()
    assert copy.ask(sentence, ".") == "short."
    assert RAN == []
    copy.move(at("a name of some length"))
    assert copy.ask(sentence, ".") == "long."
    assert (first.ask(named), first.ask(sentence, ".")) == ("alpha", "short.")


def test_another_process_begins_with_the_home_alone() -> None:
    """What was kept stays here: queries are functions, which need not be known there."""
    facts = Facts(at("alpha"), date(2026, 11, 30))
    facts.ask(lambda home: home.name)
    sent = pickle.loads(pickle.dumps(facts))
    assert (sent.home, sent.today, sent.ask(named)) == (facts.home, facts.today, "alpha")


def test_whether_a_value_stands_is_told_without_working_it_out() -> None:
    """Unknown, standing, perhaps moved."""
    facts = Facts(at("alpha"))
    assert facts.standing(sentence, ".") is None
    facts.ask(sentence, ".")
    RAN.clear()
    facts.move(at("alpha", note="new"))
    assert facts.standing(sentence, ".") is True
    facts.move(at("omega"))
    assert facts.standing(sentence, ".") is False
    assert RAN == []


def test_what_nobody_asks_for_goes() -> None:
    """After some edits a value that nobody asked for is let go; one that is asked for stays."""
    facts = Facts(at("alpha"))
    facts.ask(named)
    facts.ask(entry_after_name)
    for turn in range(UNASKED_TURNS + 1):
        facts.move(at("alpha", note=str(turn)))
        facts.ask(named)
    assert facts.standing(named) is True
    assert facts.standing(entry_after_name) is None


class Large:
    """A value that says its size."""

    nbytes = 60


def large(_home: Any, _name: str) -> Large:
    """A query whose value is large."""
    return Large()


def test_large_values_that_nobody_asks_for_have_so_much_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """The newest of them stays; of those before it what there is room for, small ones in any case."""
    monkeypatch.setattr(facts_module, "MOST_BYTES", 100)
    facts = Facts(at("alpha"))
    for turn, name in enumerate(("first", "second")):
        facts.ask(large, name)
        facts.ask(named)
        facts.move(at("alpha", note=str(turn)))
    facts.move(at("alpha", note="more"))
    assert [facts.standing(large, name) for name in ("first", "second")] == [None, True]
    assert facts.standing(named) is True


def test_what_was_asked_last_stays_however_large_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is most likely asked again; what is worked out twice costs more than room."""
    monkeypatch.setattr(facts_module, "MOST_BYTES", 10)
    facts = Facts(at("alpha"))
    facts.ask(large, "one")
    facts.move(at("alpha", note="one"))
    assert facts.standing(large, "one") is True
    facts.move(at("alpha", note="two"))
    facts.move(at("alpha", note="three"))
    assert facts.standing(large, "one") is not None


def test_what_somebody_waits_for_is_called_old_for_as_long() -> None:
    """A value that no longer holds is kept while somebody asks whether it does, however many edits go by."""
    facts = Facts(at("alpha"))
    facts.ask(sentence, ".")
    for turn in range(2 * UNASKED_TURNS):
        facts.move(at("omega", note=str(turn)))
        assert facts.standing(sentence, ".") is False
    assert RAN.count("sentence") == 1


def test_the_day_is_read_like_a_part() -> None:
    """What reads the day moves with it, and nothing else does."""
    facts = Facts(at("alpha"), date(2026, 11, 29))
    assert facts.ask(year_and_name) == (2026, "alpha")
    facts.ask(named)
    RAN.clear()
    facts.move(at("alpha"), date(2027, 1, 1))
    assert facts.ask(year_and_name) == (2027, "alpha")
    assert facts.ask(named) == "alpha"
    assert RAN == []
    assert facts.reads(year_and_name) == {"today", "name"}


def year_and_name(home: Any) -> tuple[int, str]:
    """A query of the day."""
    return (home.today.year, home.ask(named))


def test_facts_are_no_home_beyond_its_parts() -> None:
    """A query that would take the whole home, unnoted, is refused; parts and what a home derives can be read."""
    facts = Facts(at("alpha"))
    with pytest.raises(AttributeError, match="model_dump"):
        facts.ask(lambda home: home.model_dump())
    assert facts.ask(lambda home: home.whole_devices) == ()


@dataclass(frozen=True)
class Told:
    """A value with a field that its own equality leaves out."""

    key: str
    why: str = field(compare=False)


@pytest.mark.parametrize(("one", "other", "alike"), [
    (1, True, False), (0.0, 0, False), ((1, "a"), (1, "a"), True), ((1,), (True,), False),
    (Told("a", "b"), Told("a", "b"), True), (Told("a", "b"), Told("a", "c"), False),
    ({"a": 1}, {"a": 1}, True), ({"a": 1}, {"a": True}, False), (ValueError("a"), ValueError("a"), True),
    (ValueError("a"), ValueError("b"), False), (frozenset({1}), frozenset({1}), True), (float("nan"), 1.0, False),
])  # fmt: skip
def test_alike_means_alike_in_every_part(one: Any, other: Any, alike: bool) -> None:
    """Python's own equality takes True for 1 and leaves out fields that are not compared."""
    assert same(one, other) is alike


def test_work_that_gives_way_is_taken_up_again() -> None:
    """What its onlooker raises ends the asking and is kept as no value; what was worked out until then is kept."""
    facts = Facts(Home(name="a home by the mill"))

    def enough() -> None:
        if RAN:
            raise KeyboardInterrupt

    facts.look = enough
    facts.ask(named)
    with pytest.raises(KeyboardInterrupt):
        facts.ask(sentence, "!")
    with pytest.raises(KeyboardInterrupt):
        facts.fork().ask(sentence, "?")
    assert RAN == ["named"]
    facts.look = RAN.clear
    assert facts.ask(sentence, "!") == "long!"
    assert RAN == ["long_name"]
