"""What a walk past a detector proves, and how likely one of several notices."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate
from statistics import NormalDist
from typing import Literal

from alarmlib.calc.figure import Figure
from alarmlib.errors import FieldProblem

STEP_M = 0.61
STEPS = 4
STEPS_M = STEP_M * STEPS  # 2.44 m
STEPS_S = 4.0  # one step a second


def steps_to_notice(steps: int = STEPS, step_m: float = STEP_M, step_s: float = 1.0) -> tuple[float, float]:
    """(metres, seconds) a person may walk inside a motion detector's area before it must have tripped.

    Reference: UL 1641 15.3.1, four steps of 24 in, one a second (`ul1641_steps`).
    """
    return steps * step_m, steps * step_s


def any_notices(chances: Iterable[float]) -> float:
    """The chance that at least one of several independent detectors trips: 1 − Π(1 − p)."""
    return 1 - math.prod(1 - _chance(p) for p in chances)


def all_work(chances: Iterable[float]) -> float:
    """The chance that a chain works, each part independent of the others (sensor, way, unit): Π p."""
    return math.prod(_chance(p) for p in chances)


def _chance(value: float) -> float:
    if not 0 <= value <= 1:
        raise FieldProblem("", "chance", str(value), "from 0 to 1 is allowed")
    return value


def proven_chance(noticed: int, passes: int, confidence: float = 0.95) -> float:
    """The chance of notice that so many test passes prove, at one-sided confidence (Clopper and Pearson).

    The p at which `noticed` or more of `passes` would happen with chance 1 − confidence; 0 for none noticed.
    Reference: exact binomial bound.
    """
    if not 0 <= noticed <= passes or passes < 1:
        raise FieldProblem("", "passes noticed", f"{noticed} of {passes}", "from 0 to all of at least 1 pass")
    if not 0 < confidence < 1:
        raise FieldProblem("", "confidence", str(confidence), "a chance above 0 and below 1 is needed")
    low, high = 0.0, 1.0
    while noticed and high - low > 1e-12:
        middle = (low + high) / 2
        low, high = (middle, high) if _at_least(noticed, passes, middle) < 1 - confidence else (low, middle)
    return low


def _at_least(noticed: int, passes: int, chance: float) -> float:
    return sum(math.comb(passes, k) * chance**k * (1 - chance) ** (passes - k) for k in range(noticed, passes + 1))


def passes_figure(noticed: int, passes: int, confidence: float = 0.95) -> Figure:
    """What the walk test shows, fit to show.

    Reference: exact binomial bound.
    """
    return Figure(
        key="proven_chance",
        value=proven_chance(noticed, passes, confidence),
        unit="",
        formula="one-sided Clopper-Pearson lower bound",
        inputs=(("noticed", str(noticed)), ("passes", str(passes)), ("confidence", f"{confidence:.0%}")),
        sources=("computed",),
        valid_range="passes alike and independent of one another",
    )


@dataclass(frozen=True)
class Task:
    """One step on an intruder's path: chance of notice, where in the step it comes, and its length."""

    chance: float
    mean_s: float
    sd_s: float
    notice: Literal["beginning", "middle", "end"] = "beginning"


_WEIGHT = {"beginning": 1.0, "middle": 0.5, "end": 0.0}


def chance_of_interruption(
    tasks: tuple[Task, ...], response_s: float, response_sd_s: float, message: float = 1.0
) -> float:
    """The chance that somebody (or the siren) comes before the last step is done, all times normal.

    P = P(C) Σ P(first) Φ((X − TR)/√(V + sR²)), X and V the time left when first noticed in a step.
    Tasks are taken as independent; standard deviations over a third of the mean let times go negative.
    Reference: Bennett 1977, as written out in an open program that was seen (`easi`).
    """
    unseen = accumulate((1 - _chance(task.chance) for task in tasks), float.__mul__, initial=1.0)
    terms = (
        before * task.chance * _in_time(tasks, place, response_s, response_sd_s)
        for place, (task, before) in enumerate(zip(tasks, unseen, strict=False))
    )
    return _chance(message) * sum(terms)


def _in_time(tasks: tuple[Task, ...], place: int, response_s: float, response_sd_s: float) -> float:
    weight = _WEIGHT[tasks[place].notice]
    left_s = weight * tasks[place].mean_s + sum(task.mean_s for task in tasks[place + 1 :])
    variance = (weight * tasks[place].sd_s) ** 2 + sum(task.sd_s**2 for task in tasks[place + 1 :])
    sd_s = math.sqrt(variance + response_sd_s**2)
    if sd_s == 0:
        return float(left_s >= response_s)
    return NormalDist().cdf((left_s - response_s) / sd_s)
