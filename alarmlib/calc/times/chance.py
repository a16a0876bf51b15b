"""The chance that a person is in time, the delay that makes it likely, and the fitter's rule beside it.

A walk is one person's way through one entry/exit door. Stopped with a watch, its time T is taken as normal round those
seconds; else time = T0 + L / v, with v and T0 normal.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev

from alarmlib.calc.figure import Figure
from alarmlib.calc.walking.gait import OWN_SPREAD, Spread
from alarmlib.errors import FieldProblem
from alarmlib.units import rounded

_NORMAL = NormalDist()
_REACH = 8.5  # standard deviations on either side that the average takes in
_STEP = 0.05
AT_ONCE = Spread(0.0)
WANTED = 0.99  # the chance in time that every person should have: our own line, no source
NOT_ATTAINABLE = "not attainable"


@dataclass(frozen=True)
class TimedWalk:
    """One person's way between entry/exit door and keypad.

    `length_m` is the walk put down to level floor (see `walking`); `speed_m_s` the person's level speed;
    `start_s` all that doesn't depend on the speed (door, turns); `keying_s` comes once, and a second
    time with the chance `retry_chance`. `stopped_s` are whole walks stopped with a watch, keying among them: where
    there are any they replace all the rest, and only a second try is added.
    """

    length_m: float
    speed_m_s: Spread
    start_s: Spread = AT_ONCE
    keying_s: float = 0.0
    retry_chance: float = 0.0
    stopped_s: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        for stopped_s in self.stopped_s:
            _at_least_zero("stopped walk in s", stopped_s)
        _at_least_zero("length in m", self.length_m)
        _at_least_zero("keying in s", self.keying_s)
        if not 0 <= self.retry_chance <= 1:
            raise FieldProblem("", "chance of a second try", str(self.retry_chance), "from 0 to 1 is allowed")
        if not self.speed_m_s.mean > 0 or self.speed_m_s.sd > self.speed_m_s.mean / 3:
            raise FieldProblem(
                "", "speed in m/s", str(self.speed_m_s),
                "the mean must be above 0 and the standard deviation at most a third of it",
            )  # fmt: skip

    @property
    def at_speed_m(self) -> float:
        """The metres whose time the person's speed decides: none of a walk that was stopped."""
        return 0.0 if self.stopped_s else self.length_m

    @property
    def once_s(self) -> Spread:
        """What comes beside `at_speed_m`, with the code right at once."""
        return stopped_spread(self.stopped_s) if self.stopped_s else self.start_s + Spread(self.keying_s)

    def waits_s(self) -> tuple[tuple[float, Spread], ...]:
        """(chance, T0) of each case: the code right at once, or at the second try."""
        once = self.once_s
        cases = ((1 - self.retry_chance, once), (self.retry_chance, once + Spread(self.keying_s)))
        return tuple(case for case in cases if case[0] > 0)


def _at_least_zero(name: str, value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise FieldProblem("", name, str(value), "a number of 0 or more is needed")


def stopped_spread(stopped_s: Sequence[float]) -> Spread:
    """The time of one person's next walk, from those that were stopped, s.

    Their mean, and the larger of their own standard deviation and 10 % of it, × √(1 + 1/n) since the mean of so few
    is itself not known well. Reference: prediction of the next normal value from n, textbook; 10 % assumed
    (`gilbert_2021` beside it).
    """
    count, mean_s = len(stopped_s), fmean(stopped_s)
    own_s = stdev(stopped_s) if count > 1 else 0.0
    return Spread(mean_s, max(own_s, OWN_SPREAD * mean_s) * math.sqrt(1 + 1 / count))


def chance_in_time(walk: TimedWalk, delay_s: float) -> float:
    """The chance, 0 to 1, that the walk ends within `delay_s` seconds.

    Closed form where T0 is fixed, P = Φ((μ − L/(D − T0))/σ); else averaged over T0.
    Probability of a normal speed; quadrature by the trapezoidal rule.
    """
    return sum(share * _chance(walk, wait_s, delay_s) for share, wait_s in walk.waits_s())


def _chance(walk: TimedWalk, wait_s: Spread, delay_s: float) -> float:
    length_m, speed = walk.at_speed_m, walk.speed_m_s
    if wait_s.sd == 0:
        return _speed_reached(length_m, speed, delay_s - wait_s.mean)
    if length_m == 0 or speed.sd == 0:
        return _NORMAL.cdf((delay_s - length_m / speed.mean - wait_s.mean) / wait_s.sd)
    if length_m * speed.sd / speed.mean**2 > wait_s.sd:
        return _average(lambda z: _speed_reached(length_m, speed, delay_s - wait_s.mean - z * wait_s.sd))
    return _average(lambda z: _wait_short(length_m, speed.mean + z * speed.sd, wait_s, delay_s))


def _speed_reached(length_m: float, speed: Spread, left_s: float) -> float:
    """The chance of the speed that covers the length in the seconds left."""
    if left_s < 0 or (left_s == 0 and length_m > 0):
        return 0.0
    if length_m == 0:
        return 1.0
    if speed.sd == 0:
        return float(length_m <= speed.mean * left_s)
    return _NORMAL.cdf((speed.mean - length_m / left_s) / speed.sd)


def _wait_short(length_m: float, speed_m_s: float, wait_s: Spread, delay_s: float) -> float:
    """The chance that T0 leaves time enough at this speed."""
    if speed_m_s <= 0:
        return 0.0
    return _NORMAL.cdf((delay_s - length_m / speed_m_s - wait_s.mean) / wait_s.sd)


def _average(chance_at: Callable[[float], float]) -> float:
    """Mean of a smooth function over a standard normal; the rule converges very fast with the step."""
    count = round(_REACH / _STEP)
    weights = [(k * _STEP, math.exp(-((k * _STEP) ** 2) / 2)) for k in range(-count, count + 1)]
    return sum(weight * chance_at(z) for z, weight in weights) / sum(weight for _, weight in weights)


def chance_by_sampling(walk: TimedWalk, delay_s: float, count: int = 100_000, seed: int = 0) -> tuple[float, float]:
    """The same chance by drawing `count` walks: (chance, its standard error).

    The check beside `chance_in_time`.
    """
    import numpy as np

    draw = np.random.default_rng(seed)
    once_s, length_m = draw.normal(walk.once_s.mean, walk.once_s.sd, count), walk.at_speed_m
    speed = draw.normal(walk.speed_m_s.mean, walk.speed_m_s.sd, count)
    left_s = delay_s - once_s - (draw.random(count) < walk.retry_chance) * walk.keying_s
    in_time = (left_s >= 0) & ((speed * left_s >= length_m) | (length_m == 0))
    chance = float(in_time.mean())
    return chance, math.sqrt(max(chance * (1 - chance), 1 / count) / count)


def delay_for(walk: TimedWalk, assurance: float) -> float | None:
    """The least delay in seconds that gives the wanted chance in time; None when no delay does.

    Closed form D = T0 + L/(μ − z σ) where T0 is fixed, else by halving. Valid while μ > z σ.
    The inverse of `chance_in_time`.
    """
    if not 0 < assurance < 1:
        raise FieldProblem("", "assurance", str(assurance), "a chance above 0 and below 1 is needed")
    slowest = walk.speed_m_s.mean - _NORMAL.inv_cdf(assurance) * walk.speed_m_s.sd
    if walk.at_speed_m > 0 and slowest <= 0:
        return None
    cases = walk.waits_s()
    if len(cases) == 1 and cases[0][1].sd == 0:
        return cases[0][1].mean + (walk.at_speed_m / slowest if walk.at_speed_m else 0.0)
    return _by_halving(walk, assurance)


def _by_halving(walk: TimedWalk, assurance: float) -> float | None:
    most_s = 60.0
    while chance_in_time(walk, most_s) < assurance:
        most_s *= 2
        if most_s > 1e6:
            return None
    least_s = 0.0
    while most_s - least_s > 1e-6:
        middle_s = (least_s + most_s) / 2
        least_s, most_s = (middle_s, most_s) if chance_in_time(walk, middle_s) < assurance else (least_s, middle_s)
    return most_s


def fitters_delay_s(stopwatch_s: Sequence[float]) -> float:
    """The fitter's rule: the slowest of at least three walks, half as much again, up to the next 5 s.

    Reference: common practice, no source.
    """
    if len(stopwatch_s) < 3:
        raise FieldProblem("", "stopwatch walks", str(len(stopwatch_s)), "at least three walks are needed")
    for walk_s in stopwatch_s:
        _at_least_zero("stopwatch walk in s", walk_s)
    return 5.0 * math.ceil(max(stopwatch_s) * 1.5 / 5 - 1e-9)


def false_entries_a_year(entries_a_day: float, chance: float) -> float:
    """Entries a year that end too late: 365 n (1 − P)."""
    _at_least_zero("entries a day", entries_a_day)
    return 365 * entries_a_day * (1 - chance)


def too_late_in_words(chance: float, occasion: str = "evening") -> str:
    """How often somebody is too late, to two figures at most, since the model knows no more.

    Chances below one in 1,000 are not distinguished: the tail of a normal speed isn't to be believed there.
    """
    late = 1 - chance
    if late < 0.001:
        return f"less than one {occasion} in 1,000"
    if late <= 0.28:
        return f"about one {occasion} in {_two_figures(1 / late):,}"
    if late < 0.95:
        return f"about {max(3, round(late * 10))} {occasion}s in 10"
    return f"nearly every {occasion}"


def _two_figures(value: float) -> int:
    step = math.pow(10, max(0, math.floor(math.log10(value)) - 1))
    return round(round(value / step) * step)


def chance_figure(who: str, walk: TimedWalk, delay_s: float, entries_a_day: float) -> Figure:
    """A person's chance in time at a delay, fit to show: the value is the sentence's words."""
    chance = chance_in_time(walk, delay_s)
    late = false_entries_a_year(entries_a_day, chance)
    formula = "P = Φ((D − T)/s)" if walk.stopped_s else "P = Φ((μ − L/(D − T0))/σ), averaged over T0"
    return Figure(
        key=f"chance_in_time.{who}",
        value=f"too late {too_late_in_words(chance)}",
        unit="",
        formula=f"{formula}, with the code wrong once with its chance; too late 365 n (1 − P) times a year",
        inputs=(*_walk_inputs(walk), ("D", f"{delay_s:g} s"), ("too late a year", _times_a_year(late))),
        sources=_sources(walk),
        valid_range=_valid_range(walk, "speed normal with a standard deviation of at most a third of its mean"),
    )


def _times_a_year(late: float) -> str:
    return "under 0.1" if late < 0.1 else rounded(late, 2)


def delay_figure(who: str, walk: TimedWalk, assurance: float) -> Figure:
    """The delay a person needs for the wanted chance in time, or "not attainable"."""
    delay_s = delay_for(walk, assurance)
    return Figure(
        key=f"delay_needed.{who}",
        value=NOT_ATTAINABLE if delay_s is None else delay_s,
        unit="s",
        formula="the least D with Φ((D − T)/s) as wanted" if walk.stopped_s else "D = T0 + L/(μ − z σ)",
        inputs=(*_walk_inputs(walk), ("wanted chance", f"{assurance:g}")),
        sources=_sources(walk),
        valid_range=_valid_range(walk, "while μ > z σ"),
    )


def _sources(walk: TimedWalk) -> tuple[str, ...]:
    return ("computed", "gilbert_2021") if walk.stopped_s else ("computed",)


def _valid_range(walk: TimedWalk, otherwise: str) -> str:
    """What a chance rests on: for walks that were stopped, where their spread comes from."""
    if not walk.stopped_s:
        return otherwise
    return (
        f"times normal; s is the walks' own standard deviation, {OWN_SPREAD:.0%} of T at least (assumed), "
        "× √(1 + 1/n) for n walks"
    )


def fitters_figure(stopwatch_s: Sequence[float]) -> Figure:
    """The fitter's rule on these walks, to be compared with the chance.

    Reference: common practice, no source.
    """
    return Figure(
        key="fitters_delay",
        value=fitters_delay_s(stopwatch_s),
        unit="s",
        formula="slowest walk × 1.5, up to the next 5 s",
        inputs=tuple((f"walk {n}", f"{walk_s:g} s") for n, walk_s in enumerate(stopwatch_s, 1)),
        sources=("practice",),
    )


def _walk_inputs(walk: TimedWalk) -> tuple[tuple[str, str], ...]:
    once_s = walk.once_s
    again = ("second try of the code", f"{walk.keying_s:g} s with the chance {rounded(walk.retry_chance, 2)}")
    if walk.stopped_s:
        stopped = ", ".join(f"{stopped_s:g} s" for stopped_s in walk.stopped_s)
        return (
            ("by stopwatch", stopped),
            ("T", f"{rounded(once_s.mean)} s"),
            ("s", f"{rounded(once_s.sd, 2)} s"),
            again,
        )
    return (
        ("L", f"{rounded(walk.length_m)} m"),
        ("μ", f"{rounded(walk.speed_m_s.mean)} m/s"),
        ("σ", f"{rounded(walk.speed_m_s.sd)} m/s"),
        ("T0", f"{rounded(once_s.mean)} s ± {rounded(once_s.sd, 2)} s"),
        again,
    )
