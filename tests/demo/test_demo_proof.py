"""The demo home's kept proof, as it travels: it is of this home, and it is what the search finds."""

import os
from pathlib import Path

import pytest

from alarmlib.proof.prove import RUNS, Asked, prove
from alarmlib.proof.report.verdicts import Proof
from alarmlib.store import load
from alarmlib.store.kept_proofs import kept

FILE = Path(__file__).parents[2] / "workbook" / "demo_home.json"
WHOLE = os.environ.get("ALARM_WHOLE") == "1"
LONG = ("pairs", "beside")  # two movers take most of the time
TRIED = RUNS if WHOLE else tuple(run for run in RUNS if run not in LONG)


@pytest.fixture(scope="module")
def shipped() -> Proof:
    """The proof that is shipped beside the demo home."""
    found = kept(FILE, load(FILE))
    assert found.fresh, "run tests/run.py --refresh-pages"
    assert found.proof is not None
    return found.proof


def test_shipped_proof__is_what_the_search_finds(shipped: Proof) -> None:
    """Proved again, each property has its shipped verdict, worst case and way to fail; `--whole`: two movers too."""
    home = load(FILE)
    again = prove(home, "single", asked=Asked(TRIED))
    known = {each.id: each for each in shipped.properties}
    assert {each.id: known.get(each.id) for each in again.properties} == {each.id: each for each in again.properties}
    assert again.assumptions == shipped.assumptions
    left_out = {text for text in again.not_covered if not text.endswith("not proved this time.")}
    assert left_out <= set(shipped.not_covered)
    assert len(left_out) > 5
    rows = [[(row.id, row.announced, row.after_s, row.holes) for row in proof.faults] for proof in (again, shipped)]
    assert rows[0] == rows[1]
    assert len(again.properties) > 20


def test_shipped_proof__covers_all(shipped: Proof) -> None:
    """Every kind of property is in it, with every single fault of the demo home."""
    kinds = {each.id.partition("/")[0] for each in shipped.properties}
    assert kinds >= {"noticed_first", "sounds_in_time", "sounds_first", "habit", "pairs", "unit", "left_out_shown"}
    assert "siren_in_an_hour" in kinds
    assert len(shipped.faults) > 100
