"""What a check says: one finding, and the whole assessment of a home."""

from dataclasses import dataclass, field
from enum import StrEnum

from alarmlib.calc.figure import Figure
from alarmlib.sources import cite


class Verdict(StrEnum):
    """How much a finding weighs; `MUST` needs a source that was seen, or the owner's own manuals."""

    MUST = "must"
    SHOULD = "should"
    NOTE = "note"
    OK = "ok"


@dataclass(frozen=True)
class Finding:
    """One sentence about one subject: what was found, what fixes it, and where the rule comes from.

    `subject` is the id of a part of the home (or a heading); `source` is a key of `alarmlib.sources`;
    `figure`, `limit` and `margin` are shown values ("" when the finding is not about a number). `cause` names what one
    deed puts right together with other findings; "" where that is the check, or a row of `ranking.CAUSES`.
    `accepted` is the household's reason for living with it ("" where they do not).
    A `MUST` whose source was not seen, or was written for other premises than homes, is refused by a ValueError.
    """

    id: str
    subject: str
    verdict: Verdict
    message: str
    remedy: str = ""
    source: str = "practice"
    figure: str = ""
    limit: str = ""
    margin: str = ""
    cause: str = ""
    accepted: str = ""

    @property
    def is_open(self) -> bool:
        """Whether something is to be done: what must be fixed stays open whatever was accepted."""
        return self.verdict is Verdict.MUST or (self.verdict is Verdict.SHOULD and not self.accepted)

    def __post_init__(self) -> None:
        """Holds what a `MUST` rests on, for every finding, in one place."""
        if self.verdict is Verdict.MUST and not cite(self.source).may_bind:
            raise ValueError(f"“{self.source}” was not seen, or is not about homes: it carries a “should” at most")


@dataclass(frozen=True)
class Assessment:
    """All that was computed for one state of a home.

    `missing` lists facts that would improve it, in words;
    `stale` lists the full-depth results that were computed for an earlier state.
    """

    figures: tuple[Figure, ...] = ()
    findings: tuple[Finding, ...] = ()
    missing: tuple[str, ...] = ()
    stale: tuple[str, ...] = field(default=())

    @property
    def open(self) -> int:
        """How many findings must be fixed."""
        return sum(finding.verdict is Verdict.MUST for finding in self.findings)
