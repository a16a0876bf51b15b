"""The two lists of alarms: the household's own that hear each other, and the detectors on the control unit.

A home never counts as covered by the second while the first has a gap; by the second alone only when there is no
household alarm at all.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from alarmlib.calc.hazards.hazard_places import At
from alarmlib.checks.check import should, weigh
from alarmlib.checks.finding import Finding
from alarmlib.model import Home
from alarmlib.model.devices import Device
from alarmlib.model.questions import is_at_work, present
from alarmlib.model.site import RoomUse, Yes
from alarmlib.model.words import DeviceKind, Link
from alarmlib.rules import rules_of

SHELTER = frozenset({RoomUse.GARAGE, RoomUse.WORKSHOP, RoomUse.ATTIC, RoomUse.PORCH})
_NO_WAY = SHELTER | {RoomUse.BATH, RoomUse.STORE}
AUTHORITY = "check with your fire authority what it asks for"
_FILLED = "There is a detector on the control unit, but it does not count in place of a household alarm."
_IDLE = "There is one, but it is out of use."
_ALONE = "There is one, but it does not sound with the others, as the rules for new work ask."


@dataclass(frozen=True)
class Lists:
    """Alarms of one kind: the household's own, and those on the unit; a survey's "yes" has no place.

    `alone` are household alarms that do not count, since in new work all must sound together and they don't;
    `idle` are household alarms out of use until they are put back: they cover nothing.
    `answered` says whether the survey tells of every room if it has such an alarm.
    """

    household: tuple[At, ...]
    unit: tuple[At, ...]
    alone: tuple[At, ...] = ()
    idle: tuple[At, ...] = ()
    answered: bool = False

    @property
    def required(self) -> tuple[At, ...]:
        """The list that must cover by itself: the household's, or the unit's when there is no household alarm."""
        return self.household if self.household or self.alone else self.unit


def household(home: Home, *kinds: DeviceKind) -> tuple[Device, ...]:
    """The household's own alarms of these kinds that are entered as devices, those out of use as well."""
    return tuple(d for d in present(home) if d.kind in kinds and d.link is Link.OWN)


def on_unit(home: Home, *kinds: DeviceKind) -> tuple[Device, ...]:
    """The detectors of these kinds on the control unit, those out of use as well."""
    return tuple(d for d in present(home) if d.kind in kinds and d.link is not Link.OWN)


def no_way_out(home: Home) -> frozenset[str]:
    """The rooms that do not lie outside a bedroom, though its door leads there: bathrooms, stores, garages."""
    return frozenset(room.id for room in home.site.rooms if room.use in _NO_WAY)


def smoke_lists(home: Home) -> Lists:
    """The smoke alarms of both lists."""
    return _lists(home, DeviceKind.SMOKE, {room.id: room.smoke_alarm for room in home.site.rooms})


def carbon_monoxide_lists(home: Home) -> Lists:
    """The CO alarms of both lists."""
    answers = {room.id: room.carbon_monoxide_alarm for room in home.site.rooms}
    return _lists(home, DeviceKind.CARBON_MONOXIDE, answers)


def _lists(home: Home, kind: DeviceKind, answers: dict[str, Yes]) -> Lists:
    fitted_ones = household(home, kind)
    own = tuple(device for device in fitted_ones if is_at_work(device))
    placed = {device.room for device in fitted_ones}
    surveyed = tuple(At(room, room) for room, answer in answers.items() if answer is Yes.YES and room not in placed)
    alone = frozenset(device.id for device in own if home.hazards.permit_work and _sounds_alone(device))
    if len(own) + len(surveyed) == 1:
        alone = frozenset()
    return Lists(
        (*_at(device for device in own if device.id not in alone), *surveyed),
        _at(device for device in on_unit(home, kind) if is_at_work(device)),
        _at(device for device in own if device.id in alone),
        _at(device for device in fitted_ones if not is_at_work(device)),
        bool(answers) and Yes.UNKNOWN not in answers.values(),
    )


def _sounds_alone(device: Device) -> bool:
    return device.hazard is not None and device.hazard.sounds_with_others is Yes.NO


def _at(devices: Iterable[Device]) -> tuple[At, ...]:
    return tuple(At(device.id, device.room, device.at) for device in devices if device.room)


def any_in(rooms: Iterable[str]) -> Callable[[tuple[At, ...]], bool]:
    """A question to some alarms: whether any of them is in these rooms."""
    inside = frozenset(rooms)
    return lambda alarms: any(alarm.room in inside for alarm in alarms)


def gap(
    home: Home,
    lists: Lists,
    subject: str,
    covers: Callable[[tuple[At, ...]], bool],
    missing: str,
    source: str = "",
    remedy: str = f"Fit a listed alarm there, linked to the others; {AUTHORITY}.",
    binds: bool = True,
) -> Finding | None:
    """A finding where the required list leaves a gap; that the other list would fill it is told, and is no cure.

    It is a `must` where the rule `binds` and the country's own do, once the survey has told of every room.
    """
    if covers(lists.required):
        return None
    if covers(lists.alone):
        return should(subject, f"{missing} {_ALONE}", remedy, "interconnect_new")
    told = f" {_IDLE}" if covers(lists.idle) else ""
    told += f" {_FILLED}" if lists.household and covers(lists.unit) else ""
    places = rules_of(home).fire.places
    strict = binds and places.binds and lists.answered
    return weigh(strict, subject, f"{missing}{told}", remedy, source or places.source)
