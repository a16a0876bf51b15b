"""Which function each detector should get: from what and where it is and who moves there; with a reason."""

from collections.abc import Iterable
from dataclasses import dataclass

from alarmlib.model.words import DeviceKind, Function


@dataclass(frozen=True)
class PlacedDetector:
    """A detector in its place.

    `on_route` says that people pass it between an entry/exit door and the keypad; `entry_exit` that it is fitted to
    a door used to leave and come home; `moved_at_night` that somebody sleeps or walks, or a pet runs free,
    in its room at night; `pet_trips_it` that a pet is there while nobody is in and may set it off.
    """

    id: str
    kind: DeviceKind
    room: str = ""
    on_route: bool = False
    entry_exit: bool = False
    moved_at_night: bool = False
    pet_trips_it: bool = False


@dataclass(frozen=True)
class Proposal:
    """The function proposed, why, whether it should listen while people sleep, and why or why not."""

    device: str
    function: Function
    reason: str
    listens_at_night: bool
    night_reason: str


_PLAIN = {
    DeviceKind.GLASS_BREAK: (Function.AT_ONCE, "somebody breaking in should be heard at once"),
    DeviceKind.SHOCK: (Function.AT_ONCE, "somebody breaking in should be heard at once"),
    DeviceKind.SMOKE: (Function.FIRE, "fire counts in every state, set or not"),
    DeviceKind.HEAT: (Function.FIRE, "fire counts in every state, set or not"),
    DeviceKind.CARBON_MONOXIDE: (Function.CARBON_MONOXIDE, "gas counts in every state, set or not"),
    DeviceKind.WATER: (Function.WATER, "water counts in every state, and needs no outside siren"),
    DeviceKind.LOW_TEMPERATURE: (Function.LOW_TEMPERATURE, "frost counts in every state, and needs no outside siren"),
    DeviceKind.HOLD_UP: (Function.HOLD_UP, "help is asked for in every state"),
    DeviceKind.KEY_SWITCH: (Function.KEY_SWITCH, "it sets and unsets"),
}
_INSIDE = frozenset({Function.AT_ONCE, Function.ENTRY_ROUTE})


def propose_functions(devices: Iterable[PlacedDetector]) -> tuple[Proposal, ...]:
    """A proposal for each device, in their order.

    Reference: NFPA 731 5.1.6.1 (only entry/exit doors and the detectors that must be passed are delayed, seen);
    UL 1641 16.1 (parts left out while people are in, seen); the rest common practice, no source.
    """
    return tuple(_propose(device) for device in devices)


def _propose(device: PlacedDetector) -> Proposal:
    function, reason = _function(device)
    listens, night_reason = _night(device, function)
    return Proposal(device.id, function, reason, listens, night_reason)


def _function(device: PlacedDetector) -> tuple[Function, str]:
    if device.kind is DeviceKind.CONTACT:
        return _contact(device)
    if device.kind is DeviceKind.MOTION:
        return _motion(device)
    return _PLAIN.get(device.kind, (Function.UNUSED, "it does not detect anything"))


def _contact(device: PlacedDetector) -> tuple[Function, str]:
    if device.entry_exit:
        return Function.ENTRY_EXIT, "people come and go by this door, so it starts the entry delay"
    if device.on_route:
        return Function.ENTRY_ROUTE, "people pass it on the way to the keypad, so it waits for their delay"
    return Function.AT_ONCE, "nobody comes home by it, so opening it is heard at once"


def _motion(device: PlacedDetector) -> tuple[Function, str]:
    pet = "; a pet is free here while nobody is in: choose a place or kind that the pet does not trip"
    if device.on_route:
        function, reason = Function.ENTRY_ROUTE, "people pass it on the way to the keypad"
    else:
        function, reason = (
            Function.AT_ONCE,
            "nobody passes it to reach the keypad, so it is heard at once",
        )
    return function, reason + (pet if device.pet_trips_it else "")


def _night(device: PlacedDetector, function: Function) -> tuple[bool, str]:
    if function not in _INSIDE or device.kind is not DeviceKind.MOTION:
        return True, "it guards the outside or counts in every state"
    if device.moved_at_night:
        return False, "somebody sleeps, walks or runs about here at night"
    return True, "nobody moves here at night"
