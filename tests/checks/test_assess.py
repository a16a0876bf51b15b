"""The whole assessment: what is kept, what is run again, what is stale; to-do list and open facts."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from alarmlib.calc.figure import Figure
from alarmlib.checks.assess import CHECKS, FULL_CHECKS, assess, home_hash
from alarmlib.checks.check import Check, check, must, part, should
from alarmlib.checks.finding import Verdict
from alarmlib.checks.home.missing import missing
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
    """A new device name runs only the checks that read devices, and the outcome is that of a fresh run."""
    first = assess(demo, today=TODAY)
    renamed = demo.devices[0].model_copy(update={"name": "renamed"})
    edited = demo.model_copy(update={"devices": (renamed, *demo.devices[1:])})
    again = assess(edited, previous=first, today=TODAY)
    kept = {check.id for check in CHECKS if again.results[check.id] is first.results[check.id]}
    assert kept >= {check.id for check in CHECKS if not {"whole_devices", "keypads"} & set(check.reads)}
    assert not {check.id for check in CHECKS if "whole_devices" in check.reads} & kept - _empty(first)
    assert again == assess(edited, today=TODAY)


def _empty(assessment: Any) -> set[str]:
    """Checks that had nothing to say: all their results are the one empty tuple."""
    return {name for name, result in assessment.results.items() if not result}


@pytest.mark.parametrize("path", [
    "household.people", "household.walks", "control_unit.times.entry_s", "control_unit.part_sets", "site.openings",
    "devices",
    "messages.messages", "log.tests", "rules.rule_set", "control_unit.limits.zones",
    "inherited.users_removed", "cautions_read",
])  # fmt: skip
def test_reuse_never_changes_the_outcome(demo: Home, put: Put, path: str) -> None:
    """After any such edit, the assessment that reuses equals the one made afresh."""
    now = part(demo, path)
    smaller = {"control_unit.times.entry_s": 3, "rules.rule_set": "australasia", "control_unit.limits.zones": 3}
    bare = {"site.openings": [], "devices": [], "control_unit.part_sets": [], "household.people": []}
    value = smaller.get(path, False if isinstance(now, bool) else bare.get(path, []))
    edited = _without_references(demo, put) if path in bare else put(demo, {path: value})
    first = assess(demo, today=TODAY)
    assert assess(edited, previous=first, today=TODAY) == assess(edited, today=TODAY)


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


def test_each_check_reads_only_what_it_declares(demo: Home) -> None:
    """A check sees the same when every part that it does not declare is blank, so reuse is safe."""
    for each in EVERY:
        _Watch.seen = set()
        list(each.run(_Watch(demo, ""), TODAY))  # type: ignore[arg-type]
        undeclared = {path for path in _Watch.seen if not _covered(path, each)}
        assert not undeclared, f"{each.id} reads {undeclared}"


class _Watch:
    """A home that notes which of its parts are read, two levels deep."""

    seen: set[str] = set()  # noqa: RUF012 - one list for all
    deep = frozenset({"site", "control_unit", "household", "log"})

    def __init__(self, real: Any, path: str) -> None:
        self._real, self._path = real, path

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._real, name)
        path = f"{self._path}.{name}" if self._path else name
        if path in self.deep:
            return _Watch(value, path)
        type(self).seen.add(path)
        return value


# What the calculated walks read of the site and the devices; they are compared as the plan and the keypads.
_BY_PLAN = {"site.storeys", "site.rooms", "site.openings", "site.passages", "site.furniture"}


def _covered(path: str, each: Check) -> bool:
    if any(path == read or path.startswith(f"{read}.") or read.startswith(f"{path}.") for read in each.reads):
        return True
    return ("plan" in each.reads and path in _BY_PLAN) or ("keypads" in each.reads and path == "whole_devices")


def test_full_results_are_kept_and_named_once_they_are_out_of_date(demo: Home, put: Put) -> None:
    """A quick run keeps a full result until a part it reads moves, then calls it stale until the next full run."""
    quick = assess(demo, today=TODAY)
    assert "zone_plan.best_arrangement" not in quick.results
    full = assess(demo, "full", quick, TODAY)
    assert any(isinstance(each, Figure) and each.key == "zones" for each in full.figures)
    unrelated = put(demo, {"rules.permit_asked": not demo.rules.permit_asked})
    assert assess(unrelated, "quick", full, TODAY).results["zone_plan.best_arrangement"]
    moved = put(demo, {"control_unit.limits.zones": 20})
    stale = assess(moved, "quick", full, TODAY)
    assert stale.stale == ("zone_plan.best_arrangement",)
    assert assess(moved, "quick", stale, TODAY).stale == ("zone_plan.best_arrangement",)
    assert assess(moved, "full", stale, TODAY).stale == ()


def test_without_a_day_no_age_is_told_and_another_day_is_checked_again(house: Home, put: Put) -> None:
    """Dated checks are silent without a day and run again on another day."""
    home = put(house, {"site.rooms.hall.smoke_alarm_made": 2016})
    undated, early, late = assess(home), assess(home, today=TODAY), date(2027, 1, 1)
    assert not any(finding.id == "hazards.smoke_alarm_too_old" for finding in (*undated.findings, *early.findings))
    assert any(finding.id == "hazards.smoke_alarm_too_old" for finding in assess(home, "quick", early, late).findings)


def test_the_hash_names_the_facts(house: Home, put: Put) -> None:
    """Equal homes have equal hashes; one changed fact changes it."""
    assert home_hash(house) == home_hash(Home.model_validate(house.model_dump()))
    assert home_hash(house) != home_hash(put(house, {"name": "another"}))


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

    @check("name")
    def named(home: Home) -> list[Any]:
        return [should("home", f"{home.name} it is.", "Rename it.")]

    (finding,) = named.result(Home(), None)
    assert (named.id.rpartition(".")[2], named.reads) == ("named", ("name",))
    assert not isinstance(finding, Figure)
    assert finding.id == named.id


def test_missing_facts_go_when_they_are_entered(house: Home, put: Put) -> None:
    """The siren limit is asked for until it is known."""
    unknown = put(house, {"rules.siren_limit_s": None})
    assert "How long your city or council lets a siren sound: your siren time depends on it." in missing(unknown)
    assert "How long your city or council lets a siren sound: your siren time depends on it." not in missing(house)
    assert len(missing(Home())) > len(missing(house))
