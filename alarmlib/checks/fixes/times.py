"""Fixes of findings on times and functions: a delay that is long enough, one within the rules, another function."""

from collections.abc import Iterator
from math import ceil

from alarmlib.calc.times.chance import WANTED, chance_in_time, delay_for
from alarmlib.calc.walking.home_walks import HomeWalk, home_walks
from alarmlib.checks.finding import Finding
from alarmlib.checks.fixes.remedy import Maker, Remedy, entered
from alarmlib.checks.lookup import entry_s, said, zones
from alarmlib.checks.settings.times import set_times
from alarmlib.model import Home
from alarmlib.model.questions import device_of
from alarmlib.model.unit_facts import AllowedTimes
from alarmlib.model.words import Function
from alarmlib.proof.repairs.changes import RepairEdit
from alarmlib.rules import rules_of

FieldPath = tuple[str, ...]
_TIMES: FieldPath = ("control_unit", "times")


def _long_enough(home: Home, finding: Finding) -> Remedy | None:
    """The entry delay that gives this person the wanted chance, by each door where theirs is too short."""
    needed: dict[FieldPath, float] = {}
    for walk in home_walks(home):
        delay_s = entry_s(home.control_unit.times, walk.door)
        if walk.person == finding.subject and delay_s is not None and chance_in_time(walk.entry, delay_s) < WANTED:
            at, wanted_s = _delay_at(home, walk.door), _needed_s(walk)
            if wanted_s is None:
                return None
            needed[at] = max(wanted_s, needed.get(at, 0))
    values = {at: _offered_s(home.control_unit.limits.entry, wanted_s) for at, wanted_s in needed.items()}
    if not values:
        return None
    longest_s = max(values.values())
    edits = (RepairEdit(at, value_s) for at, value_s in values.items())
    return entered(next(iter(values)), f"an entry delay of {longest_s:g} s", *edits)


def _needed_s(walk: HomeWalk) -> float | None:
    wanted_s = delay_for(walk.entry, WANTED)
    return None if wanted_s is None else max(wanted_s, *walk.stopped_in_s, 0)


def _delay_at(home: Home, door: str) -> FieldPath:
    """Where the delay of a door is: its own, else that of the whole control unit."""
    own = next((each for each in home.control_unit.times.doors if each.opening == door), None)
    if own is not None and own.entry_s is not None:
        return (*_TIMES, "doors", own.id, "entry_s")
    return (*_TIMES, "entry_s")


def _offered_s(allowed: AllowedTimes | None, wanted_s: float) -> float:
    """The least time that the unit offers and that is no shorter; whole seconds where its steps are not known."""
    if allowed is None or not allowed.step_s:
        return float(ceil(wanted_s))
    return allowed.low_s + max(0, ceil((wanted_s - allowed.low_s) / allowed.step_s)) * allowed.step_s


def _within_rules(home: Home, finding: Finding) -> Remedy | None:
    """Each delay of the whole unit, or of this door, brought to the end of the range that it passes."""
    edits = tuple(_brought_within(home, finding.subject))
    return entered(edits[0].path, "delays within the rules", *edits) if edits else None


def _brought_within(home: Home, subject: str) -> Iterator[RepairEdit]:
    rules, doors = rules_of(home), {door.opening: door.id for door in home.control_unit.times.doors}
    for about, _, kind, value_s in set_times(home):
        limits = rules.entry if kind == "entry" else rules.exit
        low_s = limits.least.value_s if limits.least else value_s
        high_s = limits.most.value_s if limits.most else value_s
        within_s = min(max(value_s, low_s), high_s)
        inside = () if about == "unit" else ("doors", doors.get(about, ""))
        if about == subject and within_s != value_s and (not inside or inside[1]):
            yield RepairEdit((*_TIMES, *inside, f"{kind}_s"), within_s)


def _function(function: Function) -> Maker:
    """Another function of the zone that the finding's device is in."""

    def made(home: Home, finding: Finding) -> Remedy | None:
        device = device_of(home, finding.subject)
        zone = zones(home).get(device.zone if device else "")
        offered = home.control_unit.limits.functions
        if zone is None or (offered and function not in offered):
            return None
        at = ("control_unit", "zones", zone.id, "function")
        return entered(at, f"“{function.text}” for {said(zone.label)}", RepairEdit(at, function.value))

    return made


TIMES: dict[str, Maker] = {
    "times.in_time": _long_enough,
    "times.within_the_rules": _within_rules,
    "zones.entry_exit_door_at_once": _function(Function.ENTRY_EXIT),
    "zones.delay_off_the_route": _function(Function.AT_ONCE),
}
