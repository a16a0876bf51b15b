"""A standby battery: how much is asked for, how long it lasts, how soon it is full again. A, h, Ah, °C."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import inf, log

from alarmlib.errors import AlarmProblem
from alarmlib.model.wiring import RuleEdition, StandbyRule

END_OF_LIFE = 0.8  # replaced at 80 % of its rated capacity
CHARGE_EFFICIENCY = 0.85  # lead-acid, common practice
CONVERTER_EFFICIENCY = 0.85
BRITISH_RATE_H = 20.0
# Share of capacity left in the cold, sealed lead-acid, discharged over more than an hour.
LOW_TEMPERATURE = ((-20.0, 0.55), (0.0, 0.84), (5.0, 0.88), (10.0, 0.90), (15.0, 0.94), (20.0, 0.99), (25.0, 1.0))


# Usual sealed lead-acid batteries of 12 V, Ah.
USUAL_AH = (1.2, 2.1, 3.2, 4.0, 7.0, 12.0, 17.0, 24.0, 40.0)


@dataclass(frozen=True)
class Standby:
    """What a rule asks for: hours quiet, hours in alarm (None: the unit's own siren time), the factor on it.

    `high_rate` is the factor on the alarm's share where its current is high for the battery (BS 5839-1).
    `factor_source` says where the factor comes from: 1.25 is one over the 80 % at which a battery is replaced.
    """

    quiet_h: float
    alarm_h: float | None
    factor: float
    source: str
    high_rate: float = 1.0
    factor_source: str = "battery_factor"


_MARGIN = "nfpa72_margin"
_RULES: dict[tuple[StandbyRule, RuleEdition], Standby] = {
    (StandbyRule.EN_LOW, RuleEdition.CURRENT): Standby(12, None, 1.25, "en50131_standby"),
    (StandbyRule.EN_HIGH, RuleEdition.CURRENT): Standby(60, None, 1.25, "en50131_standby"),
    (StandbyRule.EN_HIGH_TOLD, RuleEdition.CURRENT): Standby(30, None, 1.25, "en50131_standby"),
    (StandbyRule.BURGLARY_US, RuleEdition.CURRENT): Standby(4, None, 1.2, "ul1023_standby", factor_source=_MARGIN),
    (StandbyRule.FIRE_US, RuleEdition.CURRENT): Standby(24, 4 / 60, 1.2, "nfpa72_standby", factor_source=_MARGIN),
    (StandbyRule.FIRE_US, RuleEdition.EARLIER): Standby(24, 4 / 60, 1.0, "nfpa72_standby", factor_source=_MARGIN),
    (StandbyRule.PREMISES_US, RuleEdition.CURRENT): Standby(24, 5 / 60, 1.2, "nfpa72_premises", factor_source=_MARGIN),
    (StandbyRule.PREMISES_US, RuleEdition.EARLIER): Standby(24, 5 / 60, 1.0, "nfpa72_premises", factor_source=_MARGIN),
    (StandbyRule.PREMISES_BRITAIN, RuleEdition.CURRENT): Standby(
        24, 0.5, 1.25, "bs5839_1_battery", 1.75, "bs5839_1_battery"
    ),
    (StandbyRule.PREMISES_BRITAIN, RuleEdition.EARLIER): Standby(
        24, 0.5, 1.25, "bs5839_1_battery", 2.0, "bs5839_1_battery"
    ),
}


def standby_of(rule: StandbyRule, edition: RuleEdition = RuleEdition.CURRENT) -> Standby | None:
    """What a rule asks for in that edition; None where there is no rule. Where no earlier one differs, the same.

    Reference: EN 50131-1; NFPA 72 chapters 10 and 29, the 20 % from 2013; UL 1023; BS 5839-1.
    """
    return _RULES.get((rule, edition)) or _RULES.get((rule, RuleEdition.CURRENT))


def asked_ah(quiet_a: float, quiet_h: float, alarm_a: float, alarm_h: float, factor: float = 1.0) -> float:
    """Capacity asked for, Ah: factor x (quiet current x hours + alarm current x hours).

    Raises AlarmProblem for anything below 0.
    Reference: NFPA 72 10.6.7.2 with its 20 % (`nfpa72_margin`); EN practice with 1.25 for ageing
    (`battery_factor`); BS 5839-1 has its 1.25 in the rule itself.
    """
    named = {"quiet current": quiet_a, "quiet hours": quiet_h, "alarm current": alarm_a, "alarm hours": alarm_h}
    for name, value in (*named.items(), ("factor", factor)):
        if value < 0:
            raise AlarmProblem(f"The {name} is {value:g}; 0 or more is allowed.")
    return factor * (quiet_a * quiet_h + alarm_a * alarm_h)


def british_ah(
    quiet_a: float, quiet_h: float, alarm_a: float, alarm_h: float = 0.5, high_rate: float = 1.75
) -> tuple[float, float]:
    """Capacity asked for by BS 5839-1, Ah, and the factor D on the alarm's share that it took.

    D is 1 while the answer over 20 h still gives the alarm's current, else `high_rate`: tried with 1 first.
    Reference: BS 5839-1:2025 Annex E as quoted by a trade guide; D 1.75 since 2002, 2 before.
    """
    gentle = asked_ah(quiet_a, quiet_h, alarm_a, alarm_h, 1 / END_OF_LIFE)
    if gentle / BRITISH_RATE_H >= alarm_a:
        return gentle, 1.0
    return asked_ah(quiet_a, quiet_h, alarm_a, alarm_h * high_rate, 1 / END_OF_LIFE), high_rate


def cold_share(temperature_c: float) -> float:
    """Share of a sealed lead-acid battery's capacity left in the cold, over more than an hour; 1 from 25 °C.

    Reference: a maker's table of temperature and capacity (0 °C 0.84 ... 25 °C 1); below 0 °C common practice.
    """
    if temperature_c <= LOW_TEMPERATURE[0][0]:
        return LOW_TEMPERATURE[0][1]
    for (low_c, low), (high_c, high) in pairwise(LOW_TEMPERATURE):
        if temperature_c <= high_c:
            return low + (high - low) * (temperature_c - low_c) / (high_c - low_c)
    return 1.0


def peukert_h(current_a: float, rated_ah: float, rated_h: float, exponent: float, share: float = 1.0) -> float:
    """How long a battery gives a current, h: t = s H (C / (I H))^k, the rated form; infinite for no current.

    C and H are the rating that is printed on it: the formula holds for a battery of that rating. What age and cold
    leave of it is a share s of capacity, and a share of capacity is measured as actual over rated time at the rated
    current, so it multiplies the time; it does not go into C. Below its rated current no more than its capacity is
    counted: the formula would promise more. Raises AlarmProblem for a battery with no rate.
    Reference: Peukert's law in its rated form; capacity in per cent by a text on storage battery
    maintenance (`battery_share`).
    """
    if rated_h <= 0 or rated_ah <= 0:
        raise AlarmProblem("A battery needs its capacity and the hours over which that was rated, both above 0.")
    if current_a <= 0:
        return inf
    linear = rated_ah / current_a
    return float(share * min(linear, rated_h * (linear / rated_h) ** exponent))


def exponent_of(one_a: float, one_h: float, other_a: float, other_h: float) -> float:
    """Exponent for large currents (Peukert) from two ratings, each a current and its hours.

    Reference: Peukert's law solved for its exponent, k = ln(t1 / t2) / ln(I2 / I1).
    """
    return log(one_h / other_h) / log(other_a / one_a)


def share_left(coldest_c: float, aged: float = END_OF_LIFE) -> float:
    """What an aged battery in the cold still holds, as a share of its rated capacity.

    Reference: 0.8 at the end of its life (`battery_80`) x the cold's share (`battery_cold`).
    """
    return aged * cold_share(coldest_c)


@dataclass(frozen=True)
class DischargePoint:
    """One point of a discharge: h since the mains went, share of the battery left."""

    hours: float
    left: float


def discharge(
    phases: Sequence[tuple[float, float]], rated_ah: float, rated_h: float, exponent: float, share: float = 1.0
) -> list[DischargePoint]:
    """The battery's course through phases of (A, h), ending early when it is empty; `share` is what age and cold leave.

    Each phase takes its hours' share of the hours that the battery would give at that current.
    Reference: Peukert's law in its rated form, phase by phase.
    """
    course = [DischargePoint(0.0, 1.0)]
    for current_a, hours in phases:
        lasts_h = peukert_h(current_a, rated_ah, rated_h, exponent, share)
        before = course[-1]
        left = before.left - hours / lasts_h
        if left <= 1e-9:
            course.append(DischargePoint(before.hours + before.left * lasts_h, max(0.0, left) if left > -1e-9 else 0.0))
            break
        course.append(DischargePoint(before.hours + hours, left))
    return course


def recharge_h(rated_ah: float, charger_a: float, efficiency: float = CHARGE_EFFICIENCY) -> float:
    """Hours to charge an empty battery. AlarmProblem when the charger gives nothing.

    Reference: C / (I x efficiency); efficiency 85 %, common practice.
    """
    if charger_a <= 0:
        raise AlarmProblem(f"The charger gives {charger_a:g} A; more than 0 is allowed.")
    return rated_ah / (charger_a * efficiency)


def due_on(fitted_on: str, lasts_years: float) -> str:
    """The day by which a battery is to be replaced, year-month-day.

    Reference: the battery's own manual: its life from the day it was fitted.
    """
    return (date.fromisoformat(fitted_on) + timedelta(days=round(365.25 * lasts_years))).isoformat()
