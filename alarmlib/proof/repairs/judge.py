"""What speaks against a changed copy beside its proof: a finding that must be fixed, or a way home that is lost."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from alarmlib.model.home import Home
from alarmlib.proof.repairs.changes import EditWay, RepairChange
from alarmlib.proof.repairs.copies import Chosen
from alarmlib.proof.repairs.ways_home import Coming, ways_home

_NEVER_HOME = frozenset({EditWay.EXIT, EditWay.SIREN, EditWay.HABIT, EditWay.MOTION})


@dataclass(frozen=True)
class Objection:
    """What a check finds wrong with a home: of which subject, whether it must be fixed, and what the check read."""

    check: str
    subject: str
    must: bool
    sentence: str
    reads: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[str, str, bool]:
        """By what two findings count as the same one."""
        return self.check, self.subject, self.must


Judge = Callable[[Home], Sequence[Objection]]
"""All that the checks find wrong with a home: what must and what should be fixed."""


@dataclass(frozen=True)
class Against:
    """Why a copy is no fix: its name, a sentence, and the places of the changes that could take it away."""

    name: str
    sentence: str
    bears: Chosen


def nobody_judges(_home: Home) -> Sequence[Objection]:
    """A judge that finds nothing."""
    return ()


class Acceptance:
    """Holds copies against their home: new findings by a judge, lost ways home by playing them."""

    def __init__(self, home: Home, changes: Sequence[RepairChange], judge: Judge = nobody_judges) -> None:
        self.home, self.changes, self.judge = home, tuple(changes), judge
        self.before = Counter(each.key for each in judge(home))

    def against(self, made: Home) -> Against | None:
        """The first reason against a copy; None when nothing does.

        The judge's own checks; `alarmlib.proof.repairs.ways_home`.
        """
        for each in self._new(made, must=True):
            return Against(f"must/{each.check}/{each.subject}", each.sentence, self._touching(each.reads))
        for lost in sorted(self._home_before - ways_home(made), key=lambda each: (each.person, each.area, each.part)):
            name = f"home/{lost.person}/{lost.area}/{lost.part}/{lost.season}"
            return Against(name, lost.sentence(self.home), self._helping(lost))
        return None

    def brings(self, made: Home) -> tuple[str, ...]:
        """What should be fixed in a copy that the home itself did not have, in sentences."""
        return tuple(dict.fromkeys(each.sentence for each in self._new(made, must=False)))

    def _new(self, made: Home, must: bool) -> list[Objection]:
        """The findings that this copy has more of than the home."""
        said = [each for each in self.judge(made) if each.must is must]
        more = Counter(each.key for each in said) - self.before
        return [each for each in said if more[each.key]]

    @cached_property
    def _home_before(self) -> frozenset[Coming]:
        return ways_home(self.home)

    def _touching(self, reads: Sequence[str]) -> Chosen:
        """The changes that change a part of the home which the check read."""
        parts = [tuple(each.split(".")) for each in reads]
        return frozenset(
            place for place, change in enumerate(self.changes)
            if not reads or any(_meet(edit.path, part) for edit in change.edits for part in parts)
        )  # fmt: skip

    def _helping(self, lost: Coming) -> Chosen:
        """The changes that may open a way home: never a shorter delay, nor one more detector off the doors."""
        return frozenset(
            place for place, change in enumerate(self.changes)
            if change.way not in _NEVER_HOME
            and (change.way is not EditWay.ENTRY or change.longer)
            and (change.way is not EditWay.FOB or lost.person in change.about)
            and (not change.part or change.part == lost.part)
        )  # fmt: skip


def _meet(path: tuple[str, ...], part: tuple[str, ...]) -> bool:
    """Whether one is within the other."""
    return all(one == other for one, other in zip(path, part, strict=False))
