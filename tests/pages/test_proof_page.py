"""The page about the proof: run, shown, out of date, fixed on a copy, taken over, undone."""

import shutil
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest

from alarmlib import pages
from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.pages import proof_repairs, proof_run
from alarmlib.pages.answers import answer
from alarmlib.pages.assessed import assessed
from alarmlib.pages.progress import progress
from alarmlib.pages.proof_repairs import RepairForm
from alarmlib.pages.proof_run import RunForm
from alarmlib.pages.proved import kept_here
from alarmlib.proof.pieces.recorded import every_field
from alarmlib.proof.prove import QUICK
from alarmlib.proof.repairs.cheapest import Repair, Sought, Unfinished, Unrepaired
from alarmlib.proof.repairs.repair_search import Search
from alarmlib.proof.report.document import document_of
from alarmlib.proof.report.verdicts import Basis, Proof
from alarmlib.store import Session, load, session_for
from alarmlib.store.kept_pieces import kept_document
from alarmlib.store.kept_proofs import keep, kept
from alarmlib.widgets.follower import follower_of

DEMO = Path(__file__).parents[2] / "workbook" / "demo_home.json"


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """The session of the page's home: the demo home, never proved."""
    shutil.copyfile(DEMO, tmp_path / "home.json")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ALARM_HOME", raising=False)
    return session_for(tmp_path / "home.json")


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> Callable[[Any, Any], None]:
    """`at_once(module, result)`: work of that module ends at once with the result, in place of a process."""

    def put_in(module: Any, result: Any) -> None:
        def start(_function: Any, _args: Any, *, finish: Any, progress: Any, **_more: Any) -> None:
            progress.said = finish(result)

        monkeypatch.setattr(module, "start_in_worker", start)

    return put_in


NO_PIECES: dict[str, Any] = {"fields": {}, "values": {}}


def told(proof: Proof) -> dict[str, Any]:
    """What the worker hands back."""
    return {"proof": document_of(proof, with_basis=True), "pieces": NO_PIECES}


def table_of(name: str) -> Any:
    """The widget of one of the proof's pictures."""
    return pages.picture(name)


def test_run__is_kept_and_every_picture_drawn_again(
    session: Session, hand_proof: Proof, at_once: Callable[[Any, Any], None]
) -> None:
    """Before: the plain word that it was never run. After: the result, kept beside the home file."""
    shown = {name: table_of(name) for name in ("proof_table", "proof_stories", "proof_faults")}
    assert all("never run" in widget.html for widget in shown.values())
    at_once(proof_run, told(replace(hand_proof, basis=Basis(every_field(Home), redone=2, pieces=60))))
    form = RunForm(session)
    form.start(QUICK)
    assert form.progress.said == (
        "done in 1.2 s. Pieces worked out again: 2 of 60. 1 of 3 properties held for your home as it was then. "
        "The tables say how it is now."
    )
    assert kept_document(session.path) == NO_PIECES
    assert kept(session.path, session.home).proof == hand_proof
    for _ in range(200):  # views follow on a thread of their own
        if not any("never run" in widget.html for widget in shown.values()):
            break
        time.sleep(0.05)
    assert "✖ breached" in shown["proof_table"].html
    assert "<svg" in shown["proof_stories"].html
    assert "The repeater is dead" in shown["proof_faults"].html
    assert "never run" not in "".join(widget.html for widget in shown.values())


def test_run__the_quick_part_leaves_a_whole_result_of_the_same_home(
    session: Session, hand_proof: Proof, at_once: Callable[[Any, Any], None]
) -> None:
    """Fewer properties of an unchanged home never replace more; after an edit they do."""
    keep(session.path, session.home, hand_proof)
    at_once(proof_run, told(replace(hand_proof, properties=hand_proof.properties[:1])))
    form = RunForm(session)
    form.start(QUICK)
    assert kept(session.path, session.home).proof == hand_proof
    times = session.home.control_unit.times.model_copy(update={"entry_s": 20.0})
    session.replace(
        session.home.model_copy(update={"control_unit": session.home.control_unit.model_copy(update={"times": times})})
    )
    form.start(QUICK)
    found = kept(session.path, session.home)
    assert found.fresh
    assert found.proof is not None
    assert len(found.proof.properties) == 1


def test_run__not_ready_says_all_that_is_missing(tmp_path: Path) -> None:
    """A blank home is not run: the form says what it lacks."""
    form = RunForm(Session.new(tmp_path / "blank.json", Home()))
    with pytest.raises(AlarmProblem, match=r"cannot be proved yet\. No room is entered\."):
        form.start(QUICK)
    assert not form.progress.running


def test_run__twice_is_once(session: Session) -> None:
    """While it runs, the button says so."""
    form = RunForm(session)
    form.progress.running = True
    assert "running already" in form.start(QUICK)


def test_an_edit_makes_it_out_of_date_everywhere(session: Session, hand_proof: Proof) -> None:
    """Picture, check, list of tasks and findings say so; a note leaves it as it is."""
    keep(session.path, session.home, hand_proof)
    home = session.home
    assert "OUT OF DATE" not in answer(home, "proof")
    assert states(home) == ("1 of 3 properties hold", "2 properties to fix")
    session.replace(home.model_copy(update={"note": "another"}))
    assert kept_here(session.home).fresh
    session.replace(home.model_copy(update={"proof": home.proof.model_copy(update={"brings_ladder": True})}))
    assert "OUT OF DATE" in answer(session.home, "proof")
    assert "OUT OF DATE" in table_of("proof_table").html
    assert states(session.home) == ("", "out of date: run it again")


def states(home: Home) -> tuple[str, str]:
    """Done and left of the proof's line in the list of tasks."""
    line = next(line for line in progress(home, assessed(home)) if line.page == "08_proof")
    return line.done, line.left


def test_progress__never_run(session: Session) -> None:
    """A home that was never proved says so in the list of tasks."""
    assert states(session.home) == ("", "never run")


def test_kept_here__the_same_until_something_moves(session: Session, hand_proof: Proof) -> None:
    """Asked again it costs nothing; a new run is seen at once."""
    first = kept_here(session.home)
    assert kept_here(session.home) is first
    keep(session.path, session.home, hand_proof)
    assert kept_here(session.home).proof == hand_proof
    assert "proof.breached" in {finding.id for finding in assessed(session.home).findings}


def test_broken_kept_file__one_sentence(session: Session) -> None:
    """What cannot be read is named, and nothing else is claimed."""
    session.path.with_name("home.proof.json").write_text("{")
    told = answer(session.home, "proof")
    assert "home.proof.json cannot be read" in told
    assert "never run" in told


@pytest.fixture
def repaired(session: Session, hand_proof: Proof, at_once: Callable[[Any, Any], None]) -> RepairForm:
    """The form of fixes after a search that found one, for a home whose proof is kept."""
    keep(session.path, session.home, hand_proof)
    times = session.home.control_unit.times.model_copy(update={"entry_s": 20.0})
    home = session.home.model_copy(
        update={"control_unit": session.home.control_unit.model_copy(update={"times": times})}
    )
    proof = replace(hand_proof, properties=hand_proof.properties[:1])
    ends = ("sounds_first/house/night",)
    repair = Repair("delay", "Set the entry delay to 20 s.", 3.0, (), home, proof, ends)
    at_once(proof_repairs, Sought((repair,), (Unrepaired("habit/late_shift", "No fix is searched for here."),), 7, 4))
    form = RepairForm(session)
    form.search()
    return form


def act(form: RepairForm, label: str) -> str:
    """Press the button of that label."""
    (action,) = [action for action in form.form.extras.actions if action.label == label]
    return str(action.handler())


def test_fixes__are_listed_with_what_then_holds(repaired: RepairForm) -> None:
    """What changes, what it costs, what then holds; two buttons each, the second with a question."""
    assert repaired.progress.said == "done. One fix was found. 7 sets of changes were tried."
    for words in ("Set the entry delay to 20 s.", "Case 1", "1 of 1 properties hold", "No fix is searched for here."):
        assert words in repaired.list.html
    labels = [(each["label"], bool(each["confirm"])) for each in repaired.form.structure["actions"]]
    assert labels == [("Search for fixes", False), ("Try fix 1 on a copy", False), ("Use fix 1", True)]


def test_fixes__found_so_far_stay_when_the_search_is_stopped(
    repaired: RepairForm, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each fix is listed, with its buttons, as soon as it is found; a stopped search takes none of them away."""
    (found,) = repaired._in_order()

    def start(_function: Any, _args: Any, *, part: Any, progress: Any, **_more: Any) -> None:
        part(found)
        part(replace(found, repairs=("a", "b")))
        progress.said = "Stopped; nothing was changed."

    monkeypatch.setattr(proof_repairs, "start_in_worker", start)
    repaired.search()
    assert [repair.repairs for repair in repaired._in_order()] == [("a", "b")]
    assert "Set the entry delay to 20 s." in repaired.list.html
    assert len(repaired.form.extras.actions) == 3


def test_fixes__trying_one_leaves_the_home_alone(repaired: RepairForm, session: Session) -> None:
    """The copy is a whole home with its proof, under a name of its own; a second try gets another name."""
    before = session.path.read_bytes()
    assert "home_fix_1.json" in act(repaired, "Try fix 1 on a copy")
    assert "home_fix_1_2.json" in act(repaired, "Try fix 1 on a copy")
    copy = session.path.with_name("home_fix_1.json")
    assert load(copy).control_unit.times.entry_s == 20.0
    assert kept(copy, load(copy)).fresh
    assert session.path.read_bytes() == before


def test_fixes__taking_one_over_can_be_undone(repaired: RepairForm, session: Session) -> None:
    """The home is the fixed one and proved as such; undo brings the earlier one back, whose proof is out of date."""
    before = session.home
    act(repaired, "Use fix 1")
    assert session.home.control_unit.times.entry_s == 20.0
    assert kept_here(session.home).fresh
    assert session.undo() == before
    assert not kept_here(session.home).fresh


def test_fixes__a_home_that_moved_is_not_overwritten(repaired: RepairForm, session: Session) -> None:
    """An edit after the search: the fix is refused, and the edit stays."""
    (use,) = [each for each in repaired.form.extras.actions if each.label == "Use fix 1"]
    session.replace(session.home.model_copy(update={"note": "typed meanwhile"}))
    with pytest.raises(AlarmProblem, match="has changed since"):
        use.handler()
    assert session.home.note == "typed meanwhile"
    assert session.home.control_unit.times.entry_s != 20.0


def test_fixes__have_their_buttons_only_for_the_home_they_were_searched_for(
    repaired: RepairForm, session: Session
) -> None:
    """Before, the buttons stayed after an edit, and “Try” wrote a copy of the home as it had been."""

    def labels() -> list[str]:
        follower_of(session).once()
        return [each["label"] for each in repaired.form.structure["actions"]]

    session.replace(session.home.model_copy(update={"note": "typed meanwhile"}))
    assert labels() == ["Search for fixes"]
    assert "search again before you take one over" in repaired.list.html
    session.undo()
    assert labels() == ["Search for fixes", "Try fix 1 on a copy", "Use fix 1"]


def test_fixes__need_a_proof_of_the_home_as_it_is(session: Session, hand_proof: Proof) -> None:
    """Never run, or out of date: run it first. All holds: nothing to fix."""
    form = RepairForm(session)
    with pytest.raises(AlarmProblem, match="Run the proof first"):
        form.search()
    keep(session.path, Home(), hand_proof)
    with pytest.raises(AlarmProblem, match="Run the proof first"):
        form.search()
    keep(session.path, session.home, replace(hand_proof, properties=hand_proof.properties[:1]))
    assert "nothing to fix" in form.search()


def test_fixes__a_search_that_gave_up_can_be_continued(
    repaired: RepairForm, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The button is there while something is left; it hands over what was learned; an edit meanwhile is refused."""
    assert "Continue the search" not in [action.label for action in repaired.form.extras.actions]
    assert "looked everywhere" in repaired.go_on()
    left = Unfinished(cast("Search", None), (), {}, ())
    found = Sought(tuple(repaired._in_order()), (Unrepaired("habit/late_shift", "Looked at 20 sets."),), 20, 9, left)
    said = repaired._done(found)
    assert said.endswith("It did not look everywhere: continue the search to look further.")
    asked: list[Any] = []
    monkeypatch.setattr(proof_repairs, "start_in_worker", lambda *args, **_more: asked.append(args))
    assert "It is running" in act(repaired, "Continue the search")
    assert asked == [(proof_repairs.looked_further, (left,))]
    session.replace(session.home.model_copy(update={"note": "typed meanwhile"}))
    with pytest.raises(AlarmProblem, match="has changed since that search"):
        act(repaired, "Continue the search")


def test_fixes__what_one_brings_is_listed_with_it(repaired: RepairForm) -> None:
    """A finding that the change causes is listed with it."""
    (repair,) = repaired._in_order()
    repaired._found(replace(repair, brings=("Hall: the window stands open at night.",)))
    assert "Then look at this: Hall: the window stands open at night." in repaired.list.html
