"""The cheapest mends: for each breach by itself and for all at once, at most three changes, each proved on a copy.

The search goes by cost. Each story that is met says which changes can bear on it at all; a set that agrees on these
with the home of the story has the same story, and is left out without a proof. What is found is what trying every
set would find; brute force on small homes agrees in the tests.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum

from alarmlib.model.home import Home
from alarmlib.proof.changes import Change
from alarmlib.proof.mend_candidates import candidates
from alarmlib.proof.mend_copies import Chosen, Copies, run_of
from alarmlib.proof.mend_search import Search
from alarmlib.proof.verdicts import Proof, Told, Verdict

MOST = 3
PATIENCE = 20  # sets proved for one goal before it is given up, which is said
ALL = "all"
_SOUGHT = frozenset({"ways", "habits", "left_out", "siren"})
_NOT_SOUGHT = "No mend is sought for this: try one by hand on a copy, and prove it."


@dataclass(frozen=True)
class Mend:
    """A set of changes after which what it `mends` holds and nothing that held is breached.

    `home` is the mended copy, `proof` its own full proof, `still_open` the properties that stay breached in it.
    `cost` is in the owner's money, or in the stated default prices; the sentence says which are assumed.
    """

    id: str
    sentence: str
    cost: float
    changes: tuple[Change, ...]
    home: Home
    proof: Proof
    mends: tuple[str, ...] = ()
    still_open: tuple[str, ...] = ()


@dataclass(frozen=True)
class Unmended:
    """A breach (its property's id, or "all") for which there is no mend, and why."""

    id: str
    sentence: str


@dataclass(frozen=True)
class Sought:
    """What a search for mends came to: mends with the cheapest first, what has none, how many sets were proved."""

    mends: tuple[Mend, ...]
    unmended: tuple[Unmended, ...]
    tried: int
    proofs: int


def mends(home: Home, proof: Proof, told: Told | None = None, most: int = MOST) -> tuple[Mend, ...]:
    """The cheapest mend of each breached property and of all at once, the cheapest first; `seek` says what has none.

    Reference: `seek`.
    """
    return seek(home, proof, told, most).mends


def seek(
    home: Home,
    proof: Proof,
    told: Told | None = None,
    most: int = MOST,
    changes: Sequence[Change] | None = None,
    patience: int = PATIENCE,
    hand: Callable[[Mend], None] | None = None,
) -> Sought:
    """The cheapest mends of at most `most` changes, from `changes` (default: all of `candidates`).

    `proof` is the home's own, from `prove`. Nothing is written and the home stays as it is. Not sought, and said so:
    breaches of pairs of habits, of one who slips in beside another, of the unit alone; and what is not found after
    `patience` sets were proved. `hand` gets each mend as soon as it is found, again when it mends one more.
    Reference: uniform-cost search over sets of changes with learned refusals (implicit hitting set), textbook; the
    rule by which a story refuses sets is our own.
    """
    search = Search(Copies(home, proof, tuple(candidates(home) if changes is None else changes)), most, patience)
    breached = [each for each in proof.properties if each.verdict is Verdict.BREACHED]
    wanted = [each.id for each in breached if run_of(each.id) in _SOUGHT]
    found: dict[Chosen, list[str]] = {}
    unmended = [Unmended(each.id, _NOT_SOUGHT) for each in breached if each.id not in wanted]
    goals = [(name, frozenset({name})) for name in wanted]
    goals += [(ALL, frozenset(wanted))] if len(wanted) > 1 else []
    for number, (name, targets) in enumerate(goals):
        search.begin(_telling(told, name, number, len(goals)))
        chosen = search.cheapest(targets)
        if chosen is None:
            unmended.append(Unmended(name, search.why_none(targets)))
        else:
            names = found.setdefault(chosen, [])
            names += sorted(targets)
            if hand is not None:
                hand(_mend(search.copies, chosen, tuple(dict.fromkeys(names))))
    made = [_mend(search.copies, chosen, tuple(dict.fromkeys(names))) for chosen, names in found.items()]
    made.sort(key=lambda mend: (mend.cost, mend.id))
    said = tuple(_with_best(each, made) if each.id == ALL else each for each in unmended)
    return Sought(tuple(made), said, search.tried, search.copies.proofs)


def _with_best(none: Unmended, made: list[Mend]) -> Unmended:
    """What stays open after the mend that leaves least open."""
    best = min(made, key=lambda mend: len(mend.still_open), default=None)
    if best is None:
        return none
    names = {each.id: each.sentence for each in best.proof.properties}
    still = " ".join(names[name] for name in best.still_open)
    return Unmended(none.id, f"{none.sentence} After “{best.sentence}” this stays open: {still}")


def _telling(told: Told | None, name: str, done: int, of: int) -> Callable[[int], None]:
    def tell(tried: int) -> None:
        if told is not None:
            told(f"mends of {name}, {tried} sets of changes tried", done, of)

    return tell


def _mend(copies: Copies, chosen: Chosen, names: tuple[str, ...]) -> Mend:
    """A set that was found, as it is told."""
    home, proof = copies.home_of(chosen), copies.whole(chosen)
    assert home is not None
    changes = tuple(copies.changes[place] for place in sorted(chosen))
    still = tuple(each.id for each in proof.properties if each.verdict is Verdict.BREACHED)
    cost = fsum(change.price for change in changes)
    name = "+".join(change.id for change in changes)
    return Mend(name, _sentence(changes), cost, changes, home, proof, names, still)


def _sentence(changes: tuple[Change, ...]) -> str:
    """What is changed, what must be looked at first, and which prices nobody typed."""
    parts = [change.sentence for change in changes]
    seen = [change.if_seen for change in changes if change.if_seen]
    if seen:
        parts.append(
            f"This holds if your walk test shows that it sees whoever walks four steps anywhere in its room: "
            f"{', '.join(seen)}."
        )
    assumed = list(dict.fromkeys(f"{change.way.text} {change.price:g}" for change in changes if change.assumed))
    return " ".join([*parts, f"Prices assumed: {'; '.join(assumed)}."] if assumed else parts)
