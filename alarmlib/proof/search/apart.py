"""Areas that share nothing, proved apart: which sets of the others a search begins with, and why these are enough.

**Sharing.** Two areas share something when a zone belongs to both, when a zone of one may confirm one of the other, or
when one takes over the other's entry delay; so do all areas of a unit that limits its siren time in an hour. Areas
that share something, in a row, are one group. `step` writes to an area and its zones from these alone, from what
reaches the unit in the second, and from the unit's own numbers, which what reaches it alone changes (but for test mode,
which no search begins). So how one group goes on does not depend on how another is set.

**Somebody may alarm** (habits, pairs of habits). An alarm is the first of some group. However the groups beside that
one and those of the habit itself are set, the same events give the same alarm in the same second. So one other group at
a time is enough, and no alarm is lost or added.

**An intruder.** A group that is unset does no more than in any set if what its zones do then they do always
(`_alike_in_every_set`). An intruder unnoticed or unheard with several groups set is so in the same second with all but
the area's own unset: rooms that are reached too early need no other group. The wait until somebody hears begins when
some group notices, and is longest with that group alone beside the area's own, since others that are set only shorten
it. So one other group at a time is enough. Areas for which this does not hold are taken with the area's own group, in
every combination.

**An alarm that is meant** (a habit expected to give one) may be missed in one combination alone. Areas that the habit
speaks to, and those that may do more when unset, are taken in every combination. Of the others unset is the worst, as
for an intruder.

Not covered: groups that share something are still taken in every combination, and so are part sets of one group.
"""

from collections.abc import Collection, Iterator
from itertools import product

from alarmlib.control.functions import Action, Situation
from alarmlib.control.layout import ZoneAt
from alarmlib.control.setup import Setup
from alarmlib.model.words import Function
from alarmlib.proof.intruder.ways import UNSET, sets_of

_STILL = frozenset({Action.IGNORE, Action.CHIME, Action.LEAVE, Action.WARN})


def groups_of(setup: Setup) -> tuple[frozenset[str], ...]:
    """The areas, those that share something together, in the order of the unit.

    Our own construction; a test compares proofs with every combination.
    """
    groups = [frozenset({area.id}) for area in setup.areas]
    for shared in _shared(setup):
        touched = [group for group in groups if group & shared]
        at = groups.index(touched[0])
        groups = [group for group in groups if group not in touched[1:]]
        groups[at] = frozenset().union(*touched)
    return tuple(groups)


def _shared(setup: Setup) -> Iterator[frozenset[str]]:
    areas_of = {zone.id: frozenset(zone.areas) for zone in setup.zones}
    for zone in setup.zones:
        yield areas_of[zone.id].union(*(areas_of[partner] for partner in zone.partners))
    yield from (frozenset({area.id, area.follows}) for area in setup.areas if area.follows)
    if setup.behaviour.siren_cap_s:
        yield frozenset(area.id for area in setup.areas)


def sets_apart(setup: Setup, own: Collection[str], free: Collection[str]) -> Iterator[dict[str, str]]:
    """The sets of the areas of `free` to begin with, unset ones left out: those of `own`, and of one other group.

    Every combination of the groups that `own` belongs to, alone and beside every combination of each other group.
    By `groups_of`; the argument is this module's.
    """
    groups = groups_of(setup)
    with_own = frozenset(own).union(*(group for group in groups if group & frozenset(own)))
    others = [group for group in groups if not group & with_own]
    for here in _combinations(setup, with_own & frozenset(free)):
        yield here
        for group in others:
            yield from (here | there for there in _combinations(setup, group & frozenset(free)) if there)


def _combinations(setup: Setup, areas: Collection[str]) -> Iterator[dict[str, str]]:
    """Every combination of the sets of these areas, all unset first."""
    free = [area.id for area in setup.areas if area.id in areas]
    for chosen in product(*((UNSET, *sets_of(setup, area)) for area in free)):
        yield {area: part for area, part in zip(free, chosen, strict=True) if part != UNSET}


def sets_beside(setup: Setup, area: str, others: Collection[str]) -> Iterator[dict[str, str]]:
    """The sets of the areas beside this one that an intruder's run begins with, unset ones left out.

    By `sets_apart`.
    """
    return sets_apart(setup, louder_unset(setup) | {area}, frozenset(others) - {area})


def louder_unset(setup: Setup) -> frozenset[str]:
    """The areas that may do more when unset than in a set: an intruder's run takes them in every combination.

    Our own list, by the unit's own table.
    """
    return frozenset(area for zone in setup.layout.zones if not _alike_in_every_set(zone) for area in zone.setup.areas)


def _alike_in_every_set(zone: ZoneAt) -> bool:
    """Whether a zone does nothing when unset, or the same then as ever, by itself and without sleep."""
    if zone.function is Function.KEY_SWITCH:
        return False
    if zone.actions[Situation.UNSET] in _STILL:
        return True
    rests = any(device.sleep_s for device in zone.setup.devices)
    return not zone.setup.confirm_s and not rests and not set(zone.actions[: Situation.TEST]) & _STILL
