"""The cases of the intruder run: parts of the home, seasons, clocks, sets of each area, what is wrong at first."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from alarmlib.control.inputs import Inhibit, Input, PowerBack, PowerLost
from alarmlib.control.layout import State
from alarmlib.control.machine import step
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.intruder.search import alone
from alarmlib.proof.intruder.ways import CannotBeSet, set_state, with_spent
from alarmlib.proof.search import loose
from alarmlib.proof.search.apart import sets_beside
from alarmlib.proof.search.rows import bits
from alarmlib.proof.search.setups import clocks, proof_setup

SET_FULL_NAME = "set_full"


@dataclass(frozen=True)
class Clocked:
    """A setup of the home: its season, and how its clock runs."""

    season: str
    clock: float
    setup: Setup


def setups_of(home: Home, sure: frozenset[str]) -> tuple[Clocked, ...]:
    """Every setup that differs: the seasons, each with its clock right, slow and fast.

    Our own list.
    """
    found: dict[Setup, Clocked] = {}
    for season in ("", *(season.id for season in home.control_unit.seasons)):
        for clock in clocks(home):
            setup = proof_setup(home, season, clock, sure)
            found.setdefault(setup, Clocked(season, clock, setup))
    return tuple(found.values())


@dataclass(frozen=True)
class IntruderBegin:
    """How an intruder run begins: which areas are set how, what was done before, what became of the power.

    `rests`: detectors that setting may have left asleep, each with its number in the state (`loose`).
    `spent`: zones that have given as many alarms in this set period as the unit listens to.
    """

    sets: tuple[tuple[str, str], ...]
    inhibited: tuple[str, ...] = ()
    power: str = ""
    rests: tuple[tuple[str, int], ...] = ()
    spent: tuple[str, ...] = ()

    def state(self, setup: Setup) -> State:
        """The state. Raises CannotBeSet when the unit refuses.

        By `alarmlib.control.machine.step`.
        """
        before: tuple[Input, ...] = tuple(Inhibit(zone) for zone in self.inhibited)
        state = set_state(setup, dict(self.sets), before)
        if self.power:
            state, _ = step(setup, state, (PowerLost(),))
        if self.power == "back":
            state, _ = step(setup, state, (PowerBack(),))
        return loose.put(setup, with_spent(setup, state, self.spent), dict(self.rests))


def beginnings(
    setup: Setup, masks: FaultMasks, sets: dict[str, str], area: str, areas: frozenset[str]
) -> Iterator[tuple[dict[State, int], dict[State, IntruderBegin]]]:
    """For what the other areas are (`sets_beside`): the states in which a run begins, each with its faults.

    `sets` is how the area is set (left out when it isn't), `masks` the faults that begin so. Faults that only keep
    devices from being heard begin as no fault does. A combination of the others that the unit refuses is left out;
    a refusal of the set itself raises CannotBeSet.
    Our own list.
    """
    IntruderBegin(tuple(sets.items())).state(setup)
    for others in sets_beside(setup, area, areas):
        grouped: dict[IntruderBegin, int] = {}
        for fault in bits(masks.all):
            begin = _begin(setup, masks, 1 << fault, {**others, **sets})
            grouped[begin] = grouped.get(begin, 0) | 1 << fault
        yield from _states(setup, grouped)


def _states(
    setup: Setup, grouped: dict[IntruderBegin, int]
) -> Iterator[tuple[dict[State, int], dict[State, IntruderBegin]]]:
    states: dict[State, int] = {}
    begins: dict[State, IntruderBegin] = {}
    try:
        for begin, mask in grouped.items():
            state = begin.state(setup)
            states[state] = states.get(state, 0) | mask
            begins.setdefault(state, begin)
    except CannotBeSet:
        return
    yield states, begins


def just_set(
    setup: Setup, sets: dict[str, str], rests: Mapping[str, int]
) -> Iterator[tuple[dict[State, int], dict[State, IntruderBegin]]]:
    """As `beginnings`, without a fault, in the second in which these areas are set; `rests` as in `IntruderBegin`.

    Nothing where none of these detectors sleeps in this setup, or where the unit refuses.
    By `alarmlib.proof.search.departures`.
    """
    known = setup.layout.device_of
    kept = tuple(sorted((device, number) for device, number in rests.items() if device in known))
    if kept:
        yield from _states(setup, {IntruderBegin(tuple(sorted(sets.items())), rests=kept): 1})


def _begin(setup: Setup, masks: FaultMasks, fault: int, sets: dict[str, str]) -> IntruderBegin:
    out, spent = (
        tuple(zone for zone, mask in found.items() if mask & fault and not alone(setup, zone))
        for found in (masks.inhibited_of, masks.spent_of)
    )
    power = "lost" if fault & masks.unit_dead else "back" if fault & masks.restarts else ""
    known = {zone.id for zone in setup.zones}
    return IntruderBegin(
        tuple(sorted(sets.items())),
        tuple(zone for zone in out if zone in known),
        power,
        spent=tuple(zone for zone in spent if zone in known),
    )


def faults_beginning(masks: FaultMasks, area: str, part: str | None) -> FaultMasks:
    """The faults under which the area is in that set when somebody comes (None: unset, or the unit dead).

    No fault, and those that leave the set as it is, belong to every set.
    Our own list.
    """
    wrong = {name: mask for name, mask in masks.wrong_set_of.items() if name.partition("/")[0] == area}
    unset = masks.not_set_of.get(area, 0) | masks.unit_dead
    if part is None:
        return replace(masks, all=unset)
    elsewhere = 0
    for name, mask in wrong.items():
        elsewhere |= mask if name != f"{area}/{set_name(part)}" else 0
    return replace(masks, all=masks.all & ~unset & ~elsewhere)


def set_name(part: str) -> str:
    """The name of a set in the id of a property."""
    return part or SET_FULL_NAME
