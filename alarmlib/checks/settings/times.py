"""Entry, exit, abort and siren times: within the rules, the unit, the local limit, and everybody's walk."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from alarmlib.calc.times.chance import (
    WANTED,
    chance_figure,
    chance_in_time,
    fitters_delay_s,
    fitters_figure,
    too_late_in_words,
)
from alarmlib.calc.times.seasons import times_in
from alarmlib.calc.times.time_limits import (
    ENTRY_AND_ABORT,
    LONGEST_SIREN_S,
    SHORTEST_SIREN_S,
    WALK_TO_KEYPAD_S,
    entry_and_abort,
    soundings_an_hour,
)
from alarmlib.calc.walking.home_walks import HomeWalk, home_walks
from alarmlib.checks.check import CheckGroup, Said, check, must, note, ok, should, weigh
from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.lookup import entry_exit_doors, entry_s, exit_s, said
from alarmlib.model import Home
from alarmlib.model.control_unit import Times
from alarmlib.model.questions import at_work, by_id
from alarmlib.model.unit_facts import AllowedTimes
from alarmlib.model.words import DeviceKind
from alarmlib.rules import rules_of
from alarmlib.rules.rule import Bound, Limits
from alarmlib.sources import cite
from alarmlib.units import rounded


def set_times(home: Home) -> Iterator[tuple[str, str, str, float]]:
    """(subject, what it is called, "entry" or "exit", seconds) of every delay that is set."""
    doors = by_id(home.site.openings)
    times = home.control_unit.times
    for kind, value in (("entry", times.entry_s), ("exit", times.exit_s)):
        if value is not None:
            yield "unit", f"the {kind} delay", kind, value
    for season in home.control_unit.seasons:
        for kind, value in (("entry", season.entry_s), ("exit", season.exit_s)):
            if value is not None:
                yield season.id, f"the {kind} delay in {said(season.name)}", kind, value
    for when, door_times in (
        (("", times.doors)),
        *((f" in {said(s.name)}", s.doors) for s in home.control_unit.seasons),
    ):
        for door in door_times:
            name = said(doors[door.opening].name) if door.opening in doors else "a door"
            for kind, value in (("entry", door.entry_s), ("exit", door.exit_s)):
                if value is not None:
                    yield door.opening, f"the {kind} delay of {name}{when}", kind, value


@check
def within_the_rules(home: Home) -> Said:
    """Every delay lies within what the country's rules allow."""
    for subject, name, kind, value_s in set_times(home):
        limits = rules_of(home).entry if kind == "entry" else rules_of(home).exit
        yield from _bounded(subject, name, value_s, limits)


def _bounded(subject: str, name: str, value_s: float, limits: Limits) -> Iterator[Finding]:
    """The delay against each end of its range."""
    large = name[:1].upper() + name[1:]
    broken = False
    for bound, low in ((limits.least, True), (limits.most, False)):
        margin_s = 0.0 if bound is None else (value_s - bound.value_s if low else bound.value_s - value_s)
        if bound is not None and margin_s < 0:
            broken = True
            word = "shorter" if low else "longer"
            message = f"{large} is {word} than {_allowed(bound)}."
            remedy = f"Set {bound.value_s:g} s or {'more' if low else 'less'}."
            yield weigh(True, subject, message, remedy, bound.cite, **_seconds(value_s, bound, margin_s))
    if limits.most is not None and not broken:
        message = f"{large} is no longer than {_allowed(limits.most)}."
        yield ok(subject, message, limits.most.cite, **_seconds(value_s, limits.most, limits.most.value_s - value_s))


def _allowed(bound: Bound) -> str:
    """What a bound is called: a rule that binds homes, or a figure from memory or for other premises."""
    return "your rules allow" if cite(bound.cite).may_bind else "is usual"


def _seconds(value_s: float, bound: Bound, margin_s: float) -> dict[str, str]:
    return {"figure": f"{value_s:g} s", "limit": f"{bound.value_s:g} s", "margin": f"{margin_s:g} s"}


@check
def offered_by_the_unit(home: Home) -> Said:
    """Every time is one that the unit lets its owner choose."""
    limits, siren_s = home.control_unit.limits, home.control_unit.times.siren_s
    chosen = [(subject, name, kind, value) for subject, name, kind, value in set_times(home)]
    if siren_s is not None:
        chosen.append(("unit", "the siren time", "siren", siren_s))
    for subject, name, kind, value_s in chosen:
        allowed = {"entry": limits.entry, "exit": limits.exit, "siren": limits.siren}[kind]
        if allowed is not None and not _offers(allowed, value_s):
            large = name[:1].upper() + name[1:]
            choice = f"{allowed.low_s:g} to {allowed.high_s:g} s in steps of {allowed.step_s:g} s"
            numbers = {"figure": f"{value_s:g} s", "limit": choice}
            yield must(
                subject, f"{large} cannot be set on your control unit.", f"It offers {choice}.", "owner", **numbers
            )


def _offers(allowed: AllowedTimes, value_s: float) -> bool:
    steps = (value_s - allowed.low_s) / allowed.step_s
    return allowed.low_s <= value_s <= allowed.high_s and abs(steps - round(steps)) < 1e-6


def _sets(home: Home) -> Iterator[tuple[str, Times]]:
    """The times of the ordinary set, then of each season, with what a sentence about it adds: "", " in “Winter”"."""
    yield "", home.control_unit.times
    for season in home.control_unit.seasons:
        yield f" in {said(season.name)}", times_in(home.control_unit.times, season)


@check
def in_time(home: Home) -> Said:
    """Everybody who comes home reaches the keypad in time in each set, by calculation and by stopwatch."""
    people, doors = by_id(home.household.people), by_id(home.site.openings)
    switched = {device.room for device in at_work(home, DeviceKind.KEY_SWITCH)}
    walks = [walk for walk in home_walks(home) if doors[walk.door].room not in switched]
    for walk in walks:
        who, door = said(people[walk.person].role), said(doors[walk.door].name)
        for when, delay_s in _delays(home, walk.door, entry_s):
            if not when:
                yield chance_figure(f"{walk.person}.{walk.door}", walk.entry, delay_s, walk.entries_a_day)
            found = _late(walk, who, f"{door}{when}", delay_s, fob=bool(people[walk.person].fob))
            yield from (each for each in found if not when or each.verdict is not Verdict.OK)
    yield from _far_keypad(home, walks)


def _late(walk: HomeWalk, who: str, door: str, delay_s: float, fob: bool) -> Iterator[Finding]:
    chance = chance_in_time(walk.entry, delay_s)
    numbers = {"figure": _share(chance), "limit": f"{delay_s:g} s"}
    message = f"{who}, coming in by {door}, is too late {too_late_in_words(chance)}."
    if walk.stopped_in_s:
        message += " That is from your stopwatch."
    elif walk.assumed:
        message += " A part of the way is assumed: time it with a stopwatch."
    if chance < WANTED:
        say = note if fob else should
        message += f" More than one time in {1 / (1 - WANTED):.0f} is too often: each may be a false alarm."
        remedy = (
            "Use the fob before the door opens."
            if fob
            else "Lengthen the entry delay, fit a keypad nearer, or give them a fob."
        )
        yield say(walk.person, message, remedy, "late_limit", **numbers)
    else:
        yield ok(walk.person, message, "computed", **numbers)
    if walk.stopped_in_s and max(walk.stopped_in_s) > delay_s:
        slowest_s = max(walk.stopped_in_s)
        message = (
            f"{who} took {slowest_s:g} s from opening {door} until the alarm was off. "
            f"The entry delay is only {delay_s:g} s."
        )
        margin = f"{delay_s - slowest_s:g} s"
        numbers = {"figure": f"{slowest_s:g} s", "limit": f"{delay_s:g} s", "margin": margin}
        yield must(walk.person, message, "Lengthen the entry delay, or fit a keypad nearer.", "owner", **numbers)


def _share(chance: float) -> str:
    """The chance in words; the tails of a normal spread aren't to be believed."""
    ends = "over 99.9 %" if chance > 0.999 else "under 1 %" if chance < 0.01 else ""
    return f"in time {ends or f'{rounded(100 * chance)} %'}"


def _far_keypad(home: Home, walks: list[HomeWalk]) -> Iterator[Finding]:
    """From each entry/exit door somebody at a normal pace reaches a keypad within 15 s."""
    for door in entry_exit_doors(home):
        ways = [walk for walk in walks if walk.door == door.id]
        if not ways:
            continue
        quickest_s = min(walk.walk_s for walk in ways)
        margin_s = WALK_TO_KEYPAD_S - quickest_s
        numbers = {
            "figure": f"{rounded(quickest_s)} s",
            "limit": f"{WALK_TO_KEYPAD_S:g} s",
            "margin": f"{rounded(margin_s)} s",
        }
        where = f"The keypad is {rounded(quickest_s)} s from {said(door.name)}, walking at a normal pace"
        if any(walk.assumed for walk in ways):
            where += " (partly assumed)"
        if margin_s < 0:
            message = f"{where}. That is longer than the 15 s of the American rule for other premises."
            yield should(door.id, message, "Mount a keypad nearer to the door.", "nfpa731_walk", **numbers)
        else:
            yield ok(door.id, f"{where}.", "nfpa731_walk", **numbers)


@check
def fitters_rule(home: Home) -> Said:
    """Each entry/exit door's delays, in each set, against the fitter's rule on the walks that were stopped."""
    for door in entry_exit_doors(home):
        for leaving, delay_of in ((False, entry_s), (True, exit_s)):
            walks = [w for w in home.household.walks if w.door == door.id and w.leaving is leaving]
            stopped = tuple(seconds for walk in walks for seconds in walk.seconds)
            if len(stopped) < 3:
                continue
            way = "going out" if leaving else "coming in"
            yield replace(fitters_figure(stopped), key=f"fitters_delay.{door.id}.{way}")
            name = f"The {'exit' if leaving else 'entry'} delay of {said(door.name)}"
            for when, delay_s in _delays(home, door.id, delay_of):
                if delay_s < (wanted_s := fitters_delay_s(stopped)):
                    yield _below_the_fitters(door.id, f"{name}{when}", delay_s, wanted_s)


def _delays(home: Home, door: str, delay_of: Callable[[Times, str], float | None]) -> Iterator[tuple[str, float]]:
    """The delay of a door in the ordinary set, and in each season that has another one there."""
    plain_s = delay_of(home.control_unit.times, door)
    for when, in_set in _sets(home):
        delay_s = delay_of(in_set, door)
        if delay_s is not None and (not when or delay_s != plain_s):
            yield when, delay_s


def _below_the_fitters(door: str, name: str, delay_s: float, wanted_s: float) -> Finding:
    message = (
        f"{name} is shorter than the fitter's rule gives: the slowest of three walks, half as much again, up to "
        "the next 5 s."
    )
    numbers = {"figure": f"{delay_s:g} s", "limit": f"{wanted_s:g} s", "margin": f"{delay_s - wanted_s:g} s"}
    return should(
        door, message, f"Set {wanted_s:g} s if the rules and your control unit allow it.", "practice", **numbers
    )


@check
def times_of_another_door(home: Home) -> Said:
    """Only entry/exit doors have delays of their own."""
    doors = by_id(home.site.openings)
    for door in home.control_unit.times.doors:
        if door.opening in doors and not doors[door.opening].entry_exit:
            message = (
                f"{said(doors[door.opening].name)} has a delay of its own but is not marked as an entry/exit door."
            )
            yield should(door.opening, message, "Mark it as one, or take its delay out.", "owner")


@check
def entry_with_abort(home: Home) -> Said:
    """Entry delay and abort window together stay within a minute, in each set."""
    abort_s, most = home.control_unit.times.abort_s, ENTRY_AND_ABORT.most
    longest_s = _longest_entry_s(home, home.control_unit.times)
    if abort_s is None or most is None:
        return
    if longest_s is not None:
        yield entry_and_abort(longest_s, abort_s)
    for when, in_set in _sets(home):
        entry = _longest_entry_s(home, in_set)
        together_s = abort_s + (entry or 0.0)
        if entry is not None and together_s > most.value_s and (not when or entry != longest_s):
            message = f"Control unit: from opening the door until a message goes out, it takes {together_s:g} s{when}."
            numbers = {
                "figure": f"{together_s:g} s", "limit": f"{most.value_s:g} s",
                "margin": f"{most.value_s - together_s:g} s",
            }  # fmt: skip
            remedy = "Shorten the abort window. Check with whoever receives the message."
            yield should("unit", message, remedy, most.cite, **numbers)


def _longest_entry_s(home: Home, times: Times) -> float | None:
    delays = [delay for door in entry_exit_doors(home) if (delay := entry_s(times, door.id)) is not None]
    return max(delays, default=times.entry_s)


@check
def siren_time(home: Home) -> Said:
    """The siren sounds no longer than the council and the usual ceiling allow, and long enough to be noticed."""
    siren_s, local_s = home.control_unit.times.siren_s, home.rules.siren_limit_s
    if siren_s is None:
        return
    if local_s is not None:
        yield _siren_by_local_limit(siren_s, local_s)
    else:
        message = (
            "The siren: you have not entered how long your city or council lets it sound. 5 min is within every "
            "local limit listed here."
        )
        yield note("unit", message, "Ask your city or council.", "siren_nsw", figure=f"{siren_s:g} s")
    if siren_s > LONGEST_SIREN_S:
        yield _siren("longer", siren_s, LONGEST_SIREN_S)
    if siren_s < SHORTEST_SIREN_S and (local_s is None or local_s >= SHORTEST_SIREN_S):
        yield _siren("shorter", siren_s, SHORTEST_SIREN_S)


def _siren_by_local_limit(siren_s: float, local_s: float) -> Finding:
    margin = f"{local_s - siren_s:g} s"
    numbers = {"figure": f"{siren_s:g} s", "limit": f"{local_s:g} s", "margin": margin}
    if siren_s > local_s:
        message = "The siren sounds longer than your city or council allows."
        return must("unit", message, f"Set {local_s:g} s or less.", "owner", **numbers)
    return ok("unit", "The siren time is within your local limit.", "owner", **numbers)


def _siren(word: str, siren_s: float, limit_s: float) -> Finding:
    message = f"The siren time is {word} than usual."
    numbers = {"figure": f"{siren_s:g} s", "limit": f"{limit_s:g} s", "margin": f"{-abs(limit_s - siren_s):g} s"}
    return should("unit", message, f"Set {limit_s:g} s.", "en50131_siren", **numbers)


@check
def siren_in_an_hour(home: Home) -> Said:
    """Repeated alarms stay within the council's cap for an hour."""
    siren_s, cap_s = home.control_unit.times.siren_s, home.rules.siren_limit_hour_s
    trips = home.control_unit.behaviour.repeat_trip_limit
    if siren_s is None or cap_s is None:
        return
    fit = soundings_an_hour(siren_s, cap_s)
    numbers = {"figure": "no limit" if trips is None else f"{trips} times {siren_s:g} s", "limit": f"{cap_s:g} s"}
    if fit == 0 or trips is None or trips > fit:
        message = (
            f"The siren: your local limit for an hour allows {fit} full soundings, but one zone may sound it more "
            "often."
        )
        remedy = "Set a shorter siren time, or a lower repeat-trip limit."
        yield must("unit", message, remedy, "owner", **numbers)
    else:
        message = f"The siren: several zones together may exceed your local limit of {fit} full soundings an hour."
        remedy = "Shorten the siren time if that matters to your neighbours."
        yield note("unit", message, remedy, "owner", **numbers)


GROUP = CheckGroup(
    "times",
    (
        within_the_rules,
        offered_by_the_unit,
        in_time,
        fitters_rule,
        times_of_another_door,
        entry_with_abort,
        siren_time,
        siren_in_an_hour,
    ),
)
