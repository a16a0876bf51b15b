"""Rules of setting, unsetting, power, codes, faults and the log. True means: broken here."""

from collections.abc import Callable
from dataclasses import replace

from alarmlib.control import inputs
from alarmlib.control.inputs import Way
from alarmlib.control.layout import SET_FULL_AT, A, AreaAt, U, WatchAt, Z, ZoneAt
from alarmlib.control.setup import Setup
from alarmlib.control.signals import LogLine, Timer, UnitEvent
from alarmlib.control.system_faults import KEPT, RAISED, RIGHT
from alarmlib.model.words import BURGLARY
from alarmlib.proof.unit import edges
from alarmlib.proof.unit.timer_abstraction import AT_END, Edge, StepFunction, fell, least

_RESTARTED = 3  # of the entry/exit doors while somebody leaves: opened again after they had been closed
_SETS = (UnitEvent.SET, UnitEvent.NOT_COMPLETED)
_SAID_OPEN = (
    UnitEvent.NOT_COMPLETED,
    UnitEvent.EXIT_ERROR,
    UnitEvent.ALARM,
    UnitEvent.ENTRY,
    UnitEvent.SHUT_OUT,
    UnitEvent.UNCONFIRMED,
)
_UNIT_TIMERS = {Timer.IGNORING: U.IGNORE, Timer.TEST: U.TEST, Timer.LOCK: U.LOCK}
_AREA_TIMERS = {
    Timer.EXIT: A.EXIT,
    Timer.ENTRY: A.ENTRY,
    Timer.LET_OUT: A.LET,
    Timer.ABORT: A.ABORT,
    Timer.SIREN: A.SIREN,
}
_REPEATED = 20
_INHIBITING = (inputs.Inhibit, inputs.OutOfUse, inputs.PutBack)


def exit_lingers(edge: Edge) -> bool:
    """An exit time starts of itself, is not exactly as long, restarts more than once, or ends without a word."""
    if edge.before[U.LOST]:
        return False
    for area in edge.setup.layout.areas:
        rest, now = edge.before[area.base + A.EXIT], edge.after[area.base + A.EXIT]
        if (rest or now) and _exit_wrong(edge, area, rest, now):
            return True
    return False


def _exit_wrong(edge: Edge, area: AreaAt, rest: int, now: int) -> bool:
    asked = edges.happened(edge, inputs.SetArea) or edges.key_turned(edge)
    if rest == AT_END and _ends_unsaid(edge, area):
        return True
    starts = not rest or rest == AT_END or edges.unset(edge, area)
    if starts:
        return bool(now) and not (asked and now in _starts(edge, area))
    doors = (edge.before[area.base + A.EXIT_DOOR], edge.after[area.base + A.EXIT_DOOR])
    if now and fell(rest, now):
        return doors[1] < doors[0]
    if not now:
        return not edges.unset(edge, area) and not edges.logged(edge, UnitEvent.ALARM, *_SETS)
    times = {area.exit_s[edge.before[area.base + A.SET]], area.exit_s[edge.after[area.base + A.SET]]}
    facts = edge.setup.behaviour
    if doors[0] != doors[1] == _RESTARTED:
        return not (facts.exit_restarts_once and now in times)
    cut = facts.exit_ends_by_door and now == facts.exit_after_door_s and edges.happened(edge, inputs.Closes)
    return not cut or now > rest


def _starts(edge: Edge, area: AreaAt) -> set[int]:
    """What an exit time begun in this second may be: of the set, of away with a key, or cut by a door that closes."""
    facts = edge.setup.behaviour
    found = {area.exit_s[edge.after[area.base + A.SET]]}
    found |= {area.exit_s[SET_FULL_AT]} if edges.key_turned(edge) else set()
    cut = facts.exit_ends_by_door and edges.happened(edge, inputs.Closes)
    return found | {min(facts.exit_after_door_s, exit_s) for exit_s in found if cut}


def _ends_unsaid(edge: Edge, area: AreaAt) -> bool:
    said = {line.event for line in edge.out.log if line.cause is Timer.EXIT}
    if not said & set(_SETS) or (UnitEvent.NOT_COMPLETED in said and not edge.out.refusals):
        return True
    still_open = not area.setup.nobody_left and any(_open_at_end(edge, area, zone) for zone in area.zones)
    return still_open and not edges.logged(edge, *_SAID_OPEN)


def _open_at_end(edge: Edge, area: AreaAt, zone: ZoneAt) -> bool:
    before = edge.before
    heard = zone.function in BURGLARY and zone.listens[area.place][before[area.base + A.SET]]
    waits_for_other = edge.setup.behaviour.common_needs_all and len(zone.areas) > 1
    if not heard or waits_for_other or before[U.IGNORE] not in (0, AT_END) or before[zone.base + Z.OUT]:
        return False
    return before[zone.base + Z.SEEN] == 1 and before[zone.base + Z.HOLD] != AT_END


def left_out_trips(edge: Edge) -> bool:
    """A zone that is left out this time, out of use or left out of the set gives an alarm or starts a delay."""
    if not edges.logged(edge, UnitEvent.ALARM, UnitEvent.ENTRY):
        return False
    return any(
        _acts(edge, zone)
        and (not edges.in_use(edge, zone) or (zone.function in BURGLARY and _left_out(edge, zone)))
        and not (len(zone.areas) > 1 and _waited(edge, zone))
        for zone in edge.setup.layout.zones
    )


def _waited(edge: Edge, zone: ZoneAt) -> bool:
    """Its alarm comes from an entry delay: it tripped before another of its areas was set with it left out."""
    acts = [line for line in edge.out.log if line.about == zone.id and line.event in (UnitEvent.ALARM, UnitEvent.ENTRY)]
    return all(line.cause is Timer.ENTRY for line in acts)


def _left_out(edge: Edge, zone: ZoneAt) -> bool:
    sets = [(edge.before[base + A.SET], edge.after[base + A.SET]) for base in zone.area_bases]
    return all(
        set_at == then and set_at and not zone.listens[place][set_at]
        for place, (set_at, then) in zip(zone.areas, sets, strict=True)
    )


def _acts(edge: Edge, zone: ZoneAt) -> bool:
    return any(line.event in (UnitEvent.ALARM, UnitEvent.ENTRY) and line.about == zone.id for line in edge.out.log)


def inhibit_stays(edge: Edge) -> bool:
    """A zone stays left out after all its areas are unset, or a zone out of use comes back of itself."""
    if edges.happened(edge, *_INHIBITING) or edge.before[U.LOST]:
        return False
    for zone in edge.setup.layout.zones:
        was, now = edge.before[zone.base + Z.OUT], edge.after[zone.base + Z.OUT]
        if not was and not now:
            continue
        areas = [edge.setup.layout.areas[place].id for place in zone.areas]
        unset = any(line.event is UnitEvent.UNSET and line.about in areas for line in edge.out.log)
        unset = unset and not any(edge.after[base + A.SET] for base in zone.area_bases)
        if (unset and now == 1 and not edges.happened(edge, inputs.SetArea)) or (was == 2 and now != 2):
            return True
    return False


def power_forgets(edge: Edge) -> bool:
    """While the unit is dead, or as it starts again, what is set, a delay, what is left out or a memory changes."""
    if not edge.before[U.LOST]:
        return False
    lay = edge.setup.layout
    kept = [area.base + place for area in lay.areas for place in A]
    kept += [zone.base + place for zone in lay.zones for place in (Z.OUT, Z.COUNT, Z.MEMORY)]
    return any(edge.before[slot] != edge.after[slot] for slot in kept)


def code_fails(edge: Edge) -> bool:
    """The right code, with power and free keypads, doesn't unset."""
    last = edge.happened[-1] if edge.happened else None
    if not isinstance(last, inputs.UnsetArea) or edge.before[U.LOST] or edge.after[U.LOST]:
        return False
    if edges.happened(edge, inputs.WrongCode):
        return False  # it may have locked the keypads in this very second
    locked = edge.before[U.LOCK] and edge.before[U.LOCK] != AT_END and last.way is Way.KEYPAD
    area = edge.setup.layout.area_of[last.area]
    left = any(edge.after[area.base + place] for place in (A.SET, A.EXIT, A.ENTRY, A.SIREN))
    return not locked and left


def codes_unlimited(edge: Edge) -> bool:
    """Wrong codes go on past the limit, a locked keypad obeys, or the lock is not exactly as long.

    Where the unit has no limit: a wrong code changes something.
    """
    if edge.before[U.LOST]:
        return False
    facts = edge.setup.behaviour
    limit = facts.wrong_code_limit
    if not limit:
        caused = {line.event for line in edge.out.log if isinstance(line.cause, inputs.WrongCode)}
        return bool(edge.after[U.LOCK]) or not caused <= {UnitEvent.WRONG_CODE}
    if edge.after[U.WRONG] >= limit or _lock_wrong(edge) or _miscounted(edge):
        return True
    if not edge.before[U.LOCK] or edge.before[U.LOCK] == AT_END or len(edge.happened) != 1:
        return False
    asked = edge.happened[0]
    at_keypad = isinstance(asked, inputs.SetArea | inputs.UnsetArea) and asked.way is Way.KEYPAD
    return at_keypad and not edge.out.refusals


def _miscounted(edge: Edge) -> bool:
    """A wrong code alone counts, unless it locks or the keypads are locked; only a right one or the lock ends it."""
    was, now = edge.before[U.WRONG], edge.after[U.WRONG]
    if edges.happened(edge, inputs.UnsetArea):
        return False
    counted = edge.happened == (inputs.WrongCode(),) and edge.before[U.LOCK] in (0, AT_END)
    if counted and was + 1 < edge.setup.behaviour.wrong_code_limit:
        return now != was + 1
    return not counted and now != was


def _lock_wrong(edge: Edge) -> bool:
    rest, now = edge.before[U.LOCK], edge.after[U.LOCK]
    lock_s, limit = edge.setup.behaviour.wrong_code_lock_s, edge.setup.behaviour.wrong_code_limit
    if rest in (0, AT_END):
        due = edge.happened == (inputs.WrongCode(),) and edge.before[U.WRONG] + 1 >= limit
        may = due or (len(edge.happened) > 1 and edges.happened(edge, inputs.WrongCode))
        return now != lock_s if due else now not in ((0, lock_s) if may else (0,))
    return not fell(rest, now)


def fault_hidden(edge: Edge) -> bool:
    """A fault that has lasted its time is not shown in that second, or its time is not exactly as long."""
    if edge.before[U.LOST] or edge.after[U.LOST]:
        return False
    return any(_hidden(edge, watch) for watch in edge.setup.layout.watches)


def _hidden(edge: Edge, watch: WatchAt) -> bool:
    was, now = edge.before[watch.slot], edge.after[watch.slot]
    told = any(watch.setup.id in shown.about for shown in edge.out.shown)
    over = inputs.FaultEnds(watch.setup.id) in edge.happened
    if was > KEPT + AT_END:
        return not fell(was, now) and not (over and now == RIGHT)
    if was == KEPT + AT_END:
        return not told
    begins = edge.happened == (inputs.FaultBegins(watch.setup.id),)
    if was == RIGHT and begins:
        hold_s = watch.setup.hold_s
        return now != KEPT + hold_s if hold_s else now != RAISED or not told
    return False


def fault_lets_set(edge: Edge) -> bool:
    """A fault that prevents setting does not: a plain request sets the area without a word."""
    if len(edge.happened) != 1 or not isinstance(edge.happened[0], inputs.SetArea) or edge.before[U.LOST]:
        return False
    asked = edge.happened[0]
    area = edge.setup.layout.area_of[asked.area]
    stops = any(
        watch.setup.stops_setting and area.place in watch.areas and edge.before[watch.slot] in (RAISED, KEPT)
        for watch in edge.setup.layout.watches
    )
    return stops and not asked.override and not edge.out.refusals


def log_without_cause(edge: Edge) -> bool:
    """A line of the log names as its cause neither what happened nor a timer that ended in this second."""
    happened = edge.happened
    return any(line.cause not in happened and not _caused(edge, line) for line in edge.out.log)


def _caused(edge: Edge, line: LogLine) -> bool:
    cause, before, lay = line.cause, edge.before, edge.setup.layout
    if not isinstance(cause, Timer):
        return False
    if cause in _UNIT_TIMERS:
        return before[_UNIT_TIMERS[cause]] == AT_END
    if cause in _AREA_TIMERS:
        return any(before[area.base + _AREA_TIMERS[cause]] == AT_END for area in lay.areas)
    if cause is Timer.STILL_OPEN:
        return any(before[zone.base + Z.SEEN] == 1 for zone in lay.zones)
    if cause is Timer.FAULT:
        return any(before[watch.slot] == KEPT + AT_END for watch in lay.watches)
    return True


def one_outcome(setup: Setup, step: StepFunction, every: int = _REPEATED) -> Callable[[Edge], bool]:
    """The rule that the same state and the same events give the same second again; about one in `every` is repeated."""
    second = replace(setup)

    def two_outcomes(edge: Edge) -> bool:
        """A second worked out again, with a second setup, has another outcome."""
        if sum(map(least, edge.before)) % every:
            return False
        after, out = step(second, edge.before, edge.happened)
        return out != edge.out or tuple(map(least, after)) != tuple(map(least, edge.after))

    return two_outcomes
