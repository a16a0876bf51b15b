"""What is entered of each part of a control unit: devices, zones, part sets, areas, and what it watches."""

from dataclasses import dataclass

from alarmlib.model.words import FaultKind, Function


@dataclass(frozen=True)
class DeviceSetup:
    """A device of a zone: `lasting` ones stay tripped until they close; `sleep_s` is their sleep time after a trip."""

    id: str
    lasting: bool = True
    sleep_s: int = 0
    movement_restarts_sleep: bool = False


@dataclass(frozen=True)
class ZoneSetup:
    """A zone. Without devices it has one lasting device of its own name.

    `entry_s` is the entry delay it gives (None: the area's), `exit_s` the time to be let out by it,
    `repeat_limit` the alarms in a set period after which it is ignored (0: no limit), `partners` the zones
    one of which must confirm it within `confirm_s`, `restore_hold_s` how long it must be normal
    to count as so; `inside`: people pass its devices on the way out.
    """

    id: str
    function: Function
    areas: tuple[str, ...]
    devices: tuple[DeviceSetup, ...] = ()
    entry_s: int | None = None
    exit_s: int | None = None
    chime: bool = False
    silent: bool = False
    repeat_limit: int = 0
    partners: tuple[str, ...] = ()
    confirm_s: int = 0
    same_zone_confirms: bool = False
    abort: bool = True
    restore_hold_s: int = 0
    reports_each_device: bool = False
    out_of_use: bool = False
    inside: bool = False


@dataclass(frozen=True)
class PartSetup:
    """A part set: the zones left out, the entry/exit doors without delay, its exit time (0: none)."""

    id: str
    left_out: frozenset[str] = frozenset()
    doors_at_once: frozenset[str] = frozenset()
    exit_s: int = 0


@dataclass(frozen=True)
class AreaSetup:
    """An area that is set by itself, with its times and part sets; `nobody_left` names a part set or is blank.

    `follows`: an area whose entry delay is given to this one too while it is set.
    """

    id: str
    exit_s: int
    entry_s: int
    siren_s: int
    abort_s: int = 0
    parts: tuple[PartSetup, ...] = ()
    nobody_left: str = ""
    follows: str = ""


@dataclass(frozen=True)
class WatchSetup:
    """Something the unit watches: which fault, how long it must last, whether it prevents setting, stays shown."""

    id: str
    kind: FaultKind
    hold_s: int = 0
    stops_setting: bool = False
    latches: bool = False
    areas: tuple[str, ...] = ()
    zones: tuple[str, ...] = ()
