"""Findings that the household accepts, with its reason: by what they say, so that a changed one comes back."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.model.accepted import Accepted
from alarmlib.model.home import Home


def words_of(findings: Iterable[Finding]) -> str:
    """What is accepted when these findings are: a line each, with figure and limit."""
    return "\n".join(dict.fromkeys(map(_line, findings)))


def with_reasons(home: Home, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings, those that must or should be fixed with the reason for which the household accepts them."""
    reasons = {line: reason_told(each) for each in home.accepted if each.reason for line in each.words.splitlines()}
    if not reasons:
        return tuple(findings)
    return tuple(
        replace(each, accepted=reasons[_line(each)])
        if each.verdict in (Verdict.MUST, Verdict.SHOULD) and _line(each) in reasons
        else each
        for each in findings
    )


def changed_since(home: Home, findings: Iterable[Finding]) -> tuple[tuple[str, Accepted], ...]:
    """What was accepted and is no longer found so: it was put right, or it says something else now."""
    found = {_line(each) for each in findings}
    return tuple((line, each) for each in home.accepted for line in each.words.splitlines() if line not in found)


def reason_told(accepted: Accepted) -> str:
    """The reason, with who decided and when."""
    told = ", ".join(filter(None, (accepted.by, accepted.on)))
    return f"{accepted.reason} ({told})" if told else accepted.reason


def _line(finding: Finding) -> str:
    numbers = (f"{name} {value}" for name, value in (("found", finding.figure), ("limit", finding.limit)) if value)
    return " ".join(" ".join((finding.message, *numbers)).split())
