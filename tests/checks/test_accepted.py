"""What the household accepts in words: told with its reason, counted apart, and back once it says something else."""

from dataclasses import replace

from alarmlib.checks.accepted import changed_since, with_reasons, words_of
from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import ACCEPTED, accepted, by_concern, ranked
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.pages.accepting import still_to_fix
from alarmlib.record.blocks import Causes
from alarmlib.record.context import Context
from alarmlib.record.plain import plain, plain_blocks
from alarmlib.record.sections.front.findings import findings
from alarmlib.record.sections.front.summary import summary

REASON = "The window is painted over."


def found(subject: str, verdict: Verdict = Verdict.SHOULD, figure: str = "41%") -> Finding:
    """A finding on one room."""
    source = "owner" if verdict is Verdict.MUST else "practice"
    return Finding("coverage.room_seen_in_part", subject, verdict, f"“{subject}” is seen.", "Move it.", source, figure)


def home_that_accepts(*accepted: Finding, reason: str = REASON) -> Home:
    """A home that accepts these."""
    said = {"id": "accepted_1", "words": words_of(accepted), "reason": reason, "by": "Parent", "on": "2026-03-01"}
    return Home.model_validate({"accepted": [said]})


def test_what_is_accepted_is_under_its_own_heading_with_its_reason() -> None:
    """It keeps its verdict, is no cause that is open, and its rows fold under one line."""
    here, there, other = found("garage"), found("cellar"), found("attic")
    told = with_reasons(home_that_accepts(here, there), (here, there, other))
    assert [each.verdict for each in told] == [Verdict.SHOULD] * 3
    assert [gap.first.subject for gap in ranked(told)] == ["attic"]
    (gap,) = accepted(told)
    assert (gap.first.subject, [each.subject for each in gap.rows]) == ("garage", ["cellar"])
    assert [heading for heading, _ in by_concern((*ranked(told), gap))][-1] == ACCEPTED
    assert f"Accepted: {REASON} (Parent, 2026-03-01)" in plain(Causes((gap,)))


def test_it_comes_back_when_its_words_or_its_figure_change() -> None:
    """What was accepted is accepted as it was; the reason is kept, and told as one that no longer counts."""
    home = home_that_accepts(found("garage"))
    assert not ranked(with_reasons(home, [found("garage")]))
    for other in (found("garage", figure="12%"), replace(found("garage"), message="“garage” is not seen.")):
        assert [gap.first for gap in ranked(with_reasons(home, [other]))] == [other]
        assert [line for line, _ in changed_since(home, [other])] == ["“garage” is seen. found 41%"]


def test_without_a_reason_nothing_is_accepted() -> None:
    """A choice alone says nothing."""
    assert with_reasons(home_that_accepts(found("garage"), reason=""), [found("garage")])[0].is_open


def test_what_must_be_fixed_stays_first_with_the_reason_beside() -> None:
    """A reason takes nothing away from the top, nor from the count."""
    must = found("garage", Verdict.MUST)
    told = with_reasons(home_that_accepts(must), [found("attic"), must])
    headed = by_concern((*ranked(told), *accepted(told)))
    assert headed[0][0] == "What you must fix"
    assert headed[0][1][0].first.accepted.startswith(REASON)
    assert accepted(told) == ()


def test_pages_and_record_tell_it_and_a_change_of_the_home_brings_it_back(house: Home) -> None:
    """From the choice that the form offers to the record; a renamed room is another finding."""
    bare = house.model_copy(update={"devices": house.devices[1:]})
    words, label = next(each for each in still_to_fix(bare) if "front_door" in each[0])
    document = bare.model_dump(mode="json")
    document["accepted"] = [{"id": "a", "words": words, "reason": REASON}]
    home = Home.model_validate(document)
    before, after = assess(bare), assess(home)
    assert len(ranked(after.findings)) < len(ranked(before.findings)), label
    assert [replace(each, accepted="") for each in after.findings] == list(before.findings)
    context = Context(home, after, Share.OWNER, "")
    assert f"Accepted: {REASON}" in plain_blocks(findings.build(context))
    assert "accepted, each with a reason" in plain_blocks(summary.build(context))
    for opening in document["site"]["openings"]:
        opening["name"] = f"New {opening['name']}"
    renamed = Home.model_validate(document)
    again = assess(renamed)
    assert not accepted(again.findings)
    assert "no longer found as it was" in plain_blocks(findings.build(Context(renamed, again, Share.OWNER, "")))
