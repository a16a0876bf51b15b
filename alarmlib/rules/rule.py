"""One rule: a value with its source, what it was written for, and whether it binds here."""

from dataclasses import dataclass

from alarmlib.sources import Source, cite


@dataclass(frozen=True)
class Rule:
    """A published rule by the key of its source; `binds` says whether homes of this country must keep it.

    Clause and scope are the source's own, so that they are written once. Even a rule that binds makes a finding that
    must be fixed only where its source was seen (`alarmlib.checks.check.weigh`).
    """

    source: str
    binds: bool = False

    @property
    def told(self) -> Source:
        """The source itself; `KeyError` when nobody has written it down."""
        return cite(self.source)

    @property
    def clause(self) -> str:
        """Where in the document it is written."""
        return self.told.clause

    @property
    def scope(self) -> str:
        """For what it was written; "" for any home."""
        return self.told.scope


@dataclass(frozen=True)
class Limit(Rule):
    """A rule that is one number: m, s or dB(A); h in a field that says so."""

    value: float = 0.0


@dataclass(frozen=True)
class Span(Rule):
    """A rule that is a least and a most number."""

    least: float = 0.0
    most: float = 0.0


@dataclass(frozen=True)
class Bound:
    """One end of a range: a value in seconds and the key of the source that sets it."""

    value_s: float
    cite: str


@dataclass(frozen=True)
class Limits:
    """The range of a set time: least, most and customary value; None where the rule is silent."""

    least: Bound | None = None
    most: Bound | None = None
    customary: Bound | None = None


NO_LIMITS = Limits()
