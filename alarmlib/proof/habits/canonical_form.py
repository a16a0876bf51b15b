"""What a habit's run forgets of a state while an entry delay runs: which of the zones on the way wait for its end."""

from alarmlib.control.functions import Action, Situation
from alarmlib.control.layout import A, AreaAt, State, Z
from alarmlib.control.setup import Setup
from alarmlib.control.zone_memory import AGAIN, WAITING
from alarmlib.proof.search.setups import Canonical


def canonical_delay(setup: Setup) -> Canonical:
    """Of an area's zones that wait for its entry delay and would do the same, the first represents all.

    The delay ends in an alarm, which ends the run, or by unsetting, which forgets all that waits. Once one waits,
    a trip that could only make a zone wait is not remembered as tripped; the zone may trip in the next second anyhow.
    Everything else of a state is kept, since a person may set or unset at any time. Only for units without sleep times
    after a trip, and zones of one area whose devices have no lasting state.
    Our own quotient; a test compares alarms with and without it.
    """
    areas = [(area.base, _alike(area), _passing(setup, area)) for area in setup.layout.areas]

    def canonical(state: State) -> State:
        if not any(state[base + A.ENTRY] for base, *_ in areas):
            return state
        kept = list(state)
        for base, groups, passing in areas:
            if kept[base + A.ENTRY] and _one_waits(kept, groups):
                for slot in passing:
                    kept[slot] = 0
        return tuple(kept)

    return canonical


def _one_waits(state: list[int], groups: list[list[int]]) -> bool:
    """Whether any zone waits; the first of each group then represents all of it."""
    any_waits = False
    for group in groups:
        waiting = [slot for slot in group if state[slot] in (WAITING, AGAIN)]
        for slot in waiting:
            state[slot] -= 1
        if waiting:
            state[group[0]] += 1
            any_waits = True
    return any_waits


def _alike(area: AreaAt) -> list[list[int]]:
    """The memories of the zones of this area alone, grouped by what their alarm does."""
    groups: dict[tuple[bool, bool], list[int]] = {}
    for zone in area.zones:
        if len(zone.areas) == 1:
            groups.setdefault((zone.setup.silent, zone.setup.abort), []).append(zone.base + Z.MEMORY)
    return list(groups.values())


def _passing(setup: Setup, area: AreaAt) -> list[int]:
    """Where zones of this area alone note a trip that passes, if all that it does during the delay is to wait."""
    partners = {place for zone in setup.layout.zones for place in zone.partners}
    return [
        slot
        for slot, zone in setup.layout.passing
        if zone.areas == (area.place,) and zone.place not in partners and not zone.levels
        if zone.actions[Situation.ENTRY] is Action.WAIT
    ]
