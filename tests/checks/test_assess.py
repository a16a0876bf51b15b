"""The whole assessment: what is kept, what is run again, what is stale; to-do list and open facts."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.assess import CHECKS, FULL_CHECKS, assess, outcome
from alarmlib.checks.check import Check, CheckGroup, check, must, should
from alarmlib.checks.finding import Verdict
from alarmlib.checks.home.missing import missing
from alarmlib.facts import Facts
from alarmlib.facts.facts import BRANCHES
from alarmlib.model import Home
from alarmlib.record.produce import demo_home
from alarmlib.sources import every_source

TODAY = date(2026, 11, 25)
Put = Callable[[Home, dict[str, Any]], Home]
EVERY = (*CHECKS, *FULL_CHECKS)


@pytest.fixture(scope="module")
def demo() -> Home:
    """The demo home."""
    return demo_home()


def test_a_blank_home_is_assessed() -> None:
    """Nothing entered: nothing must be fixed, and the assessment names what is missing."""
    assessment = assess(Home(), "full", today=TODAY)
    assert assessment.open == 0
    assert assessment.missing


def test_what_did_not_move_is_not_run_again(demo: Home) -> None:
    """A new name of a key switch runs only checks that read it, and the outcome is that of a fresh run."""
    facts = Facts(demo, TODAY)
    first = assess(facts)
    read = {each.id: facts.reads(outcome, each) for each in CHECKS}
    renamed = demo.devices[0].model_copy(update={"name": "renamed"})
    edited = demo.model_copy(update={"devices": (renamed, *demo.devices[1:])})
    ran = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Check, "result", lambda each, home, today: ran.append(each.id) or plain(each, home, today))
        facts.move(edited, TODAY)
        again = assess(facts)
    readers = {name for name, paths in read.items() if "devices" in paths}
    others = {"sound.ears_beside_it", "detectors.pet_trips_motion", "alarm_places.in_moving_air"}
    assert others < readers
    assert set(ran) < readers - others
    assert 10 < len(ran) < len(CHECKS) - 10
    kept = {each.id for each in CHECKS if again.results[each.id] is first.results[each.id]}
    assert kept >= read.keys() - set(ran)
    assert again == assess(edited, today=TODAY)


plain = Check.result


@pytest.mark.parametrize("path", [
    "household.people", "household.walks", "control_unit.times.entry_s", "control_unit.part_sets", "site.openings",
    "devices",
    "messages.messages", "log.tests", "rules.rule_set", "control_unit.limits.zones",
    "inherited.users_removed", "cautions_read",
])  # fmt: skip
def test_reuse_never_changes_the_outcome(demo: Home, put: Put, path: str) -> None:
    """After any such edit, the assessment that reuses equals the one made afresh."""
    now = Facts(demo).read(path)
    smaller = {"control_unit.times.entry_s": 3, "rules.rule_set": "australasia", "control_unit.limits.zones": 3}
    bare = {"site.openings": [], "devices": [], "control_unit.part_sets": [], "household.people": []}
    value = smaller.get(path, False if isinstance(now, bool) else bare.get(path, []))
    edited = _without_references(demo, put) if path in bare else put(demo, {path: value})
    facts = Facts(demo, TODAY)
    assess(facts)
    facts.move(edited, TODAY)
    assert assess(facts) == assess(edited, today=TODAY)


def _without_references(demo: Home, put: Put) -> Home:
    """The demo home with one more part of each kind, since taking one out would break references."""
    window = {"id": "zz", "name": "zz", "room": demo.site.rooms[0].id, "reach": "ground"}
    return put(
        demo,
        {
            "site.openings.+": window,
            "devices.+": {"id": "zz", "name": "zz", "kind": "motion", "room": demo.site.rooms[0].id},
            "control_unit.part_sets.+": {"id": "zz", "name": "zz"},
            "household.people.+": {"id": "zz", "role": "zz", "age": "child", "needs_help_out": True},
        },
    )


def test_a_check_reads_no_more_of_a_home_than_was_noted(demo: Home) -> None:
    """With every part that a check was not seen to read gone from the home, it says the same."""
    facts = Facts(demo, TODAY)
    assess(facts, "full")
    for each in EVERY:
        noted = facts.reads(outcome, each)
        assert each.result(_Only(demo, noted), TODAY) == facts.ask(outcome, each), each.id  # type: ignore[arg-type]


class _Only:
    """A home of which some parts can be read and the others cannot."""

    def __init__(self, real: Any, paths: frozenset[str], at: str = "") -> None:
        self._real, self._paths, self._at = real, paths, at
        self._answers: dict[Any, Any] = {}

    def ask(self, query: Any, *args: Any) -> Any:
        if (query, args) not in self._answers:
            self._answers[query, args] = query(self, *args)
        return self._answers[query, args]

    def __getattr__(self, name: str) -> Any:
        if name == "whole_devices":
            assert {"devices", "device_types"} <= self._paths
            return self._real.whole_devices
        path = f"{self._at}.{name}" if self._at else name
        if path in BRANCHES:
            return _Only(getattr(self._real, name), self._paths, path)
        assert path in self._paths, path
        return getattr(self._real, name)


def test_full_results_are_kept_and_named_once_they_are_out_of_date(demo: Home, put: Put) -> None:
    """A quick run keeps a full result until a part it reads moves, then calls it stale until the next full run."""
    facts = Facts(demo, TODAY)
    assert "zone_plan.best_arrangement" not in assess(facts).results
    full = assess(facts, "full")
    assert any(isinstance(each, Figure) and each.key == "zones" for each in full.figures)
    facts.move(put(demo, {"rules.permit_asked": not demo.rules.permit_asked}), TODAY)
    assert assess(facts).results["zone_plan.best_arrangement"]
    facts.move(put(demo, {"control_unit.limits.zones": 20}), TODAY)
    assert assess(facts).stale == ("zone_plan.best_arrangement",)
    assert assess(facts).stale == ("zone_plan.best_arrangement",)
    assert assess(facts, "full").stale == ()


def test_without_a_day_no_age_is_told_and_another_day_is_checked_again(house: Home, put: Put) -> None:
    """Dated checks are silent without a day and run again on another day."""
    home = put(house, {"site.rooms.hall.smoke_alarm_made": 2016})
    facts = Facts(home, TODAY)
    undated, early = assess(home), assess(facts)
    facts.move(home, date(2027, 1, 1))
    assert not any(finding.id == "hazards.smoke_alarm_too_old" for finding in (*undated.findings, *early.findings))
    assert any(finding.id == "hazards.smoke_alarm_too_old" for finding in assess(facts).findings)


def test_findings_are_ordered_by_weight_and_open_counts_the_musts(demo: Home) -> None:
    """What must be fixed comes first."""
    assessment = assess(demo, today=TODAY)
    weights = [list(Verdict).index(finding.verdict) for finding in assessment.findings]
    assert weights == sorted(weights)
    assert assessment.open == weights.count(0)


def test_check_ids_differ_and_every_source_is_written_down(demo: Home) -> None:
    """No two checks have one id; every finding of the demo home cites a known source."""
    assert len({each.id for each in EVERY}) == len(EVERY)
    known = {source.key for source in every_source()}
    assert {finding.source for finding in assess(demo, "full", today=TODAY).findings} <= known


def test_a_must_from_memory_cannot_be_written() -> None:
    """A finding that must be fixed needs a source that was seen, or the owner's manual."""
    with pytest.raises(ValueError, match="was not seen"):
        must("x", "message", "remedy", "en50131_siren")
    assert "check with" in should("x", "message", "Remedy.", "en50131_siren").remedy


def test_declaring_a_check() -> None:
    """Its id is module and name; its findings carry the id."""

    @check
    def named(home: Home) -> list[Any]:
        return [should("home", f"{home.name} it is.", "Rename it.")]

    (finding,) = named.result(Home(), None)
    assert named.id.rpartition(".")[2] == "named"
    assert not isinstance(finding, Figure)
    assert finding.id == named.id


def test_missing_facts_go_when_they_are_entered(house: Home, put: Put) -> None:
    """The siren limit is asked for until it is known."""
    unknown = put(house, {"rules.siren_limit_s": None})
    assert "How long your city or council lets a siren sound: your siren time depends on it." in missing(unknown)
    assert "How long your city or council lets a siren sound: your siren time depends on it." not in missing(house)
    assert len(missing(Home())) > len(missing(house))


def test_a_group_holds_no_stranger() -> None:
    """A check listed in another subject's group is refused when the library is imported, not lost on a page."""
    with pytest.raises(ValueError, match=r"people.*zones\."):
        CheckGroup("people", (next(check for check in CHECKS if check.id.startswith("zones.")),))
