"""What the proof's page has done in a process of its own, on a home of two rooms with a bare window."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from alarmlib.checks.judged import judge_of
from alarmlib.model import Home
from alarmlib.pages.proof_repairs import RepairForm, looked_further, sought
from alarmlib.pages.proof_run import worked_out
from alarmlib.proof.prove import QUICK
from alarmlib.proof.repairs.cheapest import Repair, seek
from alarmlib.proof.report.document import proof_from_document
from alarmlib.proof.report.verdicts import Proof
from alarmlib.store import Session
from alarmlib.widgets.work import Progress, run_in_worker


@pytest.fixture(scope="module")
def home(one_door: Callable[..., dict[str, Any]]) -> Home:
    """The home of two rooms."""
    return Home.model_validate(one_door(pane="den"))


@pytest.fixture(scope="module")
def proof(home: Home) -> Proof:
    """Its proof, as it comes out of the other process."""
    told: list[str] = []
    progress = Progress("Proof")
    progress.observe(lambda change: told.append(change["new"]), "said")
    found = run_in_worker(worked_out, (home.model_dump_json(), QUICK, None), tells=True, progress=progress)
    assert told[-1] == "Done."
    return proof_from_document(found["proof"])


def test_proof__comes_back_whole(proof: Proof) -> None:
    """Whoever comes in by the bare window is not noticed; the seconds were measured there."""
    found = {each.id: each for each in proof.properties}
    assert found["noticed_first/house/set_full"].worst["way_in"] == "Pane"
    assert proof.seconds > 0


def test_fixes__come_back_while_they_are_found(home: Home, proof: Proof, tmp_path: Path) -> None:
    """The search hands its fixes over; one is a contact on the window, which the page can put in."""
    parts: list[Repair] = []
    found = run_in_worker(
        sought, (home.model_dump_json(), proof), tells=True, progress=Progress("Mends"), part=parts.append
    )
    assert {repair.id for repair in parts} == {repair.id for repair in found.repairs}
    form = RepairForm(Session.new(tmp_path / "home.json", home))
    form.searched, form.found = home, {}
    for repair in parts:
        form._found(repair)
    assert "Pane" in form.list.html
    number, first = next(
        (n, repair) for n, repair in enumerate(form._in_order(), 1) if "noticed_first" in str(repair.repairs)
    )
    form.take_over(number, first)
    assert form.session.home == first.home != home


def test_a_search_that_gave_up__goes_on_in_another_process(home: Home, proof: Proof) -> None:
    """What was learned goes to the worker and comes back: in the end the same fixes as in one long search."""
    parts: list[Repair] = []
    whole = seek(home, proof, patience=1000, judge=judge_of(home))
    found = seek(home, proof, patience=0, judge=judge_of(home))
    assert found.left is not None
    while found.left is not None:
        found = run_in_worker(looked_further, (found.left,), tells=True, progress=Progress("Mends"), part=parts.append)
    assert found.repairs == whole.repairs
    assert {repair.id for repair in parts} <= {repair.id for repair in whole.repairs}
