"""The states in which a habit may begin: its own areas as it says, the others that matter in every set."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace

from alarmlib.control.inputs import SET_FULL, Closes, Inhibit, Input, Opens, Sees
from alarmlib.control.layout import A, State
from alarmlib.control.setup import Setup
from alarmlib.control.simulate import areas_set
from alarmlib.errors import FieldProblem
from alarmlib.model.household import BeginsIn, Habit
from alarmlib.proof.faults.fault import FaultMasks
from alarmlib.proof.habits.habit_script import Script
from alarmlib.proof.intruder.ways import CannotBeSet, set_state, with_spent
from alarmlib.proof.search.apart import sets_apart
from alarmlib.proof.search.setups import reduced

_Out = tuple[str, bool]
"""A zone that is not heard: left out, or (True) since it has reached its limit of alarms."""


@dataclass(frozen=True)
class HabitBegin:
    """The state of the unit when a habit begins: the sets of its areas, zones left out, and under which faults.

    `spent`: zones that have given as many alarms in this set period as the unit listens to.
    """

    sets: tuple[tuple[str, str], ...]
    inhibited: tuple[str, ...] = ()
    under: int = 1
    spent: tuple[str, ...] = ()


@dataclass
class Beginnings:
    """The states in which habits begin, each run up to once for a setup."""

    setup: Setup
    _known: dict[HabitBegin, State | None] = field(default_factory=dict)

    def state(self, begin: HabitBegin) -> State | None:
        """The state, all delays long over; None when the unit refuses to be set so."""
        if begin not in self._known:
            leaves_out = tuple(Inhibit(zone) for zone in begin.inhibited)
            try:
                state = set_state(self.setup, dict(begin.sets), leaves_out)
                self._known[begin] = with_spent(self.setup, state, begin.spent)
            except CannotBeSet:
                self._known[begin] = None
        return self._known[begin]


def begins_of(
    setup: Setup,
    habit: Habit,
    areas: Collection[str],
    masks: FaultMasks,
    zones: Iterable[str],
    together: Collection[str] = (),
) -> list[HabitBegin]:
    """Every state of the unit at first: the habit's areas as it says, the others of `areas` as `sets_apart` has them.

    `together`: areas taken with the habit's own, in every combination.
    `zones`: those that could matter when left out; one way more for each fault in which they are, or are not heard.
    Raises FieldProblem when the habit names no area that could be set so.
    Our own reading of a habit.
    """
    own = sets_asked(setup, habit)
    asked = frozenset(area for area, _ in own)
    beside = sets_apart(setup, asked | frozenset(together), frozenset(areas) - asked)
    plain = [HabitBegin((*_named(own), *rest.items())) for rest in beside]
    left_out = {(zone, False): masks.inhibited_of.get(zone, 0) for zone in zones}
    left_out |= {(zone, True): masks.spent_of.get(zone, 0) for zone in zones if plain and plain[0].sets}
    parts: dict[tuple[_Out, ...], int] = {(): masks.all}
    for out, under in left_out.items():
        parts = {key: mask for old, rest in parts.items() for key, mask in _split(old, rest, out, under) if mask}
    return [_with_out(begin, outs, mask) for begin in plain for outs, mask in parts.items()]


def _with_out(begin: HabitBegin, outs: tuple[_Out, ...], under: int) -> HabitBegin:
    inhibited, spent = (tuple(zone for zone, is_spent in outs if is_spent is wanted) for wanted in (False, True))
    return replace(begin, inhibited=inhibited, spent=spent, under=under)


def _split(old: tuple[_Out, ...], mask: int, out: _Out, under: int) -> Iterator[tuple[tuple[_Out, ...], int]]:
    yield old, mask & ~under
    yield (*old, out), mask & under


def _named(own: Iterable[tuple[str, str | None]]) -> Iterator[tuple[str, str]]:
    return ((area, part) for area, part in own if part is not None)


def sets_asked(setup: Setup, habit: Habit) -> tuple[tuple[str, str | None], ...]:
    """Each area that the habit's beginning speaks of, and its set; None: unset.

    Raises FieldProblem when there is no such area.
    Our own reading of a habit; `alarmlib.control.simulate.begin_state` reads it so.
    """
    part = habit.part_set if habit.begins_in is BeginsIn.PART_SET else SET_FULL
    areas = areas_set(habit, setup, part)
    if not areas:
        raise FieldProblem(
            "", f"habit {habit.id}", habit.begins_in.text, "choose a way in which the control unit can be set"
        )
    return tuple((area, None if habit.begins_in is BeginsIn.UNSET else part) for area in areas)


def is_set_so(setup: Setup, state: State, asked: Iterable[tuple[str, str | None]]) -> bool:
    """Whether those areas are set so in a state, whatever delay may be running."""
    at = setup.layout.area_of
    return all(state[at[area].base + A.SET] == (0 if part is None else at[area].set_of[part]) for area, part in asked)


def touched_areas(setup: Setup, scripts: Iterable[Script]) -> frozenset[str]:
    """The areas that these habits could change or that decide what happens to them.

    Those of the zones they trip, those they speak to, and the areas that share an entry delay with one of these.
    Our own construction; a test compares it with every area taken.
    """
    found: set[str] = set()
    for script in scripts:
        zones = {setup.layout.device_of[device].zone for device in script.devices if device in setup.layout.device_of}
        found.update(area for zone in zones for area in zone.setup.areas)
        found.update(spoken_to(setup, script))
    while True:
        follow = {area.id for area in setup.areas if area.follows in found}
        if follow <= found:
            return frozenset(found)
        found |= follow


def spoken_to(setup: Setup, script: Script) -> Iterator[str]:
    """The areas that a habit sets, unsets or otherwise speaks to, some more than once.

    Our own reading of a script.
    """
    for event in {event for label in script.kinds for row in label.told for event in row}:
        yield from _areas_of(setup, event)


def _areas_of(setup: Setup, event: Input) -> tuple[str, ...]:
    if isinstance(event, (Opens, Closes, Sees)):
        return ()
    if isinstance(event, Inhibit):
        return setup.layout.zone_of[event.zone].setup.areas
    area = getattr(event, "area", "")
    return (area,) if area else ()


def zones_of(setup: Setup, script: Script) -> frozenset[str]:
    """The zones that a habit trips or speaks of.

    Our own construction.
    """
    found = {setup.layout.device_of[device].zone.id for device in script.devices}
    for event in (event for label in script.kinds for row in label.told for event in row):
        found.update({getattr(event, "zone", ""), getattr(event, "door", "")} - {""})
    return frozenset(found)


def with_partners(setup: Setup, zones: Collection[str]) -> Setup:
    """The setup with these zones alone, and those that confirm one of them.

    By `alarmlib.control.setup.Setup.only`.
    """
    kept = set(zones)
    partners = {zone.id: zone.partners for zone in setup.zones}
    while more := {partner for zone in kept for partner in partners[zone]} - kept:
        kept |= more
    return setup.only(kept)


def whole(setup: Setup, clock: float) -> Setup:
    """The whole setup with its times multiplied by `clock`: counterexamples are played again on it.

    By `alarmlib.proof.search.setups.reduced`, with what it leaves out put back.
    """
    timed = reduced(setup, clock, setup.layout.device_of)
    facts = setup.behaviour
    put_back = replace(timed.behaviour, recent_closing_s=facts.recent_closing_s, siren_cap_s=facts.siren_cap_s)
    return replace(timed, watches=setup.watches, behaviour=put_back)
