"""What the run of the ways in leaves for the others: its properties, and what is asked of its tallies later."""

from dataclasses import dataclass

from alarmlib.proof.intruder.intrusions import Tally
from alarmlib.proof.report.verdicts import Proved


@dataclass(frozen=True)
class ToldTally:
    """What of a tally the table of faults and a second mover ask: ways that faults open, and those open anyway.

    `opened`: faults that open the same, with the way, the room and the second of each; without what is open anyway.
    """

    rule: str
    area: str
    part: str
    opened: tuple[tuple[tuple[int, ...], tuple[tuple[str, str, int], ...]], ...]
    plain: tuple[tuple[str, str], ...]

    @staticmethod
    def of(tally: Tally) -> "ToldTally":
        """What is told of a tally."""
        alike: dict[tuple[tuple[str, str, int], ...], list[int]] = {}
        for fault, ticks in tally.opened.items():
            opened = tuple((*where, tick) for where, tick in ticks.items() if where not in tally.plain)
            alike.setdefault(opened, []).append(fault)
        rows = tuple((tuple(faults), opened) for opened, faults in alike.items() if opened)
        return ToldTally(tally.rule, tally.area, tally.part, rows, tuple(sorted(tally.plain)))

    def tally(self) -> Tally:
        """A tally of which this much is known."""
        opened = {
            fault: {(way, room): tick for way, room, tick in ticks} for faults, ticks in self.opened for fault in faults
        }
        return Tally(self.rule, self.area, self.part, opened=opened, plain=set(self.plain))


@dataclass(frozen=True)
class WaysFound:
    """What the run found: the properties, and what others ask of its tallies."""

    properties: tuple[Proved, ...] = ()
    tallies: tuple[ToldTally, ...] = ()
