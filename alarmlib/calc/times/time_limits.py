"""Between which limits the times of a control unit may be, by rules, unit and place."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from alarmlib.calc.figure import Figure
from alarmlib.errors import FieldProblem
from alarmlib.rules import CountryRules
from alarmlib.rules.rule import NO_LIMITS, Bound, Limits

TOLERANCE = 0.10  # of a set time; CP-01 3.1.2, seen
LONGEST_SIREN_S = 15 * 60.0  # EN 50131-1, from memory
SHORTEST_SIREN_S = 90.0  # EN 50131-1, from memory
WALK_TO_KEYPAD_S = 15.0  # NFPA 731 5.1.6.2, seen; for other premises, so advice


# Abort window by edition: the floors of 0 s from 2010 and 15 s before were seen; 45 and 30 s from memory.
ABORT = {
    "2009": Limits(Bound(15, "cp01_abort_2009"), Bound(45, "cp01_abort"), Bound(30, "cp01_abort")),
    "2010": Limits(Bound(0, "cp01_abort_2010"), Bound(45, "cp01_abort"), Bound(30, "cp01_abort")),
}
# Entry and abort together, where a listing body applies it; from memory.
ENTRY_AND_ABORT = Limits(most=Bound(60, "listing_60"))


@dataclass(frozen=True)
class SirenRule:
    """How long a siren may sound in a place, and how long in any hour together (None: not said)."""

    place: str
    most_s: float
    cite: str
    most_in_an_hour_s: float | None = None


# Local siren limits. Every row was seen; the local code of today wins.
SIREN_RULES = (
    SirenRule("United Kingdom", 20 * 60, "siren_uk"),
    SirenRule("New South Wales", 5 * 60, "siren_nsw"),
    SirenRule("New South Wales, installed before 1 December 1997", 10 * 60, "siren_nsw"),
    SirenRule("Western Australia", 10 * 60, "siren_wa"),
    SirenRule("Travelers Rest, South Carolina", 10 * 60, "siren_travelers_rest"),
    SirenRule("Reedley, California", 15 * 60, "siren_reedley"),
    SirenRule("El Dorado, Kansas", 15 * 60, "siren_el_dorado"),
    SirenRule("Independence, Ohio", 15 * 60, "siren_independence"),
    SirenRule("Signal Hill, California", 15 * 60, "siren_signal_hill"),
    SirenRule("North St Paul, Minnesota", 20 * 60, "siren_north_st_paul", 20 * 60),
    SirenRule("Helena, Montana", 20 * 60, "siren_helena"),
    SirenRule("Birch Run, Michigan", 20 * 60, "siren_birch_run"),
)


@dataclass(frozen=True)
class TimeChoice:
    """The time to set, what was wanted, and in one sentence why they differ ("" when they don't)."""

    set_s: float
    wanted_s: float
    why: str
    sources: tuple[str, ...] = ()

    @property
    def enough(self) -> bool:
        """Whether the time set is at least the time wanted."""
        return self.set_s >= self.wanted_s - 1e-9


def choose_time(wanted_s: float, limits: Limits = NO_LIMITS, allowed_s: Sequence[float] = ()) -> TimeChoice:
    """The least time the rules and the unit allow that is at least `wanted_s`; failing that, the longest.

    `allowed_s` are the unit's own choices; empty means any. FieldProblem when rules and unit share none.
    """
    if not (math.isfinite(wanted_s) and wanted_s >= 0):
        raise FieldProblem("", "time wanted in s", str(wanted_s), "a number of 0 or more is needed")
    least_s = limits.least.value_s if limits.least else 0.0
    most_s = limits.most.value_s if limits.most else math.inf
    if not allowed_s:
        return _explain(min(max(wanted_s, least_s), most_s), wanted_s, limits)
    fit_s = sorted(time_s for time_s in allowed_s if least_s <= time_s <= most_s)
    if not fit_s:
        shown = ", ".join(f"{time_s:g}" for time_s in allowed_s)
        raise FieldProblem("", "times the unit allows, in s", shown, f"none lies within {least_s:g} to {most_s:g} s")
    return _explain(next((t for t in fit_s if t >= wanted_s - 1e-9), fit_s[-1]), wanted_s, limits)


def steps_s(low_s: float, high_s: float, step_s: float) -> tuple[float, ...]:
    """Every time from low to high in steps, as a unit's manual give them.

    Reference: the owner's own manuals.
    """
    if not (step_s > 0 and high_s >= low_s):
        raise FieldProblem(
            "", "allowed times", f"{low_s:g} to {high_s:g} by {step_s:g} s", "low to high in steps above 0"
        )
    return tuple(low_s + k * step_s for k in range(math.floor((high_s - low_s) / step_s + 1e-9) + 1))


def _explain(set_s: float, wanted_s: float, limits: Limits) -> TimeChoice:
    if math.isclose(set_s, wanted_s, abs_tol=1e-9):
        return TimeChoice(set_s, wanted_s, "")
    bound = limits.most if set_s < wanted_s else limits.least
    if bound is not None and set_s == bound.value_s:
        word = "longest" if set_s < wanted_s else "shortest"
        return TimeChoice(set_s, wanted_s, f"{set_s:g} s is the {word} time the rules allow", (bound.cite,))
    word = "longest time" if set_s < wanted_s else "next longer time"
    return TimeChoice(set_s, wanted_s, f"{set_s:g} s is the {word} the control unit offers", ("owner",))


@dataclass(frozen=True)
class DoorChoice:
    """The entry and exit time of one entry/exit door; every entry/exit door has its own."""

    door: str
    entry: TimeChoice
    exit: TimeChoice


def door_times(
    door: str,
    entry_wanted_s: float,
    exit_wanted_s: float,
    rules: CountryRules,
    allowed_s: tuple[Sequence[float], Sequence[float]] = ((), ()),
) -> DoorChoice:
    """Both times of an entry/exit door within the country's rules and the unit's (entry, exit) choices.

    The sources of the bounds in `alarmlib.rules`.
    """
    entry = choose_time(entry_wanted_s, rules.entry, allowed_s[0])
    return DoorChoice(door, entry, choose_time(exit_wanted_s, rules.exit, allowed_s[1]))


def free_time(delay_s: float, held_s: float = 0.0, tolerance: float = TOLERANCE) -> Figure:
    """Seconds from first detection to the siren at the latest: delay and what is held back, with tolerance.

    Reference: tolerance ±10 %, CP-01 3.1.2 (`cp01_tolerance`), unless the manual say otherwise.
    """
    return Figure(
        key="free_time",
        value=(delay_s + held_s) * (1 + tolerance),
        unit="s",
        formula="(delay + held back) × (1 + tolerance)",
        inputs=(
            ("delay", f"{delay_s:g} s"),
            ("held back", f"{held_s:g} s"),
            ("tolerance", f"{tolerance:.0%}"),
        ),
        sources=("cp01_tolerance",),
    )


def entry_and_abort(entry_s: float, abort_s: float) -> Figure:
    """Seconds from the opened door until a message goes out.

    Reference: at most 60 s together where a listing body applies it, from memory (`listing_60`).
    """
    return Figure(
        key="entry_and_abort",
        value=entry_s + abort_s,
        unit="s",
        formula="entry delay + abort window",
        inputs=(("entry delay", f"{entry_s:g} s"), ("abort window", f"{abort_s:g} s")),
        sources=("listing_60",),
    )


def siren_time(wanted_s: float, local_s: float | None = None) -> TimeChoice:
    """Siren time: smallest of the owner's choice, local limit and 15 min; under 90 s only by a local limit.

    Reference: EN 50131-1, 90 s to 15 min, from memory (`en50131_siren`).
    """
    for name, value_s in (("siren time wanted in s", wanted_s), ("local siren limit in s", local_s)):
        if value_s is not None and not (math.isfinite(value_s) and value_s > 0):
            raise FieldProblem("", name, str(value_s), "a number above 0 is needed")
    ceiling_s = min(LONGEST_SIREN_S, math.inf if local_s is None else local_s)
    set_s = min(max(wanted_s, SHORTEST_SIREN_S), ceiling_s)
    if set_s == wanted_s:
        return TimeChoice(set_s, wanted_s, "")
    if set_s == local_s:
        return TimeChoice(set_s, wanted_s, f"{set_s:g} s is the local limit", ("owner",))
    word = "longest" if set_s < wanted_s else "shortest"
    return TimeChoice(set_s, wanted_s, f"{set_s:g} s is the {word} usual siren time", ("en50131_siren",))


def soundings_an_hour(siren_s: float, most_in_an_hour_s: float) -> int:
    """How many full soundings an hourly cap leaves room for; later trips may not sound again.

    Such a cap is in one city's code (`siren_north_st_paul`).
    """
    if not siren_s > 0:
        raise FieldProblem("", "siren time in s", str(siren_s), "a number above 0 is needed")
    return math.floor(most_in_an_hour_s / siren_s + 1e-9)
