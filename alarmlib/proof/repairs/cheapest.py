"""The cheapest fixes: for each breach by itself and for all at once, at most three changes, each proved on a copy.

A copy is a fix only if all that held still holds, no check finds anything new that must be fixed, and everybody can
still come home in every set as before.

The search goes by cost. Each counterexample that is met says which changes can bear on it. A set that agrees on these
with the home it was met in has the same one, and is left out without a proof. What is found is what trying every set
would find; brute force on small homes agrees in the tests.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from math import fsum

from alarmlib.model.home import Home
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import RepairChange
from alarmlib.proof.repairs.copies import Chosen, Copies, run_of
from alarmlib.proof.repairs.judge import Acceptance, Judge, nobody_judges
from alarmlib.proof.repairs.repair_search import Goal, Search, silent
from alarmlib.proof.report.verdicts import OnProgress, Proof, ProofVerdict

MOST = 3
PATIENCE = 20  # sets proved for one goal before the search leaves it; `go_on` takes it up again
ALL = "all"
_SOUGHT = frozenset({"ways", "habits", "left_out", "siren"})
_NOT_SOUGHT = "No fix is searched for here. Try one by hand on a copy of the home, and prove it."


@dataclass(frozen=True)
class Repair:
    """A set of changes after which what it `repairs` holds and nothing that held is breached.

    `home` is the repaired copy, `proof` its own full proof, `still_open` the properties that stay breached in it.
    `cost` is in the owner's money, or in the stated default prices; the sentence says which are assumed.
    `brings`: what should be fixed after it and needed no fixing before, in sentences.
    """

    id: str
    sentence: str
    cost: float
    changes: tuple[RepairChange, ...]
    home: Home
    proof: Proof
    repairs: tuple[str, ...] = ()
    still_open: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Unrepaired:
    """A breach (its property's id, or "all") for which there is no fix, or none so far, and why."""

    id: str
    sentence: str


@dataclass
class Unfinished:
    """A search that gave up with some goals: all that it learned, so that `go_on` tries nothing twice."""

    search: Search
    goals: tuple[Goal, ...]
    found: dict[Chosen, list[str]]
    unrepaired: tuple[Unrepaired, ...]


@dataclass(frozen=True)
class Sought:
    """What a search for fixes came to: fixes with the cheapest first, what has none, how many sets were proved.

    `left`: where it can go on; None when it looked everywhere.
    """

    repairs: tuple[Repair, ...]
    unrepaired: tuple[Unrepaired, ...]
    tried: int
    proofs: int
    left: Unfinished | None = field(default=None, compare=False, repr=False)


def repairs(home: Home, proof: Proof, progress: OnProgress | None = None, most: int = MOST) -> tuple[Repair, ...]:
    """The cheapest fix of each breached property and of all at once, the cheapest first; `seek` says what has none.

    By `seek`.
    """
    return seek(home, proof, progress, most).repairs


def seek(
    home: Home,
    proof: Proof,
    progress: OnProgress | None = None,
    most: int = MOST,
    changes: Sequence[RepairChange] | None = None,
    patience: int = PATIENCE,
    hand: Callable[[Repair], None] | None = None,
    judge: Judge = nobody_judges,
) -> Sought:
    """The cheapest fixes of at most `most` changes, from `changes` (default: all of `candidates`).

    `proof` is the home's own, from `prove`. Nothing is written and the home stays as it is. Not sought, and said so:
    breaches of pairs of habits, of one who slips in beside another, of the unit alone; and what is not found after
    `patience` sets were proved: `go_on` looks further. `hand` gets each fix as soon as it is found, again when it
    fixes one more. `judge` says what is wrong with a home beside its proof: a fix adds nothing that must be fixed.
    Reference: uniform-cost search over sets of changes with learned refusals (implicit hitting set), textbook; the
    rule by which a counterexample refuses sets is our own.
    """
    changes = tuple(candidates(home) if changes is None else changes)
    search = Search(Copies(home, proof, changes), most, Acceptance(home, changes, judge))
    breached = [each for each in proof.properties if each.verdict is ProofVerdict.BREACHED]
    wanted = [each.id for each in breached if run_of(each.id) in _SOUGHT]
    unrepaired = tuple(Unrepaired(each.id, _NOT_SOUGHT) for each in breached if each.id not in wanted)
    goals = [Goal(name, frozenset({name})) for name in wanted]
    goals += [Goal(ALL, frozenset(wanted))] if len(wanted) > 1 else []
    return go_on(Unfinished(search, tuple(goals), {}, unrepaired), progress, patience, hand)


def go_on(
    begun: Unfinished,
    progress: OnProgress | None = None,
    patience: int = PATIENCE,
    hand: Callable[[Repair], None] | None = None,
) -> Sought:
    """Look further for what was not found yet, `patience` sets more for each goal; all that was found is in it too.

    Goes on in the very search that is given. What it finds is what one longer search would have found.
    As `seek`.
    """
    search, found, unrepaired = begun.search, begun.found, list(begun.unrepaired)
    still: list[tuple[Goal, Unrepaired]] = []
    for number, goal in enumerate(begun.goals):
        search.begin(_telling(progress, goal.name, number, len(begun.goals)), patience)
        chosen = search.cheapest(goal)
        if chosen is not None:
            found.setdefault(chosen, []).extend(sorted(goal.targets))
            if hand is not None:
                hand(_repair(search, chosen, found[chosen]))
        elif search.gave_up:
            still.append((goal, Unrepaired(goal.name, search.why_none(goal))))
        else:
            unrepaired.append(Unrepaired(goal.name, search.why_none(goal)))
    search.tell = silent
    search.copies.forget()
    made = sorted((_repair(search, *each) for each in found.items()), key=lambda repair: (repair.cost, repair.id))
    said = [*unrepaired, *(each for _, each in still)]
    left = Unfinished(search, tuple(goal for goal, _ in still), found, tuple(unrepaired)) if still else None
    told_of = tuple(_with_best(each, made) if each.id == ALL else each for each in said)
    return Sought(tuple(made), told_of, search.tried, search.copies.proofs, left)


def _with_best(none: Unrepaired, made: list[Repair]) -> Unrepaired:
    """What stays open after the fix that leaves least open."""
    best = min(made, key=lambda repair: len(repair.still_open), default=None)
    if best is None:
        return none
    names = {each.id: each.sentence for each in best.proof.properties}
    still = " ".join(names[name] for name in best.still_open)
    return Unrepaired(none.id, f"{none.sentence} After “{best.sentence}” this stays open: {still}")


def _telling(progress: OnProgress | None, name: str, done: int, of: int) -> Callable[[int], None]:
    def tell(tried: int) -> None:
        if progress is not None:
            progress(f"fixes of {name}, {tried} sets of changes tried", done, of)

    return tell


def _repair(search: Search, chosen: Chosen, names: Iterable[str]) -> Repair:
    """A set that was found, as it is told."""
    copies, ends = search.copies, tuple(dict.fromkeys(names))
    home, proof = copies.home_of(chosen), copies.whole(chosen)
    assert home is not None
    changes = tuple(copies.changes[place] for place in sorted(chosen))
    still = tuple(each.id for each in proof.properties if each.verdict is ProofVerdict.BREACHED)
    cost = fsum(change.price for change in changes)
    name = "+".join(change.id for change in changes)
    brings = search.acceptance.brings(home)
    return Repair(
        name,
        _sentence(changes),
        cost=cost,
        changes=changes,
        home=home,
        proof=proof,
        repairs=ends,
        still_open=still,
        brings=brings,
    )


def _sentence(changes: tuple[RepairChange, ...]) -> str:
    """What is changed and why, what must be looked at first, and which prices nobody typed."""
    parts = [f"{each.sentence} Reason: {each.because}." if each.because else each.sentence for each in changes]
    seen = [change.if_seen for change in changes if change.if_seen]
    if seen:
        parts.append(
            "This holds only if your walk test shows that each of these sees whoever walks four steps anywhere in "
            f"its room: {', '.join(seen)}."
        )
    assumed = list(dict.fromkeys(f"{change.way.text} {change.price:g}" for change in changes if change.assumed))
    return " ".join([*parts, f"These prices are assumed: {'; '.join(assumed)}."] if assumed else parts)
