"""Standby: whether the battery lasts as long as the chosen rule asks, and whether messages get out meanwhile."""

from collections.abc import Iterator
from datetime import date, timedelta

from alarmlib.calc.electrical.battery import asked_ah, peukert_h, recharge_h
from alarmlib.calc.electrical.power import (
    Sizing,
    box_lasts_h,
    course,
    due_day,
    exponent,
    lasts_h,
    load,
    outlasts,
    sizing,
    unknown_draws,
    usual_ah,
    wanted_h,
)
from alarmlib.calc.electrical.power_figures import power_figures
from alarmlib.calc.figure import Figure
from alarmlib.checks.check import CheckGroup, Said, check, dated_check, must, note, should, weigh
from alarmlib.checks.finding import Finding
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.questions import by_id
from alarmlib.model.wiring import FedBy, StandbyRule
from alarmlib.rules import rules_of
from alarmlib.units import rounded

SOON = timedelta(days=90)


@check
def too_small(home: Home) -> Said:
    """The battery is as large as the rule asks; what age and cold take away is common practice on top of it."""
    found = sizing(home)
    if found is None:
        return
    yield _figure(found)
    if found.rated_ah is None:
        message = "No standby battery is entered, so the control unit may stop when the mains fails."
        yield note("supply", message, _larger(home), "battery_sizes", limit=f"{rounded(found.cold_ah)} Ah")
        return
    by_rule_ah = _by_rule_ah(found)
    if found.rated_ah < by_rule_ah:
        message = "The standby battery is smaller than the chosen rule asks: in a long power cut the alarm stops early."
        yield weigh(_binds(home, found), "supply", message, _larger(home), found.hours.source, **_ah(found, by_rule_ah))
    elif found.rated_ah < found.asked_ah:
        message = "The standby battery meets the chosen rule while it is new, but not once it has aged."
        yield should("supply", message, _larger(home), found.hours.factor_source, **_ah(found, found.asked_ah))
    elif found.rated_ah < found.cold_ah:
        message = "The standby battery is too small for the chosen rule in the cold where it is mounted."
        yield should(
            "supply",
            message,
            f"{_larger(home)} Or mount it in a warmer place.",
            "battery_cold_factor",
            **_ah(found, found.cold_ah),
        )


def _by_rule_ah(found: Sizing) -> float:
    """What the rule itself asks of a new, warm battery, Ah; BS 5839-1 has ageing and D in its own formula."""
    if found.hours.source == "bs5839_1_battery":
        return found.asked_ah
    hours, load_a = found.hours, found.load
    return asked_ah(load_a.quiet_a, hours.quiet_h, load_a.alarm_a, hours.alarm_h or 0.0)


def _binds(home: Home, found: Sizing) -> bool:
    """Whether the chosen rule is about this home: the owner's own hours, or rules for homes of the country."""
    return found.hours.source == "owner" or rules_of(home).standby


def _ah(found: Sizing, limit_ah: float) -> dict[str, str]:
    rated_ah = found.rated_ah or 0.0
    return {
        "figure": f"{rated_ah:g} Ah",
        "limit": f"{rounded(limit_ah)} Ah",
        "margin": f"{rounded(rated_ah - limit_ah)} Ah",
    }


def _larger(home: Home) -> str:
    """Which usual battery serves, what limits it, or what to do where none does."""
    size, charger_a = usual_ah(home), home.wiring.supply.charger_a
    limit = rules_of(home).recharge_h
    if size is None:
        return "No usual battery is large enough. Feed less from it; the list of loads shows what you could leave out."
    told = (
        f"The next usual size that is enough is {size:g} Ah. Check that it fits the box and that your supply "
        "may charge it."
    )
    if charger_a is not None and limit and (hours := recharge_h(size, charger_a)) > limit.value:
        told += f" Your charger would take {rounded(hours)} h to fill it; your rules ask for {limit.value:g} h."
    return f"{told} Or feed less from it; the list of loads shows what you could leave out."


def _figure(found: Sizing) -> Figure:
    hours, load_a = found.hours, found.load
    british = found.hours.high_rate != 1.0
    formula = "f × (quiet A × h + D × alarm A × h) / cold" if british else "f × (quiet A × h + alarm A × h) / cold"
    inputs = [
        ("f", f"{hours.factor:g}"),
        ("quiet", f"{rounded(load_a.quiet_a)} A × {hours.quiet_h:g} h"),
        ("alarm", f"{rounded(load_a.alarm_a)} A × {rounded(hours.alarm_h or 0)} h"),
        ("cold", f"{rounded(found.asked_ah / found.cold_ah)} at {found.coldest_c:g} °C"),
    ]
    inputs += [("D", f"{found.high_rate:g}")] if british else []
    value = round(found.cold_ah, 4)
    sources = dict.fromkeys((hours.source, hours.factor_source, "battery_cold", "battery_cold_factor"))
    return Figure("battery_asked", value, "Ah", formula, tuple(inputs), tuple(sources))


@check
def runs_out(home: Home) -> Said:
    """Aged and cold, by its own rate, it still lasts the rule's hours and the alarm after them."""
    points, found = course(home), sizing(home)
    if not points or found is None:
        return
    wanted, lasts = wanted_h(found.hours), points[-1].hours
    if not outlasts(points, found.hours):
        numbers = {
            "figure": f"{rounded(lasts)} h",
            "limit": f"{rounded(wanted)} h",
            "margin": f"{rounded(lasts - wanted)} h",
        }
        message = "Aged and cold, the standby battery is empty before the rule's hours and alarm are over."
        yield should("supply", message, _larger(home), "peukert", **numbers)


@check
def facts_missing(home: Home) -> Said:
    """Rule, capacity, rate and every current are known."""
    supply = home.wiring.supply
    if not load(home).quiet_a:
        return
    if supply.rule is StandbyRule.UNKNOWN:
        yield note(
            "supply",
            "The standby battery: you have not chosen the rule that says how large it must be.",
            "Choose one on page 05.",
            "owner",
        )
    if supply.standby_battery_ah is not None and supply.rated_over_h is None:
        message = (
            "The standby battery: you have not entered over how many hours it is rated, so how long it lasts is "
            "not computed."
        )
        yield should("supply", message, "Look on the battery or in its manual. For most batteries it is 20 h.", "owner")
    bare = [said(device.name) for device in unknown_draws(home)]
    if bare:
        message = f"Current: you have not entered what these devices draw, so it counts as nothing: {', '.join(bare)}."
        yield note(
            "supply", message, "Look in their manuals. If they do not say, an electrician can measure it.", "owner"
        )


@check
def supply_overloaded(home: Home) -> Said:
    """In alarm the supply gives what everything takes."""
    most, taken = home.wiring.supply.most_a, load(home).alarm_a
    if most is not None and taken > most:
        numbers = {
            "figure": f"{rounded(taken)} A",
            "limit": f"{rounded(most)} A",
            "margin": f"{rounded(most - taken)} A",
        }
        message = "The power supply: in an alarm the devices draw more current than its manual allows."
        yield must(
            "supply", message, "Give the sounders a supply of their own, or use fewer of them.", "owner", **numbers
        )


@check
def slow_to_charge(home: Home) -> Said:
    """An empty battery is full again in the time that the rules give."""
    supply, limit = home.wiring.supply, rules_of(home).recharge_h
    if supply.charger_a is None or supply.standby_battery_ah is None or limit is None:
        return
    hours = recharge_h(supply.standby_battery_ah, supply.charger_a)
    inputs = (
        ("battery", f"{supply.standby_battery_ah:g} Ah"),
        ("charger", f"{supply.charger_a:g} A"),
        ("efficiency", "0.85"),
    )
    yield Figure("recharge", round(hours, 3), "h", "C / (I × efficiency)", inputs, (limit.source, "practice"))
    if hours > limit.value:
        margin_h = limit.value - hours
        numbers = {"figure": f"{rounded(hours)} h", "limit": f"{limit.value:g} h", "margin": f"{rounded(margin_h)} h"}
        yield should("supply", "The charger is slow, so a second power cut may come before the battery is full again.",
                     "Use a stronger charger that the battery's manual allows.", limit.source, **numbers)  # fmt: skip


@check
def boxes_without_standby(home: Home) -> Said:
    """Every box on a message's way goes on without the mains at least as long as the alarm does."""
    alarm_h = lasts_h(home)
    names = by_id(home.messages.paths)
    for box in home.wiring.boxes:
        through = ", ".join(said(names[path].name) for path in box.paths if path in names)
        hours = box_lasts_h(home, box)
        if not through:
            continue
        if hours is None:
            message = (
                f"{said(box.name)}: you have not entered how long it goes on without mains, and {through} needs it."
            )
            yield note(box.id, message, "Enter what feeds it, its watts and its battery.", "owner")
        elif box.fed_by is FedBy.MAINS:
            message = f"{said(box.name)} stops when the mains fails, and so does {through}."
            yield should(box.id, message, "Give it a standby supply, or a path that needs no mains.")
        elif alarm_h is not None and hours < alarm_h - 0.05:
            numbers = {
                "figure": f"{rounded(hours)} h",
                "limit": f"{rounded(alarm_h)} h",
                "margin": f"{rounded(hours - alarm_h)} h",
            }
            message = f"{said(box.name)} stops before the alarm does, and so does {through}."
            yield should(box.id, message, "Give it a larger standby supply.", "computed", **numbers)


@check
def told_too_late(home: Home) -> Said:
    """Lost mains is told while the battery still lasts."""
    hold_s, hours = home.control_unit.behaviour.mains_hold_s, lasts_h(home)
    if hold_s is None or hours is None or hold_s < 3600 * hours / 2:
        return
    supply, remedy = home.wiring.supply, "Shorten the time before the control unit reports lost mains."
    new_h = peukert_h(
        load(home).quiet_a, supply.standby_battery_ah or 0.0, supply.rated_over_h or 0.0, exponent(supply)
    )
    if hold_s >= 3600 * new_h:
        message = "Lost mains is reported so late that even a new battery is empty by then."
        yield must(
            "supply", message, remedy, "owner", figure=f"{rounded(hold_s / 3600)} h", limit=f"{rounded(new_h)} h"
        )
        return
    message = "Lost mains is reported so late that an old, cold battery is half empty or worse by then."
    numbers = {"figure": f"{rounded(hold_s / 3600)} h", "limit": f"{rounded(hours / 2)} h"}
    yield should("supply", message, remedy, "peukert", **numbers)


@check
def battery_undated(home: Home) -> Said:
    """When the standby battery was fitted and how long it lasts are known."""
    supply = home.wiring.supply
    if supply.standby_battery_ah is not None and not due_day(supply):
        bare = [] if supply.fitted_on else ["the day it was fitted"]
        bare += [] if supply.lasts_years is not None else ["how long it lasts"]
        message = f"The standby battery: it is not known when to change it. You have not entered {' or '.join(bare)}."
        remedy = (
            "Write the day on the battery and on page 05. Its manual says how long it lasts; 3 to 5 years is usual."
        )
        yield note("supply", message, remedy, "battery_life")


@dated_check
def battery_due(home: Home, today: date) -> Said:
    """The standby battery is not past its time."""
    due = due_day(home.wiring.supply)
    if due:
        yield from _due(home, date.fromisoformat(due), today)


def _due(home: Home, due: date, today: date) -> Iterator[Finding]:
    fitted = home.wiring.supply.fitted_on
    numbers = {"figure": f"fitted {fitted}", "limit": due.isoformat(), "margin": f"{(due - today).days} days"}
    if today > due:
        message = f"The standby battery is past its time, which ended on {due}. In a power cut it may be flat early."
        yield must("supply", message, "Change it, and enter the new day.", "owner", **numbers)
    elif today > due - SOON:
        message = f"The standby battery is due soon: its time ends on {due}."
        yield should("supply", message, "Have a new one ready.", "owner", **numbers)


@check
def worked_out(home: Home) -> Said:
    """The calculations of how long the system goes on without mains, to follow."""
    yield from power_figures(home)


GROUP = CheckGroup(
    "battery",
    (
        too_small,
        runs_out,
        facts_missing,
        supply_overloaded,
        slow_to_charge,
        boxes_without_standby,
        told_too_late,
        battery_undated,
        battery_due,
        worked_out,
    ),
)
