"""The gaps that matter most: one line a cause, ranked by what is at stake."""

from typing import Any

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.draft.short_path import draft_home
from alarmlib.model import Home
from alarmlib.model.words import Share
from alarmlib.record.blocks import Findings
from alarmlib.record.context import Context
from alarmlib.record.sections.front.findings import MOST, gaps, worst


def shown(home: Home) -> list[Finding]:
    """The gaps of a home as its record shows them."""
    block = gaps.build(Context(home, assess(home), Share.OWNER, "2026-11-25"))[-1]
    return list(block.findings) if isinstance(block, Findings) else []


def test_a_pet_that_trips_four_detectors_is_one_gap(told: Any) -> None:
    """Four of five gaps were the same cat; now no two share a cause, and the line names where else it holds."""
    home = draft_home(told(pets="climb", people=1, smoke_alarms="yes", fuel="no", answers_siren="yes")).home
    said = [f for f in assess(home).findings if f.id == "detectors.pet_trips_motion"]
    assert len(said) >= 4
    lines = shown(home)
    assert len({line.id for line in lines}) == len(lines)
    (cat,) = (line for line in lines if line.id == "detectors.pet_trips_motion")
    assert "The same concerns" in cat.message


def test_a_boiler_without_a_co_alarm_comes_first(told: Any) -> None:
    """It was no gap at all, since four others filled the list."""
    first, second = shown(draft_home(told(fuel="yes")).home)[:2]
    assert first.id == "carbon_monoxide.alarm_at_all"
    assert second.id.startswith("household_alarms")


def test_smoke_alarms_missing_in_many_places_are_one_gap(told: Any) -> None:
    """Bedroom, landing and two storeys lack one: one deed, one line, with their names."""
    lines = [line for line in shown(draft_home(told()).home) if line.id.startswith(("household", "alarm_places"))]
    assert len(lines) == 1
    assert "“Landing”" in lines[0].message
    assert "“Bedroom”" in lines[0].message


def finding(check: str, verdict: Verdict = Verdict.SHOULD, subject: str = "x") -> Finding:
    """A finding of that check."""
    return Finding(check, subject, verdict, f"{check} says so.", source="owner")


def test_worst__what_must_be_fixed_comes_before_what_is_at_stake() -> None:
    """Then life, then ways in, then who hears of it; notes are no gaps."""
    given = (
        finding("radio.unannounced_hole"),
        finding("messages.nobody_is_told"),
        finding("site.no_entry_exit_door"),
        finding("household_alarms.on_every_level"),
        finding("radio.too_weak", Verdict.MUST),
        finding("people.would_not_wake", Verdict.NOTE),
    )
    wanted = ["radio.too_weak", "household_alarms.on_every_level", "site.no_entry_exit_door", "radio.unannounced_hole",
              "messages.nobody_is_told"]  # fmt: skip
    assert [gap.first.id for gap in worst(given)] == wanted


def test_worst__at_most_five_causes() -> None:
    """Twenty findings of six causes: five lines, and the others of a cause are kept with it."""
    given = tuple(finding(f"zones.check_{n % 6}", subject=str(n)) for n in range(20))
    found = worst(given)
    assert len(found) == MOST == 5
    assert [len(gap.others) for gap in found] == [3, 3, 2, 2, 2]


def test_no_gap() -> None:
    """Said in a sentence."""
    (block,) = gaps.build(Context(Home(), assess(Home()).__class__(""), Share.OWNER, "2026-11-25"))
    assert not isinstance(block, Findings)
