"""The draft put into a home: what was entered stays as it is, and what the draft knows beyond that is added."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any, TypeVar

from alarmlib.draft.short_path import draft_home
from alarmlib.model.base import Part
from alarmlib.model.control_unit import ControlUnit, DoorTimes, PartSet, Zone
from alarmlib.model.devices import Device, DeviceEntry, DeviceType
from alarmlib.model.home import Home
from alarmlib.model.household import Household
from alarmlib.model.questions import by_id, present
from alarmlib.model.site import Site
from alarmlib.model.words import DeviceKind

_ONE_IS_ENOUGH = frozenset(
    {DeviceKind.CONTROL_UNIT, DeviceKind.KEYPAD, DeviceKind.INSIDE_SOUNDER, DeviceKind.OUTSIDE_SIREN}
)
P = TypeVar("P", bound=Part)


@dataclass(frozen=True)
class Merged:
    """A home with the draft in it, and how many rooms, ways in and devices came from the draft."""

    home: Home
    rooms: int
    ways_in: int
    devices: int


def merged(home: Home) -> Merged:
    """The home with the draft of its own short path put in: nothing that was entered is changed or lost.

    A fact that both tell stays as entered; a fact that was blank is taken from the draft; elements are the same
    where they have the same id. Raises `FieldProblem` as `draft_home` does.
    """
    draft = draft_home(home).home
    devices = _devices(home, draft)
    after = home.model_copy(
        update={
            "site": _site(home.site, draft.site),
            "household": _household(home.household, draft.household),
            "device_types": _types(home, draft, {device.type for device in devices}),
            "devices": devices,
            "control_unit": _unit(home.control_unit, draft.control_unit, {device.zone for device in devices}),
            "messages": home.messages if home.messages.messages else _filled(home.messages, draft.messages),
        }
    )
    whole = Home.model_validate(after.model_dump())
    return Merged(
        whole,
        len(whole.site.rooms) - len(home.site.rooms),
        len(whole.site.openings) - len(home.site.openings),
        len(whole.devices) - len(home.devices),
    )


def _site(entered: Site, draft: Site) -> Site:
    lists = {
        "storeys": _joined(entered.storeys, draft.storeys),
        "rooms": _joined(entered.rooms, draft.rooms),
        "openings": _joined(entered.openings, draft.openings),
        "passages": _joined(entered.passages, draft.passages),
    }
    return _filled(entered, draft).model_copy(update=lists)


def _household(entered: Household, draft: Household) -> Household:
    """People and pets are drafted by number only: where any is entered, none is added."""
    people = entered.people or draft.people
    known = {person.id for person in people}
    walks = tuple(walk for walk in draft.walks if walk.person in known)
    return entered.model_copy(
        update={
            "people": people,
            "pets": entered.pets or draft.pets,
            "walks": entered.walks or walks,
        }
    )


def _devices(home: Home, draft: Home) -> tuple[DeviceEntry, ...]:
    """The entered devices, those of the draft that do what none of them does, and the zones of those without."""
    there = present(home)
    drafted = by_id(draft.devices)
    needless = {d.id for d in draft.whole_devices if any(_does(own, d) for own in there)}
    kept = tuple(
        device.model_copy(update={"zone": drafted[device.id].zone}) if _wants_zone(device, drafted) else device
        for device in home.devices
    )
    ids = {device.id for device in home.devices}
    return (*kept, *(d for d in draft.devices if d.id not in ids | needless))


def _types(home: Home, draft: Home, used: set[str]) -> tuple[DeviceType, ...]:
    """The entered types, and those of the draft that a device is of now."""
    known = {each.id for each in home.device_types}
    return (*home.device_types, *(each for each in draft.device_types if each.id in used - known))


def _wants_zone(device: DeviceEntry, drafted: Collection[str]) -> bool:
    return not device.zone and device.id in drafted


def _does(own: Device, drafted: Device) -> bool:
    """Whether an entered device does already what the drafted one is for."""
    if own.kind is not drafted.kind:
        return False
    if own.kind is DeviceKind.CONTACT:
        return bool({*own.openings} & {*drafted.openings})
    return own.kind in _ONE_IS_ENOUGH or (own.kind is DeviceKind.MOTION and own.room == drafted.room)


def _unit(entered: ControlUnit, draft: ControlUnit, used: Collection[str]) -> ControlUnit:
    """Zones of the draft that a device is in now; what their part sets say of these zones, and no more."""
    known = {zone.id for zone in entered.zones}
    added = tuple(zone for zone in draft.zones if zone.id in used and zone.id not in known)
    zones = (*entered.zones, *added)
    return entered.model_copy(
        update={
            "limits": _filled(entered.limits, draft.limits),
            "times": _filled(entered.times, draft.times).model_copy(
                update={"doors": _by(entered.times.doors, _unlike(entered.times.doors, draft.times.doors), "opening")}
            ),
            "areas": entered.areas or draft.areas,
            "zones": zones,
            "part_sets": _part_sets(entered.part_sets, draft.part_sets, added),
        }
    )


def _part_sets(
    entered: tuple[PartSet, ...], draft: tuple[PartSet, ...], added: tuple[Zone, ...]
) -> tuple[PartSet, ...]:
    new = {zone.id for zone in added}
    only_new = tuple(
        each.model_copy(
            update={
                "left_out": tuple(zone for zone in each.left_out if zone in new),
                "doors": tuple(door for door in each.doors if door.zone in new),
            }
        )
        for each in draft
    )
    by_id = {each.id: each for each in only_new}
    kept = tuple(
        part_set.model_copy(
            update={
                "left_out": (*part_set.left_out, *by_id[part_set.id].left_out),
                "doors": (*part_set.doors, *by_id[part_set.id].doors),
            }
        )
        if part_set.id in by_id
        else part_set
        for part_set in entered
    )
    ids = {each.id for each in entered}
    return (*kept, *(each for each in only_new if each.id not in ids))


def _unlike(entered: Iterable[DoorTimes], draft: Iterable[DoorTimes]) -> tuple[DoorTimes, ...]:
    """Those of the draft whose ids do not name another door's times already."""
    named = {each.id: each.opening for each in entered}
    return tuple(each for each in draft if named.get(each.id, each.opening) == each.opening)


def _joined(entered: Iterable[P], draft: Iterable[P]) -> tuple[P, ...]:
    """The entered elements, each with its blanks filled from the drafted one of its id, then the other drafted ones."""
    return _by(entered, draft, "id")


def _by(entered: Iterable[P], draft: Iterable[P], key: str) -> tuple[P, ...]:
    drafted = {getattr(each, key): each for each in draft}
    kept = tuple(
        _filled(each, drafted.pop(getattr(each, key))) if getattr(each, key) in drafted else each for each in entered
    )
    return (*kept, *drafted.values())


def _filled(entered: P, draft: P) -> P:
    """The entered part; where it has a field's blank, the draft's value."""
    blank: dict[str, Any] = {name: field.get_default() for name, field in type(entered).model_fields.items()}
    return entered.model_copy(
        update={
            name: getattr(draft, name)
            for name, default in blank.items()
            if getattr(entered, name) == default and getattr(draft, name) != default
        }
    )
