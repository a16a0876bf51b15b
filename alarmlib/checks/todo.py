"""The to-do list that builds itself: from findings, from the survey, from facts still open, by weight."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.home.missing import missing
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.site import Opening, RoundResult
from alarmlib.model.survey import POINTS, Answer, Found

_POINTS = {point.id: point for point in POINTS}
_LOOKED = {"lock": "its lock needs work", "latches_in_wind": "it does not stay latched", "by_day": "as seen by day",
           "by_night": "as seen by night"}  # fmt: skip


@dataclass(frozen=True)
class Todo:
    """One thing to do: whose turn it is to weigh it ("must", "should", "survey", "fact"), what about, the text."""

    weight: str
    subject: str
    text: str


def todo(home: Home, findings: Iterable[Finding]) -> tuple[Todo, ...]:
    """What must be fixed, then what the survey found, then what should be mended, then facts still open."""
    by_weight = {verdict: [f for f in findings if f.verdict is verdict] for verdict in (Verdict.MUST, Verdict.SHOULD)}
    return (
        *_from(by_weight[Verdict.MUST]),
        *_survey(home),
        *_from(by_weight[Verdict.SHOULD]),
        *(Todo("fact", "", f"Find out: {line[:1].lower()}{line[1:]}") for line in missing(home)),
    )


def _from(findings: Iterable[Finding]) -> Iterator[Todo]:
    for finding in findings:
        yield Todo(finding.verdict.value, finding.subject, finding.remedy or finding.message)


def _survey(home: Home) -> Iterator[Todo]:
    for opening in home.site.openings:
        yield from _opening(opening)
    for answer in home.site.answers:
        if _needs_work(answer):
            yield Todo("survey", answer.id, _answer_text(answer))


def _opening(opening: Opening) -> Iterator[Todo]:
    bad = [text for field, text in _LOOKED.items() if getattr(opening, field) is RoundResult.NEEDS_WORK]
    if bad or opening.to_do:
        wanted = opening.to_do or "; ".join(bad)
        yield Todo("survey", opening.id, f"{said(opening.name)}: {wanted}")


def _needs_work(answer: Answer) -> bool:
    """Found wanting, by day or in the dark, and not yet left in order."""
    found = Found.NEEDS_WORK in {answer.found, answer.in_the_dark}
    return answer.left is Found.NEEDS_WORK or (found and answer.left is not Found.OK)


def _answer_text(answer: Answer) -> str:
    point = _POINTS.get(answer.id)
    return answer.to_do or (point.to_do if point else answer.point) or "Needs work"
