"""The siren and the local limit: how long one alarm sounds, and how long the siren may sound in an hour by itself."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from alarmlib.control.from_home import SIREN_S, setup_from_home
from alarmlib.control.inputs import SET_FULL
from alarmlib.control.layout import State
from alarmlib.control.setup import Setup
from alarmlib.model.home import Home
from alarmlib.model.words import FaultKind
from alarmlib.proof.faults.single_faults import SET_FULL_NAME
from alarmlib.proof.intruder.ways import set_state, sets_of
from alarmlib.proof.report.verdicts import Beat, OnProgress, ProofVerdict, Proved
from alarmlib.proof.search.budget import OverBudget, Spending, gone_through, spending_of
from alarmlib.proof.unit.siren_hour import SirenHour, most_in_an_hour, siren_hour

EVERYWHERE = ""


@dataclass(frozen=True)
class SetHour:
    """The worst hour of one set of one area alone, or of every area set away (`area` blank)."""

    area: str
    part: str
    hour: SirenHour


def siren_hours(home: Home, keeps_limit: bool, season: str = "") -> tuple[SetHour, ...]:
    """The worst hour with every area set away, then of each set of each area alone.

    `keeps_limit`: the unit itself stops the outside siren when the council's time for an hour is used up; else it
    has no such limit. The siren time is the one entered, longer than the council allows or not.
    By `alarmlib.proof.unit.siren_hour`.
    """
    setup = _setup(home, keeps_limit, season)
    return tuple(SetHour(area, part, siren_hour(setup, state)) for area, part, state in _states(setup))


def _worst_hour(setup: Setup, spending: Spending) -> SetHour:
    """The hour of the set whose bound is the highest (every area set away, where that is as high)."""
    area, part, state = _loudest(setup, spending)
    return SetHour(area, part, siren_hour(setup, state, spending))


def _loudest(setup: Setup, spending: Spending) -> tuple[str, str, State]:
    found = list[tuple[str, str, State]]()
    for number, each in enumerate(_states(setup)):
        spending.prepare(f"the siren in an hour, {number + 1} sets by now", 0, 1)
        found.append(each)
    return max(found, key=lambda each: most_in_an_hour(setup, each[2]))


def _states(setup: Setup) -> Iterator[tuple[str, str, State]]:
    if len(setup.areas) > 1:
        yield EVERYWHERE, SET_FULL_NAME, set_state(setup, {area.id: SET_FULL for area in setup.areas})
    for area in setup.areas:
        for part in sets_of(setup, area.id):
            yield area.id, part or SET_FULL_NAME, set_state(setup, {area.id: part})


def _setup(home: Home, keeps_limit: bool, season: str) -> Setup:
    """The home's setup with the siren time as entered, tampers the only faults watched."""
    setup = setup_from_home(home, season)
    siren_s = _one_alarm_s(home)
    behaviour = setup.behaviour if keeps_limit else replace(setup.behaviour, siren_cap_s=0)
    return replace(
        setup,
        areas=tuple(replace(area, siren_s=siren_s) for area in setup.areas),
        watches=tuple(watch for watch in setup.watches if watch.kind is FaultKind.TAMPER),
        behaviour=behaviour,
    )


def _one_alarm_s(home: Home) -> int:
    entered = home.control_unit.times.siren_s
    return SIREN_S if entered is None else round(entered)


def siren_in_an_hour(home: Home, season: str = "", progress: OnProgress | None = None) -> Proved:
    """The property `siren_in_an_hour`: one alarm, and the worst hour, against the council's limits.

    Breached when one alarm sounds longer than the council allows, or when only a unit that keeps the hour's limit by
    itself would hold it and the owner says that theirs doesn't; not settled when that isn't known. Times are those
    set, not the ends of their tolerance. It is not settled, too, when it ends at a limit of `progress`.
    As `siren_hours`.
    """
    spending = spending_of(progress)
    spending("the siren in an hour", 0, 1)
    try:
        return _proved(home, season, spending)
    except OverBudget as over:
        why = gone_through(over, "only a part of the hour", "the rest of it")
        return Proved("siren_in_an_hour", _sentence(home, None), ProofVerdict.NOT_SETTLED, why=why)


def _proved(home: Home, season: str, spending: Spending) -> Proved:
    free = _worst_hour(_setup(home, False, season), spending)
    keeps = home.control_unit.behaviour.stops_siren_in_hour is not False
    kept = _worst_hour(_setup(home, True, season), spending) if keeps else free
    verdict, why = _verdict(home, free.hour, kept.hour)
    counterexample = () if verdict is ProofVerdict.HOLDS else _counterexample(home, free)
    return Proved(
        "siren_in_an_hour", _sentence(home, free.hour), verdict, _shown(home, free, kept), counterexample, why=why
    )


def _verdict(home: Home, free: SirenHour, kept: SirenHour) -> tuple[ProofVerdict, str]:
    one_s, hour_s = home.rules.siren_limit_s, home.rules.siren_limit_hour_s
    if one_s is not None and _one_alarm_s(home) > one_s:
        return ProofVerdict.BREACHED, f"One alarm sounds {_one_alarm_s(home)} s; the local limit is {one_s:g} s."
    if hour_s is None or free.most_s <= hour_s:
        return ProofVerdict.HOLDS, ""
    if free.played_s <= hour_s:
        text = (
            f"It sounds at most {free.most_s} s. The worst order of trips found sounds {free.played_s} s, which is "
            "within the local limit."
        )
        return ProofVerdict.NOT_SETTLED, text
    stops = home.control_unit.behaviour.stops_siren_in_hour
    if stops and kept.most_s <= hour_s:
        return ProofVerdict.HOLDS, ""
    if stops is False:
        return (
            ProofVerdict.BREACHED,
            f"The control unit does not stop its siren: it may sound {free.played_s} s of an hour.",
        )
    return ProofVerdict.NOT_SETTLED, (
        f"A control unit that stops the siren by itself after {hour_s:g} s of an hour sounds it for {kept.most_s} "
        f"s at most. One that does not may sound it for {free.played_s} s. Your control unit's manual says which "
        "kind yours is."
    )


def _sentence(home: Home, hour: SirenHour | None) -> str:
    """The property; `hour` is None where it is not known how long it sounds."""
    one_s, hour_s = home.rules.siren_limit_s, home.rules.siren_limit_hour_s
    sounds = "a time that was not worked out" if hour is None else f"{hour.most_s} s"
    one = "" if one_s is None else f", and for one alarm at most the {one_s:g} s of the local limit"
    most = (
        f"{sounds} in any hour (no local limit for an hour is entered)"
        if hour_s is None
        else f"the local limit of {hour_s:g} s in any hour"
    )
    return (
        "While nobody touches the control unit, zones that trip again and again sound the outside siren for at "
        f"most {most}{one}. Fire and carbon monoxide sound until silenced and are not counted."
    )


def _shown(home: Home, worst: SetHour, kept: SetHour) -> dict[str, str]:
    shown = {
        "area": worst.area or "every area",
        "set": worst.part,
        "one_alarm_s": str(_one_alarm_s(home)),
        "played_s": str(worst.hour.played_s),
        "most_s": str(worst.hour.most_s),
        "unbroken_s": str(worst.hour.unbroken_s),
        "if_the_unit_keeps_the_limit_s": str(kept.hour.most_s),
    }
    limits = {"limit_s": home.rules.siren_limit_s, "limit_hour_s": home.rules.siren_limit_hour_s}
    return shown | {name: f"{limit:g}" for name, limit in limits.items() if limit is not None}


def _counterexample(home: Home, worst: SetHour) -> tuple[Beat, ...]:
    """Each trip of the worst hour, and what they come to."""
    begun = [_beat(home, at_s, name) for at_s, name in worst.hour.alarms]
    end = f"In an hour from the first alarm the outside siren has sounded {worst.hour.played_s} s."
    return (*begun, Beat(worst.hour.ended_s, "nobody", "", output=end))


def _beat(home: Home, at_s: int, name: str) -> Beat:
    """A trip of a zone, or of the tamper of a device."""
    labels = {zone.id: zone.label for zone in home.control_unit.zones}
    state = "What is set stays set; nobody gives the code."
    if name in labels:
        return Beat(at_s, "nobody", "", zones=(name,), state=state, output=f"“{labels[name]}” trips.")
    device = name.removeprefix("tamper_")
    said = next((each.name for each in home.whole_devices if each.id == device), device)
    return Beat(at_s, "nobody", "", devices=(device,), state=state, output=f"The tamper of “{said}” trips.")
