"""Wireless devices: signal to spare, how long a battery lasts, and which flat battery opens which hole."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.battery import due_on
from alarmlib.calc.figure import Figure
from alarmlib.errors import AlarmProblem
from alarmlib.model.asked import asked
from alarmlib.model.devices import BatteryKind, Device, Wireless
from alarmlib.model.questions import at_work, wireless
from alarmlib.model.site import Yes
from alarmlib.model.words import DETECTORS, DeviceKind, Link
from alarmlib.units import Kind, rounded, show

if TYPE_CHECKING:
    from alarmlib.model.home import Home

MESSAGES_A_TRIP = 2  # tripped, and at rest again
SELF_DISCHARGE_A_YEAR = {BatteryKind.LITHIUM: 0.01, BatteryKind.COIN: 0.02, BatteryKind.ALKALINE: 0.03}
IN_THE_COLD = {BatteryKind.LITHIUM: 0.9, BatteryKind.COIN: 0.7, BatteryKind.ALKALINE: 0.5}  # at 0 °C and below
_BURGLAR = frozenset({DeviceKind.CONTACT, DeviceKind.MOTION, DeviceKind.GLASS_BREAK, DeviceKind.SHOCK})
_WATCH = DETECTORS - {DeviceKind.HOLD_UP, DeviceKind.KEY_SWITCH}
_HOURS_A_YEAR = 365.25 * 24
COMPUTED = "computed"


def spare(facts: Wireless) -> float | None:
    """Signal read less what its manual ask for, on the unit's own scale; None when either isn't known.

    Reference: the owner's reading and manual.
    """
    return None if facts.signal is None or facts.signal_asked is None else facts.signal - facts.signal_asked


def average_ua(rests_at_ua: float, report_mas: float, check_in_s: float, trips_a_day: float) -> float:
    """Average current of a wireless device, µA: at rest, and what each message takes.

    Reference: charge balance; each trip sends two messages, common practice.
    """
    if check_in_s <= 0:
        raise AlarmProblem(f"It reports every {check_in_s:g} s; more than 0 is allowed.")
    a_day = 86400 / check_in_s + MESSAGES_A_TRIP * trips_a_day
    return rests_at_ua + report_mas * 1000 * a_day / 86400


def battery_years(battery_mah: float, average: float, kind: BatteryKind, coldest_c: float | None = None) -> float:
    """How long a battery lasts at an average current in µA, years.

    Reference: capacity over current and self-discharge; shares in the cold and self-discharge are common practice,
    no source.
    """
    usable = battery_mah * usable_share(kind, coldest_c)
    return 1000 * usable / ((average + leaks_ua(battery_mah, kind)) * _HOURS_A_YEAR)


def usable_share(kind: BatteryKind, coldest_c: float | None = None) -> float:
    """Share of a cell that can be used where it is as cold as that.

    Reference: common practice, no source: less from 5 °C down, by the kind of cell.
    """
    return 1.0 if coldest_c is None or coldest_c > 5 else IN_THE_COLD.get(kind, 0.7)


def leaks_ua(battery_mah: float, kind: BatteryKind) -> float:
    """What a cell loses by itself, as a current, µA.

    Reference: a share of its capacity a year, common practice, no source.
    """
    return 1000 * battery_mah * SELF_DISCHARGE_A_YEAR.get(kind, 0.02) / _HOURS_A_YEAR


def years_of(home: "Home", device: Device) -> tuple[float, str] | None:
    """How long a device's cell lasts, years, and from what that is known; None when it isn't.

    Reference: computed from its manual' currents where all are entered, else the years that the manual state.
    """
    facts = device.wireless
    if facts is None or facts.battery is BatteryKind.MAINS:
        return None
    parts = (facts.battery_mah, facts.rests_at_ua, facts.report_mas, facts.check_in_s)
    if None in parts:
        return None if facts.battery_lasts_years is None else (facts.battery_lasts_years, "its manual")
    cold = _coldest_c(home, device)
    average = average_ua(
        facts.rests_at_ua or 0.0, facts.report_mas or 0.0, facts.check_in_s or 1.0, facts.trips_a_day or 0.0
    )
    return battery_years(facts.battery_mah or 0.0, average, facts.battery, cold), COMPUTED


def _coldest_c(home: "Home", device: Device) -> float | None:
    return next((room.coldest_c for room in home.site.rooms if room.id == device.room), None)


def battery_life_figures(home: "Home") -> Iterator[Figure]:
    """How long each cell lasts that is worked out from its currents, to follow.

    By `battery_years`, `average_ua`.
    """
    for device in wireless(home):
        lasts, facts = years_of(home, device), device.wireless
        if lasts is not None and facts is not None and lasts[1] == COMPUTED:
            yield _battery_life_figure(home, device, facts, lasts[0])


def _battery_life_figure(home: "Home", device: Device, facts: Wireless, years: float) -> Figure:
    average = average_ua(
        facts.rests_at_ua or 0.0, facts.report_mas or 0.0, facts.check_in_s or 1.0, facts.trips_a_day or 0.0
    )
    mah, cold_c = facts.battery_mah or 0.0, _coldest_c(home, device)
    inputs = (
        ("Q", f"{mah:g} mAh"),
        ("c", rounded(usable_share(facts.battery, cold_c))),
        ("at rest", f"{facts.rests_at_ua or 0:g} µA"),
        ("a message", f"{facts.report_mas or 0:g} mA·s"),
        ("reports every", show(facts.check_in_s or 1.0, Kind.TIME, home.units)),
        ("trips a day", f"{facts.trips_a_day or 0:g}"),
        ("I", f"{rounded(average)} µA"),
        ("leaks", f"{rounded(leaks_ua(mah, facts.battery))} µA"),
    )
    formula = (
        "years = c Q / ((I + leaks) × 8,766 h), I = at rest + a message × messages a day / 86,400 s; messages a day = "
        f"86,400 s / reports every + {MESSAGES_A_TRIP} × trips"
    )
    return Figure(f"cell_life.{device.id}", rounded(years), "years", formula, inputs, ("owner", "practice", "computed"))


@dataclass(frozen=True)
class Due:
    """When a device's cell is to be changed ("" when the day it was fitted isn't known), and from what."""

    device: str
    on: str
    years: float
    known_by: str


def replacements(home: "Home") -> tuple[Due, ...]:
    """Every cell that is known to run out, the first to be changed first.

    The day it was fitted and how long it lasts.
    """
    found = [_due(home, device) for device in wireless(home)]
    return tuple(sorted((due for due in found if due), key=lambda due: (due.on or "9999", due.years)))


def _due(home: "Home", device: Device) -> Due | None:
    lasts = years_of(home, device)
    if lasts is None or device.wireless is None:
        return None
    fitted = device.wireless.battery_fitted_on
    return Due(device.id, due_on(fitted, lasts[0]) if fitted else "", *lasts)


@dataclass(frozen=True)
class FlatBatteryHole:
    """What a flat battery leaves unguarded: openings and rooms watched by nothing else, and the hole's longest time, s.

    `announced_s` is None when the unit isn't known to miss it; `warned` says whether a low cell is reported before.
    """

    device: str
    openings: tuple[str, ...]
    rooms: tuple[str, ...]
    announced_s: float | None
    warned: Yes


@asked
def holes(home: "Home") -> tuple[FlatBatteryHole, ...]:
    """For each wireless detector what it alone watches, and how long it may be gone before that is announced.

    Our own reading: a detector watches the openings it names, one without any its room; burglar detectors
    replace one another, smoke, heat, CO, water and cold for their own kind alone.
    """
    watchers = [device for device in at_work(home, *_WATCH) if device.zone]
    return tuple(hole for device in watchers if device.link is Link.WIRELESS and (hole := _hole(device, watchers)))


def _hole(device: Device, watchers: list[Device]) -> FlatBatteryHole | None:
    others = [other for other in watchers if other.id != device.id and _replaces(other, device)]
    openings = tuple(o for o in device.openings if not any(o in other.openings for other in others))
    alone = not any(other.room == device.room and _watches_room(other) for other in others)
    rooms = (device.room,) if device.room and _watches_room(device) and alone else ()
    if not openings and not rooms:
        return None
    facts = device.wireless or Wireless()
    return FlatBatteryHole(device.id, openings, rooms, facts.missing_after_s, facts.reports_low_battery)


def _replaces(one: Device, other: Device) -> bool:
    return one.kind is other.kind or {one.kind, other.kind} <= _BURGLAR


def _watches_room(device: Device) -> bool:
    return not device.openings and device.kind not in (DeviceKind.CONTACT, DeviceKind.SHOCK)
