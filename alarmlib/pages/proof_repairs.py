"""Fixes for what the proof shows: searched when asked, tried on a copy, taken over only on a second word."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.pages.proof_run import now_and_then, words_of
from alarmlib.pages.proved import kept_here
from alarmlib.proof.report.verdicts import Proof, ProofVerdict
from alarmlib.record.blocks import Block, Bullets, Subheading, Table, Text, apart
from alarmlib.record.counterexample_blocks import counterexamples
from alarmlib.record.markup import block_html
from alarmlib.record.wording import reworded
from alarmlib.rules import say_of
from alarmlib.store import Session
from alarmlib.store.kept_proofs import keep
from alarmlib.units import Kind, show
from alarmlib.widgets.engine import Extras
from alarmlib.widgets.follower import follower_of
from alarmlib.widgets.form import Form
from alarmlib.widgets.spec import ActionSpec, FormSpec
from alarmlib.widgets.view import Drawn, View
from alarmlib.widgets.work import idle, start_in_worker

if TYPE_CHECKING:
    from alarmlib.proof.repairs.cheapest import Repair, Sought, Unfinished, Unrepaired

TITLE = "The search for fixes"
_INTRO = (
    "Up to three changes at once, the cheapest first by the prices above. Each is proved by itself, so "
    "this may take minutes. A fix that is offered adds nothing "
    "that you must fix, and everybody can still come home as before. Trying one writes a copy "
    "beside your home. Your own home changes only when you use a fix."
)
_CONFIRM = "This changes your home as the fix says. Undo takes it back. Go on?"


class RepairForm:
    """The search, what it found, and for each fix the two buttons."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.searched: Home | None = None
        self.counterexamples: dict[str, str] = {}
        self.found: dict[str, Repair] | None = None
        self.unrepaired: tuple[Unrepaired, ...] = ()
        self.left: Unfinished | None = None
        self.progress = idle(TITLE, "not running.", words_of(session))
        self.form = Form(session, FormSpec("Fixes", (), _INTRO), self._buttons())
        self.list = View(session, "The fixes", lambda _home: Drawn("The fixes", self._drawn()))
        self.forms = (self.form,)

    def __repr__(self) -> str:
        return repr(self.form)

    def _ipython_display_(self) -> None:
        from IPython.display import display

        for each in (self.list, self.form, self.progress):
            display(each)

    def search(self) -> str:
        """Start the search, unless it runs already. Raises AlarmProblem when there is nothing to fix."""
        if self.progress.running:
            return "It is running already. You see below how far it is."
        home = self.session.refresh()
        kept = kept_here(home)
        if kept.proof is None or not kept.fresh:
            raise AlarmProblem("Run the proof first: fixes are searched for your home as it is.")
        if kept.proof.holds:
            return "Every property holds; there is nothing to fix."
        self.searched, self.found, self.unrepaired, self.left = home, {}, (), None
        self.counterexamples = {each.id: f"Case {number}" for number, each in enumerate(counterexamples(kept.proof), 1)}
        return self._start(sought, (home.model_dump_json(), kept.proof))

    def go_on(self) -> str:
        """Look further from where the last search gave up. Raises AlarmProblem when the home moved meanwhile."""
        if self.progress.running:
            return "It is running already. You see below how far it is."
        if self.left is None:
            return "The search has looked everywhere; there is nothing to continue."
        if self.session.refresh() != self.searched:
            raise AlarmProblem("Your home has changed since that search; search again. Nothing was changed.")
        return self._start(looked_further, (self.left,))

    def _start(self, work: "Callable[..., Sought]", args: tuple[object, ...]) -> str:
        start_in_worker(
            work, args, title=TITLE, tells=True, finish=self._done, progress=self.progress, part=self._found
        )
        return "It is running. You see below how far it is, and forms go on saving."

    def _found(self, repair: "Repair") -> None:
        """One more fix, while the search goes on: it may be stopped, and what was found stays."""
        if self.found is not None:
            self.found[repair.id] = repair
        self.form.offer(self._buttons())
        self.list.redraw()

    def _done(self, found: "Sought") -> str:
        self.found, self.unrepaired = {repair.id: repair for repair in found.repairs}, found.unrepaired
        self.left = found.left
        self.form.offer(self._buttons())
        self.list.redraw()
        count, tried = len(found.repairs), f"{found.tried} sets of changes were tried."
        told = {0: "No fix of up to three changes was found.", 1: "One fix was found."}
        more = "" if found.left is None else " It did not look everywhere: continue the search to look further."
        return f"done. {told.get(count, f'{count} fixes were found.')} {tried}{more}"

    def _buttons(self) -> Extras:
        actions = [ActionSpec("Search for fixes", self.search)]
        actions += [ActionSpec("Continue the search", self.go_on)] if self.left is not None else []
        for number, repair in enumerate([] if self._stale else self._in_order(), 1):
            actions += [
                ActionSpec(f"Try fix {number} on a copy", partial(self.try_it, number, repair)),
                ActionSpec(f"Use fix {number}", partial(self.take_over, number, repair), _CONFIRM),
            ]
        return Extras(actions=tuple(actions))

    def try_it(self, number: int, repair: "Repair") -> str:
        """Write the fixed home, and its proof, as files of their own beside the home file, and say their name."""
        copy = _free(self.session.path, number)
        Session.new(copy, repair.home)
        keep(copy, repair.home, repair.proof)
        return f"The fixed home is {copy.name}, beside your own, which was not changed. {held(repair.proof)}"

    def take_over(self, number: int, repair: "Repair") -> str:
        """Put the fix into the home, as one change that can be undone. Raises AlarmProblem when the home moved."""
        if self.session.refresh() != self.searched:
            raise AlarmProblem("Your home has changed since this fix was found. Search again. Nothing was changed.")
        keep(self.session.path, repair.home, repair.proof)
        self.session.replace(repair.home)
        follower_of(self.session).stir()
        return f"Fix {number} is in place. Undo brings the earlier home back. {held(repair.proof)}"

    @property
    def _stale(self) -> bool:
        """Whether the home is another one than fixes were searched for."""
        return self.session.home != self.searched

    def _drawn(self) -> str:
        self.form.offer(self._buttons())
        say = say_of(self.session.home)
        return "".join(block_html(reworded(block, say), f"mends-{n}") for n, block in enumerate(self._blocks()))

    def _blocks(self) -> tuple[Block, ...]:
        if self.found is None:
            return (Text(("You have not searched for fixes yet.",)),)
        if not self.found and not self.unrepaired:
            return (Text(("No fix was found yet.",)),)
        told = "The home has changed since these were found: search again before you take one over."
        return (
            *((Text((told,)),) if self._stale else ()),
            *repair_blocks(self._in_order(), self.unrepaired, self.counterexamples),
        )

    def _in_order(self) -> "list[Repair]":
        return sorted((self.found or {}).values(), key=lambda repair: (repair.cost, repair.id))


def repair_blocks(
    repairs: "Sequence[Repair]", unrepaired: "Sequence[Unrepaired]", counterexamples: Mapping[str, str]
) -> Iterator[Block]:
    """The fixes, the cheapest first: what changes, what it costs, which counterexamples end; and what has no fix."""
    rows = tuple(
        (
            f"Fix {number}",
            apart(" ".join((repair.sentence, *(f"Then look at this: {each}" for each in repair.brings)))),
            show(repair.cost, Kind.MONEY, "metric"),
            ", ".join(counterexamples.get(name, name) for name in repair.repairs),
            held(repair.proof).removesuffix("."),
        )
        for number, repair in enumerate(repairs, 1)
    )
    if rows:
        header = ("Fix", "What changes", "Costs", "What it ends", "After it")
        yield Table("Fixes, the cheapest first", header, rows, frozenset({2}))
    if unrepaired:
        words: dict[str, list[str]] = {}
        for each in unrepaired:
            words.setdefault(each.sentence, []).append(counterexamples.get(each.id, "All together"))
        yield Subheading("Without a fix")
        yield Bullets(tuple(f"{', '.join(names)}: {sentence}" for sentence, names in words.items()))


def held(proof: Proof) -> str:
    """How many properties hold, in a sentence."""
    return (
        f"{sum(p.verdict is ProofVerdict.HOLDS for p in proof.properties)} of {len(proof.properties)} properties hold."
    )


def sought(home_json: str, proof: Proof, say: Callable[[str], None], hand: "Callable[[Repair], None]") -> "Sought":
    """In the worker: the fixes of a home given as JSON, for what its proof shows."""
    from alarmlib.checks.judged import judge_of
    from alarmlib.proof.repairs.cheapest import seek

    home = Home.model_validate_json(home_json)
    return seek(home, proof, now_and_then(say), hand=hand, judge=judge_of(home))


def looked_further(left: "Unfinished", say: Callable[[str], None], hand: "Callable[[Repair], None]") -> "Sought":
    """In the worker: the search that gave up gone on with."""
    from alarmlib.proof.repairs.cheapest import go_on

    return go_on(left, now_and_then(say), hand=hand)


def _free(home_file: Path, number: int) -> Path:
    """A name beside the home file that no file has yet: home_fix_1.json, home_fix_1_2.json ..."""
    names = [f"{home_file.stem}_fix_{number}", *(f"{home_file.stem}_fix_{number}_{n}" for n in range(2, 1000))]
    return next(path for name in names if not (path := home_file.with_name(f"{name}.json")).exists())
