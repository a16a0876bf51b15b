"""Which devices share a zone: the best arrangement that the control unit has room for, proven so."""

from collections import defaultdict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from alarmlib.calc.figure import Figure
from alarmlib.calc.zoning.functions import Substitute, substitute
from alarmlib.calc.zoning.grouping import Costs, Groupable, Grouping, GroupingRules, Pool, group
from alarmlib.calc.zoning.zone_labels import distinct
from alarmlib.calc.zoning.zone_types import ProposedZone, ZoneDevice, ZoningLimits
from alarmlib.calc.zoning.zone_words import NotFitting, label, not_fitting, why_together
from alarmlib.model.words import LIFE_SAFETY, PLAIN_CONTACTS, Function, Link

MOST_CONTACTS = 10  # plain contacts to one indication: CLC/TS 50131-7, route rules (seen)
_WEIGHT = {
    Function.FIRE: 60_000,
    Function.CARBON_MONOXIDE: 60_000,
    Function.HOLD_UP: 50_000,
    Function.ENTRY_EXIT: 40_000,
    Function.ENTRY_ROUTE: 30_000,
    Function.AT_ONCE: 30_000,
}  # what it costs to leave a device out: our own order of what matters most
_PASSED_WEIGHT, _OTHER_WEIGHT = 20_000, 10_000
Given = dict[tuple[Function, bool], Substitute]
"""What is given for a function, for what is not passed and for what is."""
_UNKNOWN, _COSTS = ZoningLimits(), Costs()


@dataclass(frozen=True)
class ZonePlan:
    """The zones, the functions replaced, the devices that found no place, and how good the plan is.

    `objective`, `bound` are in the points of `Costs`; `gap` is relative; `proven` says that none is better.
    """

    zones: tuple[ProposedZone, ...]
    substitutes: tuple[Substitute, ...]
    not_fitting: tuple[NotFitting, ...]
    objective: float
    bound: float
    gap: float

    @property
    def proven(self) -> bool:
        """Whether the bound meets the objective."""
        return self.gap == 0

    @property
    def quality(self) -> str:
        """How good the plan is, in words."""
        if self.proven:
            return "proven best"
        return f"the best found in the time; a better one may exist, at most {100 * self.gap:.0f} % cheaper"

    def figure(self) -> Figure:
        """The number of zones with what it rests on."""
        inputs = (
            ("points of this plan", f"{self.objective:.0f}"),
            ("points no plan can go below", f"{self.bound:.0f}"),
            ("devices without a place", f"{sum(len(item.devices) for item in self.not_fitting)}"),
        )
        formula = "fewest points: zones, rooms and floors mixed in a zone, detectors made to share"
        return Figure("zones", len(self.zones), "", formula, inputs, ("ts50131_7_indication", "computed"))


@dataclass(frozen=True)
class _Item:
    """Devices that are always taken together: one room, one treatment, plain contacts; or one device."""

    devices: tuple[ZoneDevice, ...]
    given: Function

    @property
    def first(self) -> ZoneDevice:
        return self.devices[0]


def plan_zones(
    devices: Sequence[ZoneDevice],
    unit: ZoningLimits = _UNKNOWN,
    apart: frozenset[frozenset[str]] = frozenset(),
    costs: Costs = _COSTS,
    time_limit_s: float = 10.0,
) -> ZonePlan:
    """The zones for these devices on this unit; `apart` holds pairs of device ids that must not share.

    Devices share only within one function, area, link and behaviour in every part set; fire and carbon
    monoxide share with nothing else. Raises `AlarmProblem` when nothing was found in the time.
    Reference: CLC/TS 50131-7 (ten plain contacts an indication, processing detectors each their own);
    generalised assignment with conflicts.
    """
    zoned = [device for device in devices if device.function is not Function.UNUSED]
    wanted = dict.fromkeys((device.function, device.passed) for device in zoned)
    given = {(function, passed): substitute(function, unit.functions, passed) for function, passed in wanted}
    homeless = [device for device in zoned if given[device.function, device.passed].given is None]
    items = _items([device for device in zoned if device not in homeless], given, unit, apart)
    rules = GroupingRules(MOST_CONTACTS, _conflicts(items, apart), _pools(items, unit), costs)
    found = group([_groupable(item, unit) for item in items], rules, time_limit_s)
    missing = not_fitting([items[k].devices for k in found.left_out], homeless, unit, len(found.groups))
    replaced = tuple(rule for rule in given.values() if rule.lost)
    return ZonePlan(_zones(items, found, unit), replaced, missing, found.cost, found.bound, found.gap)


def _items(
    devices: Sequence[ZoneDevice],
    given: Given,
    unit: ZoningLimits,
    apart: frozenset[frozenset[str]],
) -> list[_Item]:
    """Plain contacts of one room and treatment as one item, at most ten; every other device by itself."""
    kept_apart = {device for pair in apart for device in pair}
    short_of_slots = unit.slots is not None and sum(d.link is Link.WIRELESS for d in devices) > unit.slots
    together: dict[Hashable, list[ZoneDevice]] = defaultdict(list)
    for device in devices:
        single = device.kind not in PLAIN_CONTACTS or device.id in kept_apart
        single = single or (device.link is Link.WIRELESS and (unit.tells_wireless_apart or short_of_slots))
        key = (device.id,) if single else (device.room, device.floor, *_treatment(device, given))
        together[key].append(device)
    return [
        _Item(tuple(members[start : start + MOST_CONTACTS]), _given(members[0], given))
        for members in together.values()
        for start in range(0, len(members), MOST_CONTACTS)
    ]


def _given(device: ZoneDevice, given: Given) -> Function:
    return given[device.function, device.passed].given or Function.UNUSED


def _treatment(device: ZoneDevice, given: Given) -> tuple[Hashable, ...]:
    """Devices that differ in any of this must not share a zone."""
    life_safety = device.function if device.function in LIFE_SAFETY else None
    return (_given(device, given), device.passed, life_safety, device.area, device.link, device.left_out)


def _groupable(item: _Item, unit: ZoningLimits) -> Groupable:
    """The item as the arrangement sees it."""
    first = item.first
    life_safety = first.function if first.function in LIFE_SAFETY else None
    own = first.id if first.link is Link.WIRELESS and unit.tells_wireless_apart else ""
    plain = first.kind in PLAIN_CONTACTS
    return Groupable(
        kind=(item.given, first.passed, life_safety, first.area, first.link, first.left_out, own),
        size=len(item.devices) if plain else 1,
        units=len(item.devices),
        room=first.room,
        floor=first.floor,
        alone=not plain,
        drop_cost=_weight(first) * len(item.devices),
    )


def _weight(device: ZoneDevice) -> int:
    return _PASSED_WEIGHT if device.passed else _WEIGHT.get(device.function, _OTHER_WEIGHT)


def _conflicts(items: Sequence[_Item], apart: frozenset[frozenset[str]]) -> frozenset[frozenset[int]]:
    """The pairs of devices to be kept apart, by item number."""
    where = {device.id: number for number, item in enumerate(items) for device in item.devices}
    pairs = (frozenset(where[name] for name in pair if name in where) for pair in apart)
    return frozenset(pair for pair in pairs if len(pair) == 2)


def _pools(items: Sequence[_Item], unit: ZoningLimits) -> tuple[Pool, ...]:
    """The unit's room: zones for all, circuits for the wired, slots for the wireless."""
    wired = frozenset(k for k, item in enumerate(items) if item.first.link is Link.WIRED)
    wireless = frozenset(k for k, item in enumerate(items) if item.first.link is Link.WIRELESS)
    return (
        Pool(frozenset(range(len(items))), most_groups=unit.zones),
        Pool(wired, most_groups=unit.circuits),
        Pool(wireless, most_units=unit.slots),
    )


def _zones(items: Sequence[_Item], found: Grouping, unit: ZoningLimits) -> tuple[ProposedZone, ...]:
    """The groups as zones, in the order of the devices, with names and reasons."""
    members = [tuple(device for k in group for device in items[k].devices) for group in found.groups]
    labels = distinct([label(devices) for devices in members], unit.label_length)
    return tuple(
        ProposedZone(
            label=name,
            function=items[group[0]].given,
            area=devices[0].area,
            link=devices[0].link,
            left_out=devices[0].left_out,
            devices=tuple(device.id for device in devices),
            rooms=tuple(dict.fromkeys(device.room for device in devices)),
            reason=why_together(devices, unit),
        )
        for name, group, devices in zip(labels, found.groups, members, strict=True)
    )
