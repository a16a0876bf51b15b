"""What a check is: a small function, the parts of the home it reads, and what it says."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import reduce
from typing import Any

from alarmlib.calc.figure import Figure
from alarmlib.calc.plan.floor_plan import plan_from_home
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.model.questions import present
from alarmlib.model.words import DeviceKind
from alarmlib.sources import Status, cite

Said = Iterable[Finding | Figure]
"""What a check yields: findings, and figures worth showing."""


@dataclass(frozen=True)
class Check:
    """One check: `reads` are parts of the home by path ("site.openings"); `dated` says it needs a date."""

    id: str
    reads: tuple[str, ...]
    run: Callable[[Home, date | None], Said]
    dated: bool = False

    def result(self, home: Home, today: date | None = None) -> tuple[Finding | Figure, ...]:
        """All it has to say about the home on that day; a dated check says nothing without a day."""
        said = self.run(home, today)
        return tuple(replace(each, id=self.id) if isinstance(each, Finding) else each for each in said)

    def unmoved(self, home: Home, before: Home) -> bool:
        """Whether every part it reads is what it was before."""
        return all(_same(part(home, path), part(before, path)) for path in self.reads)


def part(home: Home, path: str) -> Any:
    """The part of the home at a dotted path, or one of the parts that calculations read: "plan", "keypads"."""
    if path == "plan":
        return plan_from_home(home)
    if path == "keypads":
        return present(home, DeviceKind.KEYPAD, DeviceKind.KEY_SWITCH)
    return reduce(getattr, path.split("."), home)


def _same(one: Any, other: Any) -> bool:
    return one is other or bool(one == other)


def check(*reads: str) -> Callable[[Callable[[Home], Said]], Check]:
    """Declare a check and the parts of the home it reads."""

    def declare(function: Callable[[Home], Said]) -> Check:
        return Check(_name(function), reads, lambda home, _: function(home))

    return declare


def dated_check(*reads: str) -> Callable[[Callable[[Home, date], Said]], Check]:
    """Declare a check that needs to know the day."""

    def declare(function: Callable[[Home, date], Said]) -> Check:
        def run(home: Home, today: date | None) -> Said:
            return () if today is None else function(home, today)

        return Check(_name(function), reads, run, dated=True)

    return declare


def _name(function: Callable[..., Said]) -> str:
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


def must(subject: str, message: str, remedy: str, source: str, **numbers: str) -> Finding:
    """Something that must be fixed; `Finding` refuses a source that was not seen, or is about other premises."""
    return Finding("", subject, Verdict.MUST, message, remedy, source, **numbers)


def should(subject: str, message: str, remedy: str, source: str = "practice", **numbers: str) -> Finding:
    """Something that should be fixed; a rule known from memory alone is named as such."""
    if cite(source).status is Status.MEMORY and "check with" not in remedy.casefold():
        remedy = f"{remedy} This rule is known from memory only: check with the standard or your authority."
    return Finding("", subject, Verdict.SHOULD, message, remedy.strip(), source, **numbers)


def note(subject: str, message: str, remedy: str = "", source: str = "practice", **numbers: str) -> Finding:
    """Something to know."""
    return Finding("", subject, Verdict.NOTE, message, remedy, source, **numbers)


def ok(subject: str, message: str, source: str = "practice", **numbers: str) -> Finding:
    """Something computed and found within its limit."""
    return Finding("", subject, Verdict.OK, message, "", source, **numbers)


def weigh(strict: bool, subject: str, message: str, remedy: str, source: str, **numbers: str) -> Finding:
    """A `must` where the rule binds here and its source may bind, a `should` elsewhere."""
    return (must if strict and cite(source).may_bind else should)(subject, message, remedy, source, **numbers)
