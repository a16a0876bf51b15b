"""The search for the cheapest set of changes, with what counterexamples tell of sets that need not be proved."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from math import fsum

from alarmlib.errors import AlarmProblem
from alarmlib.model.home import Home
from alarmlib.proof.repairs.bearing import bearing
from alarmlib.proof.repairs.changes import RepairChange, fit_together
from alarmlib.proof.repairs.copies import Chosen, Copies, run_of
from alarmlib.proof.repairs.judge import Acceptance
from alarmlib.proof.report.verdicts import ProofVerdict, Proved


def rank(changes: Sequence[RepairChange], chosen: Chosen) -> tuple[float, int, tuple[int, ...]]:
    """By what sets of changes are compared: cost, then how many, then the order in which changes are listed.

    Our own order.
    """
    places = tuple(sorted(chosen))
    return fsum(changes[place].price for place in places), len(places), places


def worse(proved: Proved, before: Proved | None) -> bool:
    """Whether a property is worse off than it was; one that wasn't listed held.

    Our own definition.
    """
    if proved.verdict is ProofVerdict.BREACHED:
        return before is None or before.verdict is not ProofVerdict.BREACHED
    return proved.verdict is ProofVerdict.NOT_SETTLED and (before is None or before.verdict is ProofVerdict.HOLDS)


@dataclass(frozen=True)
class _Refusal:
    """Sets that choose exactly `chosen` among the changes of `bears` leave a property breached."""

    bears: Chosen
    chosen: Chosen


def silent(_tried: int) -> None:
    """Tells nobody."""


JUDGED_TO_PROVED = 10  # so many sets may be refused by the checks alone in place of each that is proved


@dataclass
class Goal:
    """What is to hold, and how far the search for it came: sets still to look at by rank, what was looked at."""

    name: str
    targets: frozenset[str]
    heap: list[tuple[tuple[float, int, tuple[int, ...]], Chosen]] = field(default_factory=list)
    seen: set[Chosen] = field(default_factory=set)
    looked: int = 0
    cost: float = 0.0
    used: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        if not self.seen:
            self.heap, self.seen = [((0.0, 0, ()), frozenset())], {frozenset()}


@dataclass
class Search:
    """Sets of changes by cost, and which of them are known to be no fix."""

    copies: Copies
    most: int
    acceptance: Acceptance
    tell: Callable[[int], None] = silent
    tried: int = 0
    judged: int = 0
    until: int = 0
    judged_until: int = 0
    gave_up: bool = False
    objected: bool = False
    refused: dict[str, list[_Refusal]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for each in self.copies.plain.values():
            if each.verdict is ProofVerdict.BREACHED:
                self._refuse(frozenset(), each, self.copies.home)

    def begin(self, tell: Callable[[int], None], patience: int) -> None:
        """Begin or go on with a goal: whom to tell of each set, and for how many sets that are proved."""
        self.tell, self.until = tell, self.tried + patience
        self.judged_until = self.judged + patience * JUDGED_TO_PROVED

    def cheapest(self, goal: Goal) -> Chosen | None:
        """The first set, by `rank`, with which all targets hold and nothing is worse.

        None when there is none, or when it gave up: then the goal can be gone on with from where it was left.
        """
        self.gave_up = False
        while goal.heap:
            place, chosen = heappop(goal.heap)
            standing = self._standing(chosen, goal.targets)
            if len(chosen) + _apart(standing) > self.most:
                continue  # its counterexamples need more changes than are left
            bears = min(standing, key=_short, default=None)
            if bears is None and (self.tried >= self.until or self.judged >= self.judged_until):
                heappush(goal.heap, (place, chosen))
                self.gave_up = True
                return None
            bears = self._looked(goal, chosen, place[0]) if bears is None else bears
            if bears is None:
                return chosen
            self._spread(goal, chosen, bears)
        return None

    def _looked(self, goal: Goal, chosen: Chosen, cost: float) -> Chosen | None:
        """What refuses a set of which nothing is known yet; None when nothing does."""
        goal.looked, goal.cost = goal.looked + 1, cost
        goal.used |= chosen
        bears = self._probed(chosen, goal.targets)
        return self._tried(chosen, goal.targets) if bears is None else bears

    def _spread(self, goal: Goal, chosen: Chosen, bears: Chosen) -> None:
        """Each set with one change more that can bear on what refuses this one."""
        changes = self.copies.changes
        for place in bears - chosen if len(chosen) < self.most else ():
            more = chosen | {place}
            if more not in goal.seen and fit_together(changes[each] for each in more):
                goal.seen.add(more)
                heappush(goal.heap, (rank(changes, more), more))

    def _standing(self, chosen: Chosen, targets: frozenset[str]) -> list[Chosen]:
        """For each counterexample that is known to come about with this set too: which more changes can bear on it."""
        found = []
        for name, refusals in self.refused.items():
            before = self.copies.plain.get(name)
            if name in targets or before is None or before.verdict is not ProofVerdict.BREACHED:
                found += [each.bears - chosen for each in refusals if chosen & each.bears == each.chosen]
        return found

    def _probed(self, chosen: Chosen, targets: frozenset[str]) -> Chosen | None:
        """What a set with each delay moved as far as it goes is refused by, if that refuses this set too."""
        far = frozenset(_furthest(self.copies.changes, place) for place in chosen)
        home = self.copies.home_of(far)
        if far == chosen or home is None or self._standing(far, targets):
            return None
        self.tried += 1
        try:
            for proved in self._targets_bad(far, targets):
                self._refuse(far, proved, home)
        except AlarmProblem:
            return None
        return min(self._standing(chosen, targets), key=_short, default=None)

    def _tried(self, chosen: Chosen, targets: frozenset[str]) -> Chosen | None:
        """The same by proving the copy: the targets first, then the checks and ways home, then all that held.

        Once the checks have refused a set, they are asked first: that is cheap.
        """
        home = self.copies.home_of(chosen)
        if home is None:
            return frozenset()
        try:
            return next(self._refusing(chosen, targets, home), None)
        except AlarmProblem:
            return frozenset(range(len(self.copies.changes)))

    def _refusing(self, chosen: Chosen, targets: frozenset[str], home: Home) -> Iterator[Chosen]:
        judged = self.objected
        if judged:
            yield from self._objections(chosen, home)
        self.tried += 1
        self.tell(self.tried)
        for proved in self._targets_bad(chosen, targets):
            yield self._refuse(chosen, proved, home)
        if not judged:
            yield from self._objections(chosen, home)
        for proved in self._held_bad(chosen, targets):
            yield self._refuse(chosen, proved, home)

    def _objections(self, chosen: Chosen, home: Home) -> Iterator[Chosen]:
        """The changes that can bear on what the checks, or a way home, have against a set."""
        self.judged += 1
        against = self.acceptance.against(home)
        if against is not None:
            self.objected = True
            self.refused.setdefault(against.name, []).append(_Refusal(against.bears, chosen & against.bears))
            yield against.bears

    def _held_bad(self, chosen: Chosen, targets: frozenset[str]) -> Iterator[Proved]:
        """Each other property that speaks against the set, what is quickly proved first."""
        for known in self.copies.runs(chosen):
            yield from self._bad(known, targets)
        properties = self.copies.whole(chosen).properties
        yield from self._bad(sorted(properties, key=lambda each: each.id == "pairs"), targets)

    def _targets_bad(self, chosen: Chosen, targets: frozenset[str]) -> Iterator[Proved]:
        for run in sorted({run_of(name) for name in targets}):
            names = sorted(name for name in targets if run_of(name) == run)
            yield from self._bad(self.copies.proved(chosen, names).values(), targets)

    def _bad(self, properties: Iterable[Proved], targets: frozenset[str]) -> Iterator[Proved]:
        for each in properties:
            if worse(each, self.copies.plain.get(each.id)) or (
                each.id in targets and each.verdict is not ProofVerdict.HOLDS
            ):
                yield each

    def _refuse(self, chosen: Chosen, proved: Proved, home: Home) -> Chosen:
        """Learn from a property that does not hold in this copy; what can bear on its counterexample."""
        bears = bearing(home, proved, self.copies.changes)
        self.refused.setdefault(proved.id, []).append(_Refusal(bears, chosen & bears))
        return bears

    def why_none(self, goal: Goal) -> str:
        """How far it looked when it gave up; else that no set fixes it, and how many changes it needs at least."""
        if self.gave_up:
            return (
                f"Looked at {goal.looked} {'set' if goal.looked == 1 else 'sets'} of changes up to a cost of "
                f"{goal.cost:.3g}, with {len(goal.used)} of the {len(self.copies.changes)} changes that may be tried. "
                "Nothing was found so far. Continue the search to look further."
            )
        needed = _apart(self._standing(frozenset(), goal.targets))
        many = len(self.copies.changes)
        none = f"No set of at most {self.most} of the {many} changes that are tried fixes it."
        return f"{none} Its cases need {needed} changes at least." if needed > self.most else none


def _furthest(changes: Sequence[RepairChange], place: int) -> int:
    """The change of the same delay in the same direction that moves it furthest; itself when it is no delay."""
    change = changes[place]
    alike = [
        at
        for at, other in enumerate(changes)
        if change.value_s and (other.way, other.slots, other.longer) == (change.way, change.slots, change.longer)
    ]
    return max(alike, key=lambda at: changes[at].value_s * (1 if change.longer else -1), default=place)


def _short(bears: Chosen) -> tuple[int, list[int]]:
    return len(bears), sorted(bears)


def _apart(bearing: Sequence[Chosen]) -> int:
    """How many of these have no change in common, taken greedily: each needs one of its own."""
    taken: set[int] = set()
    count = 0
    for bears in sorted(bearing, key=_short):
        if not bears & taken:
            taken |= bears
            count += 1
    return count
