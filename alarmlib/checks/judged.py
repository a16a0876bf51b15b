"""The checks as a judge of changed copies: what must or should be fixed, and which parts of a home each check reads."""

from dataclasses import dataclass

from alarmlib.checks.assess import CHECKS, Assessed, assess
from alarmlib.checks.finding import Verdict
from alarmlib.model.home import Home
from alarmlib.proof.repairs.judge import Judge, Objection

_READS = {check.id: check.reads for check in CHECKS}


@dataclass(frozen=True)
class _Judge:
    """Runs again only the checks whose parts of the home moved."""

    base: Assessed

    def __call__(self, home: Home) -> tuple[Objection, ...]:
        found = assess(home, "quick", previous=self.base).findings
        return tuple(
            Objection(each.id, each.subject, each.verdict is Verdict.MUST, each.message, _READS.get(each.id, ()))
            for each in found if each.verdict in (Verdict.MUST, Verdict.SHOULD)
        )  # fmt: skip


def judge_of(home: Home) -> Judge:
    """All quick checks, for copies of this home; what depends on the day is not asked.

    Reference: the checks' own sources.
    """
    return _Judge(assess(home, "quick"))
