"""The setups a proof runs on: the home's own, with less in the state and its times at an end of their tolerance."""

from collections.abc import Callable, Collection
from dataclasses import replace
from math import ceil, floor

from alarmlib.control.from_home import setup_from_home
from alarmlib.control.functions import Action, Situation
from alarmlib.control.layout import A, AreaAt, State, U, Z, ZoneAt
from alarmlib.control.setup import Behaviour, Setup
from alarmlib.control.setup_parts import AreaSetup, ZoneSetup
from alarmlib.control.zone_memory import AGAIN, WAITING
from alarmlib.model.home import Home
from alarmlib.proof.search import loose

Canonical = Callable[[State], State]
_NOTHING = frozenset({Action.IGNORE, Action.CHIME, Action.LEAVE, Action.WARN})


def clocks(home: Home) -> tuple[float, ...]:
    """The unit's clock at both ends of its tolerance, and as it should be: all times of one clock are off alike.

    Reference: the owner's manual, else 10 % (our own default).
    """
    off = home.proof.tolerance_percent / 100
    return (1.0, 1 - off, 1 + off) if off else (1.0,)


def proof_setup(home: Home, season: str = "", clock: float = 1.0, sure: Collection[str] = ()) -> Setup:
    """The setup of that season with every time multiplied by `clock`, rounded away from 1, in whole seconds.

    Left out: what is watched for faults, the mark "just after setting", the siren time allowed in an hour (they
    change words and loudness, never whether an alarm begins), and the sleep after a trip of detectors that are not
    in `sure`: of those a search never claims that they trip, and not tripping is always one of its choices.
    Our own construction; tests compare it with the whole setup.
    """
    return reduced(setup_from_home(home, season), clock, sure)


def reduced(setup: Setup, clock: float = 1.0, sure: Collection[str] = ()) -> Setup:
    """The same of a setup.

    As `proof_setup`.
    """

    def off(time_s: int) -> int:
        return max(1, floor(time_s * clock) if clock < 1 else ceil(time_s * clock)) if time_s else 0

    return replace(
        setup,
        areas=tuple(_area(area, off) for area in setup.areas),
        zones=tuple(_zone(zone, off, sure) for zone in setup.zones),
        watches=(),
        behaviour=_behaviour(setup.behaviour, off),
    )


def _area(area: AreaSetup, off: Callable[[int], int]) -> AreaSetup:
    parts = tuple(replace(part, exit_s=off(part.exit_s)) for part in area.parts)
    return replace(
        area,
        exit_s=off(area.exit_s),
        entry_s=off(area.entry_s),
        siren_s=off(area.siren_s),
        abort_s=off(area.abort_s),
        parts=parts,
    )


def _zone(zone: ZoneSetup, off: Callable[[int], int], sure: Collection[str]) -> ZoneSetup:
    devices = tuple(device if device.id in sure else replace(device, sleep_s=0) for device in zone.devices)
    return replace(
        zone,
        devices=devices,
        entry_s=None if zone.entry_s is None else off(zone.entry_s),
        exit_s=None if zone.exit_s is None else off(zone.exit_s),
        confirm_s=off(zone.confirm_s),
        restore_hold_s=off(zone.restore_hold_s),
    )


def _behaviour(facts: Behaviour, off: Callable[[int], int]) -> Behaviour:
    return replace(
        facts,
        recent_closing_s=0,
        siren_cap_s=0,
        exit_after_door_s=off(facts.exit_after_door_s),
        wrong_code_lock_s=off(facts.wrong_code_lock_s),
        ignore_after_power_s=off(facts.ignore_after_power_s),
    )


def canonical_waiting(setup: Setup, inside: Collection[str] | None = None) -> Canonical:
    """What an intruder run forgets of a state: it ends at the first alarm, and nobody unsets before that.

    `inside` are the devices that may still trip (default: all).

    While an entry delay runs, of the zones that wait for its end and would do the same one represents all;
    once one waits, what another trip could only make wait again is not remembered as tripped, and a detector's
    rest that outlasts the delay has one value (another if it is left from setting: `loose`). A confirmation window
    of which no zone asks is not counted. What a zone notes that is not listened to is forgotten, since nobody sets it
    meanwhile. Once a siren sounds all is forgotten but when the message goes out.
    Our own quotient; a test steps both sides of it and compares what they do until the alarm.
    """
    asked = _partners(setup, inside)
    areas = [
        (area, _alike(area), _resting(setup, area), _only_waits(setup, area, asked)) for area in setup.layout.areas
    ]
    unasked = _unasked_windows(setup, asked)
    sets_at = [area.base + A.SET for area in setup.layout.areas]
    unheard: dict[tuple[int, ...], list[int]] = {}

    message = [area.base + place for area in setup.layout.areas for place in (A.SIREN, A.SOUND, A.ABORT, A.SENT)]
    sounds = [area.base + A.SIREN for area in setup.layout.areas]
    quiet = [0] * setup.layout.size

    def canonical(state: State) -> State:
        if any(state[slot] for slot in sounds):
            kept = quiet[:]
            for slot in message:
                kept[slot] = state[slot]
            return tuple(kept)
        kept = loose.canonical_rests(setup, state)
        sets = tuple(kept[slot] for slot in sets_at) if not kept[U.LOST] else ()
        if sets not in unheard:
            unheard[sets] = _unheard(setup, sets, asked)
        for slot in (*unasked, *unheard[sets]):
            kept[slot] = 0
        for area, groups, resting, tripped in areas:
            left_s = kept[area.base + A.ENTRY]
            if left_s and _one_waits(kept, groups):
                for slot, whole_s in resting:
                    kept[slot] = loose.outlasting(kept[slot], left_s, whole_s)
                for slot in tripped:
                    kept[slot] = 0
        return tuple(kept)

    return canonical


def _partners(setup: Setup, inside: Collection[str] | None) -> frozenset[int]:
    """The zones that are asked to confirm a trip of a zone that may still trip."""
    lay = setup.layout
    tripping = {lay.device_of[name].zone for name in inside if name in lay.device_of} if inside else set(lay.zones)
    return frozenset(place for zone in tripping for place in zone.partners)


def _unheard(setup: Setup, sets: tuple[int, ...], partners: frozenset[int]) -> list[int]:
    """What zones note of a trip that are deaf in these sets (all of them when the unit is dead), partners excepted."""
    zones = [zone for zone in setup.layout.zones if zone.place not in partners]
    deaf = [zone for zone in zones if all(_deaf(zone, place, sets) for place in zone.areas)] if sets else zones
    return [slot for zone in deaf for slot in (zone.base + Z.SEEN, *zone.levels)]


def _deaf(zone: ZoneAt, area: int, sets: tuple[int, ...]) -> bool:
    """Whether a trip does nothing that a property looks at, as this area is set."""
    at = Situation.UNSET if not sets[area] else Situation.LEFT_OUT
    return (not sets[area] or not zone.listens[area][sets[area]]) and zone.actions[at] in _NOTHING


def _one_waits(state: list[int], groups: list[list[ZoneAt]]) -> bool:
    """Whether any zone waits; the first of each group then represents all of it."""
    any_waits = False
    for group in groups:
        waiting = [zone for zone in group if state[zone.base + Z.MEMORY] in (WAITING, AGAIN)]
        any_waits |= bool(waiting)
        for zone in waiting:
            state[zone.base + Z.MEMORY] -= 1
        if waiting:
            state[group[0].base + Z.MEMORY] += 1
    return any_waits


def _alike(area: AreaAt) -> list[list[ZoneAt]]:
    """The zones of this area alone, grouped by what their alarm does."""
    groups: dict[tuple[bool, bool], list[ZoneAt]] = {}
    for zone in area.zones:
        if len(zone.areas) == 1:
            groups.setdefault((zone.setup.silent, zone.setup.abort), []).append(zone)
    return list(groups.values())


def _resting(setup: Setup, area: AreaAt) -> list[tuple[int, int]]:
    """The places of sleep times after a trip of devices of this area alone, and how long a whole rest is."""
    devices = setup.layout.device_of.values()
    return [
        (device.slot, device.sleep_s)
        for device in devices
        if device.sleep_s and device.slot >= 0 and device.zone.areas == (area.place,)
    ]


def _only_waits(setup: Setup, area: AreaAt, partners: frozenset[int]) -> list[int]:
    """What zones of this area alone note of a trip, if all that it does during the delay is to wait.

    Partners that confirm another zone are kept: one that stays tripped counts as stuck. So are devices' rests.
    """
    harmless = {Action.WAIT} if setup.behaviour.later_door_shortens else {Action.WAIT, Action.LATER}
    zones = [
        zone
        for zone in area.zones
        if zone.areas == (area.place,) and zone.place not in partners and zone.actions[Situation.ENTRY] in harmless
    ]
    return [slot for zone in zones for slot in (zone.base + Z.SEEN, *zone.levels)]


def _unasked_windows(setup: Setup, partners: frozenset[int]) -> list[int]:
    """The confirmation windows that nothing asks about: of zones that are nobody's partner, nor their own."""
    return [
        zone.base + Z.VERIFY
        for zone in setup.layout.zones
        if zone.setup.confirm_s and zone.place not in partners and not zone.setup.same_zone_confirms
    ]
