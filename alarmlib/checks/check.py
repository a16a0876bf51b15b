"""What a check is: a small function of a home, and what it says."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date

from alarmlib.calc.figure import Figure
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model import Home
from alarmlib.sources import Status, cite

Said = Iterable[Finding | Figure]
"""What a check yields: findings, and figures worth showing."""


@dataclass(frozen=True)
class Check:
    """One check; `dated` says that it needs to know the day. What it reads of a home is noted where it is asked."""

    id: str
    run: Callable[[Home, date | None], Said]
    dated: bool = False

    def result(self, home: Home, today: date | None = None) -> tuple[Finding | Figure, ...]:
        """All it has to say about the home on that day; a dated check says nothing without a day."""
        said = self.run(home, today)
        return tuple(replace(each, id=self.id) if isinstance(each, Finding) else each for each in said)


@dataclass(frozen=True)
class CheckGroup:
    """The checks of one subject; their ids begin with its name. Raises ValueError where one does not."""

    name: str
    checks: tuple[Check, ...]

    def __post_init__(self) -> None:
        strangers = [check.id for check in self.checks if not check.id.startswith(f"{self.name}.")]
        if strangers:
            raise ValueError(f"not of the group “{self.name}”: {', '.join(strangers)}")


def check(function: Callable[[Home], Said]) -> Check:
    """Declare a check."""
    return Check(_name(function), lambda home, _: function(home))


def dated_check(function: Callable[[Home, date], Said]) -> Check:
    """Declare a check that needs to know the day."""

    def run(home: Home, today: date | None) -> Said:
        return () if today is None else function(home, today)

    return Check(_name(function), run, dated=True)


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
