"""Running the proof from its page: in a process of its own, with progress, kept beside the home file when done."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from time import monotonic
from typing import Any

from alarmlib.model.home import Home
from alarmlib.model.proof import ProofChoices
from alarmlib.proof.report.document import document_of, proof_from_document
from alarmlib.proof.report.readiness import NotReady, unready
from alarmlib.proof.report.verdicts import OnProgress, ProofVerdict, too_large_told, worked_again
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.store.kept_pieces import keep_pieces, kept_document
from alarmlib.store.kept_proofs import keep, kept
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.follower import follower_of
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, FormSpec, fields_of
from alarmlib.widgets.work import idle, start_in_worker

TITLE = "The proof"
TELL_EVERY_S = 0.2
_INTRO = (
    "It tries every way in, every way of setting the alarm, every habit and every single fault. It runs in a process "
    "of its own. Two people at once (two habits, or an intruder beside somebody who comes or goes) take minutes. So "
    "you ask for them by a button of their own. The result is kept beside the home file. When its time or memory is "
    "used up, what is open by then is told as not settled, with what was gone through."
)
_MORE = "Allow it more time or memory if it did not settle everything."


class RunForm:
    """The button that runs the proof, and the line that says how far it is."""

    def __init__(self, session: Session) -> None:
        from alarmlib.proof.prove import QUICK, RUNS

        self.session = session
        self.progress = idle(TITLE, "not running.", words_of(session))
        actions = (
            ActionSpec("Run the proof", partial(self.start, QUICK)),
            ActionSpec("Run it with two people at once", partial(self.start, RUNS)),
        )
        limits = fields_of(ProofChoices, ("most_minutes", "most_gigabytes"), ("proof",))
        groups = (("How much it may take", tuple(replace(field, more=True) for field in limits)),)
        self.forms = (Form(session, FormSpec("Run the proof", groups, _INTRO, _MORE), Extras(actions=actions)),)

    def __repr__(self) -> str:
        return repr(self.forms[0])

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.forms[0])
        display(self.progress)

    def start(self, runs: tuple[str, ...]) -> str:
        """Start these runs of it, unless it runs already. Raises NotReady with all that is missing."""
        if self.progress.running:
            return "It is running already. You see below how far it is."
        home = self.session.refresh()
        if missing := unready(home):
            raise NotReady(missing)
        work = (home.model_dump_json(), runs, kept_document(self.session.path))
        start_in_worker(
            worked_out, work, title=TITLE, tells=True, finish=lambda found: self._done(home, found),
            progress=self.progress,
        )  # fmt: skip
        return "It is running. You see below how far it is, and forms go on saving."

    def _done(self, home: Home, found: Any) -> str:
        proof = proof_from_document(found["proof"])
        keep_pieces(self.session.path, found["pieces"])
        before = kept(self.session.path, home)
        known = {each.id for each in before.proof.properties} if before.proof and before.fresh else set()
        if not known > {each.id for each in proof.properties}:  # what was found of two people at once stays
            keep(self.session.path, home, proof)
        follower_of(self.session).stir()
        held = sum(each.verdict is ProofVerdict.HOLDS for each in proof.properties)
        hold = f"{held} of {len(proof.properties)} properties held for your home as it was then."
        again, large = worked_again(proof), too_large_told(proof)
        parts = (f"done in {proof.seconds:.1f} s.", again, hold, large, "The tables say how it is now.")
        return " ".join(filter(None, parts))


def worked_out(home_json: str, runs: tuple[str, ...], kept: Any, say: Callable[[str], None]) -> dict[str, Any]:
    """In the worker: the documents of the proof of a home given as JSON, and of its pieces.

    `kept` is what was kept of earlier pieces.
    """
    from alarmlib.proof.pieces.pieces import Pieces
    from alarmlib.proof.prove import Asked, prove
    from alarmlib.proof.search.budget import late_after

    begun, home, pieces = monotonic(), Home.model_validate_json(home_json), Pieces(kept)
    late = late_after(home.proof.most_minutes, monotonic)
    proof = prove(home, "single", now_and_then(say), Asked(runs, late=late), pieces)
    whole = replace(proof, seconds=round(monotonic() - begun, 2))
    return {"proof": document_of(whole, with_basis=True), "pieces": pieces.document()}


def words_of(session: Session) -> Callable[[str], str]:
    """What puts a text into the words of the country that the home has when it is shown."""

    def said(text: str) -> str:
        return say_of(session.home)(text)

    return said


def now_and_then(say: Callable[[str], None]) -> OnProgress:
    """A listener that passes on, as lines, as much of a work's progress as somebody can read."""
    last = 0.0

    def on_progress(what: str, done: int, of: int) -> None:
        nonlocal last
        if monotonic() - last >= TELL_EVERY_S:
            last = monotonic()
            say(f"{what} ({done} of {of}) …")

    return on_progress
