"""What the alarm draws, quiet and in alarm, and how long it and the boxes on its messages' way go on."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from alarmlib.calc.electrical.battery import (
    CONVERTER_EFFICIENCY,
    END_OF_LIFE,
    USUAL_AH,
    DischargePoint,
    Standby,
    asked_ah,
    british_ah,
    cold_share,
    discharge,
    due_on,
    exponent_of,
    peukert_h,
    share_left,
    standby_of,
)
from alarmlib.model.asked import asked
from alarmlib.model.devices import Device
from alarmlib.model.questions import wired
from alarmlib.model.wiring import Box, FedBy, StandbyRule, Supply

if TYPE_CHECKING:
    from alarmlib.model.home import Home

DEFAULT_COLDEST_C = 10.0
DEFAULT_SIREN_S = 900.0


@dataclass(frozen=True)
class Draw:
    """What one device or box takes from the alarm's battery, A."""

    id: str
    name: str
    quiet_a: float
    alarm_a: float


def fed(home: "Home") -> tuple[Device, ...]:
    """The wired devices that the unit's supply may feed: one out of use is on its wires until it is taken out.

    Our own reading.
    """
    return wired(home)


@asked
def draws(home: "Home") -> tuple[Draw, ...]:
    """All that the alarm's battery feeds, largest quiet current first; in alarm nothing takes less than quiet.

    Reference: the devices' own manuals; a box's watts over the supply's volts and 85 % of a converter.
    """
    found = [device_draw(d) for d in fed(home) if d.quiet_current_a is not None or d.alarm_current_a is not None]
    found += [_box_draw(home, box) for box in home.wiring.boxes if box.fed_by is FedBy.STANDBY_BATTERY]
    return tuple(sorted(found, key=lambda each: -each.quiet_a))


def device_draw(device: Device) -> Draw:
    """What one device takes; what isn't entered counts as nothing.

    Reference: the device's own manual.
    """
    quiet = device.quiet_current_a or 0.0
    return Draw(device.id, device.name, quiet, max(quiet, device.alarm_current_a or 0.0))


def _box_draw(home: "Home", box: Box) -> Draw:
    current = (box.draws_w or 0.0) / (home.wiring.supply.nominal_v * CONVERTER_EFFICIENCY)
    return Draw(box.id, box.name, current, current)


@asked
def unknown_draws(home: "Home") -> tuple[Device, ...]:
    """Wired devices whose quiet current isn't entered.

    Our own reading.
    """
    return tuple(device for device in fed(home) if device.quiet_current_a is None)


@dataclass(frozen=True)
class Load:
    """Everything together: quiet and in alarm, A."""

    quiet_a: float
    alarm_a: float


def load(home: "Home") -> Load:
    """The alarm's whole load, A."""
    each = draws(home)
    return Load(sum(draw.quiet_a for draw in each), sum(draw.alarm_a for draw in each))


def asked_hours(home: "Home") -> Standby | None:
    """What the chosen rule asks for; alarm time from the unit's siren time where the rule names none.

    The rule, as `battery.standby_of` has it; 15 min where no siren time is entered.
    """
    supply = home.wiring.supply
    if supply.rule is StandbyRule.OWN:
        if supply.quiet_h is None:
            return None
        return Standby(supply.quiet_h, (supply.alarm_s or 0.0) / 3600, 1 / END_OF_LIFE, "owner")
    rule = standby_of(supply.rule, supply.edition)
    if rule is None or rule.alarm_h is not None:
        return rule
    siren_s = home.control_unit.times.siren_s or DEFAULT_SIREN_S
    return replace(rule, alarm_h=siren_s / 3600)


@dataclass(frozen=True)
class Sizing:
    """What the rule asks of the battery, Ah, before and after the cold; D of the British rule; what is there."""

    asked_ah: float
    cold_ah: float
    high_rate: float
    rated_ah: float | None
    hours: Standby
    load: Load
    coldest_c: float


def sizing(home: "Home") -> Sizing | None:
    """The battery by the chosen rule; None without a rule or without any current.

    By `battery.asked_ah`, `battery.british_ah`; divided by the cold's share.
    """
    hours, load_a = asked_hours(home), load(home)
    if hours is None or not load_a.quiet_a:
        return None
    supply, alarm_h = home.wiring.supply, hours.alarm_h or 0.0
    rate = 1.0
    if supply.rule is StandbyRule.PREMISES_BRITAIN:
        asked, rate = british_ah(load_a.quiet_a, hours.quiet_h, load_a.alarm_a, alarm_h, hours.high_rate)
    else:
        asked = asked_ah(load_a.quiet_a, hours.quiet_h, load_a.alarm_a, alarm_h, hours.factor)
    coldest = coldest_c(home)
    return Sizing(
        asked,
        asked / cold_share(coldest),
        high_rate=rate,
        rated_ah=supply.standby_battery_ah,
        hours=hours,
        load=load_a,
        coldest_c=coldest,
    )


def coldest_c(home: "Home") -> float:
    """The coldest where the battery is: entered, else 10 °C.

    Where the owner does not say, 10 °C is our own assumption.
    """
    entered = home.wiring.supply.coldest_c
    return DEFAULT_COLDEST_C if entered is None else entered


def lasts_h(home: "Home", without_a: float = 0.0) -> float | None:
    """How long the aged battery in the cold feeds the quiet alarm, h; None when battery or rate isn't entered.

    By `battery.peukert_h` of the rated battery, times 80 % and the cold's share.
    """
    supply, quiet_a = home.wiring.supply, load(home).quiet_a - without_a
    if supply.standby_battery_ah is None or supply.rated_over_h is None or quiet_a <= 1e-9:
        return None
    left = share_left(coldest_c(home))
    return peukert_h(quiet_a, supply.standby_battery_ah, supply.rated_over_h, exponent(supply), left)


def exponent(supply: Supply) -> float:
    """Exponent for large currents (Peukert): from two ratings where a faster one is entered, else as entered; 1 to 1.6.

    By `battery.exponent_of`.
    """
    two = (supply.standby_battery_ah, supply.rated_over_h, supply.second_ah, supply.second_over_h)
    slow_ah, slow_h, fast_ah, fast_h = (part or 0.0 for part in two)
    if not all(two) or fast_h >= slow_h:
        return supply.peukert
    return min(1.6, max(1.0, exponent_of(slow_ah / slow_h, slow_h, fast_ah / fast_h, fast_h)))


def course(home: "Home", battery_ah: float | None = None) -> tuple[DischargePoint, ...]:
    """The discharge of the aged battery in the cold: quiet for the rule's hours, then in alarm, then quiet again.

    `battery_ah` tries another battery than the one entered, of the same rate and exponent.
    By `battery.discharge`.
    """
    supply, hours, load_a = home.wiring.supply, asked_hours(home), load(home)
    rated_ah = supply.standby_battery_ah if battery_ah is None else battery_ah
    if hours is None or rated_ah is None or supply.rated_over_h is None or not load_a.quiet_a:
        return ()
    phases = [(load_a.quiet_a, hours.quiet_h), (load_a.alarm_a, hours.alarm_h or 0.0), (load_a.quiet_a, 1000.0)]
    left = share_left(coldest_c(home))
    asked = [phase for phase in phases if phase[1] > 0]
    return tuple(discharge(asked, rated_ah, supply.rated_over_h, exponent(supply), left))


def wanted_h(hours: Standby) -> float:
    """Hours quiet and in alarm that a rule asks for together."""
    return hours.quiet_h + (hours.alarm_h or 0.0)


def outlasts(points: tuple[DischargePoint, ...], hours: Standby) -> bool:
    """Whether a course comes to the end of the hours that a rule asks for.

    Our own reading.
    """
    return points[-1].hours >= wanted_h(hours) - 1e-6


def usual_ah(home: "Home") -> float | None:
    """The smallest usual battery that the rule asks for and that lasts its hours by its own course; None when none is.

    By `battery.USUAL_AH`, `sizing`, `course`.
    """
    found = sizing(home)
    if found is None:
        return None
    enough = (size for size in USUAL_AH if size >= found.cold_ah - 1e-9)
    return next((size for size in enough if not (tried := course(home, size)) or outlasts(tried, found.hours)), None)


def due_day(supply: Supply) -> str:
    """The day by which the standby battery is to be changed, year-month-day; "" while that isn't known.

    By `battery.due_on`.
    """
    if not supply.fitted_on or supply.lasts_years is None:
        return ""
    return due_on(supply.fitted_on, supply.lasts_years)


def shed(home: "Home") -> tuple[tuple[Draw, float], ...]:
    """What each load's absence would add to the quiet hours, h, most first.

    By `lasts_h` with and without it.
    """
    whole = lasts_h(home)
    if whole is None:
        return ()
    gains = [(draw, more - whole) for draw in draws(home) if (more := lasts_h(home, draw.quiet_a)) is not None]
    return tuple(sorted((gain for gain in gains if gain[1] > 0.05), key=lambda gain: -gain[1]))


def box_lasts_h(home: "Home", box: Box) -> float | None:
    """How long a box goes on without mains, h; None when it isn't known.

    Watt-hours at 80 % over watts; on the alarm's battery as long as that lasts.
    """
    if box.fed_by is FedBy.MAINS:
        return 0.0
    if box.fed_by is FedBy.STANDBY_BATTERY:
        return lasts_h(home)
    if box.fed_by is FedBy.OWN_BATTERY and box.own_battery_wh is not None and box.draws_w:
        return END_OF_LIFE * box.own_battery_wh / box.draws_w
    return None


def path_lasts_h(home: "Home", path: str) -> float | None:
    """How long a message path goes on by its boxes, h; None when it has none or one isn't known."""
    lasts = [box_lasts_h(home, box) for box in home.wiring.boxes if path in box.paths]
    known = [each for each in lasts if each is not None]
    if 0.0 in known:
        return 0.0
    return min(known) if known and len(known) == len(lasts) else None
