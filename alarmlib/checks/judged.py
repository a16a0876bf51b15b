"""The checks as a judge of changed copies: what must or should be fixed, and which parts of a home each check read."""

from dataclasses import dataclass

from alarmlib.checks.assess import CHECKS, assess, outcome
from alarmlib.checks.finding import Verdict
from alarmlib.facts import Facts
from alarmlib.model.home import Home
from alarmlib.proof.repairs.judge import Judge, Objection

_CHECKS = {check.id: check for check in CHECKS}


@dataclass(frozen=True)
class _Judge:
    """Goes on from the home each time: only the checks whose parts of it moved are run."""

    base: Facts

    def __call__(self, home: Home) -> tuple[Objection, ...]:
        facts = self.base.fork()
        facts.move(home)
        return tuple(
            Objection(each.id, each.subject, each.verdict is Verdict.MUST, each.message, _read(facts, each.id))
            for each in assess(facts).findings if each.verdict in (Verdict.MUST, Verdict.SHOULD)
        )  # fmt: skip


def _read(facts: Facts, check: str) -> tuple[str, ...]:
    return tuple(sorted(facts.reads(outcome, _CHECKS[check])))


def judge_of(home: Home) -> Judge:
    """All quick checks, for copies of this home; what depends on the day is not asked."""
    base = Facts(home)
    assess(base)
    return _Judge(base)
