"""The finished demo home leaves nothing open without a reason; the first plan has something open of each kind."""

from datetime import date

import pytest

from alarmlib.checks.accepted import changed_since
from alarmlib.checks.assess import Assessed, assess
from alarmlib.checks.cautions import CAUTIONS
from alarmlib.checks.concerns import Concern, concern
from alarmlib.checks.finding import Verdict
from alarmlib.checks.ranking import ranked
from alarmlib.checks.upkeep.test_walk import last_test, never_tested
from alarmlib.model.home import Home
from alarmlib.model.log import Seen, TestKind
from alarmlib.model.questions import fitted
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.report.kept import KeptProof
from alarmlib.proof.report.verdicts import ProofVerdict
from alarmlib.record.produce import DEMO, FINISHED, demo_home, workbook_folder
from alarmlib.store.kept_proofs import kept

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def first() -> Home:
    return demo_home(DEMO)


@pytest.fixture(scope="module")
def finished() -> Home:
    return demo_home(FINISHED)


@pytest.fixture(scope="module")
def proved(finished: Home) -> KeptProof:
    """The proof that is shipped beside the finished home."""
    found = kept(workbook_folder() / FINISHED, finished)
    assert found.fresh, "run tests/run.py --refresh-pages"
    return found


@pytest.fixture(scope="module")
def told(finished: Home, proved: KeptProof) -> Assessed:
    """Every finding on the finished home."""
    return assess(finished, "full", TODAY, proved)


def test_finished__nothing_is_open_and_what_is_accepted_has_its_reason(told: Assessed) -> None:
    weighty = [each for each in told.findings if each.verdict in (Verdict.MUST, Verdict.SHOULD)]
    assert [(each.id, each.subject) for each in weighty if each.is_open] == []
    assert weighty and all(len(each.accepted) > 40 for each in weighty)


def test_finished__each_reason_is_about_something_found_today(finished: Home, told: Assessed) -> None:
    """No reason is left for what was put right, and none without who decided and when."""
    assert finished.accepted and changed_since(finished, told.findings) == ()
    assert all(each.reason and each.by and each.on for each in finished.accepted)


def test_finished__its_proof_breaches_only_what_is_accepted(finished: Home, proved: KeptProof) -> None:
    """That somebody slips in while the exit delay runs, and no more; what is quickly proved is found so again."""
    assert proved.proof is not None
    verdicts = {each.id: each for each in proved.proof.properties}
    assert len(verdicts) > 50
    open_ones = {id_ for id_, each in verdicts.items() if each.verdict is not ProofVerdict.HOLDS}
    assert open_ones == {f"beside/house/{part}" for part in ("set_full", "night", "one_in_bed")}
    again = prove(finished, "none", asked=Asked(("left_out", "siren")))
    assert {each.id: verdicts[each.id] for each in again.properties} == {each.id: each for each in again.properties}


def test_finished__is_the_same_home(first: Home, finished: Home) -> None:
    """The same rooms, ways in, people and habits: nothing was put right by leaving it out."""
    for parts in ("rooms", "openings", "passages", "furniture"):
        assert [each.id for each in getattr(finished.site, parts)] == [each.id for each in getattr(first.site, parts)]
    for parts in ("people", "pets", "visitors", "habits"):
        assert _ids(getattr(finished.household, parts)) == _ids(getattr(first.household, parts))
    assert {each.id for each in first.whole_devices} <= {each.id for each in finished.whole_devices}
    assert finished.proof == first.proof and finished.rules == first.rules and finished.messages == first.messages


def _ids(parts: tuple[object, ...]) -> list[str]:
    return [str(getattr(each, "id", "")) for each in parts]


def test_finished__all_is_tested_after_its_last_change(first: Home, finished: Home) -> None:
    before = {each.id: each for each in first.whole_devices}
    changed = [each for each in finished.whole_devices if before.get(each.id) != each]
    assert len(changed) > 10 and never_tested(finished) == ()
    since = {each.id: each.fitted_on for each in finished.whole_devices}
    newest = max(since.values())
    for device in fitted(finished):
        last = last_test(finished, device.id)
        assert last is not None and last.seen is Seen.AS_EXPECTED and last.on > since[device.id], device.id
        assert last.on > newest or device not in changed, device.id


def test_finished__logs_and_cautions_are_whole(first: Home, finished: Home) -> None:
    assert set(finished.cautions_read) == {advice.id for advice in CAUTIONS}
    assert {each.kind for each in finished.log.tests} == set(TestKind)
    assert len(finished.log.events) > len(first.log.events) and len(finished.log.upkeep) > len(first.log.upkeep)
    open_faults = [t for t in finished.log.tests if t.seen is not Seen.AS_EXPECTED]
    retested = {t.retest_of for t in finished.log.tests}
    assert open_faults and all(t.id in retested and t.cause and t.action for t in open_faults)


def test_first_plan__has_causes_of_each_kind(first: Home) -> None:
    """For learning: life, ways in, false alarms, messages and upkeep; nothing in it is accepted."""
    shipped = kept(workbook_folder() / DEMO, first)
    assert shipped.fresh, "run tests/run.py --refresh-pages"
    causes = ranked(assess(first, "full", TODAY, shipped).findings)
    assert {concern(gap.first) for gap in causes} == set(Concern)
    assert 13 <= len(causes) <= 17  # of 53 findings
    assert first.accepted == ()
