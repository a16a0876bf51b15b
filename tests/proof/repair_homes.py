"""Homes with a hole or a tight delay, and brute force over every set of at most three changes to them."""

from collections import Counter
from collections.abc import Callable, Collection, Iterator
from itertools import combinations
from math import fsum

from alarmlib.checks.assess import assess
from alarmlib.checks.finding import Verdict as Weight
from alarmlib.checks.judged import judge_of
from alarmlib.model import Home
from alarmlib.proof.prove import Asked, prove
from alarmlib.proof.repairs.candidates import candidates
from alarmlib.proof.repairs.changes import EditWay, RepairChange, changed, fit_together
from alarmlib.proof.repairs.cheapest import Repair, Sought, seek
from alarmlib.proof.repairs.ways_home import ways_home
from alarmlib.proof.report.verdicts import Proof, ProofVerdict

RUNS = ("ways", "habits")
HOME = (("open", "front", 3), ("close", "front", 2), ("walk_to", "keypad", 20), ("unset", "house", 3))
SIREN = {"id": "siren", "name": "Siren", "kind": "outside_siren"}
PANE = {"id": "pane", "name": "Pane", "room": "living", "kind": "window"}
PANE_CONTACT = {"id": "pane_contact", "name": "Pane contact", "kind": "contact", "openings": ["pane"], "zone": "pane_z"}
PANE_ZONE = {"id": "pane_z", "label": "Pane", "function": "at_once", "areas": ["house"]}
FRONT = {"id": "front", "name": "Front", "room": "hall", "kind": "door", "entry_exit": True}
THROUGH = {"begins_in": "set_full", "steps": (HOME[0], ("walk_to", "living", 6), ("walk_to", "keypad", 6), HOME[3])}
FOB_PRICE = {"id": "fob", "kind": "fob", "price": 10}
SLOW = {"begins_in": "set_full", "steps": HOME}
ROOMS = {"site.rooms.attic.guarded": False}
SETTINGS = (EditWay.FUNCTION, EditWay.PUT_BACK, EditWay.LEAVE_OUT, EditWay.DOOR)
Put = Callable[..., Home]
Made = Callable[..., Home]


def proved(home: Home) -> Proof:
    """The proof that a search begins with."""
    return prove(home, "none", asked=Asked(RUNS))


def some(home: Home, *ways: EditWay, only: Collection[str] = ()) -> tuple[RepairChange, ...]:
    """The changes of these kinds, and those named, in their own order."""
    return tuple(change for change in candidates(home) if change.way in ways or change.id in only)


class Brute:
    """Every set of at most three changes in the order of its cost, each proved once."""

    def __init__(self, home: Home, proof: Proof, changes: tuple[RepairChange, ...]) -> None:
        self.home, self.changes = home, changes
        self.home_before = ways_home(home)
        self.judged_before = musts(home)
        self.before = {each.id: each.verdict for each in proof.properties}
        self.known: dict[tuple[str, ...], dict[str, ProofVerdict] | None] = {}

    def cheapest(self, targets: Collection[str]) -> tuple[str, ...] | None:
        """The ids of the cheapest set that repairs these; None when none does."""
        good = (chosen for chosen in self._by_cost() if self.repairs(chosen, targets))
        return next((tuple(change.id for change in chosen) for chosen in good), None)

    def repairs(self, chosen: tuple[RepairChange, ...], targets: Collection[str]) -> bool:
        """Whether all that held and all of these hold, and nothing that wasn't breached is."""
        after = self._after(chosen)
        held = {name for name, verdict in self.before.items() if verdict is ProofVerdict.HOLDS} | set(targets)
        good = after is not None and all(after.get(name, ProofVerdict.HOLDS) is ProofVerdict.HOLDS for name in held)
        bad = {name for name, verdict in (after or {}).items() if verdict is ProofVerdict.BREACHED}
        return good and all(self.before.get(name) is ProofVerdict.BREACHED for name in bad) and self._accepted(chosen)

    def _accepted(self, chosen: tuple[RepairChange, ...]) -> bool:
        """Whether everybody still comes home, and the checks find nothing more that must be fixed."""
        copy = changed(self.home, chosen)
        assert copy is not None
        return self.home_before <= ways_home(copy) and not musts(copy) - self.judged_before

    def _after(self, chosen: tuple[RepairChange, ...]) -> dict[str, ProofVerdict] | None:
        name = tuple(change.id for change in chosen)
        if name not in self.known:
            copy = changed(self.home, chosen)
            found = None if copy is None else {each.id: each.verdict for each in proved(copy).properties}
            self.known[name] = found
        return self.known[name]

    def _by_cost(self) -> Iterator[tuple[RepairChange, ...]]:
        place = {change.id: at for at, change in enumerate(self.changes)}
        sets = [chosen for count in range(4) for chosen in combinations(self.changes, count) if fit_together(chosen)]
        sets.sort(key=lambda chosen: (fsum(c.price for c in chosen), len(chosen), [place[c.id] for c in chosen]))
        return iter(sets)


def near(home: Home, *begin: str) -> tuple[RepairChange, ...]:
    """The changes whose ids begin so; of entry delays those from 20 s to 45 s."""
    found = (change for change in candidates(home) if change.id.startswith(begin))
    return tuple(change for change in found if change.way is not EditWay.ENTRY or 20 <= change.value_s <= 45)


def musts(home: Home) -> Counter[tuple[str, str]]:
    """How many findings each check has of each subject that must be fixed, all checks run from the beginning."""
    return Counter((each.id, each.subject) for each in assess(home).findings if each.verdict is Weight.MUST)


def breached(proof: Proof) -> list[str]:
    """The ids of what is breached."""
    return [each.id for each in proof.properties if each.verdict is ProofVerdict.BREACHED]


def of(sought: Sought, *names: str) -> Repair | None:
    """The fix that was found for all of these."""
    return next((repair for repair in sought.repairs if set(names) <= set(repair.repairs)), None)


def agrees(home: Home, changes: tuple[RepairChange, ...]) -> Sought:
    """Search, and hold each result, one breach at a time and all at once, against brute force; prove each again."""
    whole, proof = home.model_dump_json(), proved(home)
    sought = seek(home, proof, changes=changes, patience=1000, judge=judge_of(home))
    every = Brute(home, proof, changes)
    names = breached(proof)
    assert names
    for targets in [[name] for name in names] + ([names] if len(names) > 1 else []):
        wanted = every.cheapest(targets)
        found = [
            tuple(c.id for c in repair.changes) for repair in sought.repairs if set(targets) <= set(repair.repairs)
        ]
        assert (wanted in found) if wanted is not None else not found
        label = targets[0] if len(targets) == 1 else "all"
        assert (label in {each.id for each in sought.unrepaired}) is (wanted is None)
    for repair in sought.repairs:
        assert every.repairs(repair.changes, repair.repairs)
        assert repair.home == changed(home, repair.changes)
        assert repair.proof.properties == proved(repair.home).properties
        assert list(repair.still_open) == breached(repair.proof)
    assert home.model_dump_json() == whole
    return sought


def ids(repair: Repair | None) -> list[str]:
    """What a fix changes."""
    assert repair is not None
    return [change.id for change in repair.changes]
