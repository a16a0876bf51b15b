"""The unit proved alone: the property list of timed alarm models, on this home's own settings, every input free.

Each zone (with its confirmation partners and its areas) is explored with everything that may happen to it, each door
that gives a delay beside each kind of other zone, the codes and the watched faults by themselves; timers are held.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from alarmlib.control import machine
from alarmlib.control.from_home import setup_from_home
from alarmlib.control.habit_words import names_of
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.proof.pieces.pieces import Pieces
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import Aside, OverBudget, RanOut, Spending, bytes_of, gone_through, spending_of
from alarmlib.proof.unit.alone_counterexample import replayed
from alarmlib.proof.unit.cones import Cone, Family, cones_of
from alarmlib.proof.unit.input_alphabet import can_happen, holder_of
from alarmlib.proof.unit.rules import ONE_OUTCOME, RULES, asked_in
from alarmlib.proof.unit.timer_abstraction import MOST_STATES, Broken, Came, Explored, StepFunction, explore
from alarmlib.proof.unit.unit_rules import one_outcome

_Limits = tuple[int | None, Aside]
_PREFIX = "unit/"
_WORKED_ON = "the control unit alone"
_MORE = "There are more states than can be explored."
_ONE_SENTENCE = (
    "The same state and the same events always have one outcome (about one second in twenty is worked out twice)."
)


@dataclass(frozen=True)
class _Looked:
    """How much of a cone was explored, and the shortest way to the first breach of each rule; as in `Explored`."""

    states: int
    steps: int
    complete: bool
    broken: Mapping[str, Any]


@dataclass(frozen=True)
class _Found:
    """A cone explored, in which seasons."""

    setup: Setup
    cone: Cone
    looked: _Looked


def alone_proved(
    home: Home, progress: OnProgress | None = None, only: Collection[str] = (), pieces: Pieces | None = None
) -> tuple[Proved, ...]:
    """Every rule of a unit alone on this home's settings, in every season, with ids `unit/<rule>`; `only` these ids.

    Each cone is a piece.
    Reference: published timed models of alarms have such properties: Aichernig, Lorber and Ničković (TR
    IST-MBT-2013-02); Feo-Arenis et al., FM 2014, LNCS 8442, 658 to 672.
    """
    seasons = ("", *(season.id for season in home.control_unit.seasons))
    setups = tuple(dict.fromkeys(setup_from_home(home, season) for season in seasons))
    asked = frozenset(each.removeprefix(_PREFIX) for each in only)
    return setups_proved(setups, names_of(home), progress, asked, pieces=pieces)


def setups_proved(
    setups: tuple[Setup, ...],
    names: dict[str, str] | None = None,
    progress: OnProgress | None = None,
    only: frozenset[str] = frozenset(),
    step: StepFunction = machine.step,
    pieces: Pieces | None = None,
) -> tuple[Proved, ...]:
    """The same of setups; `only` these rules, or all; `step` may be another unit's, and then there are no pieces.

    Where `progress` is a Spending, its limits are those of each cone, and one that fills the memory leaves the others
    to be explored; else a cone ends at `MOST_STATES`.
    As `alone_proved`.
    """
    most = None if isinstance(progress, Spending) else MOST_STATES
    cones = ((setup, cone) for setup in setups for cone in cones_of(setup))
    todo = [(setup, cone) for setup, cone in cones if asked_in(cone, step, only)]
    found, spending, over = list[_Found](), spending_of(progress), None
    with spending.given_back():
        for done, (setup, cone) in enumerate(todo):
            spending(_WORKED_ON, done, len(todo))
            looked, before = _Looked(0, 0, False, {}), spending.kept
            try:
                if over is None or over.ran_out is RanOut.MEMORY:
                    explored = _looked_at(cone, only, step, pieces, (most, Aside(spending)))
                    spending.keep(bytes_of(cone.setup.layout.size) * explored.states)
                    looked = explored
            except OverBudget as ended:
                over = ended
                spending.drop(spending.kept - before)
            found.append(_Found(setup, cone, looked))
    spending(_WORKED_ON, len(todo), len(todo))
    proved = (_proved(name, text, found, names or {}, step) for name, text in _sentences(setups, found, only))
    return tuple(each if over is None else _ended(each, found, over) for each in proved)


def _ended(proved: Proved, found: list[_Found], over: OverBudget) -> Proved:
    """The same when the search ended at a limit: what is open for want of it is too large, and says so."""
    if proved.verdict is not ProofVerdict.NOT_SETTLED or proved.why != _MORE:
        return proved
    whole = sum(each.looked.complete for each in found)
    done = f"{whole} of {len(found)} parts of the control unit with what may happen to them"
    return replace(proved, why=gone_through(over, done, "the other parts"))


def _looked_at(cone: Cone, only: frozenset[str], step: StepFunction, pieces: Pieces | None, limits: _Limits) -> _Looked:
    """A cone explored, or as it was found before; one in which a rule is broken is explored again, to show how."""

    def look() -> _Looked:
        found = _explored(cone.setup, cone.family, only, step, limits)
        return _Looked(len(found.states), found.steps, found.complete, found.broken)

    if pieces is None or step is not machine.step:
        return look()
    return pieces.of_value("cone", (cone.setup, cone.family, only), _Looked, look, lambda looked: not looked.broken)


@lru_cache(maxsize=512)
def _explored(setup: Setup, family: Family, only: frozenset[str], step: StepFunction, limits: _Limits) -> Explored:
    """A cone explored; remembered, so that a change of a home explores again only what it touches."""
    cone, (most, aside) = Cone(setup, family, ()), limits
    return explore(
        setup,
        inputs=can_happen(cone),
        rules=asked_in(cone, step, only),
        holder=holder_of(cone),
        step=step,
        most=most,
        spending=aside.spending,
    )


def _sentences(setups: tuple[Setup, ...], found: list[_Found], only: frozenset[str]) -> Iterator[tuple[str, str]]:
    for rule in RULES:
        if (not only or rule.id in only) and any(rule.asked_of(each.cone) for each in found):
            yield rule.id, rule.sentence(setups[0])
    if not only or ONE_OUTCOME in only:
        yield ONE_OUTCOME, _ONE_SENTENCE


def _proved(name: str, sentence: str, found: list[_Found], names: dict[str, str], step: StepFunction) -> Proved:
    asked = [each for each in found if name == ONE_OUTCOME or _asks(name, each.cone)]
    distinct = {(each.cone.setup, each.cone.family): each for each in asked}
    states = sum(each.looked.states for each in distinct.values())
    worst = {"explored": str(len(distinct)), "seconds": str(sum(each.looked.steps for each in distinct.values()))}
    ways = sorted((len(each.looked.broken[name]), n) for n, each in enumerate(asked) if name in each.looked.broken)
    counterexamples = (_counterexample(name, asked[n], names, step) for _, n in ways)
    counterexample = next((counterexample for counterexample in counterexamples if counterexample), ())
    if counterexample:
        return Proved(f"{_PREFIX}{name}", sentence, ProofVerdict.BREACHED, worst, counterexample, states)
    why = ""
    if ways:
        about = " and ".join(asked[ways[0][1]].cone.about)
        why = f"With {about} a breach was found that does not happen with the control unit's own times."
    elif not all(each.looked.complete for each in asked):
        why = _MORE
    return Proved(
        f"{_PREFIX}{name}",
        sentence,
        verdict=ProofVerdict.NOT_SETTLED if why else ProofVerdict.HOLDS,
        worst=worst,
        counterexample=(),
        states=states,
        why=why,
    )


def _asks(name: str, cone: Cone) -> bool:
    return any(rule.id == name and rule.asked_of(cone) for rule in RULES)


def _counterexample(name: str, found: _Found, names: dict[str, str], step: StepFunction) -> tuple[Beat, ...]:
    way: tuple[Came, ...] = found.looked.broken[name]
    breaks: Broken = {rule.id: rule.breaks for rule in RULES}.get(name) or one_outcome(found.setup, step, every=1)
    return replayed(found.setup, found.cone.setup, way, breaks, names, step)


NOT_COVERED = (
    "The control unit alone: more than two zones at once; a zone that needs confirming beside a door.",
    "The control unit alone: leaving out, test mode, power loss and repeat-trip limits with two zones (all with one).",
    "The control unit alone: test mode with power loss or leaving out; power lost in an exit delay, except with doors.",
    (
        "The control unit alone: several areas that share a zone, where one beside the first is set with an exit "
        "delay or in part."
    ),
)
