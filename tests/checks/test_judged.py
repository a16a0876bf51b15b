"""The checks as a judge of changed copies: the same as checking each copy from the beginning."""

from collections import Counter
from pathlib import Path

import pytest

from alarmlib.checks.assess import CHECKS, assess, outcome
from alarmlib.checks.finding import Verdict
from alarmlib.checks.judged import judge_of
from alarmlib.facts import Facts
from alarmlib.model import Home
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import changed
from alarmlib.proof.repairs.judge import Acceptance

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture(scope="module")
def demo() -> Home:
    """The demo home of the workbook."""
    return Home.model_validate_json(DEMO.read_text(encoding="utf-8"), strict=True)


def test_each_copy__as_checked_from_the_beginning(demo: Home) -> None:
    """Every fortieth change of the demo home: what must and what should be fixed, with what each check read."""
    judge, checks = judge_of(demo), {check.id: check for check in CHECKS}
    for change in candidates(demo)[::40]:
        made = changed(demo, (change,))
        assert made is not None
        found = judge(made)
        weights = {True: Verdict.MUST, False: Verdict.SHOULD}
        said = Counter((each.check, each.subject, weights[each.must], each.sentence) for each in found)
        facts = Facts(made)
        plain = [each for each in assess(facts).findings if each.verdict in weights.values()]
        assert said == Counter((each.id, each.subject, each.verdict, each.message) for each in plain)
        assert all(set(each.reads) == facts.reads(outcome, checks[each.check]) for each in found)


def test_door_at_once_for_people_who_come_home__is_refused(demo: Home) -> None:
    """Two must-fix findings of the demo home's only front door: at once in every set, at once in the night set."""
    changes = candidates(demo)
    accepted = Acceptance(demo, changes, judge_of(demo))
    for name in ("function/front_door/at_once", "door/night/front_door"):
        (change,) = (each for each in changes if each.id == name)
        made = changed(demo, (change,))
        assert made is not None
        against = accepted.against(made)
        assert against is not None
        assert against.name.startswith("must/")
        assert change in [changes[place] for place in against.bears]
    (harmless,) = (each for each in changes if each.id == "contact/boiler_room_hatch")
    made = changed(demo, (harmless,))
    assert made is not None
    assert accepted.against(made) is None
