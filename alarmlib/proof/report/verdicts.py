"""What a proof says: a verdict a property, the worst case and how it comes about, faults, what was assumed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from alarmlib.model.words import Word

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
class Proof:
    """Everything that was proved of one state of a home, within `assumptions`; `not_covered` says what wasn't."""

    home: str
    assumptions: tuple[Assumption, ...] = ()
    not_covered: tuple[str, ...] = ()
    states: int = 0
    seconds: float = 0.0
    properties: tuple[Proved, ...] = ()
    faults: tuple[FaultRow, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether every property holds."""
        return all(each.verdict is ProofVerdict.HOLDS for each in self.properties)
