"""From a home's walks to its delays: each entry/exit door's own, within the rules and the unit's choices."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from alarmlib.calc.figure import Figure
from alarmlib.calc.times.chance import WANTED, chance_figure, delay_figure, delay_for, fitters_delay_s, fitters_figure
from alarmlib.calc.times.time_limits import SIREN_RULES, DoorChoice, door_times, free_time, siren_time, steps_s
from alarmlib.calc.walking.home_walks import HomeWalk, home_walks
from alarmlib.model.control_unit import DoorTimes
from alarmlib.model.home import Home
from alarmlib.model.unit_facts import AllowedTimes
from alarmlib.rules import rules_of

_SIREN_S = float(min(rule.most_s for rule in SIREN_RULES))  # within every local limit that was seen
_LONGEST_OFFERED_S = 600.0
_ROUND_S = 5.0


@dataclass(frozen=True)
class DoorDraft:
    """The delays proposed for one entry/exit door, with the figures they rest on, a person each."""

    choice: DoorChoice
    figures: tuple[Figure, ...]


def door_drafts(home: Home) -> tuple[DoorDraft, ...]:
    """The delays for every entry/exit door that leads to a keypad.

    Entry: the longer of the fitter's rule (three walks stopped) and the delay that `WANTED` asks, of the
    slowest person; exit the same way. By `alarmlib.calc.times.chance`, `alarmlib.calc.times.time_limits`.
    """
    walks = home_walks(home)
    return tuple(
        _draft(home, door, [walk for walk in walks if walk.door == door])
        for door in dict.fromkeys(walk.door for walk in walks)
    )


def _draft(home: Home, door: str, walks: Sequence[HomeWalk]) -> DoorDraft:
    limits = home.control_unit.limits
    entry = max(_wanted_s(delay_for(w.entry, WANTED), w.stopped_in_s) for w in walks)
    leaving = max(_wanted_s(delay_for(w.exit, WANTED), w.stopped_out_s) for w in walks)
    allowed = _offered(limits.entry), _offered(limits.exit)
    choice = door_times(door, entry, leaving, rules_of(home), allowed)
    return DoorDraft(choice, tuple(_figures(door, walks, choice)))


def _wanted_s(delay_s: float | None, stopped_s: Sequence[float]) -> float:
    """The time one person needs, up to the next 5 s; three walks by stopwatch may ask for more."""
    wanted_s = _LONGEST_OFFERED_S if delay_s is None else delay_s
    if len(stopped_s) >= 3:
        wanted_s = max(wanted_s, fitters_delay_s(stopped_s))
    elif stopped_s:
        wanted_s = max(wanted_s, 1.5 * max(stopped_s))
    return min(_LONGEST_OFFERED_S, -(-wanted_s // _ROUND_S) * _ROUND_S)


def _offered(times: AllowedTimes | None) -> tuple[float, ...]:
    return () if times is None else steps_s(times.low_s, times.high_s, times.step_s)


def _figures(door: str, walks: Sequence[HomeWalk], choice: DoorChoice) -> Iterator[Figure]:
    for walk in walks:
        who = f"{door}.{walk.person}"
        yield chance_figure(who, walk.entry, choice.entry.set_s, walk.entries_a_day)
        yield delay_figure(who, walk.entry, WANTED)
        if len(walk.stopped_in_s) >= 3:
            yield fitters_figure(walk.stopped_in_s)
    yield free_time(choice.entry.set_s)


def with_times(home: Home) -> Home:
    """The home with the proposed delays of each entry/exit door and a siren time within every limit known."""
    drafts = door_drafts(home)
    doors = tuple(
        DoorTimes(
            id=f"times_{draft.choice.door}"[:48],
            opening=draft.choice.door,
            entry_s=draft.choice.entry.set_s,
            exit_s=draft.choice.exit.set_s,
        )
        for draft in drafts
    )
    siren_s = siren_time(_SIREN_S, home.rules.siren_limit_s).set_s
    changed = {"doors": doors, "siren_s": siren_s}
    if doors:
        changed["entry_s"] = max(door.entry_s or 0 for door in doors)
        changed["exit_s"] = max(door.exit_s or 0 for door in doors)
    times = home.control_unit.times.model_copy(update=changed)
    return home.model_copy(update={"control_unit": home.control_unit.model_copy(update={"times": times})})
