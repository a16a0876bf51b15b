"""The two lists of alarms: the household's own that hear each other, and the detectors on the control unit.

A home never counts as covered by the second while the first has a gap; by the second alone only when there is no
household alarm at all.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from alarmlib.calc.hazard_places import At
from alarmlib.checks.check import weigh
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import present
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.site import Room, RoomUse, Yes
from alarmlib.model.words import DeviceKind, Link, RuleSet

SHELTER = frozenset({RoomUse.GARAGE, RoomUse.WORKSHOP, RoomUse.ATTIC, RoomUse.PORCH})
AUTHORITY = "check with your fire authority what it asks for"
_FILLED = "A detector on the control unit is there, but the household's own alarms must cover by themselves."
_BY_RULES = {
    RuleSet.US: "nfpa72_smoke_places",
    RuleSet.BRITAIN: "adb_alarms",
    RuleSet.EUROPE: "smoke_core",
    RuleSet.AUSTRALASIA: "smoke_core",
}


@dataclass(frozen=True)
class Lists:
    """Alarms of one kind: the household's own, and those on the unit; a survey's "yes" has no place."""

    household: tuple[At, ...]
    unit: tuple[At, ...]

    @property
    def required(self) -> tuple[At, ...]:
        """The list that must cover by itself: the household's, or the unit's when there is no household alarm."""
        return self.household or self.unit


def household(home: Home, *kinds: DeviceKind) -> tuple[Device, ...]:
    """The household's own alarms of these kinds that are entered as devices."""
    return tuple(d for d in present(home) if d.kind in kinds and d.link is Link.OWN)


def on_unit(home: Home, *kinds: DeviceKind) -> tuple[Device, ...]:
    """The detectors of these kinds on the control unit."""
    return tuple(d for d in present(home) if d.kind in kinds and d.link is not Link.OWN)


def smoke_lists(home: Home) -> Lists:
    """The smoke alarms of both lists."""
    own = _at(household(home, DeviceKind.SMOKE))
    placed = {alarm.room for alarm in own}
    surveyed = [At(r.id, r.id) for r in home.site.rooms if r.smoke_alarm is Yes.YES and r.id not in placed]
    return Lists((*own, *surveyed), _at(on_unit(home, DeviceKind.SMOKE)))


def carbon_monoxide_lists(home: Home) -> Lists:
    """The CO alarms of both lists."""
    own = _at(household(home, DeviceKind.CARBON_MONOXIDE))
    placed = {alarm.room for alarm in own}
    surveyed = [At(r.id, r.id) for r in home.site.rooms if r.carbon_monoxide_alarm is Yes.YES and r.id not in placed]
    return Lists((*own, *surveyed), _at(on_unit(home, DeviceKind.CARBON_MONOXIDE)))


def _at(devices: Iterable[Device]) -> tuple[At, ...]:
    return tuple(At(device.id, device.room, device.at) for device in devices if device.room)


def hangs_in(rooms: Iterable[str]) -> Callable[[tuple[At, ...]], bool]:
    """Whether any of some alarms hangs in these rooms."""
    inside = frozenset(rooms)
    return lambda alarms: any(alarm.room in inside for alarm in alarms)


def gap(
    home: Home, lists: Lists, subject: str, covers: Callable[[tuple[At, ...]], bool], missing: str, source: str = ""
) -> Finding | None:
    """A finding where the required list leaves a gap; that the other list would fill it is said, and is no cure."""
    if covers(lists.required):
        return None
    filled = lists.household and covers(lists.unit)
    told = (
        " A detector on the control unit is there, but the household's own alarms must cover by themselves."
        if filled
        else ""
    )
    remedy = f"Fit a listed alarm there, linked to the others; {AUTHORITY}."
    answered = _answered(home)
    strict = home.rules.rule_set is RuleSet.US and answered
    return weigh(strict, subject, f"{missing}{told}", remedy, source or _BY_RULES[home.rules.rule_set])


def _answered(home: Home) -> bool:
    """Whether the survey says of every room if it has a smoke alarm."""
    rooms: tuple[Room, ...] = home.site.rooms
    return bool(rooms) and all(room.smoke_alarm is not Yes.UNKNOWN for room in rooms)
