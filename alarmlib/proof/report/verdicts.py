"""What a proof says: a verdict a property, the worst case and how it comes about, faults, what was assumed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from alarmlib.model.words import Word

TOO_LARGE = "It is too large to be searched whole here"
"""How the reason begins of a property whose search ended at its limit."""
OnProgress = Callable[[str, int, int], None]
"""Called with what is being worked on, how many pieces are done, and of how many."""


class ProofVerdict(Word):
    """What the search found within the printed assumptions."""

    HOLDS = "holds", "holds"
    BREACHED = "breached", "breached"
    NOT_SETTLED = "not_settled", "not settled"


@dataclass(frozen=True)
class Assumption:
    """One assumption of the claims; `path` is the field of the home that changes it ("" when none does)."""

    id: str
    sentence: str
    path: str = ""


@dataclass(frozen=True)
class Beat:
    """One second of a counterexample in which something happens.

    `at` is the mover's place in metres on the plan of `storey`, None where nothing is drawn.
    `devices` and `zones` are ids of what is tripped, `state` and `output` are sentences.
    """

    at_s: int
    who: str
    place: str
    storey: str = ""
    at: tuple[float, float] | None = None
    devices: tuple[str, ...] = ()
    zones: tuple[str, ...] = ()
    state: str = ""
    output: str = ""


@dataclass(frozen=True)
class Proved:
    """One property: a plain sentence, the verdict, the worst case in words and seconds, its counterexample.

    `id` is the property and what it is about, joined by slashes: "noticed_first/house/night".
    `worst` holds shown values by name ("margin_s": "9", "way_in": "back_door"); `why` says what is not settled, or
    when alone it is breached.
    """

    id: str
    sentence: str
    verdict: ProofVerdict
    worst: Mapping[str, str] = field(default_factory=dict)
    counterexample: tuple[Beat, ...] = ()
    states: int = 0
    why: str = ""

    @property
    def too_large(self) -> bool:
        """Whether it is not settled because the search ended at its limit of memory, time or states."""
        return self.verdict is ProofVerdict.NOT_SETTLED and self.why.startswith(TOO_LARGE)


@dataclass(frozen=True)
class Hole:
    """A property that no longer holds under a fault; `lasts_s` is None while the fault lasts unannounced."""

    property: str
    sentence: str
    lasts_s: int | None = None


@dataclass(frozen=True)
class FaultRow:
    """One single point of failure: whether the unit announces it, after how long, what it opens."""

    id: str
    sentence: str
    announced: bool
    after_s: int | None = None
    holes: tuple[Hole, ...] = ()
    still_hold: int = 0


@dataclass(frozen=True)
class Basis:
    """What a proof rests on: by class of parts the fields that were read, and of how many pieces how many are new.

    `marked` is the proof with a mark for each name; None where it is known in words alone.
    """

    reads: Mapping[str, tuple[str, ...]]
    redone: int = 0
    pieces: int = 0
    marked: "Proof | None" = None


@dataclass(frozen=True)
class Proof:
    """Everything that was proved of one state of a home, within `assumptions`; `not_covered` says what wasn't.

    `basis` says on what it rests, where that is known; it is no part of what was proved.
    """

    home: str
    assumptions: tuple[Assumption, ...] = ()
    not_covered: tuple[str, ...] = ()
    states: int = 0
    seconds: float = 0.0
    properties: tuple[Proved, ...] = ()
    faults: tuple[FaultRow, ...] = ()
    basis: Basis | None = field(default=None, compare=False, repr=False)

    @property
    def holds(self) -> bool:
        """Whether every property holds."""
        return all(each.verdict is ProofVerdict.HOLDS for each in self.properties)


def both_bases(first: Proof, second: Proof) -> Basis | None:
    """What a proof rests on that was put together from two; None where that is not known of both."""
    if first.basis is None or second.basis is None:
        return None
    reads = {of: set(fields) for of, fields in first.basis.reads.items()}
    for of, fields in second.basis.reads.items():
        reads.setdefault(of, set()).update(fields)
    return Basis({of: tuple(sorted(fields)) for of, fields in sorted(reads.items())})


def worked_again(proof: Proof) -> str:
    """How many pieces of a proof had to be worked out, in a sentence; blank when that is not known."""
    basis = proof.basis
    if basis is None or not basis.pieces:
        return ""
    if not basis.redone:
        return f"Nothing that it rests on has moved: all {basis.pieces} pieces were kept."
    return f"Pieces worked out again: {basis.redone} of {basis.pieces}."


def too_large_told(proof: Proof) -> str:
    """How many properties are too large, in a sentence; "" when none is."""
    count = sum(each.too_large for each in proof.properties)
    if not count:
        return ""
    if count == 1:
        return "One property is too large to be searched whole with the time and memory given, so it is not proved."
    told = f"{count} properties are too large to be searched whole with the time and memory given"
    return f"{told}, so they are not proved."
