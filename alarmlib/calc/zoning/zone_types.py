"""What goes into and comes out of the arrangement of zones."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.model.unit_facts import Recognises
from alarmlib.model.words import DeviceKind, Function, Link

if TYPE_CHECKING:
    from alarmlib.model.home import Home


@dataclass(frozen=True)
class ZoneDevice:
    """A detector to be given a zone.

    `place` is what a person calls the spot it guards ("hall window"); `left_out` are the part sets that do
    not listen to it.
    """

    id: str
    name: str
    kind: DeviceKind
    function: Function
    room: str = ""
    room_name: str = ""
    floor: str = ""
    area: str = ""
    link: Link = Link.WIRED
    left_out: frozenset[str] = frozenset()
    place: str = ""

    @property
    def passed(self) -> bool:
        """Whether people pass it while they are in, so that it shares nothing with what guards a way in."""
        return self.kind is DeviceKind.MOTION and self.function in {Function.AT_ONCE, Function.ENTRY_EXIT}


@dataclass(frozen=True)
class ZoningLimits:
    """What the control unit has room for, from the owner's manual; None where it is not known yet."""

    zones: int | None = None
    circuits: int | None = None
    slots: int | None = None
    functions: frozenset[Function] | None = None
    label_length: int | None = None
    tells_wireless_apart: bool = True


def unit_limits(home: "Home") -> ZoningLimits:
    """The control unit's limits as the arrangement of zones wants them.

    Reference: the owner's own answers.
    """
    limits = home.control_unit.limits
    return ZoningLimits(
        zones=limits.zones,
        circuits=limits.circuits,
        slots=limits.wireless_slots,
        functions=frozenset(limits.functions) or None,
        label_length=limits.label_length,
        tells_wireless_apart=limits.recognises is not Recognises.CIRCUITS,
    )


@dataclass(frozen=True)
class ProposedZone:
    """A zone with its name, treatment, devices, and why these devices are in it."""

    label: str
    function: Function
    area: str
    link: Link
    left_out: frozenset[str]
    devices: tuple[str, ...]
    rooms: tuple[str, ...]
    reason: str
