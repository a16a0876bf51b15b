"""The table in which the household says what it accepts, and why."""

from collections.abc import Iterator
from textwrap import shorten

from alarmlib.checks.accepted import words_of
from alarmlib.checks.ranking import Gap, accepted, ranked
from alarmlib.model.accepted import Accepted
from alarmlib.model.home import Home
from alarmlib.pages.assessed import assessed
from alarmlib.pages.declaring import List, columns

LONGEST = 110  # characters of a choice


def still_to_fix(home: Home) -> tuple[tuple[str, str], ...]:
    """What may be accepted: each cause that is open, and each of its findings; and what was accepted before."""
    findings = assessed(home).findings
    offered = dict(each for gap in (*ranked(findings), *accepted(findings)) for each in _choices(gap))
    before = {each.words: _short(each.words) for each in home.accepted if each.words}
    return tuple((before | offered).items())


def _choices(gap: Gap) -> Iterator[tuple[str, str]]:
    findings = (gap.first, *gap.others)
    yield words_of(findings), _short(gap.line.message) + (f" ({len(findings)} findings)" if gap.others else "")
    if gap.others:
        yield from ((words_of([each]), f"– {_short(each.message)}") for each in findings)


def _short(words: str) -> str:
    return shorten(words, LONGEST, placeholder=" …")


ACCEPTED_LISTS: dict[str, List] = {
    "accepted": List(
        "Risks that you accept",
        ("accepted",),
        columns(Accepted, "words reason by on", words=still_to_fix),
        "accepted risk",
        intro=(
            "Choose what you will not fix, and write why. It stays in the record with your reason. "
            "What you must fix stays first in the list all the same."
        ),
    ),
}
